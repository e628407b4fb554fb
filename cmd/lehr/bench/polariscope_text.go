package bench

import (
	"fmt"
	"math"
	"strconv"

	"lehr/anneal/kiln"
	"lehr/anneal/polariscope"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/report"
	"lehr/cmd/lehr/term"
	"lehr/glass/unit"
)

func nanometers(l unit.Length) string {
	return term.Whole(float64(l/polariscope.Nanometer)) + " nm"
}

// stressPair writes a stress and its error with as many digits as the error bears.
func stressPair(s, e unit.Stress, sys unit.System) string {
	x, u := s.In(sys)
	y, _ := e.In(sys)
	places := 2
	if sys == unit.US {
		places = 0
	}
	return strconv.FormatFloat(x, 'f', places, 64) + " ± " + strconv.FormatFloat(y, 'f', places, 64) + " " + u
}

// title names the piece and where one looks.
func (p *opticPiece) title() string { return p.name + ", " + p.glass.Name + "; " + p.placeText() }

// placeText says where one looks.
func (p *opticPiece) placeText() string {
	v, sys := p.view, p.studio.Units
	at := unit.Length(v.At()) * v.Size / 2
	how := "in a liquid of its index"
	if v.Index > 0 {
		how = "in air"
	}
	switch {
	case v.Shape == polariscope.Slab && at == 0:
		return "through the edge, in the middle plane, " + desk.LengthText(v.Path, sys) + " of glass"
	case v.Shape == polariscope.Slab:
		return fmt.Sprintf("through the edge, %s from the middle plane, %s of glass", sigLength(at, sys), desk.LengthText(v.Path, sys))
	case v.Shape == polariscope.Rod && at == 0:
		return "across, on the axis, " + how
	case v.Shape == polariscope.Rod:
		return fmt.Sprintf("across, seen %s from the axis, %s", at.Text(sys), how)
	case v.Place < 0:
		return fmt.Sprintf("the bright ring, seen %s from the middle, %s", at.Text(sys), how)
	}
	return fmt.Sprintf("seen %s from the middle, %s", at.Text(sys), how)
}

// surfaceWords says what stands at the surface.
func surfaceWords(v polariscope.View) string {
	switch v.Shape {
	case polariscope.Slab:
		return "without what its rim adds; twice as much compression at the faces"
	case polariscope.Rod:
		return "as much compression along the surface"
	}
	return "as much compression at the surface"
}

type opticJSON struct {
	Piece       string      `json:"piece"`
	Glass       string      `json:"glass"`
	Place       report.Num  `json:"place_mm"`
	In          string      `json:"in"`
	Retardation report.Num  `json:"retardation_nm"`
	ReadError   *report.Num `json:"reading_error_nm"`
	AtMost      bool        `json:"at_most"`
	Surface     report.Num  `json:"surface_MPa"`
	Center      report.Num  `json:"center_MPa"`
	Uncertainty *report.Num `json:"uncertainty_MPa"`
	Limit       report.Num  `json:"limit_left_MPa"`
	Average     report.Num  `json:"limit_left_average_glass_MPa"`
	Within      bool        `json:"within"`
	Color       string      `json:"color"`
	Order       int         `json:"order"`
	Screen      string      `json:"screen"`
	Discs       report.Num  `json:"strain_discs"`
	Temper      *int        `json:"apparent_temper"`
	Real        *report.Num `json:"real_temper"`
	Assumptions []string    `json:"assumptions"`
}

func (p *opticPiece) json(r unit.Length, s polariscope.Stress) opticJSON {
	name, order := polariscope.NameOf(r)
	j := opticJSON{Piece: p.name, Glass: p.glass.Name, Place: report.Num((unit.Length(p.view.At()) * p.view.Size / 2).Millimeters()),
		In: "liquid", Retardation: report.Num(r / polariscope.Nanometer), Surface: report.Num(s.Surface.Megapascals()), Center: report.Num(s.Center.Megapascals()),
		Limit: report.Num(p.limit.Worst.Megapascals()), Average: report.Num(p.limit.Expected.Megapascals()), Within: p.keeps(s),
		Color: name, Order: order, Screen: polariscope.ColorOf(r).Hex(), Discs: report.Num(r / polariscope.Disc), Assumptions: append([]string{}, p.assume...)}
	if p.view.Index > 0 {
		j.In = "air"
	}
	if n := polariscope.TemperNumber(r); n > 0 {
		j.Temper, j.Real = &n, new(report.Num(polariscope.RealTemper(float64(n), p.view.Light())))
	}
	return j
}

// keeps reports whether a stress keeps the limit with its error, and with what of
// it does not show.
func (p *opticPiece) keeps(s polariscope.Stress) bool {
	return (s.Center+s.Error)*unit.Stress(p.unseen) <= p.limit.Worst
}

// showReading prints what a reading means.
func showReading(a *desk.App, o *PolariscopeFlags, p *opticPiece) error {
	k, err := o.known()
	if err != nil {
		return err
	}
	r, err := polariscope.ParseReading(o.Reading, k)
	if err != nil {
		return desk.AsUsage("polariscope: --reading", err)
	}
	s, err := p.view.Stress(r.Retardation, r.Error, p.optic, p.spread)
	if err != nil {
		return err
	}
	limit := p.limit.Worst
	over := !p.keeps(s) // not proven counts as over does
	p.assume = append(p.assume, r.Assumed...)
	if a.JSON {
		j := p.json(r.Retardation, s)
		j.AtMost = r.Below
		if !r.Below {
			j.ReadError, j.Uncertainty = new(report.Num(r.Error/polariscope.Nanometer)), new(report.Num(s.Error.Megapascals()))
		}
		if err := a.PrintJSON(j); err != nil {
			return err
		}
		return desk.OverIf(over)
	}
	sys := p.studio.Units
	verdict, style := "Within", term.Good
	switch {
	case s.Center > limit:
		verdict, style = "OVER", term.Bad
	case over && s.Center+s.Error <= limit:
		verdict, style = "NOT PROVEN: with what a rim adds unseen it may be over", term.Warn
	case over:
		verdict, style = "NOT PROVEN: by the error of the reading it may be over", term.Warn
	}
	if r.Below {
		a.Strong("At most " + s.Center.Text(sys) + " tension in the middle: too faint to read")
		a.Prose(0, "Write down \"less than 10 nm\", not 0.")
	} else {
		a.Strong(stressPair(s.Center, s.Error, sys) + " tension in the middle, " + surfaceWords(p.view))
	}
	a.Lead(style, verdict, " ", "the limit of "+limit.Text(sys)+" for what may be left.")
	p.aboveAverage(a, s.Center)
	a.Prose(0, p.title())
	a.Print("\n")
	from := term.Whole(float64(r.Retardation/polariscope.Nanometer)) + " ± " + nanometers(r.Error)
	if r.Below {
		from = "less than 10 nm"
	}
	if r.How != "" {
		from += ", from " + r.How
	}
	a.Item(opticMark("retardation"), from)
	if method := methodText(o, k); method != "" {
		a.Item(opticMark("method"), method)
	}
	opticFacts(a, p, r.Retardation)
	a.Assumed(p.assume)
	a.Print("\n")
	warmLine(a, p)
	otherPatterns(a, p)
	return desk.OverIf(over)
}

func methodText(o *PolariscopeFlags, k polariscope.Known) string {
	switch {
	case k.Light == 0:
		return ""
	case o.Method == "tardy":
		return "Tardy: piece between two crossed quarter-wave plates, analyzer turned until the place is dark"
	}
	return "Sénarmont: one quarter-wave plate behind the piece, analyzer turned until the place is dark"
}

func opticMark(s string) string { return fmt.Sprintf("%-12s ", s) }

// opticFacts prints color, discs and grade of a retardation.
func opticFacts(a *desk.App, p *opticPiece, r unit.Length) {
	name, order := polariscope.NameOf(r)
	a.Item(opticMark("color"), fmt.Sprintf("%s, order %d, in white light between crossed sheets", name, order))
	a.Item(opticMark("discs"), fmt.Sprintf("%s strain discs of 22.8 nm", term.Short3(float64(r/polariscope.Disc))))
	grade := "beyond the ten numbers of ASTM C148"
	if n := polariscope.TemperNumber(r); n > 0 {
		method := "method A, by discs"
		if r >= 150*polariscope.Nanometer {
			method = "method B, by the analyzer"
		}
		grade = fmt.Sprintf("apparent temper number %d of ASTM C148 (%s); %s reduced to 4.06 mm of glass. The numbers are meant for the bottoms of containers", n, method,
			term.Short3(polariscope.RealTemper(float64(n), p.view.Light())))
	}
	a.Item(opticMark("grade"), grade)
}

// aboveAverage says that a piece within its limit carries more than a plan allows
// average glass.
func (p *opticPiece) aboveAverage(a *desk.App, s unit.Stress) {
	if s > p.limit.Expected && s <= p.limit.Worst {
		a.Prose(0, "It is more than the "+p.limit.Expected.Text(p.studio.Units)+" that a plan allows in average glass: this glass, the kiln, the soak or the reading is not average.")
	}
}

// showStress prints what a stress shows.
func showStress(a *desk.App, o *PolariscopeFlags, p *opticPiece) error {
	if o.Stress <= 0 || o.Stress > kiln.LargestLimit {
		return desk.Usagef(`write --stress "1 MPa"`, "polariscope: --stress %s: must be above 0 and at most %s", unit.AsTyped(o.Stress), unit.LimitFor(o.Stress, kiln.LargestLimit))
	}
	k, err := o.known()
	if err != nil {
		return err
	}
	r, err := p.view.Shows(o.Stress, p.optic)
	if err != nil {
		return err
	}
	s, err := p.view.Stress(r, 0, p.optic, p.spread)
	if err != nil {
		return err
	}
	over := o.Stress > p.limit.Worst
	if a.JSON {
		if err := a.PrintJSON(p.json(r, s)); err != nil {
			return err
		}
		return desk.OverIf(over)
	}
	sys := p.studio.Units
	a.Strong(nanometers(r) + " for " + o.Stress.Text(sys) + " of tension in the middle, " + surfaceWords(p.view))
	if over {
		a.Lead(term.Bad, "OVER", " ", "the limit of "+p.limit.Worst.Text(sys)+" for what may be left.")
	}
	p.aboveAverage(a, o.Stress)
	a.Prose(0, p.title())
	a.Print("\n")
	opticFacts(a, p, r)
	if k.Light > 0 {
		turns := float64(r / k.Light)
		a.Item(opticMark("analyzer"), fmt.Sprintf("%s° beyond %d whole orders, in light of %s", term.Short3(180*(turns-math.Floor(turns))), int(turns), nanometers(k.Light)))
	}
	a.Assumed(p.assume)
	return desk.OverIf(over)
}

// showGuide says where to look and what to see.
func showGuide(a *desk.App, o *PolariscopeFlags, p *opticPiece) error {
	sys := p.studio.Units
	steps := []unit.Stress{0.25 * unit.Megapascal, 0.5 * unit.Megapascal, unit.Megapascal, 2 * unit.Megapascal}
	if sys == unit.US {
		steps = []unit.Stress{50 * unit.PSI, 100 * unit.PSI, 150 * unit.PSI, 300 * unit.PSI}
	}
	var rows [][]string
	var answers []opticJSON
	for _, s := range steps {
		r, err := p.view.Shows(s, p.optic)
		if err != nil {
			return err
		}
		full, err := p.view.Stress(r, 0, p.optic, p.spread)
		if err != nil {
			return err
		}
		answers = append(answers, p.json(r, full))
		name, order := polariscope.NameOf(r)
		x, _ := s.In(sys)
		rows = append(rows, []string{term.Short(x), term.Whole(float64(r / polariscope.Nanometer)), strconv.FormatFloat(float64(r/polariscope.Disc), 'f', 1, 64), name, strconv.Itoa(order)})
	}
	if a.JSON {
		return a.PrintJSON(struct {
			Shows []opticJSON `json:"shows"`
			Look  []string    `json:"look"`
		}{answers, guide(p)})
	}
	a.Strong(p.name + ", " + p.glass.Name + ": look " + lookAtText(p))
	a.Print("\n")
	_, u := steps[0].In(sys)
	if err := a.Table([]term.Column{term.NumberColumn("middle " + u), term.NumberColumn("nm"), term.NumberColumn("discs"), term.TextColumn("looks"), term.NumberColumn("order")}, rows); err != nil {
		return err
	}
	a.Print("\n")
	for _, line := range guide(p) {
		a.Item("- ", line)
	}
	a.Assumed(p.assume)
	return nil
}

func lookAtText(p *opticPiece) string {
	if p.view.Shape == polariscope.Sphere && p.view.Place < 0 {
		return "at " + p.placeText()
	}
	return p.placeText()
}

// guide says where to look and what to see, for each shape.
func guide(p *opticPiece) []string {
	sys := p.studio.Units
	var out []string
	switch p.view.Shape {
	case polariscope.Sphere:
		out = append(out,
			"A dark cross with four bright fields just inside the rim, equal in all directions as the piece is turned, is what annealing leaves. Read the brightest place of the ring.",
			"Through the middle a sphere shows nothing, however large its stress.")
		if p.view.Index > 0 {
			out = append(out, fmt.Sprintf("Air magnifies it: what is seen at the rim passes at %s of the radius inside. Read just inside the rim. In a dish of liquid of index %s the whole ring shows, with %s times the retardation; then write --in liquid.", term.Short3(1/p.view.Index), term.Short(p.view.Index), term.Short3(p.view.Gain())),
				fmt.Sprintf("Its surface alone, without any stress, is as bright where you read it as %s, by reflection (Fresnel); in a liquid that goes.", nanometers(p.view.Glare())))
		}
	case polariscope.Rod:
		out = append(out,
			"Lay it across, at 45° between the sheets. A bright band along the axis, dark lines at "+fmt.Sprintf("%.2g", max(1, p.view.Index)/2)+" of the way out, and bands of the other sign near the rim are what annealing leaves. Read the axis, away from the ends.",
			"Along its length, through flat ends, it shows a dark cross, nothing on the axis and most at the rim: that is not read here.")
	case polariscope.Slab:
		out = append(out,
			"Look through the edge, at 45° between the sheets. A bright band in the middle plane, dark lines at 0.58 of the way to the faces, and bands twice as bright along the faces are what annealing leaves. Read the middle plane.",
			"Through the face it shows nothing of its annealing.")
	}
	out = append(out, patterns()...)
	out = append(out, "Gray has no color: below 200 nm turn an analyzer, hold strain discs beside it, or put in a full-wave plate, in which 10 nm turn violet to blue or red. The plate also tells tension from compression.",
		warmText(p, sys))
	return out
}

// patterns are what is not annealing.
func patterns() []string {
	return []string{
		"A cross off center or one bright side is uneven cooling or a shelf mark. A bright halo around a color or a stone that a second annealing does not change is a mismatch. Neither has a number here.",
	}
}

func warmText(p *opticPiece, sys unit.System) string {
	const by = unit.Delta(5)
	if p.glass.Need("young_modulus", "poisson", "expansion") != nil {
		return "Read it when it is as cold inside as outside: a difference in temperature shows as stress."
	}
	s := p.view.Warm(by, p.glass.StressPerKelvin())
	r, err := p.view.Shows(s, p.optic)
	desk.Must(err)
	delta := "5 °C"
	if sys == unit.US {
		delta = "9 °F"
	}
	return fmt.Sprintf("Read it when it is as cold inside as outside: %s between middle and surface show as %s, %s.", delta, s.Text(sys), nanometers(r))
}

func warmLine(a *desk.App, p *opticPiece)      { a.Item("- ", warmText(p, p.studio.Units)) }
func otherPatterns(a *desk.App, _ *opticPiece) { a.Item("- ", patterns()[0]) }
