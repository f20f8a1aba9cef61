"""Writes the outside reference values for air, planning, fuel and noise.

Run it in an environment with the packages of requirements.txt, and ht, scipy and CoolProp.
It rewrites its CSV files in the folder beside it. Nothing here is computed by the
project itself: libraries, printed tables, and counting by brute force.
"""

import csv
import math
import pathlib

import CoolProp.CoolProp as coolprop
import fluids
import ht
import pint
from scipy.optimize import brentq

HERE = pathlib.Path(__file__).parent / "calculators"
Q = pint.UnitRegistry().Quantity
INCH = 0.0254


def write(name, calculator, source, tolerance, header, rows):
    with (HERE / name).open("w", newline="\n") as out:
        out.write(f"# calculator: {calculator}\n# source: {source}\n# tolerance: {tolerance}\n")
        writer = csv.writer(out, lineterminator="\n")
        writer.writerow(header)
        writer.writerows(rows)


def si(quantity):
    return repr(float(quantity.to_base_units().magnitude))


# Tubes: the lattice by its two basis vectors, every point of a square of them.

def basis(layout):
    """Two neighbours of a tube, with the layout's rows level, in tube pitches."""
    if layout in ("90", "45"):
        turn = 0 if layout == "90" else math.pi / 4
        between = math.pi / 2
    else:
        turn = 0 if layout == "30" else math.pi / 6
        between = math.pi / 3
    return [(math.cos(turn + at), math.sin(turn + at)) for at in (0, between)]


def sheet(layout, pitch, od, bundle, centre, lane):
    """Tubes of each row, keyed by the row's height in thousandths of a pitch."""
    (ax, ay), (bx, by) = basis(layout)
    # Midway between two neighbours of one row where a row has such, else of two rows.
    shift = {"30": (0.5, 0), "90": (0.5, 0), "60": (math.sqrt(3) / 2, 0), "45": (math.sqrt(2) / 4, math.sqrt(2) / 4)}[layout]
    if centre == "on-tube":
        shift = (0, 0)
    rows = {}
    span = int(1.3 * bundle / pitch) + 4
    for i in range(-span, span + 1):
        for k in range(-span, span + 1):
            x, y = (i * ax + k * bx + shift[0]) * pitch, (i * ay + k * by + shift[1]) * pitch
            inside = math.hypot(x, y) + od / 2 <= bundle / 2 + 1e-9
            clear = lane == 0 or abs(y) - od / 2 >= lane / 2 - 1e-9
            if inside and clear:
                rows.setdefault(round(1000 * y / pitch), []).append(x)
    return rows


LAYOUTS = {"30": 30, "60": 60, "90": 90, "45": 45}
HEAD = ["in.layout", "in.tube_pitch", "in.tube_od", "in.bundle_diameter", "in.centre", "in.lane_width"]


def tube_counts():
    rows = []
    for od, pitch, bundle in ((0.625, 0.78125, 7.5), (0.625, 0.8125, 14.75), (0.75, 0.9375, 11.5), (0.75, 0.9375, 18.75),
                              (0.75, 1, 14.75), (0.75, 1, 22.75), (0.75, 1, 36.5), (1, 1.25, 11.5), (1, 1.25, 28.5),
                              (1, 1.25, 48), (1.25, 1.5625, 60), (0.375, 0.5, 9.25)):
        for layout, angle in LAYOUTS.items():
            count = ht.hx.Ntubes_Phadkeb(DBundle=bundle * INCH, Do=od * INCH, pitch=pitch * INCH, Ntp=1, angle=angle)
            rows.append([layout, f"{pitch} in", f"{od} in", f"{bundle} in", "on-tube", "0 in", int(count)])
    write("tube-count-lattice.csv", "tube-count", "ht 1.2.0, Ntubes_Phadkeb for one pass (Phadke 1984)",
          "0 whole tubes: both count the same lattice", HEAD + ["out.tube_count"], rows)

    rows, plans = [], []
    cases = [("30", 1, 0.75, 22.25, "on-tube", 0.9375), ("30", 1, 0.75, 22.25, "between-tubes", 0),
             ("60", 1, 0.75, 22.25, "on-tube", 0.9375), ("60", 1, 0.75, 17.5, "between-tubes", 0.5),
             ("90", 1, 0.75, 22.25, "on-tube", 0.9375), ("90", 1, 0.75, 19.25, "between-tubes", 1.5),
             ("45", 1, 0.75, 22.25, "on-tube", 0.9375), ("45", 1, 0.75, 21, "between-tubes", 0.5),
             ("30", 0.9375, 0.75, 31, "between-tubes", 1), ("45", 1.25, 1, 30, "between-tubes", 0),
             ("60", 1.25, 1, 36.5, "on-tube", 0), ("90", 0.8125, 0.625, 12.25, "on-tube", 0.25)]
    for at, (layout, pitch, od, bundle, centre, lane) in enumerate(cases):
        found = sheet(layout, pitch, od, bundle, centre, lane)
        lengths = [len(row) for row in found.values()]
        given = [layout, f"{pitch} in", f"{od} in", f"{bundle} in", centre, f"{lane} in"]
        rows.append(given + [sum(lengths), len(lengths), max(lengths)])
        for lances, skip in ((1, 1), (2, 1), (2, 2), (3, 2))[at % 2::2]:
            plans.append(given + [lances, skip, *strokes(found, lances, skip)])
    write("tube-count-rows.csv", "tube-count", "brute force over the lattice's two basis vectors, every tube by its own distance",
          "0 whole tubes", HEAD + ["out.tube_count", "out.rows", "out.longest_row"], rows)
    write("index-plan-walk.csv", "index-plan",
          "a walk over every tube: the first lance goes to the first tube left in the row, the others follow at their spacing",
          "0 whole strokes", HEAD + ["in.lances", "in.skip", "out.setups", "out.strokes", "out.short_strokes", "out.moves", "out.odd_tubes"], plans)


def strokes(found, lances, skip):
    total = short = odd = 0
    for row in found.values():
        left = set(range(len(row)))
        while left:
            first = min(left)
            taken = {first + lance * skip for lance in range(lances)} & left
            if len(taken) < lances:
                short, odd = short + 1, odd + len(taken)
            total += 1
            left -= taken
    return len(found), total, short, total - 1, odd


def printed_tube_counts():
    # Shell inside diameter, tube, pitch, layout, tubes printed (one pass, fixed tubes).
    table = ((37, 0.75, 0.9375, "30", 1269), (31, 0.75, 0.9375, "30", 881), (23.25, 0.75, 0.9375, "30", 481),
             (37, 0.75, 1, "90", 965), (31, 0.75, 1, "90", 665), (12, 0.75, 1, "90", 85),
             (37, 1, 1.25, "90", 595), (31, 1, 1.25, "90", 413), (25, 1, 1.25, "90", 255), (23.25, 1, 1.25, "90", 215))
    rows = [[layout, f"{pitch} in", f"{od} in", f"{shell - 1} in", "on-tube", "0 in", count] for shell, od, pitch, layout, count in table]
    write("tube-count-handbook.csv", "tube-count",
          "Ludwig: Applied Process Design vol. III table 10-9 (one pass; fixed tubes); an online copy's text; bundle taken 1 in inside the shell",
          "0.05 the table's sheets are drawn ones with tie rods; these rows lie from -1.3 % to +4.7 % off the ideal lattice",
          HEAD + ["out.tube_count"], rows)


# Air

R = 8.314462618 / 0.0289647
P0, T0 = 101325.0, 288.15


def air_line():
    head = ["in.free_air_flow", "in.bore", "in.length", "in.supply_pressure", "in.air_temperature", "in.roughness"]
    drops, limits = [], []
    for flow, bore, length, supply, celsius, rough in (
            (100, 19.05, 30, 6.9, 20, 0), (150, 19.05, 15, 6.9, 20, 0), (200, 19.05, 15, 6.9, 20, 0), (250, 19.05, 15, 6.9, 20, 0),
            (300, 19.05, 15, 6.9, 20, 0), (200, 19.05, 30, 6.9, 20, 0), (100, 19.05, 30, 6.9, 20, 0.01), (150, 19.05, 15, 6.9, 20, 0.01),
            (250, 19.05, 15, 6.9, 20, 0.01), (200, 19.05, 30, 6.9, 20, 0.01), (40, 12.7, 20, 7, -10, 0), (40, 12.7, 20, 7, 50, 0),
            (400, 50.8, 120, 8, 35, 0.05), (900, 50.8, 60, 10, 15, 0.05), (30, 9.5, 10, 5, 25, 0.002), (60, 25.4, 100, 3, 5, 0),
            (300, 19.05, 30, 6.9, 20, 0), (300, 19.05, 30, 6.9, 20, 0.01), (120, 12.7, 20, 6, 30, 0), (90, 9.5, 25, 8, 10, 0.01)):
        diameter, p1, kelvin = bore / 1000, supply * 1e5 + P0, celsius + 273.15
        density = p1 / (R * kelvin)
        # The dilute gas: pressure changes the viscosity by half a per cent at 7 bar.
        viscosity = coolprop.PropsSI("V", "T", kelvin, "P", P0, "Air")
        area = math.pi / 4 * diameter**2

        def friction(mass):
            reynolds = mass * diameter / (area * viscosity)
            return 64 / reynolds if reynolds < 2000 else fluids.friction.Colebrook(reynolds, rough / bore, tol=-1)

        def beyond(mass):
            """How far a mass flow lies below what chokes with that flow's own friction, or leaves no pressure."""
            fd = friction(mass)
            outlet = max(P0, fluids.compressible.P_isothermal_critical_flow(P=p1, fd=fd, D=diameter, L=length))
            return fluids.compressible.isothermal_gas(rho=density, fd=fd, P1=p1, P2=outlet, L=length, D=diameter) - mass

        limit = brentq(beyond, 1e-4, 10, xtol=1e-13)
        mass = P0 / (R * T0) * Q(flow, "foot**3/minute").to("m**3/s").magnitude
        given = [f"{flow} ft3/min", f"{bore} mm", f"{length} m", f"{supply} bar", f"{celsius} degC", f"{rough} mm"]
        limits.append(given + [repr(limit * R * T0 / P0)] + (["stop"] if mass > limit else [""]))
        if mass < limit:
            p2 = fluids.compressible.isothermal_gas(rho=density, fd=friction(mass), P1=p1, L=length, D=diameter, m=mass)
            drops.append(given + [repr(p1 - p2), repr(p2 - P0), repr((p1 - p2) / (p1 - P0))])
    why = "same model; the viscosity here is a fit to the library's within 0.1 % and moves the friction by a fifth of that"
    source = "fluids 1.3.1: isothermal_gas with the inlet density, exact Colebrook; viscosity from CoolProp 8.0.0 at 1 atm"
    write("air-line-drop-isothermal.csv", "air-line-drop", source, f"0.001 {why}", head + ["out.drop", "out.tool_pressure", "out.drop_share"], drops)
    write("air-line-drop-greatest.csv", "air-line-drop", source + "; P_isothermal_critical_flow with the friction of the limit itself",
          f"0.001 {why}", head + ["out.greatest_flow"], [row[:-1] for row in limits])
    write("air-line-drop-choked.csv", "air-line-drop", source, f"0.001 {why}", head + ["out.greatest_flow", "verdict"],
          [row for row in limits if row[-1]])


def air_demand():
    rows = []
    for flows, duties, compressor, spare in (
            ((60, 40, 5), (80, 10, 10), 120, 20), ((45, 0, 2), (100, 0, 5), 60, 0), ((90, 30, 6), (70, 25, 3), 185, 30),
            ((120, 55, 8), (65, 20, 8), 185, 25), ((25, 25, 1), (50, 50, 1), 75, 10), ((33.5, 12.5, 0.5), (85, 5, 2.5), 50, 15),
            ((200, 80, 12), (90, 30, 10), 375, 20), ((70, 35, 3), (60, 40, 20), 90, 50), ((15, 5, 0.2), (100, 100, 100), 25, 5),
            ((300, 100, 20), (40, 10, 2), 400, 100)):
        flow = [Q(value, "foot**3/minute") for value in flows]
        share = [Q(value, "percent") for value in duties]
        average = sum((f * s for f, s in zip(flow[1:], share[1:])), flow[0] * share[0])
        supply = Q(compressor, "foot**3/minute")
        rows.append([*(f"{value} ft3/min" for value in flows), *(f"{value} %" for value in duties), f"{compressor} ft3/min", f"{spare} %",
                     si(average), si(flow[0] + flow[1] + flow[2]), si(supply - average * (1 + Q(spare, "percent")))])
    write("air-demand-sums.csv", "air-demand", "pint 0.25.3: sums of quantities", "1e-9 the same sums in another order of rounding",
          ["in.drive_flow", "in.carriage_flow", "in.clamp_flow", "in.drive_duty", "in.carriage_duty", "in.clamp_duty",
           "in.compressor_flow", "in.spare", "out.average", "out.peak", "out.margin"], rows)


def cylinders():
    rows = []
    for bore, rod, unit, pressure, measure in (
            (1.5, 0.5, "in", 90, "psi"), (2.5, 0.625, "in", 100, "psi"), (4, 1, "in", 80, "psi"), (0.75, 0.25, "in", 60, "psi"),
            (3.25, 1, "in", 110, "psi"), (6, 1.375, "in", 100, "psi"), (32, 12, "mm", 6, "bar"), (50, 20, "mm", 6, "bar"),
            (63, 20, "mm", 7, "bar"), (100, 25, "mm", 6, "bar"), (25, 10, "mm", 4, "bar"), (160, 40, "mm", 8, "bar")):
        across, through, over = Q(bore, unit), Q(rod, unit), Q(pressure, measure)
        push = over * math.pi * across**2 / 4
        rows.append([f"{bore} {unit}", f"{rod} {unit}", f"{pressure} {measure}", si(push), si(push * (1 - (through / across) ** 2))])
    write("cylinder-force-areas.csv", "cylinder-force", "pint 0.25.3: pressure times area, for common sizes of cylinders",
          "1e-9 the same product in another order of rounding", ["in.bore", "in.rod", "in.pressure", "out.push", "out.pull"], rows)


# Running

def cleaning():
    rows = []
    for count, length, feed, back, passes, index, shift, available in (
            (300, (20, "ft"), (20, "ft/min"), (40, "ft/min"), 1, 30, 8, 50), (60, (6, "m"), (3, "m/min"), (12, "m/min"), 2, 15, 10, 75),
            (450, (16, "ft"), (12, "ft/min"), (60, "ft/min"), 1, 12, 12, 65), (1280, (24, "ft"), (30, "ft/min"), (90, "ft/min"), 1, 8, 10, 70),
            (88, (8, "ft"), (6, "ft/min"), (30, "ft/min"), 3, 25, 8, 55), (205, (14, "ft"), (18, "ft/min"), (45, "ft/min"), 1, 20, 10, 60),
            (512, (5.5, "m"), (9, "m/min"), (18, "m/min"), 1, 10, 12, 80), (36, (30, "ft"), (5, "ft/min"), (25, "ft/min"), 2, 60, 8, 45),
            (700, (12, "ft"), (24, "ft/min"), (48, "ft/min"), 1, 6, 11, 72), (150, (40, "ft"), (15, "ft/min"), (75, "ft/min"), 1, 18, 9.5, 66)):
        tube, there, home = Q(*length), Q(feed[0], feed[1].replace("ft", "foot")), Q(back[0], back[1].replace("ft", "foot"))
        stroke = (passes * (tube / there + tube / home)).to("s").magnitude
        running = sum(stroke + index for _ in range(count))
        elapsed = running / (available / 100)
        shifts = 0
        while shifts * shift * 3600 < elapsed - 1e-6:
            shifts += 1
        rows.append([count, *(f"{value} {unit}" for value, unit in (length, feed, back)), passes, f"{index} s", f"{shift} h", f"{available} %",
                     repr(stroke), repr(running), repr(elapsed), shifts])
    write("cleaning-time-clock.csv", "cleaning-time", "pint 0.25.3, with the strokes and the shifts added one after the other",
          "1e-9 the same sum in another order of rounding",
          ["in.strokes", "in.tube_length", "in.feed_speed", "in.return_speed", "in.passes", "in.index_time", "in.shift_length",
           "in.availability", "out.stroke_time", "out.running_time", "out.elapsed", "out.shifts"], rows)


def water():
    rows = []
    for at, (flow, unit, hours, tanker, measure) in enumerate((
            (10, "gal/min", 8, 3000, "gal"), (12, "gal/min", 5, 3600, "gal"), (40, "L/min", 6, 14400, "L"), (8.1, "gal/min", 4.8, 3200, "gal"),
            (22, "gal/min", 30, 5000, "gal"), (75, "L/min", 12.5, 18000, "L"), (5.5, "gal/min", 1.25, 400, "gal"), (30, "gal/min", 9, 2500, "gal"),
            (120, "L/min", 40, 25000, "L"), (16, "gal/min", 16, 15360, "gal"))):
        share = (100, 100, 100, 100, 75, 60, 100, 50, 33, 100)[at]
        volume = (Q(flow, unit.replace("gal", "US_liquid_gallon").replace("L/", "liter/").replace("min", "minute")) * Q(hours, "hour") * share / 100).to("m**3")
        carried = Q(tanker, "US_liquid_gallon" if measure == "gal" else "liter").to("m**3")
        rows.append([f"{flow} {unit}", f"{hours} h", f"{share} %", f"{tanker} {measure}", repr(float(volume.magnitude)), math.ceil((volume / carried).magnitude - 1e-9)])
    write("water-use-volumes.csv", "water-use", "pint 0.25.3: flow times time times share", "1e-9 the same product in another order of rounding",
          ["in.flow", "in.running_time", "in.water_share", "in.tanker_volume", "out.volume", "out.tankers"], rows)


def pace():
    rows = []
    for done, minutes, counted in ((60, 90, 260), (12, 35, 900), (100, 150, 842), (8, 20, 108), (241, 605, 392), (37, 44, 37), (1, 3.5, 25), (500, 1440, 1800), (64, 31, 160), (18, 270, 25)):
        each = Q(minutes, "minute") / done
        left = counted - done
        rows.append([done, f"{minutes} min", counted, left, si(each * left), si(each), math.floor(Q(1, "hour").to("minute").magnitude / each.to("minute").magnitude + 1e-9)])
    write("pace-proportion.csv", "pace", "pint 0.25.3: proportion", "1e-9 the same product in another order of rounding",
          ["in.tubes_done", "in.time_so_far", "in.tubes_in_all", "out.tubes_left", "out.time_left", "out.time_each", "out.tubes_an_hour"], rows)


def fuel():
    # 0.36 lb/(hp·h) and 7 lb/gal are US Army Corps of Engineers EP 1110-1-8, for diesel.
    army = Q(0.36, "pound") / Q(550 * 3600, "foot * pound_force")
    rows = []
    for at, (power, unit, burn, density, hours) in enumerate((
            (300, "hp", None, None, 8), (315, "hp", None, None, 10), (59, "hp", 222, 0.838, 4.9), (100, "kW", 220, 0.84, 10), (200, "kW", 210, 0.8, 5),
            (450, "hp", 205, 0.832, 6.5), (75, "kW", 240, 0.85, 30), (150, "hp", 215, 0.82, 1.5), (33, "kW", 260, 0.845, 12), (600, "hp", 200, 0.835, 48))):
        share = (100, 100, 100, 100, 70, 55, 100, 80, 33, 90)[at]
        work = share / 100 * (Q(power, "kW") if unit == "kW" else power * Q(550, "foot * pound_force / second")) * Q(hours, "hour")
        specific = army if burn is None else Q(burn, "g / kWh")
        heavy = Q(7, "pound / US_liquid_gallon") if density is None else Q(density, "kg / liter")
        grams = specific.to("g / kWh").magnitude
        mass = (work * specific).to("kg")
        rows.append([f"{power} {unit}", f"{grams:.12g} g/kWh", "7 lb/gal" if density is None else f"{density} kg/L", f"{hours} h", f"{share} %",
                     repr(float(mass.magnitude)), si(mass / heavy)])
    write("fuel-use-work.csv", "fuel-use", "pint 0.25.3: work times share times consumption; the first two with the figures of US Army Corps of Engineers EP 1110-1-8, taken for diesel",
          "1e-9 the same product in another order of rounding",
          ["in.shaft_power", "in.specific_consumption", "in.fuel_density", "in.running_time", "in.load_share", "out.mass", "out.volume"], rows)


# Noise: tables as printed.

G16 = ((90, 8), (92, 6), (95, 4), (97, 3), (100, 2), (102, 1.5), (105, 1), (110, 0.5), (115, 0.25))
G16A = (32, 27.9, 24.3, 21.1, 18.4, 16, 13.9, 12.1, 10.6, 9.2, 8, 7.0, 6.1, 5.3, 4.6, 4, 3.5, 3.0, 2.6, 2.3, 2, 1.7, 1.5, 1.3, 1.1, 1,
        0.87, 0.76, 0.66, 0.57, 0.5, 0.44, 0.38, 0.33, 0.29, 0.25, 0.22, 0.19, 0.16, 0.14, 0.125, 0.11, 0.095, 0.082, 0.072, 0.063,
        0.054, 0.047, 0.041, 0.036, 0.031)
DOSES = ((80, 25), (81, 29), (82, 33), (83, 38), (84, 44), (85, 50), (86, 57), (87, 66), (88, 76), (89, 87), (90, 100), (91, 115), (92, 132),
         (93, 152), (94, 174), (95, 200), (96, 230), (97, 264), (98, 303), (99, 350), (100, 400), (101, 460), (102, 530), (103, 610),
         (104, 700), (105, 800), (106, 920), (107, 1056), (108, 1213), (109, 1393), (110, 1600), (111, 1838), (112, 2111), (113, 2425),
         (114, 2786), (115, 3200))
NIOSH = ((85, 480), (88, 240), (91, 120), (94, 60), (97, 30), (100, 15))


def noise():
    rows = [[f"{level} dB", "1 h", repr(hours * 3600.0)] for level, hours in G16]
    write("noise-exposure-g16.csv", "noise-exposure", "29 CFR 1910.95 table G-16; as 29 CFR 1926.52 table D-2 and 41 CFR 50-204.10 table I",
          "0.011 the table prints round hours; its own formula gives 6.06 h at 92 and 3.03 h at 97 dBA",
          ["in.level", "in.duration", "out.permitted_osha"], rows)
    rows = [[f"{80 + at} dB", "1 h", repr(hours * 3600.0)] for at, hours in enumerate(G16A)]
    write("noise-exposure-g16a.csv", "noise-exposure", "29 CFR 1910.95 appendix A table G-16a; of two stored copies one prints 21.2 h at 83 dBA",
          "0.045 the table prints two or three figures: 1.1 h at 104 dBA stands for 1.149 h",
          ["in.level", "in.duration", "out.permitted_osha"], rows)
    rows = [[f"{level} dB", "8 h", dose / 100, level] for level, dose in DOSES]
    write("noise-exposure-dose.csv", "noise-exposure", "30 CFR 62 table 62-2: dose in per cent against the 8-hour average; 8 h at each level",
          "0.013 the table prints whole per cents: 44 % at 84 dBA stands for 43.5 %",
          ["in.level", "in.duration", "out.dose_osha", "out.average_osha"], rows)
    rows = [[f"{level} dB", "2 h", repr(minutes * 60.0), repr(120 / minutes)] for level, minutes in NIOSH]
    write("noise-exposure-niosh.csv", "noise-exposure", "NIOSH recommended exposure limit: 85, 94 and 100 dBA as its noise page prints them, the others from memory; dose of 2 h by hand",
          "1e-9 the same definition", ["in.level", "in.duration", "out.permitted_niosh", "out.dose_niosh"], rows)


if __name__ == "__main__":
    tube_counts()
    printed_tube_counts()
    air_line()
    air_demand()
    cylinders()
    cleaning()
    water()
    pace()
    fuel()
    noise()
