package checklist

import (
	"fmt"
	"slices"
	"strings"

	"lehr/glass/unit"
	"lehr/safety/figure"
	"lehr/safety/quantity"
	"lehr/safety/source"
)

// rule is one line of the checklist as data.
//
// Words is a template: "[20 ft|6.1 m]" shows the first form in US units and the
// second in metric ones; "{phone}" is a blank filled from the facts or the
// program, or left as a line to write on. The words name things to do or to
// have done, never things that must not be, so that "yes" cannot mean two
// things; a line makes at most three checks.
type rule struct {
	ID      string
	At      Point
	Signal  Signal
	When    when
	Words   string
	Vary    func(f Facts, p Program) said // other words for what is known
	Tested  tested                        // a date in the words that must not be old
	Confirm string                        // the one word that confirms; "" for done
	Sources []string                      // keys of package source
	Status  source.Status                 // of the weakest claim in the words
	Defer   []source.Deferral
	Note    string // said with the line, smaller
}

// said is what a rule says of what is known.
type said struct {
	words string // "" keeps the rule's own
	note  string // "" keeps the rule's own
	fault bool   // what is known breaks the rule, whatever is answered
}

// tested is a fact that holds the date of a test, and how old it may be.
type tested struct {
	fact string
	days int
}

// How old a test may be. The numbers are ours: the makers' come first.
const (
	monthly   = 31
	quarterly = 92
)

// rules is the whole checklist in the order of the pause points, gravest first
// among those of one signal word.
var rules = slices.Concat(airRules, gasRules, youRules, reachRules, leaveRules, openRules)

// The conditions that several rules share.
var (
	noHood       = isNoneOf("vent", "plain", "flanged", "slot", "booth")
	fuelCylinder = isOneOf("fuel_supply", "cylinder")
)

// weldingRoom and weldingCeiling are where the US welding rules begin to ask
// for mechanical ventilation: 10 000 ft³ a worker, 16 ft. workerAir is what they
// ask then where no hood is: 2000 cfm a worker.
var (
	weldingRoom    = quantity.CubicFeet(10000)
	weldingCeiling = quantity.Feet(16)
	workerAir      = quantity.CFM(2000)
	tightRoom      = anyOf(smallRoom(weldingRoom), lowerThan("ceiling", weldingCeiling))
)

// knownNoHood reports whether the vent is given and is no hood at the flame.
func knownNoHood(f Facts) bool {
	hood, known := figure.IsHood(f.Vent)
	return known && !hood
}

var airRules = []rule{
	{ID: "A1", At: Air, Signal: Warning, When: always,
		Words: "Exhaust on, torch unlit: a strip of paper held where the flame will be leans toward the hood, away from your face.",
		Vary: func(f Facts, _ Program) said {
			if f.CaptureSpeed > 0 && f.CaptureSpeed < figure.BenchVelocity*0.98 { // 0.5 m/s is 98 ft/min
				return said{words: "Air at the far edge of the work moves at only {capture_speed}; US welding rules ask for [100 ft/min|0.5 m/s]. Bring the hood nearer or get more flow.", fault: true}
			}
			if f.Glass == "quartz" {
				return said{note: "Quartz smokes fine silica: all of it goes into the hood."}
			}
			return said{}
		},
		Sources: []string{"osha-252", "quartz", source.Practice}, Status: source.CommonPractice, Defer: []source.Deferral{source.ToAir}},
	{ID: "A2", At: Air, Signal: Warning, When: allOf(noHood, anyOf(isOneOf("vent", "canopy"), tightRoom)),
		Words: "Air leaves by a hood behind or beside the flame. Windows, or a hood overhead, do not keep fume from your face.",
		Vary: func(f Facts, _ Program) said {
			switch {
			case f.Vent == "canopy":
				return said{words: "Your hood hangs overhead: it takes heat, and your head is in its path. Put its opening behind or beside the flame.", fault: true}
			case f.Vent != "":
				known, _ := tightRoom.test(f)
				return said{fault: known == present && f.Exhaust < workerAir*quantity.Flow(max(f.Workers, 1)), words: "Open windows and fans are not enough in this room. US welding rules would ask for a hood at the flame, or [2,000 cfm|57 m³/min] of fresh air per worker."}
			}
			return said{}
		},
		Sources: []string{"wa-doh", "king-county", "osha-252"}, Status: source.Verified, Defer: []source.Deferral{source.ToAir}},
	{ID: "A3", At: Air, Signal: Warning, When: always,
		Words:   "Fresh air has its own way in. Any boiler or heater with a flue gets its air from elsewhere.",
		Sources: []string{source.Practice}, Status: source.CommonPractice, Defer: []source.Deferral{source.ToAir}},
	{ID: "A4", At: Air, Signal: Warning, When: always,
		Words:  "A carbon monoxide alarm is on in this room, last tested {co_alarm_tested}. It is blind to nitrogen dioxide, and to CO below about 70 ppm.",
		Tested: tested{"co_alarm_tested", monthly},
		Note:   "Feeling sick or a headache count as an alarm.", Sources: []string{"ul2034", source.Practice}, Status: source.CommonPractice, Defer: []source.Deferral{source.ToFire}},
	{ID: "A5", At: Air, Signal: Warning, When: hasAny("fuming", "silver", "gold", "platinum"),
		Words: "Metals are fumed only at a hood tested with smoke.",
		Vary: func(f Facts, _ Program) said {
			s := said{fault: len(f.Fuming) > 0 && knownNoHood(f)}
			if len(f.Fuming) == 0 || slices.Contains(f.Fuming, "silver") {
				s.words = "Metals are fumed only at a hood tested with smoke. The US limit for silver in air is 0.01 mg/m³ over 8 hours."
			}
			return s
		},
		Sources: []string{"osha-1000", "wa-doh", source.Practice}, Status: source.CommonPractice, Defer: []source.Deferral{source.ToAir}},
	{ID: "A6", At: Air, Signal: Warning, When: isYes("chloride_fuming"),
		Words:   "Chloride fuming makes acid and metal vapor: hood on, eyewash in reach, everybody else out.",
		Vary:    func(f Facts, _ Program) said { return said{fault: f.ChlorideFuming == Yes && knownNoHood(f)} },
		Sources: []string{"wa-doh", "osha-1000", "osha-151", source.Practice}, Status: source.CommonPractice, Defer: []source.Deferral{source.ToAir}},
	{ID: "A7", At: Air, Signal: Warning, When: hasAny("color_metals", poisons...),
		Words: "Colors may hold cadmium, lead or other poisons: hood on, food and drink elsewhere, hands washed after.",
		Vary: func(f Facts, _ Program) said {
			if m := poisonsIn(f.ColorMetals); m != "" {
				return said{words: "Your colors hold " + m + ": hood on, food and drink elsewhere, hands washed after.", fault: knownNoHood(f)}
			}
			return said{}
		},
		Note:    "Long, overhot or reducing flames drive more out.",
		Sources: []string{"osha-metals", "osha-1000", "wa-doh", source.Practice}, Status: source.CommonPractice, Defer: []source.Deferral{source.ToAir}},
	{ID: "A8", At: Air, Signal: Warning, When: isYes("powder"),
		Words:   "Frit, enamel or powder: a fine-dust respirator is on. Spills are wiped wet or go into a HEPA vacuum.",
		Sources: []string{"osha-silica", "wa-doh", source.Practice}, Status: source.CommonPractice, Defer: []source.Deferral{source.ToAir}},
	{ID: "A9", At: Air, Signal: Caution, When: isYes("hot_or_long"),
		Words:   "Water at the bench. Breaks away from the heat. Dizzy or confused: stop.",
		Sources: []string{source.Practice}, Status: source.CommonPractice, Defer: []source.Deferral{source.ToMedics}},
}

// poisons are the color metals that A7 speaks of: each has a US limit in air.
var poisons = []string{"cadmium", "lead", "arsenic", "selenium", "chromium", "nickel", "antimony", "uranium", "cobalt", "copper", "manganese", "silver", "unknown"}

// The fuels by what a leak of them does. That follows from the mass of their
// molecules against that of air, 29.
var (
	sinks = []string{"propane", "butane", "propylene"} // 44, 58, 42
	rises = []string{"natural gas", "hydrogen"}        // 16, 2
)

var gasRules = []rule{
	{ID: "B1", At: Gas, Signal: Warning, When: always, Confirm: "clear",
		Words: "Sniffed and listened at the joints, high and low, with soap solution or a detector for gas without smell (hydrogen, oxygen): all is clear." + leakFound,
		Vary:  leakWords, Sources: []string{"hydrogen", source.Practice}, Status: source.CommonPractice, Defer: []source.Deferral{source.ToGas}},
	{ID: "B2", At: Gas, Signal: Warning, When: always,
		Words:  "Every joint is tested with soapy water, with no flame, after each change: last {leak_tested}.",
		Tested: tested{"leak_tested", monthly},
		Note:   "A joint opened since counts as not tested.", Sources: []string{"osha-253", "mine-75", source.Practice}, Status: source.CommonPractice, Defer: []source.Deferral{source.ToGas}},
	{ID: "B3", At: Gas, Signal: Warning, When: always,
		Words:   "Check valves and flashback arrestors are fitted, for this gas and this flow. Hoses are whole along their length: no burn, crack or wear.",
		Sources: []string{"osha-253", "act-flashback"}, Status: source.Verified, Defer: []source.Deferral{source.ToGas}},
	{ID: "B4", At: Gas, Signal: Warning, When: always,
		Words: "Valves are opened slowly, you standing aside. Purge, then light, in the torch maker's order.",
		Vary: func(f Facts, _ Program) said {
			if f.Fuel == "acetylene" {
				return said{words: "Valves are opened slowly, you standing aside. Purge, then light, in the torch maker's order. Acetylene stays at 15 psig (103 kPa) or less."}
			}
			return said{}
		},
		Sources: []string{"osha-253", "acetylene", source.Practice}, Status: source.CommonPractice, Defer: []source.Deferral{source.ToMaker}},
	{ID: "B5", At: Gas, Signal: Warning, When: anyOf(fuelCylinder, isOneOf("oxygen", "cylinder", "liquid")),
		Words:   "Fuel and oxygen cylinders stand upright, tied, away from heat. You know which valve shuts what.",
		Sources: []string{"osha-253", source.Practice}, Status: source.CommonPractice, Defer: []source.Deferral{source.ToFire}},
	{ID: "B6", At: Gas, Signal: Warning, When: anyOf(allOf(fuelCylinder, isYes("fuel_inside")), isYes("stored_together")),
		Words: "Fuel cylinders stand outdoors. Stored oxygen stands [20 ft|6.1 m] from fuel, or behind a wall [5 ft|1.5 m] high that holds fire for half an hour.",
		Vary:  storageWords,
		Note:  "Which cylinders may stand indoors, your fire authority says.", Sources: []string{"nfpa58", "mn-sfm", "osha-253", source.Practice}, Status: source.CommonPractice, Defer: []source.Deferral{source.ToFire}},
	{ID: "B7", At: Gas, Signal: Warning, When: always,
		Words: "Where leaked fuel gathers is clear: low places if it sinks, the ceiling if it rises.",
		Vary:  fuelWords, Sources: []string{"gas-data", source.Reasoned, "act-flashback", "acetylene"}, Status: source.Derived, Defer: []source.Deferral{source.ToGas}},
	{ID: "B8", At: Gas, Signal: Warning, When: isNoneOf("oxygen", "none"),
		Words:   "Hands, oxygen fittings and rags are free of oil, grease and cream. Dust is wiped, and air is moved, without oxygen.",
		Sources: []string{"osha-253", "osha-252", "ca-4845"}, Status: source.Corroborated, Defer: []source.Deferral{source.ToGas}},
	{ID: "B9", At: Gas, Signal: Warning, When: isNoneOf("oxygen", "none"),
		Words: "Air keeps moving: leaking oxygen builds up even with the torch out. Above 23.5 %, every flame goes out.",
		Vary: func(f Facts, _ Program) said {
			switch f.Oxygen {
			case "cylinder":
				return said{words: "Air keeps moving: leaking oxygen builds up even with the torch out, so its cylinders are shut at each break. Above 23.5 %, every flame goes out."}
			case "liquid":
				return said{words: "Air keeps moving: liquid oxygen vents even with the torch out. Above 23.5 %, every flame goes out."}
			case "concentrator":
				return said{words: "Air keeps moving: a concentrator left on enriches the room with the torch out. Above 23.5 %, every flame goes out."}
			}
			return said{}
		},
		Sources: []string{"osha-146", "indg459", source.Reasoned}, Status: source.Derived, Defer: []source.Deferral{source.ToGas}},
}

// leakFound ends B1; bubblesFound that of a gas without smell.
const (
	leakFound    = " Smell, hiss" + leftUnlit
	bubblesFound = " Bubbles, hiss" + leftUnlit
	leftUnlit    = " or alarm: leave it unlit, and lehr wrong gas."
)

// leakWords says how a leak of this fuel, and of oxygen, is found. Butane and
// propylene may be sold with little smell, and count as having none.
//
// Source: hydrogen.
func leakWords(f Facts, _ Program) said {
	smells := f.Fuel == "propane" || f.Fuel == "natural gas" || f.Fuel == "acetylene"
	switch {
	case f.Fuel == "hydrogen":
		return said{words: "With soap solution or a hydrogen detector, every joint is clear. Hydrogen has no smell and burns nearly unseen." + bubblesFound}
	case smells && f.Oxygen == "none":
		return said{words: "Sniffed and listened at the joints, at head height and near the floor: all is clear." + leakFound}
	case smells:
		return said{words: "Sniffed and listened at the fuel's joints, high and low, with soap solution or a detector at the oxygen's, which has no smell: all is clear." + leakFound}
	}
	return said{}
}

// storageWords says of B6 only what may apply. NFPA 58 is of liquefied petroleum
// gas, and is not said of another fuel.
func storageWords(f Facts, _ Program) said {
	inside := f.FuelSupply != "piped" && f.FuelInside != No
	together := f.StoredTogether != No
	liquefied := f.Fuel == "" || slices.Contains(sinks, f.Fuel)
	switch {
	case together && !inside:
		return said{words: "Stored oxygen stands [20 ft|6.1 m] from stored fuel, or behind a wall [5 ft|1.5 m] high that holds fire for half an hour."}
	case together:
		return said{}
	case !liquefied:
		fuel := f.Fuel
		if fuel == "other" {
			fuel = "fuel"
		}
		return said{words: "Cylinders of " + fuel + " stand outdoors, or as the fire code of your place allows."}
	case f.Home == No:
		return said{words: "Fuel cylinders stand outdoors, or as the fire code of your place allows. Where the public goes, NFPA 58, as quoted, keeps each to about [1 lb|0.5 kg]."}
	}
	return said{words: "Fuel cylinders stand outdoors. NFPA 58, as quoted, keeps stored ones over about [1 lb|0.5 kg] out of homes and attached garages."}
}

// fuelWords says of B7 what this fuel does.
func fuelWords(f Facts, _ Program) said {
	name := strings.ToUpper(f.Fuel[:min(1, len(f.Fuel))]) + f.Fuel[min(1, len(f.Fuel)):]
	switch {
	case f.Fuel == "propane":
		return said{words: "Low places are clear: drains, pits, under the bench. Propane sinks, and about 2 % of it in air can light."}
	case slices.Contains(sinks, f.Fuel):
		return said{words: "Low places are clear: drains, pits, under the bench. " + name + " is heavier than air and sinks."}
	case f.Fuel == "hydrogen":
		return said{words: "The ceiling has a way out for gas: hydrogen is far lighter than air and rises. Torch, hose and arrestor are made for hydrogen."}
	case slices.Contains(rises, f.Fuel):
		return said{words: "High places are clear, under the ceiling and in cabinets: " + f.Fuel + " is lighter than air and rises."}
	case f.Fuel == "acetylene":
		return said{words: "High and low places are clear: acetylene is about as heavy as air and spreads. Regulator, hose, arrestor and torch are made for it: copper and high-silver alloys in a line can turn explosive."}
	}
	return said{}
}

// poisonsIn returns the poisons of a list in words, at most three and the rest as
// "others"; empty if none is named.
func poisonsIn(metals []string) string {
	var named []string
	for _, m := range poisons { // gravest first
		if m != "unknown" && slices.Contains(metals, m) {
			named = append(named, m)
		}
	}
	if len(named) > 3 {
		named = append(named[:2:2], "other poisons")
	}
	return inWords(named)
}

// inWords joins words with commas and "and".
func inWords(list []string) string { return joined(list, "and") }

func joined(list []string, last string) string {
	n := len(list) - 1
	if n < 1 {
		return strings.Join(list, "")
	}
	return strings.Join(list[:n], ", ") + " " + last + " " + list[n]
}

// lengthText writes a length for reading aloud, with three digits.
func lengthText(l unit.Length, s unit.System) string {
	x, u := l.In(s)
	return fmt.Sprintf("%s %s", quantity.Digits(x, 3), u)
}
