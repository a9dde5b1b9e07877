// Package page serves a shop's folder to a browser: HTTP in, HTML and drawings out. It judges nothing by itself and keeps no design:
// both are the desk's.
//
//	handler := page.New(page.Options{Desk: desk, Hosts: []string{"127.0.0.1:8080"}})
//
// The drawing is the form: each way of the vehicle is the drawing of its sheet, of which each part is a link to its card. Every answer
// is a form posted and the page after it; htmx exchanges what differs where there is script, and all but keypads, swipes and sliding works without.
// All that is served is in the program: no request leaves the machine. Who may ask is settled in guard.go.
package page
