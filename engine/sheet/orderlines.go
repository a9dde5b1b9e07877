package sheet

import (
	"math"
	"strings"

	"plumbline/engine/derive"
	"plumbline/schema"
)

// lineParts are hose, tube, filters, fittings, and the clamps, clips and adapters that follow from them.
func (o *orderList) lineParts() {
	o.begin("Lines", "Hose and tube by the metre, what is between, and what holds it")
	var runs []*schema.Run
	for _, line := range o.lines() {
		for i := range line.Runs.Items {
			runs = append(runs, &line.Runs.Items[i])
		}
	}
	lengths, order, paths, without := map[string][]term{}, []string{}, map[string]string{}, map[string][]string{}
	for _, r := range runs {
		kind := r.Kind.Text()
		if kind != "hose" && kind != "tube" {
			continue
		}
		what := kind + "\n" + o.listed(o.with("", &r.Mark, ""), o.with("bore ", &r.Bore, ""), o.with("outside ", &r.OutsideDiameter, ""), o.with("", &r.Material, ""))
		if paths[what] == "" {
			order, paths[what] = append(order, what), r.Path()
		}
		if long, ok := r.Length.Get(); ok {
			lengths[what] = append(lengths[what], term{r.Length.Path(), long.Value}, term{allowancePath, o.Allowance})
		} else {
			without[what] = append(without[what], NameOf(o.Design, r.Path()))
		}
	}
	for _, what := range order {
		part, must, _ := strings.Cut(what, "\n")
		var many []string
		if len(lengths[what]) > 0 {
			many = append(many, o.sum(lengths[what]).Text)
		}
		for _, name := range without[what] { // its length is not known, and no sum may hide that
			many = append(many, name+" ______")
		}
		o.buy(paths[what], part, must, "", strings.Join(many, " and "))
	}
	for _, r := range runs {
		name := o.with("", &r.Name, "")
		switch r.Kind.Text() {
		case "filter":
			o.buy(r.Path(), "filter, "+name, o.listed(o.with("", &r.Filter.Mesh, " or finer"), o.with("stands ", &o.Design.Regulator.Setting, " and more"), o.throughput(r), o.endsOf(r)), o.worth("costs ", r, derive.FullLoad, "loss", " when clean"), "1")
		case "fitting":
			o.buy(r.Path(), "fitting, "+name, o.listed(o.with("", &r.Fitting, ""), o.with("bore ", &r.Bore, ""), o.endsOf(r)), "", o.with("", &r.Count, ""))
		}
	}
	o.joints()
	o.clips(runs)
}

// throughput is what a filter must pass.
func (o *orderList) throughput(r *schema.Run) string {
	return o.worthOrBlank("passes ", r, derive.Idle, "flow", "")
}

// endsOf says what a piece is joined by.
func (o *orderList) endsOf(r *schema.Run) string {
	end := func(e *schema.LineEnd) string {
		return o.listed(o.with("", &e.Kind, ""), o.with("", &e.Thread, ""), o.with("", &e.Size, ""))
	}
	in, out := end(&r.Inlet), end(&r.Outlet)
	switch {
	case in == "" && out == "":
		return "its ends: ______"
	case in == out:
		return "both ends " + in
	}
	return "in " + in + ", out " + out
}

// joints adds the clamps of hose ends, and an adapter for each joint that does not go together.
func (o *orderList) joints() {
	clamps := newTally()
	for _, line := range o.lines() {
		for i := range line.Runs.Items {
			r := &line.Runs.Items[i]
			if r.Kind.Text() != "hose" {
				continue
			}
			for _, e := range []*schema.LineEnd{&r.Inlet, &r.Outlet} {
				if !strings.Contains(e.Held.Text(), "clamp") && e.Held.Known() {
					continue
				}
				clamps.add(o.listed(o.with("", &e.Held, ""), o.around(r)), o.with("", &r.Name, ""))
			}
		}
	}
	o.tallied("clamp", clamps)
	for _, j := range o.Session.Joints() {
		if j == nil || j.Before.End == nil || j.After.End == nil {
			continue
		}
		at := j.After.End
		if j.After.Run == nil {
			at = j.Before.End
		}
		if fit, _ := o.Session.On(at, derive.NoPoint, "fit").Value().(string); fit == "no_fit" {
			o.buy(at.Path(), "adapter, "+j.Called(), o.with("from ", &j.Before.End.Kind, "")+o.with(" to ", &j.After.End.Kind, ""), "these two ends do not go together", o.many(1, "adapters"))
		}
	}
}

// around is the outside that a clamp goes round: that of the hose on its spigot.
func (o *orderList) around(r *schema.Run) string {
	if c := o.value(&r.Inlet, derive.NoPoint, "clamped_outside"); !c.Unknown {
		return "for " + c.Text + " outside"
	}
	if text := o.with("for ", &r.OutsideDiameter, " outside, more on its spigot"); text != "" {
		return text
	}
	return "for an outside of ______"
}

// clips counts what holds the lines: one at each end and as many between as the spacing asks for.
func (o *orderList) clips(runs []*schema.Run) {
	t, of := newTally(), newTally()
	for _, r := range runs {
		long, ok := r.Length.Get()
		apart, stated := r.ClipSpacing.Get()
		if kind := r.Kind.Text(); (kind == "hose" || kind == "tube") && r.Zone.Text() != "in_tank" && (!ok || !stated) {
			of.add("lined, for "+o.with("", &r.OutsideDiameter, "")+o.with(", no more than ", &r.ClipSpacing, " apart"), NameOf(o.Design, r.Path()))
		}
		if !ok || !stated || apart.SI() <= 0 {
			continue
		}
		for range int(math.Ceil(long.SI()/apart.SI()-1e-9)) + 1 {
			t.add(o.listed("lined, for "+o.with("", &r.OutsideDiameter, ""), o.with("no more than ", &r.ClipSpacing, " apart")), "")
		}
	}
	o.tallied("clip", t)
	for _, what := range of.order {
		o.buy("", "clip", what, listOf(of.why[what], 3), "______")
	}
}

// bodyParts are grommets of holes.
func (o *orderList) bodyParts() {
	if len(o.Design.Passages.Items) == 0 {
		return
	}
	o.begin("Holes", "What lines each hole")
	for i := range o.Design.Passages.Items {
		p := &o.Design.Passages.Items[i]
		lining := o.with("", &p.Lining, "")
		if p.Lining.Text() == "nothing" {
			lining = "grommet or edge trim, of which none was planned"
		}
		o.buy(p.Path(), o.listed(lining, o.with("", &p.Name, "")), o.listed(o.with("bore ", &p.GrommetBore, ""), o.with("for a hole of ", &p.Hole, "")), o.worth("the hole must be at least ", p, derive.NoPoint, "hole_needed", ""), o.many(1, "grommets"))
	}
}
