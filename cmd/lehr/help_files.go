package main

// The files a person writes by hand, as their help shows them. A test runs
// both as they stand.

// scheduleExample is a schedule file with every key.
const scheduleExample = `  # tonight.toml: a kiln program, as it is keyed in
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

// spectraExample are the keys of relaxation, to be added to a glass.
const spectraExample = `  expansion_liquid = "16e-6 ± 4e-6 /K"  # above the transformation
  shear_relaxation      = { weights = [0.4, 0.6], times = [0.1, 1.6] }
  structural_relaxation = { weights = [0.4, 0.6], times = [0.9, 14] }
  bulk_relaxation       = { weights = [1], times = [1], long = 0.18 }
  structural_modulus    = "3.2 ± 4 GPa" # viscosity over mean time of structure
  nonlinearity          = 0.5           # x of the shift of structure
  viscosity = { A = -3.02, B = 6987, T0 = "94.9 °C" }  # in place of the points`

// glassExample is a glass of one's own, in as few lines as will do.
const glassExample = `  # my-glass.toml, from the maker's data sheet
  [[glass]]
  name = "my-boro"
  like = "borosilicate-33"      # what is not given is taken from this one
  strain_point    = "515 °C"    # 10^13.5 Pa·s
  annealing_point = "560 °C"    # 10^12 Pa·s
  softening_point = "825 °C"    # 10^6.6 Pa·s
  expansion       = "3.3e-6 /K" # mean from 20 to 300 °C`
