package web

import (
	"errors"
	"fmt"
	"net/url"
	"slices"
	"strings"

	"lehr/anneal/evening"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/plan"
	"lehr/cmd/lehr/term"
	"lehr/cmd/lehr/words"

	"lehr/glass"
	"lehr/glass/strict"
	"lehr/glass/unit"
	"lehr/safety/checklist"
)

// field is one thing the form asks for.
type field struct {
	Name, Label, Value string
	About              string // said under the label
	Place              string // shown while it is empty: what stands in it then
	Faults             []fault
	Choices            []choice // none for text
	Lines              int      // rows of a text of several lines, 0 for one line

	of *form
}

// fault is one thing that is wrong with a field.
type fault struct{ Where, Error, Hint string }

type choice struct{ Value, Text string }

// form is the page of lehr serve and what was filled in.
type form struct {
	Wrong, WrongHint                                             string // what is wrong with the load as a whole
	Why                                                          []string
	Name, Glass, Pieces, Into, Start, Ready, Search, Units       *field
	Holding, Heating, Fall, Points, Room, Opening, Spread, Probe *field
	Keys, RateKind, Slowest, Count, Tension, Left                *field
	Facts, Now, Over                                             *field
	Was, Reads                                                   *field   // after a power failure
	Door                                                         []*field // of the hot kiln, by the keys of [door]
	part                                                         string   // to be seen at once, "" for none
	studio                                                       kiln.Studio
}

// newForm makes the form with the defaults of the studio and the values given.
// What it shows in an empty field is what is used then, in the units chosen. It
// is a list of fields.
func newForm(st kiln.Studio, values url.Values) *form {
	f := &form{studio: st, part: values.Get("part")}
	get := func(name, otherwise string) string {
		if v, ok := values[name]; ok && len(v) > 0 {
			return strict.Visible(strings.ReplaceAll(v[0], "\r\n", "\n"))
		}
		return otherwise
	}
	text := func(name, label, about, place string) *field {
		return &field{Name: name, Label: label, About: about, Place: place, Value: get(name, ""), of: f}
	}
	lines := func(name, label, about, place string, rows int) *field {
		x := text(name, label, about, place)
		x.Lines = rows
		x.Value = strings.Trim(x.Value, "\n")
		return x
	}
	pick := func(name, label, otherwise string, choices ...choice) *field {
		return &field{Name: name, Label: label, Value: get(name, otherwise), Choices: choices, of: f}
	}
	letter := map[unit.System]string{unit.Metric: "c", unit.US: "f"}
	f.Units = pick("units", "Units", letter[st.Units], choice{"c", "°C, mm"}, choice{"f", "°F, in"})
	if sys, err := unit.ParseSystem(f.Units.Value); err == nil {
		st = st.In(sys)
	}
	sys := st.Units
	both := func(c, us string) string {
		if sys == unit.US {
			return us
		}
		return c
	}
	var glasses []choice
	for _, g := range glass.Builtin() {
		glasses = append(glasses, choice{g.Name, g.Name + ": " + g.Title})
	}
	f.Name = text("name", "Name of the load", "", "its pieces")
	f.Glass = pick("glass", "Glass", st.Glass, glasses...)
	f.Pieces = lines("pieces", "Pieces, one kind on a line",
		"A count if there are several, the shape, its size: 6 x sphere 2.5in, rod 10mm x 200mm, disc 75mm x 25mm raised, tube 38mm wall 4mm; of another glass: sphere 1in of soda-104. Behind semicolons follow what is in it (inside opal 8mm, 15mm deep; skin white 1mm), what it bears (longest soak 3h; hottest soak "+both("560 °C", "1040 °F")+"), what it must bear (wear worked later; wear worked before; wear unknown history), when it went into the hot kiln (in "+both("19:40", "7:40 pm")+"), a note (note for the window).",
		"6 x sphere 2.5in; longest soak 3h", 5)
	f.Into = pick("into", "Into", string(piece.HotKiln),
		choice{string(piece.HotKiln), "hot kiln: the pieces wait hot"},
		choice{string(piece.ColdKiln), "cold kiln: finished work is reheated"},
		choice{string(piece.WarmOnly), "warm only: bring up and hold"})
	f.Start = text("start", "Start", "A clock time such as "+both("22:15", "10:15 pm")+". Left empty, the hours count from the start.", "hours from the start")
	f.Ready = text("ready-by", "Ready to open by", "A clock time. Without a start it gives the latest one.", "no such hour")
	f.Search = pick("search", "Program", "rule", choice{"rule", "by the rule"}, choice{"shortest", "the shortest that keeps the limits (takes longer)"})
	k, c := st.Kiln, st.Controller
	given := func(is bool, text, otherwise string) string {
		if is {
			return text
		}
		return otherwise
	}
	wait := f.waitsAt(sys)
	f.Holding = text("holding", "Holding temperature", "Where finished pieces wait.", given(!k.Holding.IsZero(), k.Holding.Text(sys), wait))
	f.Heating = text("heating", "Fastest heating", "", given(len(k.HeatingAt) == 0, k.Heating.Text(sys), "by temperature, as the studio gives it"))
	f.Fall = text("fall", "Cooling time constant", "The time in which the empty kiln, switched off, loses 63 % of its distance from the room.", unit.FormatDuration(k.Fall.TimeConstant)+given(k.Measured, "", ", not measured"))
	f.Points = text("points", "Measured cooling", "Instead of the time constant: minutes after switching off and readings, "+both("0 min 560 °C, 60 min 430 °C, 120 min 335 °C", "0 min 1040 °F, 60 min 806 °F, 120 min 635 °F")+".", "no readings")
	f.Room = text("room", "Room temperature", "", k.Fall.Room.Text(sys))
	f.Opening = text("opening", "To be opened at a reading of", "What the kiln reads when the pieces are taken out.", st.Opening.Text(sys))
	f.Spread = text("spread", "Hottest to coldest place on the shelf", "", k.Spread.Text(sys))
	f.Probe = text("probe", "Error of the probe, either way", "", k.ProbeError.Text(sys))
	own := ""
	if c.UnitsGiven {
		own = letter[c.Units]
	}
	f.Keys = pick("keys", "The controller takes", own, choice{"", "the units above"}, choice{"c", "°C"}, choice{"f", "°F"})
	f.RateKind = pick("rate", "A ramp is keyed in as", map[bool]string{false: "per hour", true: "minutes per ramp"}[c.Minutes],
		choice{"per hour", "degrees per hour"}, choice{"minutes per ramp", "minutes per ramp"})
	f.Slowest = text("slowest", "Slowest rate it takes", "", c.Slowest.Text(sys))
	f.Count = text("segments", "Segments in a program", "", fmt.Sprint(c.Segments))
	f.Tension = text("max-tension", "A limit of your own for the tension while heating and cooling", "",
		given(st.Limits.TensionGiven, st.Limits.Tension.Text(sys), words.UsualLimit("surface-hours", sys)))
	f.Left = text("max-left", "A limit of your own for the tension left", "",
		given(st.Limits.ResidualGiven, st.Limits.Residual.Text(sys), words.UsualLimit("left-inside", sys)))
	door := st.Door.Or(kiln.Door{Open: evening.Usual.Open, View: evening.Usual.View, ViewGiven: true})
	f.Door = []*field{
		text("door-at", "Was opened at these times", "Besides those at which pieces go in, with commas between: "+both("21:50", "9:50 pm")+", 1 h before.", "at no other time"),
		text("door-every", "Was opened every", "Such as 30 min.", "not regularly"),
		text("door-since", "Was opened regularly since", "A time, or 2 h before.", "the first piece goes in"),
		text("door-open", "It stands open for", "", unit.FormatDuration(door.Open)),
		text("door-dip", "The reading falls by", "", given(door.Dip > 0, door.Dip.Text(sys), "not measured")),
		text("door-view", "Share of the room that a piece then sees", "", term.Whole(100*door.View)+" %"),
	}
	f.Facts = lines("facts", "Facts of this session, one on a line", "Such as oxygen = cylinder, or emergency_number = 555 0199. A fact that is not given counts as the hazard being present.", "none but those of the studio", 3)
	f.Over = lines("over", "A program of your own, drawn over the planned one", "The text of its file, as lehr plan -o writes it: from = \""+both("560 °C", "1040 °F")+"\", then [[segment]] with rate, to and hold, each on a line.", "none", 6)
	f.Was = text("was", "Last reading before it failed", "With its hour, if you know it: "+both("02:10 500 °C", "2:10 am 930 °F")+".", "the power has not failed")
	f.Reads = text("reads", "Reading now", "With its hour: "+both("04:30 310 °C", "4:30 am 590 °F")+".", "the power has not failed")
	f.Now = pick("now", "Wrong now", "", dangerChoices()...)
	return f
}

// waitsAt says where finished pieces wait in a kiln that does not say it: at the
// soak of the glass chosen, or, to be warmed only, at its usual holding.
func (f *form) waitsAt(sys unit.System) string {
	g, err := glass.Find(f.Glass.Value)
	warm := f.Into.Value == string(piece.WarmOnly)
	switch {
	case err != nil && warm:
		return "as usual for the glass"
	case err != nil:
		return "the soak temperature"
	case warm:
		return "at most " + plan.HoldingOf(g).Text(sys) + ", for " + g.Name
	}
	return g.Anneal.Temp().Text(sys) + ", the soak of " + g.Name
}

// dangerChoices are the dangers that a person can report.
func dangerChoices() []choice {
	out := []choice{{"", "nothing"}}
	for _, fact := range checklist.Names() {
		if checklist.IsDanger(fact.Name) {
			out = append(out, choice{fact.Name, fact.Meaning})
		}
	}
	return out
}

// all returns the fields in the order of the page.
func (f *form) all() []*field {
	out := []*field{f.Now, f.Name, f.Glass, f.Pieces, f.Into, f.Start, f.Ready, f.Search, f.Units}
	return slices.Concat(out, []*field{f.Was, f.Reads}, f.Door, f.kiln(), []*field{f.Over, f.Facts})
}

// kiln returns the fields about kiln, controller and limits.
func (f *form) kiln() []*field {
	return []*field{f.Holding, f.Heating, f.Fall, f.Points, f.Room, f.Opening, f.Spread, f.Probe, f.Keys, f.RateKind, f.Slowest, f.Count, f.Tension, f.Left}
}

// open reports whether fields that are folded away are to be seen at once.
func open(fields ...*field) bool {
	for _, x := range fields {
		if len(x.Faults) > 0 || len(x.Choices) == 0 && strings.TrimSpace(x.Value) != "" {
			return true
		}
	}
	return false
}

// faults returns the fields with an error.
func (f *form) faults() []*field {
	var out []*field
	for _, x := range f.all() {
		if len(x.Faults) > 0 {
			out = append(out, x)
		}
	}
	return out
}

func (f *form) wrong() bool { return f.Wrong != "" || len(f.faults()) > 0 }

// fault notes what is wrong with a field, in the words of the command line but
// without its files; where names a line of the field.
func (x *field) fault(where string, err error) {
	if err == nil {
		return
	}
	text := err.Error()
	var at *strict.Error
	if errors.As(err, &at) {
		text = at.Message // there is no file whose name and line would help
	}
	x.Faults = append(x.Faults, fault{where, term.Clean(text), x.of.hint(err)})
}

// valueFault is fault of a field whose value was read as that of a key, which the
// form does not name.
func (x *field) valueFault(err error) {
	var at *strict.Error
	if errors.As(err, &at) {
		err = term.WithAdvice(errors.New(at.Reason), at.Advice())
	}
	x.fault("", err)
}

// fail notes what is wrong with the load as a whole.
func (f *form) fail(err error) { f.Wrong, f.WrongHint = term.Clean(err.Error()), f.hint(err) }

// values is the form as it was filled in, but for what is wrong now.
func (f *form) values() url.Values {
	q := url.Values{}
	for _, x := range f.all() {
		if v := strings.TrimSpace(x.Value); v != "" && x != f.Now {
			q.Set(x.Name, x.Value)
		}
	}
	return q
}

// query is the form as it was filled in, to come back to.
func (f *form) query() string { return f.values().Encode() }
