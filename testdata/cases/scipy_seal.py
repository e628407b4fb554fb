"""Solve the misfit of two layers with a general-purpose stiff integrator.

A core and a shell of even temperature, both linear in bulk and of one or three
Maxwell terms in shear, follow a history of temperature. Each layer is divided
into elements with a linear displacement (finite elements in the radius, none of
the closed form u = A r + B/r²), the deviatoric strains that still pull are
integrated by LSODA. Writes a case file in the form of testdata/cases to
standard output:

    /usr/bin/python3 scipy_seal.py > scipy_seal.toml

Names of cases as arguments make only these. One takes a minute or two.
"""

import os
import sys

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # the matrices are small

import numpy as np
import scipy
from scipy.integrate import solve_ivp
from scipy.linalg import solve_banded

HISTORIES = {
    "steady": [(0.0, 620.0), (9.9166666667, 25.0)],
    "hold": [(0.0, 620.0), (2.0, 500.0), (6.0, 500.0), (8.0, 380.0), (12.0, 25.0)],
    "again": [(0.0, 600.0), (0.2, 400.0), (0.5, 540.0), (1.0, 540.0), (9.6, 25.0)],
}
SERIES = [(0.2, 0.05), (0.5, 0.8), (0.3, 1.9666666666666668)]
# radius [m], E, nu, alpha, (A, B, T0) or None, terms
CLEAR = (63.5e9, 0.2, 3.3e-6, (-8.733, 15370.0, 92.04), [(1.0, 1.0)])
SOFT = (66e9, 0.21, 3.6e-6, (-8.733, 15370.0, 72.04), [(1.0, 1.0)])
SIX = (63.5e9, 0.2, 3.3e-6, (-8.733, 15370.0, 92.04), SERIES)
STONE = (73e9, 0.17, 0.6e-6, None, [(1.0, 1.0)])
CASES = [
    ("seal-skin-softer", "steady", [(0.018, CLEAR), (0.020, SOFT)]),
    ("seal-core-softer-held", "hold", [(0.012, SOFT), (0.020, CLEAR)]),
    ("seal-stone-three-terms", "hold", [(0.005, STONE), (0.016, SIX)]),
    ("seal-stone-fired-twice", "again", [(0.008, STONE), (0.016, CLEAR)]),
]


def run(history, layers, cells=80):
    """Stress [Pa] at the end: core at the interface, shell inside and outside."""
    edges, inner = [0.0], 0.0
    owner = []
    for k, (outer, _) in enumerate(layers):
        # finer towards the center of a hollow layer, where fields are steep
        grid = np.linspace(inner, outer, cells + 1) if inner == 0 else np.geomspace(inner, outer, cells + 1)
        edges += list(grid[1:])
        owner += [k] * cells
        inner = outer
    edges, owner = np.array(edges), np.array(owner)
    mid, h = 0.5 * (edges[1:] + edges[:-1]), np.diff(edges)
    young = np.array([layers[k][1][0] for k in owner])
    nu = np.array([layers[k][1][1] for k in owner])
    alpha = np.array([layers[k][1][2] for k in owner])
    g, bulk = young / 2 / (1 + nu), young / 3 / (1 - 2 * nu)
    n, terms = len(mid), max(len(m[4]) for _, m in layers)
    weight, time = np.zeros((terms, n)), np.ones((terms, n))
    for k, (_, m) in enumerate(layers):
        for j, (w, tau) in enumerate(m[4]):
            weight[j, owner == k], time[j, owner == k] = w, tau
    # strains of an element at its middle: e_r = (u2-u1)/h, e_t = (u1+u2)/(2 mid)
    br, bt = np.stack([-1 / h, 1 / h]), np.stack([0.5 / mid, 0.5 / mid])
    volume = mid**2 * h

    # stiffness: mean stress 3K(e/3) with e = e_r + 2 e_t, deviator 2G(e_r - e_t) 2/3, -1/3
    lam = bulk - 2 * g / 3
    rows = []
    for a in (0, 1):
        for b in (0, 1):
            e_b = br[b] + 2 * bt[b]
            sr, st = lam * e_b + 2 * g * br[b], lam * e_b + 2 * g * bt[b]
            rows.append((br[a] * sr + 2 * bt[a] * st) * volume)
    band = np.zeros((3, n + 1))
    band[1, :-1] += rows[0]
    band[0, 1:] += rows[1]
    band[2, :-1] += rows[2]
    band[1, 1:] += rows[3]
    band[1, 0], band[0, 1] = 1.0, 0.0  # u = 0 at the center
    times, temps = zip(*history)

    def viscosity_rate(kelvin):
        phi = np.zeros(n)
        for k, (_, m) in enumerate(layers):
            if m[3] is not None:
                a, b, t0 = m[3]
                phi[owner == k] = g[owner == k][0] / 10 ** min(max(a + b / max(kelvin - t0, 1.0), 5), 60)
        return phi

    def solve(load_r, load_t):
        """Displacement rate for given initial stress rates (radial, hoop)."""
        f = np.zeros(n + 1)
        for a in (0, 1):
            f[a:n + a] -= (br[a] * load_r + 2 * bt[a] * load_t) * volume
        f[0] = 0.0
        u = solve_banded((1, 1), band, f)
        return br[0] * u[:-1] + br[1] * u[1:], bt[0] * u[:-1] + bt[1] * u[1:]

    def rates(t, y, kelvin, slope):
        # d_j: stress difference sigma_r - sigma_t of each term; s: mean stress
        d = y[:terms * n].reshape(terms, n)
        phi = viscosity_rate(kelvin(t))
        fade = d * phi / time
        lost = fade.sum(0)
        mean = -3 * bulk * alpha * slope
        er, et = solve(mean - 2 / 3 * lost, mean + 1 / 3 * lost)
        dd = 2 * g * weight * (er - et) - fade
        return np.concatenate([dd.ravel(), 3 * bulk * ((er + 2 * et) / 3 - alpha * slope)])

    y = np.zeros((terms + 1) * n)
    for i in range(1, len(times)):
        start, end = times[i - 1] * 3600, times[i] * 3600
        from_k, slope = temps[i - 1] + 273.15, (temps[i] - temps[i - 1]) / (end - start)
        sol = solve_ivp(rates, (start, end), y, method="LSODA", rtol=1e-7, atol=10.0, max_step=120,
                        args=(lambda t, k=from_k, s=slope, a=start: k + s * (t - a), slope))
        assert sol.success, sol.message
        y = sol.y[:, -1]
    d, s = y[:terms * n].reshape(terms, n).sum(0), y[terms * n:]
    radial, hoop = s + 2 / 3 * d, s - 1 / 3 * d
    first = np.argmax(owner == 1)

    def edge(x, i, j, r):  # straight line through two elements
        return x[i] + (x[j] - x[i]) * (r - mid[i]) / (mid[j] - mid[i])

    face, outer = layers[0][0], layers[1][0]
    return (edge(hoop, first - 1, first - 2, face), edge(radial, first, first + 1, face),
            edge(hoop, first, first + 1, face), edge(hoop, n - 1, n - 2, outer))


def quantity(x):
    return "%.5f" % (x / 1e6)


def material(m):
    e, nu, alpha, curve, terms = m
    text = "E_GPa = %g, nu = %g, alpha = %g" % (e / 1e9, nu, alpha)
    if curve:
        text += ", A = %g, B = %g, T0 = %g" % curve
    return "{ %s, weights = %s, times = %s }" % (text, [w for w, _ in terms], [t for _, t in terms])


print("""# Misfit of two layers of even temperature, computed by a general-purpose stiff integrator on finite elements; made by
# scipy_seal.py.
source = "scipy"
func = "seal.TwoLayers"
""")
for name, key, layers in CASES:
    if sys.argv[1:] and name not in sys.argv[1:]:
        continue
    history = HISTORIES[key]
    core, radial, inside, outside = run(history, layers)
    print("""[[case]]
id = "%s"
status = "derived"
origin = "general-code"
note = "scipy %s LSODA, 80 elements in each layer"
inputs = { hours = %s, celsius = %s, radii_m = %s, core = %s, shell = %s }
expected = { core_MPa = %s, radial_MPa = %s, inside_MPa = %s, outside_MPa = %s }
tolerance = { rel = 0.001, abs = 0.0005 }
""" % (name, scipy.__version__, [t for t, _ in history], [k for _, k in history], [r for r, _ in layers],
       material(layers[0][1]), material(layers[1][1]), *map(quantity, (core, radial, inside, outside))))
