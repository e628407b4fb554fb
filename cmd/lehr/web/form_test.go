package web

import (
	"math"
	"net/url"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/glass/unit"
)

// TestSite_pieces: a line says of its piece what a load file says.
func TestSite_pieces(t *testing.T) {
	s := newSite(kiln.DefaultStudio())
	f := newForm(s.studio, with("pieces", "6 x sphere 2.5in; note encased stone\n\nsphere 1in; glass soda-104; longest soak 3h; resting raised; wear gift"))
	f.Pieces.Value = strings.Replace(f.Pieces.Value, "; wear gift", "", 1)
	a := f.read()
	if f.wrong() {
		t.Fatalf("%+v", f.faults()[0])
	}
	p := a.load.Pieces
	if len(p) != 2 || p[0].Count != 6 || p[0].Note != "encased stone" || p[0].Glass.Name != "borosilicate-33" ||
		p[1].Glass.Name != "soda-104" || p[1].LongestSoak != 3*time.Hour || p[1].Resting != piece.Raised {
		t.Errorf("read %+v", p)
	}
}

// TestSite_allFaults: every line and every field that is wrong is reported, at
// its field and on top.
func TestSite_allFaults(t *testing.T) {
	s := newSite(kiln.DefaultStudio())
	f := with("pieces", "sphere 2.5\nsphere 2in\nsphre 2in\nsphere 1in; longest soak 3\nsphere 1in; colour red")
	f.Set("start", "25:00")
	f.Set("ready-by", "8")
	f.Set("holding", "510")
	f.Set("facts", "oxygen = cylinder\nnothing\noxygen = cylinder\ngas_smell = yes\nhood = 3")
	w := ask(t, s, "GET", "/sheet?"+f.Encode(), nil)
	n := wantAccessible(t, w.Body.Bytes())
	alert, _ := n.byID("wrong")
	for field, wants := range map[string][]string{
		"pieces":   {"line 1: ", "line 3: piece \"sphre 2in\": no shape", "line 4: ", "line 5: piece \"sphere 1in; colour red\": \"colour red\": begins with none of inside, layers"},
		"start":    {"has an hour above 23"},
		"ready-by": {"has no minutes and no am or pm"},
		"holding":  {"has no unit"},
		"facts":    {"line 2: ", "line 3: oxygen: is said twice", "line 4: gas_smell: is so now", "line 5: "},
	} {
		e, ok := n.byID(field + "-error")
		for _, want := range wants {
			if !ok || !strings.Contains(e.text(), want) || !strings.Contains(alert.text(), want) {
				t.Errorf("%s: no %q at the field and on top: %s", field, want, alert.text())
			}
		}
	}
	if e, _ := n.byID("pieces-error"); strings.Contains(e.text(), "line 2:") {
		t.Errorf("line 2 is right: %s", e.text())
	}
}

// TestSite_keeps wants what was filled in to come back as it was, whatever the
// way: no line grows, no value is lost.
func TestSite_keeps(t *testing.T) {
	s := newSite(kiln.DefaultStudio())
	f := goodForm()
	f.Set("pieces", "6 x sphere 2.5in\r\n14 x sphere 1.25in")
	for name, value := range map[string]string{"name": "winter", "ready-by": "20:00", "search": "rule", "holding": "550 °C", "room": "22 °C", "spread": "10 °C", "facts": "oxygen = cylinder", "max-left": "1 MPa"} {
		f.Set(name, value)
	}
	for round := range 3 {
		n := parseHTML(t, ask(t, s, "GET", "/?"+f.Encode(), nil).Body.Bytes())
		next := url.Values{}
		for _, e := range n.all("input") {
			next.Set(e.attr("name"), e.attr("value"))
		}
		for _, e := range n.all("textarea") {
			text := ""
			if e.FirstChild != nil {
				text = e.FirstChild.Data
			}
			next.Set(e.attr("name"), strings.ReplaceAll(text, "\n", "\r\n"))
		}
		for _, e := range n.all("select") {
			for _, o := range e.all("option") {
				for _, a := range o.Attr {
					if a.Key == "selected" {
						next.Set(e.attr("name"), o.attr("value"))
					}
				}
			}
		}
		for name := range f {
			if next.Get(name) != f.Get(name) {
				t.Errorf("round %d: %s was %q, is %q", round, name, f.Get(name), next.Get(name))
			}
		}
		f = next
	}
	for _, e := range parseHTML(t, ask(t, s, "GET", "/", nil).Body.Bytes()).all("input") {
		if e.attr("autocomplete") == "off" {
			t.Errorf("%s: a browser that may not keep it loses it on the way back", e.attr("name"))
		}
	}
}

// TestSite_clock reads times as people write them.
func TestSite_clock(t *testing.T) {
	s := newSite(kiln.DefaultStudio())
	for text, want := range map[string]string{"22:15": "22:15", "22.15": "22:15", "2215": "22:15", "22h15": "22:15", "815": "08:15", "10:15 pm": "22:15", "10.15pm": "22:15", "8 am": "08:00", "": ""} {
		f := newForm(s.studio, with("start", text))
		a := f.read()
		if got := a.load.Start; f.wrong() || (got == nil) != (want == "") || got != nil && got.String() != want {
			t.Errorf("%q: %v, %v", text, got, f.faults())
		}
	}
	for _, text := range []string{"8", "2515", "teatime", "22:5", "1 2 3"} {
		f := newForm(s.studio, with("start", text))
		if f.read(); len(f.Start.Faults) != 1 {
			t.Errorf("%q is taken", text)
		}
	}
}

// TestSite_heating: fastest heating typed in the form counts where the studio
// gives it by temperature, too.
func TestSite_heating(t *testing.T) {
	st, err := kiln.ReadStudio(strings.NewReader("[kiln]\nfastest_heating = \"300 °C 600 °C/h, 900 °C 200 °C/h\"\n"), "studio.toml")
	if err != nil || len(st.Kiln.HeatingAt) != 2 {
		t.Fatalf("%v, %d points", err, len(st.Kiln.HeatingAt))
	}
	f := newForm(st, with("heating", "150 °C/h"))
	if f.Heating.Place == st.Kiln.Heating.Text(unit.Metric) {
		t.Errorf("the empty field shows %q", f.Heating.Place)
	}
	k := f.read().studio.Kiln
	if got := k.HeatRate(unit.Celsius(500)); f.wrong() || math.Abs(float64(got-unit.KelvinPerHour(150))) > 1e-9 || !k.HeatingGiven {
		t.Errorf("heats at %s, want 150 °C/h", got.Text(unit.Metric))
	}
}

// TestFormWords: advice on a served page speaks of its fields.
func TestFormWords(t *testing.T) {
	st := kiln.DefaultStudio()
	s := newSite(st)
	f := with("ready-by", "8:00")
	n := parseHTML(t, ask(t, s, "GET", "/sheet?"+f.Encode(), nil).Body.Bytes())
	for _, key := range []string{"cooling_time_constant", "cooling_points", "probe_error", "fastest_heating", "opening = "} {
		if strings.Contains(n.text(), key) {
			t.Errorf("speaks of %s", key)
		}
	}
	if !strings.Contains(n.text(), `"Cooling time constant" or "Measured cooling" in the form`) {
		t.Error("does not speak of the fields")
	}
	// Every field it speaks of is there.
	form := newForm(st, f)
	for _, label := range []string{"Cooling time constant", "Measured cooling", "Fastest heating", "Error of the probe", "Hottest to coldest place on the shelf", "To be opened at a reading of", "Was opened every", "Holding temperature"} {
		if !slices.ContainsFunc(form.all(), func(x *field) bool { return strings.HasPrefix(x.Label, label) }) {
			t.Errorf("no field %s", label)
		}
	}
	// Advice to open it hotter names the one field that does, with what is to be filled in.
	m := regexp.MustCompile(`Fill in "([^"]+)" under "(To be opened[^"]+)"\.`).FindStringSubmatch(n.text())
	if m == nil {
		t.Fatal("no advice to open it hotter")
	}
	labels := map[string]string{}
	for _, x := range form.all() {
		if labels[x.Label] != "" {
			t.Errorf("two fields %s", x.Label)
		}
		labels[x.Label] = x.Name
	}
	hotter := newForm(st, with(labels[m[2]], m[1]))
	if a := hotter.read(); hotter.wrong() || !st.Opening.Less(a.studio.Opening) {
		t.Errorf("%s, filled in with %s, does not open the kiln hotter: %v", m[2], m[1], hotter.faults())
	}
	if got := newForm(st, with("opening", "100 °C")).read().studio.Opening; math.Abs(got.Celsius()-100) > 1e-6 {
		t.Errorf("opens at %s", got.Text(unit.Metric))
	}
}

// TestSite_clauses: what stands behind a semicolon and is not known is answered with
// all that may stand there, and with the way to write what was meant; the form says
// each of the words by which a load file has a piece bear more.
func TestSite_clauses(t *testing.T) {
	s := newSite(kiln.DefaultStudio())
	for line, want := range map[string]string{
		"sphere 2in; worked later":       `write "; wear worked later"`,
		"sphere 2in; unknown history":    `write "; wear unknown history"`,
		"sphere 2in; skn white 1mm":      "did you mean skin?",
		"sphere 2in; hotest soak 560 °C": "did you mean hottest soak?",
		"sphere 2in; for the window":     `write "; note for the window"`,
	} {
		n := parseHTML(t, ask(t, s, "GET", "/sheet?"+with("pieces", line).Encode(), nil).Body.Bytes())
		e, ok := n.byID("pieces-error")
		if !ok || !strings.Contains(e.text(), want) {
			t.Errorf("%s: %q, want %q", line, e.text(), want)
			continue
		}
		for _, word := range slices.Concat(inPiece, pieceKeys) {
			if !strings.Contains(e.text(), word) {
				t.Errorf("%s: does not name %s: %s", line, word, e.text())
			}
		}
	}
	f := newForm(s.studio, goodForm())
	for _, word := range piece.Wears()[1:] {
		if !strings.Contains(f.Pieces.About, "wear "+word) {
			t.Errorf("the form does not say wear %s", word)
		}
		f := newForm(s.studio, with("pieces", "sphere 2in; wear "+word))
		if a := f.read(); f.wrong() || a.load.Pieces[0].Wear == 0 {
			t.Errorf("wear %s: %v", word, f.faults())
		}
	}
}

// TestForm_glassOfPiece: a line names its glass by its own words alone; a note that
// speaks of one leaves the glass unsaid.
func TestForm_glassOfPiece(t *testing.T) {
	for line, want := range map[string]string{
		"sphere 2in of soda-104":                     "soda-104",
		"sphere 2in  OF  soda-104":                   "soda-104",
		"sphere 2in of soda-104; inside opal 8mm":    "soda-104",
		"sphere 2in; glass soda-104":                 "soda-104",
		"sphere 2in":                                 "",
		"sphere 2in; note glass = soda-104":          "",
		"sphere 2in; longest soak 3h; note glass = ": "",
	} {
		f := newForm(kiln.DefaultStudio(), with("pieces", line))
		f.Glass.Value = ""
		a := f.read()
		if want == "" {
			if len(f.Glass.Faults) != 1 {
				t.Errorf("%s: nobody said of which glass it is, and that is no fault", line)
			}
			continue
		}
		if f.wrong() || a.load.Pieces[0].Glass == nil || a.load.Pieces[0].Glass.Name != want {
			t.Errorf("%s: %+v", line, f.faults())
		}
	}
}
