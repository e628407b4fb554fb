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
	Distance unit.Length    // from the opening to the far edge of the work
	Opening  quantity.Area  // of the hood

	// Slot is the length of a slot hood; zero takes the widest slot of the
	// opening's area, a fifth as wide as it is long.
	Slot unit.Length

	// CanopyPerimeter is that of an overhead hood hung at Distance; zero takes
	// the perimeter of a square of the opening's area.
	CanopyPerimeter unit.Length

	Exhaust  quantity.Flow // as measured
	Inlet    quantity.Area // for fresh air
	Room     quantity.Volume
	Ceiling  unit.Length
	Workers  int // zero counts as one
	Fuel     string
	FuelFlow quantity.GasFlow
	Session  time.Duration // for the build-up in the room; zero takes one hour
}

// AirFigure is one line of the air report.
type AirFigure struct {
	What    string // in plain words
	Formula string
	Flow    quantity.Flow // zero if the figure is not an airflow
	Number  float64       // if it is not an airflow, in Unit
	Unit    string        // "ppm", "kW", "K", "m/s", "1/h", "L/min"
	Note    string
	Status  source.Status
	Sources []source.Source
}

// AirReport is the air figures of one studio.
type AirReport struct {
	Capture quantity.Speed
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
	if q.Workers == 0 {
		q.Workers = 1
	}
	if q.Session == 0 {
		q.Session = time.Hour
	}
	r := AirReport{Capture: q.Capture, Defer: []source.Deferral{source.ToAir, source.ToMaker}, Assumed: []string{
		"the hood formulas hold for quiet air and can err widely; drafts from doors, people and fans make them worse",
	}}
	for _, part := range []func(AirQuestion, *AirReport) error{hoodFigures, roomFigures, torchFigures} {
		if err := part(q, &r); err != nil {
			return AirReport{}, err
		}
	}
	return r, nil
}

func hoodFigures(q AirQuestion, r *AirReport) error {
	if q.Distance == 0 || q.Opening == 0 {
		r.LeftOut = append(r.LeftOut, "airflow of a hood needs hood_distance and hood_size")
		return nil
	}
	add := func(what, formula string, st source.Status, note string, flow quantity.Flow, err error) error {
		if err == nil {
			r.Hoods = append(r.Hoods, AirFigure{What: what, Formula: formula, Flow: flow, Status: st, Note: note, Sources: source.Of("acgih-iv")})
		}
		return err
	}
	r.Assumed = append(r.Assumed, "hoods of one opening area at one distance; the canopy is square and hangs that far above the work")
	note := ""
	if float64(q.Distance) > 1.5*math.Sqrt(float64(q.Opening)) {
		note = "farther than 1.5 times the opening's width, where the formula fails"
	}
	flow, err := BoothFlow(q.Capture, q.Opening)
	if err := add("booth, this face", "Q = V A", source.Corroborated, "the work stands inside it", flow, err); err != nil {
		return err
	}
	flow, err = FlangedFlow(q.Capture, q.Distance, q.Opening)
	if err := add("flanged opening", "Q = 0.75 V (10 X² + A)", source.Corroborated, note, flow, err); err != nil {
		return err
	}
	flow, err = DallaValleFlow(q.Capture, q.Distance, q.Opening)
	if err := add("plain opening", "Q = V (10 X² + A)", source.Corroborated, note, flow, err); err != nil {
		return err
	}
	if q.Slot == 0 {
		q.Slot = unit.Length(math.Sqrt(5 * float64(q.Opening)))
	}
	flow, err = SlotFlow(q.Capture, q.Distance, q.Slot)
	if err := add("slot, no wider than a fifth of its length", "Q = 3.7 L V X", source.Verified, "coefficient read in one text only", flow, err); err != nil {
		return err
	}
	perimeter := q.CanopyPerimeter
	if perimeter == 0 {
		perimeter = unit.Length(4 * math.Sqrt(float64(q.Opening)))
	}
	flow, err = CanopyFlow(q.Capture, q.Distance, perimeter)
	if err := add("overhead canopy", "Q = 1.4 P H V", source.Corroborated, "takes heat, but does little for the air you breathe", flow, err); err != nil {
		return err
	}
	if table, err := WeldingHoodFlow(q.Distance); err == nil {
		r.Hoods = append(r.Hoods, AirFigure{What: "welding table, flanged opening 3 in (76 mm) wide", Flow: table, Status: source.Corroborated,
			Note: "US rule for metal, read across; air at 100 ft/min (0.5 m/s)", Sources: source.Of("osha-252")})
	}
	return nil
}

func roomFigures(q AirQuestion, r *AirReport) error {
	if q.Room > 0 && q.Ceiling > 0 {
		need, flow, err := NeedsMechanical(q.Room, q.Ceiling, q.Workers)
		if err != nil {
			return err
		}
		if need {
			r.Room = append(r.Room, AirFigure{What: "welding rules, no hood: fresh air for the room", Flow: flow, Status: source.Verified,
				Note: "US rule for metal, read across", Sources: source.Of("osha-252")})
		}
	} else {
		r.LeftOut = append(r.LeftOut, "what the welding rules ask of the room needs room and ceiling")
	}
	if q.Exhaust == 0 {
		r.LeftOut = append(r.LeftOut, "make-up air and air changes need exhaust")
		return nil
	}
	r.Room = append(r.Room, AirFigure{What: "make-up air that must come in", Flow: q.Exhaust, Status: source.Derived, Note: "as much as the exhaust takes out"})
	if q.Inlet > 0 {
		v, err := OpeningVelocity(q.Exhaust, q.Inlet)
		if err != nil {
			return err
		}
		r.Room = append(r.Room, AirFigure{What: "air velocity through the inlet", Formula: "V = Q / A", Number: float64(v), Unit: "m/s", Status: source.Derived})
	} else {
		r.LeftOut = append(r.LeftOut, "air velocity through the inlet needs inlet")
	}
	if q.Room > 0 {
		ach, err := AirChanges(q.Exhaust, q.Room)
		if err != nil {
			return err
		}
		r.Room = append(r.Room, AirFigure{What: "air changes", Formula: "Q / V", Number: ach, Unit: "1/h", Status: source.Verified})
	}
	return nil
}

func torchFigures(q AirQuestion, r *AirReport) error {
	if q.FuelFlow == 0 || q.Fuel == "" {
		r.LeftOut = append(r.LeftOut, "gases and heat of the torch need fuel and fuel_flow")
		return nil
	}
	gas, ok := Fuel(q.Fuel)
	if !ok {
		r.LeftOut = append(r.LeftOut, "gases and heat of the torch are computed for propane and natural gas only")
		return nil
	}
	co2, err := CarbonDioxide(gas, q.FuelFlow)
	if err != nil {
		return err
	}
	o2, err := OxygenUse(gas, q.FuelFlow)
	if err != nil {
		return err
	}
	floor, err := CarbonDioxideFloor(gas, q.FuelFlow, 1)
	if err != nil {
		return err
	}
	balance := Burn(gas)
	water := balance.H2O * q.FuelFlow.KilogramsPerHour()
	r.Torch = append(r.Torch,
		AirFigure{What: "carbon dioxide made", Flow: co2, Status: source.Derived, Sources: nil},
		AirFigure{What: "oxygen burned", Flow: o2, Status: source.Derived, Note: "by the torch's own supply first, the rest from the room"},
		AirFigure{What: "water made", Number: water, Unit: "kg/h", Status: source.Derived},
		AirFigure{What: "fresh air below which CO2 alone passes 5000 ppm", Formula: "Q = G / (5000 − 420) ppm", Flow: floor, Status: source.Verified,
			Note: "a floor, not a size: CO and nitrogen dioxide come first", Sources: source.Of("osha-1000")})
	r.Assumed = append(r.Assumed, "complete combustion, gases at 25 °C, well-mixed room air; carbon monoxide and nitrogen dioxide must be measured")
	if q.Fuel == "natural gas" {
		r.Assumed = append(r.Assumed, "natural gas counts as pure methane")
	}
	if q.Room > 0 {
		rise, err := BuildUp(co2, q.Exhaust, q.Room, q.Session, 1)
		if err != nil {
			return err
		}
		note := "with the exhaust running"
		if q.Exhaust == 0 {
			note = "in a closed room"
		}
		r.Torch = append(r.Torch, AirFigure{What: "rise of carbon dioxide in the room after " + quantity.RoughTime(q.Session),
			Formula: "(G/Q)(1 − e^(−Qt/V))", Number: rise * 1e6, Unit: "ppm", Note: note, Status: source.Verified})
	}
	heat, err := TorchHeat(gas, q.FuelFlow)
	if err != nil {
		r.LeftOut = append(r.LeftOut, "heat of the torch is computed for propane only")
		return nil
	}
	r.Torch = append(r.Torch, AirFigure{What: "heat of the fuel", Number: heat.Watts() / 1000, Unit: "kW", Status: source.Verified, Sources: source.Of("csa-b149")})
	if q.Exhaust > 0 {
		rise, err := AirRise(heat, q.Exhaust)
		if err != nil {
			return err
		}
		r.Torch = append(r.Torch, AirFigure{What: "warming of the exhaust air", Number: rise, Unit: "K", Status: source.Derived, Note: "if it takes all the heat"})
	}
	return nil
}
