// Package desk is the state of the open jobs of a shop's folder: what each design says at a revision, how it is judged, what is
// asked, and the edits that lead from one revision to the next. It knows nothing of how that is shown, and judges nothing by itself.
//
//	d, err := desk.Open("jobs", desk.Options{Shop: shop, Now: time.Now})
//	job, err := d.Job("truck.yaml")
//	view, err := job.View()
//	done, err := job.Set(view.Revision, "design.pump.place", "in tank")
//	done.View.Headline, done.Changed.Findings
//
// The file on disk stays the design. Each edit is first written into the job's journal, then into the file, whole or not at all, with
// what was written by hand left as it stands; then it is acknowledged. What another program wrote into the file meanwhile is taken
// up; where it states otherwise what an edit states, the edit is a *Conflict and nothing is saved. A View is never changed once it
// was given out, and all of the package is safe for concurrent use.
package desk
