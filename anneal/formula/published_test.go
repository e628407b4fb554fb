package formula

import (
	"lehr/glass/casetest"
	"lehr/glass/unit"
)

type vals = casetest.Values

func millimeters(in vals, key string) unit.Length {
	return unit.Length(in.Float(key)) * unit.Millimeter
}

func mpa(s unit.Stress) float64 { return s.Megapascals() }
