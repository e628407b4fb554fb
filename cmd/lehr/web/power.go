package web

import (
	"context"
	"errors"
	"strings"

	"golang.org/x/net/html"

	"lehr/anneal/kiln"
	"lehr/anneal/outage"
	"lehr/anneal/piece"
	"lehr/anneal/plan"
	"lehr/anneal/verify"
	"lehr/cmd/lehr/term"
	"lehr/safety/emergency"
)

// Outage finds the way on for a load whose kiln lost its power: its program from now,
// and what the page says before it.
type Outage func(ctx context.Context, load *piece.Load, st kiln.Studio, o plan.Options, was, now outage.Reading) (*verify.Report, *Past, error)

// powerPart names the part of the form for a power failure in its address.
const powerPart = "power"

// power is the part of the form for a power failure, to be seen at once by who was
// sent to it.
func (f *form) power() *html.Node {
	n := folded("Power failed", "Fill in both readings beside the load as it was planned. The answer is then how to go on: heat back to the soak, go on from here, or let it fall.", f.Was, f.Reads)
	n.Attr = append(n.Attr, At{"id", powerPart}.attribute())
	if f.part == powerPart && !open(f.Was, f.Reads) {
		n.Attr = append(n.Attr, html.Attribute{Key: "open"})
	}
	return n
}

// readPower reads what the kiln read before a power failure and reads now.
func (f *form) readPower(a *asked) {
	empty := func(x *field) bool { return strings.TrimSpace(x.Value) == "" }
	if empty(f.Was) && empty(f.Reads) {
		return
	}
	for _, x := range []struct {
		*field
		to *outage.Reading
	}{{f.Was, &a.was}, {f.Reads, &a.now}} {
		var err error
		if empty(x.field) {
			x.fault("", term.WithHint(errors.New("is empty"), "after a power failure fill in both readings"))
		} else if *x.to, err = outage.ParseReading(x.Value); err != nil {
			x.fault("", err)
		}
	}
	if a.was.Clock != nil && a.now.Clock != nil && *a.was.Clock == *a.now.Clock && a.now.At.Less(a.was.At) {
		f.Reads.fault("", term.WithHint(errors.New("both readings have the same hour"), "give both hours, or none"))
	}
	if a.load.Into == piece.WarmOnly {
		f.Into.fault("", term.WithHint(errors.New("the way on after a power failure is for a load that is annealed, and this one is only warmed"), "leave the readings of the power failure empty"))
	}
	if f.Search.Value == "shortest" {
		f.Search.fault("", term.WithHint(errors.New("has no meaning after a power failure"), "choose by the rule"))
	}
	for _, x := range []*field{f.Ready, f.Over} {
		if !empty(x) {
			x.fault("", term.WithHint(errors.New("has no meaning after a power failure"), "leave it empty"))
		}
	}
}

// failedReading notes what is wrong with a reading at its field; the command line
// names its flag.
func (f *form) failedReading(err error) bool {
	var of interface{ Flag() (string, error) }
	if !errors.As(err, &of) {
		return false
	}
	switch name, wrong := of.Flag(); name {
	case "--was":
		f.Was.fault("", wrong)
	case "--now", "--was, --now":
		f.Reads.fault("", wrong)
	default:
		return false
	}
	return true
}

// steps are what comes after the first words of a line. A page that was served has
// the form in the place of the command that goes on from two readings.
func steps(l *emergency.Line, served bool) []string {
	out := append([]string{}, l.Then...)
	if n := l.GoesOn(); n > 0 && served {
		out[n-1] = "The form takes both readings, under Power failed, and says how to go on."
	}
	return out
}

// goOn leads from a line that plans on to the part of the form for a power failure,
// with what was filled in; nil from other lines, and in a file.
func (p Paper) goOn(l emergency.Line) *html.Node {
	if l.GoesOn() == 0 || !strings.HasPrefix(p.Back, "/?") {
		return nil
	}
	to := p.Back
	if to != "/?" {
		to += "&"
	}
	return El("span", Class("links screen"), El("a", At{"href", to + "part=" + powerPart + "#" + powerPart}, "Fill in both readings, and see how to go on"))
}
