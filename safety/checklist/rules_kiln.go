package checklist

import (
	"fmt"
	"strings"

	"lehr/glass/unit"
	"lehr/safety/figure"
	"lehr/safety/source"
)

// bareHandLimit is the temperature above which the lines speak of tools or
// gloves: no threshold above it holds for every material and time. The choice
// is ours; no standard sets it for kilns.
//
// Source: iso13732, long contact with any material, in two texts
// [corroborated].
//
// Checked: testdata/cases/safety-touch.toml
var bareHandLimit = unit.Celsius(43)

// glowing is from where an open kiln glows, by our own choice.
var glowing = unit.Celsius(500)

var reachRules = []rule{
	{ID: "R1", At: Reach, Signal: Warning, When: isYes("elements_exposed"),
		Words:   "Where hand or tool may touch an element, the disconnect is off or the plug is out. Lamp, contactor and door switch are no proof: one pole may stay live.",
		Note:    "Power back: see that the controller goes on with its program.",
		Sources: []string{"osha-333", source.Reasoned}, Status: source.Derived, Defer: []source.Deferral{source.ToElec, source.ToMaker}},
	{ID: "R2", At: Reach, Signal: Warning, When: isYes("elements_exposed"),
		Words:   "Metal tools, rods and bracelets stay clear of the elements. One touches: stop, and cut the power at the disconnect.",
		Sources: []string{"osha-333", source.Practice}, Status: source.CommonPractice, Defer: []source.Deferral{source.ToElec}},
	{ID: "R3", At: Reach, Signal: Caution, When: always, // the kiln's reading says nothing of a thick piece
		Words: "Tongs or rated gloves. Forearms covered. Face to one side of the opening.",
		Vary: func(f Facts, _ Program) said {
			if f.KilnTemp.IsZero() || bareHandLimit.Less(f.KilnTemp) {
				return said{}
			}
			return said{words: "Tongs or rated gloves, until the glass itself was tested below [109 °F|43 °C] (our own limit): the sensor is not the glass. Forearms covered. Face to one side of the opening."}
		},
		Sources: []string{"iso13732", source.Practice}, Status: source.CommonPractice, Defer: []source.Deferral{source.ToMaker}},
	{ID: "R4", At: Reach, Signal: Caution, When: hotterThan("kiln_temperature", glowing),
		Words:   "Look in briefly, through infrared eyewear: the open kiln radiates too.",
		Sources: []string{"icnirp2013"}, Status: source.Corroborated, Defer: []source.Deferral{source.ToEye}},
	{ID: "R5", At: Reach, Signal: Caution, When: always,
		Words:   "Path clear. Resting place ready, on something that cannot burn.",
		Sources: []string{source.Practice}, Status: source.CommonPractice, Defer: []source.Deferral{source.ToMaker}},
	{ID: "R6", At: Reach, Signal: Notice, When: always,
		Words:   "Door open as briefly as you can: the kiln loses its hold.",
		Sources: []string{source.Practice}, Status: source.CommonPractice, Defer: []source.Deferral{source.ToMaker}},
}

var leaveRules = []rule{
	{ID: "U1", At: Leave, Signal: Warning, When: isYes("unattended"),
		Words:  "A second cut-off, separate from the controller, was tested on {cut_off_tested}. A relay that sticks heats on, whatever the program says.",
		Tested: tested{"cut_off_tested", quarterly},
		Vary: func(f Facts, _ Program) said {
			if f.CutOff == No {
				return said{words: "No second cut-off is fitted, and a relay that sticks heats on, whatever the program says. Stay with the kiln, or have one fitted.", fault: f.Unattended != No}
			}
			return said{fault: f.Unattended == Yes && f.CutOffTested == ""}
		},
		Sources: []string{source.Reasoned}, Status: source.Derived, Defer: []source.Deferral{source.ToElec}},
	{ID: "U2", At: Leave, Signal: Warning, When: always,
		Words:   "What can burn stands beyond the maker's clearance, commonly [12 in|30 cm], sometimes [18 in|45 cm]. The lid is bare.",
		Sources: []string{source.Practice}, Status: source.CommonPractice, Defer: []source.Deferral{source.ToMaker}},
	{ID: "U3", At: Leave, Signal: Warning, When: always,
		Words: "Own circuit: breaker and wire carry 1.25 times the rated current. The breaker is no bigger than the plate says, else 1.5 times it (20 A up to 13.3 A).",
		Vary:  circuitWords, Sources: []string{"nec", "nec-422"}, Status: source.Quoted, Defer: []source.Deferral{source.ToElec}},
	{ID: "U4", At: Leave, Signal: Warning, When: always,
		Words:   "Plugged straight into the wall, plug and cord cool. A ground-fault device that trips stays: an electrician finds out why.",
		Sources: []string{source.Practice}, Status: source.CommonPractice, Defer: []source.Deferral{source.ToElec}},
	{ID: "U5", At: Leave, Signal: Warning, When: always,
		Words: "Torch shut down in its maker's order, cylinder valves shut. Look for smoldering 30 minutes after, better 60.",
		Vary: func(f Facts, _ Program) said {
			if f.TorchUsed == No {
				return said{words: "Torch shut down in its maker's order. Cylinder valves shut."}
			}
			return said{}
		},
		Sources: []string{"osha-253", "osha-252", "nfpa51b", source.Practice}, Status: source.CommonPractice, Defer: []source.Deferral{source.ToMaker, source.ToFire}},
	{ID: "U6", At: Leave, Signal: Warning, When: anyOf(isOneOf("oxygen", "concentrator", "liquid"), isYes("gas_burner")),
		Words:   "Concentrator off. Liquid oxygen vents outdoors. Every other burner is out.",
		Sources: []string{"indg459", source.Practice}, Status: source.CommonPractice, Defer: []source.Deferral{source.ToGas}},
	{ID: "U7", At: Leave, Signal: Warning, When: isYes("overnight"),
		Words: "Smoke and CO alarms can be heard where people sleep. Someone can cut the power at {disconnect}.",
		Vary: func(_ Facts, p Program) said {
			const words = "smoke and CO alarms can be heard where people sleep. Someone can cut the power at {disconnect}."
			switch {
			case p.Opens != "" && !p.Stays:
				return said{words: "Until it can be opened {opens}: " + words}
			case p.Stays && p.Total > 0:
				return said{words: "For {total}, and then until somebody switches it off: " + words}
			case p.End != "" && p.Total > 0 && !p.About:
				return said{words: "For {total}, until {end}: " + words}
			case p.End != "":
				return said{words: "Until {end}: " + words}
			case p.Total > 0:
				return said{words: "For {total}: " + words}
			}
			return said{}
		},
		Sources: []string{source.Practice}, Status: source.CommonPractice, Defer: []source.Deferral{source.ToFire}},
	{ID: "U8", At: Leave, Signal: Caution, When: always,
		Words:   "The thermocouple sits in the chamber as its maker says, and reads what you expect.",
		Sources: []string{source.Practice}, Status: source.CommonPractice, Defer: []source.Deferral{source.ToMaker}},
	{ID: "U9", At: Leave, Signal: Notice, When: always,
		Words:   "On the kiln: phone number {phone}, set points {set_points}, expected end {end}.",
		Sources: []string{source.Practice}, Status: source.CommonPractice, Defer: []source.Deferral{source.ToMaker}},
}

// circuitWords gives U3 the current of this kiln.
func circuitWords(f Facts, _ Program) said {
	rated, ok := f.KilnRating()
	if !ok {
		return said{}
	}
	r, err := figure.Circuit(rated, f.Breaker, f.BreakerPlate)
	if err != nil {
		return said{words: "What is stated of the kiln's current, its breaker and its plate cannot be so. A licensed electrician looks before it runs alone.", fault: true}
	}
	sum := fmt.Sprintf("%s × 1.25 = %s", rated.Text(), r.Least.Text())
	switch r.Fit {
	case figure.NotKnown:
		return said{words: "Own circuit: breaker and wire for " + sum + " at least, breaker of " + r.Most.Text() + " at most."}
	case figure.NoneFits:
		return said{words: "The kiln needs " + sum + ", more than the " + r.Most.Text() + " of its plate: no standard breaker fits both. Its maker and a licensed electrician are asked before it runs alone.", fault: true}
	case figure.TooSmall:
		return said{words: "The kiln needs " + sum + ", more than its " + f.Breaker.Text() + " breaker. A licensed electrician looks before it runs alone.", fault: true}
	case figure.TooBig:
		return said{words: "The " + f.Breaker.Text() + " breaker is more than the " + r.Most.Text() + " that a kiln of " + rated.Text() + " takes at most: a fault can burn before it trips. A licensed electrician looks before it runs alone.", fault: true}
	}
	return said{words: "Own circuit: " + sum + ", breaker " + f.Breaker.Text() + ", " + r.Most.Text() + " at most. Wire to match."}
}

var openRules = []rule{
	{ID: "O1", At: Open, Signal: Warning, When: always,
		Words:   "Kiln power is off at the disconnect.",
		Sources: []string{"osha-333"}, Status: source.Verified, Defer: []source.Deferral{source.ToElec}},
	{ID: "O2", At: Open, Signal: Caution, When: always, // a sensor says nothing of a thick piece
		Words: "Tongs or gloves above [109 °F|43 °C] (our own limit). The sensor is not the glass: test the piece too.",
		Vary: func(f Facts, p Program) said {
			const gloves = " Tongs or gloves above [109 °F|43 °C] (our own limit). The sensor is not the glass: test the piece too."
			closed := ""
			if p.Closed != "" {
				closed = " The kiln stays closed " + p.Closed + "."
			}
			switch {
			case !f.KilnTemp.IsZero(), p.End == "" && closed == "", p.Last.IsZero():
				return said{}
			case p.End == "":
				return said{words: strings.TrimSpace(closed) + gloves}
			case p.Stays:
				return said{words: "Program ends {end} at {last}, and the controller holds that." + closed + gloves}
			}
			return said{words: "Program ends {end} at {last}." + closed + gloves}
		},
		Sources: []string{"iso13732", source.Practice}, Status: source.CommonPractice, Defer: []source.Deferral{source.ToMaker}},
	{ID: "O3", At: Open, Signal: Caution, When: always, // as R3
		Words:   "Eyes are covered: glass that is still cooling can burst.",
		Sources: []string{source.Practice}, Status: source.CommonPractice, Defer: []source.Deferral{source.ToMaker}},
	{ID: "O4", At: Open, Signal: Caution, When: anyOf(isYes("fiber"), isYes("vermiculite")),
		Words:   "Fiber or vermiculite is lifted slowly, in a fine-dust respirator. Dust is wiped wet or goes into a HEPA vacuum. Old or unknown stock may hold asbestos: it stays put until tested.",
		Sources: []string{"niosh-fiber", "asbestos", source.Practice}, Status: source.CommonPractice, Defer: []source.Deferral{source.ToAir}},
	{ID: "O5", At: Open, Signal: Warning, When: isYes("grinding_next"),
		Words:   "Grinding and cutting are wet, in a fine-dust respirator. Slurry is cleaned up before it dries.",
		Sources: []string{"osha-silica", source.Practice}, Status: source.CommonPractice, Defer: []source.Deferral{source.ToAir}},
	{ID: "O6", At: Open, Signal: Caution, When: isYes("bead_release"),
		Words:   "Bead release, kiln wash: scraped and mixed damp, or in a fine-dust respirator.",
		Sources: []string{"osha-silica", source.Practice}, Status: source.CommonPractice, Defer: []source.Deferral{source.ToAir}},
}
