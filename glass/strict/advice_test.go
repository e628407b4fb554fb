package strict_test

import (
	"errors"
	"fmt"
	"testing"

	"lehr/glass/strict"
)

// TestAdvice: who reads files has each setting by its key and its file.
func TestAdvice(t *testing.T) {
	for advice, want := range map[strict.Advice]string{
		"give a higher {kiln.holding}":                          "give a higher holding in [kiln] of the studio file",
		"give {kiln.spread-} and {kiln.probe_error}":            "give spread and probe_error in [kiln] of the studio file",
		"{leave door}, or {write into=hot kiln}":                `leave [door] out, or write into = "hot kiln"`,
		"give {door.every=30 min}, too":                         `give every = "30 min", too`,
		"give {controller.segments=12} if it has as many":       "give segments = 12 in [controller] of the studio file if it has as many",
		"raise {piece.longest_soak}":                            "raise longest_soak",
		"correct the hour, or {--start} if it began at another": "correct the hour, or --start if it began at another",
		"({--max-left=1 MPa})":                                  `(--max-left "1 MPa")`,
		"say so in {controller}: {rate=minutes per ramp}":       `say so in [controller] of studio.toml: rate = "minutes per ramp"`,
		"{list them}":       "list them with: lehr glass",
		"{split what fits}": "lehr share shows what fits",
		strict.Plain("{kiln.holding} {} } {leave in} { and {") + "{in}": "{kiln.holding} {} } {leave in} { and {in",
		"": "",
	} {
		if got := advice.String(); got != want {
			t.Errorf("%q: %q, want %q", advice, got, want)
		}
	}
}

type hinted struct{ hint string }

func (hinted) Error() string  { return "wrong" }
func (h hinted) Hint() string { return h.hint }

// TestAdviceOf: a hint of words alone stays as it is.
func TestAdviceOf(t *testing.T) {
	if got := strict.AdviceOf(fmt.Errorf("x: %w", hinted{"write {in}"})); got.String() != "write {in}" {
		t.Errorf("%q", got)
	}
	if got := strict.AdviceOf(errors.New("x")); got != "" {
		t.Errorf("%q", got)
	}
}
