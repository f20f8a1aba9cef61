"""Writes the reference values for high-pressure water, and the table of water's
properties in the catalog.

Run it in an environment with the packages of requirements.txt; it rewrites
water.csv and calculators/*.csv beside it, and the catalog's water-properties
table. Nothing here is computed by the project itself: water's properties come
from iapws and CoolProp, friction factors from fluids, units from pint, roots
from scipy. Values read from a printed table stand here as they were read.
"""

import csv
import pathlib
import re
from math import cos, pi, radians, sqrt

import fluids.control_valve as valve
import fluids.friction as friction
import pint
from CoolProp.CoolProp import PropsSI
from iapws import IAPWS95
from scipy.optimize import brentq

HERE = pathlib.Path(__file__).parent
TABLES = HERE.parent.parent / "calculators/catalog/tables"
ATM = 101325.0
UNITS = pint.UnitRegistry()

def si(value, unit):
    return float(UNITS.Quantity(value, unit).to_base_units().magnitude)

PSI = si(1, "psi")
GPM = si(1, "gallon / minute")
LPM = si(1, "liter / minute")
INCH = si(1, "inch")
FOOT = si(1, "foot")
LBF = si(1, "pound_force")
HORSEPOWER = 550 * si(1, "foot * pound_force / second")

def number(value):
    """A number as a person would type it: no exponent, 12 digits."""
    text = f"{value:.12g}"
    return f"{value:.15f}".rstrip("0") if "e" in text else text

def typed(value, unit):
    text = number(value)
    # just three places after one to three digits may be thousands, and would be asked back
    if re.fullmatch(r"-?[1-9]\d{0,2}\.\d{3}", text):
        text += "0"
    return f"{text} {unit}".strip()

def write(path, calculator, source, tolerance, rows):
    with (HERE / "calculators" / path).open("w", newline="\n") as out:
        out.write(f"# calculator: {calculator}\n# source: {source}\n# tolerance: {tolerance}\n")
        writer = csv.DictWriter(out, list(rows[0]), lineterminator="\n")
        writer.writeheader()
        writer.writerows(rows)

def row(given, expected, **more):
    cells = {f"in.{name}": text for name, text in given.items()}
    cells |= {f"out.{name}": value if isinstance(value, str) else repr(float(value)) for name, value in expected.items()}
    return cells | more

def water(celsius, pressure=ATM):
    """Density and viscosity at an absolute pressure."""
    state = ("T", celsius + 273.15, "P", pressure, "Water")
    return PropsSI("D", *state), PropsSI("V", *state)

# ---- water itself

def properties():
    grid = [(t, p) for t in (0.01, 5, 10, 15, 20, 30, 40, 50, 60) for p in (0.101325, 10, 35, 70, 100, 140, 200, 250)]
    with (HERE / "water.csv").open("w", newline="\n") as out:
        out.write("# source: iapws 1.5.5: IAPWS-95 (R6-95), viscosity by IAPWS R12-08\n")
        out.write("# tolerance: 1e-6 the same formulations; the viscosity here leaves out the critical enhancement, which liquid water far from its critical point has none of\n")
        writer = csv.writer(out, lineterminator="\n")
        writer.writerow(["temperature", "pressure", "density", "viscosity", "heat_capacity", "expansion"])
        for celsius, megapascal in grid:
            state = IAPWS95(T=celsius + 273.15, P=megapascal)
            values = (celsius + 273.15, megapascal * 1e6, state.rho, state.mu, state.cp * 1e3, state.alfav)
            writer.writerow([repr(float(value)) for value in values])

def table():
    head = '''[table]
name = "water-properties"
title = "Properties of water"
purpose = "Density, viscosity and heat capacity of liquid water. Water is compressible by several per cent at the pressures of this work."
source = "IAPWS-95 (R6-95) and IAPWS R12-08 for viscosity, computed with the library iapws 1.5.5; 1.01325 bar absolute is the atmosphere"
columns = [
  { name = "temperature", label = "Temperature", unit = "degC", print = "1", also = "degF", also_print = "1" },
  { name = "pressure", label = "Absolute pressure", unit = "bara", print = "1", also = "psia", also_print = "1" },
  { name = "density", label = "Density", unit = "kg/m3", print = "0.1", also = "lb/ft3", also_print = "0.01" },
  { name = "viscosity", label = "Viscosity", unit = "Pa·s", print = "0.000001" },
  { name = "heat_capacity", label = "Heat capacity", unit = "J/(kg·K)", print = "1" },
]
key = ["temperature", "pressure"]
'''
    # what people say for the table is written by hand, between its key and its rows
    path = TABLES / "water-properties.toml"
    made = path.read_text()
    said = made[made.index("also = ["):made.index("rows = [")]
    lines = []
    for celsius in (5, 10, 15, 20, 30, 40, 50, 60):
        for bar in (1.01325, 250, 500, 750, 1000, 1250, 1500, 2000, 2500):
            state = IAPWS95(T=celsius + 273.15, P=bar / 10)
            cells = [f"{celsius} degC", f"{bar} bara", f"{state.rho:.2f} kg/m3", f"{state.mu:.7f} Pa·s", f"{state.cp * 1e3:.1f} J/(kg·K)"]
            lines.append("  [" + ", ".join(f'"{cell}"' for cell in cells) + "],\n")
    path.write_text(head + said + "rows = [\n" + "".join(lines) + "]\n")

# ---- nozzles

def nozzle(pressure, diameter, count, coefficient, celsius):
    return {"pressure": pressure, "orifice_diameter": diameter, "orifice_count": str(count),
            "discharge_coefficient": number(coefficient), "water_temperature": typed(celsius, "degC")}

def nozzle_flow():
    # Hydraulic Institute Engineering Data Book, table 3.D.1 (Cd = 1): d in, p psi, gal/min.
    printed = [(0.0625, 100, 1.17), (0.1875, 100, 10.5), (0.5, 100, 74.6), (1, 100, 298), (0.125, 300, 8.08), (2, 100, 1194)]
    write("nozzle-flow-table.csv", "nozzle-flow",
          "Hydraulic Institute Engineering Data Book, table 3.D.1 of theoretical nozzle discharge (github hydraulic-institute/edb, commit f1aaddd)",
          "0.005 the table prints three digits",
          [row(nozzle(typed(p, "psi"), typed(d, "in"), 1, 1, 15), {"flow": q * GPM}) for d, p, q in printed])
    speeds = [(50, 86.2), (100, 122.0), (300, 211.3)]
    write("nozzle-flow-speeds.csv", "nozzle-flow",
          "Hydraulic Institute Engineering Data Book, table 3.D.1, jet velocity in ft/s (github hydraulic-institute/edb, commit f1aaddd)",
          "0.002 the table prints four digits, of g rounded to 32.2 ft/s²",
          [row(nozzle(typed(p, "psi"), "1 in", 1, 1, 15), {"jet_speed": v * FOOT}) for p, v in speeds])
    rows = []
    for d in (0.016, 0.02, 0.03, 0.05):
        for p in (1200, 6000, 14000, 25000):
            for n, c in ((1, 1), (5, 0.72)):
                q = 29.84 * c * n * d**2 * sqrt(p) * GPM
                rows.append(row(nozzle(typed(p, "psi"), typed(d, "in"), n, c, 15), {"flow": q, "power": q * p * PSI}))
    write("nozzle-flow-handbook.csv", "nozzle-flow", "fire-protection handbooks (NFPA 291 form): Q = 29.84 c d² √p in gal/min, in, psi; units by pint 0.25.3",
          "0.001 the constant is rounded: water of 15 °C gives 29.838", rows)
    rows, excess = [], []
    for celsius in (5, 15, 25, 40):
        for bar in (200, 500, 689.4757293, 1000, 1400, 2000):
            before = ("T", celsius + 273.15, "P", bar * 1e5, "Water")
            jet = ("P", ATM, "S", PropsSI("S", *before), "Water")
            speed = sqrt(2 * (PropsSI("H", *before) - PropsSI("H", *jet)))
            rho = water(celsius)[0]
            area = pi / 4 * 0.8e-3**2
            flow = area * speed * PropsSI("D", *jet) / rho
            plain = sqrt(2 * (bar * 1e5 - ATM) / rho)
            given = nozzle(typed(bar - 1.01325, "bar"), "0.8 mm", 1, 1, celsius)
            rows.append(row(given, {"jet_speed": plain, "jet_speed_corrected": speed, "flow_corrected": flow}))
            excess.append(row(given, {"overstated": area * plain / flow - 1}))
    write("nozzle-flow-expansion.csv", "nozzle-flow", "CoolProp 8.0.0 (IAPWS-95): expansion at constant entropy to 1 atm, v = √(2(h1 − h2)), mass flow ρ2 v A over the density at 1 atm",
          "0.001 the same model; Simpson's rule and the cooling at the mean pressure are good to 0.02 %", rows)
    write("nozzle-flow-excess.csv", "nozzle-flow", "CoolProp 8.0.0 (IAPWS-95), as in nozzle-flow-expansion.csv: the plain formula's flow over that of the expansion, less one",
          "0.01 a difference of two flows that agree to 2 %, each good to 0.02 %", excess)

def orifice_size():
    rows = []
    for q in (0.8, 3, 7, 16):
        for p in (4000, 9000, 18000):
            for n, c in ((1, 0.95), (6, 0.7)):
                d = sqrt(q / (29.84 * n * c * sqrt(p))) * INCH
                rows.append(row({"flow": typed(q, "gal/min"), "pressure": typed(p, "psi"), "orifice_count": str(n), "discharge_coefficient": number(c)}, {"orifice_diameter": d}))
    write("orifice-size-handbook.csv", "orifice-size", "fire-protection handbooks: Q = 29.84 c d² √p, solved for d; units by pint 0.25.3",
          "0.001 the constant is rounded: water of 15 °C gives 29.838", rows)

def thrust(pressure, flow, shares=("100 %", "0 deg", "0 %", "0 deg")):
    return {"pressure": pressure, "flow": flow} | dict(zip(("rear_share", "rear_angle", "front_share", "front_angle"), shares))

def nozzle_thrust():
    rows = []
    for d in (0.02, 0.04, 0.1, 0.5):
        for p in (100, 2500, 8000, 16000, 30000):
            q = 29.84 * d**2 * sqrt(p)
            rows.append(row(thrust(typed(p, "psi"), typed(q, "gal/min")), {"rear_thrust": 1.57 * d**2 * p * LBF}))
    write("nozzle-thrust-reaction.csv", "nozzle-thrust", "fire-protection handbooks: reaction 1.57 d² p in lbf of a nozzle that passes 29.84 d² √p",
          "0.001 1.57 is π/2 rounded, and 29.84 belongs to water of 60 °F", rows)
    rows = [row(thrust(typed(p, "psi"), typed(q, "gal/min")), {"rear_thrust": 0.0526 * q * sqrt(p) * LBF})
            for q, p in ((150, 100), (95, 80), (10, 10000), (15, 20000), (5, 40000), (3, 6000), (8, 12000), (22, 9000), (1.2, 15000), (40, 3000))]
    write("nozzle-thrust-flow.csv", "nozzle-thrust", "fire-protection handbooks: reaction 0.0526 Q √p in lbf, gal/min, psi",
          "0.001 0.0526 is rounded: water of 15 °C gives 0.052645", rows)
    rows = []
    rho = water(15)[0]
    # Each jet pushes with 2 A p against its own direction: a sum of vectors.
    for front, ahead, rear, back, bar in (
        ([1.0], 0, [0.8, 0.8], 30, 1000), ([0.8, 0.8], 0, [0.8, 0.8], 0.5, 1000), ([0.4], 10, [0.6] * 4, 40, 700),
        ([0.7], 20, [0.5, 0.5], 35, 900), ([0.3] * 3, 45, [0.5] * 6, 50, 1400), ([1.2], 0, [0.6] * 3, 25, 600),
        ([0.5], 0, [0.5] * 5, 60, 1100), ([0.9, 0.9], 30, [0.7] * 8, 20, 500), ([0.25], 5, [0.45] * 2, 15, 2000), ([0.6], 15, [0.6] * 4, 35, 750),
    ):
        pressure = bar * 1e5
        areas = [sum(pi / 4 * (d * 1e-3) ** 2 for d in jets) for jets in (front, rear)]
        flow = sum(areas) * sqrt(2 * pressure / rho)
        shares = [area / sum(areas) * 100 for area in areas]
        push = 2 * areas[0] * pressure * cos(radians(ahead))
        pull = 2 * areas[1] * pressure * cos(radians(back))
        given = thrust(typed(bar, "bar"), typed(flow / LPM, "L/min"), (typed(shares[1], "%"), typed(back, "deg"), typed(shares[0], "%"), typed(ahead, "deg")))
        rows.append(row(given, {"rear_thrust": pull, "front_thrust": push, "net_pull": pull - push}))
    write("nozzle-thrust-vectors.csv", "nozzle-thrust", "momentum as a sum of vectors, 2 A p for each jet; density of water at 15 °C from CoolProp 8.0.0",
          "1e-6 the same model; shares and flow are typed with 12 digits, and a small net pull is a difference", rows)

# ---- hoses

def hose(flow, bore, length, roughness, celsius, gauge, reel="0 in"):
    return {"flow": flow, "bore": bore, "length": length, "roughness": roughness, "water_temperature": typed(celsius, "degC"),
            "mean_pressure": gauge, "reel_diameter": reel}

def loss(flow, bore, length, roughness, celsius, pressure=ATM, reel=0.0, turbulent=True):
    """Speed, Reynolds number, straight factor and loss, the flow metered at 1 atm."""
    rho, mu = water(celsius, pressure)
    speed = flow / (pi / 4 * bore**2) * water(celsius)[0] / rho
    reynolds = rho * speed * bore / mu
    factor = friction.Colebrook(reynolds, roughness / bore) if turbulent else 64 / reynolds
    curved = friction.friction_factor_curved(reynolds, bore, reel, roughness) if reel else factor
    return speed, reynolds, factor, curved * length / bore * rho * speed**2 / 2, curved / factor

def hose_factors():
    rows = []
    rho, mu = water(15, 200e5 + ATM)
    bore = 0.01
    for reynolds in (500, 1500, 4000, 5000, 10000, 30000, 100000, 300000, 1000000):
        for relative in (0, 1e-5, 1e-4, 1e-3, 1e-2):
            if reynolds < 2000 and relative not in (0, 1e-3):
                continue
            flow = reynolds * mu / (water(15)[0] * bore) * pi / 4 * bore**2
            factor = 64 / reynolds if reynolds < 2000 else friction.Colebrook(reynolds, relative)
            given = hose(typed(flow / LPM, "L/min"), "10 mm", "1 m", typed(relative * 10, "mm"), 15, "200 bar")
            rows.append(row(given, {"reynolds": reynolds, "friction_factor": factor}))
    write("hose-pressure-loss-factors.csv", "hose-pressure-loss", "fluids 1.3.1: Colebrook solved exactly, 64/Re below 2000; water from CoolProp 8.0.0 (IAPWS-95, R12-08)",
          "1e-6 the same equations; the flow is typed with 12 digits", rows)

def hose_losses():
    rows = []
    for bore in (3, 4, 5, 6, 8, 10):
        for litres in (5, 10, 20, 40, 60):
            _, reynolds, factor, drop, _ = loss(litres * LPM, bore * 1e-3, 20, 0, 15, 700e5 + ATM)
            if drop > 1390e5:
                continue  # the outlet would lie below zero
            given = hose(typed(litres, "L/min"), typed(bore, "mm"), "20 m", "0 mm", 15, "700 bar")
            rows.append(row(given, {"reynolds": reynolds, "friction_factor": factor, "loss": drop, "loss_per_length": drop / 20}))
    write("hose-pressure-loss-smooth.csv", "hose-pressure-loss", "fluids 1.3.1 (Colebrook) with water at 15 °C and 700 bar from CoolProp 8.0.0; Darcy–Weisbach",
          "0.001 the same model", rows)
    rows = []
    for celsius, bar in ((5, 500), (15, 500), (15, 1000), (15, 1400), (40, 1000), (60, 1400), (25, 2000)):
        for litres, bore, rough in ((12, 4, 0.003), (40, 6, 0), (30, 5, 0.01)):
            speed, reynolds, factor, drop, _ = loss(litres * LPM, bore * 1e-3, 20, rough * 1e-3, celsius, bar * 1e5)
            given = hose(typed(litres, "L/min"), typed(bore, "mm"), "20 m", typed(rough, "mm"), celsius, typed(bar - 1.01325, "bar"))
            rows.append(row(given, {"velocity": speed, "reynolds": reynolds, "friction_factor": factor, "loss": drop}))
    write("hose-pressure-loss-compressed.csv", "hose-pressure-loss", "fluids 1.3.1 (Colebrook) with water at the pressure in the hose from CoolProp 8.0.0, the flow metered at 1 atm",
          "0.001 the same model", rows)
    rows = []
    mu = water(15, 20e5 + ATM)[1]
    for reynolds in (2050, 2200, 2300, 2500, 2700, 3000, 3200, 3500, 3800, 3990):
        flow = reynolds * mu / water(15)[0] * pi / 4 * 0.002
        low, high = (loss(flow, 0.002, 30, 1e-6, 15, 20e5 + ATM, turbulent=kind)[3] for kind in (False, True))
        given = hose(typed(flow / LPM, "L/min"), "2 mm", "30 m", "0.001 mm", 15, "20 bar")
        rows.append(row(given, {"loss": high, "loss_laminar": low, "loss_turbulent": high}, verdict="caution"))
    write("hose-pressure-loss-between.csv", "hose-pressure-loss", "fluids 1.3.1: Hagen–Poiseuille and Colebrook, both ends of the range in which either may hold",
          "0.001 the same model", rows)

def hose_table():
    # Printed head loss in ft of water per 100 ft: bore in, gal/min, ft.
    printed = [(0.269, 1, 87.0), (0.364, 2, 69.0), (0.493, 3, 31.8), (0.493, 6, 118), (0.622, 5, 25.8), (0.622, 10, 95.9),
               (0.824, 18, 70.3), (1.049, 20, 25.1), (1.049, 36, 77.4)]
    rows = []
    for bore, flow, head in printed:
        given = hose(typed(flow, "gal/min"), typed(bore, "in"), "100 ft", typed(0.00015 * 304.8, "mm"), 15, "40 psi")
        given["water_temperature"] = "60 degF"
        rows.append(row(given, {"loss": head * FOOT * 9.80665 * si(62.34, "pound / foot ** 3")}))
    write("hose-pressure-loss-table.csv", "hose-pressure-loss",
          "Hydraulic Institute Engineering Data Book, friction tables for new steel pipe, water at 60 °F (github hydraulic-institute/edb, commit f1aaddd)",
          "0.008 the table prints three digits, and its viscosity of 1.217e-5 ft²/s is 0.8 % above that of IAPWS, which moves the loss 0.2 %", rows)

def hose_reels():
    rows, others = [], []
    for bore, reel, litres in ((5, 400, 60), (6, 600, 60), (8, 800, 60), (8, 600, 20), (8, 600, 60), (10, 1000, 20),
                               (4, 500, 15), (4, 350, 5), (6, 450, 40), (5, 700, 9), (3, 300, 10), (10, 600, 15)):
        _, reynolds, factor, drop, ratio = loss(litres * LPM, bore * 1e-3, 15, 0, 15, 500e5 + ATM, reel=reel * 1e-3)
        given = hose(typed(litres, "L/min"), typed(bore, "mm"), "15 m", "0 mm", 15, "500 bar", typed(reel, "mm"))
        rows.append(row(given, {"loss": drop, "reel_increase": ratio - 1}))
        other = friction.helical_turbulent_fd_Mori_Nakayama(reynolds, bore * 1e-3, reel * 1e-3)
        others.append(row(given, {"loss": drop * other / (factor * ratio)}))
    write("hose-pressure-loss-reels.csv", "hose-pressure-loss", "fluids 1.3.1: friction_factor_curved, which is Schmidt (1967)", "0.001 the same model", rows)
    write("hose-pressure-loss-reels-other.csv", "hose-pressure-loss", "fluids 1.3.1: Mori and Nakayama, another correlation for turbulent flow in curved pipes",
          "0.06 another fit to other measurements: they scatter by as much", others)

# ---- the whole line

def line(litres, lances, bore, length, rough, d, count, coefficient, celsius):
    """Pressures at nozzle and pump with water at 1 atm; the flow is that of the pump."""
    rho, mu = water(celsius)
    flow = litres * LPM / lances
    at_nozzle = rho / 2 * (flow / (count * coefficient * pi / 4 * d**2)) ** 2
    speed = flow / (pi / 4 * bore**2)
    reynolds = rho * speed * bore / mu
    factor = 64 / reynolds if reynolds <= 2000 else friction.Colebrook(reynolds, rough / bore)
    return flow, at_nozzle, factor * length / bore * rho * speed**2 / 2

LINES = [  # lances, bore mm, length m, roughness mm, orifice mm, count, Cd, °C
    (1, 5, 20, 0, 0.9, 1, 1, 15), (1, 6, 30, 0, 1.2, 1, 1, 15), (1, 6, 20, 0, 1.0, 1, 1, 15), (1, 4, 10, 0, 0.8, 1, 1, 15),
    (2, 4, 15, 0.005, 0.45, 6, 0.7, 10), (3, 5, 25, 0.002, 0.6, 5, 0.85, 20), (2, 8, 40, 0.01, 0.8, 6, 0.9, 30), (1, 3, 12, 0.001, 0.4, 4, 0.8, 5),
    (4, 6, 18, 0, 0.5, 8, 0.75, 25), (1, 10, 60, 0.02, 1.1, 7, 0.95, 45), (2, 5, 9, 0.0015, 0.7, 3, 0.62, 12), (1, 1.5, 40, 0.001, 0.15, 1, 0.7, 5),
]

def balance(pressure, case):
    lances, bore, length, rough, d, count, coefficient, celsius = case
    sizes = (lances, bore * 1e-3, length, rough * 1e-3, d * 1e-3, count, coefficient, celsius)
    return brentq(lambda litres: sum(line(litres, *sizes)[1:]) - pressure, 1e-6, 5000, xtol=1e-13, rtol=1e-14), sizes

def line_given(case):
    lances, bore, length, rough, d, count, coefficient, celsius = case
    return {"lances": str(lances), "hose_bore": typed(bore, "mm"), "hose_length": typed(length, "m"), "roughness": typed(rough, "mm"),
            "orifice_diameter": typed(d, "mm"), "orifice_count": str(count), "discharge_coefficient": number(coefficient),
            "water_temperature": typed(celsius, "degC"), "lowest_rating": "16000 psi"}

def operating_point():
    points, flows = [], []
    for case, bar in zip(LINES, (1000, 1000, 1400, 1000, 700, 850, 620, 1200, 950, 500, 1050, 0.9)):
        litres, sizes = balance(bar * 1e5, case)
        flow, at_nozzle, drop = line(litres, *sizes)
        expected = {"nozzle_pressure": at_nozzle, "hose_loss": drop}
        points.append(row({"pump_flow": typed(litres, "L/min")} | line_given(case), expected | {"lance_flow": flow, "pump_pressure": at_nozzle + drop, "headroom": 16000 * PSI - at_nozzle - drop}))
        flows.append(row({"pump_pressure": typed(bar, "bar")} | line_given(case), expected | {"pump_flow": litres * LPM}))
    source = "fluids 1.3.1 (Colebrook), water at 1 atm from CoolProp 8.0.0 and scipy 1.17.1 (brentq)"
    write("pump-operating-point-line.csv", "pump-operating-point", source, "0.001 the same model", points)
    write("flow-at-pressure-line.csv", "flow-at-pressure", source, "0.001 the same model", flows)

def same_nozzles():
    rows = []  # nozzles taken for a valve of the same coefficient at both pressures
    for litres, then, new in ((30, 500, 720), (20, 1000, 500), (12.5, 690, 1379), (100, 1000, 700), (45, 850, 850),
                                     (8, 2000, 2500), (150, 200, 300), (26, 1380, 965), (60, 300, 75), (3.3, 2750, 1400)):
        sized = lambda bar, flow: valve.size_control_valve_l(999.1, 0, 22.064e6, 1.138e-3, bar * 1e5 + ATM, ATM, flow, allow_choked=False, allow_laminar=False)
        flow = litres / 60000
        after = brentq(lambda other: sized(new, other) - sized(then, flow), flow / 100, flow * 100, xtol=1e-16, rtol=1e-14)
        given = {"flow_then": typed(litres, "L/min")} | {name: typed(bar, "bar") for name, bar in (("pressure_then", then), ("pressure_new", new))}
        rows.append(row(given, {"flow": after, "pull_share": new / then}))
    write("same-nozzles-valve.csv", "same-nozzles", "fluids 1.3.1: IEC 60534 sizing, a valve of the same coefficient at both pressures; scipy 1.17.1 (brentq)", "1e-9 the same model", rows)

def power():
    rows = [row({"pressure": typed(p, "psi"), "flow": typed(q, "gal/min"), "efficiency": typed(e, "%")},
                {"hydraulic_power": p * q / 1714 * HORSEPOWER, "shaft_power": p * q / 1714 / e * 100 * HORSEPOWER})
            for p, q, e in ((1500, 20, 100), (4000, 30, 85), (6500, 18, 80), (10000, 10, 90), (12500, 6, 92), (15000, 12, 90), (20000, 8, 90), (20000, 26, 88), (36000, 5, 95), (2500, 75, 70), (11200, 9.5, 86), (40000, 3.2, 83))]
    write("pump-power-handbook.csv", "pump-power", "handbooks: hydraulic horsepower = psi × gal/min / 1714; horsepower of 550 ft·lbf/s by pint 0.25.3",
          "0.0002 1714 is 12 000/7 = 1714.29 rounded", rows)
    rows = [row({"pressure": typed(p, "bar"), "flow": typed(q, "L/min"), "efficiency": typed(e, "%")},
                {"hydraulic_power": si(p, "bar") * si(q, "liter / minute"), "shaft_power": si(p, "bar") * si(q, "liter / minute") / (e / 100)})
            for p, q, e in ((2000, 20, 90), (700, 40, 100), (1000, 26, 87), (500, 150, 92), (1400, 33, 85), (2500, 12, 90), (300, 60, 75), (850, 48, 88), (1250, 21, 93), (150, 220, 80))]
    write("pump-power-metric.csv", "pump-power", "pint 0.25.3: bar × L/min, which is 1/600 kW", "1e-9 the same product in another order of rounding", rows)

def ratings():
    parts = ("pump", "hose", "valve", "jumper", "lance", "adapter", "nozzle", "gauge")
    rows = []
    for job, unit, setting, values in (
        (9000, "psi", 11000, (15000, 12500, 17000, 16000, 20000, 19000, 18000, 25000)), (13000, "psi", 15000, (15000, 12500, 17000, 16000, 20000, 19000, 18000, 25000)),
        (700, "bar", 800, (1000, 1100, 1200, 1150, 1400, 1300, 900, 1600)), (890, "bar", 900, (1000, 1100, 1200, 1150, 1400, 1300, 900, 1600)),
        (95, "MPa", 88, (140, 150, 160, 155, 97, 145, 170, 200)), (20000, "psi", 25000, (36000, 40000, 30000, 38000, 40000, 42000, 43000, 50000)),
        (2500, "psi", 2600, (2400, 5000, 5000, 5500, 5000, 6500, 6000, 10000)), (1000, "bar", 1100, (1500, 1500, 1500, 1500, 1500, 1500, 1500, 1050)),
        (60, "MPa", 66, (100, 80, 82, 95, 75, 85, 90, 100)), (500, "bar", 560, (900, 620, 750, 780, 700, 640, 800, 1000)),
    ):
        pressures = [si(value, unit) for value in values]
        lowest, working, opens = min(pressures), si(job, unit), si(setting, unit)
        stop = working > lowest or opens * 1.1 > lowest or working >= opens
        verdict = "stop" if stop else "caution" if working > 0.9 * opens else "go"
        given = {"working_pressure": typed(job, unit)} | {f"{part}_rating": typed(value, unit) for part, value in zip(parts, values)}
        given |= {"relief": "valve", "relief_setting": typed(setting, unit), "relief_rise": "10 %", "relief_flow": "20 gal/min", "pump_flow": "8 gal/min"}
        rows.append(row(given, {"lowest_rating": lowest, "weakest": parts[pressures.index(lowest)], "headroom": lowest - working}, verdict=verdict))
    write("pressure-rating-least.csv", "pressure-rating", "pint 0.25.3: pressures converted and compared", "1e-9 the same numbers in another order of rounding", rows)

def heating():
    rows = []
    for celsius in (5, 15, 25, 40, 55):
        for bar in (200, 500, 689.4757293, 1000, 1034.213594, 1378.951459, 1400):
            before = ("T", celsius + 273.15, "P", bar * 1e5, "Water")
            spent = PropsSI("T", "H", PropsSI("H", *before), "P", ATM, "Water")
            suction = PropsSI("S", "T", celsius + 273.15, "P", ATM, "Water")
            after = PropsSI("T", "H", PropsSI("H", "S", suction, "P", bar * 1e5, "Water"), "P", ATM, "Water")
            given = {"pressure": typed(bar - 1.01325, "bar"), "water_temperature": typed(celsius, "degC")}
            rows.append(row(given, {"rise": spent - celsius - 273.15, "outlet_temperature": spent, "rise_from_suction": after - celsius - 273.15}))
    write("water-heating-throttled.csv", "water-heating", "CoolProp 8.0.0 (IAPWS-95): constant enthalpy to 1 atm; from the suction, constant entropy in the pump and then constant enthalpy",
          "0.001 the same balance; Simpson's rule over the pressure and the heat capacity halfway are good to 0.05 %", rows)

def volumes():
    rows = []
    rho = water(15)[0]
    for bore, length in ((5, 20), (6, 30), (8, 50), (13, 60), (3, 12), (4, 13.7), (4.8, 33), (10, 25), (19, 40), (25.4, 100), (2, 8), (12.7, 150)):
        volume = si(pi / 4 * bore**2, "millimeter ** 2") * length
        rows.append(row({"bore": typed(bore, "mm"), "length": typed(length, "m")}, {"volume": volume, "water_mass": volume * rho}))
    write("hose-volume-cylinders.csv", "hose-volume", "geometry with units by pint 0.25.3; density of water at 15 °C and 1 atm from CoolProp 8.0.0", "1e-6 the same geometry; density to 1e-9", rows)

if __name__ == "__main__":
    properties()
    table()
    nozzle_flow()
    orifice_size()
    nozzle_thrust()
    hose_factors()
    hose_losses()
    hose_table()
    hose_reels()
    operating_point()
    same_nozzles()
    power()
    ratings()
    heating()
    volumes()
