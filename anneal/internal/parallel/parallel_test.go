package parallel

import (
	"context"
	"errors"
	"runtime"
	"sync/atomic"
	"testing"
)

func TestEach(t *testing.T) {
	var ran [100]atomic.Int32
	var now, most atomic.Int32
	err := Each(t.Context(), len(ran), func(i int) error {
		if n := now.Add(1); n > most.Load() {
			most.Store(n)
		}
		runtime.Gosched()
		ran[i].Add(1)
		now.Add(-1)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for i := range ran {
		if n := ran[i].Load(); n != 1 {
			t.Errorf("index %d ran %d times", i, n)
		}
	}
	if n := int(most.Load()); n > runtime.GOMAXPROCS(0) {
		t.Errorf("%d at once on %d processors", n, runtime.GOMAXPROCS(0))
	}
}

func TestEach_lowestError(t *testing.T) {
	want := errors.New("first")
	for range 50 {
		err := Each(t.Context(), 4, func(i int) error {
			if i == 0 {
				runtime.Gosched()
				return want
			}
			return nil
		})
		if !errors.Is(err, want) {
			t.Fatal(err)
		}
	}
}

func TestEach_stops(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	var ran atomic.Int32
	err := Each(ctx, 1000, func(int) error {
		if ran.Add(1) == 3 {
			cancel()
		}
		return nil
	})
	if !errors.Is(err, context.Canceled) || int(ran.Load()) > 3+runtime.GOMAXPROCS(0) {
		t.Errorf("%v after %d calls", err, ran.Load())
	}
}

// TestUntil: what is done is the answer, with its error; when the context ends first its
// error is, while the work goes on.
func TestUntil(t *testing.T) {
	failed := errors.New("failed")
	if v, err := Until(t.Context(), func() (int, error) { return 3, failed }); v != 3 || err != failed {
		t.Errorf("%d, %v", v, err)
	}
	ctx, cancel := context.WithCancel(t.Context())
	begun, on, done := make(chan struct{}), make(chan struct{}), make(chan struct{})
	go func() {
		<-begun
		cancel()
	}()
	if v, err := Until(ctx, func() (int, error) {
		defer close(done)
		close(begun)
		<-on
		return 3, nil
	}); v != 0 || !errors.Is(err, context.Canceled) {
		t.Errorf("interrupted: %d, %v", v, err)
	}
	close(on)
	<-done
}
