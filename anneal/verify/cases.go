package verify

import (
	"context"
	"strings"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/glass"
	"lehr/glass/cases"
)

// studyGlass is the borosilicate-like glass of the finite-element study, with
// its constants and its one viscosity curve.
const studyGlass = `

[[glass]]
name = "study"
strain_point = "515 °C"
annealing_point = "560 °C"
softening_point = "825 °C"
viscosity = "strain-anneal-soften"
relaxation = "maxwell"
expansion = "3.3e-6 /K"
density = "2230 kg/m³"
specific_heat = "1000 J/kg/K"
conductivity = "1.2 W/m/K"
young_modulus = "63 GPa"
poisson = 0.2
emissivity = 0.9
`

const studyProgram = `

from = "565 °C"
[[segment]]
hold = "1 h"
[[segment]]
rate = "60 °C/h"
to   = "480 °C"
[[segment]]
rate = "120 °C/h"
to   = "60 °C"
`

func studyReport(t cases.T, what string, follows bool) PieceReport {
	t.Helper()
	text := studyGlass
	if follows {
		text += "surface = \"follows kiln\"\n"
	}
	table, err := glass.Load(strings.NewReader(text), "study.toml")
	if err != nil {
		t.Fatal(err)
	}
	p, err := piece.Parse(what)
	if err != nil {
		t.Fatal(err)
	}
	p.Glass = table.Glasses[0]
	s, err := program.Read(strings.NewReader(studyProgram), "study-program.toml")
	if err != nil {
		t.Fatal(err)
	}
	rep, err := Program(context.Background(), s, &piece.Load{Into: piece.HotKiln, Pieces: []piece.Piece{p}}, kiln.DefaultStudio(), kiln.Limits{})
	if err != nil {
		t.Fatal(err)
	}
	return rep.Pieces[0]
}

// bare takes the factors of the piece's bed out of its report.
func bare(r PieceReport) cases.Values {
	return cases.Values{"peak_MPa": r.Peak.Megapascals() / r.Body.TensionFactor, "left_MPa": r.Residual.Megapascals() / r.Body.ResidualFactor, "lag_K": float64(r.MaxLag)}
}

// UnevenCases answers the finite-element study of pieces on their bed: the body
// alone, and what a piece is judged by, which is a bound.
func UnevenCases() map[string]cases.Compute {
	return map[string]cases.Compute{
		"Even": func(t cases.T, in cases.Values) cases.Values {
			return bare(studyReport(t, in.Text("piece")+" textbook", in.True("follows")))
		},
		"Bound": func(t cases.T, in cases.Values) cases.Values {
			r := studyReport(t, in.Text("piece"), in.True("follows"))
			return cases.Values{"peak_MPa": r.Peak.Megapascals(), "left_MPa": r.Residual.Megapascals()}
		},
	}
}
