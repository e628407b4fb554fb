package checks

import (
	"fmt"
	"os"
	"slices"
	"strings"

	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/flags"
	"lehr/cmd/lehr/session"
	"lehr/cmd/lehr/term"
	"lehr/safety/checklist"
	"lehr/safety/emergency"
	"lehr/safety/source"
)

// Wrong is lehr wrong: the line of the word, or the whole list.
func Wrong(a *desk.App, args []string) error {
	word := strings.Join(args, " ")
	lines, found := emergency.Find(word)
	if !found {
		lines = emergency.All()
	}
	switch {
	case a.JSON:
		return emergencyJSON(a, "", lines)
	case found:
		showEmergency(a, lines)
	default:
		if word != "" {
			text := fmt.Sprintf("No line for %q; this is the whole list.", term.Clean(word))
			if near := emergency.Near(word); near != "" {
				text = fmt.Sprintf("No line for %q (meant: %s?); this is the whole list.", term.Clean(word), near)
			}
			a.Prose(0, text)
		}
		showWrong(a)
	}
	return nil
}

// EmergencyNumber is the number to call: of the facts typed, else of the studio file, ""
// if neither says it or the file cannot be read. It waits for nothing.
func EmergencyNumber(a *desk.App, typed ...string) string {
	if f, err := flags.FactsTyped("", typed); err == nil && f.EmergencyNumber != "" {
		return f.EmergencyNumber
	}
	name := a.Studio
	if name == "" {
		name = desk.StudioName
	}
	if info, err := os.Stat(name); err != nil || !info.Mode().IsRegular() {
		return ""
	}
	st, err := a.ReadStudio()
	if err != nil {
		return ""
	}
	return session.EmergencyNumber(nil, st)
}

// showWrong prints every line so that all of it stands on a screen of 24 rows.
func showWrong(a *desk.App) {
	a.Strong(session.Call(EmergencyNumber(a)))
	for _, l := range emergency.All() {
		a.Print(a.Style(term.Bad, term.Pad(l.Trigger, 16)))
		a.Hanging(16, l.Do)
	}
	a.Prose(0, "After that: lehr wrong fire. Local services, codes and trades overrule this.")
}

// showEmergency prints lines in full, below the number in large figures.
func showEmergency(a *desk.App, lines []emergency.Line, typed ...string) {
	number := EmergencyNumber(a, typed...)
	a.Strong(session.Call(number))
	a.Print(large(number))
	for _, l := range lines {
		a.Print("\n" + a.Style(term.Bad, l.Trigger) + "\n")
		a.Item("1. ", l.Do)
		for i, s := range l.Then {
			a.Item(fmt.Sprintf("%d. ", i+2), s)
		}
	}
	a.Print("\n")
	a.Prose(0, strings.Join(deferralTexts(deferralsOf(lines)), " ")+" The other lines: lehr wrong.")
}

func deferralsOf(lines []emergency.Line) (list []source.Deferral) {
	for _, d := range source.Deferrals() {
		if slices.ContainsFunc(lines, func(l emergency.Line) bool { return slices.Contains(l.Defer, d) }) {
			list = append(list, d)
		}
	}
	return list
}

// figures are the digits, five rows of three columns each.
var figures = map[rune]string{
	'0': "### # # # # # # ###", '1': " #  ##   #   #  ###", '2': "###   # ### #   ###", '3': "###   # ###   # ###", '4': "# # # # ###   #   #",
	'5': "### #   ###   # ###", '6': "### #   ### # # ###", '7': "###   #   #   #   #", '8': "### # # ### # # ###", '9': "### # # ###   # ###",
}

// large writes the digits of a number five rows high, "" if it has none or is
// too long for a terminal.
func large(number string) string {
	rows := make([]string, 5)
	for _, r := range number {
		glyph, digit := figures[r]
		for i := range rows {
			cell := "  " // between groups
			if digit {
				cell = glyph[4*i : 4*i+3]
			}
			rows[i] += cell + " "
		}
	}
	if len(rows[0]) == 0 || len(rows[0]) > 78 {
		return ""
	}
	for i := range rows {
		rows[i] = strings.TrimRight("  "+rows[i], " ")
	}
	return strings.Join(rows, "\n") + "\n"
}

// emergencyJSON prints the lines; one of a danger that is reported carries a
// verdict where a plan has its own.
func emergencyJSON(a *desk.App, verdict string, lines []emergency.Line, typed ...string) error {
	return a.PrintJSON(struct {
		Verdict string           `json:"verdict,omitempty"`
		List    string           `json:"list"`
		Number  string           `json:"emergency_number"`
		Lines   []emergency.Line `json:"lines"`
	}{verdict, checklist.Version, EmergencyNumber(a, typed...), lines})
}

// Dangers returns what to do now if a fact typed on the command line says that
// there is a danger.
func Dangers(cmd string, typed []string) ([]emergency.Line, error) {
	f, err := flags.FactsTyped(cmd, typed)
	if err != nil {
		return nil, err
	}
	return f.Dangers(), nil
}

// Danger prints what to do now if a fact typed on the command line says that
// there is one. Nothing else is printed then: no list and no program.
func Danger(a *desk.App, cmd string, typed []string) (stop bool, err error) {
	lines, err := Dangers(cmd, typed)
	if err != nil {
		return true, err
	}
	if len(lines) == 0 {
		return false, nil
	}
	if a.JSON {
		if err := emergencyJSON(a, "danger", lines, typed...); err != nil {
			return true, err
		}
		return true, desk.ErrOverLimit
	}
	ShowDanger(a, lines, typed...)
	return true, desk.ErrOverLimit
}

// ShowDanger prints what to do about dangers that are reported, and nothing else.
func ShowDanger(a *desk.App, lines []emergency.Line, typed ...string) {
	a.Print(a.Style(term.Bad, string(checklist.Danger)) + ": reported present. Nothing else is printed until it is over.\n")
	showEmergency(a, lines, typed...)
}
