package checklist

import (
	"slices"
	"strconv"
	"time"

	"lehr/glass/unit"
	"lehr/safety/figure"
	"lehr/safety/quantity"
)

// Facts is what is known about one session: the torch, the room, the person
// and the kiln. The zero value of a field means "not given", and then the
// hazard counts as present.
type Facts struct {
	// Units is the display system of the words and figures, Today the day on
	// which dates are judged. Neither is a fact.
	Units unit.System
	Today time.Time

	// The torch, its gases and the room.
	Fuel           string           // one of the words of the table
	FuelSupply     string           // "cylinder", "piped"
	FuelInside     Answer           // the fuel cylinder stands inside the building
	FuelFlow       quantity.GasFlow // fuel burned by one torch
	Oxygen         string           // "cylinder", "concentrator", "liquid", "none"
	OxygenFlow     quantity.Flow    // oxygen that comes when the torch does not burn it
	StoredTogether Answer           // oxygen and fuel cylinders are stored in one place
	LeakTested     Date             // of the last soap test
	GasSmell       Answer           // a smell or hiss of gas, or a leak alarm, is reported
	COAlarm        Answer           // a carbon monoxide alarm sounds, or somebody feels sick
	OxygenSpill    Answer           // clothes soaked with oxygen, or liquid oxygen spilled
	Fire           Answer           // something burns that should not, or a smoke alarm sounds
	GasFire        Answer           // a gas fire that cannot be shut off
	AlarmTested    Date             // of the carbon monoxide alarm's last test
	Home           Answer           // the studio is in a dwelling or its attached garage
	Room           quantity.Volume  // room volume
	Ceiling        unit.Length      // lowest ceiling
	Workers        int              // torches at work in the room; 0 counts as one
	Vent           string           // "none", "windows", "fan", "canopy", "plain", "flanged", "slot", "booth"
	HoodSize       quantity.Area    // opening (face) of the hood
	HoodDistance   unit.Length      // from the opening to the far edge of the work
	CaptureSpeed   quantity.Speed   // air velocity measured at the far edge of the work
	Exhaust        quantity.Flow    // airflow of the exhaust, measured
	Inlet          quantity.Area    // opening through which fresh air comes in
	HotOrLong      Answer           // a hot room, or a session of more than about two hours
	Fuming         []string         // "silver", "gold", "platinum", or "none"
	ChlorideFuming Answer           // fuming with a metal chloride
	ColorMetals    []string         // metals in tonight's colors, "none", or "unknown"
	Powder         Answer           // frit, enamel or glass powder is used dry

	// The person and the piece.
	Glass        string            // "borosilicate", "soft", "lead", "quartz", "other"
	LargestPiece unit.Length       // diameter or greatest size of the largest piece
	GlassTemp    unit.Temp         // glass at its hottest
	EyeDistance  unit.Length       // from the eye to the middle of the piece
	Lens         string            // marking on the lens, such as "R3"; or "didymium", "none"
	LensInfrared quantity.Fraction // the maker's greatest infrared transmittance
	LensTo       string            // the wavelength at which that figure ends
	Noise        quantity.Level    // sound level at the ear
	Alone        Answer            // nobody else is there
	CheckTime    string            // when somebody will look in

	// The kiln.
	KilnTemp        unit.Temp        // kiln reading now
	KilnOpening     quantity.Area    // door or lid opening
	ElementsExposed Answer           // elements can be touched from the opening
	KilnCurrent     quantity.Current // rated
	KilnVoltage     quantity.Voltage // rated
	KilnPower       unit.Power       // rated
	Breaker         quantity.Current // of the kiln's circuit
	BreakerPlate    quantity.Current // the biggest breaker that the kiln's plate names
	CutOff          Answer           // a second over-temperature cut-off is fitted
	CutOffTested    Date             // it was tested
	Disconnect      string           // where the power is cut
	Unattended      Answer           // nobody stays with the kiln
	Overnight       Answer           // people sleep, or the building is empty, while it runs
	TorchUsed       Answer           // the torch burned within the last hour
	GasBurner       Answer           // a gas burner or gas-fired kiln stays lit
	Phone           string           // number posted on the kiln
	EmergencyNumber string           // to call when something is wrong
	Fiber           Answer           // fiber blanket or board in the kiln
	Vermiculite     Answer           // vermiculite in the kiln
	BeadRelease     Answer           // bead release or kiln wash
	GrindingNext    Answer           // grinding, cutting or polishing comes next
}

// Scope says for how long a fact may be said, and so where.
type Scope int

// The scopes. What is so now may change before the list is read again: it comes
// from a flag or an answer, never from a file. Of a night, a studio may only say
// the worse, for it holds for every night to come.
const (
	OfStudio Scope = iota // in any file
	OfNight               // "no" only in a load file or on the command line
	OfNow                 // only on the command line
)

// Fact describes one session fact for help texts and sample files.
type Fact struct {
	Name    string   // key in studio.toml, such as "eye_distance"
	Meaning string   // one plain sentence
	Words   []string // allowed words; nil if the value is a quantity or free text
	Many    bool     // takes a list of words
	Example string   // a value as it would be typed, without quotes
	Scope   Scope
}

// fact ties the description to its field of Facts.
type fact struct {
	Fact
	in func(*Facts) value
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
	i := slices.IndexFunc(factTable, func(f fact) bool { return f.Name == name })
	if i < 0 {
		return fact{}, false
	}
	return factTable[i], true
}

// Given is one known fact and its value in words.
type Given struct{ Name, Value string }

// Given returns the facts that were given, in the order of [Names], each in
// the display system.
func (f Facts) Given() []Given {
	var out []Given
	for _, row := range factTable {
		if v := row.in(&f).text(f.Units); v != "" {
			out = append(out, Given{row.Name, v})
		}
	}
	return out
}

// has reports whether the named fact was given.
func (f Facts) has(name string) bool {
	row, ok := lookup(name)
	return ok && row.in(&f).text(f.Units) != ""
}

// Over returns f with every fact that g gives laid over it: what a flag says
// wins over the load file, and the load file over the studio file.
func (f Facts) Over(g Facts) Facts {
	for _, row := range factTable {
		if from := row.in(&g); from.text(g.Units) != "" {
			row.in(&f).over(from)
		}
	}
	if f.Today.IsZero() {
		f.Today = g.Today
	}
	return f
}

// AirQuestion returns the question for the air figures that the facts allow,
// with the usual capture velocity for torch work.
func (f Facts) AirQuestion() figure.AirQuestion {
	return figure.AirQuestion{Measured: f.CaptureSpeed, Vent: f.Vent, Distance: f.HoodDistance, Opening: f.HoodSize, Exhaust: f.Exhaust, Inlet: f.Inlet,
		Room: f.Room, Ceiling: f.Ceiling, Workers: f.Workers, Fuel: f.Fuel, FuelFlow: f.FuelFlow, OxygenFlow: f.OxygenFlow}
}

// KilnRating returns the rated current of the kiln in the facts, given as such
// or from power and voltage, the greater if they differ; false if neither is
// known.
func (f Facts) KilnRating() (quantity.Current, bool) {
	rated := f.KilnCurrent
	if f.KilnPower > 0 && f.KilnVoltage > 0 {
		if c, err := figure.RatedCurrent(f.KilnPower, f.KilnVoltage); err == nil {
			rated = max(rated, c)
		}
	}
	return rated, rated > 0
}

// WornLens returns what the maker publishes of the lens that is worn; nothing
// if none is.
func (f Facts) WornLens() figure.Lens {
	if plain(f.Lens) == "none" {
		return figure.Lens{}
	}
	l := figure.Lens{Passes: f.LensInfrared}
	if nm, err := strconv.Atoi(trimUnit(f.LensTo, "nm")); err == nil {
		l.To = float64(nm) * 1e-9
	}
	return l
}
