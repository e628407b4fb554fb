package words

import (
	"fmt"
	"strings"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/seal"
	"lehr/glass/unit"
)

// inside says what lies in a piece does, and what of it exceeds the limit of its
// surface.
func (w Words) inside(f finding.Finding) string {
	switch f.Kind {
	case finding.MisfitOver:
		return fmt.Sprintf("%s in average glass, %s at worst, for good at the surface (%s) by what lies in it (limit %s); no annealing helps", w.stress(f.Stress), w.stress(f.Own), f.Name, w.stress(f.Most))
	case finding.MisfitUnproven:
		return fmt.Sprintf("at worst %s for good at the surface (%s), by what is not known of what lies in it (limit %s); no annealing helps", w.stress(f.Stress), f.Name, w.stress(f.Most))
	case finding.TogetherOver:
		return fmt.Sprintf("%s in average glass at the surface (%s) with what lies in it (limit %s), %s of it for good; %s", w.stress(f.Stress), f.Name, w.stress(f.Most), w.stress(f.Own), w.helps(f.Yes))
	case finding.TogetherUnproven:
		return fmt.Sprintf("at worst %s at the surface (%s) with what lies in it (limit %s), %s of it for good; %s", w.stress(f.Stress), f.Name, w.stress(f.Most), w.stress(f.Own), w.helps(f.Yes))
	case finding.MisfitRemedy:
		return w.name(f.Piece) + ": no annealing helps; " + w.remedy(f)
	case finding.MisfitAtSurface:
		if f.Own <= 0 {
			return fmt.Sprintf("%s: with what lies in it the surface (%s) carries at most %s of %s, all of it by the program", w.name(f.Piece), f.Name, w.stress(f.Stress), w.stress(f.Most))
		}
		return fmt.Sprintf("%s: with what lies in it the surface (%s) carries at most %s of %s, and no annealing removes %s of that", w.name(f.Piece), f.Name, w.stress(f.Stress), w.stress(f.Most), w.stress(f.Own))
	case finding.MisfitBuried:
		return fmt.Sprintf("%s: at the %s the glass carries at most %s, %s of it for good. Taken as buried, clean and dry, where such tension does hold in pieces; this is no promise. A crack can run from a stone of more than %s radius (this one: %s) if a flaw %s deep starts it: bubble, grit, a sharp corner",
			w.name(f.Piece), f.Name, w.stress(f.Stress), w.stress(f.Own), w.fine(f.Lengths[0]), w.fine(f.Lengths[1]), w.fine(f.Lengths[2]))
	case finding.MisfitInLayer:
		return fmt.Sprintf("%s: buried %s carries at most %s, %s of it for good; no limit is known for a clean buried seal, and a flaw %s deep would break it", w.name(f.Piece), f.Name, w.stress(f.Stress), w.stress(f.Own), w.fine(f.Lengths[2]))
	case finding.MisfitLoose:
		return fmt.Sprintf("%s: the %s will pull loose: gap or halo. The glass pulls on it with at most %s; once it is loose, what is said of the glass at it no longer holds", w.name(f.Piece), f.Name, w.stress(max(f.Stress, -f.Stress)))
	case finding.MisfitCracks:
		return fmt.Sprintf("it will crack, in the kiln or days after: %s carries %s for good in average glass, and the strongest of the tested beams of kiln-cast glass broke at %s", f.Name, w.stress(f.Stress), w.stress(f.Most))
	case finding.MisfitSets:
		return fmt.Sprintf("what lies in it sets at %s under this program, and shrinks apart over the %s from there to %s", w.temp(f.Temp), w.delta(f.Delta), w.temp(unit.Celsius(25)))
	case finding.MisfitAssumed:
		return fmt.Sprintf("nobody stated how much %s expands: as its clear glass, give or take %.2g units (10⁻⁷/K)", f.Name, f.Number*1e7)
	case finding.MisfitGuessed:
		return fmt.Sprintf("the expansion of %s rests on no measurement that was read: judge by the range", f.Name)
	case finding.DriesHere:
		return "on the way to the flame: " + WarmUp(seal.Why(f.Number))
	case finding.WarmsTo:
		return fmt.Sprintf("rates and holds for drying are judged from what was published of such stones, whose last water had left at %s; yours was not measured", w.temp(f.Temp))
	case finding.ReadyForFlame:
		return "ready for the torch " + w.hour("at", f.Time) + ": take them from this kiln into the flame without cooling"
	case finding.NeedsOwnKiln, finding.CanLieBeside:
		return w.beside(f)
	case finding.LightFromInside:
		as := "dark"
		if f.Yes {
			as = "opaque"
		}
		return fmt.Sprintf("counts as %s, for the %s in it stops the light", as, f.Name)
	}
	return ""
}

// hour is a time from the start on, by the clock where the load says when that is;
// at is the word before a time of day.
func (w Words) hour(at string, t time.Duration) string {
	if w.load.Start == nil {
		return "after " + duration(t)
	}
	clock, days := w.load.Start.Add(t)
	at += " " + clock.Text(w.sys)
	switch days {
	case 0:
		return at
	case 1:
		return at + " the next day"
	}
	return fmt.Sprintf("%s, %d days later", at, days)
}

// beside says whether finished pieces can wait in the kiln that warms.
func (w Words) beside(f finding.Finding) string {
	held := w.temp(f.Temp)
	if f.Temp != f.Limit {
		held += " to " + w.temp(f.Limit)
	}
	pieces, waits := "pieces", "wait"
	if f.Name != "" {
		pieces, waits = f.Name, "waits"
	}
	beside := fmt.Sprintf("a kiln in which finished %s %s at %s", pieces, waits, held)
	bears := fmt.Sprintf("laid in cold at %s, %s would carry %s of %s", w.temp(f.Temp), w.name(f.Piece), w.stress(f.Stress), w.stress(f.Most))
	if f.Kind == finding.CanLieBeside {
		return fmt.Sprintf("it can also be warmed in %s: %s", beside, bears)
	}
	if f.Piece == finding.None {
		bears = "what holds water must dry on the way"
	}
	text := fmt.Sprintf("it cannot be warmed in %s: %s", beside, bears)
	if f.Time > 0 {
		text += "; run this program before them, and " + w.hour("from", f.Time) + " on they can lie beside it"
	}
	return text
}

func (w Words) helps(yes bool) string {
	if yes {
		return "a slower program helps"
	}
	return "no annealing helps"
}

// remedy says what a person can change: smaller, deeper, another.
func (w Words) remedy(f finding.Finding) string {
	greatest, least, now := f.Lengths[0], f.Lengths[1], f.Lengths[2]
	if f.To == 1 {
		return fmt.Sprintf("take another than %s, whose expansion is nearer to that of the glass, or less of it", f.Name)
	}
	if greatest == 0 && least == 0 {
		way := "less"
		if f.Yes {
			way = "more"
		}
		return fmt.Sprintf("take another than %s, one that expands %s, or one whose expansion its maker states", f.Name, way)
	}
	var ways []string
	if greatest > 0 {
		ways = append(ways, "a smaller "+f.Name+", of at most "+RoundDown(greatest, w.sys))
	}
	if least > now {
		where := "one deeper"
		if f.Yes { // it cannot lie deeper in this piece
			where = "a larger piece"
		}
		ways = append(ways, where+", with at least "+RoundUp(least, w.sys)+" of glass over it")
	}
	return "take " + strings.Join(append(ways, "another stone, whose expansion is nearer to that of the glass"), ", or ")
}

// RoundDown and RoundUp write a length rounded to the careful side.
func RoundDown(l unit.Length, s unit.System) string { return stepped(l, s, -0.5) }
func RoundUp(l unit.Length, s unit.System) string   { return stepped(l, s, 0.5) }

// stepped writes a length rounded to one side, to a tenth of a millimeter or a
// thousandth of an inch.
func stepped(l unit.Length, s unit.System, side float64) string {
	step := 0.1 * unit.Millimeter
	if s == unit.US {
		step = unit.Inch / 1000
	}
	return (unit.Length(int64(float64(l/step)+0.5+side*(1-1e-9))) * step).Text(s)
}
