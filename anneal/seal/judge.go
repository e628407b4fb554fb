package seal

import (
	"fmt"
	"math"

	"lehr/anneal/seal/contents"
	"lehr/anneal/sim"
	"lehr/glass"
	"lehr/glass/unit"
)

// defaultRate is the cooling that is assumed where nobody says one.
var defaultRate = unit.KelvinPerHour(60)

// closing is log10 of the viscosity [Pa·s] at which glass closes over what is
// put inside: between softening (10^6.6) and working point (10^3) [judgment].
const closing = 4.0

// Judge computes the piece with what is in it: the stress at every place with its
// range, the verdict, and what there is to say.
//
// Each uncertain number is set to either end of its range, the others staying
// where they are; what that changes at a place is combined as the root of the
// sum of squares. Of the two viscosity curves the one with the greater fall
// counts. Colors move with the clear glass they belong to.
//
// Errors: those of [Problem.Check], of the glass's viscosity and of the history.
func (p Problem) Judge() (Report, error) {
	if err := p.Check(); err != nil {
		return Report{}, err
	}
	p = p.filled()
	m, err := newModel(&p)
	if err != nil {
		return Report{}, err
	}
	r := Report{Limit: p.Limit}
	if err := m.set(&r); err != nil {
		return Report{}, err
	}
	r.Places, r.Pressure = m.ranges()
	m.judge(&r)
	m.answer(&r)
	m.light(&r)
	m.tell(&r)
	return r, nil
}

// filled returns the problem with its defaults.
func (p Problem) filled() Problem {
	if p.Rate == 0 {
		p.Rate = defaultRate
	}
	if p.Limit == 0 {
		p.Limit = unit.Stress(contents.SurfaceLimit(p.Clear).Number)
	}
	if p.ClosedAt.IsZero() {
		p.ClosedAt = closesAt(p.Clear)
	}
	return p
}

// closesAt is where a glass closes over what is put inside, zero if no curve
// reaches so far.
func closesAt(g *glass.Glass) unit.Temp {
	curves, err := g.Curves()
	if err != nil {
		return unit.Temp{}
	}
	var low unit.Temp
	for _, c := range curves {
		if t, err := c.At(closing); err == nil && (low.IsZero() || t.Less(low)) {
			low = t
		}
	}
	return low
}

// modulus returns the shear modulus of a part.
func (m *model) modulus(i int) unit.Stress {
	return unit.Stress(m.parts[i].young / (2 * (1 + m.parts[i].Poisson.Number)))
}

// set finds where the misfit sets, by each viscosity curve, and keeps the
// greater fall. The softest partner of a seal sets last and decides it.
func (m *model) set(r *Report) error {
	curves, err := m.p.Clear.Curves()
	if err != nil {
		return err
	}
	for k, curve := range curves {
		layers, closed, err := m.setOne(curve, skinTime(m.parts[0].Poisson.Number), true)
		if err != nil {
			return fmt.Errorf("glass %q: %w", m.p.Clear.Name, err)
		}
		best, bestClosed := layers, closed
		rock := layers
		if c, ok := m.rockTime(); ok {
			if rock, closed, err = m.setOne(curve, c, false); err != nil {
				return fmt.Errorf("glass %q: %w", m.p.Clear.Name, err)
			}
			best, bestClosed = rock, closed
		}
		m.fall, m.fallRock = math.Max(m.fall, float64(layers.Fall)), math.Max(m.fallRock, float64(rock.Fall))
		if k == 0 || r.SettingLow.Kelvin() > best.Temp.Kelvin() {
			r.SettingLow = best.Temp
		}
		if r.Setting.Less(best.Temp) {
			r.Setting, r.SettingClosed, r.Falls = best.Temp, bestClosed, best
		}
	}
	return nil
}

// rock returns the part that the first stone is, 0 without one.
func (m *model) rock() int {
	if len(m.shells) > 0 && m.shells[0].stone {
		return m.shells[0].part
	}
	if len(m.stones) > 0 {
		return m.partOf(m.stones[0].Material)
	}
	return 0
}

// lies returns the relative depth at which a part meets the clear glass farthest
// from the middle, 1 at the surface.
func (m *model) lies(part int) float64 {
	half, depth := m.p.Body.Size/2, 0.0
	for i := range len(m.shells) - 1 {
		if s := m.shells[i]; s.part == part || m.shells[i+1].part == part {
			depth = math.Max(depth, float64(s.outer/half))
		}
	}
	for _, in := range m.stones {
		if m.parts[part].Name == in.Material.Name {
			depth = math.Max(depth, 1-float64(m.p.depth(in)/half))
		}
	}
	if c := m.p.Contents; c.Skin != nil && c.Skin.Material.Name == m.parts[part].Name {
		depth = 1
	}
	for _, s := range m.p.Contents.Stripes {
		if s.Material.Name == m.parts[part].Name {
			depth = 1
		}
	}
	return math.Min(depth, 1)
}

// rockTime returns the relaxation factor of the first stone, if there is one.
func (m *model) rockTime() (float64, bool) {
	if len(m.shells) > 0 && m.shells[0].stone {
		return misfitTime(m.solid(m.shells[0].part), m.solid(0), float64(m.shells[0].outer/m.shells[len(m.shells)-1].outer)), true
	}
	if len(m.stones) > 0 {
		return misfitTime(m.solid(m.partOf(m.stones[0].Material)), m.solid(0), 0), true
	}
	return 0, false
}

// setOne follows the history along one curve of the clear glass, and along that
// of every softer partner if layers are meant. Of several seals the one with
// the greatest fall counts.
func (m *model) setOne(curve glass.Curve, c float64, layers bool) (best Setting, closed unit.Temp, err error) {
	if !layers {
		return m.follow(curve, m.modulus(0), c, m.rock())
	}
	clear, clearClosed, err := m.follow(curve, m.modulus(0), c, 0)
	if err != nil {
		return clear, clearClosed, err
	}
	best, closed = clear, clearClosed
	found := false
	for i, p := range m.parts {
		if i == 0 || p.Glass == nil {
			continue
		}
		own, ownClosed := clear, clearClosed
		if m.p.At != nil {
			if own, ownClosed, err = m.follow(curve, m.modulus(0), c, i); err != nil {
				return own, ownClosed, err
			}
		}
		own, ownClosed = m.softer(curve, c, i, own, ownClosed)
		if !found || own.Fall > best.Fall {
			best, closed, found = own, ownClosed, true
		}
	}
	return best, closed, nil
}

// follow follows the history where a part meets the clear glass, along one curve
// of a glass of this shear modulus. closed is where a steady rate sets it, zero
// where there is a history.
func (m *model) follow(curve glass.Curve, shear unit.Stress, c float64, part int) (s Setting, closed unit.Temp, err error) {
	if closed, err = settingTemperature(curve, shear, c, m.p.Rate); err != nil {
		return Setting{}, closed, err
	}
	h := m.p.History
	if m.p.At != nil {
		h = m.p.At(m.lies(part))
	}
	if len(h.Seconds) == 0 {
		h = steady(closed.Add(150), m.p.Rate)
	} else {
		closed = unit.Temp{}
	}
	s, err = settingIn(h, curve, shear, c)
	return s, closed, err
}

// softer returns where a part sets by a curve of its own glass, if that is later
// than by one of the clear glass.
func (m *model) softer(curve glass.Curve, c float64, part int, s Setting, closed unit.Temp) (Setting, unit.Temp) {
	g := m.parts[part].Glass
	own, err := g.Curves()
	if err != nil || g == m.p.Clear {
		return s, closed
	}
	for _, q := range own {
		if q.Name != curve.Name && len(own) > 1 {
			continue
		}
		if by, at, err := m.follow(q, m.modulus(part), c, part); err == nil && by.Fall < s.Fall {
			s, closed = by, at
		}
	}
	return s, closed
}

// knob is one uncertain number: set puts it to an end of its range.
type knob struct {
	low, high func(m *model)
}

// knobs returns what is uncertain in the model.
func (m *model) knobs() []knob {
	var list []knob
	end := func(v contents.Value, set func(m *model, x float64)) {
		if v.Low < v.Number || v.High > v.Number {
			list = append(list, knob{func(m *model) { set(m, v.Low) }, func(m *model) { set(m, v.High) }})
		}
	}
	for i, p := range m.parts {
		end(p.Expansion, func(m *model, x float64) {
			d := x - m.parts[i].alpha
			m.parts[i].alpha = x
			for j := range m.parts {
				if i == 0 && m.parts[j].shared {
					m.parts[j].alpha += d
				}
			}
		})
		if p.Kind == contents.Stone || p.Kind == contents.Metal {
			end(p.Young, func(m *model, x float64) { m.parts[i].young = x })
		}
	}
	seen := map[string]bool{}
	for _, p := range m.parts {
		if !p.IsGlass() {
			continue
		}
		v := contents.OverTheFall(p.Glass)
		if key := v.Text + v.Note; !seen[key] {
			seen[key] = true
			end(v, func(m *model, x float64) {
				for j, q := range m.parts {
					if q.IsGlass() && contents.OverTheFall(q.Glass) == v {
						m.parts[j].factor = x
					}
				}
			})
		}
	}
	return list
}

// with returns a copy of the model with one knob turned.
func (m *model) with(turn func(m *model)) *model {
	c := *m
	c.parts = append([]part(nil), m.parts...)
	turn(&c)
	return &c
}

// ranges computes every place with its range, and the pressure.
func (m *model) ranges() ([]Place, Range) {
	middle, _ := m.spots()
	n := len(middle)
	values := func(m *model) []float64 {
		list, p := m.spots()
		out := make([]float64, 0, 2*n+1)
		for _, s := range list {
			out = append(out, float64(s.hoop), float64(s.radial))
		}
		return append(out, float64(p))
	}
	base := values(m)
	up, down := make([]float64, len(base)), make([]float64, len(base))
	for _, k := range m.knobs() {
		a, b := values(m.with(k.low)), values(m.with(k.high))
		for i := range base {
			u, d := math.Max(0, math.Max(a[i], b[i])-base[i]), math.Min(0, math.Min(a[i], b[i])-base[i])
			up[i], down[i] = up[i]+u*u, down[i]+d*d
		}
	}
	at := func(i int) Range {
		return Range{unit.Stress(base[i] - math.Sqrt(down[i])), unit.Stress(base[i]), unit.Stress(base[i] + math.Sqrt(up[i]))}
	}
	places := make([]Place, n)
	for i, s := range middle {
		places[i] = Place{Kind: s.kind, In: m.parts[s.in].Name, Depth: s.depth, Hoop: at(2 * i), Radial: at(2*i + 1)}
		if s.next >= 0 {
			places[i].Next = m.parts[s.next].Name
		}
	}
	return places, at(2 * n)
}

// judge gives the verdict: on the middle values and on the worst of the range at
// the surface, and on what cracks wherever it lies.
func (m *model) judge(r *Report) {
	expected, worst, found := unit.Stress(math.Inf(-1)), unit.Stress(math.Inf(-1)), false
	for _, p := range r.Places {
		if p.Kind.AtSurface() {
			expected, worst, found = max(expected, p.Hoop.Expected), max(worst, p.Hoop.High), true
		}
	}
	if found {
		r.Worst = worst + m.p.Already
	}
	_, cracks := m.cracks(r)
	switch {
	case cracks:
		r.Verdict = Over
	case !found:
		r.Verdict = NotJudged
	case expected+m.p.Already > m.p.Limit:
		r.Verdict = Over
	case r.Worst > m.p.Limit:
		r.Verdict = NotProven
	default:
		r.Verdict = Within
	}
}

// answer finds the greatest stone, the least cover and the least distance.
func (m *model) answer(r *Report) {
	if len(m.p.Contents.Inside) == 0 {
		return
	}
	in := m.p.Contents.Inside[0]
	if in.Shape == contents.Foil {
		return
	}
	r.LeastApart, r.Cover = 3*in.Size, m.p.depth(in)-in.Reach()
	room := m.p.Limit - m.p.Already
	if r.Pressure.High <= 0 || room <= 0 {
		return
	}
	clear := m.solid(0)
	a := in.Size / 2
	r.LeastCover = a * unit.Length(nearSurfaceDepth(r.Pressure.High, room, clear.Poisson)-1)
	deep := m.p.depth(in)
	if !m.p.concentric(in) {
		r.Greatest = 2 * deep / unit.Length(nearSurfaceDepth(r.Pressure.High, room, clear.Poisson))
		return
	}
	if len(m.shells) > 2 || m.p.Body.Form != sim.Sphere {
		return // with layers round it the answer would be one for them
	}
	// A stone of another size is the same model with another first radius.
	surface := func(a unit.Length) unit.Stress {
		c := *m
		c.shells = append([]slice(nil), m.shells...)
		c.shells[0].outer = a
		places, _ := c.ranges()
		return places[len(places)-1].Hoop.High
	}
	low, high := unit.Length(0), m.p.Body.Size/2*0.999
	for range 30 {
		if mid := (low + high) / 2; surface(mid) <= room {
			low = mid
		} else {
			high = mid
		}
	}
	r.Greatest = 2 * low
}
