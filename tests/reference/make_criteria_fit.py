"""Writes the reference values for what fits, catches, aligns and holds between frame and tube.

Run it in an environment with the packages of requirements.txt; it rewrites its CSV files. Nothing
here uses the project's own formulas: places are put on an axis, circles beside each other, lattices
are walked and forces balanced.
"""

import itertools
from fractions import Fraction
from math import cos, pi, sqrt, tan

import numpy
from scipy.integrate import quad
from scipy.optimize import brentq

from criteria import compare
from make_planning import sheet, strokes

def worst(*stages):
    """The first of (verdict, conditions) of which any holds, else go."""
    return next((verdict for verdict, found in stages if any(found)), "go")

# ---- the stop of the hose

def stop_range(given):
    hose, ferrule, opening = given["hose_od"], given["ferrule_od"], given["opening"]
    # How far the ferrule's circle reaches past the opening's in every direction, with the hose
    # pressed against the opening in the first of them.
    around = numpy.linspace(0, 2 * pi, 3601)
    off, reach = float(opening - hose) / 2, float(ferrule) / 2
    past = off * numpy.cos(around) + numpy.sqrt(reach**2 - (off * numpy.sin(around)) ** 2) - float(opening) / 2
    low, high = hose - given["stop_min"], given["stop_max"] - hose
    catch, least = Fraction(ferrule - opening) / 2, given["least_catch"]
    verdict = worst(("stop", (given["jaws"] == "flat", catch < least, (ferrule + hose) / 2 <= opening, opening <= hose, low < 0, high < 0)),
                    ("caution", ((ferrule + hose) / 2 - opening < least / 2,)))
    results = {"running_clearance": opening - hose, "catch": catch, "catch_least": float(past.min()), "margin_low": low, "margin_high": high}
    return results, verdict

STOPS = """
as set | hose_od=9.6 mm; ferrule_od=12 mm; opening=10.4 mm; stop_min=7.5 mm; stop_max=11.5 mm; least_catch=0.7 mm; jaws=round | go
opened two pins too far | opening=11.4 mm | stop
two flat jaws | jaws=flat | stop
opening grips the hose | opening=9.6 mm | stop
hose too thick for the stop | hose_od=12.2 mm; ferrule_od=14.9 mm; opening=13 mm | stop
hose too thin for the stop | hose_od=6.7 mm; ferrule_od=8.9 mm; opening=7.4 mm | stop
ferrule passes | ferrule_od=10.3 mm | stop
range typed backwards | stop_min=11.5 mm; stop_max=7.5 mm | stop
large hose | hose_od=14.6 mm; ferrule_od=17.6 mm; opening=15.2 mm; stop_min=12 mm; stop_max=18 mm; least_catch=0.8 mm | go
catch exactly the least | ferrule_od=11.8 mm | caution
catch a hundredth under the least | ferrule_od=11.78 mm | stop
to one side exactly half the least | hose_od=9.5 mm; opening=10.4 mm; ferrule_od=12 mm | go
to one side just under half the least | hose_od=9.48 mm; opening=10.4 mm; ferrule_od=12 mm | caution
held when centred, lost when pressed aside | hose_od=7.6 mm; opening=10 mm; ferrule_od=12.2 mm | stop
pressed aside the ferrule just touches | hose_od=8 mm; opening=10 mm; ferrule_od=12 mm | stop
hose as thick as the stop serves | hose_od=11.5 mm; opening=12.3 mm; ferrule_od=14.5 mm | go
hose as thin as the stop serves | hose_od=7.5 mm; opening=8.1 mm; ferrule_od=10 mm | go
a hundredth of running clearance | opening=9.61 mm | go
"""

# ---- level, jaw

def level(given):
    up, along, travel = given["height_difference"], given["span"], given["travel"]
    line = complex(along, up)
    drift = (float(travel) * line / float(along)).imag
    exact, allowed = up * travel / along, given["allowed_drift"]
    verdict = worst(("stop", (exact > allowed,)), ("caution", (exact > allowed / 2, along < travel)))
    return {"slope": line.imag / line.real, "angle": float(numpy.angle(line)), "drift": drift}, verdict

LEVELS = """
readings 24 in apart, travel 34.5 in | height_difference=0.125 in; span=24 in; travel=34.5 in; allowed_drift=0.125 in | stop
past half | height_difference=0.09375 in; span=46 in | caution
just at the allowance | span=34.5 in | caution
just past | height_difference=0.140625 in; span=34.5 in | stop
short span, small slope | height_difference=0.015625 in; span=12 in | caution
level | height_difference=0 in; span=46 in | go
wide exchanger | span=90 in; travel=80 in; allowed_drift=0.25 in | go
4 mm over 1.2 m, 3 mm allowed over 1 m | height_difference=0.15748031496062992 in; span=47.24409448818898 in; travel=39.37007874015748 in; allowed_drift=0.11811023622047245 in | stop
carriage hardly moves | height_difference=0.25 in; span=46 in; travel=6 in | go
exactly half the allowance | height_difference=1/16 in; span=34.5 in | go
level, but the span is shorter than the travel | height_difference=0 in; span=34.4 in | caution
within the allowance over the span, not over the travel | height_difference=2 mm; span=500 mm; travel=900 mm; allowed_drift=3 mm | stop
over the allowance across the span, not over the travel | height_difference=4 mm; span=2000 mm; travel=600 mm; allowed_drift=3 mm | go
no travel | height_difference=1 in; span=46 in; travel=0 in | go
"""

def jaw(given):
    closed, opened = given["flange_thickness"] - given["jaw_min"], given["jaw_max"] - given["flange_thickness"]
    least = given["least_travel"]
    return {"margin_closed": closed, "margin_open": opened}, worst(("stop", (closed < least, opened < least, closed <= 0, opened <= 0)))

JAWS = """
open to its mark | flange_thickness=3.25 in; jaw_min=0.625 in; jaw_max=3.25 in; least_travel=0.125 in | stop
exactly the least left, closed | flange_thickness=0.75 in | go
exactly the least left, open | flange_thickness=3.125 in | go
1/16 in left, closed | flange_thickness=0.6875 in | stop
1/16 in left, open | flange_thickness=3.1875 in | stop
nothing to spare with a least of 0 | flange_thickness=0.625 in; least_travel=0 in | stop
nothing to spare, open, with a least of 0 | least_travel=0 in | stop
thinner | flange_thickness=0.5 in | stop
90 mm in a jaw of 15 to 80 mm | flange_thickness=3.5433070866141736 in; jaw_min=0.5905511811023623 in; jaw_max=3.1496062992125986 in | stop
in the middle | flange_thickness=2 in | go
1/64 in left with a least of 0 | flange_thickness=41/64 in; least_travel=0 in | go
jaw that runs backwards | flange_thickness=2 in; jaw_min=3.25 in; jaw_max=0.625 in | stop
metric, exactly the least | flange_thickness=76.6 mm; jaw_min=16 mm; jaw_max=80 mm; least_travel=3.4 mm | go
"""

# ---- stops of the stroke: places of the nozzle's front, from the guide tube's shoulder

def stroke(given):
    rim = given["guide_tube_length"]
    far, nozzle = rim + given["tube_length"], given["nozzle_length"]
    forward, parked = far + given["overtravel"], rim - given["park_depth"]
    longer, shorter = 1 + given["length_change"], 1 - given["length_change"]
    off = given["stroke_error"]
    # The sheet stands off the guide tube by anything up to the gap, and the tube begins there.
    reached = [forward * change + more - far for change, more in ((longer, given["run_on_feed"] + off), (shorter, -off - given["gap"]))]
    behind = [rim - (parked * change - more) for change, more in ((shorter, given["run_on"] + off), (longer, -off))]
    # The nozzle's back has passed the gap and the depth; coming back the front runs on from the mark.
    inside = rim + given["gap"] + given["inside_depth"] + nozzle
    release = inside + max(given["run_on"], given["return_speed"] * given["dump_time"])
    verdict = worst(("stop", (reached[0] > given["overtravel_most"], reached[0] >= given["far_room"], behind[1] <= 0,
                              behind[0] + nozzle > rim, release >= forward)),
                    ("caution", (reached[1] < 0, reached[0] > nozzle)))
    return {"forward_stop": forward, "return_stop": parked, "stroke": forward - parked, "far_most": reached[0], "far_least": reached[1],
            "park_most": behind[0], "park_least": behind[1], "near_end": inside - rim, "pressure_mark": inside, "release_mark": release}, verdict

# No overtravel at all has a caution of its own, from the first edition.
STROKES = """
1 % either way | tube_length=14 ft; guide_tube_length=21.375 in; overtravel=1.5 in; nozzle_length=2.375 in; park_depth=3 in; length_change=1 %; run_on=2 in; run_on_feed=0.5 in; overtravel_most=6 in; far_room=20 in; gap=0.1875 in; inside_depth=12 in; return_speed=42 ft/min; dump_time=2 s; stroke_error=0 in | caution
far channel shallower than the reach | far_room=3.5 in | stop
run-on draws the nozzle out of the guide tube | guide_tube_length=12.75 in; length_change=0 %; run_on=8 in | stop
no overtravel | tube_length=10 ft; guide_tube_length=12 in; overtravel=0 in; nozzle_length=2 in; park_depth=2 in; length_change=0 %; run_on=1 in; run_on_feed=0.25 in; overtravel_most=4 in; far_room=12 in; gap=0.125 in; return_speed=30 ft/min; dump_time=1.5 s | not stop
hose shortens past the end | tube_length=20 ft; guide_tube_length=21 in; overtravel=1 in; nozzle_length=2.5 in; park_depth=4 in; gap=0.125 in; return_speed=30 ft/min | caution
short tubes, stiff hose | tube_length=6 ft; guide_tube_length=14 in; overtravel=1 in; nozzle_length=2.5 in; length_change=0.3 %; overtravel_most=4 in; far_room=10 in; gap=0.125 in | go
slow return | length_change=0.2 %; run_on=1 in; run_on_feed=0.25 in; inside_depth=6 in; return_speed=18 ft/min; dump_time=1 s | go
deep head | tube_length=20 ft; guide_tube_length=62 in; park_depth=4 in; length_change=0.5 %; run_on=3 in; far_room=40 in; gap=0.25 in | caution
tube too short to reach the pressure mark and dump | tube_length=2 ft; length_change=0 % | stop
reaches exactly as far as it may | guide_tube_length=29 in; overtravel=3 in; nozzle_length=6 in; overtravel_most=5.5 in | go
a hundredth too far | guide_tube_length=29 in; overtravel=3 in; nozzle_length=6 in; overtravel_most=5.49 in | stop
reaches just to the far wall | guide_tube_length=29 in; overtravel=3 in; nozzle_length=6 in; far_room=5.5 in | stop
a hundredth short of the far wall | guide_tube_length=29 in; overtravel=3 in; nozzle_length=6 in; far_room=5.51 in | go
reaches exactly the nozzle's length | guide_tube_length=29 in; overtravel=3 in; nozzle_length=5.5 in | go
leaves the tube whole | guide_tube_length=29 in; overtravel=3 in; nozzle_length=5.49 in | caution
just to the far end | guide_tube_length=29.8125 in; overtravel=2.1875 in; nozzle_length=6 in | go
parks just at the rim | guide_tube_length=21 in; park_depth=1 in; length_change=5 %; overtravel=9.9 in; overtravel_most=21 in; far_room=40 in | stop
backs just to the shoulder | guide_tube_length=29 in; overtravel=3 in; nozzle_length=6 in; park_depth=3 in; run_on=19.74 in | go
backs past the shoulder | guide_tube_length=29 in; overtravel=3 in; nozzle_length=6 in; park_depth=3 in; run_on=19.75 in | stop
released just at the forward stop | tube_length=28.8625 in; length_change=0 % | stop
run-on longer than the way of the dump | dump_time=0.1 s; length_change=0.2 %; nozzle_length=2.5 in | go
a stop off by as much as there is | guide_tube_length=29 in; overtravel=3 in; nozzle_length=6 in; overtravel_most=6.25 in; stroke_error=0.75 in | caution
a stop off by a hundredth more | guide_tube_length=29 in; overtravel=3 in; nozzle_length=6 in; overtravel_most=6.25 in; stroke_error=0.76 in | stop
a stop off by the park depth | guide_tube_length=29 in; overtravel=3 in; nozzle_length=6 in; park_depth=1 in; length_change=0 %; stroke_error=1 in | stop
a stop off by the overtravel | length_change=0 %; nozzle_length=4 in; stroke_error=1.6 in | caution
metric | tube_length=6.1 m; guide_tube_length=560 mm; overtravel=60 mm; nozzle_length=80 mm; park_depth=90 mm; length_change=0.5 %; run_on=50 mm; run_on_feed=12 mm; overtravel_most=150 mm; far_room=500 mm; gap=5 mm; inside_depth=300 mm; return_speed=12 m/min | caution
"""

# ---- index plan

def plan(given):
    inches = {name: float(given[name] / Fraction(254, 10000)) for name in ("tube_pitch", "tube_od", "bundle_diameter", "lane_width")}
    # A layout is read as a number there.
    layout = str(int(given["layout"]))
    found = sheet(layout, inches["tube_pitch"], inches["tube_od"], inches["bundle_diameter"], given["centre"], inches["lane_width"])
    lances, skip = int(given["lances"]), int(given["skip"])
    setups, total, short, moves, odd = strokes(found, lances, skip)
    longest = max(len(row) for row in found.values())
    # Two lances one above the other take no two tubes of a row.
    astray = lances > 1 and given["direction"] == "across-rows"
    verdict = worst(("stop", (astray, longest <= (lances - 1) * skip, short > 0 and given["odd_method"] == "undecided")))
    return {"setups": setups, "strokes": total, "short_strokes": short, "odd_tubes": odd, "moves": moves}, verdict

# More short strokes than whole ones have a caution of their own, from the first edition.
PLANS = """
lane of a row, two lances | layout=30; tube_pitch=1 in; tube_od=0.75 in; bundle_diameter=22.25 in; centre=on-tube; lane_width=0.9375 in; lances=2; skip=1; direction=along-row; odd_method=dummy | go
24 in bundle | bundle_diameter=24 in; odd_method=single | go
60 degrees | layout=60; bundle_diameter=18 in; lane_width=0 in; odd_method=single | go
45 degrees | layout=45; tube_pitch=1.25 in; tube_od=1 in; bundle_diameter=30 in; lane_width=0 in | go
between tubes, square | layout=90; bundle_diameter=20 in; centre=between-tubes; lane_width=0 in | go
between tubes, 30 degrees | bundle_diameter=12 in; centre=between-tubes; lane_width=0 in | go
lances reach over the longest row | layout=90; bundle_diameter=3.75 in; lane_width=0 in; skip=4 | stop
skip 3, four lances | bundle_diameter=28 in; lane_width=1.5 in; lances=4; skip=3; odd_method=single | go
two lances, skip 2, lane | layout=90; bundle_diameter=26 in; lane_width=2 in; skip=2 | go
short strokes, nobody decided | odd_method=undecided | stop
no short stroke, nobody decided | layout=90; bundle_diameter=20 in; centre=between-tubes; lane_width=0 in; odd_method=undecided | go
one lance never comes short | lances=1; odd_method=undecided | go
three lances on short rows | bundle_diameter=9 in; lances=3; lane_width=0 in | go
seven lances: most strokes come short | bundle_diameter=9 in; lances=7; lane_width=0 in | not stop
three lances on short rows, nobody decided | bundle_diameter=9 in; lances=3; lane_width=0 in; odd_method=undecided | stop
five lances, single | bundle_diameter=31 in; lances=5; odd_method=single | go
across the rows | direction=across-rows | stop
across the rows, no short stroke | layout=90; bundle_diameter=20 in; centre=between-tubes; lane_width=0 in; direction=across-rows | stop
one lance stands nowhere | lances=1; direction=across-rows | go
"""

# ---- what pulls on the hose's stop

def ejection(given):
    if "relief_setting" not in given:
        return {}, "stop"
    full = float(given["relief_setting"] * (1 + given["relief_rise"]))
    # Momentum of the jets: mass flow times speed; the density falls out.
    density = 999.1
    speed = sqrt(2 * full / density)
    flow = float(given["front_count"] * given["discharge_coefficient"]) * pi / 4 * float(given["orifice_diameter"]) ** 2 * speed
    thrust = density * flow * speed * cos(given["front_angle"])
    bore, end = (quad(lambda r: 2 * pi * r, 0, float(given[name]) / 2)[0] for name in ("tube_bore", "hose_bore"))
    # Each face grips with friction on the same push.
    grips = {name: sum(float(given[name] * given["clamp_push"]) for _ in range(int(given["driven_faces"]))) for name in ("grip_coefficient", "grip_least")}
    pull, least_pull = grips.values()
    # The plug is pressed to what the rollers hold and the jets push; reversed, the rollers pull along.
    load = pull + (pull + thrust)
    test, proof = float(given["yard_pull_test"]), float(given["proof_factor"])
    allowed = float(given["lance_rating"]) * end
    def spare(pressure):
        return test - proof * (pressure * bore + pull + thrust)
    results = {
        "front_thrust_plugged": thrust, "drive_pull": pull, "slip_pressure": brentq(lambda p: p * bore - least_pull, 0, 1e12, rtol=1e-14),
        "trapped_push": full * bore, "worst_load": load, "least_pull_test": proof * load, "end_load": allowed,
        "held_pressure": brentq(spare, 0, 1e12, xtol=1e-6, rtol=1e-14) if spare(0) > 0 else 0.0,
    }
    if given["relief"] == "none":
        # Whatever a tag once said, nothing limits the pressure, nor what hangs on it.
        results |= dict.fromkeys(("front_thrust_plugged", "trapped_push", "worst_load", "least_pull_test", "held_pressure"), "none")
    # Filled while it is packed: does the test's share still hold plug, drive and jets?
    thrown = given["relief"] != "none" and spare(float(given["fill_pressure"])) <= 0
    return results, worst(("stop", (given["relief"] == "none", test < proof * load * (1 - 1e-12), max(proof * load, test) > allowed)),
                          ("caution", (thrown, results["held_pressure"] != "none" and results["held_pressure"] < results["slip_pressure"])))

EJECTIONS = """
pull test of 65 lbf | fill_pressure=70 psi; relief=valve; relief_setting=12500 psi; relief_rise=10 %; tube_bore=0.62 in; front_count=1; orifice_diameter=0.5 mm; discharge_coefficient=0.76; front_angle=15 deg; clamp_push=149 lbf; driven_faces=2; grip_coefficient=0.5; grip_least=0.2; lance_rating=22000 psi; hose_bore=4 mm; proof_factor=1.25; yard_pull_test=65 lbf | stop
pull test of 385 lbf | yard_pull_test=385 lbf | go
test just short | yard_pull_test=380 lbf | stop
factor 1.5: past what the hose end is rated for | proof_factor=1.5; yard_pull_test=470 lbf | stop
yard tests harder than the hose end is rated for | clamp_push=100 lbf; grip_coefficient=0.4; yard_pull_test=450 lbf | stop
one driven face | driven_faces=1; yard_pull_test=200 lbf | go
wide tube | tube_bore=1.1 in; orifice_diameter=0.6 mm; discharge_coefficient=0.8; clamp_push=160 lbf; grip_coefficient=0.4; grip_least=0.15; lance_rating=16500 psi; hose_bore=6 mm; yard_pull_test=350 lbf | go
burst disc | relief_setting=13000 psi; relief_rise=5 %; clamp_push=140 lbf; grip_coefficient=0.45; yard_pull_test=330 lbf | go
regulator wide open: 264 lbf of clamp push | clamp_push=264 lbf; yard_pull_test=385 lbf | stop
no hole in front: the test is exactly the least | front_count=0; clamp_push=100 lbf; yard_pull_test=250 lbf | go
a tenth of a pound-force short | front_count=0; clamp_push=100 lbf; yard_pull_test=249.9 lbf | stop
pull test just inside the hose end's rating | yard_pull_test=428.5 lbf | go
pull test just past it | yard_pull_test=428.6 lbf | stop
the least test itself past it | lance_rating=19000 psi; yard_pull_test=365 lbf | stop
no relief device | relief=none; yard_pull_test=385 lbf | stop
no relief device, no tag | relief=none; relief_setting=; relief_rise=; yard_pull_test=385 lbf | stop
four holes straight ahead | front_count=4; front_angle=0 deg; clamp_push=80 lbf; yard_pull_test=300 lbf | go
jets nearly straight to the side | front_angle=85 deg; yard_pull_test=385 lbf | go
tube of 3 in: filling alone throws the lance | tube_bore=3 in; yard_pull_test=385 lbf | caution
tube of 1.6 in: filling is held | tube_bore=1.6 in; yard_pull_test=385 lbf | go
filled with 200 psi | tube_bore=1.1 in; fill_pressure=200 psi; yard_pull_test=385 lbf | caution
"""

# ---- the lance in its tube, and how far off its middle it may be

def turns_round(length, thick, bore):
    """Whether a rigid rod can be turned end over end in a bore: how much room it takes across, at every
    angle, with square ends and with round ones. Through the middle of the bore there is the most room."""
    angle = numpy.linspace(0, pi / 2, 9001)
    square = length * numpy.sin(angle) + thick * numpy.cos(angle)
    round_ends = thick + max(length - thick, 0) * numpy.sin(angle)
    return min(square.max(), round_ends.max()) < bore

# One as long as the bore is wide never turns, however thin; a shorter one does once it is thin enough.
assert not any(turns_round(ratio * bore, thick * bore, bore) for bore in (0.005, 0.02, 0.2) for ratio in (1, 1.2, 1.5) for thick in (0.001, 0.3, 0.6, 0.99))
assert all(turns_round(0.99 * bore, 0.1 * bore, bore) for bore in (0.005, 0.02, 0.2))

def fit(given):
    opened = given["tube_bore"] - 2 * given["deposit"]
    largest, guide = given["largest_diameter"], given["guide_tube_bore"]
    clearance, guide_clearance = (opened - largest) / 2, (guide - largest) / 2
    results = {"open_bore": opened, "clearance": clearance, "guide_clearance": guide_clearance}
    if opened <= 0:
        results |= {"open_bore": "none", "clearance": "none"}
    if clearance > 0:
        free = quad(lambda r: 2 * pi * r, float(largest) / 2, float(opened) / 2)[0]
        results |= {"flush_area": free, "flush_ratio": free / quad(lambda r: 2 * pi * r, 0, float(opened) / 2)[0]}
    ratio = 1 - (largest / opened) ** 2 if opened > 0 else 0
    wider = max(given["tube_bore"], given["guide_tube_bore"])
    results["turn_length"] = given["turn_ratio"] * wider
    short = given["nozzle_length"] < results["turn_length"]
    # The rule must leave out all that can turn round in the clean tube or in the guide tube.
    assert short or not turns_round(float(given["nozzle_length"]), float(given["largest_diameter"]), float(wider)), given
    return results, worst(("stop", (clearance <= 0, clearance < given["least_clearance"], guide_clearance <= 0, guide_clearance < given["guide_least"], ratio < given["flush_stop"], short)),
                          ("caution", (ratio < given["flush_caution"], clearance < given["deposit"])))

FITS = """
clean | nozzle_length=3.25 in; turn_ratio=1.5; tube_bore=0.62 in; deposit=0 in; largest_diameter=12 mm; guide_tube_bore=0.493 in; least_clearance=0.5 mm; guide_least=0.2 mm; flush_stop=20 %; flush_caution=35 % | go
does not enter | tube_bore=0.43 in | stop
does not enter the fouled bore only | deposit=0.08 in | stop
does not pass its own guide tube | tube_bore=0.87 in; largest_diameter=13.4 mm | stop
flakes thicker than the gap | tube_bore=0.87 in; deposit=0.12 in; guide_tube_bore=0.622 in | caution
wide | tube_bore=1.1 in; deposit=0.03 in; largest_diameter=14.9 mm; guide_tube_bore=0.622 in | go
1 in tube of 16 BWG, 10.6 mm ferrule | tube_bore=0.87 in; deposit=0.05 in; largest_diameter=10.6 mm | go
under the least clearance | tube_bore=0.515748031496063 in; largest_diameter=12.2 mm; flush_stop=5 %; flush_caution=10 % | stop
ratio just over the stop | deposit=0.06 in; largest_diameter=11 mm | caution
ratio exactly the stop | tube_bore=15 mm; largest_diameter=13.5 mm; guide_tube_bore=15 mm; flush_stop=19 % | caution
ratio just under the stop | tube_bore=15 mm; largest_diameter=13.5 mm; guide_tube_bore=15 mm; flush_stop=19.01 % | stop
ratio exactly the caution | tube_bore=15 mm; flush_caution=36 % | go
ratio just under the caution | tube_bore=15 mm; flush_caution=36.01 % | caution
clearance exactly the least | tube_bore=13 mm; flush_stop=5 %; flush_caution=10 % | go
fits like a plug | tube_bore=12 mm; flush_stop=0 %; flush_caution=0 % | stop
fits its guide tube like a plug | guide_tube_bore=12 mm | stop
flakes as thick as the gap | tube_bore=20 mm; deposit=2 mm | go
flakes just thicker than the gap | tube_bore=20 mm; deposit=2.01 mm | caution
rigid end of just one and a half bores | tube_bore=20 mm; nozzle_length=30 mm | go
a hundredth shorter | tube_bore=20 mm; nozzle_length=29.99 mm | stop
short in the clean tube, long enough in the deposit | tube_bore=20 mm; deposit=1 mm; nozzle_length=28 mm | stop
as long as the bore is wide, and no more asked | tube_bore=20 mm; nozzle_length=20 mm; turn_ratio=1 | go
shorter than the bore is wide | tube_bore=20 mm; nozzle_length=19.9 mm; turn_ratio=1 | stop
shorter than the guide tube is wide | tube_bore=20 mm; guide_tube_bore=30 mm; nozzle_length=29 mm; turn_ratio=1 | stop
two bores asked | tube_bore=20 mm; nozzle_length=39 mm; turn_ratio=2 | stop
guide tube clears the lance by exactly the least | guide_tube_bore=12.4 mm | go
guide tube a hundredth under the least | guide_tube_bore=12.39 mm | stop
deposit shuts the bore | deposit=0.31 in | stop
deposit leaves a hair | tube_bore=20 mm; deposit=9.99 mm | stop
"""

def budget(given):
    drift = given["slope"] * given["travel"]
    others = [given["sag"], given["pitch_error"], given["gap"] * Fraction(tan(given["tilt"])), given["play"]]
    furthest = [max(sum(sign * size for sign, size in zip(signs, sizes)) for signs in itertools.product((-1, 1), repeat=len(sizes)))
                for sizes in ([drift, *others], others)]
    left, allowed = (given["clearance"] - far for far in furthest)
    return {"drift": drift, "offset": furthest[0], "left": left, "drift_allowed": allowed}, worst(
        ("stop", (left <= 0,)), ("caution", (left < given["clearance"] / 4, given["allowed_drift"] > allowed)))

BUDGETS = """
level well | slope=0.3 mm/m; travel=34.5 in; sag=0.007 in; pitch_error=0.005 in; gap=0.1875 in; tilt=0.024 deg; play=0.01 in; clearance=0.0738 in; allowed_drift=0.045 in | go
nothing left | slope=1 mm/m; travel=40 in; sag=0.01 in; pitch_error=0.01 in; gap=0.25 in; tilt=0.03 deg; clearance=0.07 in; allowed_drift=0.03 in | stop
yard's allowance looser than the tube | slope=0.2 mm/m; sag=0.005 in; tilt=0.02 deg; allowed_drift=0.125 in | caution
long guide tube sags | slope=0.5 mm/m; travel=30 in; sag=0.09 in; gap=0.25 in; tilt=0.3 deg; play=0.012 in; clearance=0.1 in; allowed_drift=0.02 in | stop
pitch screw out by 1/32 | pitch_error=0.03125 in; allowed_drift=0.02 in | caution
no travel | slope=5 mm/m; travel=0 in; allowed_drift=0.04 in | go
tilted guide tube, wide gap | travel=20 in; sag=0.02 in; gap=0.3125 in; tilt=1 deg; allowed_drift=0.03 in | go
perfect | slope=0 mm/m; sag=0 in; pitch_error=0 in; tilt=0 deg; play=0 in; clearance=0.05 in; allowed_drift=0.05 in | go
used up exactly | slope=1 mm/m; travel=1 m; sag=0.7 mm; pitch_error=0.2 mm; tilt=0 deg; play=0.1 mm; clearance=2 mm; allowed_drift=0.5 mm | stop
a thousandth of a millimetre left | slope=1 mm/m; travel=1 m; sag=0.7 mm; pitch_error=0.2 mm; tilt=0 deg; play=0.099 mm; clearance=2 mm; allowed_drift=0.5 mm | caution
exactly a quarter left | slope=0.5 mm/m; travel=1 m; sag=0.7 mm; pitch_error=0.2 mm; tilt=0 deg; play=0.1 mm; clearance=2 mm; allowed_drift=0.5 mm | go
just under a quarter left | slope=0.5 mm/m; travel=1 m; sag=0.71 mm; pitch_error=0.2 mm; tilt=0 deg; play=0.1 mm; clearance=2 mm; allowed_drift=0.5 mm | caution
the yard allows exactly what is left for drift | slope=0.1 mm/m; travel=1 m; sag=0.7 mm; pitch_error=0.2 mm; tilt=0 deg; play=0.1 mm; clearance=2 mm; allowed_drift=1 mm | go
the yard allows a hundredth more | slope=0.1 mm/m; travel=1 m; sag=0.7 mm; pitch_error=0.2 mm; tilt=0 deg; play=0.1 mm; clearance=2 mm; allowed_drift=1.01 mm | caution
"""

if __name__ == "__main__":
    order = "1e-9 the same geometry in another order of rounding"
    tiny = 1e-12
    compare("hose-stop-range-circles", "hose-stop-range", "circles beside each other, numpy 2.4, every tenth of a degree; differences as exact fractions", order, STOPS, stop_range,
            dict.fromkeys(("running_clearance", "catch", "catch_least", "margin_low", "margin_high"), tiny))
    compare("rail-level-travel", "rail-level", "complex numbers, numpy 2.4", order, LEVELS, level)
    compare("clamp-jaw-travel", "clamp-jaw", "exact fractions", order, JAWS, jaw, dict.fromkeys(("margin_closed", "margin_open"), tiny))
    compare("stroke-stops-reach", "stroke-stops", "places of the nozzle on the axis, as exact fractions; a hose of wire braid changes its length by +2 to -4 % (ISO 1436, from memory)", order,
            STROKES, stroke, dict.fromkeys(("far_most", "far_least", "park_most", "park_least"), tiny))
    compare("index-plan-odd", "index-plan", "a walk over every tube of the lattice, by its two basis vectors", "0 whole strokes", PLANS, plan)
    compare("ejection-load-cases", "ejection-load", "momentum of the jets, areas by integration, forces balanced; scipy 1.17.1 (quad, brentq). Friction between roller and hose: common practice, no published source. A proof load of 1.25 times: ASME B30 (from memory)",
            "1e-9 the same balance in another order of rounding", EJECTIONS, ejection, {"front_thrust_plugged": 1e-9, "held_pressure": 0.01})
    compare("lance-fit-areas", "lance-fit", "exact fractions; areas by integration, scipy 1.17.1 (quad). Limits of the flush ratio: common practice, no published source", order, FITS, fit,
            dict.fromkeys(("clearance", "guide_clearance"), tiny))
    compare("alignment-budget-signs", "alignment-budget", "the largest sum over all combinations of signs, as exact fractions", order, BUDGETS, budget,
            dict.fromkeys(("drift", "offset", "left", "drift_allowed"), tiny))
