"""Writes the outside reference values for the frame, the guide tubes and the hoses.

Run it in an environment with the packages of requirements.txt; it rewrites its
CSV files. Nothing here uses the project's own formulas: geometry is measured on
points, beams are integrated, units come from a unit library, and tables are
transcribed with their source.
"""

import csv
import pathlib

import fluids
import ht
import iapws
import numpy
import pint
import scipy.integrate

HERE = pathlib.Path(__file__).parent
UNIT = pint.UnitRegistry()
INCH = float(UNIT("inch").to("m").magnitude)


def si(value, unit):
    return float(UNIT.Quantity(value, unit).to_base_units().magnitude)


def typed(value, unit):
    """A quantity as people type it: no more than twelve digits."""
    return f"{float(value):.12g} {unit}"


def write(name, head, rows):
    with (HERE / name).open("w", newline="\n") as out:
        for key, text in head.items():
            out.write(f"# {key}: {text}\n")
        writer = csv.writer(out, lineterminator="\n")
        writer.writerow(rows[0])
        for row in rows:
            writer.writerow([repr(cell) if isinstance(cell, float) else cell for cell in row.values()])


def calculator(name, topic, source, tolerance, rows):
    head = {"calculator": name, "source": source, "tolerance": tolerance}
    write(f"calculators/{name}{topic}.csv", head, rows)


# ASME B16.5, tables of drilling templates, in a public transcription of the
# metric edition: size, bolt circle in mm, bolt holes, hole and bolt in inches;
# outside diameter and least thickness of class 150 in inches from another.
DRILLING = {
    "150": [
        ("2", 120.7, 4, "3/4", "5/8"), ("2 1/2", 139.7, 4, "3/4", "5/8"), ("3", 152.4, 4, "3/4", "5/8"),
        ("4", 190.5, 8, "3/4", "5/8"), ("5", 215.9, 8, "7/8", "3/4"), ("6", 241.3, 8, "7/8", "3/4"),
        ("8", 298.5, 8, "7/8", "3/4"), ("10", 362.0, 12, "1", "7/8"), ("12", 431.8, 12, "1", "7/8"),
        ("14", 476.3, 12, "1 1/8", "1"), ("16", 539.8, 16, "1 1/8", "1"), ("18", 577.9, 16, "1 1/4", "1 1/8"),
        ("20", 635.0, 20, "1 1/4", "1 1/8"), ("24", 749.3, 20, "1 3/8", "1 1/4"),
    ],
    "300": [
        ("2", 127.0, 8, "3/4", "5/8"), ("2 1/2", 149.2, 8, "7/8", "3/4"), ("3", 168.3, 8, "7/8", "3/4"),
        ("4", 200.0, 8, "7/8", "3/4"), ("5", 235.0, 8, "7/8", "3/4"), ("6", 269.9, 12, "7/8", "3/4"),
        ("8", 330.2, 12, "1", "7/8"), ("10", 387.4, 16, "1 1/8", "1"), ("12", 450.8, 16, "1 1/4", "1 1/8"),
        ("14", 514.4, 20, "1 1/4", "1 1/8"), ("16", 571.5, 20, "1 3/8", "1 1/4"), ("18", 628.6, 24, "1 3/8", "1 1/4"),
        ("20", 685.8, 24, "1 3/8", "1 1/4"), ("24", 812.8, 24, "1 5/8", "1 1/2"),
    ],
}
THICKNESS = {
    "4": 0.94, "5": 0.94, "6": 1.00, "8": 1.12, "10": 1.19, "12": 1.25, "14": 1.38, "16": 1.44, "18": 1.56,
    "20": 1.69, "24": 1.88,
}


def flange_bolting():
    rows = [
        {"size": f"{size} in", "class": grade, "bolt_circle": si(circle, "mm"), "bolts": holes,
         "hole": f"{hole} in", "bolt": f"{bolt} in"}
        for grade, sizes in DRILLING.items()
        for size, circle, holes, hole, bolt in sizes
    ]
    source = "ASME B16.5-2009 and -2017, tables 7 and 8, drilling templates of classes 150 and 300, in two public transcriptions of the metric tables"
    write("flange-bolting.csv", {"source": source, "tolerance": "0.05 % relative for bolt circles, printed there to 0.1 mm; counts, bolts and holes exact"}, rows)


def tube_gauges():
    rows = [{"gauge": gauge, "column": "wall", "size": fluids.piping.t_from_gauge(gauge, SI=False) * INCH} for gauge in range(7, 25)]
    columns = {0.5: "bore_1_2", 0.625: "bore_5_8", 0.75: "bore_3_4", 1.0: "bore_1", 1.25: "bore_1_1_4"}
    for outside, column in columns.items():
        for gauge in ht.hx.TEMA_tubing[outside]:
            bore = ht.hx.get_tube_TEMA(outside, gauge)[3]
            rows.append({"gauge": gauge, "column": column, "size": float(bore)})
    source = "fluids 1.3.1, t_from_gauge (Birmingham wire gauge); ht 1.2.0, get_tube_TEMA, for the bores of the tubes that TEMA lists"
    write("tube-gauges.csv", {"source": source, "tolerance": "0.0001 relative: the library rounds metric walls to 1 µm"}, rows)


def tube_bore():
    rows = []
    for outside, gauges in ht.hx.TEMA_tubing.items():
        for gauge in gauges:
            _, _, _, bore, wall = ht.hx.get_tube_TEMA(outside, gauge)
            rows.append({"in.tube_od": typed(outside, "in"), "in.gauge": gauge, "out.wall": float(wall), "out.bore": float(bore)})
    source = "ht 1.2.0, get_tube_TEMA: every tube that TEMA lists"
    calculator("tube-bore", "", source, "0.001 the library rounds metric walls to 1 µm", rows)


def pitch_from_span():
    rows = []
    for outside, ratios in ht.hx.HEDH_pitches.items():
        for ratio in (1.15, *ratios):
            for tubes in (7, 24):
                centres = numpy.linspace(0, (tubes - 1) * ratio * outside, tubes)
                span = float((centres + outside / 2).max() - (centres - outside / 2).min())
                if not 0.5 <= span <= 240:
                    continue
                rows.append({
                    "in.outside_span": typed(span, "in"), "in.tubes_spanned": tubes, "in.tube_od": f"{outside} in",
                    "out.tube_pitch": ratio * outside * INCH, "out.pitch_ratio": ratio,
                    "out.ligament": (ratio - 1) * outside * INCH, "verdict": "go" if ratio >= 1.25 else "caution",
                })
    calculator("pitch-from-span", "", "ht 1.2.0, HEDH_pitches: the pitch ratios that the heat exchanger handbook lists for each tube, and 1.15 for a wrong count; spans measured on rows of points",
               "1e-9 the same geometry, in another order of rounding", rows)


def holes(count, radius, top):
    """Bolt holes from the top clockwise, as the roots of z^n = ±R^n."""
    sign = 1 if top == "hole" else -1
    roots = numpy.roots([1.0] + [0.0] * (count - 1) + [-sign])
    angles = numpy.angle(roots)
    right = sorted(((angle, root) for angle, root in zip(angles, roots) if angle > 1e-9), key=lambda pair: pair[0])
    return [radius * root for _, root in right]


def bolt_clamps():
    rows = []
    for sizes in DRILLING.values():
        for _, circle, count, _, _ in sizes:
            for top in ("hole", "between"):
                found = holes(count, circle / 2000, top)
                for out in sorted({1, count // 4}):
                    place = found[out - 1]
                    start = circle / 2000 + 0j if top == "hole" else found[0].conjugate()
                    rows.append({
                        "in.bolt_count": count, "in.bolt_circle": f"{circle} mm", "in.holes_out": out,
                        "in.top_of_flange": top,
                        "out.offset": float(place.imag), "out.drop": float(circle / 2000 - place.real),
                        "out.clamp_spacing": float(abs(place - place.conjugate())), "out.chord": float(abs(place - start)),
                        "verdict": "stop" if top == "hole" and out == count // 4 else "go",
                    })
    calculator("bolt-clamp-position", "-flanges", "numpy 2.4, roots of z^n = ±R^n as the bolt holes of ASME B16.5 flanges, classes 150 and 300",
               "1e-6 the roots are found by iteration", rows)
    # Constants of a printed table of pitch circle chords, diameter 1, 6 to 30 holes.
    constants = """0.50000 0.43388 0.38268 0.34202 0.30902 0.28173 0.25882 0.23932 0.22252 0.20791 0.19509 0.18375
        0.17365 0.16459 0.15643 0.14904 0.14231 0.13617 0.13053 0.12533 0.12054 0.11609 0.11196 0.10812 0.10453""".split()
    rows = [
        {"in.bolt_count": count, "in.bolt_circle": "10 in", "in.holes_out": 1, "in.top_of_flange": "hole",
         "out.chord": float(constant) * 10 * INCH}
        for count, constant in enumerate(constants, start=6)
    ]
    calculator("bolt-clamp-position", "-chords", "printed table of pitch circle chordal constants, 3 to 30 holes, from an engineering firm's public data sheet",
               "0.00006 the constants are printed to five places", rows)


def clamp_jaw():
    rows = []
    for size, thickness in THICKNESS.items():
        for low, high, unit in ((5 / 8, 3.25, "inch"), (25.0, 42.0, "mm")):
            flange, closed, opened = si(thickness, "inch"), si(low, unit), si(high, unit)
            word = "in" if unit == "inch" else unit
            rows.append({
                "in.flange_thickness": f"{thickness} in", "in.jaw_min": f"{low} {word}", "in.jaw_max": f"{high} {word}",
                "in.least_travel": "1/8 in", "out.margin_closed": flange - closed, "out.margin_open": opened - flange,
                "verdict": "go" if min(flange - closed, opened - flange) > INCH / 8 - 1e-12 else "stop",
            })
    calculator("clamp-jaw", "", "pint 0.25.3 for the units; flange thicknesses of ASME B16.5 class 150, in a public transcription",
               "1e-9 the same differences, in another order of rounding", rows)


def rail_level():
    rows = []
    cases = [  # rise, run, allowance: the slopes that pipe fitters know, and lengths of rails
        ("1/16 in", 1 / 16, "inch", "12 in", 12, "inch"), ("1/8 in", 1 / 8, "inch", "1 ft", 1, "foot"),
        ("1/4 in", 1 / 4, "inch", "1 ft", 1, "foot"), ("1/2 in", 1 / 2, "inch", "1 ft", 1, "foot"),
        ("1 in", 1, "inch", "10 ft", 10, "foot"), ("1 mm", 1, "mm", "1 m", 1, "meter"), ("3 mm", 3, "mm", "1.2 m", 1.2, "meter"),
        ("5 mm", 5, "mm", "900 mm", 900, "mm"), ("1/32 in", 1 / 32, "inch", "46 in", 46, "inch"),
        ("3/16 in", 3 / 16, "inch", "60 in", 60, "inch"), ("2 mm", 2, "mm", "48 in", 48, "inch"), ("1/4 in", 1 / 4, "inch", "2 m", 2, "meter"),
        ("8.74886635259 in", 8.74886635259, "inch", "100 in", 100, "inch"),
    ]
    for rise_text, rise, rise_unit, run_text, run, run_unit in cases:
        for allowed in (1 / 32, 1 / 8):
            up, along = si(rise, rise_unit), si(run, run_unit)
            # The carriage's end is on the same line through both readings.
            drift = float((34.5 * INCH * (along + 1j * up) / along).imag)
            over = drift / si(allowed, "inch")
            rows.append({
                "in.span": run_text, "in.height_difference": rise_text, "in.allowed_drift": f"{allowed} in", "in.travel": "34.5 in",
                "out.slope": float((UNIT.Quantity(rise, rise_unit) / UNIT.Quantity(run, run_unit)).to("dimensionless").magnitude),
                "out.angle": float(numpy.angle(along + 1j * up)), "out.drift": drift,
                "verdict": "stop" if over > 1 + 1e-9 else "caution" if over > 0.5 + 1e-9 or along < 34.5 * INCH else "go",
            })
    calculator("rail-level", "", "pint 0.25.3 for the slope, numpy 2.4 for the angle of a complex number; the last case is a slope of 5 degrees",
               "1e-9 the same geometry, in another order of rounding", rows)


def frame_reach():
    rows = []
    cases = [
        (22.25, 46.0, 8.5, 1.5, 2, 1.0), (30.0, 46.0, 8.5, 1.5, 2, 1.25), (36.0, 46.0, 8.5, 1.5, 3, 1.0), (18.0, 30.0, 6.0, 1.0, 1, 1.0),
        (24.0, 40.0, 10.0, 2.0, 3, 1.25), (40.0, 60.0, 12.0, 0.5, 4, 1.5), (48.0, 72.0, 16.0, 3.0, 2, 2.5), (60.0, 72.0, 10.0, 1.0, 2, 1.0),
        (12.0, 24.0, 6.0, 1.0, 2, 15 / 16), (8.0, 36.0, 8.0, 1.0, 5, 2.5), (33.0, 46.0, 8.5, 2.25, 2, 1.25), (34.0, 46.0, 8.5, 1.25, 2, 1.0),
    ]
    for bundle, rail, width, end, lances, spacing in cases:
        # The first lance on the left edge, the last on the right one: how far the carriage's middle moves.
        comb = (numpy.arange(lances) - (lances - 1) / 2) * spacing
        needed = max(0.0, (bundle / 2 - comb[-1]) - (-bundle / 2 - comb[0]))
        middle = numpy.array([end + width / 2, rail - end - width / 2])
        travel = float(middle[1] - middle[0])
        margin = travel - needed
        row = {
            "in.bundle_diameter": f"{bundle} in", "in.rail_length": f"{rail} in", "in.carriage_width": f"{width} in",
            "in.end_allowance": f"{end} in", "in.lances": lances, "in.lance_spacing": f"{spacing} in",
            "out.travel": travel * INCH, "out.needed": float(needed) * INCH, "out.margin": float(margin) * INCH,
            "verdict": "stop" if margin < 0 else "caution" if margin < 1 else "go",
        }
        rows.append(row)
    calculator("frame-reach", "", "positions of the carriage and the lances on a line, numpy 2.4; inches by pint 0.25.3",
               "1e-9 the same geometry, in another order of rounding", rows)


def beam(length, stiffness, weight):
    """Sag and tilt of a cantilever's free end, by integrating its curvature."""
    def curvature(x, state):
        return [state[1], weight * (length - x) ** 2 / 2 / stiffness]
    end = scipy.integrate.solve_ivp(curvature, (0, length), [0.0, 0.0], rtol=1e-11, atol=1e-18).y[:, -1]
    return float(end[0]), float(end[1])


def guide_tube_sag():
    water = iapws.IAPWS95(T=288.15, P=0.101325).rho
    rows = []
    for nominal in (0.375, 0.5, 0.75, 1):
        for schedule in ("40", "80"):
            _, inner, outer, wall = fluids.piping.nearest_pipe(NPS=nominal, schedule=schedule)
            # Second moment of area, over strips at height y of the ring.
            def strip(y):
                whole = numpy.sqrt(max(outer**2 / 4 - y**2, 0))
                return 2 * y**2 * (whole - numpy.sqrt(max(inner**2 / 4 - y**2, 0)))
            moment = 2 * (scipy.integrate.quad(strip, 0, inner / 2, epsabs=1e-20, epsrel=1e-10)[0]
                          + scipy.integrate.quad(strip, inner / 2, outer / 2, epsabs=1e-20, epsrel=1e-10)[0])
            metal = scipy.integrate.quad(lambda r: 2 * numpy.pi * r, inner / 2, outer / 2)[0]
            bore = scipy.integrate.quad(lambda r: 2 * numpy.pi * r, 0, inner / 2)[0]
            for length in (0.3, 0.5, 0.75, 1.0, 1.5):
                for contents in ("empty", "water"):
                    weight = 9.80665 * (7850 * metal + (water * bore if contents == "water" else 0))
                    sag, tilt = beam(length, 200e9 * moment, weight)
                    rows.append({
                        "in.length": f"{length} m", "in.pipe_od": typed(outer * 1000, "mm"), "in.pipe_wall": typed(wall * 1000, "mm"),
                        "in.contents": contents, "in.lance_od": "12 mm", "in.tube_bore": "15.75 mm",
                        "out.sag": sag, "out.tip_slope": tilt, "verdict": "stop" if sag > 0.00375 else "caution" if sag > 0.001875 else "go",
                    })
    calculator("guide-tube-sag", "", "scipy 1.17.1, integration of the beam's curvature and of the section; fluids 1.3.1, nearest_pipe, for metric pipes; iapws 1.5.5 for water at 15 degC",
               "0.00001 the bores of the metric pipe list are rounded apart from their walls; integration to 1e-10", rows)


def hose_length():
    rows = []
    for tube, over, guide, drive, tail, hose in (
        ((14, "foot"), (1.5, "inch"), (21.375, "inch"), (31, "inch"), (19, "foot"), (45, "foot")),
        ((20, "foot"), (2, "inch"), (30, "inch"), (31, "inch"), (19, "foot"), (45, "foot")),
        ((20, "foot"), (1, "inch"), (30, "inch"), (31, "inch"), (19, "foot"), (44, "foot")),
        ((6.1, "meter"), (40, "mm"), (540, "mm"), (790, "mm"), (5.8, "meter"), (13.7, "meter")),
        ((6.1, "meter"), (25, "mm"), (540, "mm"), (790, "mm"), (5.8, "meter"), (13.3, "meter")),
        ((8, "foot"), (0, "inch"), (10, "inch"), (24, "inch"), (12, "foot"), (60, "foot")),
        ((40, "foot"), (6, "inch"), (36, "inch"), (48, "inch"), (30, "foot"), (100, "foot")),
        ((40, "foot"), (24, "inch"), (36, "inch"), (48, "inch"), (30, "foot"), (25, "meter")),
        ((12.2, "meter"), (1.5, "inch"), (20, "inch"), (31, "inch"), (6, "meter"), (65, "foot")),
        ((3.66, "meter"), (50, "mm"), (400, "mm"), (31, "inch"), (20, "foot"), (50, "foot")),
        ((30, "foot"), (3, "inch"), (18, "inch"), (1, "meter"), (15, "foot"), (50, "foot")),
    ):
        needed = sum((UNIT.Quantity(*part) for part in (tube, over, guide, drive, tail)), UNIT.Quantity(0, "m"))
        spare = (UNIT.Quantity(*hose) - needed).to("m")
        words = {"foot": "ft", "inch": "in", "meter": "m", "mm": "mm"}
        names = ("tube_length", "overtravel", "guide_tube_length", "drive_length", "tail_length", "hose_length")
        row = {f"in.{name}": f"{value} {words[unit]}" for name, (value, unit) in zip(names, (tube, over, guide, drive, tail, hose))}
        row |= {"out.needed": float(needed.to("m").magnitude), "out.spare": float(spare.magnitude)}
        row["verdict"] = "stop" if spare.magnitude < 0 else "caution" if spare < UNIT.Quantity(1, "foot") else "go"
        rows.append(row)
    calculator("hose-length", "", "pint 0.25.3, sums of quantities in mixed units", "1e-9 the same sum, in another order of rounding", rows)


def stroke_stops():
    rows = []
    for tube, guide, over, nozzle, park in (
        ((14, "foot"), (21.375, "inch"), (1.5, "inch"), (2.375, "inch"), (3, "inch")),
        ((6.1, "meter"), (500, "mm"), (40, "mm"), (70, "mm"), (80, "mm")),
        ((20, "foot"), (12.75, "inch"), (2, "inch"), (3, "inch"), (4, "inch")),
        ((8, "foot"), (9, "inch"), (1, "inch"), (1.25, "inch"), (2, "inch")),
        ((12.2, "meter"), (30, "inch"), (25, "mm"), (2, "inch"), (6, "inch")),
        ((40, "foot"), (36, "inch"), (3, "inch"), (4, "inch"), (12, "inch")),
        ((3.66, "meter"), (450, "mm"), (50, "mm"), (90, "mm"), (100, "mm")),
        ((10, "foot"), (12, "inch"), (0, "inch"), (2, "inch"), (2, "inch")),
        ((16, "foot"), (15, "inch"), (1.5, "inch"), (2, "inch"), (0, "inch")),
        ((16, "foot"), (15, "inch"), (1.5, "inch"), (6, "inch"), (10, "inch")),
        ((24, "foot"), (20, "inch"), (2.5, "inch"), (2, "inch"), (5, "inch")),
    ):
        # Places on the axis from the guide tube's shoulder, towards the far end.
        places = {"open": si(*guide), "far": si(*guide) + si(*tube)}
        forward = places["far"] + si(*over)
        parked = places["open"] - si(*park)
        words = {"foot": "ft", "inch": "in", "meter": "m", "mm": "mm"}
        names = ("tube_length", "guide_tube_length", "overtravel", "nozzle_length", "park_depth")
        row = {f"in.{name}": f"{value} {words[unit]}" for name, (value, unit) in zip(names, (tube, guide, over, nozzle, park))}
        row |= {"out.forward_stop": forward, "out.return_stop": parked, "out.stroke": forward - parked, "out.forward_mark": forward - si(*nozzle)}
        rows.append(row)
    calculator("stroke-stops", "", "places of the nozzle on the axis of the tube, units by pint 0.25.3", "1e-9 the same geometry, in another order of rounding", rows)


def roller_choice():
    rows = []
    for bore, layers, outside, roller in (
        (3, 2, 6.4, "smooth"), (5, 2, 8.8, "smooth"), (5, 4, 10.5, "grooved"), (6, 4, 11.9, "grooved"),
    ):
        for off in (0.0, 0.5):
            rows.append({
                "in.hose_bore": typed(UNIT.Quantity(bore, "mm").to("inch").magnitude, "in"), "in.hose_layers": layers,
                "in.hose_od": typed(UNIT.Quantity(outside + off, "mm").to("inch").magnitude, "in"), "out.roller": roller,
                "verdict": "caution" if off else "go",
            })
    calculator("roller-choice", "", "pint 0.25.3 for the sizes in inches; the rows restate the built-in example table, which is invented and has no outside source",
               "1e-9 choices agree or they don't", rows)


if __name__ == "__main__":
    flange_bolting()
    tube_gauges()
    tube_bore()
    pitch_from_span()
    bolt_clamps()
    clamp_jaw()
    rail_level()
    frame_reach()
    guide_tube_sag()
    hose_length()
    stroke_stops()
    roller_choice()
