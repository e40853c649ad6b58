#!/usr/bin/env python3
"""One etching run by a general-purpose integrator, to hold restbite's time to depth and speed against.

Written from the project's model page and its amendments (bath-truth, depth-map), not from its source.
Section numbers in comments are the model page's; letters are bath-truth's. It covers what a run needs
to come to its depth with the current on from the start: pack, regulated supply, adapter. Rests and
every stop but depth and time are left out.

    restbite plan JOB.toml --json > job.json
    python3 ode.py job.json [--rtol 1e-6] [--repeat 5]

The file may also be the `resolved` map alone. SciPy's RK45, DOP853 and LSODA are each timed at --rtol,
the fastest of N repeats each; of those whose time to depth is within 1e-5 of DOP853's at 1e-10 the
fastest is taken. SI units; temperatures in the state are rises over ambient, so that the relative
tolerance is one of the rise and not of some 300 K.
"""
import argparse
import json
import math
import sys
import time
from bisect import bisect_right
from types import SimpleNamespace

from scipy.integrate import solve_ivp

FARADAY = 96485.33212  # C/mol, CODATA 2018
GAS = 8.314462618  # J/(mol K)
SIGMA = 5.670374419e-8  # W/(m2 K4)
GRAVITY = 9.80665  # m/s2
LEAST_MOLAR = 1e-6  # mol/L, the floor inside logarithms (2.3)
DEPTH, BATH, METALS = 0, 1, 2  # places in the state; with a pack its last five: q1, q2, u, core, surface


def line(points):
    """A curve linear between its points and flat outside (4.1)."""
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    last = len(xs) - 1

    def at(x):
        if x <= xs[0]:
            return ys[0]
        if x >= xs[last]:
            return ys[last]
        k = bisect_right(xs, x)
        return ys[k - 1] + (ys[k] - ys[k - 1]) * (x - xs[k - 1]) / (xs[k] - xs[k - 1])

    return at


def molar_log(c):
    """ln of c in mol/m3, taken in mol/L and floored (2.3)."""
    return math.log(max(1e-3 * c, LEAST_MOLAR))


def film(flux, free, forced):
    """Rise dc over the bath at the sheet, and d dc/d flux: flux^3 = dc^3 (free^3 dc + forced^3) (A)."""
    if flux <= 0.0:
        return 0.0, 0.0
    if free == 0.0:
        return flux / forced, 1.0 / forced
    dc = (flux / free) ** 0.75
    if forced == 0.0:
        return dc, 0.75 * dc / flux
    # Stirred: convex and rising, so Newton from above (the smaller of both limits) falls straight to the root.
    dc = min(dc, flux / forced)
    a, b, target = free**3, forced**3, flux**3
    while True:
        slope = dc * dc * (4.0 * a * dc + 3.0 * b)
        step = (dc**3 * (a * dc + b) - target) / slope
        dc -= step
        if abs(step) <= 1e-9 * dc:  # quadratic: what is left is of the order of its square
            return dc, 3.0 * flux * flux / slope


def read_metals(r):
    """The metals that the pan takes up, each with its place in the state."""
    names = [k.split(".")[2] for k in r if k.startswith("bath.cathode.") and k.endswith(".e0_v")]
    metals = []
    for place, name in enumerate(names, METALS):
        key, own = f"bath.cathode.{name}.", r[f"bath.cathode.{name}.of_bath"]
        share, valence = r.get(f"piece.charge_share.{name}", 0.0), r.get(f"piece.valence.{name}", 1.0)
        metals.append(SimpleNamespace(
            name=name, place=place, start=r[key + "c0_mol_per_m3"],
            e0=r[key + "e0_v"], n=r[key + "n"], i0=r[key + "i0_a_per_m2"], alpha=r[key + "alpha"],
            free=r[key + "free_transfer_m_per_s"], forced=r[key + "forced_transfer_m_per_s"],
            # B: the bath's own metals plate on the core, the piece's spread. C: these stay in reach.
            area=r["bath.cathode.core_area_m2" if own else "bath.cathode.spread_area_m2"],
            volume=r["bath.volume_m3" if own else "bath.reach_m3"],
            # 2.4: mol that a coulomb brings into solution, none where the alloy has none of it.
            dissolved=r["piece.current_efficiency"] * share / (valence * FARADAY),
        ))
    return metals


def source_of(r):
    """Returns open voltage and resistance as a function of the state: V = open - I ohm (4)."""
    if r["source.kind"] == "supply":  # 4.2; its limit is the operating point's business
        return lambda y: (r["source.set_v"], r["source.out_ohm"])
    if r["source.kind"] == "adapter":  # 4.3
        return lambda y: (r["source.open_v"], r["source.series_ohm"])
    near_c = r["source.cell.available_share"] * r["source.cell.capacity_c"]
    series, parallel, contact = r["source.series"], r["source.parallel"], r["source.contact_ohm"]
    r0, temp = r["source.cell.r0_ohm"], r["source.cell.r0_temp_k"]
    rest_v, r0_factor = line(r["source.cell.ocv_curve"]), line(r["source.cell.r0_curve"])
    ambient = r["ambient_k"]

    def pack(y):  # 4.1
        level = y[-5] / near_c
        warm = math.exp(temp * (1.0 / (y[-2] + ambient) - 1.0 / 298.15))
        ohm = r0 * r0_factor(level) * warm + contact
        return series * (rest_v(level) - y[-3]), series * ohm / parallel

    return pack


def operating_point(r, metals):
    """Returns a function of the state that gives the current and what else the rates need (4.4).

    The pan's potential is the unknown: every current at the pan is explicit in it, and so is then
    everything else. The residual rises with it, so a bracketed Newton cannot miss.
    """
    ambient, species, source = r["ambient_k"], r["bath.anode.species"], source_of(r)
    e0_a, n_a, alpha_a = r["bath.anode.e0_v"], r["bath.anode.n"], r["bath.anode.alpha"]
    bare, c0_a = r["piece.exposed_area_m2"], r["bath.anode.c0_mol_per_m3"]
    twice_i0_a = 2.0 * r["bath.anode.i0_a_per_m2"] * bare
    free_a, forced_a = r["bath.anode.free_transfer_m_per_s"], r["bath.anode.forced_transfer_m_per_s"]
    flux_per_a = r[f"piece.charge_share.{species}"] / (n_a * FARADAY * bare)
    core, alpha_h = r["bath.cathode.core_area_m2"], r["bath.cathode.H2.alpha"]
    i0_h, ph = core * r["bath.cathode.H2.i0_a_per_m2"], r["bath.ph"]
    leads, limit, beta = r["leads.resistance_ohm"], r.get("source.limit_a"), r["bath.transfer_beta_per_k"]
    limit = math.inf if limit is None else limit
    kappa25, kappa_beta = r["bath.kappa25_s_per_m"], r["bath.kappa_beta_per_k"]
    # depth-map: a curve over the charge depth where there is artwork.
    shape_curve = r.get("bath.shape_curve") or [[0.0, r.get("bath.shape_factor_per_m")]]
    shape, exp = line(shape_curve), math.exp
    # The root of one state is the first guess for the next.
    last = SimpleNamespace(e=None, within_v=1e-8)

    def point(y):
        bath_k = y[BATH] + ambient
        f = FARADAY / (GAS * bath_k)
        warm = min(max(1.0 + beta * (bath_k - 298.15), 0.4), 2.5)  # A: every free coefficient
        kappa = kappa25 * min(max(1.0 + kappa_beta * (bath_k - 298.15), 0.4), 2.5)  # 2.1
        bath_ohm = shape(y[DEPTH]) / kappa  # 2.2
        open_v, source_ohm = source(y)
        ohm = bath_ohm + leads + source_ohm

        # The pan's metals: potential of rest and limiting current over its area (2.3, A, B).
        c_a, driving = c0_a, sum(max(y[m.place], 0.0) for m in metals)
        rest_h = highest = -math.log(10.0) * ph / f
        plating = []
        for m in metals:
            c = max(y[m.place], 0.0)
            if m.name == species:
                c_a = c
            if c > 0.0:
                rest = m.e0 + molar_log(c) / (m.n * f)
                transfer = ((m.free * warm) ** 3 * driving + m.forced**3) ** (1.0 / 3.0)
                plating.append((m, rest, m.area * m.i0, m.area * m.n * FARADAY * transfer * c))
                highest = max(highest, rest)
        log_a = molar_log(c_a)
        back_v = e0_a + log_a / (n_a * f) - highest
        out = SimpleNamespace(bath_ohm=bath_ohm, source_ohm=source_ohm, open_v=open_v, back_v=back_v)
        if open_v <= back_v:
            out.current = out.sheet_v = out.pan_w = 0.0
            out.plated = []
            return out

        low, high = -math.inf, highest
        e = last.e if last.e is not None and last.e < high else high - 0.1
        for _ in range(200):
            # Currents at the pan: metals, then hydrogen; their sum, its slope, the heat they leave (2.3).
            plated, current, slope, pan_w = [], 0.0, 0.0, 0.0
            for m, rest, i0, most in plating:
                if e < rest:
                    there, back = exp(m.alpha * f * (rest - e)), exp((m.n - m.alpha) * f * (e - rest))
                    b = i0 * (there - back)
                    i = most * b / (most + b)
                    slope -= (most / (most + b)) ** 2 * i0 * f * (m.alpha * there + (m.n - m.alpha) * back)
                    current += i
                    pan_w += i * (rest - e)
                    plated.append((m, i))
            if e < rest_h:
                there, back = exp(alpha_h * f * (rest_h - e)), exp((1.0 - alpha_h) * f * (e - rest_h))
                slope -= i0_h * f * (alpha_h * there + (1.0 - alpha_h) * back)
                current += i0_h * (there - back)
                pan_w += i0_h * (there - back) * (rest_h - e)
            # The sheet, and what the source has over the load (2.3, A, 4.4).
            rise, rise_per_flux = film(flux_per_a * current, free_a * warm, forced_a)
            c_s, x = c_a + rise, current / twice_i0_a
            log_s, eta = molar_log(c_s), math.asinh(x) / (alpha_a * f)
            over = open_v - current * ohm - (e0_a + log_s / (n_a * f) + eta) + e
            per_a = ohm + 1.0 / (twice_i0_a * math.sqrt(1.0 + x * x) * alpha_a * f)
            if c_s > 1e3 * LEAST_MOLAR:
                per_a += rise_per_flux * flux_per_a / (c_s * n_a * f)
            over_slope = 1.0 - slope * per_a
            if limit - current < over:  # 4.2: of the two, the limit is reached first
                over, over_slope = limit - current, -slope
            if over > 0.0:
                high = e
            else:
                low = e
            step = -over / over_slope if over_slope > 0.0 else -over
            if abs(step) < last.within_v:
                break
            # Bisect when Newton leaves the bracket; where there is no lower end yet, go down by steps.
            step = min(max(step, -0.2), 0.2)
            if low < e + step < high:
                e += step
            else:
                e = 0.5 * (low + high) if low > -math.inf else high - 0.2
        else:
            raise ArithmeticError(f"no operating point near {e} V at the pan")
        last.e = e
        out.current, out.plated, out.pan_w = current, plated, pan_w
        out.sheet_v = eta + (log_s - log_a) / (n_a * f)
        return out

    return point, last


def cell_rates(r):
    """Returns the rates of a cell's wells and polarisation (4.1) and of its heat (5)."""
    ambient, rest_v = r["ambient_k"], line(r["source.cell.ocv_curve"])
    q, near = r["source.cell.capacity_c"], r["source.cell.available_share"]
    k, r1, c1 = r["source.cell.well_rate_per_s"], r["source.cell.r1_ohm"], r["source.cell.c1_f"]
    series, parallel = r["source.series"], r["source.parallel"]
    contact, entropy = r["source.contact_ohm"], r["source.cell.entropy_v_per_k"]
    core_j, skin_j = r["source.cell.core_j_per_k"], r["source.cell.surface_j_per_k"]
    across, diameter = r["source.cell.core_to_surface_k_per_w"], r["source.cell.diameter_m"]
    open_area = r["source.exposed_share"] * r["source.cell.surface_m2"]
    emissivity, factor = r["source.cell.emissivity"], r["source.convection_factor"]
    prandtl = 0.707
    shape = 0.387 / (1.0 + (0.559 / prandtl) ** (9.0 / 16.0)) ** (8.0 / 27.0)

    def rates(y, at):
        q1, q2, u, core, skin = y[-5:]
        i = at.current / parallel
        flow = k * ((1.0 - near) * q1 - near * q2)
        v_cell = (at.open_v - at.current * at.source_ohm) / series + i * contact
        heat = i * (rest_v((q1 + q2) / q) - v_cell) - i * (core + ambient) * entropy
        inner = (core - skin) / across
        # Churchill and Chu 1975, air at the mean of surface and room; and radiation.
        air = (ambient + 0.5 * skin) / 300.0
        nu = 15.89e-6 * air**1.70
        rayleigh = GRAVITY * abs(skin) * diameter**3 * prandtl / (300.0 * air * nu * nu)
        h = factor * (0.60 + shape * rayleigh ** (1.0 / 6.0)) ** 2 * 0.02624 * air**0.8646 / diameter
        lost = open_area * (h * skin + emissivity * SIGMA * ((skin + ambient) ** 4 - ambient**4))
        return [-i - flow, flow, i / c1 - u / (r1 * c1), (heat - inner) / core_j, (inner - lost) / skin_j]

    return rates


def right_side(r, metals, point):
    """Returns the rates of the whole state as a function of time and state."""
    # 1: depth that a coulomb is worth over the bare area.
    weight = r["piece.current_efficiency"] * r["piece.equivalent_weight_kg_per_mol"]
    depth_per_c = weight / (FARADAY * r["piece.density_kg_per_m3"] * r["piece.exposed_area_m2"])
    heat_capacity, heat_loss = r["bath.heat_capacity_j_per_k"], r["bath.heat_loss_w_per_k"]
    cell = cell_rates(r) if r["source.kind"] == "pack" else None
    by_name = {m.name: m for m in metals}
    silver, copper = by_name.get("Ag"), by_name.get("Cu")
    # C: a copper pan takes silver by itself where the current does not reach.
    copper_m2 = r["bath.cathode_area_m2"] - r["bath.cathode.spread_area_m2"]
    falls = r["bath.rest_transfer_m_per_s"] * copper_m2 if r["bath.pan_is_copper"] and silver else 0.0

    def rates(_, y):
        y = y.tolist()  # plain floats: several times as fast as elements of an array
        at = point(y)
        # 2.5: bath, sheet's overpotentials, pan's overpotentials, loss to the room.
        heat = at.current * (at.current * at.bath_ohm + at.sheet_v) + at.pan_w - heat_loss * y[BATH]
        out = [depth_per_c * at.current, heat / heat_capacity]
        # 2.4, C: what dissolves less what plates.
        out += [m.dissolved * at.current / m.volume for m in metals]
        for m, i in at.plated:
            out[m.place] -= i / (m.n * FARADAY * m.volume)
        if falls:
            fall = falls * max(y[silver.place], 0.0) ** (4.0 / 3.0)
            out[silver.place] -= fall / silver.volume
            if copper:
                out[copper.place] += 0.5 * fall / copper.volume
        return out + cell(y, at) if cell else out

    return rates


class Run:
    """A run read from `resolved`, ready to be integrated as often as one likes."""

    def __init__(self, r):
        metals = read_metals(r)
        self.point, self.last = operating_point(r, metals)
        self.rates = right_side(r, metals, self.point)
        self.longest = r.get("limits.time_s") or 4 * 3600.0
        # G: charge depth at which the floor is as deep as asked; a curve where there is artwork.
        floor, curve = r["piece.depth_m"], r.get("piece.floor_curve")
        self.target = floor + 0.25 * math.pi * r["piece.edge_per_m"] / r["piece.etch_factor"] * floor**2
        if curve:
            self.target = line([[median, charge] for charge, median, _ in curve])(floor)
        # 6: everything at ambient, the bath at its own; beside it each part's size, for the tolerances.
        self.start = [0.0, r["bath.temperature_k"] - r["ambient_k"]] + [m.start for m in metals]
        self.size = [self.target, 1.0] + [100.0 for _ in metals]
        if r["source.kind"] == "pack":
            left, near = r["source.charge_left"] * r["source.cell.capacity_c"], r["source.cell.available_share"]
            self.start += [left * near, left * (1.0 - near), 0.0, 0.0, 0.0]
            self.size += [left * near, left * (1.0 - near), 0.1, 1.0, 1.0]

    def time_to_depth(self, method, rtol):
        """Time to depth, infinite if the time limit comes first, and the number of evaluations."""
        self.last.e, self.last.within_v = None, min(1e-8, 1e-2 * rtol)

        def at_depth(_, y):
            return y[DEPTH] - self.target

        at_depth.terminal = True
        atol = [rtol * size for size in self.size]
        done = solve_ivp(
            self.rates, (0.0, self.longest), self.start, method, rtol=rtol, atol=atol, events=at_depth
        )
        if not done.success:
            sys.exit(f"{method}: {done.message}")
        found = done.t_events[0]
        return (float(found[0]) if len(found) else math.inf), done.nfev


def main():
    parser = argparse.ArgumentParser(description="Time to depth of one etching run, by SciPy.")
    parser.add_argument("resolved", help="what `restbite plan JOB.toml --json` prints, or its `resolved`")
    parser.add_argument("--rtol", type=float, default=1e-6)
    parser.add_argument("--repeat", type=int, default=5)
    asked = parser.parse_args()
    with open(asked.resolved, encoding="utf-8") as file:
        whole = json.load(file)
    run, theirs = Run(whole.get("resolved", whole)), whole.get("run") or {}

    sure, _ = run.time_to_depth("DOP853", 1e-10)
    if sure == math.inf:
        sys.exit("the depth is not reached within the time limit")
    at = run.point(run.start)
    good = []
    for method in ("RK45", "DOP853", "LSODA"):
        walls = []
        for _ in range(max(asked.repeat, 1)):
            began = time.perf_counter()
            seconds, evaluations = run.time_to_depth(method, asked.rtol)
            walls.append(1e3 * (time.perf_counter() - began))
        off = seconds / sure - 1.0
        print(f"tried {method}: {min(walls):.2f} ms, {evaluations} evaluations, off by {off:.1e} of the time")
        if abs(off) <= 1e-5:
            good.append((min(walls), method, seconds, evaluations))
    if not good:
        sys.exit(f"no method is good to 1e-5 of the time at rtol {asked.rtol:g}")
    wall, method, seconds, evaluations = min(good)

    def beside(name, value, key):
        other = theirs.get(key)
        known = "" if other is None else f"   restbite {other:.12g}, differs by {value - other:.1e}"
        print(f"{name}: {value:.12g}{known}")

    beside("start current, A", at.current, "start_current_a")
    beside("back voltage, V", at.back_v, "start_back_emf_v")
    beside("bath resistance, ohm", at.bath_ohm, "bath_resistance_ohm")
    beside("time to depth at 1e-10, s", sure, "time_s")
    beside("time to depth, s", seconds, "time_s")
    print(f"method: {method}\nevaluations: {evaluations}\nwall, ms: {wall:.2f}")


if __name__ == "__main__":
    main()
