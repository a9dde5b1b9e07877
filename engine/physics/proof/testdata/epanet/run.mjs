// Solves EPANET input files and prints, as JSON, the pressure and head of every
// node and the flow and head loss of every link of each, in the units of the file.
//
//   PLUMBLINE_EPANET=DIR node run.mjs FILE.inp...
//
// DIR is a node_modules folder that holds the package epanet-js.
import { createRequire } from "node:module";
import { readFileSync } from "node:fs";
import { basename, resolve } from "node:path";

const folder = process.env.PLUMBLINE_EPANET;
if (!folder) throw new Error("set PLUMBLINE_EPANET to a node_modules folder that holds epanet-js");
const { Project, Workspace, NodeProperty, LinkProperty, CountType } = createRequire(import.meta.url)(resolve(folder, "epanet-js"));

// A warning, such as an unbalanced network, is a failure here.
for (const level of ["log", "warn"]) console[level] = (text) => { throw new Error(text); };

const workspace = new Workspace();
await workspace.loadModule();
const results = {};
for (const path of process.argv.slice(2)) {
  const name = basename(path);
  workspace.writeFile("in.inp", readFileSync(path, "utf8"));
  const project = new Project(workspace);
  try {
    project.open("in.inp", "out.rpt", "out.bin");
    project.solveH();
  } catch (error) {
    console.error(`${name}: ${error.message}`);
    try { project.close(); console.error(workspace.readFile("out.rpt")); } catch {}
    process.exit(1);
  }
  const nodes = {}, links = {};
  for (let i = 1; i <= project.getCount(CountType.NodeCount); i++)
    nodes[project.getNodeId(i)] = {
      pressure: project.getNodeValue(i, NodeProperty.Pressure),
      head: project.getNodeValue(i, NodeProperty.Head),
    };
  for (let i = 1; i <= project.getCount(CountType.LinkCount); i++)
    links[project.getLinkId(i)] = {
      flow: project.getLinkValue(i, LinkProperty.Flow),
      headloss: project.getLinkValue(i, LinkProperty.Headloss),
    };
  project.close();
  results[name] = { nodes, links };
}
process.stdout.write(JSON.stringify({ engine: workspace.version, results }) + "\n");
