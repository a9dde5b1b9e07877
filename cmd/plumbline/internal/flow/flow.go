// Package flow does the same work on a stream of things with several workers and hands the results on in the order of the
// stream. It holds no more of them at a time than its window, however long the stream is.
package flow

import (
	"iter"
	"sync"
)

// window is how many results for each worker may wait for one that takes longer.
const window = 4

// Ordered calls work for everything in, with so many workers at once, and take for every result, one after the other
// in the order of in. When take returns an error it is called no more, and Ordered returns that error once all workers have
// stopped. Both in and work run on other goroutines than take, which runs on the caller's.
func Ordered[In, Out any](workers int, in iter.Seq[In], work func(In) Out, take func(Out) error) error {
	type job struct {
		in   In
		done chan Out
	}
	jobs := make(chan job)
	order := make(chan chan Out, window*workers)
	stop := make(chan struct{})
	var running sync.WaitGroup
	running.Go(func() {
		defer close(jobs)
		defer close(order)
		for x := range in {
			j := job{x, make(chan Out, 1)}
			select {
			case order <- j.done:
			case <-stop:
				return
			}
			select {
			case jobs <- j:
			case <-stop:
				return
			}
		}
	})
	for range workers {
		running.Go(func() {
			for j := range jobs {
				j.done <- work(j.in)
			}
		})
	}
	defer running.Wait()
	defer close(stop)
	for done := range order {
		if err := take(<-done); err != nil {
			return err
		}
	}
	return nil
}
