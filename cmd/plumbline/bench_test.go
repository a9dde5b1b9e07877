package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// The whole process: start, load the library, read, judge and print one design.
// max-rss is the largest memory of any run.
func BenchmarkCheckProcess(b *testing.B) {
	binary := filepath.Join(b.TempDir(), "plumbline")
	if out, err := exec.Command("go", "build", "-o", binary, ".").CombinedOutput(); err != nil {
		b.Fatalf("%v\n%s", err, out)
	}
	var most int64
	for b.Loop() {
		cmd := exec.Command(binary, "check", "../../designs/demo/six-return.yaml")
		if err := cmd.Run(); err != nil {
			b.Fatal(err)
		}
		most = max(most, maxResident(cmd.ProcessState))
	}
	b.ReportMetric(float64(most)/(1<<20), "MB-max-rss")
	_ = os.Remove(binary)
}
