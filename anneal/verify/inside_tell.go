package verify

import (
	"math"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/seal"
	"lehr/anneal/seal/contents"
	"lehr/glass/unit"
)

// explainInside lists what a report must say about what lies in a piece.
func (rep *Report) explainInside(i int, r PieceReport) {
	if by := r.Piece.LightBy; by != "" {
		rep.Assumptions.Add(finding.OfPiece(finding.LightFromInside, i).Named(by).Which(r.Piece.Light == "opaque"))
	}
	in := r.Inside
	if in == nil {
		return
	}
	if in.Carrier != "" && in.Together.Worst > 0 {
		rep.Notes.Add(finding.OfPiece(finding.MisfitAtSurface, i).Named(in.Carrier).Pulled(in.Together.Worst, in.Limit).Also(in.Alone.Worst, 0))
	}
	if f, ok := in.remedy(); ok {
		rep.Notes.Add(f.In(i))
	}
	for _, f := range in.Misfit.Findings {
		switch f.Kind {
		case seal.PullsLoose:
			rep.Notes.Add(finding.OfPiece(finding.MisfitLoose, i).Named(f.Of).Pulled(f.Stress, 0))
		case seal.BuriedTension:
			rep.Notes.Add(finding.OfPiece(finding.MisfitBuried, i).Named(f.Of).Pulled(in.buriedAt(f.Of, seal.AtStone, f.Stress), 0).Also(f.Stress, 0).Sized(f.Lengths[:]...))
		case seal.LayerTension:
			rep.Notes.Add(finding.OfPiece(finding.MisfitInLayer, i).Named(f.Of).Pulled(in.buriedAt(f.Of, "", f.Stress), 0).Also(f.Stress, 0).Sized(f.Lengths[:]...))
		case seal.UnstatedColor:
			rep.Assumptions.Add(finding.OfPiece(finding.MisfitAssumed, i).Named(f.Of).Counting(f.Number))
		case seal.WeakData:
			rep.Assumptions.Add(finding.OfPiece(finding.MisfitGuessed, i).Named(f.Of))
		}
	}
	rep.Assumptions.Add(finding.OfPiece(finding.MisfitSets, i).At(in.Misfit.Setting).Apart(in.Misfit.Falls.Fall))
	for _, key := range []string{"timoshenko1970", "maxwell-misfit"} {
		rep.Sources.Add(finding.Source{Cite: contents.Sources()[key].Cite, Status: "derived"})
	}
}

// sayOneGlass says of which pieces nobody said that something is in them.
func (rep *Report) sayOneGlass() {
	bare, filled := false, false
	for _, p := range rep.Pieces {
		bare, filled = bare || p.Inside == nil, filled || p.Inside != nil
	}
	if bare {
		rep.Assumptions.Add(finding.Of(finding.OneGlass).Which(filled))
	}
}

// buriedAt is the greatest tension with the program of the glass at a stone, or
// in a layer if kind is empty; at least the misfit itself.
func (in *Inside) buriedAt(name string, kind seal.PlaceKind, misfit unit.Stress) unit.Stress {
	most := misfit
	for _, b := range in.Buried {
		if kind != "" && b.Place.Kind == kind && b.Place.Next == name || kind == "" && b.Place.Kind != seal.AtStone && b.Place.In == name {
			most = max(most, b.Together)
		}
	}
	return most
}

// remedy says what can be changed where something cracks, or the surface exceeds
// its limit for good: no program does it.
func (in *Inside) remedy() (f finding.Finding, ok bool) {
	if !in.cracks() && (in.Carrier == "" || in.Together.Worst <= in.Limit) {
		return f, false
	}
	f = finding.Of(finding.MisfitRemedy).Counting(max(0, float64(in.Together.Worst/in.Limit)-1))
	m := in.Misfit
	if !in.cracks() && (m.Greatest > 0 || m.LeastCover > 0) {
		for _, x := range m.Findings {
			if x.Kind == seal.BuriedTension {
				f.Name = x.Of
			}
		}
		if f.Name != "" {
			return f.Sized(m.Greatest, m.LeastCover, m.Cover).Which(in.middle), true
		}
	}
	most := 0.0
	for _, x := range m.Findings {
		if x.Kind == seal.Kinder && math.Abs(float64(x.Stress)) > most {
			most, f.Name, f.Yes = math.Abs(float64(x.Stress)), x.Of, x.Stress < 0
		}
	}
	if f.Name == "" { // which way is kinder is not told: the nearer the better
		f.Name, f.To = in.other, 1
	}
	return f, true
}

// fastSetting is a cooling quicker than a program has where glass sets: what
// shrinks apart from there on is more than it can be.
var fastSetting = unit.KelvinPerHour(1000)

// misfit is what lies in a piece and is more than any program leaves of it: for a
// search, whose programs differ.
func misfit(g *Group, l kiln.Limits) (Inside, error) {
	in := Inside{Limit: longLimit(g, l)}
	if g.Piece.Contents.Empty() {
		return in, nil
	}
	body, err := g.Piece.SealBody()
	if err != nil {
		return in, err
	}
	in.Misfit, err = seal.Problem{Clear: g.Piece.Glass, Body: body, Contents: g.Piece.Contents, Limit: in.Limit, Rate: fastSetting}.Judge()
	if place, ok := in.Misfit.AtSurface(); ok && err == nil {
		in.Alone, in.Carrier = Pull{place.Hoop.Expected, place.Hoop.High}, place.In
	}
	return in, err
}

// beside lowers the limit of the surface by what a misfit takes of it for good;
// not where it leaves too little, for then no program is to blame.
func (p pairs) beside(in Inside) pairs {
	if in.Carrier == "" || !in.helps() {
		return p
	}
	p.surface.Expected = min(p.surface.Expected, in.Limit-max(0, in.Alone.Expected))
	p.surface.Worst = min(p.surface.Worst, in.Limit-max(0, in.Alone.Worst))
	return p
}
