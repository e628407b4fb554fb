package plan

import (
	"errors"
	"math"
	"testing"
	"time"

	"gonum.org/v1/gonum/floats/scalar"
	"pgregory.net/rapid"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/anneal/rule"
	"lehr/glass"
	"lehr/glass/unit"
)

// asking is an ask with ramps given as rate [°C/h] and end [°C].
func asking(hold time.Duration, ramps ...[2]float64) requirement {
	a := requirement{hold: hold}
	for _, r := range ramps {
		a.stages = append(a.stages, rule.Stage{Rate: unit.KelvinPerHour(-r[0]), To: unit.Celsius(r[1])})
	}
	return a
}

// TestCompose works out by hand what two asks make of one program: at each
// temperature the slower rate, the longer hold.
func TestCompose(t *testing.T) {
	p := compose([]requirement{
		asking(20*time.Minute, [2]float64{40, 480}, [2]float64{80, 430}, [2]float64{200, 40}),
		asking(50*time.Minute, [2]float64{60, 500}, [2]float64{70, 400}, [2]float64{300, 40}),
	}, unit.Celsius(560), 0)
	if p.hold != 50*time.Minute || p.holdBy != 1 {
		t.Errorf("hold %s by %d", p.hold, p.holdBy)
	}
	want := []struct {
		to, rate float64
		decider  int
	}{{480, 40, 0}, {400, 70, 1}, {40, 200, 0}} // 500 and 430 divide nothing: the rates on both sides are the same
	if len(p.ramps) != len(want) {
		t.Fatalf("%+v", p.ramps)
	}
	for i, w := range want {
		r := p.ramps[i]
		if !scalar.EqualWithinAbs(r.to.Celsius(), w.to, 1e-9) || !scalar.EqualWithinAbs(r.rate*3600, w.rate, 1e-9) || r.decider != w.decider {
			t.Errorf("ramp %d: %.1f °C/h to %s by %d, want %+v", i+1, r.rate*3600, r.to, r.decider, w)
		}
	}
}

func drawRequirement(t *rapid.T) requirement {
	a := asking(time.Duration(rapid.IntRange(10, 300).Draw(t, "hold")) * time.Minute)
	to := 560.0
	for range rapid.IntRange(1, 5).Draw(t, "ramps") {
		to -= float64(rapid.IntRange(5, 90).Draw(t, "down"))
		a.stages = append(a.stages, rule.Stage{Rate: unit.KelvinPerHour(-float64(rapid.IntRange(1, 500).Draw(t, "rate"))), To: unit.Celsius(to)})
	}
	a.stages[len(a.stages)-1].To = unit.Celsius(40)
	return a
}

// rateOf is the rate of a proposal at a temperature [K/s].
func (p draft) rateOf(t unit.Temp) float64 {
	for _, r := range p.ramps {
		if !t.Less(r.to) {
			return r.rate
		}
	}
	return math.Inf(1)
}

// TestCompose_neverFasterThanRequired: whatever is merged to fit the controller,
// no temperature is passed faster than any piece asks.
func TestCompose_neverFasterThanRequired(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var requirements []requirement
		for range rapid.IntRange(1, 5).Draw(t, "asks") {
			requirements = append(requirements, drawRequirement(t))
		}
		p := compose(requirements, unit.Celsius(560), 0)
		most := rapid.IntRange(1, 6).Draw(t, "segments")
		p.merge(most)
		if len(p.ramps) > most || len(p.ramps) == 0 {
			t.Fatalf("%d ramps for %d", len(p.ramps), most)
		}
		if last := p.ramps[len(p.ramps)-1].to; last != unit.Celsius(40) {
			t.Fatalf("ends at %s", last)
		}
		for c := 559.5; c > 40; c -= 4.5 {
			for _, a := range requirements {
				if a.hold > p.hold {
					t.Fatalf("holds %s, asked %s", p.hold, a.hold)
				}
				at := unit.Celsius(c)
				if asked := a.rateAt(at); p.rateOf(at) > asked*(1+1e-9) {
					t.Fatalf("at %g °C: %.2f °C/h, asked %.2f", c, p.rateOf(at)*3600, asked*3600)
				}
			}
		}
	})
}

// TestRound_towardSlow: a program is never rounded to a faster ramp, a shorter
// hold, or an end that is warmer than asked.
func TestRound_towardSlow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		st := kiln.DefaultStudio().In(rapid.SampledFrom([]unit.System{unit.Metric, unit.US}).Draw(t, "units"))
		c := &st.Controller
		c.Minutes, c.Segments = rapid.Bool().Draw(t, "minutes"), 100
		c.Longest = time.Duration(rapid.IntRange(1, 40).Draw(t, "longest h")) * time.Hour
		a := drawRequirement(t)
		p := compose([]requirement{a}, unit.Celsius(560), 0)
		p.from, p.heatRate = unit.Celsius(float64(rapid.IntRange(20, 600).Draw(t, "from"))), float64(unit.KelvinPerHour(300))
		s, err := p.round(st)
		var many *SegmentsError
		if errors.As(err, &many) {
			return // ramps of 40 days in steps of an hour
		}
		if err != nil {
			t.Fatal(err)
		}
		hold := time.Duration(0)
		for i, span := range s.As(nil).Spans {
			seg := s.Segments[i]
			if seg.Purpose == program.PurposeSoak {
				hold += seg.Hold
			} else if middle := span.From.Add(seg.To.Sub(span.From) / 2); math.Abs(float64(seg.Rate)) > p.rateOf(middle)*(1+1e-9) {
				t.Fatalf("segment %d at %s: %s, asked %.3f °C/h", i+1, middle, seg.Rate, p.rateOf(middle)*3600)
			}
			if seg.Hold > c.Longest {
				t.Fatalf("segment %d holds %s of %s", i+1, seg.Hold, c.Longest)
			}
		}
		if hold < p.hold || hold > p.hold+time.Minute {
			t.Fatalf("holds %s, asked %s", hold, p.hold)
		}
		if last := s.Segments[len(s.Segments)-1].To; last.Sub(unit.Celsius(40)) > 1e-9 || last.Sub(unit.Celsius(40)) < -1.01 {
			t.Fatalf("ends at %s", last)
		}
	})
}

// TestRelaxTime: hotter, and for a smaller share, a soak is shorter.
func TestRelaxTime(t *testing.T) {
	p := pieceOf(t, "sphere 1in", "borosilicate-33")
	last := time.Duration(math.MaxInt64)
	for _, c := range []float64{520, 530, 540, 550, 560, 570} {
		d, err := relaxTime(p, unit.Celsius(c), 0.99)
		if err != nil {
			t.Fatal(err)
		}
		if d > last || d < rule.ShortestSoak {
			t.Errorf("at %g °C: %s, %s colder", c, d, last)
		}
		if less, err := relaxTime(p, unit.Celsius(c), 0.9); err != nil || less > d {
			t.Errorf("at %g °C: %s for 90 %%, %s for 99 %% (%v)", c, less, d, err)
		}
		last = d
	}
	var out *glass.RangeError
	if _, err := relaxTime(p, unit.Celsius(20), 0.99); !errors.As(err, &out) {
		t.Errorf("at the room: %v", err)
	}
}

// TestBand: the common soak range of float and soft soda-lime glass does not
// exist (520 to 519.5 °C); that of borosilicate and float does.
func TestBand(t *testing.T) {
	st := kiln.DefaultStudio()
	boro, soda, float := pieceOf(t, "sphere 1in", "borosilicate-33"), pieceOf(t, "sphere 1in", "soda-104"), pieceOf(t, "sphere 1in", "float")
	for _, c := range []struct {
		pieces        []piece.Piece
		lowBy, highBy int
		common        bool
	}{
		{[]piece.Piece{boro}, 0, 0, true},
		{[]piece.Piece{boro, float}, 1, 1, true},
		{[]piece.Piece{boro, soda}, 0, 1, false},
		{[]piece.Piece{soda, float}, 1, 0, false},
	} {
		b, err := band(c.pieces, st)
		if err != nil {
			t.Fatal(err)
		}
		if b.lowBy != c.lowBy || b.highBy != c.highBy || (b.width() >= narrowest) != c.common {
			t.Errorf("%s…: %+v, width %.1f K", c.pieces[0].Glass.Name, b, b.width())
		}
	}
	st.Kiln.Spread, st.Kiln.ProbeError = 10, 5
	even, _ := band([]piece.Piece{boro}, kiln.DefaultStudio())
	if b, _ := band([]piece.Piece{boro}, st); !scalar.EqualWithinAbs(even.width()-b.width(), 20, 1e-9) {
		t.Errorf("a kiln that may be off by 10 K takes %.1f K from both ends together", even.width()-b.width())
	}
}
