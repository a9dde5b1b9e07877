package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"plumbline/cmd/plumbline/internal/exit"
	"plumbline/cmd/plumbline/internal/shop"
	"plumbline/engine/proof"
	"plumbline/schema/document"
)

// packVerb works on packs of rules.
func (c *Command) packVerb() *cobra.Command {
	pack := &cobra.Command{
		Use:   "pack",
		Short: "Start, check or list packs of rules",
		Args:  cobra.NoArgs,
		RunE:  func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	pack.AddCommand(c.packNewVerb(), c.packCheckVerb(), c.packListVerb(), c.packPagesVerb())
	return pack
}

func (c *Command) packCheckVerb() *cobra.Command {
	var o proofOptions
	cmd := &cobra.Command{
		Use:   "check [DIR...]",
		Short: "Load packs beside the built-in library and run the cases of their rules",
		Long: "Check loads the built-in library with the packs of the folders given, and runs the cases of every rule in those folders; of the shop's " +
			"own folders (plumbline.yaml) when none is given, or else of the built-in library. Every rule needs a case for each outcome it can have, and a case within 2 percent on either side of each bound.\n\n" +
			"It also says how far the cases prove the rules. Every part of a rule that can be true or false (a condition, what && || and ! join, a comparison, " +
			"a bound) must be shown both ways by its cases. And small mistakes are put into each rule, one at a time: another comparison, a number moved by " +
			"5 percent, a clause dropped, && for ||, a condition negated, another word. A case should give another verdict then; the cases must notice " +
			fmt.Sprint(proof.LeastNoticed) + " of 100 mistakes. A mistake that makes no difference to any design goes into the folder's survivors.txt: the rule, " +
			"the mistake as --mutants prints it and the reason, with tabs between.\n\n" +
			"For a rule that lacks cases it proposes them, ready to paste: see that each expects what is meant.\n\n" +
			"The exit code is 3 when a case is wrong, a part is not shown both ways, or too few mistakes are noticed.",
		Annotations: map[string]string{"settings": "yes"},
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				args = c.shop.Settings.Rules
			}
			return c.packCheck(args, o)
		},
	}
	cmd.Flags().BoolVar(&o.mutants, "mutants", false, "list the mistakes no case notices")
	cmd.Flags().BoolVar(&o.summary, "summary", false, "print the totals alone, a line each")
	return cmd
}

func (c *Command) packCheck(dirs []string, o proofOptions) error {
	lib, err := c.shop.OpenToProve(dirs)
	if err != nil {
		return err
	}
	wanted := wantedPacks(dirs)
	var wrong []proof.CaseResult
	var rules []string
	for _, r := range proof.Cases(lib.Library) {
		if !wanted(r.Place.File) {
			continue
		}
		rules = append(rules, r.Rule)
		if r.Problem != "" {
			wrong = append(wrong, r)
		}
	}
	m, err := c.measure(lib, dirs, rules)
	if err != nil {
		return err
	}
	c.showTotals(m, len(wrong), o)
	if len(dirs) == 0 {
		if err := c.showCoverage(lib, o); err != nil {
			return err
		}
	}
	for _, r := range wrong {
		c.showCase(lib, r)
	}
	c.showProblems(m.Problems, nil)
	var told []string // what their cases do not prove comes of what is wrong with them
	for _, r := range wrong {
		told = append(told, r.Rule)
	}
	m = m.Without(told)
	c.showGaps(m, o)
	if !o.summary {
		c.showProposals(lib, wrong)
	}
	if c.showShort(m)+len(wrong)+len(m.Problems) > 0 {
		return &exit.Error{Code: exit.Failed}
	}
	return nil
}

// wantedPacks tells the files of the folders from those of the built-in library.
func wantedPacks(dirs []string) func(file string) bool {
	if len(dirs) == 0 {
		return func(string) bool { return true }
	}
	var prefixes []string
	for _, dir := range dirs {
		prefixes = append(prefixes, shop.MountPrefix(dir))
	}
	return func(file string) bool {
		for _, p := range prefixes {
			if strings.HasPrefix(file, p+"/") {
				return true
			}
		}
		return false
	}
}

func (c *Command) showCase(lib *shop.Library, r proof.CaseResult) {
	message := r.Rule
	if r.Case != "" {
		message += ", case " + r.Case
	}
	p := document.Problem{Place: r.Place, Message: message + ": " + r.Problem}
	c.showProblems(document.Problems{p}, lib.Text(r.Place.File))
}

// mostProposed is the number of rules cases are proposed for at once.
const mostProposed = 10

// showProposals prints cases for what rules lack, ready to stand under their cases.
func (c *Command) showProposals(lib *shop.Library, wrong []proof.CaseResult) {
	var rules []string
	for _, r := range wrong {
		if r.Case == "" && !slices.Contains(rules, r.Rule) {
			rules = append(rules, r.Rule)
		}
	}
	for i, id := range rules {
		if i == mostProposed {
			fmt.Fprintf(c.Stdout, "\nCases are proposed for %d rules at a time; %s more lack some.\n", mostProposed, shop.Counted(len(rules)-i, "rule"))
			return
		}
		list := proof.Propose(lib.Library, id)
		if len(list) == 0 {
			continue
		}
		fmt.Fprintf(c.Stdout, "\nCases that %s lacks, as it judges now; put them under its cases when they are what is meant:\n", id)
		for _, p := range list {
			fmt.Fprintf(c.Stdout, "      %s\n", p.Text)
		}
	}
}

func wrongWords(n int) string {
	if n == 0 {
		return "all give what they must"
	}
	return shop.Counted(n, "thing") + " wrong"
}
