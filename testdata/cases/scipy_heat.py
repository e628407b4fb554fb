"""Solve one cooling program with a general-purpose stiff integrator.

The sphere and slab below are discretized by the method of lines on a fine grid
of their own (cells, not nodes) and integrated by LSODA at tight tolerance. The
slab also carries viscoelastic stress. Writes a case file in the form of
testdata/cases to standard output:

    /usr/bin/python3 scipy_heat.py > scipy.toml

Names of cases as arguments make only these.
"""

import sys

import numpy as np
import scipy
from scipy.integrate import solve_ivp

SIGMA = 5.670374419e-8
DENSITY, EMISSIVITY, FILM = 2230.0, 0.9, 5.0
# program: hours, degrees C
POINTS = [(0.0, 560.0), (0.5, 560.0), (1.5, 480.0), (2.5, 300.0), (4.0, 60.0)]
LOOK_H = [0.25, 0.7, 1.0, 1.5, 1.8, 2.5, 3.0, 4.0]


def conductivity(kelvin):
    t = kelvin - 273.15
    return 1.106 + 0.000789 * t + 1.23e-6 * t * t


def specific_heat(kelvin):
    t = kelvin - 273.15
    a, b, c = 2.1095, 0.00146, 722.0
    return (a * b * t * t + 2 * a * t + c) / (1 + b * t) ** 2


def kiln(hours):
    x, y = zip(*POINTS)
    return np.interp(hours, x, y) + 273.15


class Grid:
    def __init__(self, power, size, cells):
        self.h = size / cells
        self.edge = np.linspace(0, size, cells + 1)
        self.mid = 0.5 * (self.edge[1:] + self.edge[:-1])
        self.area = self.edge**power
        self.volume = (self.edge[1:] ** (power + 1) - self.edge[:-1] ** (power + 1)) / (power + 1)

    def surface(self, temp, furnace):
        """Surface temperature: conduction to the face equals what leaves it."""
        inside = temp[-1]
        s = inside
        for _ in range(20):
            g = 2 * conductivity(0.5 * (inside + s)) / self.h
            f = g * (inside - s) + FILM * (furnace - s) + EMISSIVITY * SIGMA * (furnace**4 - s**4)
            s -= f / (-g - FILM - 4 * EMISSIVITY * SIGMA * s**3)
        return s

    def rate(self, temp, furnace):
        flow = np.zeros(len(self.edge))
        k = conductivity(0.5 * (temp[1:] + temp[:-1]))
        flow[1:-1] = k * (temp[1:] - temp[:-1]) / self.h * self.area[1:-1]
        s = self.surface(temp, furnace)
        flow[-1] = self.area[-1] * (FILM * (furnace - s) + EMISSIVITY * SIGMA * (furnace**4 - s**4))
        return (flow[1:] - flow[:-1]) / (DENSITY * specific_heat(temp) * self.volume)


def heat(power, size, start, cells=200):
    """Center (by the even parabola) and surface temperature at the looks."""
    grid = Grid(power, size, cells)
    temp = np.array([start(r / size) for r in grid.mid])
    out = []
    for (a, _), (b, _) in zip(POINTS, POINTS[1:]):
        looks = [x for x in LOOK_H if a < x <= b]
        sol = solve_ivp(lambda t, y: grid.rate(y, kiln(t / 3600)), (a * 3600, b * 3600), temp, method="LSODA",
                        rtol=1e-8, atol=1e-8, t_eval=sorted({*(x * 3600 for x in looks), b * 3600}), lband=1, uband=1)
        assert sol.success, sol.message
        for x in looks:
            y = sol.y[:, np.argmin(abs(sol.t - x * 3600))]
            out.append((1.125 * y[0] - 0.125 * y[1], grid.surface(y, kiln(x))))
        temp = sol.y[:, -1]
    return np.array(out)


# A slab whose faces follow the kiln, with constant diffusivity, one Maxwell
# term or three shear and two bulk terms, no structural relaxation: quenched,
# brought back to where it relaxes for a while, cooled.
YOUNG, POISSON, ALPHA, KAPPA = 70e9, 0.22, 9e-6, 5e-7
VFT = (-1.5, 4000.0, 520.0)
HALF = 0.008
SLAB = [(0.0, 620.0), (0.02, 620.0), (0.1, 440.0), (0.15, 518.0), (0.32, 518.0), (0.7, 20.0)]
SHEAR = {"maxwell": [(1.0, 1.0)], "series": [(0.2, 0.05), (0.5, 0.8), (0.3, 1.9666666666666668)]}
BULK = {"maxwell": ([], 0.0), "series": ([(0.4, 0.1), (0.6, 1.5)], 0.3)}


def slab_stress(kind, cells=60):
    """Left stress at face and middle, and greatest tension while cooling [Pa]."""
    shear, (bulk, long) = SHEAR[kind], BULK[kind]
    g, k = YOUNG / 2 / (1 + POISSON), YOUNG / 3 / (1 - 2 * POISSON)
    z = (np.arange(cells) + 0.5) / cells * HALF
    h = HALF / cells
    ns, nb, n = len(shear), len(bulk), cells
    wg = np.array([w for w, _ in shear])[:, None]
    tg = np.array([t for _, t in shear])[:, None]
    wk = np.array([w for w, _ in bulk])[:, None] * (1 - long)
    tk = np.array([t for _, t in bulk])[:, None]
    if not bulk:
        long = 1.0

    def furnace(t):
        x, y = zip(*SLAB)
        return np.interp(t / 3600, x, y) + 273.15

    def rates(t, y):
        temp, dev, vol = y[:n], y[n:n + ns * n].reshape(ns, n), y[n + ns * n:n + (ns + nb) * n].reshape(nb, n)
        wall = furnace(t)
        d = np.empty(n)
        d[1:-1] = temp[2:] - 2 * temp[1:-1] + temp[:-2]
        d[0] = temp[1] - temp[0]
        d[-1] = (8 * wall - 12 * temp[-1] + 4 * temp[-2]) / 3  # second order at the face
        dT = KAPPA * d / h**2
        phi = g / 10 ** np.clip(VFT[0] + VFT[1] / np.maximum(temp - VFT[2], 1.0), 5, 60)
        # in-plane strain rate e common to all, across rate x, sigma_z = 0
        fade = (dev * phi / tg).sum(0)      # S = sigma_z - sigma_x loses this
        fadeM = (vol * phi / tk).sum(0) if nb else 0.0
        # d sigma_z = dM + 2/3 dS = 0, dS = 2g (x - e) - fade, dM = k (2e + x - 3 alpha dT) - fadeM
        # x = (p - q e) / r
        r = k + 4 / 3 * g
        p = 3 * k * ALPHA * dT + fadeM + 2 / 3 * fade
        q = 2 * k - 4 / 3 * g
        # sigma_x = -S: mean over the section of dS vanishes
        e = (2 * g * p / r - fade).mean() / (2 * g * (1 + q / r))
        x = (p - q * e) / r
        ddev = 2 * g * wg * (x - e) - dev * phi / tg
        strain = 2 * e + x - 3 * ALPHA * dT
        dvol = k * wk * strain - vol * phi / tk if nb else vol
        return np.concatenate([dT, ddev.ravel(), dvol.ravel()])

    y = np.concatenate([np.full(n, SLAB[0][1] + 273.15), np.zeros((ns + nb) * n)])
    peak = 0.0

    def edge(s):  # face and middle by parabolas
        return 15 / 8 * s[-1] - 10 / 8 * s[-2] + 3 / 8 * s[-3], 1.125 * s[0] - 0.125 * s[1]

    for (a, _), (b, _) in zip(SLAB, SLAB[1:]):
        sol = solve_ivp(rates, (a * 3600, b * 3600), y, method="LSODA", rtol=1e-7,
                        atol=np.concatenate([np.full(n, 1e-6), np.full((ns + nb) * n, 1.0)]), max_step=60,
                        t_eval=np.linspace(a * 3600, b * 3600, 121))
        assert sol.success, sol.message
        for j in range(sol.y.shape[1]):
            s = -sol.y[n:n + ns * n, j].reshape(ns, n).sum(0)
            peak = max(peak, *edge(s), s.max())
        y = sol.y[:, -1]
    # even out at room temperature without relaxing: elastic, mean strain free
    s = -y[n:n + ns * n].reshape(ns, n).sum(0)
    dT = 293.15 - y[:n]
    s = s - YOUNG * ALPHA / (1 - POISSON) * (dT - dT.mean())
    return (*edge(s), peak)


def numbers(values, places):
    return "[" + ", ".join(f"{v:.{places}f}" for v in values) + "]"


def skipped(name):
    return len(sys.argv) > 1 and name not in sys.argv[1:]


def main():
    print("# Heat and stress computed by a general-purpose stiff integrator; made by scipy_heat.py.")
    print(f'source = "scipy"\nfunc = "sim.Scipy"\n')
    origin = f'status = "derived"\norigin = "general-code"\nnote = "scipy {scipy.__version__} LSODA, method of lines, '
    for name, power, size, core in [("sphere-60mm", 2, 0.030, 0.0), ("sphere-60mm-hot-core", 2, 0.030, 60.0),
                                    ("rod-40mm", 1, 0.020, 0.0), ("slab-25mm", 0, 0.0125, 0.0)]:
        if skipped(f"heat-{name}"):
            continue
        out = heat(power, size, lambda rho: 833.15 + core * (1 - rho * rho))
        print(f'[[case]]\nid = "heat-{name}"\n{origin}200 cells"')
        print(f"inputs = {{ power = {power}, size_m = {size}, core_above_K = {core}, look_h = {LOOK_H} }}")
        print(f"expected = {{ center_K = {numbers(out[:, 0], 4)}, surface_K = {numbers(out[:, 1], 4)} }}")
        print("tolerance = { abs = 0.02 }\n")
    for kind in SHEAR:
        if skipped(f"stress-slab-{kind}"):
            continue
        face, middle, peak = slab_stress(kind)
        print(f'[[case]]\nid = "stress-slab-{kind}"\n{origin}60 cells"')
        print(f'inputs = {{ relaxation = "{kind}" }}')
        print(f"expected = {{ surface_MPa = {face / 1e6:.5f}, center_MPa = {middle / 1e6:.5f}, peak_MPa = {peak / 1e6:.5f} }}")
        print("tolerance = { rel = 2e-3 }\n")


if __name__ == "__main__":
    main()
