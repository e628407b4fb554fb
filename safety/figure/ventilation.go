package figure

import (
	"math"
	"time"

	"lehr/glass/unit"
	"lehr/safety/quantity"
	"lehr/safety/source"
)

// AirQuestion is what the air figures are computed from. Zero fields are not
// known, and the figures that need them are left out or use the value named.
type AirQuestion struct {
	Capture  quantity.Speed // wanted at the far edge of the work; zero takes [BenchVelocity]
	Measured quantity.Speed // air velocity there, as measured
	Vent     string         // kind of hood: "plain", "flanged", "slot", "booth", "canopy", or what stands in for one: "none", "windows", "fan"
	Distance unit.Length    // from the opening to the far edge of the work
	Opening  quantity.Area  // of the hood

	// Slot is the length of a slot hood; zero takes the widest slot of the
	// opening's area, a fifth as wide as it is long.
	Slot unit.Length

	// CanopyPerimeter is that of an overhead hood hung at Distance; zero takes
	// the perimeter of a square of the opening's area.
	CanopyPerimeter unit.Length

	Exhaust    quantity.Flow // as measured
	Inlet      quantity.Area // for fresh air
	Room       quantity.Volume
	Ceiling    unit.Length
	Workers    int // zero counts as one
	Fuel       string
	FuelFlow   quantity.GasFlow // of one torch; each worker has one
	OxygenFlow quantity.Flow    // what a concentrator gives, or what leaks
	Session    time.Duration    // for the build-up in the room; zero takes one hour
}

// Amount is an airflow, or another number with its unit.
type Amount struct {
	Flow   quantity.Flow // zero if it is not an airflow
	Number float64       // if it is not an airflow, in Unit
	Unit   string        // "ppm", "kW", "K", "m/s", "1/h", "kg/h", "kg", "h", "%"
}

// AirFigure is one line of the air report.
type AirFigure struct {
	What    string // in plain words
	Formula string
	Amount
	Note    string
	Status  source.Status
	Sources []source.Source
}

// Passed is a limit that what was stated does not keep.
type Passed struct {
	Kind        string // "hood", "room", "co2 floor", "co2", "capture", "oxygen"
	What        string // in plain words
	Have, Limit Amount
}

// AirReport is the air figures of one studio.
type AirReport struct {
	Capture quantity.Speed
	Passed  []Passed    // limits not kept by what was stated
	Hoods   []AirFigure // airflow by kind of hood, least first; the canopy last
	Room    []AirFigure // make-up air, air changes, what the welding rules ask
	Torch   []AirFigure // gases and heat of the torch
	LeftOut []string    // what could not be computed, and the fact it needs
	Assumed []string
	Defer   []source.Deferral
}

// Ventilation returns the air figures that the question allows. All are
// estimates; the flows for hoods are known to err widely.
//
// Errors: *[InputError] for a quantity that cannot be.
func Ventilation(q AirQuestion) (AirReport, error) {
	if q.Capture == 0 {
		q.Capture = BenchVelocity
	}
	q.Workers = max(q.Workers, 1)
	if q.Session == 0 {
		q.Session = time.Hour
	}
	r := AirReport{Capture: q.Capture, Defer: []source.Deferral{source.ToAir, source.ToMaker}, Assumed: []string{
		"the hood formulas hold for quiet air and can err widely; drafts from doors, people and fans make them worse",
	}}
	// What was asked for may be more than the rules ask, never less.
	if limit := max(q.Capture, BenchVelocity); q.Measured > 0 && q.Measured < limit*0.98 { // 0.5 m/s is 98 ft/min
		r.passed("capture", "air velocity at the far edge of the work", speed(q.Measured), speed(limit))
	}
	for _, part := range []func(AirQuestion, *AirReport) error{hoodFigures, roomFigures, torchFigures, oxygenFigures} {
		if err := part(q, &r); err != nil {
			return AirReport{}, err
		}
	}
	return r, nil
}

func speed(v quantity.Speed) Amount { return Amount{Number: float64(v), Unit: "m/s"} }
func air(q quantity.Flow) Amount    { return Amount{Flow: q} }

func (r *AirReport) passed(kind, what string, have, limit Amount) {
	r.Passed = append(r.Passed, Passed{kind, what, have, limit})
}

func (r *AirReport) leaveOut(what string) error {
	r.LeftOut = append(r.LeftOut, what)
	return nil
}

// hoodFigures compares the kinds of hoods, and the studio's own with what the
// exhaust moves.
func hoodFigures(q AirQuestion, r *AirReport) error {
	if q.Distance == 0 || q.Opening == 0 {
		return r.leaveOut("airflow of a hood needs hood_distance and hood_size")
	}
	r.Assumed = append(r.Assumed, "hoods of one opening area at one distance; the canopy is square and hangs that far above the work")
	far := ""
	if float64(q.Distance) > 1.5*math.Sqrt(float64(q.Opening)) {
		far = "farther than 1.5 times the opening's width, where the formula fails"
	}
	if q.Slot == 0 {
		q.Slot = unit.Length(math.Sqrt(5 * float64(q.Opening)))
	}
	if q.CanopyPerimeter == 0 {
		q.CanopyPerimeter = unit.Length(4 * math.Sqrt(float64(q.Opening)))
	}
	for _, h := range []struct {
		vent, what, formula, note string
		status                    source.Status
		flow                      func() (quantity.Flow, error)
	}{
		{"booth", "booth, this face", "Q = V A", "the work stands inside it", source.Corroborated,
			func() (quantity.Flow, error) { return boothFlow(q.Capture, q.Opening) }},
		{"flanged", "flanged opening", "Q = 0.75 V (10 X² + A)", far, source.Corroborated,
			func() (quantity.Flow, error) { return flangedFlow(q.Capture, q.Distance, q.Opening) }},
		{"plain", "plain opening", "Q = V (10 X² + A)", far, source.Corroborated,
			func() (quantity.Flow, error) { return dallaValleFlow(q.Capture, q.Distance, q.Opening) }},
		{"slot", "slot, no wider than a fifth of its length", "Q = 3.7 L V X", "coefficient read in one text only", source.Quoted,
			func() (quantity.Flow, error) { return slotFlow(q.Capture, q.Distance, q.Slot) }},
		{"canopy", "overhead canopy", "Q = 1.4 P H V", "takes heat, but does little for the air you breathe", source.Corroborated,
			func() (quantity.Flow, error) { return canopyFlow(q.Capture, q.Distance, q.CanopyPerimeter) }},
	} {
		flow, err := h.flow()
		if err != nil {
			return err
		}
		r.Hoods = append(r.Hoods, AirFigure{h.what, h.formula, air(flow), h.note, h.status, source.Of("acgih-iv")})
		if h.vent == q.Vent && q.Exhaust > 0 && q.Exhaust < flow {
			r.passed("hood", "exhaust, for a "+q.Vent+" hood at this distance", air(q.Exhaust), air(flow))
		}
	}
	if table, err := weldingHoodFlow(q.Distance); err == nil {
		r.Hoods = append(r.Hoods, AirFigure{What: "welding table, flanged opening 3 in (76 mm) wide", Amount: air(table), Status: source.Corroborated,
			Note: "US rule for metal, read across; air at 100 ft/min (0.5 m/s)", Sources: source.Of("osha-252")})
	}
	return nil
}

// IsHood reports whether a kind of vent draws from the flame itself; the
// second is false if the kind is not known.
func IsHood(vent string) (is, known bool) {
	switch vent {
	case "plain", "flanged", "slot", "booth":
		return true, true
	case "none", "windows", "fan", "canopy":
		return false, true
	}
	return false, false
}

func roomFigures(q AirQuestion, r *AirReport) error {
	if q.Room > 0 && q.Ceiling > 0 {
		need, flow, err := needsMechanical(q.Room, q.Ceiling, q.Workers)
		if err != nil {
			return err
		}
		if need {
			r.Room = append(r.Room, AirFigure{What: "welding rules, no hood: fresh air for the room", Amount: air(flow), Status: source.Verified,
				Note: "US rule for metal, read across", Sources: source.Of("osha-252")})
			if hood, known := IsHood(q.Vent); known && !hood && q.Exhaust > 0 && q.Exhaust < flow {
				r.passed("room", "exhaust of a room without a hood at the flame", air(q.Exhaust), air(flow))
			}
		}
	} else {
		r.leaveOut("what the welding rules ask of the room needs room and ceiling")
	}
	if q.Exhaust == 0 {
		return r.leaveOut("make-up air and air changes need exhaust")
	}
	r.Room = append(r.Room, AirFigure{What: "make-up air that must come in", Amount: air(q.Exhaust), Status: source.Derived, Note: "as much as the exhaust takes out"})
	if q.Inlet > 0 {
		v, err := openingVelocity(q.Exhaust, q.Inlet)
		if err != nil {
			return err
		}
		r.Room = append(r.Room, AirFigure{What: "air velocity through the inlet", Formula: "V = Q / A", Amount: speed(v), Status: source.Derived})
	} else {
		r.leaveOut("air velocity through the inlet needs inlet")
	}
	if q.Room > 0 {
		ach, err := airChanges(q.Exhaust, q.Room)
		if err != nil {
			return err
		}
		r.Room = append(r.Room, AirFigure{What: "air changes", Formula: "Q / V", Amount: Amount{Number: ach, Unit: "1/h"}, Status: source.Derived})
	}
	return nil
}

func torchFigures(q AirQuestion, r *AirReport) error {
	if q.FuelFlow == 0 || q.Fuel == "" {
		return r.leaveOut("gases and heat of the torch need fuel and fuel_flow")
	}
	gas, ok := fuelOf(q.Fuel)
	if !ok {
		return r.leaveOut("gases and heat of the torch are computed for propane and natural gas only")
	}
	fuel := q.FuelFlow * quantity.GasFlow(q.Workers)
	co2, err := carbonDioxide(gas, fuel)
	if err != nil {
		return err
	}
	floor, err := dilutionFlow(co2, co2Limit-co2Outdoor, 1)
	if err != nil {
		return err
	}
	o2, err := oxygenUse(gas, fuel)
	if err != nil {
		return err
	}
	r.Torch = append(r.Torch,
		AirFigure{What: "carbon dioxide made", Amount: air(co2), Status: source.Derived},
		AirFigure{What: "oxygen burned", Amount: air(o2), Status: source.Derived, Note: "by the torch's own supply first, the rest from the room"},
		AirFigure{What: "water made", Amount: Amount{Number: burn(gas).H2O * fuel.KilogramsPerHour(), Unit: "kg/h"}, Status: source.Derived},
		AirFigure{What: "fresh air below which CO2 alone passes 5000 ppm", Formula: "Q = G / (5000 − 420) ppm", Amount: air(floor), Status: source.Verified,
			Note: "a floor, not a size: CO and nitrogen dioxide come first", Sources: source.Of("osha-1000")})
	r.Assumed = append(r.Assumed, "complete combustion, gases at 25 °C, well-mixed room air; carbon monoxide and nitrogen dioxide must be measured")
	if q.Workers > 1 {
		r.Assumed = append(r.Assumed, "every worker's torch burns as much as the one stated")
	}
	if q.Fuel == "natural gas" {
		r.Assumed = append(r.Assumed, "natural gas counts as pure methane")
	}
	if q.Exhaust > 0 && q.Exhaust < floor {
		r.passed("co2 floor", "exhaust, for carbon dioxide alone", air(q.Exhaust), air(floor))
	}
	if err := roomGases(q, r, gas, co2); err != nil {
		return err
	}
	return heatFigures(q, r, gas, fuel)
}

// roomGases is what the torch's carbon dioxide, and a leak of its fuel, do to
// the room.
func roomGases(q AirQuestion, r *AirReport, gas fuelGas, co2 quantity.Flow) error {
	if q.Room == 0 {
		return nil
	}
	rise, err := buildUp(co2, q.Exhaust, q.Room, q.Session, 1)
	if err != nil {
		return err
	}
	note := "with the exhaust running"
	if q.Exhaust == 0 {
		note = "in a closed room"
	}
	r.Torch = append(r.Torch, AirFigure{What: "rise of carbon dioxide in the room after " + quantity.RoughTime(q.Session),
		Formula: "(G/Q)(1 − e^(−Qt/V))", Amount: Amount{Number: rise * 1e6, Unit: "ppm"}, Note: note, Status: source.Derived})
	if rise+co2Outdoor > co2Limit {
		r.passed("co2", "carbon dioxide in the room after "+quantity.RoughTime(q.Session)+", "+note,
			Amount{Number: (rise + co2Outdoor) * 1e6, Unit: "ppm"}, Amount{Number: co2Limit * 1e6, Unit: "ppm"})
	}
	if gas.lower == 0 {
		return nil
	}
	kg, _, err := explosiveMass(gas, q.Room, gas.lower)
	if err != nil {
		return err
	}
	r.Torch = append(r.Torch, AirFigure{What: "leaked " + gas.Name + " that lets the whole room burn", Formula: "−V ln(1 − L) M/V_m",
		Amount: Amount{Number: kg, Unit: "kg"}, Note: "it gathers low, where far less will do", Status: source.Corroborated, Sources: source.Of("gas-data")})
	return nil
}

func heatFigures(q AirQuestion, r *AirReport, gas fuelGas, fuel quantity.GasFlow) error {
	if gas.Heat == 0 {
		return r.leaveOut("heat of the torch is computed for propane only")
	}
	heat, err := torchHeat(gas, fuel)
	if err != nil {
		return err
	}
	r.Torch = append(r.Torch, AirFigure{What: "heat of the fuel", Amount: Amount{Number: heat.Watts() / 1000, Unit: "kW"}, Status: source.Verified, Sources: source.Of("csa-b149")})
	if q.Exhaust == 0 {
		return nil
	}
	rise, err := airRise(heat, q.Exhaust)
	if err != nil {
		return err
	}
	r.Torch = append(r.Torch, AirFigure{What: "warming of the exhaust air", Amount: Amount{Number: rise, Unit: "K"}, Status: source.Derived, Note: "if it takes all the heat"})
	return nil
}

// oxygenFigures is what oxygen that does not burn does to a closed room.
func oxygenFigures(q AirQuestion, r *AirReport) error {
	if q.OxygenFlow == 0 || q.Room == 0 {
		return nil
	}
	t, _, err := enrichmentTime(q.Room, q.OxygenFlow)
	if err != nil {
		return err
	}
	r.Room = append(r.Room, AirFigure{What: "oxygen with the torch out: closed room at 23.5 %", Formula: "V ln((1 − 0.209)/(1 − 0.235)) / g",
		Amount: Amount{Number: t.Hours(), Unit: "h"}, Note: "near the outlet at once", Status: source.Corroborated, Sources: source.Of("osha-146", "indg459")})
	if q.Exhaust == 0 {
		return nil
	}
	share, err := oxygenShare(q.Exhaust, q.OxygenFlow)
	if err != nil {
		return err
	}
	have := Amount{Number: share * 100, Unit: "%"}
	r.Room = append(r.Room, AirFigure{What: "oxygen it keeps up with the exhaust running", Formula: "(0.209 Q + g)/(Q + g)", Amount: have, Status: source.Derived})
	if share > oxygenLimit {
		r.passed("oxygen", "oxygen in the room with the torch out", have, Amount{Number: oxygenLimit * 100, Unit: "%"})
	}
	return nil
}
