package plan

import (
	"context"
	"errors"
	"flag"
	"math"
	"reflect"
	"slices"
	"strconv"
	"testing"
	"time"

	"pgregory.net/rapid"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/sim"
	"lehr/anneal/verify"
	"lehr/glass"
	"lehr/glass/unit"
)

// few checks a property with n draws with LEHR_CAMPAIGN=1, an eighth of them with
// LEHR_LONG=1 and a fortieth otherwise: a plan takes a tenth of a second or more, and
// the tests of the package have a few seconds.
func few(t *testing.T, n int, property func(*rapid.T)) {
	t.Helper()
	switch {
	case campaign():
	case long():
		n = (n + 7) / 8
	default:
		n = (n + 39) / 40
	}
	f := flag.Lookup("rapid.checks")
	if old := f.Value.String(); old == f.DefValue { // a number given by hand stands
		if err := f.Value.Set(strconv.Itoa(n)); err != nil {
			t.Fatal(err)
		}
		defer f.Value.Set(old)
	}
	// One seed, so that a test which passes today passes tomorrow; -rapid.seed
	// asks others.
	if seed := flag.Lookup("rapid.seed"); seed.Value.String() == seed.DefValue {
		if err := seed.Value.Set("2"); err != nil {
			t.Fatal(err)
		}
		defer seed.Value.Set(seed.DefValue)
	}
	rapid.Check(t, property)
}

// exactController takes what a program asks for to a minute and a degree, so
// that properties of the planner are not hidden by the rounding of rates.
func exactController() kiln.Studio {
	st := kiln.DefaultStudio()
	st.Controller.Minutes, st.Controller.Slowest = true, unit.KelvinPerHour(0.01)
	return st
}

// mustPlan plans and wants an answer.
func mustPlan(t interface{ Fatalf(string, ...any) }, l *piece.Load, st kiln.Studio, o Options) *verify.Report {
	rep, err := Plan(context.Background(), l, st, o)
	if err != nil {
		t.Fatalf("%v", err)
	}
	return rep
}

// hours is how long the program takes as programmed.
func hours(rep *verify.Report) float64 { return rep.Nominal.Total().Hours() }

var families = []string{"borosilicate-33", "soda-104", "fusible-96", "fusible-90", "float", "lead-crystal", "furnace-96"}

// shapes of a size: everything that may vary in a piece but its size.
var shapes = []struct {
	name string
	of   func(mm float64) piece.Piece
}{
	{"sphere", func(mm float64) piece.Piece {
		return piece.Piece{Shape: piece.SphereShape, Size: unit.Length(mm) * unit.Millimeter}
	}},
	{"rod", func(mm float64) piece.Piece {
		return piece.Piece{Shape: piece.RodShape, Size: unit.Length(mm) * unit.Millimeter}
	}},
	{"disc", func(mm float64) piece.Piece {
		return piece.Piece{Shape: piece.DiscShape, Size: unit.Length(mm/2) * unit.Millimeter, Across: 200 * unit.Millimeter}
	}},
	{"slab", func(mm float64) piece.Piece {
		return piece.Piece{Shape: piece.SlabShape, Size: unit.Length(mm/2) * unit.Millimeter, Across: 200 * unit.Millimeter}
	}},
	{"dome", func(mm float64) piece.Piece {
		return piece.Piece{Shape: piece.DomeShape, Size: unit.Length(mm/2) * unit.Millimeter, Across: unit.Length(mm) * unit.Millimeter}
	}},
	{"pendant", func(mm float64) piece.Piece {
		return piece.Piece{Shape: piece.PendantShape, Size: unit.Length(mm/2) * unit.Millimeter, Across: unit.Length(2*mm) * unit.Millimeter}
	}},
	{"tube", func(mm float64) piece.Piece {
		return piece.Piece{Shape: piece.TubeShape, Size: 150 * unit.Millimeter, Wall: unit.Length(mm/4) * unit.Millimeter}
	}},
}

func drawOne(t *rapid.T, mm float64, name string, shape int, resting piece.Resting) piece.Piece {
	p := shapes[shape].of(mm)
	g, err := glass.Find(name)
	if err != nil {
		t.Fatal(err)
	}
	p.Count, p.Glass, p.Resting, p.What = 1, g, resting, shapes[shape].name
	return p
}

func drawResting(t *rapid.T) piece.Resting {
	return rapid.SampledFrom([]piece.Resting{piece.OnShelf, piece.Raised, piece.Bedded}).Draw(t, "resting")
}

// roundingStep is how much the rounding of one program may change its length:
// up to one minute in each ramp and hold, one degree at each of its ends.
func roundingStep(rep *verify.Report) float64 {
	step := 0.0
	for _, s := range rep.Schedule.Segments {
		step += 2.0 / 60
		if s.Rate != 0 {
			step += 2 / math.Abs(s.Rate.KelvinPerHour())
		}
	}
	return step
}

// TestPlan_thickerIsNeverFaster: of two pieces that differ in size alone, the
// thicker one's program is not shorter, up to one rounding step. The factor by
// which the planner slows a program that its simulation refuses is 3 % coarse,
// which is allowed for.
func TestPlan_thickerIsNeverFaster(t *testing.T) {
	few(t, 40, func(t *rapid.T) {
		name := rapid.SampledFrom(families).Draw(t, "glass")
		shape := rapid.IntRange(0, len(shapes)-1).Draw(t, "shape")
		resting := drawResting(t)
		thin := rapid.Float64Range(8, 70).Draw(t, "mm")
		thick := thin * rapid.Float64Range(1.02, 1.6).Draw(t, "times")
		st := exactController()
		a := mustPlan(t, &piece.Load{Into: piece.HotKiln, Pieces: []piece.Piece{drawOne(t, thin, name, shape, resting)}}, st, hoursOnly)
		b := mustPlan(t, &piece.Load{Into: piece.HotKiln, Pieces: []piece.Piece{drawOne(t, thick, name, shape, resting)}}, st, hoursOnly)
		if !a.Within || !b.Within {
			t.Fatalf("planned over a limit")
		}
		if hours(b) < hours(a)*0.97-roundingStep(a) {
			t.Fatalf("%.1f mm takes %.3f h, %.1f mm %.3f h", thin, hours(a), thick, hours(b))
		}
	})
}

// TestPlan_unitsDoNotMatter: a controller in °F is given the same program as
// one in °C, to within one whole degree of each temperature, one minute of each
// hold and as long: one whole degree per hour of each rate, and 3 % of the whole
// for the step by which limits are met. Which of two ramps goes the faster may
// differ by a quarter: one draw has 62 and 50 °C/h in programs as long.
func TestPlan_unitsDoNotMatter(t *testing.T) {
	few(t, 40, func(t *rapid.T) {
		l := &piece.Load{Into: rapid.SampledFrom([]piece.Into{piece.HotKiln, piece.ColdKiln}).Draw(t, "into"),
			Pieces: []piece.Piece{drawOne(t, rapid.Float64Range(10, 60).Draw(t, "mm"), rapid.SampledFrom(families).Draw(t, "glass"),
				rapid.IntRange(0, len(shapes)-1).Draw(t, "shape"), drawResting(t))}}
		st := kiln.DefaultStudio()
		a := mustPlan(t, l, st.In(unit.Metric), hoursOnly)
		b := mustPlan(t, l, st.In(unit.US), hoursOnly)
		if a.Within != b.Within || len(a.Schedule.Segments) != len(b.Schedule.Segments) {
			t.Fatalf("°C %+v\n°F %+v", a.Schedule, b.Schedule)
		}
		coarse := 2 * float64(len(a.Schedule.Segments)) / 60 // [h]
		for i, p := range a.Schedule.Segments {
			q := b.Schedule.Segments[i]
			if d := math.Abs(float64(p.To.Sub(q.To))); d > 1.56 { // a degree of each
				t.Errorf("segment %d: to %s and %s", i+1, p.To, q.To)
			}
			x, y := math.Abs(p.Rate.KelvinPerHour()), math.Abs(q.Rate.KelvinPerHour())
			if math.Abs(x-y) > 1.56+0.25*math.Max(x, y) {
				t.Errorf("segment %d: %s and %s", i+1, p.Rate, q.Rate)
			}
			if x > 0 {
				x, y := a.Nominal.Spans[i], b.Nominal.Spans[i]
				coarse += math.Max(x.RampEnds-x.Start, y.RampEnds-y.Start) / 3600 * 1.56 / math.Abs(p.Rate.KelvinPerHour())
			}
			// A degree colder soaks longer.
			if d := math.Abs(float64(p.Hold - q.Hold)); d > float64(time.Minute)+0.06*math.Min(float64(p.Hold), float64(q.Hold)) {
				t.Errorf("segment %d: holds %s and %s", i+1, p.Hold, q.Hold)
			}
		}
		if x, y := hours(a), hours(b); math.Abs(x-y) > coarse+0.03*math.Max(x, y) {
			t.Errorf("%.3f h and %.3f h", x, y)
		}
	})
}

// TestPlan_aPieceNeverShortensIt: what is put in beside others can only make
// the program longer or leave it.
func TestPlan_aPieceNeverShortensIt(t *testing.T) {
	few(t, 40, func(t *rapid.T) {
		name := rapid.SampledFrom(families).Draw(t, "glass")
		l := &piece.Load{Into: piece.HotKiln}
		for range rapid.IntRange(1, 3).Draw(t, "pieces") {
			l.Pieces = append(l.Pieces, drawOne(t, rapid.Float64Range(8, 60).Draw(t, "mm"), name, rapid.IntRange(0, len(shapes)-1).Draw(t, "shape"), drawResting(t)))
		}
		st := exactController()
		a := mustPlan(t, l, st, hoursOnly)
		more := &piece.Load{Into: piece.HotKiln, Pieces: append(slices.Clone(l.Pieces), drawOne(t, rapid.Float64Range(8, 60).Draw(t, "mm"), name, rapid.IntRange(0, len(shapes)-1).Draw(t, "shape"), drawResting(t)))}
		b := mustPlan(t, more, st, hoursOnly)
		if hours(b) < hours(a)*0.97-roundingStep(a) {
			t.Fatalf("%.3f h, with one more piece %.3f h", hours(a), hours(b))
		}
	})
}

// TestPlan_looserLimitsNeverLengthenIt, up to a rounding step.
func TestPlan_looserLimitsNeverLengthenIt(t *testing.T) {
	few(t, 40, func(t *rapid.T) {
		l := &piece.Load{Into: rapid.SampledFrom([]piece.Into{piece.HotKiln, piece.ColdKiln}).Draw(t, "into"),
			Pieces: []piece.Piece{drawOne(t, rapid.Float64Range(10, 70).Draw(t, "mm"), rapid.SampledFrom(families).Draw(t, "glass"),
				rapid.IntRange(0, len(shapes)-1).Draw(t, "shape"), drawResting(t))}}
		tight := Options{quiet: true, Limits: kiln.Limits{Tension: unit.Stress(rapid.Float64Range(0.8, 4).Draw(t, "tension")) * unit.Megapascal,
			Residual: unit.Stress(rapid.Float64Range(0.3, 2).Draw(t, "left")) * unit.Megapascal}}
		// Away from the default, which stands for the published pairs and not for a
		// limit of the worst case.
		tight.Limits.Tension += unit.Megapascal / 1000
		tight.Limits.Residual += unit.Megapascal / 1000
		loose := tight
		loose.Limits.Tension *= unit.Stress(rapid.Float64Range(1, 3).Draw(t, "looser"))
		loose.Limits.Residual *= unit.Stress(rapid.Float64Range(1, 3).Draw(t, "looser"))
		st := exactController()
		a, b := mustPlan(t, l, st, tight), mustPlan(t, l, st, loose)
		if hours(b) > hours(a)*1.03+roundingStep(a) {
			t.Fatalf("%.3f h, with looser limits %.3f h", hours(a), hours(b))
		}
	})
}

// TestPlan_orderDoesNotMatter: the pieces of a load may be listed in any order.
func TestPlan_orderDoesNotMatter(t *testing.T) {
	few(t, 25, func(t *rapid.T) {
		name := rapid.SampledFrom(families).Draw(t, "glass")
		l := &piece.Load{Into: piece.HotKiln}
		for range rapid.IntRange(2, 4).Draw(t, "pieces") {
			l.Pieces = append(l.Pieces, drawOne(t, rapid.Float64Range(8, 60).Draw(t, "mm"), name, rapid.IntRange(0, len(shapes)-1).Draw(t, "shape"), drawResting(t)))
		}
		other := &piece.Load{Into: piece.HotKiln, Pieces: rapid.Permutation(l.Pieces).Draw(t, "order")}
		a, b := mustPlan(t, l, kiln.DefaultStudio(), hoursOnly), mustPlan(t, other, kiln.DefaultStudio(), hoursOnly)
		if !reflect.DeepEqual(a.Schedule, b.Schedule) {
			t.Fatalf("%+v\n%+v", a.Schedule, b.Schedule)
		}
	})
}

// finerMargin is how much the numbers of a program may grow when it is
// simulated with twice the cells and a tenth of the tolerance.
const finerMargin = 0.02

// TestPlan_holdsWhenVerifiedFiner: a program that is called within limits is
// within them, to 2 %, when it is simulated more finely.
func TestPlan_holdsWhenVerifiedFiner(t *testing.T) {
	few(t, 12, func(t *rapid.T) {
		l := &piece.Load{Into: rapid.SampledFrom([]piece.Into{piece.HotKiln, piece.ColdKiln}).Draw(t, "into"),
			Pieces: []piece.Piece{drawOne(t, rapid.Float64Range(10, 70).Draw(t, "mm"), rapid.SampledFrom(families).Draw(t, "glass"),
				rapid.IntRange(0, len(shapes)-1).Draw(t, "shape"), drawResting(t))}}
		rep := mustPlan(t, l, kiln.DefaultStudio(), Options{})
		if !rep.Within {
			t.Fatalf("planned over a limit")
		}
		fine, err := verify.Judge(context.Background(), rep.Schedule, l, kiln.DefaultStudio(), kiln.DefaultLimits(), sim.Settings{Cells: 48, Tolerance: 0.01, MaxChange: 2}, nil)
		if err != nil {
			t.Fatal(err)
		}
		for i, p := range fine.Pieces {
			q := rep.Pieces[i]
			if p.Tension.Use > 1+finerMargin || p.ResidualTension.Use > 1+finerMargin || p.Relaxed < rep.Limits.Relaxed-0.001 || float64(p.SoakLag) > float64(rep.Limits.Even)*(1+finerMargin) {
				t.Errorf("finer: tension %s, left %s, relaxed %.4f, lag %s; planned %s, %s, %.4f, %s", p.Peak, p.Residual, p.Relaxed, p.SoakLag, q.Peak, q.Residual, q.Relaxed, q.SoakLag)
			}
		}
	})
}

// TestPlan_keyedIn: every number of a program can be keyed in.
func TestPlan_keyedIn(t *testing.T) {
	few(t, 40, func(t *rapid.T) {
		st := kiln.DefaultStudio().In(rapid.SampledFrom([]unit.System{unit.Metric, unit.US}).Draw(t, "units"))
		c := &st.Controller
		c.Minutes = rapid.Bool().Draw(t, "minutes")
		c.Segments = rapid.IntRange(3, 8).Draw(t, "segments")
		c.Longest = time.Duration(rapid.IntRange(30, 100).Draw(t, "longest h")) * time.Hour
		l := &piece.Load{Into: rapid.SampledFrom([]piece.Into{piece.HotKiln, piece.ColdKiln, piece.WarmOnly}).Draw(t, "into"),
			Pieces: []piece.Piece{drawOne(t, rapid.Float64Range(10, 45).Draw(t, "mm"), rapid.SampledFrom(families).Draw(t, "glass"),
				rapid.IntRange(0, len(shapes)-1).Draw(t, "shape"), drawResting(t))}}
		rep, err := Plan(context.Background(), l, st, hoursOnly)
		var slow *kiln.SlowError
		if errors.As(err, &slow) {
			return // it says so instead
		}
		if err != nil {
			t.Fatal(err)
		}
		whole := func(what string, x float64) {
			if math.Abs(x-math.Round(x)) > 1e-6 {
				t.Fatalf("%s %v is no whole number: %+v", what, x, rep.Schedule)
			}
		}
		if len(rep.Schedule.Segments) > c.Segments {
			t.Fatalf("%d segments for %d", len(rep.Schedule.Segments), c.Segments)
		}
		at := rep.Schedule.From
		for _, s := range rep.Schedule.Segments {
			to, _ := s.To.In(c.Units)
			whole("temperature", to)
			whole("hold min", s.Hold.Minutes())
			if s.Hold > c.Longest {
				t.Fatalf("hold %s, longest %s", s.Hold, c.Longest)
			}
			rate, _ := s.Rate.In(c.Units)
			switch d := float64(s.To.Sub(at)); {
			case d == 0:
			case c.Minutes:
				whole("minutes", d/float64(s.Rate)/60)
			default:
				whole("rate", rate)
			}
			at = s.To
		}
	})
}

// TestPlan_ceiling: the set point never rounds above what a piece bears.
func TestPlan_ceiling(t *testing.T) {
	for _, celsius := range []float64{519.4, 519.6, 521, 523.7} {
		for _, sys := range []unit.System{unit.Metric, unit.US} {
			p := pieceOf(t, "sphere 1in", "borosilicate-33")
			p.HottestSoak = unit.Celsius(celsius)
			rep := mustPlan(t, &piece.Load{Into: piece.HotKiln, Pieces: []piece.Piece{p}}, kiln.DefaultStudio().In(sys), hoursOnly)
			for _, s := range rep.Schedule.Segments {
				if s.To.Sub(p.HottestSoak) > 1e-6 {
					t.Errorf("%g °C, %s: soaks at %s", celsius, sys, s.To)
				}
			}
			if !rep.Within || rep.Schedule.From != rep.Schedule.Segments[0].To {
				t.Errorf("%g °C: within %v, begins at %s", celsius, rep.Within, rep.Schedule.From)
			}
		}
	}
}

// TestPlan_heatingTension: a cold thick piece is heated at a rate that its
// tension allows, and that tension is inside: a sphere heated from outside is
// pulled at its center (Timoshenko and Goodier, thermal stress in a sphere).
func TestPlan_heatingTension(t *testing.T) {
	l := loadOf(t, "soda-104", "sphere 2.5in")
	l.Into = piece.ColdKiln
	rep := mustPlan(t, l, kiln.DefaultStudio(), Options{})
	first := rep.Schedule.Segments[0]
	if !rep.Within || first.Rate >= rep.Studio.Kiln.Heating || first.Rate <= 0 {
		t.Errorf("heats at %s, within %v", first.Rate, rep.Within)
	}
	p := rep.Pieces[0]
	if p.SpanUse[0] < 0.8 || p.SpanUse[0] > 1 {
		t.Errorf("heating uses %.2f of the limit", p.SpanUse[0])
	}
	heated := rep.Schedule
	heated.Segments = heated.Segments[:1]
	only, err := verify.Judge(context.Background(), heated, l, kiln.DefaultStudio(), kiln.DefaultLimits(), sim.Settings{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if p := only.Pieces[0]; !p.PeakPlace.AtInner() {
		t.Errorf("tension %s at %v while it is heated", p.Peak, p.PeakPlace)
	}
	if small := mustPlan(t, &piece.Load{Into: piece.ColdKiln, Pieces: loadOf(t, "soda-104", "sphere 10mm").Pieces}, kiln.DefaultStudio(), Options{}); small.Schedule.Segments[0].Rate <= first.Rate {
		t.Errorf("a small piece is heated at %s, a thick one at %s", small.Schedule.Segments[0].Rate, first.Rate)
	}
}

// TestPlan_warmOnly: no annealing is judged, and nothing cools.
func TestPlan_warmOnly(t *testing.T) {
	for _, name := range families {
		l := loadOf(t, name, "tube 38mm wall 4mm", "rod 20mm")
		l.Into = piece.WarmOnly
		rep := mustPlan(t, l, kiln.DefaultStudio(), Options{})
		if !rep.Within || rep.Pieces[0].ResidualJudged {
			t.Errorf("%s: within %v, left asked %v", name, rep.Within, rep.Pieces[0].ResidualJudged)
		}
		for _, s := range rep.Schedule.Segments {
			if s.Rate < 0 {
				t.Errorf("%s: cools at %s", name, s.Rate)
			}
		}
		if last := rep.Schedule.Segments[len(rep.Schedule.Segments)-1]; last.Hold < 10*time.Minute || last.To.Celsius() < 300 {
			t.Errorf("%s: ends with %s at %s", name, last.Hold, last.To)
		}
	}
}
