package desk

import (
	"bytes"
	"encoding/json"
	"errors"
	"math"
	"testing"

	"lehr/cmd/lehr/report"
	"lehr/cmd/lehr/term"
)

func TestNum(t *testing.T) {
	for x, want := range map[float64]string{
		0: "0", math.Copysign(0, -1): "0", 1: "1", 563.14159: "563.1", -0.00012345: "-0.0001234",
		6.4e10: "64000000000", 3.3e-6: "0.0000033", 9.99999: "10", 1.0 / 3: "0.3333", 5.2e-13: "5.2e-13",
	} {
		got, err := json.Marshal(report.Num(x))
		if err != nil || string(got) != want {
			t.Errorf("num(%g) = %s, %v; want %s", x, got, err, want)
		}
	}
	for _, x := range []float64{math.NaN(), math.Inf(1)} {
		if _, err := json.Marshal(report.Num(x)); err == nil {
			t.Errorf("num(%g) is accepted", x)
		}
	}
}

func TestPrintJSON(t *testing.T) {
	var buf bytes.Buffer
	a := New(nil, &buf, nil, term.Terminal{Width: term.MaxWidth, UTF8: true})
	a.Plain = true
	if err := a.PrintJSON(map[string]any{"a": report.Num(1.23456), "b": "<510 °C>"}); err != nil {
		t.Fatal(err)
	}
	a.Flush()
	if want := "{\n  \"a\": 1.235,\n  \"b\": \"<510 °C>\"\n}\n"; buf.String() != want {
		t.Errorf("got %q, want %q", buf.String(), want)
	}
}

// TestAsUsage checks that wrong usage keeps the hint of its cause.
func TestAsUsage(t *testing.T) {
	err := AsUsage("--piece", term.WithHint(errors.New("x"), "do this"))
	if got := term.HintOf(err); got != "do this" {
		t.Errorf("hint %q", got)
	}
}
