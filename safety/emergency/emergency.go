// Package emergency holds what to do when something is wrong now: one line for
// each trigger, the first words first, and what comes after. It reads nothing,
// knows no facts and invents no number to call.
package emergency

import (
	"slices"
	"strings"

	"lehr/glass/unit/near"
	"lehr/safety/source"
)

// Line is what to do about one thing that is wrong.
type Line struct {
	ID      string            `json:"id"`
	Trigger string            `json:"trigger"` // what is wrong, in capitals
	Do      string            `json:"do"`      // the first words
	Then    []string          `json:"then"`    // what comes after, in order
	Sources []source.Source   `json:"sources"`
	Status  source.Status     `json:"status"`
	Defer   []source.Deferral `json:"defer"`

	words []string // by which it is found
}

func line(id, trigger, words, do string, then []string, status source.Status, defers []source.Deferral, keys ...string) Line {
	return Line{ID: id, Trigger: trigger, Do: do, Then: then, Sources: source.Of(keys...), Status: status, Defer: defers, words: strings.Fields(words)}
}

var (
	gas   = []source.Deferral{source.ToGas, source.ToFire}
	fire  = []source.Deferral{source.ToFire}
	torch = []source.Deferral{source.ToGas, source.ToFire, source.ToMaker}
	elec  = []source.Deferral{source.ToElec, source.ToFire}
	medic = []source.Deferral{source.ToMedics}
)

// lines is the list, gravest first.
var lines = []Line{
	line("W1", "GAS", "gas smell hiss leak propane butane methane",
		"Everyone out. No flame, switch or phone inside. Shut the cylinder only on your way. Call from outside.",
		[]string{"Leave lights and fans as they are.", "Leave doors open behind you.", "Nobody goes back in until the gas supplier or the fire service says so."},
		source.CommonPractice, gas, "osha-253", source.Practice),
	line("W2", "CO ALARM, SICK", "carbon monoxide co alarm headache dizzy sick poisoned",
		"Everyone out to fresh air. Call. Nobody goes back in.",
		[]string{"Alarm, headache, sickness or dizziness: one of them is enough.", "Flame out only if it is on your way.", "Say that it may be carbon monoxide."},
		source.CommonPractice, medic, "osha-1000", source.Practice),
	line("W3", "FIRE AT BENCH", "fire bench torch hose flame burning",
		"Shut the fuel if you can reach it. Fight it only while small, with the way out behind you; else FIRE IN ROOM.",
		[]string{"Never put out a gas flame you cannot shut off.", "A hydrogen flame can hardly be seen: stay well back.", "When it is out, leave, and call: it can come back."},
		source.CommonPractice, fire, "hydrogen", source.Practice),
	line("W4", "FIRE IN ROOM", "fire room building smoke house",
		"Everyone out, doors shut behind you. Call from outside.",
		[]string{"A gas fire you cannot shut off, and a cylinder in a fire, are left at once.", "Tell the fire service of every cylinder.", "Nobody goes back in."},
		source.CommonPractice, fire, source.Practice),
	line("W5", "CLOTHES AFIRE", "fire clothes clothing hair sleeve burning",
		"Stop. Drop. Roll. Or smother with a blanket. Then BURN.",
		[]string{"Do not run.", "Take off what is not stuck."},
		source.CommonPractice, medic, source.FirstAid),
	line("W6", "KILN", "kiln hot overheating burning furnace",
		"Too hot: cut the power at the disconnect, lid shut. Burning: cut it only on your way, then FIRE IN ROOM.",
		[]string{"The controller's switch does not count.", "No water: not on a kiln, not on its wiring.", "It stays off until an electrician has found the cause."},
		source.CommonPractice, elec, "osha-333", source.Practice),
	line("W7", "SHOCK", "shock electric electricity current electrocuted",
		"Do not touch them. Cut the power. Call. Then COLLAPSE.",
		[]string{"A wire that hangs or a wet floor counts as live.", "Every shock is seen by a clinician, also when nothing shows."},
		source.CommonPractice, medic, source.FirstAid),
	line("W8", "COLLAPSE", "collapse unconscious faint heart breathing cpr",
		"Call, phone on speaker. Not breathing normally: push hard and fast on the chest. Send for a defibrillator.",
		[]string{"Gas or carbon monoxide about: first out, both of you, or call and wait outside.", "Breathing: on the side, and watch.", "Do what the voice on the phone says."},
		source.CommonPractice, medic, source.FirstAid),
	line("W9", "BURN", "burn burned scald blister",
		"Rings off. Cool running water, 20 min. No ice. Call if big, white, charred, electric, or on face, hand or joint.",
		[]string{"Water still helps up to 3 hours after.", "Clothes off unless stuck. No butter, no cream.", "Cover loosely and keep the person warm.", "A clinician also for feet, genitals, and wider than 3 cm."},
		source.Corroborated, medic, "burns"),
	line("W10", "EYE", "eye eyes glass splinter chemical acid splash flash",
		"Chemical: rinse now, 15 min; call. Glass: never rub; cover.",
		[]string{"Chemical: call while you rinse, and say what it is.", "Glass: cover loosely, do not press; a clinician takes it out.", "Rinse under running water, lids held open, from the nose outward.", "Do not pull anything out.", "Sore or blind after a bright flash: a clinician looks, today."},
		source.CommonPractice, medic, "ansi-z358", source.FirstAid),
	line("W11", "BLEEDING", "bleeding blood cut wound gash",
		"Press hard with a cloth, beside glass that sticks in it. Call.",
		[]string{"Glass stuck in it stays.", "Lie down, keep pressing, cloth upon cloth.", "Blood that spurts or soaks through: call at once."},
		source.CommonPractice, medic, source.FirstAid),
	line("W12", "CANNOT BREATHE", "breathe breath breathing chest cough lungs fume",
		"Out to fresh air, sit up, call. Also when it comes later.",
		[]string{"Tight chest or a cough after a session counts.", "Say that you breathed torch gas or metal fume."},
		source.CommonPractice, medic, source.FirstAid),
	line("W13", "FLASHBACK", "flashback bang squeal pop hose arrestor",
		"Shut torch (maker's order, else oxygen first), then cylinders.",
		[]string{"A bang or a squeal, and the flame is gone.", "Hose still burning: its cylinder shut, if you can reach it; else FIRE IN ROOM.", "A cylinder that warms by itself or hisses: everyone out. Call from outside; nobody moves it.", "No relighting until the cause is found.", "A hose it entered is scrapped."},
		source.CommonPractice, torch, "act-flashback", source.Practice),
	line("W14", "OXYGEN SPILL", "oxygen liquid dewar soaked spill enriched",
		"Away from every flame and spark. Air clothes outdoors, 30 min.",
		[]string{"Clothes hold oxygen and burn fiercely.", "Well away from heat, before anything else.", "Shut the oxygen at its source if that is on your way. Doors open; nobody goes in until the room is aired.", "Liquid on skin or in an eye: frostbite. Lukewarm water, 15 min, no rubbing; what sticks stays. Call."},
		source.CommonPractice, []source.Deferral{source.ToGas, source.ToFire, source.ToMedics}, "indg459", "eiga02", source.FirstAid, source.Practice),
	line(powerFailed, "POWER FAILURE", "power failure outage blackout failed dark",
		"Torch off: no fan runs. Kiln: lid shut, off at the disconnect.",
		[]string{"At the disconnect or the plug: the controller's switch does not count, and some heat by themselves when the power is back.", "Write down the hour and what the kiln reads; where its display is dark, the last reading that is known and the hour of that. Again when the power is back and the program is stopped.", "lehr plan takes both readings (--was, --now) and says how to go on.", "A hot plug, a smell or a breaker that tripped: it stays off until an electrician has found the cause.", "A generator stands outdoors: its exhaust holds carbon monoxide."},
		source.CommonPractice, elec, source.Practice),
	line("W16", "GLASS BURSTS", "glass crack cracks cracked cracking burst bursts bursting shatter shattered explode exploded",
		"Away from it. Lid stays shut: more can burst. Open it cold.",
		[]string{"Let the program run on: it is the gentlest for what is whole.", "Burning, or too hot: KILN.", "Open it at room temperature, kiln power off at the disconnect, eyes and face covered, hands in gloves that resist cuts.", "Splinters on an element or in the wiring: its maker or an electrician.", "What lay beside it may be cracked: look at each through the light before it is handled or heated again."},
		source.CommonPractice, elec, source.Practice),
}

const powerFailed = "W15"

// GoesOn returns the step of Then, from 1, that plans on from two readings; 0 where
// none does.
func (l *Line) GoesOn() int {
	if l.ID == powerFailed {
		return 3
	}
	return 0
}

// All returns every line, gravest first.
func All() []Line { return slices.Clone(lines) }

// Find returns the lines that words mean best: "fire" means three, "fire in the
// room" one. Only words of the list count, letter by letter: a line for another
// danger costs time. The second result is false if none is known.
func Find(typed string) ([]Line, bool) {
	score := make([]int, len(lines))
	best := 0
	for word := range strings.FieldsSeq(strings.ToLower(typed)) {
		for i, l := range lines {
			if l.means(word) {
				score[i]++
				best = max(best, score[i])
			}
		}
	}
	var found []Line
	for i, l := range lines {
		if best > 0 && score[i] == best {
			found = append(found, l)
		}
	}
	return found, best > 0
}

// Near returns the word of the list that may be meant where [Find] knows none,
// "" if nothing is like it. Nobody is sent there by it.
func Near(typed string) string {
	for word := range strings.FieldsSeq(strings.ToLower(typed)) {
		if w := near.Word(word, Words()); w != "" {
			return w
		}
	}
	return ""
}

func (l Line) means(word string) bool {
	return strings.EqualFold(l.ID, word) || slices.Contains(l.words, word)
}

// Words returns every word that [Find] knows, in the order of the list.
func Words() []string {
	var out []string
	for _, l := range lines {
		for _, w := range l.words {
			if !slices.Contains(out, w) {
				out = append(out, w)
			}
		}
	}
	return out
}

// Of returns the lines of the IDs, in that order.
func Of(ids ...string) []Line {
	var out []Line
	for _, id := range ids {
		for _, l := range lines {
			if l.ID == id {
				out = append(out, l)
			}
		}
	}
	return out
}
