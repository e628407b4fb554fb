package plan

import (
	"context"
	"slices"
	"sort"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/spread"
	"lehr/anneal/verify"
	"lehr/glass"
)

// worthAsking is the time from which an answer is worth a question: below it lies
// what whole degrees per hour do.
const worthAsking = 5 * time.Minute

// Questions says how many hours each thing that nobody knows costs a program:
// how clear the pieces are, each property of their glasses that has a range, and
// how far the kiln's places and its probe may be off. Each is answered in turn
// and the load planned anew, so that it takes as long as about ten plans. What
// saves less than five minutes is left out; most comes first.
//
// Errors: those of [Plan] for a canceled context. An answer with which there is
// no plan is left out.
func Questions(ctx context.Context, rep *verify.Report, o Options) (finding.List, error) {
	l, st := rep.Load, rep.Studio
	o.quiet = true // only the hours are asked
	saves := func(l *piece.Load, st kiln.Studio) (time.Duration, error) {
		next, err := Plan(ctx, l, st, o)
		if err != nil || !next.Within {
			return 0, ctx.Err()
		}
		return max(0, rep.Actual.Total()-next.Actual.Total()).Round(time.Minute), nil
	}
	var out []finding.Finding
	if asked := slices.IndexFunc(l.Pieces, unsaid); asked >= 0 {
		said := func(light piece.Light) (time.Duration, error) {
			return saves(changed(l, func(p *piece.Piece) {
				if unsaid(*p) {
					p.Light = light
				}
			}), st)
		}
		clear, err := said(piece.Clear)
		if err != nil {
			return nil, err
		}
		dark, err := said(piece.Dark)
		if err != nil {
			return nil, err
		}
		out = append(out, finding.Of(finding.LightCosts).Lasting(clear, dark))
	}
	for _, key := range rangesOf(l) {
		known := map[*glass.Glass]*glass.Glass{}
		saved, err := saves(changed(l, func(p *piece.Piece) {
			g := p.Glass
			if known[g] == nil {
				known[g] = g
				if k, err := spread.Known(g, key.Key); err == nil {
					known[g] = k
				}
			}
			p.Glass = known[g]
		}), st)
		if err != nil {
			return nil, err
		}
		out = append(out, finding.Of(finding.RangeCosts).Named(string(key.Key)).Lasting(saved, 0))
	}
	if st.Kiln.Spread > 0 || st.Kiln.ProbeError > 0 {
		even := st
		even.Kiln.Spread, even.Kiln.ProbeError = 0, 0
		saved, err := saves(l, even)
		if err != nil {
			return nil, err
		}
		out = append(out, finding.Of(finding.PlacesCost).Lasting(saved, 0))
	}
	out = slices.DeleteFunc(out, func(f finding.Finding) bool { return max(f.Time, f.Bears) < worthAsking })
	sort.SliceStable(out, func(i, j int) bool { return out[i].Time > out[j].Time })
	return out, nil
}

// unsaid reports whether nobody said how clear a piece is of whose glass that is
// known to matter.
func unsaid(p piece.Piece) bool {
	return p.Light == piece.LightUnknown && len(p.Glass.Absorption) > 0 && !p.Textbook
}

// changed is a load with every piece changed.
func changed(l *piece.Load, change func(*piece.Piece)) *piece.Load {
	c := *l
	c.Pieces = slices.Clone(l.Pieces)
	for i := range c.Pieces {
		change(&c.Pieces[i])
	}
	return &c
}

// rangesOf are the properties of the glasses of a load that have a range, each
// once.
func rangesOf(l *piece.Load) (out []spread.Range) {
	for _, p := range l.Pieces {
		for _, r := range spread.Ranges(p.Glass) {
			if !slices.ContainsFunc(out, func(s spread.Range) bool { return s.Key == r.Key }) {
				out = append(out, r)
			}
		}
	}
	return out
}
