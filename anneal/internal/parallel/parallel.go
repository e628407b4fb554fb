// Package parallel is the one place where work is spread over the machine, but for the
// rule, and what judges, beside a search.
package parallel

import (
	"context"
	"runtime"
	"sync"
	"sync/atomic"
)

// Each calls do once for each index below n, on as many goroutines as the
// machine has processors for, and waits for all of them. It begins no further
// call once one has failed or ctx has ended. The error is that of the lowest
// index that failed, else that of ctx.
func Each(ctx context.Context, n int, do func(i int) error) error {
	errs := make([]error, n)
	var next atomic.Int64
	var failed atomic.Bool
	work := func() {
		for {
			i := int(next.Add(1)) - 1
			if i >= n || failed.Load() || ctx.Err() != nil {
				return
			}
			if errs[i] = do(i); errs[i] != nil {
				failed.Store(true)
			}
		}
	}
	var wait sync.WaitGroup
	for range min(n, runtime.GOMAXPROCS(0)) - 1 {
		wait.Go(work)
	}
	work()
	wait.Wait()
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return ctx.Err()
}

// Until calls do and returns what it does, or the error of ctx as soon as that ends: do
// goes on then to where it asks ctx itself, and what it works on must stay as it is.
func Until[T any](ctx context.Context, do func() (T, error)) (T, error) {
	type answer struct {
		value T
		err   error
	}
	got := make(chan answer, 1)
	go func() {
		value, err := do()
		got <- answer{value, err}
	}()
	select {
	case a := <-got:
		return a.value, a.err
	case <-ctx.Done():
		var none T
		return none, ctx.Err()
	}
}
