package web

import (
	"errors"
	"fmt"
	"strings"

	"lehr/anneal/kiln"
	"lehr/anneal/outage"
	"lehr/anneal/piece"
	"lehr/anneal/plan"
	"lehr/anneal/program"
	"lehr/cmd/lehr/session"
	"lehr/cmd/lehr/term"

	"lehr/glass"
	"lehr/glass/strict"
	"lehr/glass/unit"
	"lehr/safety/checklist"
	"lehr/safety/emergency"
)

// asked is what a form asks for.
type asked struct {
	load    *piece.Load
	studio  kiln.Studio
	options plan.Options
	ready   *unit.Clock       // ready by this time of day, nil if nobody asked
	search  bool              // for the shortest program
	over    *program.Schedule // to be drawn over the planned one, nil if nobody asked
	// The readings after a power failure, without a temperature if it has not failed.
	was, now outage.Reading
}

// dangers returns what to do now, if something is reported wrong now.
func (f *form) dangers() []emergency.Line {
	if f.Now.Value == "" || !checklist.IsDanger(f.Now.Value) {
		return nil
	}
	facts, err := checklist.FactsFrom(map[string]any{f.Now.Value: "yes"}, checklist.Typed, session.Now())
	if err != nil {
		f.Now.fault("", err)
		return nil
	}
	return facts.Dangers()
}

// read turns what was filled in into a load; faults are noted at their fields,
// every one of them.
func (f *form) read() asked {
	a := asked{studio: f.readStudio(), load: &piece.Load{Into: piece.HotKiln, Name: strings.TrimSpace(f.Name.Value)}}
	if f.Now.Value != "" && !checklist.IsDanger(f.Now.Value) {
		f.Now.fault("", fmt.Errorf("%s: is no danger of the list", f.Now.Value))
	}
	var err error
	if a.load.Into, err = piece.ParseInto(f.Into.Value); err != nil {
		f.Into.fault("", err)
	}
	a.load.Start, a.ready = f.clock(f.Start), f.clock(f.Ready)
	switch f.Search.Value {
	case "rule":
	case "shortest":
		a.search = true
	default:
		f.Search.fault("", fmt.Errorf("%s: is neither rule nor shortest", f.Search.Value))
	}
	if f.Glass.Value != "" {
		if _, err := glass.Find(f.Glass.Value); err != nil {
			f.Glass.fault("", err)
		}
	}
	f.readPieces(a.load)
	f.readDoor(a.load)
	if len(f.faults()) == 0 {
		if err := a.load.ResolveTimes(); err != nil {
			x, wrong := f.doorField(err)
			x.fault("", wrong)
		}
	}
	f.readFacts(a.load)
	a.over = f.readOver()
	f.readPower(&a)
	return a
}

// readOver reads the program that is to be drawn over the planned one.
func (f *form) readOver() *program.Schedule {
	if strings.TrimSpace(f.Over.Value) == "" {
		return nil
	}
	s, err := program.Read(strings.NewReader(f.Over.Value), "program")
	var at *strict.Error
	where := ""
	if errors.As(err, &at) && at.Line > 0 {
		where = fmt.Sprintf("line %d", at.Line)
	}
	f.Over.fault(where, err)
	return &s
}

// clock reads a clock time as people write it: 22:15, 22.15, 22h15, 2215,
// 10:15 pm.
func (f *form) clock(x *field) *unit.Clock {
	text := strings.TrimSpace(x.Value)
	if text == "" {
		return nil
	}
	clock, err := unit.ParseClock(text)
	if err != nil {
		if again, e := unit.ParseClock(colon(text)); e == nil {
			return &again
		}
		x.fault("", err)
		return nil
	}
	return &clock
}

// colon puts a colon where people write a point, an h or nothing between hours
// and minutes.
func colon(text string) string {
	digits := strings.TrimRight(strings.ToLower(text), "apm. ")
	tail := text[len(digits):]
	for _, between := range []string{".", "h", " "} {
		if hours, minutes, ok := strings.Cut(digits, between); ok && len(minutes) == 2 {
			return hours + ":" + minutes + tail
		}
	}
	if n := len(digits); (n == 3 || n == 4) && strings.Trim(digits, "0123456789") == "" {
		return digits[:n-2] + ":" + digits[n-2:] + tail
	}
	return text
}

// readDoor reads the openings of the hot kiln as the [door] of a load file, so that
// they meet the same checks in the same words; a field that is wrong is left out of
// the next reading, until the rest is right.
func (f *form) readDoor(load *piece.Load) {
	for range f.Door {
		text, at := "glass = "+strict.Quote(glass.Builtin()[0].Name)+"\n[door]\n", map[int]*field{}
		for _, x := range f.Door {
			key := strings.TrimPrefix(x.Name, "door-")
			v := strings.TrimSpace(x.Value)
			if v == "" || len(x.Faults) > 0 || key == "since" && len(f.Door[1].Faults) > 0 {
				continue
			}
			if key == "at" {
				var each []string
				for part := range strings.SplitSeq(v, ",") {
					each = append(each, strict.Quote(strings.TrimSpace(part)))
				}
				v = "[" + strings.Join(each, ", ") + "]"
			} else {
				v = strict.Quote(v)
			}
			at[strings.Count(text, "\n")+1] = x
			text += key + " = " + v + "\n"
		}
		if len(at) == 0 {
			return
		}
		one, err := piece.ReadLoad(strings.NewReader(text+"[[piece]]\nwhat = \"sphere 1in\"\nin = \"16 h before\"\n"), "door", "", glass.Find)
		if err == nil {
			load.Door = one.Door
			return
		}
		wrong := f.Door[0]
		var line *strict.Error
		if errors.As(err, &line) && at[line.Line] != nil {
			wrong = at[line.Line]
		}
		wrong.valueFault(err)
	}
}

// doorField is the field that an error about openings is about, and what is wrong
// there.
func (f *form) doorField(err error) (x *field, wrong error) {
	var late *piece.TimeError
	if errors.As(err, &late) {
		err = late.Err
	}
	for _, x := range f.Door {
		if late != nil && x.Name == "door-"+late.Door && x.Value != "" {
			return x, err
		}
	}
	if f.Door[0].Value == "" {
		return f.Door[1], err
	}
	return f.Door[0], err
}

// emergencyNumber is that of the facts filled in, else of the studio, whatever else is
// wrong on the form.
func (f *form) emergencyNumber() string {
	var load piece.Load
	of := form{Facts: f.Facts} // its faults are for another page
	of.readFacts(&load)
	return session.EmergencyNumber(&load, f.studio)
}

// readFacts reads each line as a fact of the session.
func (f *form) readFacts(load *piece.Load) {
	for i, line := range strings.Split(f.Facts.Value, "\n") {
		if strings.TrimSpace(line) == "" {
			continue
		}
		where := fmt.Sprintf("line %d", i+1)
		name, value, ok := strings.Cut(line, "=")
		name, value = strings.TrimSpace(name), strings.TrimSpace(value)
		if !ok {
			f.Facts.fault(where, term.WithHint(fmt.Errorf("%q: has no =", strings.TrimSpace(line)), "write oxygen = cylinder"))
			continue
		}
		if _, twice := load.Session[name]; twice {
			f.Facts.fault(where, term.WithHint(fmt.Errorf("%s: is said twice", name), "say it once"))
			continue
		}
		if checklist.IsDanger(name) {
			f.Facts.fault(where, term.WithHint(fmt.Errorf("%s: is so now", name), "report it under Wrong now"))
			continue
		}
		if _, err := checklist.FactsFrom(map[string]any{name: value}, checklist.FromLoad, session.Now()); err != nil {
			f.Facts.fault(where, err)
			continue
		}
		if load.Session == nil {
			load.Session = map[string]any{}
		}
		load.Session[name] = value
	}
}

// readStudio puts what was filled in over the studio. Each field is read as the
// line of a studio file, so that it meets the same checks in the same words.
func (f *form) readStudio() kiln.Studio {
	st := f.studio
	sys, err := unit.ParseSystem(f.Units.Value)
	f.Units.fault("", err)
	st = st.In(sys)
	one := func(x *field, take func(from kiln.Studio)) {
		v := strings.TrimSpace(x.Value)
		if v == "" {
			return
		}
		table, key := x.key()
		typed := strict.Quote(v)
		if x == f.Count {
			typed = digitsOnly(v)
		}
		text := fmt.Sprintf("[%s]\n%s = %s\n", table, key, typed)
		from, err := kiln.ReadStudio(strings.NewReader(text), x.Name)
		if err != nil {
			x.valueFault(err)
			return
		}
		take(from)
	}
	k, c := &st.Kiln, &st.Controller
	one(f.Holding, func(from kiln.Studio) { k.Holding = from.Kiln.Holding })
	one(f.Heating, func(from kiln.Studio) { // also where the studio gives it by temperature
		k.Heating, k.HeatingAt, k.HeatingGiven = from.Kiln.Heating, from.Kiln.HeatingAt, true
	})
	one(f.Room, func(from kiln.Studio) { k.Fall.Room = from.Kiln.Fall.Room })
	falls := func(from kiln.Studio) {
		room := k.Fall.Room
		k.Fall, k.Measured = from.Kiln.Fall, from.Kiln.Measured
		k.Fall.Room = room
	}
	one(f.Fall, falls)
	if strings.TrimSpace(f.Fall.Value) != "" && strings.TrimSpace(f.Points.Value) != "" {
		f.Points.fault("", term.WithHint(errors.New("both a time constant and readings"), "leave one of them empty"))
	} else {
		one(f.Points, falls)
	}
	one(f.Opening, func(from kiln.Studio) { st.Opening = from.Opening })
	one(f.Spread, func(from kiln.Studio) { k.Spread = from.Kiln.Spread })
	one(f.Probe, func(from kiln.Studio) { k.ProbeError = from.Kiln.ProbeError })
	one(f.Keys, func(from kiln.Studio) {
		if c.Units != from.Controller.Units && !c.UnitsGiven {
			c.Slowest, c.Fastest = from.Controller.Slowest, from.Controller.Fastest
		}
		c.Units, c.UnitsGiven = from.Controller.Units, true
	})
	one(f.RateKind, func(from kiln.Studio) {
		if from.Controller.Minutes && !c.Minutes {
			c.Slowest = from.Controller.Slowest
		}
		c.Minutes = from.Controller.Minutes
	})
	one(f.Slowest, func(from kiln.Studio) { c.Slowest = from.Controller.Slowest })
	one(f.Count, func(from kiln.Studio) { c.Segments = from.Controller.Segments })
	one(f.Tension, func(from kiln.Studio) {
		st.Limits.Tension, st.Limits.TensionGiven = from.Limits.Tension, true
	})
	one(f.Left, func(from kiln.Studio) {
		st.Limits.Residual, st.Limits.ResidualGiven = from.Limits.Residual, true
	})
	return st
}

// digitsOnly hands a whole number on as it is, and anything else as a text that
// is then refused.
func digitsOnly(s string) string {
	if strings.Trim(s, "0123456789") == "" && len(s) < 7 && (s[0] != '0' || len(s) == 1) {
		return s
	}
	return strict.Quote(s)
}
