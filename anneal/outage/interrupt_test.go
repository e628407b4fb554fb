package outage

import (
	"context"
	"errors"
	"os"
	"testing"
	"time"
)

// TestFind_interrupted: whoever stops it is heard within 0.2 s, in one of three tries on
// a busy machine, whatever is being simulated, as bodies of revolution over two days.
func TestFind_interrupted(t *testing.T) {
	c := night(t, 540, 500, "sphere 100mm", "rod 40mm x 150mm", "disc 125mm x 25mm", "pendant 50mm x 15mm", "tube 75mm wall 10mm")
	moments := []time.Duration{20 * time.Millisecond}
	if os.Getenv("LEHR_LONG") == "1" {
		moments = append(moments, time.Second)
	}
	for _, after := range moments {
		least := time.Hour
		for range 3 {
			ctx, cancel := context.WithTimeout(t.Context(), after)
			began := time.Now()
			_, err := Find(ctx, c)
			cancel()
			if !errors.Is(err, context.DeadlineExceeded) {
				t.Fatalf("stopped after %v: %v", after, err)
			}
			least = min(least, time.Since(began)-after)
		}
		if least > 200*time.Millisecond {
			t.Errorf("stopped after %v: heard after %v", after, least)
		}
	}
}
