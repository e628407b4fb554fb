package sim

import "math"

// look books what the report needs of the state at time t.
func (r *run) look(t float64, span int) {
	h := r.heat
	n := h.n
	r.res.MaxLag = math.Max(r.res.MaxLag, h.lag())
	if r.s.Lags {
		r.res.Lags = append(r.res.Lags, Lag{t, h.lag()})
	}
	for i, f := range r.fields {
		if h.other != nil {
			tension, place := h.other.Look(Look{Variant: i, Time: t, Kiln: h.other.kiln, Span: span, Temp: h.temp, Stress: f.look})
			r.watches[i].surface.book(&r.out[i], t, tension, place, span)
			continue
		}
		inside, surface := f.tension(h.core)
		r.watches[i].see(h, f, &r.out[i], t, r.p.Kiln.At(t), inside, surface, span)
		if r.s.Record != nil && (i == 0 || r.s.RecordAll) {
			r.s.Record(Sample{Time: t, Kiln: r.p.Kiln.At(t), Surface: h.temp[n], Center: h.temp[0], Variant: i,
				SurfaceStress: math.Max(f.outer.plane, f.outer.axial),
				CenterStress:  math.Max(f.inner.plane, f.inner.axial),
				Tension:       max(0, inside.tension, surface.tension)})
		}
	}
}

// watch follows the tension of one field.
type watch struct {
	inside, surface peak
	last            [4]Moment // of the last looks, oldest first
}

func (w *watch) open(h *heat, o *Outcome) {
	for i := range w.last {
		w.last[i] = Moment{Stress: newProfile(h), Temperature: make([]float64, h.n+1)}
	}
	o.AtPeak = Moment{Stress: newProfile(h), Temperature: make([]float64, h.n+1)}
	spans := len(h.p.Kiln.Kinks)
	o.Inside.BySpan, o.Surface.BySpan, o.PeakBySpan = make([]float64, spans), make([]float64, spans), make([]float64, spans)
	o.Surface.Rho, o.PeakRho = 1, 1
}

func (w *watch) kink() {
	w.inside.seen, w.surface.seen = min(w.inside.seen, 1), min(w.surface.seen, 1)
}

// see books one more look at a field.
func (w *watch) see(h *heat, f *field, o *Outcome, t, kiln float64, inside, surface place, span int) {
	oldest := w.last[0]
	copy(w.last[:], w.last[1:])
	now := &w.last[3]
	*now = oldest
	now.Time, now.Kiln = t, kiln
	copy(now.Temperature, h.temp)
	f.profile(h, &now.Stress)

	rho := func(node int) float64 { return (h.r[node] - h.r[0]) / (h.r[h.n] - h.r[0]) }
	for _, part := range [2]struct {
		*peak
		now place
		top *Top
	}{{&w.inside, inside, &o.Inside}, {&w.surface, surface, &o.Surface}} {
		for _, x := range part.see(t, part.now.tension, rho(part.now.node)) {
			top := part.top
			top.BySpan[span] = math.Max(top.BySpan[span], x.tension)
			if x.tension > top.Tension {
				top.Tension, top.Time, top.Rho = x.tension, x.time, x.rho
			}
			if o.PeakBySpan[span] = math.Max(o.PeakBySpan[span], x.tension); x.tension > o.Peak {
				o.Peak, o.PeakTime, o.PeakRho = x.tension, x.time, x.rho
				o.AtPeak.take(&w.last[x.ago])
			}
		}
	}
}

// book takes one more look at a Shape, which has no state to keep.
func (p *peak) book(o *Outcome, t, tension, place float64, span int) {
	for _, x := range p.see(t, tension, place) {
		o.PeakBySpan[span] = math.Max(o.PeakBySpan[span], x.tension)
		if x.tension > o.Peak {
			o.Peak, o.PeakTime, o.PeakRho = x.tension, x.time, x.rho
		}
	}
}

// take copies another moment of the same body.
func (m *Moment) take(x *Moment) {
	m.Time, m.Kiln = x.Time, x.Kiln
	copy(m.Temperature, x.Temperature)
	copy(m.Stress.Plane, x.Stress.Plane)
	copy(m.Stress.Axial, x.Stress.Axial)
	copy(m.Stress.Radial, x.Stress.Radial)
}

// peak finds the greatest tension of a part of one field between the steps of a
// smooth stretch, that is between kinks of the kiln and while one place holds
// it.
type peak struct {
	time, tension [4]float64 // the last looks, oldest first
	rho           float64
	seen          int
	found         [2]found
}

// found is a tension to book, and which of the last four looks is nearest.
type found struct {
	tension, time, rho float64
	ago                int
}

// see takes one more look and returns what it finds: the look itself and, when
// the looks before it enclose a top, that.
func (p *peak) see(t, s, rho float64) []found {
	if rho != p.rho {
		p.seen = 0
	}
	copy(p.time[:], p.time[1:])
	copy(p.tension[:], p.tension[1:])
	p.time[3], p.tension[3], p.rho = t, s, rho
	p.seen++
	p.found[0] = found{s, t, rho, 3}
	if p.seen < 4 || max(p.tension[1], p.tension[2]) < max(p.tension[0], s) {
		return p.found[:1]
	}
	top, value := crest(&p.time, &p.tension)
	nearest := 1
	if top-p.time[1] > p.time[2]-top {
		nearest = 2
	}
	p.found[1] = found{value, top, rho, nearest}
	return p.found[:]
}

// crest returns the greatest value between the middle two of four points of a
// smooth curve. The parabolas through the first and the last three enclose the
// curve there as long as its third derivative keeps its sign, and the lower of
// the two is taken: so the answer is not above the curve, and never below a
// point. One parabola alone overshoots where a curve that settles is looked at
// in growing steps.
func crest(t, s *[4]float64) (time, value float64) {
	time, value = t[1], s[1]
	if s[2] > s[1] {
		time, value = t[2], s[2]
	}
	span := t[2] - t[1]
	chord := (s[2] - s[1]) / span
	// p(t) = chord + curve (t−t1)(t−t2); the lower curve is the greater one.
	left := (chord - (s[1]-s[0])/(t[1]-t[0])) / (t[2] - t[0])
	right := ((s[3]-s[2])/(t[3]-t[2]) - chord) / (t[3] - t[1])
	curve := math.Max(left, right)
	if !(curve < 0) {
		return time, value
	}
	x := 0.5 * (span - chord/curve) // from t1 to the top
	if x <= 0 || x >= span {
		return time, value
	}
	return t[1] + x, s[1] + chord*x + curve*x*(x-span)
}
