package seal

import (
	"math"
	"slices"

	"lehr/anneal/seal/contents"
	"lehr/anneal/sim"
	"lehr/glass"
	"lehr/glass/unit"
)

// light finds what a polariscope shows of the misfit.
func (m *model) light(r *Report) {
	optic := m.p.Clear.StressOptic
	if !optic.Known() {
		return
	}
	c := optic.Number
	sphere := m.p.Body.Form == sim.Sphere
	better := func(now, offset, path unit.Length, round bool) {
		if now = unit.Length(math.Abs(float64(now))); now > r.Light.Now {
			r.Light = Light{Known: true, Now: now, Offset: offset, Path: path, Round: round}
		}
	}
	switch {
	case len(m.shells) > 0 && sphere:
		shells, drop := m.sphere(), m.drop()
		end := shells[len(shells)-1].Outer
		for i := 1; i < 200; i++ {
			b := end * unit.Length(i) / 200
			better(sphereRetardation(shells, drop, b, c), b, 0, true)
		}
		for _, s := range shells[:len(shells)-1] {
			better(sphereRetardation(shells, drop, s.Outer, c), s.Outer, 0, true)
		}
	default:
		const path = 10 * unit.Millimeter
		for _, p := range r.Places {
			if p.Kind != AtStone && p.Kind != OverStone && p.Kind != InFoil {
				better(unit.Length(c*float64(p.Hoop.Expected))*path, 0, path, false)
			}
		}
	}
	for _, in := range m.stones {
		if in.Shape != contents.Foil {
			p := SelsingPressure(m.solid(m.partOf(in.Material)), m.solid(0), unit.Delta(m.fallRock))
			const middle = 0.98 // of the way to it
			better(stoneRetardation(p, in.Size/2, c), in.Size/2, 0, sphere && float64(2*m.p.depth(in)/m.p.Body.Size) > middle)
		}
	}
	if r.Light.Known {
		_, share := m.slower()
		r.Light.Again = r.Light.Now * unit.Length(1-share)
	}
}

// slower returns how far half the cooling rate moves the setting temperature,
// and the share of the stress that it takes away.
func (m *model) slower() (unit.Delta, float64) {
	curves, err := m.p.Clear.Curves()
	if err != nil {
		return 0, 0
	}
	c := skinTime(m.parts[0].Poisson.Number)
	a, err1 := settingTemperature(curves[0], m.modulus(0), c, m.p.Rate)
	b, err2 := settingTemperature(curves[0], m.modulus(0), c, m.p.Rate/2)
	if err1 != nil || err2 != nil {
		return 0, 0
	}
	d := a.Sub(b)
	return d, float64(d / a.Sub(Room()))
}

// film is the thickness below which a metal film does nothing to the glass, and
// leaf where it begins to count [memory].
const (
	film = 1 * unit.Micrometer
	leaf = 20 * unit.Micrometer
)

// metalYields is about what a soft metal bears before it yields [judgment].
const metalYields = 200 * unit.Megapascal

// StrengthReached is the tension at which the strongest of the tested beams of
// kiln-cast borosilicate broke within a minute; most broke at half of it. A misfit
// that pulls glass harder for good cracks the piece.
//
// Source: kiln-cast-beams, table 7 [verified].
//
// Checked: testdata/cases/measured-results.toml
const StrengthReached = 50.6 * unit.Megapascal

// cracks finds what cannot hold: glass at the outer surface or in a layer, buried
// or not. At a stone in the clear glass more does hold, and a stone or a metal is
// no glass: it comes loose.
func (m *model) cracks(r *Report) (f Finding, ok bool) {
	isGlass := func(name string) bool {
		return slices.ContainsFunc(m.parts, func(p part) bool { return p.Name == name && p.IsGlass() })
	}
	worst := Place{}
	for _, p := range r.Places {
		if p.Kind != AtStone && p.Kind != InFoil && p.Hoop.Expected > worst.Hoop.Expected && isGlass(p.In) {
			worst = p
		}
	}
	return Finding{Kind: Cracks, Of: worst.In, Stress: worst.Hoop.Expected}, worst.Hoop.Expected > StrengthReached
}

// tell collects what there is to say.
func (m *model) tell(r *Report) {
	add := func(f Finding) { r.Findings = append(r.Findings, f) }
	if r.Worst > m.p.Limit/2 && r.Verdict == Within {
		add(Finding{Kind: HalfSpent, Stress: r.Worst})
	}
	cracks := ""
	if f, ok := m.cracks(r); ok {
		cracks = f.Of
		add(f)
	}
	m.tellInside(r, add)
	m.tellLayers(r, cracks, add)
	for i := 1; i < len(m.parts); i++ {
		if s, at, ok := m.slope(r, i); ok && m.parts[i].Kind != contents.Metal {
			add(Finding{Kind: Kinder, Of: m.parts[i].Name, With: at, Stress: s})
		}
	}
	d, share := m.slower()
	add(Finding{Kind: Stays, Delta: d, Number: share})
	for _, p := range m.parts[1:] {
		α := p.Expansion
		switch {
		case p.Unstated:
			add(Finding{Kind: UnstatedColor, Of: p.Name, Number: (α.High - α.Low) / 2})
		case α.Status == glass.Memory || α.Status == glass.Derived:
			add(Finding{Kind: WeakData, Of: p.Name})
		}
	}
	if s := contents.SurfaceLimit(m.p.Clear).Status; s != glass.Verified && s != glass.Corroborated {
		add(Finding{Kind: LimitUnstated, Of: m.p.Clear.Name})
	}
}

// slope returns by how much one unit more in a material changes the greatest
// tension, and what carries that; for a stone, the tension of the glass at it.
func (m *model) slope(r *Report, part int) (slope unit.Stress, at string, ok bool) {
	const oneUnit = 1e-7
	was, _ := m.spots()
	now, _ := m.with(func(m *model) { m.parts[part].alpha += oneUnit }).spots()
	rock := m.parts[part].Kind == contents.Stone ||
		slices.ContainsFunc(m.p.Contents.Inside, func(in contents.Inside) bool { return in.Material.Name == m.parts[part].Name })
	most := unit.Stress(math.Inf(-1))
	for i, s := range was {
		meets := s.in == part || s.next == part || !rock && s.kind == OuterSurface
		if (rock && s.kind != AtStone) || !meets || r.Places[i].Hoop.High <= most {
			continue
		}
		most = r.Places[i].Hoop.High
		slope, at, ok = now[i].hoop-s.hoop, r.Places[i].In, true
	}
	return slope, at, ok
}

// tellInside says what there is to say of stones and metals.
func (m *model) tellInside(r *Report, add func(Finding)) {
	places := r.atStones(m)
	for k, in := range m.p.Contents.Inside {
		name := m.parts[m.partOf(in.Material)].Name
		if in.Shape == contents.Foil {
			tellFoil(in, r, name, add)
			continue
		}
		if in.Material.Hydrated && !in.Dry {
			add(Finding{Kind: DryFirst, Of: name})
		}
		m.tellStone(in, places[k], name, add)
	}
	m.tellCore(r, add)
}

// tellFoil says what there is to say of a foil or a film.
func tellFoil(in contents.Inside, r *Report, name string, add func(Finding)) {
	kind := FoilRim
	if in.Size < film {
		kind = FilmIsNothing
	}
	add(Finding{Kind: kind, Of: name, Lengths: [4]unit.Length{in.Size, leaf}})
	if at := r.at(InFoil); in.Material.Kind == contents.Metal && at.Hoop.size() > metalYields {
		add(Finding{Kind: Yields, Of: name, Stress: at.Hoop.size()})
	}
}

// tellStone says what there is to say of a body with glass around it.
func (m *model) tellStone(in contents.Inside, at Place, name string, add func(Finding)) {
	clear := m.solid(0)
	m.tellSeal(at, add, name, m.solid(m.partOf(in.Material)), clear, in.Size/2)
	if in.Shape == contents.Flat {
		add(Finding{Kind: EdgeRaises, Of: name, Number: float64(edgeOf(in))})
		if in.Edge == 0 {
			add(Finding{Kind: EdgeUnknown, Of: name, Lengths: [4]unit.Length{in.Thick * assumedEdge}})
		}
	}
	cover, share := m.p.depth(in)-in.Reach(), float64(in.Size/2/m.p.depth(in))
	if surface, _ := nearSurface(-at.Radial.Expected, clear.Poisson, share); !m.p.concentric(in) && surface > -at.Radial.Expected/2 && surface > 0 {
		over, _ := nearSurface(-at.Radial.Low, clear.Poisson, share)
		least := unit.Length(0)
		if room := m.p.Limit - m.p.Already; room > 0 {
			least = in.Size / 2 * unit.Length(nearSurfaceDepth(-at.Radial.Low, room, clear.Poisson)-1)
		}
		add(Finding{Kind: SurfaceOverStone, Of: name, Stress: over, Lengths: [4]unit.Length{cover, least}})
	}
	if in.Count > 1 && (in.Apart == 0 || in.Apart < 3*in.Size) {
		add(Finding{Kind: Crowded, Of: name, Lengths: [4]unit.Length{in.Apart, 3 * in.Size}})
	}
	if in.Material.Kind == contents.Metal && at.Radial.size() > metalYields {
		add(Finding{Kind: Yields, Of: name, Stress: at.Radial.size()})
	}
}

// tellCore says what there is to say of layers whose core is a stone.
func (m *model) tellCore(r *Report, add func(Finding)) {
	layers := m.p.Contents.Layers
	if len(m.shells) == 0 || !m.shells[0].stone || len(layers) == 0 || !layers[0].Core {
		return
	}
	i := m.shells[0].part
	if at := r.at(AtStone); at != nil { // in a flat piece it is a sheet, not a stone
		m.tellSeal(*at, add, m.parts[i].Name, m.solid(i), m.solid(m.shells[1].part), m.shells[0].outer)
	}
	if m.parts[i].Hydrated {
		add(Finding{Kind: DryFirst, Of: m.parts[i].Name})
	}
}

// atStones returns the place in the glass at each thing inside, in their order.
func (r *Report) atStones(m *model) []Place {
	var all []Place
	for _, p := range r.Places {
		if p.Kind == AtStone {
			all = append(all, p)
		}
	}
	next := 0
	if len(m.shells) > 0 && m.shells[0].stone {
		next = 1 // that of the stone in the middle comes first
	}
	out := make([]Place, len(m.p.Contents.Inside))
	for k, in := range m.p.Contents.Inside {
		if m.p.concentric(in) {
			out[k] = all[0]
		} else {
			out[k], next = all[next], next+1
		}
	}
	return out
}

// tellSeal says whether a stone is squeezed or pulled, and what it takes to
// crack the glass at it.
func (m *model) tellSeal(at Place, add func(Finding), name string, rock, clear Elastic, radius unit.Length) {
	if at.Radial.High > 0 {
		add(Finding{Kind: PullsLoose, Of: name, Stress: -at.Radial.High})
	}
	pressure := -at.Radial.Low
	if pressure <= 0 || at.Hoop.High <= 0 {
		return
	}
	γ := fractureEnergy(toughnessAtOnce, clear.Young)
	add(Finding{Kind: BuriedTension, Of: name, Stress: at.Hoop.High, Lengths: [4]unit.Length{
		criticalRadius(pressure, rock, clear, γ), radius,
		flawDepth(at.Hoop.High, toughnessAtOnce), flawDepth(at.Hoop.High, toughnessForYears)}})
}

// at returns the first place of a kind, or nil.
func (r *Report) at(k PlaceKind) *Place {
	for i := range r.Places {
		if r.Places[i].Kind == k {
			return &r.Places[i]
		}
	}
	return nil
}

// tellLayers says what there is to say of glass on glass, but of what cracks no
// more than that.
func (m *model) tellLayers(r *Report, cracks string, add func(Finding)) {
	said := map[string]bool{cracks: true}
	for _, p := range r.Places {
		buried := p.Kind == InsideOf || p.Kind == OutsideOf || p.Kind == InCore
		if buried && p.Hoop.High > m.p.Limit/2 && !said[p.In] {
			said[p.In] = true
			add(Finding{Kind: LayerTension, Of: p.In, Stress: p.Hoop.High, Lengths: [4]unit.Length{2: flawDepth(p.Hoop.High, toughnessAtOnce), 3: flawDepth(p.Hoop.High, toughnessForYears)}})
		}
	}
	clear := m.solid(0)
	for i, p := range m.parts {
		if i == 0 || !p.IsGlass() {
			continue
		}
		if d := math.Abs(m.solid(i).Expansion - clear.Expansion); d > SealMismatchLimit(unit.Delta(m.fall)) {
			add(Finding{Kind: TestSealBreaks, Of: p.Name, Number: d})
		}
		if p.Glass == m.p.Clear || !p.Glass.Anneal.Known() || !m.p.Clear.Anneal.Known() {
			continue
		}
		d := m.p.Clear.Anneal.Temp().Sub(p.Glass.Anneal.Temp())
		if d > 1 {
			add(Finding{Kind: SofterDecides, Of: p.Name, Delta: d})
		}
		soft := p.Glass
		if d < 0 {
			soft = m.p.Clear
		}
		if d = unit.Delta(math.Abs(float64(d))); d > 1 && soft.ExpansionLiquid.Known() {
			add(Finding{Kind: StructureAdds, Of: p.Name, Delta: d,
				Number: (soft.ExpansionLiquid.Number - soft.Expansion.Number) * float64(d) / m.fall})
		}
	}
	beside := 0
	for _, p := range r.Places {
		if p.Kind == BesideStripe {
			if s := m.p.Contents.Stripes[beside]; p.Hoop.High > 0 {
				add(Finding{Kind: StripeEdges, Of: p.Next, With: p.In, Stress: p.Hoop.High, Lengths: [4]unit.Length{s.Thick}})
			}
			beside++
		}
	}
	if m.p.Contents.Skin != nil && m.p.Body.Form == sim.Cylinder {
		add(Finding{Kind: SkinAsBound, Of: m.p.Contents.Skin.Material.Name})
	}
}
