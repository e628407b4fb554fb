package rule

import (
	"math"
	"time"

	"lehr/anneal/formula"
	"lehr/glass/cases"
	"lehr/glass/unit"
)

type vals = cases.Values

func elastic(in vals) formula.Elastic {
	e := formula.Elastic{Young: unit.Stress(in.Float("E_GPa") * 1e9), Poisson: in.Float("nu")}
	if in.Has("alpha") {
		e.Expansion = in.Float("alpha")
	}
	return e
}

// cooling returns the case's cooling rate, which the sources count positive.
func cooling(in vals) unit.Rate {
	if in.Has("rate_K_per_h") {
		return -unit.KelvinPerHour(in.Float("rate_K_per_h"))
	}
	return unit.Rate(-in.Float("rate_K_per_s"))
}

func meters(in vals, key string) unit.Length { return unit.Length(in.Float(key)) }

func millimeters(in vals, key string) unit.Length {
	return unit.Length(in.Float(key)) * unit.Millimeter
}

func mpa(s unit.Stress) float64 { return s.Megapascals() }

// each applies f to a list of inputs.
func each(xs []float64, f func(float64) float64) []float64 {
	out := make([]float64, len(xs))
	for i, x := range xs {
		out[i] = f(x)
	}
	return out
}

func stepCase(f func(float64) (float64, float64)) cases.Compute {
	return func(_ cases.T, in vals) vals {
		c, m := f(in.Float("Fo"))
		return vals{"center_theta": c, "mean_theta": m}
	}
}

// Cases answers the cases of testdata/cases that name this package. It is a
// table, an entry a formula.
func Cases() map[string]cases.Compute {
	return map[string]cases.Compute{
		"SphereLag": func(_ cases.T, in vals) vals {
			return vals{"center_minus_surface_K": float64(formula.SphereLag(meters(in, "R_m"), cooling(in), in.Float("kappa_m2_s")))}
		},
		"SphereMeanLag": func(_ cases.T, in vals) vals {
			return vals{"mean_minus_surface_K": float64(formula.SphereMeanLag(meters(in, "R_m"), cooling(in), in.Float("kappa_m2_s")))}
		},
		"SlabLag": func(_ cases.T, in vals) vals {
			half, k := meters(in, "half_thickness_m"), in.Float("kappa_m2_s")
			return vals{"center_minus_surface_K": float64(formula.SlabLag(half, cooling(in), k)),
				"mean_minus_surface_K": float64(formula.SlabMeanLag(half, cooling(in), k))}
		},
		"SlabOneFaceLag": func(_ cases.T, in vals) vals {
			d, k := meters(in, "thickness_m"), in.Float("kappa_m2_s")
			one := formula.SlabOneFaceLag(d, cooling(in), k)
			return vals{"far_minus_surface_K": float64(one), "ratio_to_both_sides": float64(one / formula.SlabLag(d/2, cooling(in), k))}
		},
		"CylinderLag": func(_ cases.T, in vals) vals {
			r, k := meters(in, "R_m"), in.Float("kappa_m2_s")
			return vals{"center_minus_surface_K": float64(formula.CylinderLag(r, cooling(in), k)),
				"mean_minus_surface_K": float64(formula.CylinderMeanLag(r, cooling(in), k))}
		},
		"SlabStep": stepCase(formula.SlabStep), "CylinderStep": stepCase(formula.CylinderStep), "SphereStep": stepCase(formula.SphereStep),
		"SphereStartUp": func(_ cases.T, in vals) vals {
			sphere, _ := formula.SphereStartUp(in.Float("Fo"))
			slab, _ := formula.SlabStartUp(in.Float("Fo"))
			return vals{"sphere_fraction": sphere, "slab_fraction": slab}
		},
		"CylinderStartUp": func(_ cases.T, in vals) vals {
			return vals{
				"lag":    each(in.Floats("Fo"), func(fo float64) float64 { x, _ := formula.CylinderStartUp(fo); return x }),
				"stress": each(in.Floats("Fo"), func(fo float64) float64 { _, x := formula.CylinderStartUp(fo); return x }),
			}
		},
		"SlowestModes": func(_ cases.T, in vals) vals {
			r, k := meters(in, "R_m"), in.Float("kappa_m2_s")
			return vals{"sphere_e_fold_s": formula.SphereSlowestMode(r, k).Seconds(), "cylinder_e_fold_s": formula.CylinderSlowestMode(r, k).Seconds(),
				"slab_e_fold_s": formula.SlabSlowestMode(meters(in, "L_m"), k).Seconds()}
		},
		"SphereStress": func(_ cases.T, in vals) vals {
			r, k := millimeters(in, "D_mm")/2, in.Float("kappa_m2_s")
			surface, _ := formula.SphereStress(r, 1, cooling(in), k, elastic(in))
			center, _ := formula.SphereStress(r, 0, cooling(in), k, elastic(in))
			return vals{"transient_surface_hoop_MPa": mpa(surface), "transient_center_MPa": mpa(center)}
		},
		"StressFactors":     func(cases.T, vals) vals { return stressFactors() },
		"NeutralPlaces":     func(t cases.T, _ vals) vals { return neutralPlaces(t) },
		"SphereEquilibrium": func(cases.T, vals) vals { return sphereEquilibrium() },
		"SphereAsSlab": func(_ cases.T, in vals) vals {
			d := meters(in, "D_sphere")
			return vals{"equal_surface_stress": float64(formula.SphereAsSlab(d, formula.EqualSurfaceStress)),
				"equal_center_surface_dT":       float64(formula.SphereAsSlab(d, formula.EqualLag)),
				"equal_center_residual_tension": float64(formula.SphereAsSlab(d, formula.EqualResidualTension))}
		},
		"CylinderAsSlab": func(_ cases.T, in vals) vals {
			return vals{"slab_m": float64(formula.CylinderAsSlab(meters(in, "D_m")))}
		},
		"SlabOneFaceFreeStress": func(_ cases.T, in vals) vals {
			return vals{"stress_MPa": each(in.Floats("place"), func(x float64) float64 {
				return mpa(formula.SlabOneFaceFreeStress(meters(in, "thickness_m"), x, cooling(in), in.Float("kappa_m2_s"), elastic(in)))
			})}
		},
		"CylinderStress": func(_ cases.T, in vals) vals {
			at := func(which int) []float64 {
				return each(in.Floats("place"), func(x float64) float64 {
					h, a, r := formula.CylinderStress(meters(in, "R_m"), x, cooling(in), in.Float("kappa_m2_s"), elastic(in))
					return mpa([]unit.Stress{h, a, r}[which])
				})
			}
			return vals{"hoop_MPa": at(0), "axial_MPa": at(1), "radial_MPa": at(2)}
		},
		"SuddenDropLimit": func(_ cases.T, in vals) vals {
			return vals{"R_K": float64(formula.SuddenDropLimit(unit.Stress(in.Float("sigma_MPa"))*unit.Megapascal, elastic(in)))}
		},
		"SlabCoolingLimit": func(_ cases.T, in vals) vals {
			limit := unit.Stress(in.Float("sigma_MPa")) * unit.Megapascal
			return vals{"rate_K_per_h": -formula.SlabCoolingLimit(meters(in, "half_thickness_m"), limit, in.Float("kappa_m2_s"), elastic(in)).KelvinPerHour()}
		},
		"SphereCoolingLimit": func(_ cases.T, in vals) vals {
			limit := unit.Stress(in.Float("sigma_MPa")) * unit.Megapascal
			return vals{"rate_K_per_h": -formula.SphereCoolingLimit(millimeters(in, "D_mm")/2, limit, in.Float("kappa_m2_s"), elastic(in)).KelvinPerHour()}
		},
		"HeatingLimits": func(_ cases.T, in vals) vals {
			limit, k, e := unit.Stress(in.Float("sigma_MPa"))*unit.Megapascal, in.Float("kappa_m2_s"), elastic(in)
			r := meters(in, "R_m")
			return vals{"slab_K_per_h": formula.SlabHeatingLimit(meters(in, "half_thickness_m"), limit, k, e).KelvinPerHour(),
				"cylinder_K_per_h":         formula.CylinderHeatingLimit(r, limit, k, e).KelvinPerHour(),
				"sphere_K_per_h":           formula.SphereHeatingLimit(r, limit, k, e).KelvinPerHour(),
				"cylinder_cooling_K_per_h": -formula.CylinderCoolingLimit(r, limit, k, e).KelvinPerHour()}
		},
		"ConstrainedStress": func(_ cases.T, in vals) vals {
			return vals{"stress_MPa": mpa(elastic(in).PerKelvin()) * in.Float("dT_K")}
		},
		"SlabLagRatio": func(_ cases.T, in vals) vals {
			lag := func(key string) unit.Delta { return formula.SlabLag(millimeters(in, key)/2, -1, 5e-7) }
			return vals{"dT_ratio": float64(lag("thickness2_mm") / lag("thickness1_mm"))}
		},
		"MaxwellTime": func(_ cases.T, in vals) vals {
			g := unit.Stress(in.Float("G_GPa") * 1e9)
			ap, sp := formula.MaxwellTime(1e12, g).Seconds(), formula.MaxwellTime(math.Pow(10, 13.5), g).Seconds()
			return vals{"tau_AP_s": ap, "tau_SP_s": sp, "ratio": sp / ap}
		},
		"MaxwellTimeRatio": func(_ cases.T, in vals) vals {
			τ := func(key string) float64 {
				return formula.MaxwellTime(math.Pow(10, in.Float(key)), 28.69*1000*unit.Megapascal).Seconds()
			}
			return vals{"SP_rate_ratio": τ("log10_eta_AP") / τ("log10_eta_SP")}
		},
		"MaxwellSoak": func(_ cases.T, in vals) vals { return soakCase(in, formula.MaxwellSoak) },
		"SixTermSoak": func(_ cases.T, in vals) vals { return soakCase(in, formula.SixTermSoak) },
		"StructuralFactor": func(_ cases.T, in vals) vals {
			liquid := in.Floats("alpha_liquid")
			i := -1
			return vals{"factor": each(in.Floats("alpha_glass"), func(g float64) float64 { i++; return formula.StructuralFactor(g, liquid[i]) })}
		},
		"AdamsWilliamsonRelease": func(_ cases.T, in vals) vals {
			return vals{"dn_nm_per_cm": each(in.Floats("t_min"), func(min float64) float64 {
				return formula.AdamsWilliamsonRelease(in.Float("dn0_nm_per_cm"), in.Float("A_per_nm_cm_min"), min)
			})}
		},
		"RealTemper": func(_ cases.T, in vals) vals {
			return vals{"real": formula.RealTemper(in.Float("apparent"), millimeters(in, "thickness_mm"))}
		},
		"TemperFromRotation": func(_ cases.T, in vals) vals {
			return vals{"apparent_temper": each(in.Floats("upper_rotation_deg"), func(d float64) float64 { return float64(formula.TemperFromRotation(d)) })}
		},
		"RotationRetardation": func(_ cases.T, in vals) vals {
			r := formula.RotationRetardation(in.Float("rotation_deg"), unit.Length(in.Float("wavelength_nm"))*formula.Nanometer)
			return vals{"retardation_nm": float64(r / formula.Nanometer), "per_number_nm": float64(formula.TemperRetardation(1) / formula.Nanometer)}
		},
		"StressRetardation": func(_ cases.T, in vals) vals {
			r := formula.StressRetardation(unit.Stress(in.Float("stress_MPa"))*unit.Megapascal, unit.Length(in.Float("path_cm"))*unit.Centimeter, in.Float("K_1e6_mm2_per_N")*1e-12)
			return vals{"opd_nm": float64(r / formula.Nanometer)}
		},
		"RetardationStress": func(_ cases.T, in vals) vals {
			return vals{"stress_MPa": each(in.Floats("K_1e6_mm2_per_N"), func(k float64) float64 {
				return mpa(formula.RetardationStress(unit.Length(in.Float("opd_nm_per_cm"))*formula.Nanometer, unit.Centimeter, k*1e-12))
			})}
		},
		"SphereRetardation": func(_ cases.T, in vals) vals {
			return vals{"retardation_nm": each(in.Floats("b_m"), func(b float64) float64 {
				return float64(formula.SphereRetardation(meters(in, "R_m"), unit.Length(b), unit.Stress(in.Float("surface_MPa"))*unit.Megapascal, in.Float("C_1_per_Pa")) / formula.Nanometer)
			})}
		},
		"SlabRetardation": func(_ cases.T, in vals) vals {
			return vals{"retardation_nm": each(in.Floats("place"), func(x float64) float64 {
				return float64(formula.SlabRetardation(x, unit.Stress(in.Float("surface_MPa"))*unit.Megapascal, meters(in, "path_m"), in.Float("C_1_per_Pa")) / formula.Nanometer)
			})}
		},
		"TubePressure": func(_ cases.T, in vals) vals {
			return vals{"p_bar": mpa(formula.TubePressure(millimeters(in, "OD_mm"), millimeters(in, "wall_mm"))) * 10}
		},
		"Sag": func(_ cases.T, in vals) vals {
			hold := time.Duration(in.Float("hours") * float64(time.Hour))
			at := func(f func(η float64) unit.Length) []float64 {
				return each(in.Floats("log10_eta"), func(l float64) float64 { return float64(f(math.Pow(10, l))) * 1e6 })
			}
			return vals{
				"slab_um": at(func(η float64) unit.Length {
					return formula.SlabSag(millimeters(in, "slab_mm"), millimeters(in, "slab_span_mm"), in.Float("density"), η, hold)
				}),
				"rod_um": at(func(η float64) unit.Length {
					return formula.RodSag(millimeters(in, "rod_mm"), millimeters(in, "rod_span_mm"), in.Float("density"), η, hold)
				}),
				"mark_um": at(func(η float64) unit.Length {
					return formula.MarkDepth(in.Float("load_g")*1e-3*9.80665, millimeters(in, "grain_mm"), η, hold)
				}),
			}
		},
		"CommercialCycle": commercialCase, "RowTotal": rowTotalCase, "RowScaling": rowScalingCase, "RowRates": rowRatesCase,
		"OneFaceRow": oneFaceRowCase, "StagesTotal": stagesTotalCase, "SoakChart": soakChartCase, "ClosedForm": closedFormCase,
	}
}

func soakCase(in vals, f func(float64, time.Duration) time.Duration) vals {
	tau := unit.Seconds(in.Float("tau_s"))
	return vals{"t_s": each(in.Floats("relaxed"), func(x float64) float64 { return f(x, tau).Seconds() })}
}
