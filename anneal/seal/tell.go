package seal

import (
	"math"

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
	better := func(now, offset, path unit.Length) {
		if now = unit.Length(math.Abs(float64(now))); now > r.Light.Now {
			r.Light = Light{Known: true, Now: now, Offset: offset, Path: path}
		}
	}
	switch {
	case len(m.shells) > 0 && m.p.Body.Form == sim.Sphere:
		shells, drop := m.sphere(), m.drop()
		end := shells[len(shells)-1].Outer
		for i := 1; i < 200; i++ {
			b := end * unit.Length(i) / 200
			better(SphereRetardation(shells, drop, b, c), b, 0)
		}
		for _, s := range shells[:len(shells)-1] {
			better(SphereRetardation(shells, drop, s.Outer, c), s.Outer, 0)
		}
	default:
		const path = 10 * unit.Millimeter
		for _, p := range r.Places {
			if p.Kind != AtStone && p.Kind != OverStone && p.Kind != InFoil {
				better(unit.Length(c*float64(p.Hoop.Expected))*path, 0, path)
			}
		}
	}
	for _, in := range m.stones {
		if in.Shape != Foil {
			p := SelsingPressure(m.solid(m.partOf(in.Material)), m.solid(0), unit.Delta(m.fallRock))
			better(StoneRetardation(p, in.Size/2, c), in.Size/2, 0)
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
	c := SkinTime(m.parts[0].Poisson.Number)
	a, err1 := SettingTemperature(curves[0], m.modulus(0), c, m.p.Rate)
	b, err2 := SettingTemperature(curves[0], m.modulus(0), c, m.p.Rate/2)
	if err1 != nil || err2 != nil {
		return 0, 0
	}
	d := a.Sub(b)
	return d, float64(d / a.Sub(Room))
}

// film is the thickness below which a metal film does nothing to the glass, and
// leaf where it begins to count [memory].
const (
	film = 1 * unit.Micrometer
	leaf = 20 * unit.Micrometer
)

// metalYields is about what a soft metal bears before it yields [judgment].
const metalYields = 200 * unit.Megapascal

// tell collects what there is to say.
func (m *model) tell(r *Report) {
	add := func(f Finding) { r.Findings = append(r.Findings, f) }
	if r.Worst > m.p.Limit/2 && r.Verdict != NotJudged {
		add(Finding{Kind: HalfSpent, Stress: r.Worst})
	}
	m.tellInside(r, add)
	m.tellLayers(r, add)
	if s, i, ok := m.slope(); ok {
		add(Finding{Kind: Kinder, Of: m.parts[i].Name, Stress: s})
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
	if SurfaceLimit(m.p.Clear).Status == glass.Memory {
		add(Finding{Kind: LimitUnstated, Of: m.p.Clear.Name})
	}
}

// slope returns by how much one unit more in the first partner that matters
// changes the tension at the surface where it is greatest.
func (m *model) slope() (unit.Stress, int, bool) {
	most := func(m *model, at int) (unit.Stress, int) {
		list, _ := m.spots()
		best, where := unit.Stress(math.Inf(-1)), -1
		for i, s := range list {
			if s.kind.AtSurface() && s.kind != BesideStripe && (at < 0 && s.hoop > best || i == at) {
				best, where = s.hoop, i
			}
		}
		return best, where
	}
	was, at := most(m, -1)
	if at < 0 {
		return 0, 0, false
	}
	const oneUnit = 1e-7
	for i := 1; i < len(m.parts); i++ {
		now, _ := most(m.with(func(m *model) { m.parts[i].alpha += oneUnit }), at)
		if d := now - was; math.Abs(float64(d)) > 1e3 {
			return d, i, true
		}
	}
	return 0, 0, false
}

// tellInside says what there is to say of stones and metals.
func (m *model) tellInside(r *Report, add func(Finding)) {
	clear := m.solid(0)
	for _, in := range m.p.Contents.Inside {
		i := m.partOf(in.Material)
		rock := m.solid(i)
		name := m.parts[i].Name
		if in.Shape == Foil {
			kind := FoilRim
			if in.Size < film {
				kind = FilmIsNothing
			}
			add(Finding{Kind: kind, Of: name, Lengths: [4]unit.Length{in.Size, leaf}})
			continue
		}
		if in.Material.Hydrated && !in.Dry {
			add(Finding{Kind: DryFirst, Of: name})
		}
		m.tellSeal(r, add, name, rock, clear, in.Size/2)
		if in.Shape == Flat {
			add(Finding{Kind: EdgeRaises, Of: name, Number: float64(edgeOf(in))})
			if in.Edge == 0 {
				add(Finding{Kind: EdgeUnknown, Of: name, Lengths: [4]unit.Length{in.Thick * assumedEdge}})
			}
		}
		cover := m.p.depth(in) - in.high()
		over, at := r.at(OverStone), r.at(AtStone)
		if !m.p.concentric(in) && over != nil && at != nil && over.Hoop.Expected > at.Hoop.Expected/edgeOf(in) && over.Hoop.Expected > 0 {
			add(Finding{Kind: SurfaceOverStone, Of: name, Stress: over.Hoop.High, Lengths: [4]unit.Length{cover, r.LeastCover}})
		}
		if in.Count > 1 && (in.Apart == 0 || in.Apart < 3*in.Size) {
			add(Finding{Kind: Crowded, Of: name, Lengths: [4]unit.Length{in.Apart, 3 * in.Size}})
		}
		if in.Material.Kind == Metal && r.Pressure.Size() > metalYields {
			add(Finding{Kind: Yields, Of: name, Stress: r.Pressure.Size()})
		}
	}
	if len(m.shells) > 0 && m.shells[0].stone && len(m.p.Contents.Layers) > 0 {
		i := m.shells[0].part
		m.tellSeal(r, add, m.parts[i].Name, m.solid(i), m.solid(m.shells[1].part), m.shells[0].outer)
		if m.parts[i].Hydrated {
			add(Finding{Kind: DryFirst, Of: m.parts[i].Name})
		}
	}
}

// tellSeal says whether a stone is squeezed or pulled, and what it takes to
// crack the glass at it.
func (m *model) tellSeal(r *Report, add func(Finding), name string, rock, clear Elastic, radius unit.Length) {
	p := r.Pressure
	if p.Low < 0 {
		add(Finding{Kind: PullsLoose, Of: name, Stress: p.Low})
	}
	at := r.at(AtStone)
	if p.High <= 0 || at == nil || at.Hoop.High <= 0 {
		return
	}
	γ := FractureEnergy(ToughnessAtOnce, clear.Young)
	add(Finding{Kind: BuriedTension, Of: name, Stress: at.Hoop.High, Lengths: [4]unit.Length{
		CriticalRadius(p.High, rock, clear, γ), radius,
		FlawDepth(at.Hoop.High, ToughnessAtOnce), FlawDepth(at.Hoop.High, ToughnessForYears)}})
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

// tellLayers says what there is to say of glass on glass.
func (m *model) tellLayers(r *Report, add func(Finding)) {
	said := map[string]bool{}
	for _, p := range r.Places {
		buried := p.Kind == InsideOf || p.Kind == OutsideOf || p.Kind == InCore
		if buried && p.Hoop.High > m.p.Limit/2 && !said[p.In] {
			said[p.In] = true
			add(Finding{Kind: LayerTension, Of: p.In, Stress: p.Hoop.High, Lengths: [4]unit.Length{2: FlawDepth(p.Hoop.High, ToughnessAtOnce), 3: FlawDepth(p.Hoop.High, ToughnessForYears)}})
		}
	}
	clear := m.solid(0)
	for i, p := range m.parts {
		if i == 0 || p.Kind != Glass && p.Kind != Color {
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
	if m.p.Contents.Skin != nil && m.p.Body.Form == sim.Cylinder {
		add(Finding{Kind: SkinAsBound, Of: m.p.Contents.Skin.Material.Name})
	}
}
