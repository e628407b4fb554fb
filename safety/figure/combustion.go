package figure

import (
	"math"

	"lehr/glass/unit"
	"lehr/safety/quantity"
)

// Molar masses [kg/mol] and the volume of a mole of gas at 25 °C and standard
// pressure [m³/mol].
//
// Source: standard atomic weights; 24.45 L/mol as in osha-1000 [verified].
const (
	molarVolume = 24.45e-3
	molarCO2    = 44.009e-3
	molarH2O    = 18.015e-3
	molarO2     = 31.998e-3
	oxygenInAir = 0.2095 // fraction of dry air by volume
)

// fuelGas is a pure fuel C_x H_y.
type fuelGas struct {
	Name  string
	x, y  float64
	molar float64 // [kg/mol]
	Heat  float64 // higher heating value [J/kg], zero when no printed value was read
	lower float64 // lower explosive limit by volume, zero when none was read in two texts
}

// propane and methane are the fuels of the combustion figures. Natural gas is
// taken as pure methane, which it mostly is.
//
// Source: stoichiometry [derived]; heat of propane: csa-b149 [verified]; lower
// limit of propane, 2.1 to 2.15 %: gas-data [corroborated]; those of methane
// have not been read so and are absent.
var (
	propane = fuelGas{"propane", 3, 8, 44.097e-3, 49.7e6, 0.021}
	methane = fuelGas{"natural gas (as methane)", 1, 4, 16.043e-3, 0, 0}
)

// fuelOf returns the fuel gas of a fact word, and false if its combustion is not
// computed here.
func fuelOf(word string) (fuelGas, bool) {
	switch word {
	case "propane":
		return propane, true
	case "natural gas":
		return methane, true
	}
	return fuelGas{}, false
}

// combustion is what burning 1 kg of fuel completely takes and gives.
type combustion struct {
	CO2, H2O, O2 float64 // [kg per kg of fuel]
	OxygenVolume float64 // volume of oxygen per volume of fuel
	CO2Volume    float64 // volume of CO2 per volume of fuel
	AirVolume    float64 // volume of air per volume of fuel, if air brings the oxygen
}

// burn returns the balance of complete combustion of a fuel gas.
//
//	C_x H_y + (x + y/4) O2 → x CO2 + (y/2) H2O
//
// A flame set rich or lean, and carbon monoxide and nitrogen dioxide, are not
// in it; those two, not CO2, govern the air at a torch.
//
// Valid: any fuelGas of this package.
//
// Source: stoichiometry [derived]; published air demand of propane 23.5 and
// 24.0 volumes [corroborated].
//
// Checked: testdata/cases/safety-combustion.toml
func burn(g fuelGas) combustion {
	o2 := g.x + g.y/4
	return combustion{
		CO2:          g.x * molarCO2 / g.molar,
		H2O:          g.y / 2 * molarH2O / g.molar,
		O2:           o2 * molarO2 / g.molar,
		OxygenVolume: o2,
		CO2Volume:    g.x,
		AirVolume:    o2 / oxygenInAir,
	}
}

func refuseFuel(g fuelGas, fuel quantity.GasFlow) error {
	if g.molar == 0 {
		return &InputError{Quantity: "fuel " + g.Name, value: amount{float64(fuel), "kg/s"}, rule: "combustion is computed for propane and natural gas only"}
	}
	return refuse(above("fuel flow", float64(fuel), "kg/s", 0.1))
}

// carbonDioxide returns the CO2 that a torch gives off, at 25 °C.
//
//	G = ṁ x V_m / M
//
// Valid: fuel flow up to 360 kg/h.
//
// Source: as [burn] [derived].
//
// Checked: testdata/cases/safety-combustion.toml
func carbonDioxide(g fuelGas, fuel quantity.GasFlow) (quantity.Flow, error) {
	if err := refuseFuel(g, fuel); err != nil {
		return 0, err
	}
	return quantity.Flow(float64(fuel) / g.molar * molarVolume * g.x), nil
}

// oxygenUse returns the oxygen that a torch burns, at 25 °C. Only the part
// that the torch does not bring with it is taken from the room.
//
// Valid and source: as [carbonDioxide].
//
// Checked: testdata/cases/safety-combustion.toml
func oxygenUse(g fuelGas, fuel quantity.GasFlow) (quantity.Flow, error) {
	if err := refuseFuel(g, fuel); err != nil {
		return 0, err
	}
	return quantity.Flow(float64(fuel) / g.molar * molarVolume * (g.x + g.y/4)), nil
}

// Limits of carbon dioxide as fractions by volume.
//
// Source: osha-1000, Table Z-1, 5000 ppm over 8 hours [verified]; outdoor
// air is assumed at 420 ppm [derived].
const (
	co2Limit   = 5000e-6
	co2Outdoor = 420e-6
)

// torchHeat returns the heat of the fuel, all of it.
//
//	P = ṁ H
//
// Valid: as [carbonDioxide]; *InputError for a fuel whose heat is not known.
//
// Source: csa-b149 for propane, 49.7 MJ/kg [verified].
//
// Checked: testdata/cases/safety-combustion.toml
func torchHeat(g fuelGas, fuel quantity.GasFlow) (unit.Power, error) {
	if err := refuseFuel(g, fuel); err != nil {
		return 0, err
	}
	if g.Heat == 0 {
		return 0, &InputError{Quantity: "heat of " + g.Name, value: amount{g.Heat, "J/kg"}, rule: "no printed value was read"}
	}
	return unit.Power(float64(fuel) * g.Heat), nil
}

// airRise returns by how much a heat warms an airflow, if the air takes it all.
//
//	ΔT = P / (ρ c Q),  ρ = 1.2 kg/m³, c = 1005 J/(kg·K)
//
// Valid: airflow above zero, up to 100 m³/s. An upper bound.
//
// Source: heat balance of room air [derived].
//
// Checked: testdata/cases/safety-combustion.toml
func airRise(p unit.Power, q quantity.Flow) (rise float64, err error) {
	err = refuse(above("heat", p.Watts(), "W", 1e7), above("airflow", float64(q), "m³/s", 100))
	if err != nil {
		return 0, err
	}
	return p.Watts() / (1.2 * 1005 * float64(q)), nil
}

// explosiveMass returns the mass of fuel [kg], and its volume as gas, that
// brings a whole well-mixed room to the lower explosive limit. propane sinks,
// so far less lights near the floor.
//
// lower is the lower explosive limit as a fraction by volume: 0.021 for propane.
//
//	v = −V ln(1 − L),  m = v M / V_m
//
// Valid: room 1 m³ to 100 000 m³, limit from 0.001 to 0.5.
//
// Source: mass balance with the room's air pushed out [derived]; limit of
// propane 2.1 to 2.15 %: gas-data [corroborated].
//
// Checked: testdata/cases/safety-combustion.toml
func explosiveMass(g fuelGas, room quantity.Volume, lower float64) (kg float64, gas quantity.Volume, err error) {
	err = refuse(
		between("room volume", float64(room), "m³", 1, 1e5),
		between("lower explosive limit", lower, "", 0.001, 0.5))
	if err != nil {
		return 0, 0, err
	}
	if g.molar == 0 {
		return 0, 0, refuseFuel(g, 1)
	}
	v := -float64(room) * math.Log1p(-lower)
	return v * g.molar / molarVolume, quantity.Volume(v), nil
}
