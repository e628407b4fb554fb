package figure

import (
	"math"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"lehr/glass/unit"
	"lehr/safety/quantity"
	"lehr/safety/source"
)

// Breakers: 1.25 times the current at least, 1.5 times or the plate's size at
// most, the next standard size up allowed.
func TestCircuit(t *testing.T) {
	for _, c := range []struct {
		rated, breaker, plate quantity.Current
		most                  quantity.Current
		fit                   Fit
	}{
		{24, 25, 0, 40, TooSmall}, {24, 30, 0, 40, Fits}, {24, 40, 0, 40, Fits}, {24, 45, 0, 40, TooBig}, {24, 100, 0, 40, TooBig},
		{24, 0, 0, 40, NotKnown}, {24, 0, 30, 30, NotKnown},
		{24, 40, 30, 30, TooBig}, {24, 50, 60, 60, Fits}, {24, 70, 60, 60, TooBig}, {24, 25, 25, 25, NoneFits}, {24, 0, 25, 25, NoneFits}, {24, 30, 25, 25, NoneFits}, {17, 22, 22, 22, Fits}, {17, 25, 22, 22, NoneFits}, {24, 30.001, 30, 30, TooBig},
		{20, 30, 0, 30, Fits}, {20, 35, 0, 30, TooBig}, // 1.5 times is a standard size itself
		{160, 200, 0, 250, Fits}, {160, 250, 0, 250, Fits}, {160, 300, 0, 250, TooBig}, {0.5, 15, 0, 20, Fits}, {0.5, 20, 20, 20, Fits},
		// a small kiln whose plate names no breaker; 13.34 A × 1.5 = 20.01 A, and 16 A × 1.25 = 20 A
		{8, 20, 0, 20, Fits}, {10, 20, 0, 20, Fits}, {10, 25, 0, 20, TooBig}, {13.3, 20, 0, 20, Fits}, {13.34, 25, 0, 25, Fits}, {13.34, 30, 0, 25, TooBig}, {8, 20, 15, 15, TooBig}, {13.3, 15, 0, 20, TooSmall},
	} {
		r := must[CircuitReport](t)(Circuit(c.rated, c.breaker, c.plate))
		if r.Fit != c.fit || r.Most != c.most || r.Plate != (c.plate > 0) || r.Small != (c.rated <= 13.3 && c.plate == 0) || (r.Status == source.Memory) != r.Small {
			t.Errorf("%+v: %+v", c, r)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		rated := quantity.Current(rapid.Float64Range(0.01, 160).Draw(t, "rated"))
		breaker := quantity.Current(rapid.Float64Range(0.01, 5000).Draw(t, "breaker"))
		r, err := Circuit(rated, breaker, 0)
		if err != nil || r.Fit == Fits && (breaker < 1.25*rated-1e-6 || breaker > 20 && breaker > 2*rated) || r.Next < r.Least-1e-6 {
			t.Fatalf("%+v, %v", r, err)
		}
	})
	for _, bad := range [][3]quantity.Current{{24, 30, 73}, {24, -1, 0}, {24, 30, -1}, {0, 30, 0}, {161, 200, 0}} {
		if _, err := Circuit(bad[0], bad[1], bad[2]); err == nil {
			t.Errorf("%v was taken", bad)
		}
	}
}

// The bound is that of a black body: a small piece that a gray one of 0.9 would
// let pass does not.
func TestEye_blackBody(t *testing.T) {
	r := must[EyeReport](t)(Eye(unit.Celsius(990), 25*unit.Millimeter, 300*unit.Millimeter, Lens{}))
	if math.Abs(r.Irradiance-110.5) > 0.1 || !r.Over || !r.PassesLimit() {
		t.Errorf("25 mm at 990 °C, 300 mm away: %+v", r)
	}
}

// A lens whose figure ends at 2000 nm stops nothing beyond: of a kiln at 560 °C
// that is 84 % of the band.
func TestEye_lensEnds(t *testing.T) {
	look := func(l Lens) EyeReport {
		return must[EyeReport](t)(EyeAtKiln(unit.Celsius(560), 0.04, 500*unit.Millimeter, l))
	}
	whole, norm, none := look(Lens{0.01, 3000e-9}), look(Lens{0.01, 0}), look(Lens{})
	if math.Abs(none.BeyondNorm-0.84) > 0.005 {
		t.Errorf("%.3f of the band lie beyond 2000 nm", none.BeyondNorm)
	}
	if whole.PassesLimit() || math.Abs(whole.Behind-0.01*none.Irradiance) > 1e-9 {
		t.Errorf("a lens of 1 %% up to 3000 nm: %+v", whole)
	}
	if want := none.Irradiance * (0.01*(1-none.BeyondNorm) + none.BeyondNorm); !norm.PassesLimit() || math.Abs(norm.Behind-want) > 1e-9 {
		t.Errorf("a lens of 1 %% up to 2000 nm: %g, want %g", norm.Behind, want)
	}
	if short := look(Lens{0.01, 1400e-9}); short.Behind <= norm.Behind {
		t.Errorf("a figure that ends at 1400 nm: %g", short.Behind)
	}
}

// What was stated and does not keep a limit is named; what does, is not.
func TestVentilation_passed(t *testing.T) {
	room := AirQuestion{Room: 76, Ceiling: 2.7, Fuel: "propane", FuelFlow: quantity.KilogramsPerHour(0.2)}
	with := func(change func(*AirQuestion)) AirQuestion {
		q := room
		change(&q)
		return q
	}
	for _, c := range []struct {
		name string
		q    AirQuestion
		want string
	}{
		{"enough", with(func(q *AirQuestion) { q.Exhaust = quantity.CFM(2500); q.Vent = "fan" }), ""},
		{"below the CO2 floor of 72.6 m³/h", with(func(q *AirQuestion) { q.Exhaust = 70. / 3600 }), "co2 floor"},
		{"above it", with(func(q *AirQuestion) { q.Exhaust = 75. / 3600 }), ""},
		{"two torches", with(func(q *AirQuestion) { q.Exhaust = 75. / 3600; q.Workers = 2 }), "co2 floor co2"},
		{"closed room, one hour", room, ""},
		{"closed room, two hours", with(func(q *AirQuestion) { q.Session = 2 * time.Hour }), "co2"},
		{"measured velocity", AirQuestion{Measured: 0.4}, "capture"},
		{"measured velocity, 0.5 m/s", AirQuestion{Measured: 0.5}, ""},
		{"less was wished", AirQuestion{Measured: 0.3, Capture: 0.25}, "capture"},
		{"more was wished", AirQuestion{Measured: 0.6, Capture: 0.75}, "capture"},
		{"own hood", AirQuestion{Vent: "flanged", Distance: 0.25, Opening: 0.06, Exhaust: quantity.CFM(500)}, "hood"},
		{"own hood, enough", AirQuestion{Vent: "flanged", Distance: 0.25, Opening: 0.06, Exhaust: quantity.CFM(600)}, ""},
		{"oxygen", AirQuestion{Room: 30, Exhaust: 100. / 3600, OxygenFlow: 4. / 3600}, "oxygen"},
		{"less oxygen", AirQuestion{Room: 30, Exhaust: 100. / 3600, OxygenFlow: 3. / 3600}, ""},
		{"windows", with(func(q *AirQuestion) { q.Vent = "windows"; q.Exhaust = quantity.CFM(500) }), "room"},
	} {
		r := must[AirReport](t)(Ventilation(c.q))
		var kinds []string
		for _, p := range r.Passed {
			kinds = append(kinds, p.Kind)
		}
		if got := strings.Join(kinds, " "); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
	r := must[AirReport](t)(Ventilation(AirQuestion{Room: 30, OxygenFlow: 5. / 60000}))
	if len(r.Room) != 1 || math.Abs(r.Room[0].Number-200./60) > 0.05 {
		t.Errorf("5 L/min into 30 m³: %+v", r.Room)
	}
}

func TestVentilation(t *testing.T) {
	r := must[AirReport](t)(Ventilation(AirQuestion{Distance: 10 * unit.Inch, Opening: 0.06, Room: 76, Ceiling: 2.7, Exhaust: 850. / 3600, Inlet: 0.1, Fuel: "propane", FuelFlow: quantity.KilogramsPerHour(0.5)}))
	if len(r.LeftOut) != 0 || len(r.Hoods) != 6 || len(r.Room) != 4 || len(r.Torch) != 8 {
		t.Errorf("%d hoods, %d room, %d torch, left out %q", len(r.Hoods), len(r.Room), len(r.Torch), r.LeftOut)
	}
	for _, f := range append(append(r.Hoods, r.Room...), r.Torch...) {
		if f.Status == source.Memory || f.Status == "" || f.What == "" || f.Flow == 0 && f.Number == 0 {
			t.Errorf("%+v", f)
		}
		if forbidden.MatchString(f.What + " " + f.Note) {
			t.Errorf("%q", f.Note)
		}
	}
	empty := must[AirReport](t)(Ventilation(AirQuestion{}))
	if len(empty.LeftOut) != 4 {
		t.Errorf("left out: %q", empty.LeftOut)
	}
	if _, err := Ventilation(AirQuestion{Distance: -1, Opening: 0.06}); err == nil {
		t.Error("a distance below zero was taken")
	}
}
