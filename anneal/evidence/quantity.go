package evidence

import "path"

// Quantity is what an answer is about.
type Quantity struct {
	Name string
	Unit string // "%" of the greatest number of its list, "K", or "decades" of viscosity
	// Bounds says that answers are at least what is expected, not equal to it.
	Bounds bool
}

// rules say which quantity an answer belongs to, by the func and the key of its
// number, the first that fits; a func without a package's name fits nothing.
var rules = []struct{ function, key, quantity string }{
	{"step.*", "*", "temperature after a step, simulated"},
	{"bound.*", "tension_*", "tension, by the bounds of a search"},
	{"bound.*", "left_*", "stress left, by the bounds of a search"},
	{"uneven.Bound", "peak_*", "tension, by the bounds of a search"},
	{"uneven.Bound", "left_*", "stress left, by the bounds of a search"},

	{"axial.*", "tension_*", "tension of bodies of revolution"},
	{"axial.*", "left_*", "stress left in bodies of revolution"},
	{"axial.*", "lag_*", "lag, simulated"},
	{"plane.*", "*", "stress in the plane of a flat piece"},
	{"sim.Scipy", "*_K", "temperature, simulated"},
	{"sim.Scipy", "peak_*", "tension, simulated"},
	{"sim.Scipy", "*", "stress left, simulated"},
	{"sim.Rays", "*", "heat by radiation inside"},
	{"sim.Door", "*", "tension of an open door or a power failure"},
	{"sim.Outage", "tension_*", "tension of an open door or a power failure"},
	{"sim.Cooling", "tension_*", "tension, simulated"},
	{"sim.Cooling", "left_*", "stress left, simulated"},
	{"sim.Cooling", "*", "lag, simulated"},
	{"sim.Outage", "*", "stress left, simulated"},
	{"uneven.*", "peak_*", "tension, simulated"},
	{"uneven.*", "left_*", "stress left, simulated"},
	{"uneven.*", "*", "lag, simulated"},
	{"rescue.LetFall", "surface_*", "tension of an open door or a power failure"},
	{"rescue.SoakAgain", "*", "tension of an open door or a power failure"},
	{"rescue.*", "left_*", "stress left, simulated"},
	{"rescue.*", "*", "what to do after a power failure"},
	{"sim.FictiveShift", "*", "structural relaxation"},
	{"sim.Quenched*", "*", "stress of quenching"},
	{"sim.Endurance", "*", "stress of quenching"},
	{"sim.Share*", "*", "structural relaxation"},
	{"sim.Birefringence", "*", "stress left, simulated"},
	{"sim.LogRate", "*", "structural relaxation"},
	{"sim.Spectrum", "*", "structural relaxation"},
	{"pace.*", "*", "structural relaxation"},
	{"sim.Tempered", "*", "stress of quenching"},
	{"sim.Run", "share_*", "structural relaxation"},
	{"sim.Run", "struct_*", "structural relaxation"},
	{"sim.Run", "Tf_*", "structural relaxation, temperature"},
	{"sim.Run", "*", "stress left, simulated"},
	{"sim.SodaLime", "*", "the published set of soda-lime glass"},

	{"anneal.*Lag*", "*", "lag, closed forms"},
	{"anneal.*Step", "*", "lag, closed forms"},
	{"anneal.*StartUp", "*", "lag, closed forms"},
	{"anneal.SlowestModes", "*", "lag, closed forms"},
	{"anneal.*Retardation*", "*", "retardation"},
	{"anneal.RetardationStress", "*", "retardation"},
	{"anneal.*Temper*", "*", "retardation"},
	{"anneal.*Soak", "*", "soak"},
	{"anneal.Maxwell*", "*", "soak"},
	{"anneal.AdamsWilliamsonRelease", "*", "soak"},
	{"anneal.SoakChart", "*", "soak of published charts"},
	{"anneal.Row*", "*", "totals and rates of published charts"},
	{"anneal.StagesTotal", "*", "totals and rates of published charts"},
	{"anneal.OneFaceRow", "*", "totals and rates of published charts"},
	{"anneal.CommercialCycle", "*", "totals and rates of published charts"},
	{"anneal.ClosedForm", "*", "totals and rates of published charts"},
	{"anneal.*", "*", "stress, closed forms"},

	{"glass.FixedPoints", "*", "viscosity, temperature"},
	{"glass.Isokom*", "*", "viscosity, temperature"},
	{"glass.Line", "t_*", "viscosity, temperature"},
	{"glass.Line", "*", "slope of viscosity"},
	{"glass.ThroughThree", "T0_C", "viscosity, temperature"},
	{"glass.Coefficients", "T0_C", "viscosity, temperature"},
	{"glass.Coefficients", "*", "slope of viscosity"},
	{"glass.ThroughThree", "*", "slope of viscosity"},
	{"glass.Slope", "*", "slope of viscosity"},
	{"glass.Viscosity", "*", "viscosity"},
	{"glass.S*", "*", "specific heat and conductivity"},
	{"glass.Conductivity", "*", "specific heat and conductivity"},
	{"glass.Liquid*", "*", "expansion of the liquid"},
	{"glass.Stretch*", "*", "structural relaxation"},
	{"glass.Structure*", "*", "structural relaxation"},
	{"glass.*", "*", "properties of standards"},

	{"polariscope.Color", "*", "colors in polarized light"},
	{"polariscope.Tint", "*", "colors in polarized light"},
	{"polariscope.Brightness", "*", "colors in polarized light"},
	{"polariscope.*", "*", "retardation"},
	{"seal.SetPoint", "*", "temperature at which a seal sets"},
	{"seal.SettingTemperature", "*", "temperature at which a seal sets"},
	{"seal.Set", "*", "temperature at which a seal sets"},
	{"seal.*", "*", "stress of seals and stones"},
	{"spread.Beam", "*", "reserve of cast beams, by the bounds of limits"},
	{"spread.*", "*", "strength and limits"},
	{"evening.*", "reading_C", "reading of a kiln without power"},
	{"evening.*", "*", "openings of a kiln"},
	{"kilnlog.Temperature", "*", "thermocouples, temperature"},
	{"kilnlog.Tolerance", "*", "thermocouples, temperature"},
	{"kilnlog.*", "*", "thermocouples"},

	{"figure.*Fraction", "*", "infrared"},
	{"figure.*Irradiance", "*", "infrared"},
	{"figure.infrared*", "*", "infrared"},
	{"figure.short*", "*", "infrared"},
	{"figure.*Flow", "*", "airflow"},
	{"figure.opening*", "*", "airflow"},
	{"figure.needsMechanical", "*", "airflow"},
	{"figure.air*", "*", "airflow"},
	{"figure.buildUp", "*", "airflow"},
	{"figure.circuitLoad", "*", "circuit and noise"},
	{"figure.noiseTime", "*", "circuit and noise"},
	{"figure.*", "*", "fuel and oxygen"},
	{"checklist.*", "*", "temperature that a hand bears"},
	{"gather.*", "*", "how much glass"},
	{"unit.Celsius", "*", "temperature scales"},
	{"cost.*", "*", "arithmetic of the studio"},
	{"kiln.*", "*", "arithmetic of the studio"},
	{"week.*", "*", "arithmetic of the studio"},
	{"notebook.*", "*", "arithmetic of the studio"},
	{"unit.*", "*", "arithmetic of the studio"},
}

// unlike are the quantities whose answers are not in percent, or are bounds.
var unlike = []Quantity{
	{Name: "tension, by the bounds of a search", Unit: "%", Bounds: true},
	{Name: "stress left, by the bounds of a search", Unit: "%", Bounds: true},
	{Name: "reserve of cast beams, by the bounds of limits", Unit: "%", Bounds: true},
	{Name: "temperature, simulated", Unit: "K"},
	{Name: "structural relaxation, temperature", Unit: "K"},
	{Name: "viscosity, temperature", Unit: "K"},
	{Name: "viscosity", Unit: "decades"},
	{Name: "temperature at which a seal sets", Unit: "K"},
	{Name: "reading of a kiln without power", Unit: "K"},
	{Name: "thermocouples, temperature", Unit: "K"},
	{Name: "temperature that a hand bears", Unit: "K"},
	{Name: "temperature scales", Unit: "K"},
}

// quantityOf returns what a number of a func is about.
func quantityOf(function, key string) (Quantity, bool) {
	for _, r := range rules {
		f, _ := path.Match(r.function, function)
		k, _ := path.Match(r.key, key)
		if !f || !k {
			continue
		}
		for _, q := range unlike {
			if q.Name == r.quantity {
				return q, true
			}
		}
		return Quantity{Name: r.quantity, Unit: "%"}, true
	}
	return Quantity{}, false
}
