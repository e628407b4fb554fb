package plan

import (
	"context"
	"testing"
	"time"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/verify"
	"lehr/glass/unit"
)

// TestPlan_lastPieceEvens: the soak covers the time in which a piece straight
// from the flame evens out: by five e-folds 30 min for a sphere of 63.5 mm and
// 55 min for one of 100 mm. The simulation of average glass and its ranges agrees
// to half an e-fold. Said or not that it is as hot as its glass is where it softens,
// it is no more even after the soak, opaque or of a clearness that nobody said.
func TestPlan_lastPieceEvens(t *testing.T) {
	needLong(t)
	for i, name := range []string{"borosilicate-33", "soda-104", "lead-crystal"} {
		for j, what := range []string{"sphere 1in", "sphere 63.5mm", "sphere 100mm", "disc 75mm x 25mm", "disc 100mm x 40mm raised", "rod 25mm x 200mm", "tube 60mm wall 12mm", "pendant 60mm x 20mm", "dome 75mm x 45mm", "sphere 63.5mm opaque"} {
			if !long() && i != (j/2)%3+3*(j%2) && (i > 0 || j != 9) { // every other shape in one of the glasses
				continue
			}
			if !campaign() && i != j%3 && (i > 0 || j != 9) { // every shape in one of the glasses
				continue
			}
			l := loadOf(t, name, what)
			rep := mustPlan(t, l, exactController(), hoursOnly)
			p, s := rep.Pieces[0], rep.Schedule.Segments[0]
			even := verify.EvenAt(l.Pieces[0], piece.HotKiln, rep.Schedule.From)
			if !rep.Within || p.SoakLag > rep.Limits.Even || s.Hold < even {
				t.Errorf("%s of %s: %s; core %s above the surface after %v, even after %v", what, name, rep.Verdict(), p.SoakLag, s.Hold, even)
			}
			// Simulated as hot throughout as its glass is where it softens, to a part of
			// the tolerance of 0.1 K of a step.
			l.Pieces[0].Core = l.Pieces[0].Glass.Soften.Temp()
			hot, err := verify.Program(context.Background(), rep.Schedule, l, rep.Studio, kiln.Limits{})
			if err != nil {
				t.Fatal(err)
			}
			if q := hot.Pieces[0]; q.SoakLag > p.SoakLag*1.01+0.02 || q.SoakLag < 0.9*p.SoakLag-0.02 || q.MaxLag < 20 {
				t.Errorf("%s of %s: said so, its core is %s above the surface after the soak, %s at most; not said, %s", what, name, q.SoakLag, q.MaxLag, p.SoakLag)
			}
		}
	}
	// Glass that passes no light as heat takes longer: some 6.4 min an e-fold instead
	// of 5.8.
	clear, opaque := loadOf(t, "borosilicate-33", "sphere 63.5mm"), loadOf(t, "borosilicate-33", "sphere 63.5mm opaque")
	if a, b := verify.EvenAt(clear.Pieces[0], piece.HotKiln, unit.Celsius(560)), verify.EvenAt(opaque.Pieces[0], piece.HotKiln, unit.Celsius(560)); float64(b)/float64(a) < 1.08 || float64(b)/float64(a) > 1.12 {
		t.Errorf("even after %v, opaque %v", a, b)
	}
	for size, want := range map[string]float64{"sphere 63.5mm": 30, "sphere 100mm": 55} {
		even := verify.EvenAt(loadOf(t, "borosilicate-33", size).Pieces[0], piece.HotKiln, unit.Celsius(560)).Minutes()
		if even < want-2 || even > want+2 {
			t.Errorf("%s is even after %.1f min, the study has %g", size, even, want)
		}
	}
}

// TestPlan_reheatedWork: a piece that is as hot as the kiln, or went in long
// before, asks for no more soak than one that nobody knows anything of but that;
// one that went in a few minutes before asks for what is left.
func TestPlan_reheatedWork(t *testing.T) {
	hold := func(change func(*piece.Piece)) time.Duration {
		l := loadOf(t, "borosilicate-33", "sphere 63.5mm")
		change(&l.Pieces[0])
		return mustPlan(t, l, exactController(), hoursOnly).Schedule.Segments[0].Hold
	}
	last, even := hold(func(*piece.Piece) {}), hold(func(p *piece.Piece) { p.Even = true })
	early, some := hold(func(p *piece.Piece) { p.In = time.Hour }), hold(func(p *piece.Piece) { p.In = 8 * time.Minute })
	if !(even < some && some < last) || early != even {
		t.Errorf("soak %v even, %v after an hour, %v after 8 min, %v straight from the flame", even, early, some, last)
	}
}

// aboveStrain is how long a program is above the strain point of a piece.
func aboveStrain(rep *verify.Report, p piece.Piece) time.Duration {
	strain, long := p.Glass.Strain.Temp().Kelvin(), 0.0
	for t := 0.0; t < rep.Nominal.Total().Seconds(); t += 60 {
		if rep.Nominal.At(t) > strain {
			long += 60
		}
	}
	return unit.Seconds(long)
}
