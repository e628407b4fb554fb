package evidence

import (
	"lehr/anneal/cost"
	"lehr/anneal/evening"
	"lehr/anneal/kiln"
	"lehr/anneal/kilnlog"
	"lehr/anneal/notebook"
	"lehr/anneal/piece"
	"lehr/anneal/polariscope"
	"lehr/anneal/rescue"
	"lehr/anneal/rule"
	"lehr/anneal/seal"
	"lehr/anneal/sim"
	"lehr/anneal/sim/axial"
	"lehr/anneal/sim/plane"
	"lehr/anneal/sim/study"
	"lehr/anneal/spread"
	"lehr/anneal/verify"
	"lehr/anneal/week"
	"lehr/glass"
	"lehr/glass/cases"
	"lehr/glass/gather"
	"lehr/glass/unit"
	"lehr/safety/checklist"
	"lehr/safety/figure"
)

// Rooms returns, by the package that a case's func begins with, what answers it.
func Rooms() map[string]map[string]cases.Compute {
	uneven := verify.UnevenCases()
	uneven["Held"] = held
	return map[string]map[string]cases.Compute{
		"anneal": rule.Cases(), "axial": axial.Cases(), "checklist": checklist.Cases(), "cost": cost.Cases(),
		"evening": evening.Cases(), "figure": figure.Cases(), "gather": gather.Cases(), "glass": glass.Cases(),
		"kiln": kiln.Cases(), "kilnlog": kilnlog.Cases(), "notebook": notebook.Cases(), "plane": plane.Cases(), "polariscope": polariscope.Cases(),
		"pace":   piece.PaceCases(),
		"rescue": rescue.Cases(), "seal": seal.Cases(), "sim": sim.Cases(), "spread": spread.Cases(),
		"uneven": uneven, "unit": units(), "week": week.Cases(),
	}
}

// units answers the cases of package unit, which knows nothing of cases.
func units() map[string]cases.Compute {
	return map[string]cases.Compute{
		"Celsius": func(_ cases.T, in cases.Values) cases.Values {
			return cases.Values{"F": unit.Celsius(in.Float("C")).Fahrenheit()}
		},
		"KelvinPerHour": func(_ cases.T, in cases.Values) cases.Values {
			x, _ := unit.KelvinPerHour(in.Float("C_per_h")).In(unit.US)
			return cases.Values{"F_per_h": x}
		},
	}
}

// held is a slab that is held flat and cooled from one face; it stands for no
// piece any more.
func held(t cases.T, in cases.Values) cases.Values {
	p := study.Study(in)
	p.Body = sim.Body{Form: sim.Slab, Outer: in.Float("thickness_mm") / 1e3, OneFace: true, Held: true}
	r, err := sim.Run(p, sim.Settings{})
	if err != nil {
		t.Fatal(err)
	}
	o := r.Outcomes[0]
	return cases.Values{"peak_MPa": o.Peak / 1e6, "left_MPa": o.Residual.MaxTension() / 1e6}
}
