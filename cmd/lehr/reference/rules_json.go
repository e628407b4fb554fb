package reference

import (
	"lehr/anneal/rule"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/report"
	"lehr/cmd/lehr/words"
	"lehr/glass/unit"
)

type stageJSON map[string]any

type ruleJSON struct {
	Rule       string      `json:"rule"`
	Title      string      `json:"title"`
	Stages     []stageJSON `json:"stages"`
	Total      report.Num  `json:"total_h"`
	InKiln     report.Num  `json:"total_in_kiln_h"` // in the kiln of the studio
	Tension    report.Num  `json:"implied_tension_MPa"`
	Left       report.Num  `json:"implied_left_MPa"`
	Within     bool        `json:"within"`
	CountsAs   string      `json:"counts_as"`
	Slab       report.Num  `json:"slab_mm,omitempty"`
	Status     string      `json:"status"`
	Source     string      `json:"source"`
	Note       string      `json:"note,omitempty"`
	Support    string      `json:"supported_by,omitempty"`
	Assumed    []string    `json:"assumed"`
	Deviations []string    `json:"about_the_print,omitempty"`
}

type refusedJSON struct {
	Rule   string `json:"rule"`
	Reason string `json:"reason"`
}

type rulesShownJSON struct {
	Glass        string        `json:"glass"`
	What         string        `json:"what"`
	Idealization string        `json:"idealization"`
	LimitTension report.Num    `json:"limit_tension_MPa"`
	LimitLeft    report.Num    `json:"limit_left_MPa"`
	Units        string        `json:"units"`
	Rules        []ruleJSON    `json:"rules"`
	Refused      []refusedJSON `json:"refused"`
}

// rulesJSON prints the same as showRules. Temperatures and rates stand in the
// display system, as their keys say; stresses are always in MPa.
func rulesJSON(a *desk.App, v rulesView) error {
	degree, say := degreeKey(v.system), words.In(v.system)
	out := rulesShownJSON{
		Glass: v.piece.Glass.Name, What: v.piece.What, Idealization: report.BodyText(v.piece, v.system),
		LimitTension: report.Num(v.limits.Tension.Megapascals()), LimitLeft: report.Num(v.limits.Residual.Megapascals()),
		Units: degree, Rules: []ruleJSON{}, Refused: []refusedJSON{},
	}
	for _, r := range v.applied {
		res := r.result
		shown := ruleJSON{
			Rule: r.Name, Title: r.Title, Total: report.Num(res.Total().Hours()), InKiln: report.Num(v.totalInKiln(res).Hours()),
			Tension: report.Num(res.ImpliedCooling.Megapascals()), Left: report.Num(res.ImpliedResidual.Megapascals()),
			Within:   !over(res.ImpliedCooling, v.limits.Tension) && !over(res.ImpliedResidual, v.limits.Residual),
			CountsAs: say.Say(res.CountsAs), Slab: report.Num(res.Slab.Millimeters()), Status: res.Status, Source: res.Source,
			Note: r.Note, Support: r.Support, Assumed: say.List(res.Assumed), Deviations: r.Deviations,
		}
		for _, s := range res.Stages {
			shown.Stages = append(shown.Stages, stageOf(s, v.system, degree))
		}
		out.Rules = append(out.Rules, shown)
	}
	for _, r := range v.refused {
		out.Refused = append(out.Refused, refusedJSON{r.Name, r.why(v.system)})
	}
	return a.PrintJSON(out)
}

func stageOf(s rule.Stage, system unit.System, degree string) stageJSON {
	to, _ := s.To.In(system)
	rate, _ := s.Rate.In(system)
	return stageJSON{
		"purpose": s.Purpose, "target_" + degree: report.Num(to), "rate_" + degree + "_per_h": report.Num(rate), "hold_min": report.Num(s.Hold.Minutes()),
	}
}
