package topics

// The files a person writes by hand, as their help shows them. A test runs
// both as they stand.

// ScheduleExample is a schedule file with every key.
const ScheduleExample = `  # tonight.toml: a kiln program, as it is keyed in
  name = "small work, from cold"  # what you call it; default none
  from = "20 °C"                  # reading when it begins: here a cold kiln
  [[segment]]
  purpose = "heating"             # your word; default heating, cooling or hold
  rate = "150 °C/h"               # how fast, written without a sign
  to   = "560 °C"                 # where to
  hold = "1 h"                    # the wait there; default none
  [[segment]]
  ramp = "2 h 15 min"             # how long it takes, in place of a rate;
  to   = "470 °C"                 # up or down follows from the temperatures
  [[segment]]
  full = true                     # as fast as the kiln can, in place of a rate:
  to   = "300 °C"                 # to cool, the kiln must be measured
  [[segment]]
  off  = true                     # the last one only: power off, the kiln
  to   = "45 °C"                  # falls by itself; nothing is keyed in`

// SpectraExample are the keys of relaxation, to be added to a glass.
const SpectraExample = `  expansion_liquid = "16e-6 ± 4e-6 /K"  # above the transformation
  shear_relaxation      = { weights = [0.4, 0.6], times = [0.1, 1.6] }
  structural_relaxation = { weights = [0.4, 0.6], times = [0.9, 14] }
  bulk_relaxation       = { weights = [1], times = [1], long = 0.18 }
  structural_modulus    = "3.2 ± 4 GPa" # viscosity over mean time of structure
  nonlinearity          = 0.5           # x of the shift of structure
  viscosity = { A = -3.02, B = 6987, T0 = "94.9 °C" }  # in place of the points`

// GlassExample is a glass of one's own, in as few lines as will do.
const GlassExample = `  # my-glass.toml, from the maker's data sheet
  [[glass]]
  name = "my-boro"
  like = "borosilicate-33"      # what is not given is taken from this one
  strain_point    = "515 °C"    # 10^13.5 Pa·s
  annealing_point = "560 °C"    # 10^12 Pa·s
  softening_point = "825 °C"    # 10^6.6 Pa·s
  expansion       = "3.3e-6 /K" # mean from 20 to 300 °C`

// GlassKeys is a glass file with every key. A test runs it as it stands.
const GlassKeys = `  # every-key.toml: all that can be said of a glass
  [[glass]]
  name  = "north-clear"              # how --glass calls it; yours alone
  title = "Clear rod of the studio"  # for a reader. Default: none
  words = ["north", "clear-33"]      # what else it is called. Default: none
  note  = "from two sheets"          # how far to trust it. Default: none
  # The built-in glass from which all that is not given is taken; its fixed
  # points move with yours. Default: none, and then what is needed is asked for.
  like = "borosilicate-33"
  # Whose oxides it has: soda-lime, borosilicate, lead or aluminosilicate.
  # Default: that of the glass it is like.
  family = "borosilicate"
  # Temperatures at which the viscosity is 10^13.5, 10^12, 10^6.6 and 10^3 Pa·s.
  # Behind ± ("510 ± 10 °C") stands how far another rod may be off, at most
  # 60 K; it counts in the worst case, and cannot stand beside viscosity, which
  # gives the curve itself. The range of the annealing point moves all four
  # (default: that of like, 10 K beside a value of your own), that of another
  # point moves it alone (default: none).
  strain_point    = "510 °C"
  annealing_point = "560 °C"
  softening_point = "821 °C"
  working_point   = "1255 °C"
  # log10 of the viscosity in Pa·s of endlessly hot glass, -10 to 6: stands in
  # for a working point that nobody prints.
  viscosity_limit = "-2.7"
  # Where the trade holds finished pieces.
  garage = "500-565 °C"
  # Mean expansion, 1e-8 to 1e-4 /K, and that above the transformation; without
  # the latter structural relaxation is left out, and lehr says so. Here with
  # all that any value may carry: range, source, status, note; of several values
  # in [ ] the one with use = true counts.
  expansion = [
    { value = "3.3e-6 ± 0.1e-6 /K", over = "20-300 °C", source = "sheet",
      status = "verified", note = "rod", use = true },
    { value = "3.25e-6 /K", status = "memory" },
  ]
  expansion_liquid = "9.9e-6 /K"
  density          = "2.23 g/cm³"    # 1 to 10 g/cm³
  young_modulus    = "63 GPa"        # 1 to 1000 GPa
  poisson          = "0.2"           # 0 to 0.499
  stress_optic     = "4.0 Brewster"  # what polarized light shows of stress
  refractive_index = "1.473"         # in yellow light, 1 to 3
  emissivity       = "0.9"           # of a thick piece, 0.01 to 1
  # What a sample conducts with the heat that shines through it, and without it:
  # a number, or polynomial = [k0, k1, ...] in °C and W/m/K.
  conductivity        = { polynomial = [1.1, 0.0008], spread = "8 %",
                          over = "20-500 °C", status = "derived" }
  conductivity_phonon = "1.1 W/m/K"
  # A number; or the mean (a T + c) / (b T + 1) in J/kg/K and °C from 0 °C; or
  # molar = [k0, k1, k2, k3] of k0 + k1 T + k2 / T² + k3 / √T in J/mol/K and K,
  # with molar_mass in kg/mol.
  specific_heat = [
    { sharp_ginther = { a = 2.1, b = 0.00146, c = 722 }, over = "0-600 °C",
      status = "memory", use = true },
    { molar = [127.2, -0.010777, 431270, -1463.8], molar_mass = 0.0600843,
      over = "273-1480 K", status = "memory" },
  ]
  # How clear glass lets its own heat through: the index for those rays, and
  # bands that rise without gap from 0, each with its upper end, 1 over the
  # depth at which light falls to 1/e, and the range of such glasses.
  infrared_index = "1.45"
  absorption = [
    { to = "2.7 µm", value = "30 /m", range = "20-40 /m", source = "sheet",
      status = "verified", note = "a plate of 4 mm" },
    { to = "5.0 µm", value = "700 /m", range = "300-1500 /m",
      status = "memory" },
  ]
  # By how much log10 of the viscosity may rise as the glass separates, 0 to 10.
  phase_separation = "0.5"
  # To compute as a book does: one curve by name or { A, B, T0, over }, stress
  # that relaxes as "maxwell" or "six-term" (default), and a surface as hot as
  # the kiln. Default: every curve that the points give, and the worst counts.
  viscosity  = { A = -3.02, B = 6987, T0 = "94.9 °C", over = "400-1300 °C" }
  relaxation = "six-term"
  surface    = "follows kiln"
  [source.sheet]
  cite = "Maker's data sheet for rod (2024)"
  read = "2026-11-25"`
