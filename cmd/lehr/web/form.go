package web

import (
	"errors"
	"fmt"
	"net/url"
	"strings"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/plan"
	"lehr/cmd/lehr/term"
	"lehr/cmd/lehr/words"

	"lehr/glass"
	"lehr/glass/strict"
	"lehr/glass/unit"
)

// field is one thing the form asks for.
type field struct {
	Name, Label, Value string
	About              string // said under the label
	Place              string // shown while it is empty
	Error, Hint        string
	Choices            []choice // none for text
	Lines              bool     // several lines of text
}

type choice struct{ Value, Text string }

// form is the page of lehr serve and what was filled in.
type form struct {
	Wrong                                                        string // what is wrong with the load as a whole
	WrongHint                                                    string
	Why                                                          []string
	Glass, Pieces, Into, Start, Units                            *field
	Holding, Heating, Fall, Room, Keys, RateKind, Slowest, Count *field
	Tension, Left                                                *field
	studio                                                       kiln.Studio
}

// newForm makes the form with the defaults of the studio and the values given.
func newForm(st kiln.Studio, values url.Values) *form {
	f := &form{studio: st}
	sys := st.Units
	get := func(name, otherwise string) string {
		if v, ok := values[name]; ok && len(v) > 0 {
			return strict.Visible(strings.ReplaceAll(v[0], "\r\n", "\n"))
		}
		return otherwise
	}
	text := func(name, label, about, place string) *field {
		return &field{Name: name, Label: label, About: about, Place: place, Value: get(name, "")}
	}
	pick := func(name, label, otherwise string, choices ...choice) *field {
		return &field{Name: name, Label: label, Value: get(name, otherwise), Choices: choices}
	}
	var glasses []choice
	for _, g := range glass.Builtin() {
		glasses = append(glasses, choice{g.Name, g.Name + ": " + g.Title})
	}
	letter := map[unit.System]string{unit.Metric: "c", unit.US: "f"}
	f.Glass = pick("glass", "Glass", st.Glass, glasses...)
	f.Pieces = text("pieces", "Pieces, one kind on a line", "A count if there are several, the shape, its size: 6 x sphere 2.5in, rod 10mm x 200mm, disc 75mm x 25mm raised, tube 38mm wall 4mm; of another glass: sphere 1in of soda-104. What is in it follows a semicolon: sphere 2.5in; inside opal 8mm, 15mm deep; skin white 1mm.", "6 x sphere 2.5in")
	f.Pieces.Lines = true
	f.Into = pick("into", "Into", string(piece.HotKiln),
		choice{string(piece.HotKiln), "hot kiln: the pieces wait hot"},
		choice{string(piece.ColdKiln), "cold kiln: finished work is reheated"},
		choice{string(piece.WarmOnly), "warm only: bring up and hold"})
	f.Start = text("start", "Start, the clock time", "Leave it empty for hours from the start.", "22:15")
	f.Units = pick("units", "Units", letter[sys], choice{"c", "°C, mm"}, choice{"f", "°F, in"})
	both := func(c, us string) string {
		if sys == unit.US {
			return us
		}
		return c
	}
	shown := func(given bool, text, otherwise string) string {
		if given {
			return text
		}
		return otherwise
	}
	k := st.Kiln
	f.Holding = text("holding", "Holding temperature", "Where finished pieces wait.", shown(!k.Holding.IsZero(), k.Holding.Text(sys), both("560 °C", "1040 °F")))
	f.Heating = text("heating", "Fastest heating", "", k.Heating.Text(sys))
	f.Fall = text("fall", "Cooling time constant", "The time in which the empty kiln, switched off, loses 63 % of its distance from the room.", unit.FormatDuration(k.Fall.TimeConstant))
	f.Room = text("room", "Room temperature", "", k.Fall.Room.Text(sys))
	own := ""
	if st.Controller.UnitsGiven {
		own = letter[st.Controller.Units]
	}
	f.Keys = pick("keys", "The controller takes", own, choice{"", "the units above"}, choice{"c", "°C"}, choice{"f", "°F"})
	f.RateKind = pick("rate", "A ramp is keyed in as", map[bool]string{false: "per hour", true: "minutes per ramp"}[st.Controller.Minutes],
		choice{"per hour", "degrees per hour"}, choice{"minutes per ramp", "minutes per ramp"})
	f.Slowest = text("slowest", "Slowest rate it takes", "", st.Controller.Slowest.Text(sys))
	f.Count = text("segments", "Segments in a program", "", fmt.Sprint(st.Controller.Segments))
	f.Tension = text("max-tension", "A limit of your own for the tension while heating and cooling", "",
		shown(st.Limits.TensionGiven, st.Limits.Tension.Text(sys), words.UsualLimit("surface-hours", sys)))
	f.Left = text("max-left", "A limit of your own for the tension left", "",
		shown(st.Limits.ResidualGiven, st.Limits.Residual.Text(sys), words.UsualLimit("left-inside", sys)))
	return f
}

// all returns the fields in the order of the page.
func (f *form) all() []*field {
	return append([]*field{f.Glass, f.Pieces, f.Into, f.Start, f.Units}, f.kiln()...)
}

// kiln returns the fields about kiln, controller and limits.
func (f *form) kiln() []*field {
	return []*field{f.Holding, f.Heating, f.Fall, f.Room, f.Keys, f.RateKind, f.Slowest, f.Count, f.Tension, f.Left}
}

// kilnOpen reports whether that part of the form is to be seen at once.
func (f *form) kilnOpen() bool {
	for _, x := range f.kiln() {
		if x.Error != "" || len(x.Choices) == 0 && strings.TrimSpace(x.Value) != "" {
			return true
		}
	}
	return false
}

// faults returns the fields with an error.
func (f *form) faults() []*field {
	var out []*field
	for _, x := range f.all() {
		if x.Error != "" {
			out = append(out, x)
		}
	}
	return out
}

func (f *form) wrong() bool { return f.Wrong != "" || len(f.faults()) > 0 }

// fault notes what is wrong with a field, in the words of the command line.
func (x *field) fault(err error) {
	if err == nil || x.Error != "" {
		return
	}
	x.Error, x.Hint = term.Clean(err.Error()), term.Clean(term.HintOf(err))
	var At *strict.Error
	if errors.As(err, &At) {
		x.Error = term.Clean(At.Message) // there is no file whose name and line would help
	}
}

// fail notes what is wrong with the load as a whole.
func (f *form) fail(err error) {
	f.Wrong, f.WrongHint = term.Clean(err.Error()), term.Clean(term.HintOf(err))
	var c *plan.ConflictError
	if errors.As(err, &c) {
		f.Wrong = "This load cannot share one program."
		f.WrongHint = "Plan the pieces in two firings; lehr share says what goes in each."
		f.Why = words.AboutLoad(c.Load, f.studio.Units).List(c.Reasons)
	}
}

// read turns what was filled in into a load; faults are noted at their fields.
func (f *form) read() (*piece.Load, kiln.Studio, plan.Options) {
	st := f.readStudio()
	load := &piece.Load{Into: piece.HotKiln}
	var err error
	if load.Into, err = piece.ParseInto(f.Into.Value); err != nil {
		f.Into.fault(err)
	}
	if s := strings.TrimSpace(f.Start.Value); s != "" {
		clock, err := unit.ParseClock(s)
		f.Start.fault(err)
		load.Start = &clock
	}
	var g *glass.Glass
	if f.Glass.Value == "" && !f.eachOfGlass() {
		f.Glass.fault(term.WithHint(errors.New("no glass is named"), "choose the family and expansion of your glass"))
	} else if f.Glass.Value != "" {
		g, err = glass.Find(f.Glass.Value)
		f.Glass.fault(err)
	}
	f.readPieces(load, g)
	f.Pieces.fault(load.Stones())
	var o plan.Options
	return load, st, o
}

// eachOfGlass reports whether every line says which glass its piece is of.
func (f *form) eachOfGlass() bool {
	some := false
	for line := range strings.SplitSeq(f.Pieces.Value, "\n") {
		if strings.TrimSpace(line) == "" {
			continue
		}
		if _, of, err := piece.ParseOf(line); err != nil || of == "" {
			return false
		}
		some = true
	}
	return some
}

func (f *form) readPieces(load *piece.Load, g *glass.Glass) {
	total := 0
	for line := range strings.SplitSeq(f.Pieces.Value, "\n") {
		if strings.TrimSpace(line) == "" {
			continue
		}
		p, of, err := piece.ParseOf(line)
		if err == nil && of != "" {
			var own *glass.Glass
			if own, err = glass.Find(of); err == nil {
				err = p.Fill(own, glass.Find)
			}
		}
		if err != nil {
			f.Pieces.fault(err)
			return
		}
		if p.Glass == nil {
			if err := p.Fill(g, glass.Find); err != nil {
				f.Pieces.fault(err)
				return
			}
		}
		load.Pieces = append(load.Pieces, p)
		total += p.Count
		switch {
		case len(load.Pieces) > mostKinds:
			f.Pieces.fault(fmt.Errorf("more than %d kinds of piece", mostKinds))
			return
		case total > piece.MostPieces:
			f.Pieces.fault(fmt.Errorf("more than %d pieces", piece.MostPieces))
			return
		}
	}
	if len(load.Pieces) == 0 {
		f.Pieces.fault(term.WithHint(errors.New("the load has no pieces"), `write "6 x sphere 2.5in"`))
	}
}

// readStudio puts what was filled in over the studio. Each field is read as the
// line of a studio file, so that it meets the same checks in the same words.
func (f *form) readStudio() kiln.Studio {
	st := f.studio
	sys, err := unit.ParseSystem(f.Units.Value)
	f.Units.fault(err)
	st = st.In(sys)
	one := func(x *field, table, key string, take func(from kiln.Studio)) {
		v := strings.TrimSpace(x.Value)
		if v == "" {
			return
		}
		text := fmt.Sprintf("[%s]\n%s = %s\n", table, key, strict.Quote(v))
		if x == f.Count {
			text = fmt.Sprintf("[%s]\n%s = %s\n", table, key, digitsOnly(v))
		}
		from, err := kiln.ReadStudio(strings.NewReader(text), x.Name)
		if err != nil {
			x.fault(err)
			x.Error = strings.TrimPrefix(strings.TrimPrefix(x.Error, table+": "), key+" ")
			return
		}
		take(from)
	}
	k, c := &st.Kiln, &st.Controller
	one(f.Holding, "kiln", "holding", func(from kiln.Studio) { k.Holding = from.Kiln.Holding })
	one(f.Heating, "kiln", "fastest_heating", func(from kiln.Studio) { k.Heating = from.Kiln.Heating })
	one(f.Room, "kiln", "room", func(from kiln.Studio) { k.Fall.Room = from.Kiln.Fall.Room })
	one(f.Fall, "kiln", "cooling_time_constant", func(from kiln.Studio) {
		room := k.Fall.Room
		k.Fall, k.Measured = from.Kiln.Fall, from.Kiln.Measured
		k.Fall.Room = room
	})
	one(f.Keys, "controller", "units", func(from kiln.Studio) {
		if c.Units != from.Controller.Units && !c.UnitsGiven {
			c.Slowest, c.Fastest = from.Controller.Slowest, from.Controller.Fastest
		}
		c.Units, c.UnitsGiven = from.Controller.Units, true
	})
	one(f.RateKind, "controller", "rate", func(from kiln.Studio) {
		if from.Controller.Minutes && !c.Minutes {
			c.Slowest = from.Controller.Slowest
		}
		c.Minutes = from.Controller.Minutes
	})
	one(f.Slowest, "controller", "slowest", func(from kiln.Studio) { c.Slowest = from.Controller.Slowest })
	one(f.Count, "controller", "segments", func(from kiln.Studio) { c.Segments = from.Controller.Segments })
	one(f.Tension, "limits", "tension", func(from kiln.Studio) {
		st.Limits.Tension, st.Limits.TensionGiven = from.Limits.Tension, true
	})
	one(f.Left, "limits", "left", func(from kiln.Studio) {
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
