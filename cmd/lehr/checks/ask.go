package checks

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"slices"
	"strings"

	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/session"
	"lehr/cmd/lehr/term"
	"lehr/glass/strict"
	"lehr/safety/checklist"
	"lehr/safety/emergency"
)

// asking is a run through the list on a terminal.
type asking struct {
	app     *desk.App
	ctx     context.Context
	session *checklist.Session
	record  string // the file it is kept in, "" for none
	was     string // what it holds, as far as this run knows
	next    bool   // the torch comes next, and other points after it
	lines   chan string
	point   checklist.Point
}

// newAsking prepares a run: from the start, or from where a record ends.
func newAsking(a *desk.App, s *Flags, f checklist.Facts, points []checklist.Point) (*asking, error) {
	k := &asking{app: a, next: len(points) == 0, lines: make(chan string)}
	var err error
	switch {
	case s.Resume != "":
		return k, k.resume(s.Resume, f)
	case s.Record != "":
		k.record, err = recordName(s.Record, session.Now())
	}
	k.session = f.Session(points...)
	return k, err
}

// ask goes through the lines. Lines left open or not done end with status 3.
func (k *asking) ask(ctx context.Context) error {
	a := k.app
	k.ctx = ctx
	go k.listen(a.In)
	a.Prose(0, `Answer each line: done; no and why, if it is not done; na and why, if it does not apply; back; stop; or ? for its source. One letter will do. If something is wrong now, type wrong.`)
	if k.record == "" {
		a.Prose(0, "Nothing is kept: --record FILE keeps the answers, and a run that was stopped can go on.")
	}
	var all []checklist.Line
	for {
		line, waiting := k.session.Line()
		if !waiting {
			break
		}
		if !slices.ContainsFunc(all, func(l checklist.Line) bool { return l.ID == line.ID }) {
			all = append(all, line)
		}
		k.show(line)
		danger, err := k.answer(line)
		if err == nil {
			err = k.save()
		}
		if err != nil {
			return err
		}
		if danger {
			return desk.ErrOverLimit
		}
	}
	a.Print("\n")
	a.Prose(0, strings.Join(checklist.Foot([]checklist.Page{{Lines: all}}), " "))
	return k.finish()
}

// listen hands on what is typed, line by line.
func (k *asking) listen(in io.Reader) {
	defer close(k.lines)
	scan := bufio.NewScanner(in)
	for scan.Scan() {
		select {
		case k.lines <- strict.Visible(scan.Text()):
		case <-k.ctx.Done():
			return
		}
	}
}

// read shows a prompt and waits for a line. It returns false at the end of the
// input and on an interrupt.
func (k *asking) read(prompt string) (string, bool, error) {
	k.app.Print(prompt)
	if err := k.app.Flush(); err != nil {
		return "", false, err
	}
	select {
	case s, ok := <-k.lines:
		if !ok {
			k.app.Print("\n")
		}
		return strings.TrimSpace(s), ok, nil
	case <-k.ctx.Done():
		k.app.Print("\n")
		return "", false, nil
	}
}

// show prints the waiting line, below its heading if the point is new.
func (k *asking) show(l checklist.Line) {
	a := k.app
	a.Print("\n")
	if l.Point != k.point {
		k.point = l.Point
		pageHead(a, l.Point)
	}
	number, of := k.session.Place()
	a.Print(a.Style(term.Faint, fmt.Sprintf("%d of %d", number, of)) + "\n")
	showLine(a, l)
}

// answer asks until the waiting line has its answer, or the run moves
// elsewhere. It reports whether a danger ended it.
func (k *asking) answer(l checklist.Line) (danger bool, err error) {
	word := "done"
	if l.Confirm != "" {
		word = l.Confirm
	}
	for {
		typed, ok, err := k.read(word + " / no / na / back / stop / wrong / ? > ")
		if err != nil || !ok {
			k.session.Stop()
			return false, err
		}
		first, rest, _ := strings.Cut(typed, " ")
		rest = strings.TrimSpace(rest)
		meaning := l.Meaning(first)
		if _, err := checklist.ParseDate(first, session.Now()); l.Dated() && err == nil {
			meaning, rest = checklist.Confirmed, first // the day alone will do
		}
		if meaning != checklist.Unclear {
			taken, moved, err := k.take(l, meaning, rest)
			if err != nil || taken {
				return false, err
			}
			if moved == "" {
				continue
			}
			first, rest, _ = strings.Cut(moved, " ")
		}
		switch command(first) {
		case "back":
			if !k.session.Back() {
				k.app.Print("This is the first line.\n")
				continue
			}
			return false, nil
		case "stop":
			k.session.Stop()
			return false, nil
		case "wrong":
			k.wrong(rest)
			return true, nil
		case "?":
			showGrounds(k.app, l)
			continue
		}
		if k.unclear(l, typed) {
			return true, nil
		}
	}
}

// take takes an answer with what belongs to it: the date of a test, what goes
// on a blank, the reason of what is not done. moved is a word that counts at
// any prompt, if one was typed instead.
func (k *asking) take(l checklist.Line, meaning checklist.Meaning, said string) (taken bool, moved string, err error) {
	ask := question(l, meaning)
	for {
		if said == "" && ask != "" {
			var ok bool
			if said, ok, err = k.read(ask); err != nil || !ok {
				return false, "stop", err
			}
			if c := command(said); c == "stop" || c == "wrong" || c == "back" && meaning != checklist.Confirmed {
				return false, c, nil
			} else if c == "back" || said == "" && (l.Dated() || meaning != checklist.Confirmed) {
				return false, "", nil
			}
		}
		if ask != "" && l.Dated() && meaning == checklist.Confirmed { // no test: then the line is not done
			if meaning, said = untested(said); meaning != checklist.Confirmed {
				if ask = question(l, meaning); said == "" {
					continue
				}
			}
		}
		if l.Confirm != "" && meaning != checklist.Confirmed && namesDanger(said) {
			return false, "wrong " + said, nil
		}
		if err = k.note(meaning, said); err == nil {
			return true, "", nil
		}
		k.refuse(err)
		if ask == "" {
			return false, "", nil
		}
		said = ""
	}
}

// note puts an answer into the record of the session.
func (k *asking) note(meaning checklist.Meaning, said string) error {
	switch meaning {
	case checklist.Confirmed:
		return k.session.Done(session.Now(), said)
	case checklist.NotHere:
		return k.session.NotDone(session.Now(), "does not apply: "+said)
	}
	return k.session.NotDone(session.Now(), said)
}

// untested takes "no" or "na" in the place of the date of a test, and why.
func untested(said string) (checklist.Meaning, string) {
	word, why, _ := strings.Cut(strings.TrimSpace(said), " ")
	switch strings.ToLower(word) {
	case "n", "no":
		return checklist.Refused, strings.TrimSpace(why)
	case "na", "n/a":
		return checklist.NotHere, strings.TrimSpace(why)
	}
	return checklist.Confirmed, said
}

// question returns what to ask behind an answer, or nothing.
func question(l checklist.Line, meaning checklist.Meaning) string {
	switch {
	case meaning == checklist.NotHere:
		return "why does it not apply (Enter: back to the line) > "
	case meaning == checklist.Refused && l.Confirm != "":
		return "a smell, hiss or alarm: type wrong. Else why is it not done > "
	case meaning == checklist.Refused:
		return "why is it not done (Enter: back to the line) > "
	case l.Dated():
		return "day of the last test, year-month-day, or today (none: no, and why) > "
	case slices.ContainsFunc(l.Blanks, func(b checklist.Blank) bool { return b.Value == "" }):
		return "what goes on the ____ (Enter leaves it empty) > "
	}
	return ""
}

// command returns the word that moves a run which a typed word stands for, or
// nothing.
func command(typed string) string {
	switch strings.ToLower(typed) {
	case "b", "back":
		return "back"
	case "s", "stop", "q", "quit", "exit":
		return "stop"
	case "w", "wrong":
		return "wrong"
	case "?", "why", "h", "help":
		return "?"
	}
	return ""
}

// unclear says why a word is no answer. Where it names something that is wrong,
// it goes there, and reports that.
func (k *asking) unclear(l checklist.Line, typed string) (danger bool) {
	a := k.app
	word, _, _ := strings.Cut(strings.ToLower(typed), " ")
	near := strict.Nearest(word, []string{"done", "back", "stop", "wrong", "clear"})
	switch {
	case (word == "y" || word == "yes" || word == "d" || word == "done") && l.Confirm != "":
		a.Prose(0, "That could mean either. Type "+l.Confirm+" if all is "+l.Confirm+"; a smell, hiss or alarm: type wrong.")
	case word == "y" || word == "yes":
		a.Prose(0, "What is known speaks against this line, so yes could mean either. Type done if you have dealt with it, or no and why.")
	case word == "":
		a.Prose(0, "Type the first word when it is so.")
	case namesDanger(typed):
		k.wrong(typed)
		return true
	case near != "":
		a.Prose(0, "Did you mean "+near+"? Type done, no, na, back, stop, wrong or ?.")
	default:
		if _, is := emergency.Find(typed); is {
			k.wrong(typed)
			return true
		}
		a.Prose(0, "Type done, no, na, back, stop, wrong or ?.")
	}
	return false
}

// namesDanger reports whether a word of a text is one of the list of what can
// go wrong.
func namesDanger(typed string) bool {
	return slices.ContainsFunc(strings.Fields(strings.ToLower(typed)), func(w string) bool { return slices.Contains(emergency.Words(), w) })
}

// refuse says why an answer was not taken.
func (k *asking) refuse(err error) {
	text := err.Error()
	if hint := term.HintOf(err); hint != "" {
		text += "; " + hint
	}
	k.app.Prose(0, text+".")
}

// wrong ends the run with what to do now.
func (k *asking) wrong(about string) {
	k.session.Stop()
	k.app.Print("\n")
	if lines, is := emergency.Find(about); is {
		showEmergency(k.app, lines)
	} else {
		showWrong(k.app)
	}
	k.app.Print("\nThe list ends here.\n")
	k.again()
}

// again says how a run that ended early goes on.
func (k *asking) again() {
	if k.record != "" {
		k.app.Prose(0, "It goes on with: lehr safety --resume "+desk.ShellWord(k.record))
	}
}

// showGrounds prints what a line rests on and to whom it defers.
func showGrounds(a *desk.App, l checklist.Line) {
	a.Item("  ", "Status: "+string(l.Status)+".")
	for _, s := range l.Sources {
		a.Item("  ", s.Cite+" ("+s.Read+")")
	}
	for _, d := range l.Defer {
		a.Item("  ", d.Text())
	}
}

// finish says what was reported, what is open and what comes next.
func (k *asking) finish() error {
	a := k.app
	r := k.session.Record(session.Now())
	a.Print("\n")
	if len(r.Open) > 0 {
		showOpen(a, r.Open)
		k.again()
		return desk.ErrOverLimit
	}
	left := r.NotKept()
	a.Printf("Every line is answered: %d reported done, %d NOT DONE.\n", len(r.Answers)-len(left), len(left))
	for _, x := range left {
		if x.Done {
			a.Item("  ", x.Line.ID+": reported done, but what is known breaks it; change the fact if it is so no longer")
		} else {
			a.Item("  ", x.Line.ID+": "+x.Said)
		}
	}
	if k.record != "" {
		a.Printf("Record of what was reported: %s\n", term.Clean(k.record))
	}
	if k.next {
		a.Prose(0, nextPoints)
	}
	return desk.OverIf(len(left) > 0)
}

// showOpen names the lines without an answer, point by point.
func showOpen(a *desk.App, open []checklist.Line) {
	word := "lines are"
	if len(open) == 1 {
		word = "line is"
	}
	a.Print(a.Style(term.Bad, fmt.Sprintf("Not finished: %d %s open.", len(open), word)) + "\n")
	for i, l := range open {
		if i == 0 || open[i-1].Point != l.Point {
			var ids []string
			for _, m := range open[i:] {
				if m.Point == l.Point {
					ids = append(ids, m.ID)
				}
			}
			a.Item("  ", l.Point.Title()+": "+strings.Join(ids, " "))
		}
	}
}
