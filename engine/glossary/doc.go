// Package glossary holds one record for each name a library knows: rule, pack, limit, table, source, region, known
// failure, derived value, fact, and the topics of the rule language.
//
//	g := glossary.New(library, failures)
//	for _, record := range g.Find("fuel/hose.injection-grade") {
//		fmt.Println(record.Title)
//	}
//
// The explanations of the command, the pages of reference and the hovers of the editor print these records; nothing
// of it is written twice.
package glossary
