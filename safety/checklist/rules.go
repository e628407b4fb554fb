package checklist

import (
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
// program, or left as a line to write on.
type rule struct {
	ID      string
	At      Point
	Signal  Signal
	When    when
	Words   string
	Vary    func(f Facts, p Program) string // other words for what is known; "" keeps Words
	Urgent  string                          // fact that makes it DANGER when reported
	Sources []string                        // keys of [Sources]
	Status  source.Status
	Defer   []source.Deferral
	Note    string // said with the line, smaller
}

// The conditions that several rules share.
var (
	noHood  = isNoneOf("vent", "plain", "flanged", "slot", "booth")
	propane = isOneOf("fuel", "propane")
)

// weldingRoom and weldingCeiling are where the US welding rules begin to ask
// for mechanical ventilation: 10 000 ft³ a worker, 16 ft.
var (
	weldingRoom    = quantity.CubicFeet(10000)
	weldingCeiling = quantity.Feet(16)
)

// bigPiece is what "big" means for near ultraviolet in borosilicate. Ours.
const bigPiece = 50 * unit.Millimeter

// Temperatures at which lines for the hot kiln begin. The first is the
// bare-hand limit; the second is ours, where an open kiln glows.
var (
	glowing     = unit.Celsius(500)
	warmestRoom = unit.Celsius(30)
)

// rules is the whole checklist in the order of the pause points.
var rules = joinRules(airRules, gasRules, youRules, reachRules, leaveRules, openRules, wrongRules)

func joinRules(groups ...[]rule) []rule {
	var all []rule
	for _, g := range groups {
		all = append(all, g...)
	}
	return all
}

var airRules = []rule{
	{ID: "A1", At: Air, Signal: Warning, When: always,
		Words: "Exhaust is on. A strip of paper held at the flame leans toward the hood, not toward your face.",
		Vary: func(f Facts, _ Program) string {
			if f.CaptureSpeed > 0 && f.CaptureSpeed < figure.BenchVelocity*0.98 { // 0.5 m/s is 98 ft/min
				return "Air at the far edge of the work moves at only {capture_speed}; US welding rules ask for [100 ft/min|0.5 m/s]. Bring the hood nearer or get more flow."
			}
			return ""
		},
		Sources: []string{"osha-252"}, Status: source.Verified, Defer: []source.Deferral{source.ToAir}},
	{ID: "A2", At: Air, Signal: Warning, When: always,
		Words:   "Fresh air has its own way in. No boiler, heater or water heater with a flue shares this room's air.",
		Sources: []string{source.Practice}, Status: source.CommonPractice, Defer: []source.Deferral{source.ToAir}},
	{ID: "A3", At: Air, Signal: Warning, When: always,
		Words:   "A carbon monoxide alarm works in this room. Last tested: {co_alarm_tested}.",
		Sources: []string{"osha-1000", source.Practice}, Status: source.Verified, Defer: []source.Deferral{source.ToFire}},
	{ID: "A4", At: Air, Signal: Warning, When: allOf(noHood, anyOf(smallRoom(weldingRoom), lowerThan("ceiling", weldingCeiling))),
		Words:   "Open windows are not enough in this room. US welding rules would ask for a hood at the flame, or [2,000 cfm|57 m³/min] of fresh air per worker.",
		Sources: []string{"osha-252"}, Status: source.Verified, Defer: []source.Deferral{source.ToAir}},
	{ID: "A5", At: Air, Signal: Warning, When: isOneOf("vent", "canopy"),
		Words:   "An overhead hood mostly takes heat, and your head is in its path. Put the opening behind or beside the flame.",
		Sources: []string{"wa-doh"}, Status: source.Corroborated, Defer: []source.Deferral{source.ToAir}},
	{ID: "A6", At: Air, Signal: Warning, When: hasAny("fuming", "silver", "gold", "platinum"),
		Words: "Fume metals only at a hood you have tested with smoke.",
		Vary: func(f Facts, _ Program) string {
			if len(f.Fuming) == 0 || slices.Contains(f.Fuming, "silver") {
				return "Fume metals only at a hood you have tested with smoke. The US limit for silver in air is 0.01 mg/m³ over 8 hours."
			}
			return ""
		},
		Sources: []string{"osha-1000", "wa-doh"}, Status: source.Verified, Defer: []source.Deferral{source.ToAir}},
	{ID: "A7", At: Air, Signal: Warning, When: isYes("chloride_fuming"),
		Words:   "Chloride fuming makes acid and metal vapor. Hood on, eyewash in reach, nobody else in the room.",
		Sources: []string{"wa-doh", "osha-1000", "osha-151"}, Status: source.Verified, Defer: []source.Deferral{source.ToAir}},
	{ID: "A8", At: Air, Signal: Warning, When: hasAny("color_metals", poisons...),
		Words: "Colors may hold cadmium, lead or other poisons. Hood on. Do not overheat or reduce them. No food or drink here. Wash your hands after.",
		Vary: func(f Facts, _ Program) string {
			if m := poisonsIn(f.ColorMetals); m != "" {
				return "Your colors hold " + m + ". Hood on. Do not overheat or reduce them. No food or drink here. Wash your hands after."
			}
			return ""
		},
		Sources: []string{"osha-metals", "wa-doh"}, Status: source.Verified, Defer: []source.Deferral{source.ToAir}},
	{ID: "A9", At: Air, Signal: Caution, When: isYes("hot_or_long"),
		Words:   "Water at the bench. Take breaks away from the heat. Stop if you feel dizzy or confused.",
		Sources: []string{source.Practice}, Status: source.CommonPractice, Defer: []source.Deferral{source.ToMedics}},
}

// poisons are the color metals that A8 speaks of.
var poisons = []string{"cadmium", "lead", "arsenic", "selenium", "chromium", "nickel", "antimony", "uranium", "unknown"}

var gasRules = []rule{
	{ID: "B1", At: Gas, Signal: Warning, When: isYes("gas_smell"), Urgent: "gas_smell",
		Words: "No smell or hiss of gas, no leak alarm. If there is one, do not light: turn to “something is wrong”.",
		Vary: func(f Facts, _ Program) string {
			if f.GasSmell == Yes {
				return "Gas is reported. Do not light. Turn to “something is wrong” now."
			}
			return ""
		},
		Sources: []string{"osha-253"}, Status: source.Verified, Defer: []source.Deferral{source.ToGas}},
	{ID: "B2", At: Gas, Signal: Warning, When: always,
		Words:   "Joints tested with soapy water, never with a flame, since the last change. Last tested: {leak_tested}.",
		Sources: []string{"osha-253", "mine-75"}, Status: source.Verified, Defer: []source.Deferral{source.ToGas}},
	{ID: "B3", At: Gas, Signal: Warning, When: always,
		Words:   "Check valves and flashback arrestors are fitted, for this gas and this flow. Hoses have no burns, cracks or wear.",
		Sources: []string{"osha-253", "act-flashback"}, Status: source.Verified, Defer: []source.Deferral{source.ToGas}},
	{ID: "B4", At: Gas, Signal: Warning, When: anyOf(isOneOf("fuel_supply", "cylinder"), isOneOf("oxygen", "cylinder", "liquid")),
		Words:   "Cylinders stand upright, tied, away from heat. You know which valve shuts what.",
		Sources: []string{"osha-253"}, Status: source.Verified, Defer: []source.Deferral{source.ToFire}},
	{ID: "B5", At: Gas, Signal: Warning, When: isYes("stored_together"),
		Words:   "Stored oxygen stands [20 ft|6.1 m] from stored fuel, or behind a wall [5 ft|1.5 m] high that holds back fire for half an hour.",
		Sources: []string{"osha-253"}, Status: source.Corroborated, Defer: []source.Deferral{source.ToFire}},
	{ID: "B6", At: Gas, Signal: Warning, When: allOf(propane, isOneOf("fuel_supply", "cylinder"), isYes("home"), isYes("fuel_inside")),
		Words:   "Keep propane cylinders outdoors unless your fire authority says otherwise. NFPA 58, as quoted, keeps stored ones over about [1 lb|0.5 kg] out of homes and attached garages.",
		Sources: []string{"nfpa58", "mn-sfm"}, Status: source.Verified, Defer: []source.Deferral{source.ToFire}},
	{ID: "B7", At: Gas, Signal: Warning, When: propane,
		Words:   "Low places checked: drains, pits, under the bench. Propane sinks, and about 2 % of it in air can light.",
		Sources: []string{"gas-data"}, Status: source.Corroborated, Defer: []source.Deferral{source.ToGas}},
	{ID: "B8", At: Gas, Signal: Warning, When: isNoneOf("oxygen", "none"),
		Words:   "No oil, grease or hand cream on hands, fittings or rags. Oxygen is never used to blow dust or freshen the air.",
		Sources: []string{"osha-253", "osha-252", "ca-4845"}, Status: source.Corroborated, Defer: []source.Deferral{source.ToGas}},
	{ID: "B9", At: Gas, Signal: Warning,
		When:    allOf(isOneOf("oxygen", "concentrator", "liquid"), anyOf(isOneOf("oxygen", "liquid"), isOneOf("vent", "none", "windows"))),
		Words:   "Oxygen can build up here even with the torch out. Keep air moving. No flame if the room is above 23.5 % oxygen.",
		Sources: []string{"osha-146", "indg459"}, Status: source.Corroborated, Defer: []source.Deferral{source.ToGas}},
}

// poisonsIn returns the poisons of a list in words, at most three and the rest as
// "others"; empty if none is named.
func poisonsIn(metals []string) string {
	var named []string
	for _, m := range metals {
		if m != "unknown" && slices.Contains(poisons, m) {
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
	switch len(list) {
	case 0:
		return ""
	case 1:
		return list[0]
	}
	n := len(list) - 1
	return strings.Join(list[:n], ", ") + " " + last + " " + list[n]
}
