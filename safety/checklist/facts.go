package checklist

import (
	"strings"

	"lehr/glass/unit"
	"lehr/safety/quantity"
)

// Facts is what is known about one session: the torch, the room, the person
// and the kiln. The zero value of a field means "not given", and then the
// hazard counts as present.
type Facts struct {
	// Units is the display system of the words and figures.
	Units unit.System

	// The torch and its gases.
	Fuel           string           // "propane", "natural gas", "hydrogen", "acetylene", "other"
	FuelSupply     string           // "cylinder", "piped"
	FuelInside     Answer           // the fuel cylinder stands inside the building
	FuelFlow       quantity.GasFlow // fuel burned
	Oxygen         string           // "cylinder", "concentrator", "liquid", "none"
	StoredTogether Answer           // oxygen and fuel cylinders are stored in one place
	LeakTested     string           // date of the last soap test
	GasSmell       Answer           // a smell or hiss of gas, or a leak alarm, is reported
	COAlarm        Answer           // a carbon monoxide alarm sounds, or somebody feels sick
	OxygenSpill    Answer           // clothes soaked with oxygen, or liquid oxygen spilled
	GasFire        Answer           // a gas fire that cannot be shut off
	AlarmTested    string           // date the carbon monoxide alarm was tested
	Home           Answer           // the studio is in a dwelling or its attached garage
	Room           quantity.Volume  // room volume
	Ceiling        Length           // lowest ceiling
	Workers        int              // torches at work in the room; 0 counts as one
	Vent           string           // "none", "windows", "fan", "canopy", "plain", "flanged", "slot", "booth"
	HoodSize       quantity.Area    // opening (face) of the hood
	HoodDistance   Length           // from the opening to the far edge of the work
	CaptureSpeed   quantity.Speed   // air velocity measured at the far edge of the work
	Exhaust        quantity.Flow    // airflow of the exhaust, measured
	Inlet          quantity.Area    // opening through which fresh air comes in
	HotOrLong      Answer           // a hot room, or a session of more than about two hours
	Fuming         []string         // "silver", "gold", "platinum", or "none"
	ChlorideFuming Answer           // fuming with a metal chloride
	ColorMetals    []string         // metals in tonight's colors, "none", or "unknown"

	// The person and the piece.
	Glass        string            // "borosilicate", "soft", "lead", "quartz", "other"
	LargestPiece Length            // diameter or greatest size of the largest piece
	GlassTemp    Temp              // glass at its hottest
	EyeDistance  Length            // from the eye to the middle of the piece
	Lens         string            // marking on the lens, such as "R3"; or "didymium", "none"
	LensInfrared quantity.Fraction // the maker's greatest infrared transmittance, 780-3000 nm
	Noise        quantity.Level    // sound level at the ear
	Alone        Answer            // nobody else is there
	CheckTime    string            // when somebody will look in

	// The kiln.
	KilnTemp        Temp             // kiln reading now
	KilnOpening     quantity.Area    // door or lid opening
	ElementsExposed Answer           // elements can be touched from the opening
	KilnCurrent     quantity.Current // rated
	KilnVoltage     quantity.Voltage // rated
	KilnPower       Power            // rated
	Breaker         quantity.Current // of the kiln's circuit
	CutOff          Answer           // a second over-temperature cut-off is fitted
	CutOffTested    string           // date it was tested
	Disconnect      string           // where the power is cut
	Unattended      Answer           // nobody stays with the kiln
	Overnight       Answer           // people sleep, or the building is empty, while it runs
	TorchUsed       Answer           // the torch burned within the last hour
	GasBurner       Answer           // a gas burner or gas-fired kiln stays lit
	Phone           string           // number posted on the kiln
	Fiber           Answer           // fiber blanket or board in the kiln
	Vermiculite     Answer           // vermiculite in the kiln
	BeadRelease     Answer           // bead release or kiln wash
	GrindingNext    Answer           // grinding, cutting or polishing comes next
}

// Length, Temp and Power are the quantities of package unit, named here so
// that the fields of [Facts] read plainly.
type (
	Length = unit.Length
	Temp   = unit.Temp
	Power  = unit.Power
)

// Fact describes one session fact for help texts and sample files.
type Fact struct {
	Name    string   // key in studio.toml, such as "eye_distance"
	Meaning string   // one plain sentence
	Words   []string // allowed words; nil if the value is a quantity or free text
	Many    bool     // takes a list of words
	Example string   // a value as it would be typed, without quotes
}

// fact ties the description to its field of Facts.
type fact struct {
	Fact
	field func(*Facts) any // pointer to the field
}

var yesNo = []string{"yes", "no"}

// factTable lists every session fact, in the order of the help text.
var factTable = []fact{
	{Fact{"fuel", "fuel gas of the torch", []string{"propane", "natural gas", "hydrogen", "acetylene", "other"}, false, "propane"}, func(f *Facts) any { return &f.Fuel }},
	{Fact{"fuel_supply", "where the fuel comes from", []string{"cylinder", "piped"}, false, "cylinder"}, func(f *Facts) any { return &f.FuelSupply }},
	{Fact{"fuel_inside", "the fuel cylinder stands inside the building", yesNo, false, "no"}, func(f *Facts) any { return &f.FuelInside }},
	{Fact{"fuel_flow", "fuel burned by the torch", nil, false, "0.2 kg/h"}, func(f *Facts) any { return &f.FuelFlow }},
	{Fact{"oxygen", "where the oxygen comes from", []string{"cylinder", "concentrator", "liquid", "none"}, false, "concentrator"}, func(f *Facts) any { return &f.Oxygen }},
	{Fact{"stored_together", "oxygen and fuel cylinders are stored in one place", yesNo, false, "no"}, func(f *Facts) any { return &f.StoredTogether }},
	{Fact{"leak_tested", "date of the last test of the joints with soapy water", nil, false, "2026-11-20"}, func(f *Facts) any { return &f.LeakTested }},
	{Fact{"gas_smell", "a smell or hiss of gas, or a leak alarm, is reported now", yesNo, false, "no"}, func(f *Facts) any { return &f.GasSmell }},
	{Fact{"co_alarm", "a carbon monoxide alarm sounds, or somebody feels sick, now", yesNo, false, "no"}, func(f *Facts) any { return &f.COAlarm }},
	{Fact{"oxygen_spill", "clothes are soaked with oxygen, or liquid oxygen is spilled, now", yesNo, false, "no"}, func(f *Facts) any { return &f.OxygenSpill }},
	{Fact{"gas_fire", "a gas fire that cannot be shut off burns now", yesNo, false, "no"}, func(f *Facts) any { return &f.GasFire }},
	{Fact{"co_alarm_tested", "date the carbon monoxide alarm was tested", nil, false, "2026-11-01"}, func(f *Facts) any { return &f.AlarmTested }},
	{Fact{"home", "the studio is in a dwelling or its attached garage", yesNo, false, "yes"}, func(f *Facts) any { return &f.Home }},
	{Fact{"room", "room volume, or its three sides", nil, false, "20 ft x 15 ft x 9 ft"}, func(f *Facts) any { return &f.Room }},
	{Fact{"ceiling", "height of the lowest ceiling", nil, false, "9 ft"}, func(f *Facts) any { return &f.Ceiling }},
	{Fact{"workers", "people at a torch in the room", nil, false, "1"}, func(f *Facts) any { return &f.Workers }},
	{Fact{"vent", "how foul air leaves: the hood's kind, a wall fan, windows or none", []string{"none", "windows", "fan", "canopy", "plain", "flanged", "slot", "booth"}, false, "flanged"}, func(f *Facts) any { return &f.Vent }},
	{Fact{"hood_size", "opening of the hood", nil, false, "300 mm x 200 mm"}, func(f *Facts) any { return &f.HoodSize }},
	{Fact{"hood_distance", "from the hood's opening to the far edge of the work", nil, false, "250 mm"}, func(f *Facts) any { return &f.HoodDistance }},
	{Fact{"capture_speed", "air velocity measured at the far edge of the work", nil, false, "0.5 m/s"}, func(f *Facts) any { return &f.CaptureSpeed }},
	{Fact{"exhaust", "airflow of the exhaust, as measured", nil, false, "850 m3/h"}, func(f *Facts) any { return &f.Exhaust }},
	{Fact{"inlet", "opening through which fresh air comes in", nil, false, "400 mm x 300 mm"}, func(f *Facts) any { return &f.Inlet }},
	{Fact{"hot_or_long", "the room is hot, or the session runs past about two hours", yesNo, false, "no"}, func(f *Facts) any { return &f.HotOrLong }},
	{Fact{"fuming", "metals fumed onto the glass", []string{"silver", "gold", "platinum", "none"}, true, "silver"}, func(f *Facts) any { return &f.Fuming }},
	{Fact{"chloride_fuming", "fuming with a metal chloride", yesNo, false, "no"}, func(f *Facts) any { return &f.ChlorideFuming }},
	{Fact{"color_metals", "metals in tonight's colors", []string{"cadmium", "lead", "arsenic", "selenium", "chromium", "nickel", "antimony", "manganese", "cobalt", "copper", "silver", "uranium", "none", "unknown"}, true, "cobalt, copper"}, func(f *Facts) any { return &f.ColorMetals }},
	{Fact{"glass", "glass family; a name of the glass table will do", []string{"borosilicate", "soft", "lead", "quartz", "other"}, false, "borosilicate"}, func(f *Facts) any { return &f.Glass }},
	{Fact{"largest_piece", "greatest size of the largest piece", nil, false, "2.5 in"}, func(f *Facts) any { return &f.LargestPiece }},
	{Fact{"glass_temperature", "the glass at its hottest", nil, false, "1200 °C"}, func(f *Facts) any { return &f.GlassTemp }},
	{Fact{"eye_distance", "from the eye to the middle of the piece", nil, false, "300 mm"}, func(f *Facts) any { return &f.EyeDistance }},
	{Fact{"lens", `marking on the lens, or "didymium", "clear", "none"`, nil, false, "R3"}, func(f *Facts) any { return &f.Lens }},
	{Fact{"lens_infrared", "greatest infrared transmittance the lens maker publishes", nil, false, "5 %"}, func(f *Facts) any { return &f.LensInfrared }},
	{Fact{"noise", "sound level at the ear", nil, false, "84 dBA"}, func(f *Facts) any { return &f.Noise }},
	{Fact{"alone", "nobody else is there", yesNo, false, "yes"}, func(f *Facts) any { return &f.Alone }},
	{Fact{"check_time", "when somebody will look in on you", nil, false, "21:00"}, func(f *Facts) any { return &f.CheckTime }},
	{Fact{"kiln_temperature", "what the kiln reads now", nil, false, "560 °C"}, func(f *Facts) any { return &f.KilnTemp }},
	{Fact{"kiln_opening", "door or lid opening of the kiln", nil, false, "200 mm x 200 mm"}, func(f *Facts) any { return &f.KilnOpening }},
	{Fact{"elements_exposed", "the heating elements can be touched from the opening", yesNo, false, "yes"}, func(f *Facts) any { return &f.ElementsExposed }},
	{Fact{"kiln_current", "rated current of the kiln", nil, false, "24 A"}, func(f *Facts) any { return &f.KilnCurrent }},
	{Fact{"kiln_voltage", "rated voltage of the kiln", nil, false, "240 V"}, func(f *Facts) any { return &f.KilnVoltage }},
	{Fact{"kiln_power", "rated power of the kiln", nil, false, "5760 W"}, func(f *Facts) any { return &f.KilnPower }},
	{Fact{"breaker", "breaker of the kiln's circuit", nil, false, "30 A"}, func(f *Facts) any { return &f.Breaker }},
	{Fact{"cut_off", "a second over-temperature cut-off, separate from the controller, is fitted", yesNo, false, "yes"}, func(f *Facts) any { return &f.CutOff }},
	{Fact{"cut_off_tested", "date that cut-off was tested", nil, false, "2026-11-15"}, func(f *Facts) any { return &f.CutOffTested }},
	{Fact{"disconnect", "where the kiln's power is cut", nil, false, "red handle by the door"}, func(f *Facts) any { return &f.Disconnect }},
	{Fact{"unattended", "nobody stays with the kiln", yesNo, false, "yes"}, func(f *Facts) any { return &f.Unattended }},
	{Fact{"overnight", "people sleep, or the building is empty, while the kiln runs", yesNo, false, "yes"}, func(f *Facts) any { return &f.Overnight }},
	{Fact{"torch_used", "the torch burned within the last hour", yesNo, false, "yes"}, func(f *Facts) any { return &f.TorchUsed }},
	{Fact{"gas_burner", "a gas burner or a gas-fired kiln stays lit", yesNo, false, "no"}, func(f *Facts) any { return &f.GasBurner }},
	{Fact{"phone", "phone number posted on the kiln", nil, false, "555 0100"}, func(f *Facts) any { return &f.Phone }},
	{Fact{"fiber", "fiber blanket or board in the kiln", yesNo, false, "no"}, func(f *Facts) any { return &f.Fiber }},
	{Fact{"vermiculite", "vermiculite in the kiln", yesNo, false, "no"}, func(f *Facts) any { return &f.Vermiculite }},
	{Fact{"bead_release", "bead release or kiln wash is used", yesNo, false, "no"}, func(f *Facts) any { return &f.BeadRelease }},
	{Fact{"grinding_next", "grinding, cutting or polishing comes next", yesNo, false, "no"}, func(f *Facts) any { return &f.GrindingNext }},
}

// Names returns every session fact with its meaning and allowed words, in the
// order of the help text.
func Names() []Fact {
	out := make([]Fact, len(factTable))
	for i, f := range factTable {
		out[i] = f.Fact
	}
	return out
}

// lookup returns the table row of a fact.
func lookup(name string) (fact, bool) {
	for _, f := range factTable {
		if f.Name == name {
			return f, true
		}
	}
	return fact{}, false
}

// Given is one known fact and its value in words.
type Given struct{ Name, Value string }

// Given returns the facts that were given, in the order of [Names], each in
// the display system.
func (f Facts) Given() []Given {
	var out []Given
	for _, row := range factTable {
		if v := valueText(row.field(&f), f.Units); v != "" {
			out = append(out, Given{row.Name, v})
		}
	}
	return out
}

// Has reports whether the named fact was given.
func (f Facts) Has(name string) bool {
	row, ok := lookup(name)
	return ok && valueText(row.field(&f), f.Units) != ""
}

// Over returns f with every fact that g gives laid over it: what a flag says
// wins over the load file, and the load file over the studio file.
func (f Facts) Over(g Facts) Facts {
	for _, row := range factTable {
		if from := row.field(&g); valueText(from, g.Units) != "" {
			assign(row.field(&f), from)
		}
	}
	return f
}

// assign copies one field of Facts into another of the same type.
func assign(into, from any) {
	switch p := into.(type) {
	case *Answer:
		*p = *from.(*Answer)
	case *string:
		*p = *from.(*string)
	case *[]string:
		*p = append([]string(nil), *from.(*[]string)...)
	case *int:
		*p = *from.(*int)
	case *Length:
		*p = *from.(*Length)
	case *Temp:
		*p = *from.(*Temp)
	case *quantity.Area:
		*p = *from.(*quantity.Area)
	case *quantity.Volume:
		*p = *from.(*quantity.Volume)
	case *quantity.Speed:
		*p = *from.(*quantity.Speed)
	case *quantity.Flow:
		*p = *from.(*quantity.Flow)
	case *quantity.GasFlow:
		*p = *from.(*quantity.GasFlow)
	case *quantity.Level:
		*p = *from.(*quantity.Level)
	case *quantity.Fraction:
		*p = *from.(*quantity.Fraction)
	case *quantity.Current:
		*p = *from.(*quantity.Current)
	case *quantity.Voltage:
		*p = *from.(*quantity.Voltage)
	case *Power:
		*p = *from.(*Power)
	}
}

// plain lowers a word and joins its parts by single spaces.
func plain(s string) string {
	return strings.Join(strings.Fields(strings.NewReplacer("_", " ", "-", " ").Replace(strings.ToLower(s))), " ")
}
