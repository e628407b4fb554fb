package verify

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/kilnlog"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/glass/unit"
)

// nightOf is a program told as a curve.
func nightOf(t testing.TB, s program.Schedule) kiln.Curve {
	t.Helper()
	var r []kiln.Reading
	for _, p := range s.As(nil).Points {
		r = append(r, kiln.Reading{At: unit.Kelvin(p.Temp), Time: time.Duration(p.Time * float64(time.Second))})
	}
	c, err := kiln.NewCurve(r)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// loggedAs is a curve as a logger writes it, with even noise, in whole degrees.
func loggedAs(t testing.TB, c kiln.Curve, every time.Duration, seed uint64) kiln.Curve {
	t.Helper()
	rnd := rand.New(rand.NewPCG(seed, 3))
	var b strings.Builder
	b.WriteString("min,temp_C\n")
	for at := c.Start(); at <= c.End(); at += every {
		fmt.Fprintf(&b, "%g,%.0f\n", at.Minutes(), c.Temp(at).Celsius()+2*rnd.Float64()-1)
	}
	l, err := kilnlog.Read(strings.NewReader(b.String()), "night.csv", kilnlog.Options{})
	if err != nil {
		t.Fatal(err)
	}
	out, err := l.Curve()
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func mustReplay(t testing.TB, c kiln.Curve, l *piece.Load, ended bool) *Report {
	t.Helper()
	rep, err := Replay(context.Background(), c, l, kiln.DefaultStudio(), kiln.Limits{}, ended)
	if err != nil {
		t.Fatal(err)
	}
	return rep
}

// TestReplay_isTheProgram: a kiln that did what it was told is judged as the
// program is, and a log of it with noise and in whole degrees gives back the
// tension left within 2 %. The end of the soak is found within 1 K of cooling.
func TestReplay_isTheProgram(t *testing.T) {
	l := loadOf(t, "borosilicate-33", "6 x sphere 2.5in", "disc 75mm x 25mm raised")
	s := usual(90*time.Minute, 36)
	want, c := mustJudge(t, s, l), nightOf(t, s)
	for _, row := range []struct {
		name       string
		c          kiln.Curve
		peak, left float64
	}{{"exact", c, 0.002, 0.002}, {"every minute", loggedAs(t, c, time.Minute, 1), 0.04, 0.02}, {"every 5 min", loggedAs(t, c, 5*time.Minute, 2), 0.04, 0.02}} {
		got := mustReplay(t, row.c, l, true)
		if got.Verdict() != want.Verdict() {
			t.Errorf("%s: %v, want %v", row.name, got.Verdict(), want.Verdict())
		}
		for i, p := range got.Pieces {
			w := want.Pieces[i]
			if d := math.Abs(float64(p.Residual/w.Residual) - 1); d > row.left {
				t.Errorf("%s: %s: left %v, want %v", row.name, p.Piece.What, p.Residual, w.Residual)
			}
			if d := math.Abs(float64(p.Peak/w.Peak) - 1); d > row.peak {
				t.Errorf("%s: %s: tension %v, want %v", row.name, p.Piece.What, p.Peak, w.Peak)
			}
			if math.Abs(float64(p.SoakLag)) > 0.5 || math.Abs(float64(w.SoakLag)) > 0.1 {
				t.Errorf("%s: %s: at the end of the soak %v apart, want %v", row.name, p.Piece.What, p.SoakLag, w.SoakLag)
			}
			if !p.SoakJudged || !p.EvenJudged || p.Relaxed < 0.99 {
				t.Errorf("%s: %s: soak not judged: %v", row.name, p.Piece.What, p.Relaxed)
			}
		}
	}
}

// TestReplay_soFar: what ends hot is judged so far, and time above the strain
// point counts with its ramps: an hour of soak and 50 K at 36 °C/h, in a program
// as in what the kiln did.
func TestReplay_soFar(t *testing.T) {
	l := loadOf(t, "borosilicate-33", "sphere 1in")
	l.Pieces[0].LongestSoak = time.Hour
	s := usual(59*time.Minute, 36)
	nominal, ok := mustVerify(t, s, l, kiln.Limits{}).Pieces[0].Over.Find(finding.OverHeld)
	if want := 59*time.Minute + 50*time.Hour/36; !ok || (nominal.Time-want).Abs() > time.Minute {
		t.Fatalf("held %v, want %v", nominal.Time, want)
	}
	c := nightOf(t, s)
	rep := mustReplay(t, c, l, true)
	held, over := rep.Pieces[0].Over.Find(finding.OverHeld)
	if !over || (held.Time-nominal.Time).Abs() > 2*time.Minute || rep.Verdict() != OverLimit {
		t.Errorf("held %v: %v", held.Time, rep.Verdict())
	}
	l.Pieces[0].LongestSoak = 0
	c, err := kiln.NewCurve(c.Points()[:2])
	if err != nil {
		t.Fatal(err)
	}
	rep = mustReplay(t, c, l, false)
	if rep.Verdict() != NotJudged || !rep.EndsHot() || rep.Pieces[0].ResidualJudged {
		t.Errorf("a night that is not over: %v", rep.Verdict())
	}
}
