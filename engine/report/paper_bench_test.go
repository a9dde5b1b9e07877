package report_test

import (
	"io"
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/engine/diagnose"
	"plumbline/engine/report"
	"plumbline/engine/sheet"
	"plumbline/schema"
	"plumbline/schema/quantity"
	"plumbline/testdata/shipped"
)

// largest is the good build with most in it.
const largest = "../../designs/good/big-v8-surge-tank.yaml"

func largestJob(b *testing.B) *sheet.Job {
	lib := shipped.Library(b)
	text, err := os.ReadFile(largest)
	require.NoError(b, err)
	d, err := schema.LoadBased(largest, text, os.ReadFile)
	require.NoError(b, err)
	r := lib.Judge(d, engine.Options{Units: quantity.Metric})
	return &sheet.Job{Design: d, Report: r, Session: lib.Session(d, engine.Options{}), Packs: lib.Packs(), Units: quantity.Metric, Allowance: quantity.MustNew(0.1, quantity.DimLength),
		Diagnose: func() *diagnose.Diagnosis { return diagnose.Run(lib, d, engine.Options{Units: quantity.Metric}) }}
}

// The page of a report of the largest design, judged anew each time; 300 ms are allowed.
func BenchmarkReportPage(b *testing.B) {
	for b.Loop() {
		job := largestJob(b)
		form := report.NewForm("html", report.About{}, report.TextOptions{})
		item := report.Item{Name: largest, Report: job.Report, Design: job.Design, Papers: []*sheet.Paper{sheet.Make("fuel", job), sheet.Make("pump", job), sheet.Make("current", job)}}
		require.NoError(b, form.Add(io.Discard, form.Piece(item)))
	}
}

// Every sheet of it as a page; a second is allowed.
func BenchmarkAllSheets(b *testing.B) {
	for b.Loop() {
		job := largestJob(b)
		for _, k := range sheet.Kinds() {
			require.NoError(b, report.Paper(io.Discard, sheet.Make(k.Name, job), "html", report.TextOptions{}))
		}
	}
}
