"""Time simulation by scientific Python: solve_ivp with its own event location, as one would write it by hand for one machine.

Reads a job {kind, ...} from a file, prints {seconds, values}. One thread.
"""
import json
import sys
import time

import numpy as np
from scipy.integrate import solve_ivp
from scipy.sparse import csc_matrix


def ladder(job):
    """C dv/dt = G v + s of a ladder of resistors and capacitors behind a step of voltage."""
    n, r, c, volt, until = job["nodes"], job["ohm"], job["farad"], job["volt"], job["until"]
    g = 1 / r
    rows, cols, data = [], [], []
    for i in range(n):
        rows.append(i), cols.append(i), data.append(-(2 if i < n - 1 else 1) * g / c)
        for j in (i - 1, i + 1):
            if 0 <= j < n:
                rows.append(i), cols.append(j), data.append(g / c)
    matrix = csc_matrix((data, (rows, cols)), shape=(n, n))
    drive = np.zeros(n)
    drive[0] = g * volt / c
    begun = time.perf_counter()
    done = solve_ivp(lambda t, v: matrix @ v + drive, (0, until), np.zeros(n), method="BDF", jac=matrix, rtol=1e-6, atol=1e-6)
    return time.perf_counter() - begun, [float(done.y[-1, -1])]


def fan_control(job):
    """The machine of the simulation cases: coolant, switch, delays, valve, air and fan, one stretch between two events after the other."""
    p = job["parameters"]
    until = job["until"]
    volume = p["R_air_J_per_kgK"] * p["T_air_K"]
    supply = p["V_supply_V"][0][1]
    heat, ram = p["Q_W"][0][1], p["G_ram_W_per_K"][0][1]

    def orifice(c, b, up, down):
        if up < down:
            return -orifice(c, b, down, up)
        r, k = down / up, c * up * p["rho0_kg_per_m3"]
        if r >= p["beta_lam"]:
            return k * np.sqrt(1 - ((p["beta_lam"] - b) / (1 - b)) ** 2) * (1 - r) / (1 - p["beta_lam"])
        return k if r <= b else k * np.sqrt(1 - ((r - b) / (1 - b)) ** 2)

    def rates(state, on):
        t, ts, pc, pr = state
        span = p["thermostat_full_degC"] - p["thermostat_start_degC"]
        theta = min(1, max(p["thermostat_min"], (t - p["thermostat_start_degC"]) / span))
        fan = 0 if on["released"] else p["G_fan_W_per_K"]
        fill = orifice(p["C_fill"], p["b_fill"], pr, pc) if on["valve"] else 0
        vent = 0 if on["valve"] else orifice(p["C_vent"], p["b_vent"], pc, p["p_atm_Pa"])
        leak = orifice(p["C_leak_cyl"], p["b_leak"], pc, p["p_atm_Pa"])
        lost = orifice(p["C_leak_res"], p["b_leak"], pr, p["p_atm_Pa"])
        comes = 0 if on["full"] else p["m_comp_kg_per_s"]
        return [
            (heat - (p["UA_block_W_per_K"] + theta * (ram + fan)) * (t - p["T_amb_degC"])) / p["C_th_J_per_K"],
            (t - ts) / p["tau_switch_s"],
            volume / p["V_cyl_m3"] * (fill - vent - leak),
            volume / p["V_res_m3"] * (comes - fill - lost),
        ]

    def event(level, place, rising):
        def crossed(_, y):
            return y[place] - level

        crossed.terminal, crossed.direction = True, 1 if rising else -1
        return crossed

    on = {"hot": p["T0_degC"] >= p["T_open_degC"], "command": True, "valve": True, "released": False, "full": not p["compressor_on0"]}
    now, due, state, times = 0.0, None, [p["T0_degC"], p["T0_degC"], p["p_cyl0_Pa"], p["p_res0_Pa"]], []
    begun = time.perf_counter()
    while now < until:
        watched = [
            ("hot", event(p["T_close_degC"] if on["hot"] else p["T_open_degC"], 1, not on["hot"])),
            ("released", event(p["p_engage_Pa"] if on["released"] else p["p_release_Pa"], 2, not on["released"])),
            ("full", event(p["p_cut_in_Pa"] if on["full"] else p["p_cut_out_Pa"], 3, not on["full"])),
        ]
        end = min(until, due if due is not None else until)
        done = solve_ivp(
            lambda t, y: rates(y, on), (now, end), state, method="LSODA", rtol=1e-8, atol=[1e-6, 1e-6, 1, 1], events=[e for _, e in watched]
        )
        now, state = float(done.t[-1]), list(done.y[:, -1])
        for (name, _), hits in zip(watched, done.t_events):
            if len(hits):
                on[name] = not on[name]
                if name == "hot":
                    times.append(now)
                    delay = p["delay_open_s"] if on["hot"] else p["delay_close_s"]
                    due = now + delay if on["command"] == on["hot"] else None
        if due is not None and now >= due:
            on["command"], due = not on["hot"], None
            on["valve"] = on["command"] and supply / (p["R_coil20_ohm"] * 1.3 + p["R_series_ohm"]) >= p["I_pull_in_A"]
    return time.perf_counter() - begun, times


if __name__ == "__main__":
    with open(sys.argv[1], encoding="utf-8") as file:
        job = json.load(file)
    seconds, values = min((ladder if job["kind"] == "ladder" else fan_control)(job) for _ in range(job["rounds"]))
    print(json.dumps({"seconds": seconds, "values": values}))
