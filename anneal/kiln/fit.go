package kiln

import (
	"fmt"
	"math"
	"regexp"
	"strings"
	"sync"
	"time"

	"gonum.org/v1/gonum/optimize"

	"lehr/glass/strict"
	"lehr/glass/unit"
)

// Reading is what the kiln read at a time after the elements went off.
type Reading struct {
	At   unit.Temp
	Time time.Duration
}

// PointError says which measured point cannot be, and why.
type PointError struct {
	Point  int    // from 1; 0 for all of them
	Text   string // the point as typed, "" for all of them
	Reason string
	Next   strict.Advice
}

func (e *PointError) Error() string {
	switch {
	case e.Point == 0:
		return e.Reason
	case e.Text == "":
		return fmt.Sprintf("point %d: %s", e.Point, e.Reason)
	}
	return fmt.Sprintf("point %d, %s: %s", e.Point, e.Text, e.Reason)
}

// Hint names the one thing to do.
func (e *PointError) Hint() string { return e.Advice().String() }

// Advice is the hint as data.
func (e *PointError) Advice() strict.Advice { return e.Next }

// Bounds of a list of points.
const (
	fewestReadings = 3
	mostReadings   = 500
	leastFall      = 50.0 // [K] between the first and the last
	aboveRoom      = 5.0  // [K] of the coldest: below it the room decides
	worstMiss      = 15.0 // [K] of a point from the fitted curve
)

const readingsHint = `write "565 °C 0 min, 480 °C 55 min, 300 °C 4 h", the elements off from the first point on`

var pointPart = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^(.*?[0-9.]\s*(?:°\s*)?[CFKcfk])\s+(?:(?:at|after)\s+)?(\S.*)$`)
})

// ParseReadings reads measured points of natural cooling,
// "565 °C 0 min, 480 °C 55 min, 300 °C 4 h": at least three, times rising,
// temperatures falling by at least 50 K in all. Times count from the first.
//
// Errors: *PointError; *unit.ParseError (wrapped) for a measure.
func ParseReadings(text string) ([]Reading, error) {
	var out []Reading
	for i, part := range splitPoints(text) {
		m := pointPart().FindStringSubmatch(part)
		if m == nil {
			return nil, &PointError{Point: i + 1, Text: part, Reason: "is not a temperature and a time", Next: readingsHint}
		}
		t, err := unit.ParseTemp(m[1])
		if err != nil {
			return nil, fmt.Errorf("point %d: %w", i+1, err)
		}
		d, err := unit.ParseDuration(m[2])
		if err != nil {
			return nil, fmt.Errorf("point %d: %w", i+1, err)
		}
		out = append(out, Reading{t, d})
	}
	if len(out) > 0 {
		first := out[0].Time
		for i := range out {
			out[i].Time -= first
		}
	}
	return out, checkReadings(out)
}

func splitPoints(text string) []string {
	var out []string
	for _, part := range strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == ';' || r == '\n' }) {
		if part = strings.Join(strings.Fields(part), " "); part != "" {
			out = append(out, part)
		}
	}
	return out
}

func checkReadings(r []Reading) error {
	if len(r) < fewestReadings || len(r) > mostReadings {
		return &PointError{Reason: fmt.Sprintf("%d points: must be from %d to %d", len(r), fewestReadings, mostReadings), Next: readingsHint}
	}
	for i := 1; i < len(r); i++ {
		text := fmt.Sprintf("%s %s", unit.AsTyped(r[i].At), unit.FormatDuration(r[i].Time))
		switch {
		case r[i].Time <= r[i-1].Time:
			return &PointError{Point: i + 1, Text: text, Reason: "is not later than the one before", Next: "give the points in the order of their times"}
		case !r[i].At.Less(r[i-1].At):
			return &PointError{Point: i + 1, Text: text, Reason: fmt.Sprintf("is not below the one before, %s", unit.AsTyped(r[i-1].At)), Next: "leave out points read while the elements were on"}
		}
	}
	if fall := float64(r[0].At.Sub(r[len(r)-1].At)); fall < leastFall {
		return &PointError{Reason: fmt.Sprintf("the points fall by %s: must fall by at least %s", unit.LimitFor(r[0].At, unit.Delta(fall)), unit.LimitFor(r[0].At, unit.Delta(leastFall))), Next: "read the kiln until it is nearly cold"}
	}
	return nil
}

// FitFall fits the law of natural cooling to measured points by least squares
// of the temperature. Newton's law is kept unless the power law fits better by
// half and by more than a degree, with four points or more.
//
// Errors: *PointError for points that cannot be or that lie on no one cooling
// curve: the worst then misses it by more than 15 K.
func FitFall(r []Reading, room unit.Temp) (Fall, error) {
	if err := checkReadings(r); err != nil {
		return Fall{}, err
	}
	for i, p := range r {
		if float64(p.At.Sub(room)) < aboveRoom {
			return Fall{}, &PointError{Point: i + 1, Text: unit.AsTyped(p.At), Reason: fmt.Sprintf("must be at least %s above the room, %s", unit.LimitFor(p.At, unit.Delta(aboveRoom)), unit.LimitFor(p.At, room)), Next: "leave it out, or give {kiln.room}"}
		}
	}
	newton := fit(r, room, false)
	best, at := newton, -1
	if len(r) >= 4 {
		bent := fit(r, room, true)
		if newton.RMS > 1.5*bent.RMS && newton.RMS-bent.RMS > 1 {
			best = bent
		}
	}
	for i, d := range best.distances(r) {
		if at < 0 || math.Abs(d) >= float64(best.Miss)*(1-1e-9) {
			at = i
		}
	}
	if best.Miss > worstMiss {
		return best.Fall, &PointError{Point: at + 1, Text: unit.AsTyped(r[at].At), Reason: fmt.Sprintf("lies %s off the cooling curve of the others, more than %s", unit.LimitFor(r[at].At, best.Miss), unit.LimitFor(r[at].At, unit.Delta(worstMiss))),
			Next: "leave out points read while the elements were on or the lid was open"}
	}
	if best.TimeConstant < shortestConstant || best.TimeConstant > longestConstant {
		return best.Fall, &PointError{Reason: fmt.Sprintf("the points mean a time constant of %s: must be from %s to %s",
			unit.FormatDuration(best.TimeConstant.Round(time.Second)), unit.FormatDuration(shortestConstant), unit.FormatDuration(longestConstant)), Next: readingsHint}
	}
	return best.Fall, nil
}

// The range of time constants that a kiln can have.
const (
	shortestConstant = 2 * time.Minute
	longestConstant  = 10 * 24 * time.Hour
)

// fitted is a law with the excess it starts from.
type fitted struct {
	Fall
	start float64 // [K] above the room
}

func (f fitted) distances(r []Reading) []float64 {
	out := make([]float64, len(r))
	for i, p := range r {
		out[i] = f.after(f.start, p.Time.Seconds()) - float64(p.At.Sub(f.Room))
	}
	return out
}

const mostBend = 3.0 // n − 1

// fit minimizes the squares of the distances over ln(start), ln(τ) and, if
// bent, n − 1 from 0 to 3. The search is bounded; it starts from the
// straight line through ln θ.
func fit(r []Reading, room unit.Temp, bent bool) fitted {
	n, st, sl, stt, stl := float64(len(r)), 0.0, 0.0, 0.0, 0.0
	for _, p := range r {
		t, l := p.Time.Seconds(), math.Log(float64(p.At.Sub(room)))
		st, sl, stt, stl = st+t, sl+l, stt+t*t, stl+t*l
	}
	slope := (n*stl - st*sl) / (n*stt - st*st) // negative: the temperatures fall
	from := []float64{(sl - slope*st) / n, math.Log(-1 / slope)}
	if bent {
		from = append(from, 0.3)
	}
	law := func(x []float64) fitted {
		f := fitted{Fall{Room: room, Power: 1}, math.Exp(x[0])}
		f.TimeConstant = unit.Seconds(math.Exp(math.Min(math.Max(x[1], 0), 20)))
		if len(x) > 2 {
			f.Power = 1 + math.Min(math.Max(x[2], 0), mostBend)
		}
		return f
	}
	squares := func(x []float64) float64 {
		sum := 0.0
		for _, d := range law(x).distances(r) {
			sum += d * d
		}
		if len(x) > 2 { // beyond the bounds the price rises
			beyond := math.Max(0, math.Max(-x[2], x[2]-mostBend))
			sum *= 1 + beyond
			sum += beyond
		}
		if math.IsNaN(sum) || math.IsInf(sum, 0) {
			return math.MaxFloat64
		}
		return sum
	}
	best := from
	for range 2 { // a simplex that collapsed is opened again
		res, err := optimize.Minimize(optimize.Problem{Func: squares}, best, &optimize.Settings{
			MajorIterations: 250, Converger: &optimize.FunctionConverge{Absolute: 1e-7, Relative: 1e-7, Iterations: 30}}, &optimize.NelderMead{})
		if res == nil || (err != nil && res.X == nil) || squares(res.X) > squares(best) {
			break
		}
		best = res.X
	}
	f := law(best)
	sum := 0.0
	for _, d := range f.distances(r) {
		f.Miss = max(f.Miss, unit.Delta(math.Abs(d)))
		sum += d * d
	}
	f.RMS = unit.Delta(math.Sqrt(sum / n))
	f.Points, f.From, f.To = len(r), r[0].At, r[len(r)-1].At
	return f
}

// parseHeating reads the fastest heating: one rate, "400 °C/h", or rates by
// temperature, "20 °C 600 °C/h, 500 °C 300 °C/h", the temperatures rising.
// A single rate has no points.
//
// Errors: *PointError; *unit.ParseError (wrapped) for a measure.
func parseHeating(text string) (greatest unit.Rate, at []HeatPoint, err error) {
	parts := splitPoints(text)
	if len(parts) < 2 {
		if r, err := unit.ParseRate(text); err == nil || len(parts) == 0 || pointPart().FindString(parts[0]) == "" {
			return r, nil, checkHeating(r, err)
		}
		return 0, nil, &PointError{Reason: "one rate by temperature: must be at least 2", Next: heatingHint}
	}
	for i, part := range parts {
		m := pointPart().FindStringSubmatch(part)
		if m == nil {
			return 0, nil, &PointError{Point: i + 1, Text: part, Reason: "is not a temperature and a rate", Next: heatingHint}
		}
		t, err := unit.ParseTemp(m[1])
		if err != nil {
			return 0, nil, fmt.Errorf("point %d: %w", i+1, err)
		}
		r, err := unit.ParseRate(m[2])
		if err = checkHeating(r, err); err != nil {
			return 0, nil, fmt.Errorf("point %d: %w", i+1, err)
		}
		if i > 0 && !at[i-1].At.Less(t) {
			return 0, nil, &PointError{Point: i + 1, Text: part, Reason: fmt.Sprintf("is not above the one before, %s", unit.AsTyped(at[i-1].At)), Next: "give the points from cold to hot"}
		}
		at = append(at, HeatPoint{t, r})
		greatest = max(greatest, r)
	}
	return greatest, at, nil
}

const heatingHint = `write "400 °C/h", or by temperature "20 °C 600 °C/h, 500 °C 300 °C/h"`

func checkHeating(r unit.Rate, err error) error {
	if err == nil && !(r.KelvinPerHour() >= 1 && r.KelvinPerHour() <= 5000) {
		return &PointError{Reason: fmt.Sprintf("%s: must be from %s to %s", unit.AsTyped(r), unit.LimitFor(r, unit.KelvinPerHour(1)), unit.LimitFor(r, unit.KelvinPerHour(5000))), Next: heatingHint}
	}
	return err
}
