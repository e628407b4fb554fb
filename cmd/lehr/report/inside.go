package report

import (
	"fmt"

	"lehr/anneal/seal"
	"lehr/anneal/seal/contents"
	"lehr/anneal/verify"
	"lehr/cmd/lehr/words"
	"lehr/glass/unit"
)

// saidInside are the findings of a misfit that every report says; the others are
// said when asked why.
var saidInside = map[seal.FindingKind]bool{seal.Cracks: true, seal.PullsLoose: true, seal.BuriedTension: true, seal.LayerTension: true, seal.UnstatedColor: true, seal.WeakData: true, seal.HalfSpent: true}

// showInside prints what lies in the pieces.
func (v *View) showInside(rep *verify.Report) {
	v.List(InsideTitle, InsideLines(rep))
}

// InsideTitle heads what lies in the pieces.
const InsideTitle = "What lies inside, in the worst case"

// InsideLines is what lies in the pieces: each place with what no program removes
// and with the program, then what else there is to say.
func InsideLines(rep *verify.Report) []string {
	sys := rep.Studio.Units
	say := words.About(rep)
	var lines []string
	for i, p := range rep.Pieces {
		in := p.Inside
		if in == nil {
			continue
		}
		name := say.Name(i)
		if in.Carrier != "" {
			lines = append(lines, fmt.Sprintf("%s: surface of %s: %s for good (average %s), %s with the program near %s", name, in.Carrier, in.Alone.Worst.Text(sys), in.Alone.Expected.Text(sys),
				in.Together.Worst.Text(sys), unit.Kelvin(rep.Nominal.At(in.Time)).Text(sys)))
		}
		for _, b := range in.Buried {
			if b.Place.Hoop.High <= 0 {
				continue // pressed, come what may
			}
			lines = append(lines, fmt.Sprintf("%s: %s: %s for good (average %s), %s with the program near %s", name, words.SealPlace(b.Place), b.Place.Hoop.High.Text(sys),
				b.Place.Hoop.Expected.Text(sys), b.Together.Text(sys), unit.Kelvin(rep.Nominal.At(b.Time)).Text(sys)))
		}
		for _, f := range in.Misfit.Findings {
			if !saidInside[f.Kind] {
				lines = append(lines, name+": "+say.Seal(f, in.Misfit, p.Piece.Contents))
			}
		}
	}
	return lines
}

// BeforeAndAfter is what to be warned of where stones are warmed for the flame, or
// lie in a piece.
func BeforeAndAfter(rep *verify.Report) (out []string) {
	stones, wet, buried := false, false, false
	for _, p := range rep.Pieces {
		stones = stones || p.Piece.IsStone()
		wet = wet || p.Piece.IsStone() && p.Piece.Stone.Material.Hydrated
		if p.Inside != nil {
			buried = buried || staysForGood(p.Inside)
		}
	}
	for _, c := range contents.Cautions(wet) {
		if stones || buried && c.ID == "days-after" {
			out = append(out, c.Text)
		}
	}
	return out
}

// staysForGood reports whether what lies in a piece leaves a tension that is to be
// feared for days: at a stone, squeezed or pulled, in a layer, or at the surface.
func staysForGood(in *verify.Inside) bool {
	if in.Alone.Worst > in.Limit/4 {
		return true
	}
	return StaysForGood(in.Misfit)
}

// StaysForGood is that of a misfit alone.
func StaysForGood(r seal.Report) bool {
	for _, k := range []seal.FindingKind{seal.BuriedTension, seal.PullsLoose, seal.LayerTension, seal.TestSealBreaks, seal.HalfSpent, seal.Cracks} {
		if _, ok := r.Find(k); ok {
			return true
		}
	}
	return r.Verdict == seal.Over || r.Verdict == seal.NotProven
}

// InsideJSON is what lies in a piece.
type InsideJSON struct {
	Setting          Num               `json:"setting_C"`
	Fall             Num               `json:"fall_K"`
	Pressure         Num               `json:"pressure_MPa"`
	Limit            Num               `json:"limit_surface_MPa"`
	Alone            Num               `json:"surface_alone_MPa"`
	ExpectedAlone    Num               `json:"expected_surface_alone_MPa"`
	Together         Num               `json:"surface_together_MPa"`
	ExpectedTogether Num               `json:"expected_surface_together_MPa"`
	Stays            Num               `json:"surface_stays_MPa"`
	Retardation      Num               `json:"retardation_nm"`
	Greatest         Num               `json:"greatest_mm"`
	LeastCover       Num               `json:"least_cover_mm"`
	LightBy          string            `json:"light_by,omitempty"`
	Places           []InsidePlaceJSON `json:"places"`
}

// InsidePlaceJSON is one buried place in it.
type InsidePlaceJSON struct {
	Place    string `json:"place"`
	In       string `json:"in"`
	Next     string `json:"next,omitempty"`
	Hoop     Num    `json:"hoop_MPa"`
	Expected Num    `json:"expected_hoop_MPa"`
	Radial   Num    `json:"expected_radial_MPa"`
	Together Num    `json:"together_MPa"`
}

// newInsideJSON returns nil for a piece with nothing in it.
func newInsideJSON(p verify.PieceReport) *InsideJSON {
	in := p.Inside
	if in == nil {
		return nil
	}
	m := in.Misfit
	v := &InsideJSON{Setting: Num(m.Setting.Celsius()), Fall: Num(m.Falls.Fall), Pressure: MPa(m.Pressure.Expected), Limit: MPa(in.Limit),
		Alone: MPa(in.Alone.Worst), ExpectedAlone: MPa(in.Alone.Expected), Together: MPa(in.Together.Worst), ExpectedTogether: MPa(in.Together.Expected),
		Stays: MPa(in.Stays.Worst), Retardation: Num(float64(m.Light.Now) * 1e9), Greatest: Num(m.Greatest.Millimeters()), LeastCover: Num(m.LeastCover.Millimeters()),
		LightBy: p.Piece.LightBy, Places: []InsidePlaceJSON{}}
	for _, b := range in.Buried {
		v.Places = append(v.Places, InsidePlaceJSON{string(b.Place.Kind), b.Place.In, b.Place.Next, MPa(b.Place.Hoop.High), MPa(b.Place.Hoop.Expected), MPa(b.Place.Radial.Expected), MPa(b.Together)})
	}
	return v
}
