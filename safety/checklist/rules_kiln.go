package checklist

import (
	"fmt"

	"lehr/safety/figure"
	"lehr/safety/source"
)

var reachRules = []rule{
	{ID: "R1", At: Reach, Signal: Warning, When: isYes("elements_exposed"),
		Words:   "Element power is off, and you saw the light or the contactor drop. A door switch alone is not proof.",
		Sources: []string{"osha-333"}, Status: source.Verified, Defer: []source.Deferral{source.ToElec}},
	{ID: "R2", At: Reach, Signal: Warning, When: isYes("elements_exposed"),
		Words:   "Keep metal tools, rods and bracelets off the elements. If one touches, stop and cut the power at the disconnect.",
		Sources: []string{"osha-333", source.Practice}, Status: source.Verified, Defer: []source.Deferral{source.ToElec}},
	{ID: "R3", At: Reach, Signal: Caution, When: hotterThan("kiln_temperature", figure.BareHandLimit),
		Words:   "Tongs or rated gloves. Forearms covered. Face to one side of the opening.",
		Sources: []string{"iso13732", source.Practice}, Status: source.Corroborated, Defer: []source.Deferral{source.ToMaker}},
	{ID: "R4", At: Reach, Signal: Caution, When: hotterThan("kiln_temperature", glowing),
		Words:   "Look in briefly, through infrared eyewear. The open kiln radiates too.",
		Sources: []string{"icnirp2013"}, Status: source.Corroborated, Defer: []source.Deferral{source.ToEye}},
	{ID: "R5", At: Reach, Signal: Caution, When: always,
		Words:   "Path clear, resting place ready, nothing under it that can burn.",
		Sources: []string{source.Practice}, Status: source.CommonPractice, Defer: []source.Deferral{source.ToMaker}},
	{ID: "R6", At: Reach, Signal: Notice, When: always,
		Words:   "Door open as briefly as you can. The kiln loses its hold.",
		Sources: []string{source.Practice}, Status: source.CommonPractice, Defer: []source.Deferral{source.ToMaker}},
}

var leaveRules = []rule{
	{ID: "U1", At: Leave, Signal: Warning, When: isYes("unattended"),
		Words: "A second cut-off, separate from the controller, was tested on {cut_off_tested}. A stuck relay ignores the program.",
		Vary: func(f Facts, _ Program) string {
			if f.CutOff == No {
				return "No second cut-off is fitted, and a stuck relay ignores the program. Stay with the kiln, or have one fitted."
			}
			return ""
		},
		Sources: []string{source.Practice}, Status: source.CommonPractice, Defer: []source.Deferral{source.ToElec}},
	{ID: "U2", At: Leave, Signal: Warning, When: always,
		Words:   "Nothing that burns within the maker's clearance, commonly [12 in|30 cm], sometimes [18 in|45 cm]. Nothing on the lid.",
		Sources: []string{source.Practice}, Status: source.CommonPractice, Defer: []source.Deferral{source.ToMaker}},
	{ID: "U3", At: Leave, Signal: Warning, When: always,
		Words:   "The kiln has its own circuit; breaker and wire carry 1.25 times its rated current. Plug and cord feel cool. No extension cord.",
		Vary:    circuitWords,
		Sources: []string{"nec"}, Status: source.Corroborated, Defer: []source.Deferral{source.ToElec}},
	{ID: "U4", At: Leave, Signal: Warning, When: always,
		Words:   "Torch out. Cylinder valves shut. Lines bled. Oxygen off.",
		Sources: []string{"osha-253"}, Status: source.Corroborated, Defer: []source.Deferral{source.ToGas}},
	{ID: "U5", At: Leave, Signal: Warning, When: isYes("overnight"),
		Words: "Smoke and CO alarms can be heard where people sleep. Someone can cut the power at {disconnect}.",
		Vary: func(_ Facts, p Program) string {
			const words = "smoke and CO alarms can be heard where people sleep. Someone can cut the power at {disconnect}."
			switch {
			case p.End != "" && p.Total > 0:
				return "For {total}, until {end}: " + words
			case p.End != "":
				return "Until {end}: " + words
			case p.Total > 0:
				return "For {total}: " + words
			}
			return ""
		},
		Sources: []string{source.Practice}, Status: source.CommonPractice, Defer: []source.Deferral{source.ToFire}},
	{ID: "U6", At: Leave, Signal: Warning, When: isYes("torch_used"),
		Words:   "Walk back and look for smoldering 30 minutes after the torch is out, better still 60.",
		Sources: []string{"osha-252", "nfpa51b"}, Status: source.Verified, Defer: []source.Deferral{source.ToFire}},
	{ID: "U7", At: Leave, Signal: Warning, When: anyOf(isOneOf("oxygen", "concentrator", "liquid"), isYes("gas_burner")),
		Words:   "Concentrator off. Liquid oxygen vents outdoors. No gas burner stays lit.",
		Sources: []string{"indg459", source.Practice}, Status: source.Verified, Defer: []source.Deferral{source.ToGas}},
	{ID: "U8", At: Leave, Signal: Notice, When: always,
		Words:   "On the kiln: phone number {phone}, set points {set_points}, expected end {end}.",
		Sources: []string{source.Practice}, Status: source.CommonPractice, Defer: []source.Deferral{source.ToMaker}},
}

// circuitWords gives U3 the current of this kiln.
func circuitWords(f Facts, _ Program) string {
	rated, ok := f.RatedKilnCurrent()
	if !ok {
		return ""
	}
	least, _, err := figure.CircuitLoad(rated)
	if err != nil {
		return ""
	}
	sum := fmt.Sprintf("%s × 1.25 = %s", rated.Text(f.Units), least.Text(f.Units))
	switch {
	case f.Breaker == 0:
		return "Own circuit; breaker and wire for " + sum + " at least. Plug and cord feel cool. No extension cord."
	case f.Breaker+1e-9 < least:
		return "The kiln needs " + sum + ", more than its " + f.Breaker.Text(f.Units) + " breaker. Have an electrician look before it runs alone."
	}
	return "Own circuit: " + sum + ", breaker " + f.Breaker.Text(f.Units) + ", wire to match. Plug and cord feel cool. No extension cord."
}

var openRules = []rule{
	{ID: "O1", At: Open, Signal: Warning, When: always,
		Words:   "Kiln power is off at the disconnect.",
		Sources: []string{"osha-333"}, Status: source.Verified, Defer: []source.Deferral{source.ToElec}},
	{ID: "O2", At: Open, Signal: Caution, When: hotterThan("kiln_temperature", figure.BareHandLimit),
		Words: "No bare hands above [109 °F|43 °C] (our own limit). The sensor is not the glass: test the piece too.",
		Vary: func(f Facts, p Program) string {
			if p.End == "" || p.Last.IsZero() || !f.KilnTemp.IsZero() {
				return ""
			}
			return "Program ends {end} at {last}. No bare hands above [109 °F|43 °C] (our own limit). The sensor is not the glass: test the piece too."
		},
		Sources: []string{"iso13732"}, Status: source.Corroborated, Defer: []source.Deferral{source.ToMaker}},
	{ID: "O3", At: Open, Signal: Caution, When: hotterThan("kiln_temperature", warmestRoom),
		Words:   "Cover your eyes. Glass that is still cooling can burst.",
		Sources: []string{source.Practice}, Status: source.CommonPractice, Defer: []source.Deferral{source.ToMaker}},
	{ID: "O4", At: Open, Signal: Caution, When: anyOf(isYes("fiber"), isYes("vermiculite")),
		Words:   "Lift fiber or vermiculite slowly, with a mask on. Wipe wet or use a HEPA vacuum. Never sweep or blow.",
		Sources: []string{"niosh-fiber"}, Status: source.Corroborated, Defer: []source.Deferral{source.ToAir}},
	{ID: "O5", At: Open, Signal: Warning, When: isYes("grinding_next"),
		Words:   "Grind and cut wet, in a mask rated for fine silica. Clean up the slurry before it dries.",
		Sources: []string{"osha-silica"}, Status: source.Corroborated, Defer: []source.Deferral{source.ToAir}},
	{ID: "O6", At: Open, Signal: Caution, When: isYes("bead_release"),
		Words:   "Scrape and mix bead release or kiln wash damp, or with a mask on.",
		Sources: []string{"osha-silica", source.Practice}, Status: source.CommonPractice, Defer: []source.Deferral{source.ToAir}},
}

var wrongRules = []rule{
	{ID: "W1", At: Wrong, Signal: Warning, When: always, Urgent: "gas_smell",
		Words:   "Gas smell or hiss: no flame, no switches. Shut the cylinder if you can reach it. Get out. Call from outside.",
		Sources: []string{"osha-253", source.Practice}, Status: source.Verified, Defer: []source.Deferral{source.ToGas}},
	{ID: "W2", At: Wrong, Signal: Warning, When: always, Urgent: "co_alarm",
		Words:   "CO alarm, headache, sick or dizzy: flame out, everyone out to fresh air, call for help. Do not go back for the kiln.",
		Sources: []string{"osha-1000", source.Practice}, Status: source.Verified, Defer: []source.Deferral{source.ToMedics}},
	{ID: "W3", At: Wrong, Signal: Warning, When: always, Urgent: "oxygen_spill",
		Words:   "Clothes soaked with oxygen, or liquid oxygen spilled: get away from every flame and spark. Air the clothes well, far from heat.",
		Sources: []string{"indg459", "eiga02"}, Status: source.Verified, Defer: []source.Deferral{source.ToGas}},
	{ID: "W4", At: Wrong, Signal: Warning, When: always, Urgent: "gas_fire",
		Words:   "Gas fire you cannot shut off: leave, close the doors, call the fire service.",
		Sources: []string{source.Practice}, Status: source.CommonPractice, Defer: []source.Deferral{source.ToFire}},
	{ID: "W5", At: Wrong, Signal: Warning, When: always,
		Words:   "Bang or squeal and the flame is gone: shut torch oxygen, then fuel, then cylinders. Find the cause before relighting. Scrap any hose it entered.",
		Sources: []string{"act-flashback", source.Practice}, Status: source.Verified, Defer: []source.Deferral{source.ToGas}},
	{ID: "W6", At: Wrong, Signal: Warning, When: always,
		Words:   "Kiln too hot: cut the power at the disconnect, not only at the controller. Keep the lid shut.",
		Sources: []string{"osha-333"}, Status: source.Verified, Defer: []source.Deferral{source.ToElec}},
	{ID: "W7", At: Wrong, Signal: Warning, When: always,
		Words:   "Burn: cool running water for 20 minutes, useful for up to 3 hours after. No ice, butter or cream. Rings off. Cover loosely.",
		Sources: []string{"burns"}, Status: source.Corroborated, Defer: []source.Deferral{source.ToMedics}},
	{ID: "W8", At: Wrong, Signal: Warning, When: always,
		Words:   "Glass or a flash in the eye: do not rub. Rinse if loose, cover, get care. Chemical: rinse for 15 minutes, then get care.",
		Sources: []string{"ansi-z358"}, Status: source.Verified, Defer: []source.Deferral{source.ToMedics}},
	{ID: "W9", At: Wrong, Signal: Warning, When: always,
		Words:   "Tight chest or cough after a session: it can start hours late. Get care, and say you breathed torch gas or metal fume.",
		Sources: []string{"osha-silver", source.Practice}, Status: source.CommonPractice, Defer: []source.Deferral{source.ToMedics}},
}
