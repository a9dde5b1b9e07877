package desk

import (
	"plumbline/engine"
	"plumbline/engine/derive"
	"plumbline/engine/explain"
)

// Working says how what a finding rests on came out, a line for each step, at most some.
func (v *View) Working(f *engine.Finding) []derive.WorkLine {
	v.mu.Lock()
	defer v.mu.Unlock()
	job := v.paperJob()
	return explain.NewWorkings(job.Session, job.Units).Finding(f, explain.MostLines)
}
