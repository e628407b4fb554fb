package main

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"slices"
	"strings"

	"lehr/glass/strict"
	"lehr/safety/checklist"
)

// asking is a run through the list on a terminal.
type asking struct {
	app     *app
	ctx     context.Context
	facts   checklist.Facts
	session *checklist.Session
	lines   chan string // what is typed, closed at its end
	point   checklist.Point
}

// ask goes through the lines of the points and writes the record, if one is
// wanted, when all are answered. Lines left open end with status 3.
func (a *app) ask(ctx context.Context, f checklist.Facts, points []checklist.Point, record string) error {
	k := &asking{app: a, ctx: ctx, facts: f, session: checklist.NewSession(f, points...), lines: make(chan string)}
	go k.listen(a.in)
	a.prose(0, `Answer each line: done; na and why, if it does not apply; back; stop; or ? for its source. One letter will do. If something is wrong now, type wrong.`)
	for {
		line, waiting := k.session.Line()
		if !waiting {
			break
		}
		k.show(line)
		if err := k.answer(line); err != nil {
			return err
		}
	}
	k.foot(points)
	if open := k.session.Open(); len(open) > 0 {
		a.print("\n")
		a.showOpen(open)
		if record != "" {
			a.print("No record is written.\n")
		}
		return errOverLimit
	}
	return a.finished(k.session, record)
}

// listen hands on what is typed, line by line.
func (k *asking) listen(in io.Reader) {
	defer close(k.lines)
	scan := bufio.NewScanner(in)
	for scan.Scan() {
		select {
		case k.lines <- clean(scan.Text()):
		case <-k.ctx.Done():
			return
		}
	}
}

// read shows a prompt and waits for a line. It returns false at the end of the
// input and on an interrupt.
func (k *asking) read(prompt string) (string, bool, error) {
	k.app.print(prompt)
	if err := k.app.out.Flush(); err != nil {
		return "", false, err
	}
	select {
	case s, ok := <-k.lines:
		if !ok {
			k.app.print("\n")
		}
		return strings.TrimSpace(s), ok, nil
	case <-k.ctx.Done():
		k.app.print("\n")
		return "", false, nil
	}
}

// show prints the waiting line, below its heading if the point is new.
func (k *asking) show(l checklist.Line) {
	a := k.app
	a.print("\n")
	if l.Point != k.point {
		k.point = l.Point
		a.pageHead(l.Point)
	}
	number, of := k.session.Place()
	a.print(a.style(styleFaint, fmt.Sprintf("%d of %d", number, of)) + "\n")
	a.showLine(l.ID, l)
}

// prompt names the answers.
const prompt = "done / na / back / stop / wrong / ? > "

// answer asks until the waiting line has its answer, or the run moves
// elsewhere.
func (k *asking) answer(l checklist.Line) error {
	a := k.app
	for {
		typed, ok, err := k.read(prompt)
		if err != nil {
			return err
		}
		if !ok {
			k.session.Stop()
			return nil
		}
		word, rest, _ := strings.Cut(typed, " ")
		rest = strings.TrimSpace(rest)
		answer := answerWord(word)
		if ask := question(answer, rest, l); ask != "" {
			if rest, ok, err = k.read(ask); err != nil {
				return err
			}
			w := answerWord(rest)
			if !ok {
				w = "stop"
			}
			switch {
			case w == "stop", w == "wrong":
				answer = w // these count at any prompt
			case w == "back", answer == "na" && (rest == "" || w == "done"):
				continue
			case w == "done":
				rest = ""
			}
		}
		switch answer {
		case "done":
			if err := k.session.Done(rest); err != nil {
				k.refuse(err)
				continue
			}
			return nil
		case "na":
			if err := k.session.NotApplicable(rest); err != nil {
				k.refuse(err)
				continue
			}
			return nil
		case "back":
			if !k.session.Back() {
				a.print("This is the first line.\n")
				continue
			}
			return nil
		case "stop":
			k.session.Stop()
			return nil
		case "wrong":
			return k.wrong()
		case "?":
			a.showGrounds(l)
		case "no":
			a.prose(0, "Then put it right first; it stays open until you say done. If it does not apply here, type na and why.")
		case "":
			a.prose(0, "Type done, or d, when it is done.")
		default:
			hint := "Type done, na, back, stop, wrong or ?."
			if near := strict.Nearest(word, []string{"done", "back", "stop", "wrong"}); near != "" {
				hint = "Did you mean " + near + "? " + hint
			}
			a.prose(0, hint)
		}
	}
}

// question returns what to ask behind an answer, or nothing: what belongs in
// the line's blank, or why a line does not apply.
func question(answer, said string, l checklist.Line) string {
	switch {
	case said != "":
	case answer == "done" && hasEmptyBlank(l):
		return "what goes on the ____ (Enter leaves it empty) > "
	case answer == "na" && l.Signal != checklist.Danger:
		return "why does it not apply (Enter: back to the line) > "
	}
	return ""
}

// answerWord returns the answer a typed word stands for, or the word itself.
func answerWord(typed string) string {
	switch w := strings.ToLower(typed); w {
	case "d", "done", "y", "yes":
		return "done"
	case "na", "n/a":
		return "na"
	case "b", "back":
		return "back"
	case "s", "stop", "q", "quit", "exit":
		return "stop"
	case "w", "wrong":
		return "wrong"
	case "?", "why", "h", "help":
		return "?"
	case "n", "no", "not":
		return "no"
	default:
		return w
	}
}

func hasEmptyBlank(l checklist.Line) bool {
	for _, b := range l.Blanks {
		if b.Value == "" {
			return true
		}
	}
	return false
}

// refuse says why an answer was not taken.
func (k *asking) refuse(err error) {
	text := err.Error()
	if hint := hintOf(err); hint != "" {
		text += "; " + hint
	}
	k.app.prose(0, text+".")
}

// foot prints, once, to whom the lines of the run defer.
func (k *asking) foot(points []checklist.Point) {
	k.app.print("\n")
	k.app.prose(0, strings.Join(checklist.Foot(checklist.Checklist(k.facts, points...)), " "))
}

// wrong shows what to do when something is wrong, and waits.
func (k *asking) wrong() error {
	k.app.print("\n")
	k.app.showWrong()
	typed, ok, err := k.read("Enter: back to the list; stop ends it > ")
	if err != nil {
		return err
	}
	if !ok || answerWord(typed) == "stop" {
		k.session.Stop()
	}
	k.point = "" // show the heading again
	return nil
}

// showGrounds prints what a line rests on and to whom it defers.
func (a *app) showGrounds(l checklist.Line) {
	for _, s := range l.Sources {
		a.item("  ", s.Cite+" ("+s.Read+")")
	}
	for _, d := range l.Defer {
		a.item("  ", d.Text())
	}
}

// showOpen names the lines without an answer, point by point.
func (a *app) showOpen(open []checklist.Line) {
	word := "lines are"
	if len(open) == 1 {
		word = "line is"
	}
	a.print(a.style(styleBad, fmt.Sprintf("Not finished: %d %s open.", len(open), word)) + "\n")
	for i, l := range open {
		if i == 0 || open[i-1].Point != l.Point {
			var ids []string
			for _, m := range open[i:] {
				if m.Point != l.Point {
					break
				}
				ids = append(ids, m.ID)
			}
			a.item("  ", l.Point.Title()+": "+strings.Join(ids, " "))
		}
	}
}

// finished says what was reported, and writes the record if one is wanted.
func (a *app) finished(s *checklist.Session, record string) error {
	r, err := s.Record(now())
	if err != nil {
		return err
	}
	done, rest := 0, []string{}
	for _, x := range r.Answers {
		if x.Done {
			done++
		} else {
			rest = append(rest, x.Line.ID+" ("+x.Said+")")
		}
	}
	a.printf("\nEvery line is answered: %d reported done, %d not applicable.\n", done, len(rest))
	if len(rest) > 0 {
		a.prose(0, "Not applicable: "+strings.Join(rest, ", ")+".")
	}
	danger := slices.ContainsFunc(r.Answers, func(x checklist.Reply) bool { return x.Line.Signal == checklist.Danger })
	if record != "" {
		if err := a.saveRecord(record, r); err != nil {
			return err
		}
	}
	return overIf(danger)
}
