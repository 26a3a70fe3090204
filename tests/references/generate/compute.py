"""Computes cases again by independent libraries and compares them with the files.

None of the project's own code is used: CoolProp (IAPWS-95, humid air) and iapws (IF97) for water, ht
for natural convection, scipy for differential equations, integrals, roots and fits, pint for units.
Prints each case that differs and ends with a count; fails if any does. In the files *bath* is the tub.
"""

import json
import math
import sys
from pathlib import Path

import numpy as np
from CoolProp.CoolProp import HAPropsSI, PropsSI
from ht import Nu_vertical_plate_Churchill
from iapws import IAPWS97
from pint import UnitRegistry
from scipy.integrate import quad, solve_ivp
from scipy.linalg import expm
from scipy.optimize import brentq

ZERO_C = 273.15
GAS = 8.31446261815324
UNITS = UnitRegistry()


def water(c):
    """Properties of liquid water at one atmosphere."""
    kelvin, pressure = c["temp_c"] + ZERO_C, c["pressure_pa"]
    get = lambda what: PropsSI(what, "T", kelvin, "P", pressure, "Water")
    dense = IAPWS97(T=kelvin, P=pressure / 1e6).rho
    assert abs(dense / get("D") - 1) < 5e-5, "IF97 and IAPWS-95 differ"
    steam = lambda what, q: PropsSI(what, "T", kelvin, "Q", q, "Water")
    return {
        "rho": get("D"),
        "cp": get("C"),
        "mu": get("V"),
        "k": get("L"),
        "beta": get("ISOBARIC_EXPANSION_COEFFICIENT"),
        "psat": steam("P", 0),
        "hfg": steam("H", 1) - steam("H", 0),
    }


def nusselt(c):
    return {"nu": Nu_vertical_plate_Churchill(Pr=c["prandtl"], Gr=c["rayleigh"] / c["prandtl"])}


def shah(c):
    """Shah's formula with the properties of humid air from CoolProp."""
    air = lambda temp, rh: {
        what: HAPropsSI(name, "T", temp + ZERO_C, "P", 101325.0, "R", rh)
        for what, name in (("ratio", "W"), ("volume", "Vda"), ("vapour", "P_w"))
    }
    at_water, in_room = air(c["water_c"], 1.0), air(c["air_c"], c["rh"])
    light, heavy = 1 / at_water["volume"], 1 / in_room["volume"]
    rises = 35 * light * max(heavy - light, 0) ** (1 / 3) * (at_water["ratio"] - in_room["ratio"])
    return {"e_kg_m2h": max(rises, 5e-5 * (at_water["vapour"] - in_room["vapour"]))}


def mix(c):
    """The temperature at which two waters together hold the enthalpy they held apart."""
    enthalpy = lambda celsius: PropsSI("H", "T", celsius + ZERO_C, "P", 101325.0, "Water")
    held = c["m1_kg"] * enthalpy(c["t1_c"]) + c["m2_kg"] * enthalpy(c["t2_c"])
    mass = c["m1_kg"] + c["m2_kg"]
    low, high = sorted((c["t1_c"], c["t2_c"]))
    return {"t_c": brentq(lambda t: mass * enthalpy(t) - held, low, high, xtol=1e-12)}


def pour(c):
    heats = c["c_solution_j_k"], c["c_tank_j_k"]
    temps = c["t_solution_c"], c["t_tank_c"]
    return {"t_c": float(np.average(temps, weights=heats))}


def network(c):
    """The linear network by the matrix exponential."""
    heat = np.array(c["c_j_k"])
    links = [list(link) for link in c["links"]]
    temps, now, out = np.array(c["t0_c"]), 0.0, []
    events = sorted(c["events"], key=lambda event: event[1])

    def advance(temps, seconds):
        n = len(heat)
        flow = -np.diag(c["g_room_w_k"])
        for one, other, link in links:
            flow[one, one] -= link
            flow[other, other] -= link
            flow[one, other] += link
            flow[other, one] += link
        whole = np.zeros((n + 1, n + 1))
        whole[:n, :n] = flow / heat[:, None]
        whole[:n, n] = np.array(c["g_room_w_k"]) * c["room_c"] / heat
        return (expm(whole * seconds) @ np.append(temps, 1.0))[:n]

    for time in c["times_s"]:
        while events and events[0][1] < time:
            kind, at, node, *numbers = events.pop(0)
            temps, now = advance(temps, at - now), at
            if kind == "mixin":
                more, warm = numbers
                temps[node] = (heat[node] * temps[node] + more * warm) / (heat[node] + more)
                heat[node] += more
            elif kind == "set":
                temps[node] = numbers[0]
            else:
                links[node][2] = numbers[0]
        temps, now = advance(temps, time - now), time
        out.append(list(temps))
    return {"temps_c": out}


def tub(c):
    """The tub by an adaptive integrator of eighth order."""
    count = len(c["c_j_k"])
    litres, inside = c["tub_l"], [True] * count
    temps, now, out = list(c["t0_c"]), 0.0, []
    events = sorted(c["events"], key=lambda event: event[1])

    def slope(_, temps):
        rates, watts = [], -c["g_loss_w_k"] * (temps[-1] - c["room_c"])
        for i in range(count):
            apart = temps[-1] - temps[i] if inside[i] else 0.0
            grows = (max(abs(apart), 0.3) / 10) ** c["p"][i]
            rates.append(grows * apart / c["tau10_s"][i])
            watts -= c["c_j_k"][i] * rates[-1]
        return [*rates, watts / (c["cw_j_k_l"] * litres)]

    def advance(temps, seconds):
        if seconds <= 0:
            return temps
        done = solve_ivp(slope, (0, seconds), temps, method="DOP853", rtol=1e-10, atol=1e-10)
        return list(done.y[:, -1])

    for time in c["times_s"]:
        while events and events[0][1] < time:
            kind, at, *numbers = events.pop(0)
            temps, now = advance(temps, at - now), at
            if kind == "add":
                more, warm = numbers
                temps[-1] = (litres * temps[-1] + more * warm) / (litres + more)
                litres += more
            elif kind == "drain":
                litres = max(litres - numbers[0], 0.2)
            elif kind == "settemp":
                temps[-1] = numbers[0]
            else:
                inside[numbers[0]] = kind == "in"
        temps, now = advance(temps, time - now), time
        out.append(list(temps))
    return {"temps_c": out}


def fit(c):
    """A weighted straight line of ln t over 1/T, a typical slope as one more row."""
    pairs = np.array(c["pairs"])
    x, y = 1 / (pairs[:, 0] + ZERO_C), np.log(pairs[:, 1])
    sd = np.maximum(0.01, c["time_rounding_s"] / (pairs[:, 1] * math.sqrt(12)))
    prior = c["prior_ea_j_mol"]
    if prior is None and len(set(pairs[:, 0])) < 2:
        return None
    centre = np.average(x, weights=1 / sd**2)
    rows = [np.column_stack((np.ones_like(x), x - centre)) / sd[:, None]]
    right = [y / sd]
    if prior is not None:
        rows.append(np.array([[0.0, GAS / prior[1]]]))
        right.append(np.array([prior[0] / prior[1]]))
    rows, right = np.vstack(rows), np.concatenate(right)
    line, *_ = np.linalg.lstsq(rows, right, rcond=None)
    spread = np.linalg.inv(rows.T @ rows)
    asked = 1 / (c["query_c"] + ZERO_C) - centre if "query_c" in c else 0.0
    return {
        "ea_j_mol": line[1] * GAS,
        "sd_ea_j_mol": math.sqrt(spread[1, 1]) * GAS,
        "time_s": math.exp(line[0] + line[1] * asked),
    }


def rate(energy, celsius, nominal):
    return math.exp(-energy / GAS * (1 / (celsius + ZERO_C) - 1 / (nominal + ZERO_C)))


def dose(c):
    points = np.array(c["profile"])
    warm = lambda t: float(np.interp(t, points[:, 0], points[:, 1]))
    done = lambda t: quad(
        lambda s: rate(c["ea_j_mol"], warm(s), c["nominal_c"]),
        0, t, points=[p for p in points[:, 0] if 0 < p < t] or None, epsabs=1e-10, limit=200,
    )[0]
    nominal = c["nominal_s"]
    off = brentq(lambda t: done(t) - nominal, 1.0, 4 * nominal, xtol=1e-9)
    return {"dose_s": done(c["dose_until_s"]), "pour_off_s": off}


def start(c):
    """The tank in the tub and out of it, as a differential equation."""
    duties = [(at, at + length) for at, length in c["out_of_bath"]]
    edges = sorted({0.0, c["nominal_s"], *(e for duty in duties for e in duty if 0 < e < c["nominal_s"])})

    def course(pour):
        whole, cold = c["c_total_j_k"], c["c_cold_j_k"]
        temp = pour if cold == 0 else ((whole - cold) * pour + cold * c["cold_c"]) / whole
        done = 0.0
        for begin, end in zip(edges, edges[1:]):
            middle = (begin + end) / 2
            is_out = any(a <= middle < b for a, b in duties)
            link, around = (c["g_in_air_w_k"], c["room_c"]) if is_out else (c["g_in_bath_w_k"], c["bath_c"])
            slope = lambda _, y: [
                -link / whole * (y[0] - around),
                rate(c["ea_j_mol"], y[0], c["nominal_c"]),
            ]
            temp, done = solve_ivp(
                slope, (begin, end), [temp, done], method="DOP853", rtol=1e-11, atol=1e-11
            ).y[:, -1]
        return temp, done

    nominal = c["nominal_c"]
    pour = brentq(lambda p: course(p)[1] - c["nominal_s"], nominal - 15, nominal + 25, xtol=1e-10)
    return {"pour_c": pour, "offset_c": pour - nominal, "end_c": course(pour)[0]}


def sensitivity(c):
    ln = lambda energy, celsius: math.log(rate(energy, celsius, c["nominal_c"]))
    energy, warm = c["ea_j_mol"], c["temp_c"]
    h = 1e-3
    by_warmth = (ln(energy, warm + h) - ln(energy, warm - h)) / (2 * h)
    by_energy = (ln(energy + 1, warm) - ln(energy - 1, warm)) / 2
    spread = math.hypot(by_warmth * c["sd_temp_c"], by_energy * c["sd_ea_j_mol"])
    return {"k_rel": math.exp(ln(energy, warm)), "dlnk_dt_per_k": by_warmth, "sd_ln_k": spread}


def temperature(c):
    fahrenheit = UNITS.Quantity(c["temp_f"], UNITS.degF)
    return {"temp_c": fahrenheit.to(UNITS.degC).magnitude}


def volume(c):
    return {"ml": (c["us_fl_oz"] * UNITS.fluid_ounce).to(UNITS.milliliter).magnitude}


COMPUTED = {
    "water_properties": water,
    "nusselt_vertical_churchill_chu": nusselt,
    "evaporation_shah": shah,
    "mix_water": mix,
    "pour_into_tank": pour,
    "linear_network": network,
    "tub_run": tub,
    "arrhenius_fit": fit,
    "arrhenius_single_no_prior": fit,
    "dose_and_pour_off": dose,
    "start_temperature": start,
    "sensitivity": sensitivity,
    "unit_temp": temperature,
    "unit_volume": volume,
}


def faults(case):
    found, out = COMPUTED[case["kind"]](case["in"]), case["out"]
    if "error" in out:
        return [] if found is None else [f"expected a refusal, found {found}"]
    wrong = []
    for key, tolerance in case["tol"].items():
        a, b = np.array(found[key], dtype=float), np.array(out[key], dtype=float)
        allowed = tolerance.get("abs", 0) + tolerance.get("rel", 0) * np.abs(b)
        # The files are printed to twelve digits.
        if a.shape != b.shape or not np.all(np.abs(a - b) <= allowed + 1e-11 * np.abs(b)):
            wrong.append(f"{key}: file {out[key]}, computed {a.tolist()}")
    return wrong


def main(folder):
    agree = differ = left = 0
    for name in ("tempering", "development"):
        for case in json.loads((folder / f"{name}.json").read_text())["cases"]:
            if case["kind"] not in COMPUTED:
                left += 1
                continue
            wrong = faults(case)
            agree, differ = agree + (not wrong), differ + bool(wrong)
            for fault in wrong:
                print(f"{case['id']} {case['kind']}: {fault}")
    print(f"{agree} agree, {differ} differ; {left} are textbook chains that are not computed again")
    return 1 if differ or not agree else 0


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1])))
