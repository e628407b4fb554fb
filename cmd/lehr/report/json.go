package report

import (
	"fmt"
	"math"
	"strings"

	"lehr/anneal/finding"
	"lehr/anneal/piece"
	"lehr/anneal/verify"
	"lehr/cmd/lehr/words"

	"lehr/glass/unit"
)

// JSON is a report in JSON. Keys carry their units and stay as they are: scripts
// depend on them. Temperatures and rates are in °C or °F as "units" says.
type JSON struct {
	Verdict     string        `json:"verdict"`
	Schedule    ScheduleJSON  `json:"schedule"`
	Ready       *readyJSON    `json:"ready_by"`
	Shortest    *ShortestJSON `json:"shortest"`
	Energy      *energyJSON   `json:"energy"`
	Pieces      []PieceJSON   `json:"pieces"`
	Notes       []string      `json:"notes"`
	Reasons     []string      `json:"reasons"`
	Questions   []string      `json:"questions,omitempty"`
	Kilns       []KilnJSON    `json:"kilns,omitempty"`
	Mend        []string      `json:"smallest_change,omitempty"`
	Closed      *ClosedJSON   `json:"keep_closed,omitempty"`
	Assumptions []string      `json:"assumptions"`
	Cautions    []CautionJSON `json:"cautions"`
	NotKept     []string      `json:"not_kept"` // lines that what is known breaks
	Before      []string      `json:"before_and_after,omitempty"`
	Sources     []string      `json:"sources"`
}

// ScheduleJSON is the program of a report in JSON.
type ScheduleJSON struct {
	Start    *string          `json:"start"`
	Ends     *string          `json:"ends"`
	About    bool             `json:"ends_estimated"`
	TotalH   Num              `json:"total_h"`
	Units    string           `json:"units"`
	Segments []map[string]any `json:"segments"`
}

// PieceJSON is a piece of a report in JSON.
type PieceJSON struct {
	What              string      `json:"what"`
	Shape             string      `json:"shape"`
	Glass             string      `json:"glass"`
	Count             int         `json:"count"`
	SizeMM            Num         `json:"size_mm"`
	Idealization      string      `json:"idealization"`
	Peak              Num         `json:"peak_tension_MPa"`
	PeakTimeH         Num         `json:"peak_tension_clock_h"`
	PeakNominalH      Num         `json:"peak_tension_told_h"`
	PeakPlace         string      `json:"peak_tension_place"`
	LeftSurface       *Num        `json:"left_surface_MPa"`
	LeftCenter        *Num        `json:"left_center_MPa"`
	LeftMax           *Num        `json:"left_max_tension_MPa"`
	Retardation       *Num        `json:"retardation_nm"`
	RetardationAt     string      `json:"retardation_place,omitempty"`
	MaxLag            Num         `json:"max_lag_K"`
	SoakLag           *Num        `json:"soak_lag_K"`
	Relaxed           *Num        `json:"soak_relaxed_fraction"`
	ExpectedPeak      Num         `json:"expected_peak_tension_MPa"`
	ExpectedLimitPeak Num         `json:"expected_limit_peak_MPa"`
	ExpectedLeft      *Num        `json:"expected_left_max_tension_MPa,omitempty"`
	ExpectedLimitLeft *Num        `json:"expected_limit_left_MPa,omitempty"`
	PeakShare         Num         `json:"peak_share_of_limit"`
	LeftShare         *Num        `json:"left_share_of_limit,omitempty"`
	FictiveSurface    *Num        `json:"fictive_surface_C,omitempty"`
	FictiveCenter     *Num        `json:"fictive_center_C,omitempty"`
	Light             string      `json:"light,omitempty"`
	InH               Num         `json:"in_h"`      // when it went in, from the start of the program
	EvenAtH           Num         `json:"even_at_h"` // when it is as even as counts
	LimitPeak         Num         `json:"limit_peak_MPa"`
	LimitLeft         Num         `json:"limit_left_MPa"`
	ClosedPeak        Num         `json:"closed_form_tension_MPa"`
	ClosedLeft        Num         `json:"closed_form_left_MPa"`
	WorstCase         string      `json:"worst_case"`
	Within            bool        `json:"within"`
	Over              []string    `json:"over"`
	Decides           []string    `json:"decides"`
	Inside            *InsideJSON `json:"inside,omitempty"`

	SegmentTension []Num       `json:"segment_tension_MPa"`
	SegmentShare   []Num       `json:"segment_share_of_limit"`
	Opening        *Num        `json:"opening_tension_MPa,omitempty"`
	Doors          []doorJSON  `json:"opened_before,omitempty"`
	PeakByDepth    [][2]Num    `json:"peak_tension_by_depth_MPa,omitempty"`
	LeftByDepth    [][2]Num    `json:"left_by_depth_MPa,omitempty"` // share of the way in, stress
	PeakRanges     []RangeJSON `json:"peak_tension_ranges"`
	LeftRanges     []RangeJSON `json:"left_ranges,omitempty"`
}

// ClosedJSON is until when a kiln stays closed that would be opened too hot: null until
// it is as cool as the room.
type ClosedJSON struct {
	Reading *Num   `json:"until_it_reads"` // in the units of the program
	Units   string `json:"units"`
	AfterH  *Num   `json:"after_end_h"`
	About   bool   `json:"after_end_estimated"`
}

func newClosedJSON(rep *verify.Report) *ClosedJSON {
	f, ok := rep.Notes.Find(finding.KeepClosed)
	if !ok {
		return nil
	}
	j := &ClosedJSON{Units: unitLetter(rep), About: !f.Yes}
	if !f.Temp.IsZero() {
		x, _ := f.Temp.In(rep.Studio.Controller.Units)
		reading, after := Num(x), Num(f.Time.Hours())
		j.Reading, j.AfterH = &reading, &after
	}
	return j
}

// unitLetter is that of the degrees of the controller.
func unitLetter(rep *verify.Report) string {
	if rep.Studio.Controller.Units == unit.US {
		return "F"
	}
	return "C"
}

// KilnJSON is what a program comes to in one kiln that one which nobody measured
// may be.
type KilnJSON struct {
	TimeConstantH Num    `json:"time_constant_h"`
	Verdict       string `json:"verdict"`
	Use           Num    `json:"share_of_limit"`
	TotalH        Num    `json:"total_h"`
}

func kilnsJSON(rep *verify.Report) (out []KilnJSON) {
	for _, k := range rep.Kilns {
		out = append(out, KilnJSON{Num(k.TimeConstant.Hours()), words.Verdict(k.Verdict), Num(k.Use), Num(k.Total.Hours())})
	}
	return out
}

// RangeJSON is what one property or question that nobody knows adds to a stress
// in its adverse reading, as a share.
type RangeJSON struct {
	Name  string `json:"name"`
	Share Num    `json:"share"`
}

func depthsJSON(ds []verify.AtDepth) (out [][2]Num) {
	for _, d := range ds {
		out = append(out, [2]Num{Num(d.Depth), MPa(d.Stress)})
	}
	return out
}

func rangesJSON(b verify.Tension) []RangeJSON {
	out := []RangeJSON{}
	for _, p := range b.Why.Parts {
		out = append(out, RangeJSON{words.Part(p.Of, p.Answer), Num(p.Share)})
	}
	return out
}

// MPa is a stress in JSON; a pascal and less is rounding of the computation.
func MPa(s unit.Stress) Num {
	if math.Abs(float64(s)) < 1 {
		return 0
	}
	return Num(s.Megapascals())
}

// NewJSON makes the JSON of a report.
func NewJSON(rep *verify.Report) (JSON, error) {
	say := words.About(rep)
	cautions, err := CautionsJSON(rep)
	if err != nil {
		return JSON{}, err
	}
	broken, err := NotKept(rep)
	if err != nil {
		return JSON{}, err
	}
	v := JSON{Verdict: words.Verdict(rep.Verdict()), Schedule: NewScheduleJSON(rep), Ready: newReadyJSON(rep), Shortest: NewShortestJSON(rep), Energy: newEnergyJSON(rep), Notes: say.List(rep.Notes), Reasons: say.Reasons(rep.Reasons), Questions: say.List(rep.Questions), Kilns: kilnsJSON(rep), Mend: say.List(rep.Mend), Closed: newClosedJSON(rep),
		Assumptions: say.Assumed(rep.Assumptions), Cautions: cautions, NotKept: append([]string{}, broken...), Before: BeforeAndAfter(rep), Sources: words.Sources(rep.Sources)}
	for _, p := range rep.Pieces {
		j := PieceJSON{What: p.Piece.What, Shape: string(p.Piece.Shape), Glass: p.Piece.Glass.Name, Count: p.Piece.Count,
			SizeMM: Num(p.Piece.Size.Millimeters()), Idealization: BodyText(p.Piece, unit.Metric), Peak: MPa(p.Peak), PeakTimeH: Num(rep.ActualTime(p.PeakTime) / 3600), PeakNominalH: Num(p.PeakTime / 3600),
			PeakPlace: words.Place(p.PeakPlace), MaxLag: Num(p.MaxLag), LimitPeak: MPa(p.Tension.Pair.Worst), LimitLeft: MPa(p.ResidualTension.Pair.Worst),
			ExpectedPeak: MPa(p.Tension.Expected), ExpectedLimitPeak: MPa(p.Tension.Pair.Expected), PeakShare: Num(p.Tension.Use), Light: string(p.Piece.Light), InH: Num(-p.Piece.In.Hours()), EvenAtH: Num(verify.EvenAt(p.Piece, rep.Load.Into, rep.Schedule.From).Hours()),
			ClosedPeak: MPa(p.ClosedPeak), ClosedLeft: MPa(p.ClosedResidual), WorstCase: words.Shares(p.Tension.Why), Within: p.Verdict() == verify.WithinLimits,
			Over: say.List(p.Over), Decides: Purposes(p.Decides)}
		opt := func(x Num) *Num { return &x }
		if p.ResidualJudged {
			j.LeftSurface, j.LeftCenter, j.LeftMax = opt(MPa(p.ResidualSurface)), opt(MPa(p.ResidualCenter)), opt(MPa(p.Residual))
			if at := p.Piece.Shown(); at != piece.NotShown {
				j.Retardation, j.RetardationAt = opt(Num(float64(p.Retardation)*1e9)), string(at)
			}
			j.ExpectedLeft, j.ExpectedLimitLeft, j.LeftShare = opt(MPa(p.ResidualTension.Expected)), opt(MPa(p.ResidualTension.Pair.Expected)), opt(Num(p.ResidualTension.Use))
			if p.Piece.Glass.ExpansionLiquid.Known() { // else no structural relaxation is computed
				j.FictiveSurface, j.FictiveCenter = opt(Num(p.FictiveSurface.Celsius())), opt(Num(p.FictiveCenter.Celsius()))
			}
		}
		if p.SoakJudged {
			j.SoakLag, j.Relaxed = opt(Num(p.SoakLag)), opt(Num(p.Relaxed))
		}
		j.Inside = newInsideJSON(p)
		j.PeakByDepth = depthsJSON(p.PeakByDepth)
		for i, peak := range p.SpanPeak {
			j.SegmentTension = append(j.SegmentTension, MPa(unit.Stress(peak)))
			j.SegmentShare = append(j.SegmentShare, Num(p.SpanUse[i]))
		}
		if p.Opened > 0 {
			j.Opening = opt(MPa(p.Opened))
		}
		for _, d := range p.Doors {
			j.Doors = append(j.Doors, doorJSON{Num(d.At.Hours()), MPa(d.Worst), Num(d.Use)})
		}
		if j.PeakRanges = rangesJSON(p.Tension); p.ResidualJudged {
			j.LeftRanges = rangesJSON(p.ResidualTension)
			j.LeftByDepth = depthsJSON(p.ResidualByDepth)
		}
		v.Pieces = append(v.Pieces, j)
	}
	return v, nil
}

// doorJSON is what one opening of the hot kiln before the program did to a piece.
type doorJSON struct {
	AtH     Num `json:"opened_h"` // from the start of the program
	Tension Num `json:"tension_MPa"`
	Share   Num `json:"share_of_limit"`
}

// NewScheduleJSON makes the JSON of the program of a report.
func NewScheduleJSON(rep *verify.Report) ScheduleJSON {
	u := rep.Studio.Controller.Units
	letter := unitLetter(rep)
	s := ScheduleJSON{TotalH: Num(rep.Actual.Total().Hours()), Units: letter, About: EndsEstimated(rep)}
	if rep.Load.Start != nil {
		start, end := rep.Load.Start.String(), clockJSON(rep, rep.Actual.Total().Seconds())
		s.Start, s.Ends = &start, &end
	}
	temp := func(t unit.Temp) Num { x, _ := t.In(u); return Num(x) }
	for i, seg := range rep.Schedule.Segments {
		span := rep.Actual.Spans[i]
		rate, _ := seg.Rate.In(u)
		if seg.To.Sub(span.From) == 0 {
			rate = 0
		}
		m := map[string]any{
			"purpose":                     seg.Purpose,
			"rate_" + letter + "_per_h":   Num(rate),
			"target_" + letter:            temp(seg.To),
			"hold_min":                    Num(math.Round(seg.Hold.Minutes())),
			"from_" + letter:              temp(span.From),
			"duration_min":                Num((span.End - span.Start) / 60),
			"as_fast_as_the_kiln_can":     seg.Full,
			"power_off":                   seg.Off,
			"kiln_falls_slower_than_told": span.ByItself,
			"kiln_heats_slower_than_told": span.Overshoots,
		}
		if rep.Load.Start != nil {
			m["ends"] = clockJSON(rep, span.End)
		}
		s.Segments = append(s.Segments, m)
	}
	return s
}

// clockJSON is a clock time "07:45" of the day it falls on, with "+1d" behind
// it when that is a later day.
func clockJSON(rep *verify.Report, at float64) string {
	c, days := clockAt(rep, at)
	if days > 0 {
		return fmt.Sprintf("%s +%dd", c, days)
	}
	return c.String()
}

// BodyText says which body stands for a piece.
func BodyText(p piece.Piece, sys unit.System) string {
	text, _ := words.In(sys).Body(p)
	return strings.Join(text, "; ")
}
