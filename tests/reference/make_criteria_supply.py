"""Writes the reference values for wear, stored energy, tanks and pans, trials, gauges and clamps.

Run it in an environment with the packages of requirements.txt; it rewrites its CSV files. Nothing
here uses the project's own formulas: tanks are emptied step by step, energy is the difference of a
potential, jets and clamps are put into balance.
"""

from fractions import Fraction
from math import isclose, pi, sqrt

import numpy
from CoolProp.CoolProp import PropsSI
from scipy.optimize import brentq
from scipy.stats import binomtest

from criteria import compare
from make_criteria_fit import worst

ATM = 101325.0

# ---- wear of the nozzle

def wear(given):
    size = {name: float(value) for name, value in given.items()}
    # The effective area at both times, from the jet's speed behind the hose.
    density = 999.1
    def area(flow, gauge, loss):
        return flow / sqrt(2 * (gauge - loss) / density)
    now_to_new = size["flow_now"] / size["flow_new"]
    new = area(size["flow_new"], size["pressure_new"], size["hose_loss"])
    now = area(size["flow_now"], size["pressure_now"], size["hose_loss"] * now_to_new**1.75)
    # A hole whose area grows as much.
    hole = brentq(lambda d: (d / size["orifice_diameter"]) ** 2 - now / new, 0, 10, xtol=1e-18, rtol=1e-14)
    growth = (now - new) / new
    results = {"area_growth": growth, "wear": (hole - size["orifice_diameter"]) / size["orifice_diameter"], "diameter_now": hole,
               "flow_at_working_pressure": now * sqrt(2 * (size["pressure_new"] - size["hose_loss"]) / density)}
    def reached(limit):
        return growth > limit or isclose(growth, limit, rel_tol=1e-12)
    return results, worst(("stop", (reached(size["wear_stop"]), growth < -0.03)), ("caution", (reached(size["wear_caution"]),)))

WEAR = """
no change | pressure_new=11000 psi; pressure_now=11000 psi; hose_loss=2400 psi; flow_new=4.05 gal/min; flow_now=4.05 gal/min; orifice_diameter=0.5 mm; wear_caution=5 %; wear_stop=10 % | go
11 000 to 10 200, hose loss 2400 | pressure_now=10200 psi | caution
11 000 to 9500 | pressure_now=9500 psi | stop
area and 10 % | pressure_new=10000 psi; pressure_now=8264.462809917355 psi; hose_loss=0 psi; flow_new=4 gal/min; flow_now=4 gal/min; orifice_diameter=0.6 mm; wear_stop=10.0000001 % | caution
pressure a little up: gauge scatter | pressure_now=11200 psi | go
slower pump | pressure_now=9300 psi; flow_now=3.72 gal/min | go
large nozzle | pressure_new=8000 psi; pressure_now=7000 psi; hose_loss=800 psi; flow_new=12 gal/min; flow_now=12 gal/min; orifice_diameter=1.2 mm | caution
quarter power: 16 to 1 | pressure_new=16000 psi; pressure_now=1000 psi; hose_loss=0 psi; flow_new=5 gal/min; flow_now=5 gal/min | stop
pressure risen, one of six holes | pressure_new=9500 psi; pressure_now=12300 psi; hose_loss=1200 psi; flow_new=5 gal/min; flow_now=5 gal/min; orifice_diameter=0.6 mm | stop
exactly what stops | pressure_new=10000 psi; pressure_now=6400 psi; hose_loss=0 psi; wear_stop=25 % | stop
a hundredth below it | pressure_new=10000 psi; pressure_now=6400 psi; hose_loss=0 psi; wear_stop=25.01 % | caution
exactly what asks for caution | pressure_new=10000 psi; pressure_now=6400 psi; hose_loss=0 psi; wear_caution=25 %; wear_stop=40 % | caution
a hundredth below that | pressure_new=10000 psi; pressure_now=6400 psi; hose_loss=0 psi; wear_caution=25.01 %; wear_stop=40 % | go
2.9 % less | pressure_new=10000 psi; pressure_now=10606 psi; hose_loss=0 psi | go
3.01 % less: a hole is plugged | pressure_new=10000 psi; pressure_now=10630 psi; hose_loss=0 psi | stop
the same pressure from a faster pump | flow_now=4.3 gal/min | caution
"""

# ---- energy in a hose

def energy(given):
    size = {name: float(value) for name, value in given.items()}
    volume = pi / 4 * size["bore"] ** 2 * size["length"]
    def state(gauge):
        at = ("T", size["water_temperature"], "P", ATM + gauge, "Water")
        return PropsSI("Helmholtzmass", *at), 1 / PropsSI("D", *at)
    (full, small), (spent, large) = state(size["pressure"]), state(0)
    mass = volume * (1 + size["volume_growth"]) / small
    # Isothermal work is the fall of the free energy, less what pushes the atmosphere back.
    water = mass * (full - spent - ATM * (large - small))
    # A wall that gives way in proportion: the mean pressure times the volume that it gave.
    walls = numpy.trapezoid([0.0, size["pressure"]], [0.0, size["volume_growth"] * volume])
    return {"released_volume": mass * large - volume, "water_energy": water, "hose_energy": walls, "energy": water + walls}, "caution"

ENERGY = """
two lance hoses as one length | bore=4 mm; length=90 ft; pressure=11000 psi; water_temperature=12 degC; volume_growth=2 % | caution
supply hose, 13 mm × 150 ft | bore=13 mm; length=150 ft | caution
1000 bar, 1 L, stiff | bore=10 mm; length=41.77 ft; pressure=14503.77 psi; water_temperature=15 degC; volume_growth=0 % | caution
1400 bar | bore=5 mm; length=66 ft; pressure=20305 psi; water_temperature=15 degC; volume_growth=1.5 % | caution
warm | length=45 ft; water_temperature=40 degC | caution
low | bore=8 mm; length=100 ft; pressure=1500 psi; water_temperature=15 degC; volume_growth=1 % | caution
40 000 psi | bore=5 mm; length=100 ft; pressure=40000 psi; water_temperature=15 degC; volume_growth=1 % | caution
no growth | bore=6 mm; length=66 ft; pressure=14504 psi; water_temperature=15 degC; volume_growth=0 % | caution
fill pressure only | length=45 ft; pressure=70 psi; volume_growth=0.02 % | caution
cold | water_temperature=2 degC | caution
a hose that grows by a tenth | pressure=3000 psi; volume_growth=10 % | caution
"""

# ---- tanks and pans

def minutes(volume, flow):
    """How long a volume lasts at a flow: whole minutes by the clock, then the part of one."""
    gone = passed = Fraction(0)
    while gone + flow * 60 <= volume and passed < 60000:
        gone, passed = gone + flow * 60, passed + 60
    return passed + (volume - gone) / flow

def tank(given):
    usable = max(Fraction(0), given["tank_volume"] * given["level_now"] - given["tank_volume"] * given["least_level"])
    shortfall = max(Fraction(0), given["flow_out"] - given["flow_in"])
    left = minutes(usable, shortfall) if shortfall else None
    def under(time):
        return left is not None and left < time
    def late(given):
        # Once the delivery is due and not there, the crew begins to shut down.
        return left is not None and left - given["needed_time"] < given["shutdown_time"]
    # The supply may stop at any time: then all that the pump takes comes out of the tank.
    alone = minutes(usable, given["flow_out"]) if given["flow_out"] else None
    verdict = worst(("stop", (usable <= 0, under(given["shutdown_time"]))),
                    ("caution", (under(2 * given["shutdown_time"]), late(given), alone is not None and alone < given["shutdown_time"],
                                 left is not None and given["needed_time"] == 0)))
    return {"usable": usable, "shortfall": shortfall, "time_left": "none" if left is None else left}, verdict

TANKS = """
full, no inflow | tank_volume=500 gal; level_now=100 %; least_level=20 %; flow_out=8.1 gal/min; flow_in=0 gal/min; shutdown_time=10 min; needed_time=45 min | caution
the same with a delivery 39 min away | needed_time=39 min | go
inflow covers it | level_now=60 %; flow_in=9 gal/min; needed_time=600 min | go
shorter than planned | level_now=60 %; needed_time=60 min | caution
under the stop time | level_now=35 %; needed_time=5 min | stop
below the least level | level_now=12 %; needed_time=5 min | stop
below the least level but filling | level_now=12 %; flow_in=20 gal/min; needed_time=5 min | stop
large tank | tank_volume=3200 gal; level_now=90 %; least_level=10 %; flow_out=20 gal/min; flow_in=4 gal/min; shutdown_time=15 min; needed_time=120 min | go
exactly the stop time | tank_volume=400 gal; level_now=40 %; flow_out=8 gal/min; needed_time=5 min | caution
hose pinched | level_now=80 %; flow_out=30 gal/min; flow_in=12 gal/min; needed_time=15 min | caution
a second under the stop time | tank_volume=400 gal; level_now=40 %; flow_out=8 gal/min; needed_time=5 min; shutdown_time=601 s | stop
exactly twice the stop time | tank_volume=400 gal; level_now=60 %; flow_out=8 gal/min; needed_time=5 min | go
a second under twice the stop time | tank_volume=400 gal; level_now=60 %; flow_out=8 gal/min; needed_time=5 min; shutdown_time=601 s | caution
exactly until the delivery, no time to shut down if it is late | tank_volume=400 gal; level_now=60 %; flow_out=8 gal/min; needed_time=20 min; shutdown_time=5 min | caution
exactly as long as needed and to shut down | tank_volume=400 gal; level_now=60 %; flow_out=8 gal/min; needed_time=15 min; shutdown_time=5 min | go
a second less | tank_volume=400 gal; level_now=60 %; flow_out=8 gal/min; needed_time=901 s; shutdown_time=5 min | caution
a second less than needed | tank_volume=400 gal; level_now=60 %; flow_out=8 gal/min; needed_time=1201 s; shutdown_time=5 min | caution
no delivery counted on | tank_volume=400 gal; level_now=60 %; flow_out=8 gal/min; needed_time=0 min | caution
as much in as out over little water | tank_volume=400 gal; level_now=21 %; flow_out=8 gal/min; flow_in=8 gal/min | caution
exactly at the least level | level_now=20 % | stop
as much in as out | level_now=50 %; flow_in=8.1 gal/min | go
metric | tank_volume=4000 L; level_now=75 %; least_level=15 %; flow_out=40 L/min; flow_in=10 L/min; needed_time=70 min | go
metric, ten minutes to shut down don't fit | tank_volume=4000 L; level_now=75 %; least_level=15 %; flow_out=40 L/min; flow_in=10 L/min; needed_time=75 min | caution
"""

def pan(given):
    # A cycle of 100 minutes, in which the lances run for the share and dump for the rest.
    running = 100 * given["running_share"]
    inflow = (running * given["flow"] + (100 - running) * given["dump_flow"]) / 100
    peak = max(given["flow"], given["dump_flow"]) - given["removal_flow"]
    rise, room = inflow - given["removal_flow"], given["free_volume"]
    full, highest = (minutes(room, flow) if flow > 0 else None for flow in (rise, peak))
    # What draws the water off may stop at any time: then all of it runs in.
    most = max(given["flow"], given["dump_flow"])
    alone = minutes(room, most) if most > 0 else None
    verdict = worst(("stop", (room <= 0, full is not None and full < given["needed_time"], highest is not None and highest < given["shutdown_time"])),
                    ("caution", (rise > 0, highest is not None and highest < 2 * given["shutdown_time"], alone is not None and alone < given["shutdown_time"])))
    times = {name: "none" if time is None else time for name, time in (("time_to_full", full), ("peak_time", highest))}
    # What runs in at the peak from the word to stop until the pump stands, second by second.
    seconds = given["shutdown_time"]
    assert seconds.denominator == 1
    room = sum((peak for _ in range(int(seconds))), Fraction(0)) if peak > 0 else Fraction(0)
    return {"inflow": inflow, "rise_rate": rise, "peak_rise": peak, "shutdown_room": room} | times, verdict

PANS = """
dump goes elsewhere | flow=8.1 gal/min; dump_flow=0 gal/min; running_share=60 %; free_volume=60 gal; removal_flow=6 gal/min; shutdown_time=5 min; needed_time=120 min | go
overflows before it is emptied | dump_flow=8.1 gal/min; free_volume=100 gal | stop
no removal | dump_flow=8.1 gal/min; free_volume=500 gal; removal_flow=0 gal/min; needed_time=60 min | caution
no removal, small pan | dump_flow=8.1 gal/min; free_volume=30 gal; removal_flow=0 gal/min; needed_time=60 min | stop
as much out as in | dump_flow=8.1 gal/min; removal_flow=8.1 gal/min | go
pan full | dump_flow=8.1 gal/min; free_volume=0 gal | stop
dump flow above the lances' flow | dump_flow=12 gal/min; running_share=50 %; free_volume=200 gal; removal_flow=10 gal/min | caution
never running, all dumped | flow=15 gal/min; dump_flow=15 gal/min; running_share=0 %; free_volume=200 gal; removal_flow=12 gal/min; needed_time=60 min | caution
peak just held, and little room if that stops | flow=14 gal/min; running_share=50 %; removal_flow=13 gal/min; needed_time=60 min | caution
peak fills it in exactly the stop time | flow=14 gal/min; running_share=50 %; removal_flow=8 gal/min; free_volume=30 gal | caution
a second sooner | flow=14 gal/min; running_share=50 %; removal_flow=8 gal/min; free_volume=30 gal; shutdown_time=301 s | stop
full in exactly the time needed | flow=10 gal/min; running_share=100 %; removal_flow=8 gal/min; free_volume=240 gal | caution
a second sooner than needed | flow=10 gal/min; running_share=100 %; removal_flow=8 gal/min; free_volume=240 gal; needed_time=7201 s | stop
steady on the whole, too fast at its peak | flow=20 gal/min; running_share=25 %; removal_flow=6 gal/min; free_volume=60 gal | stop
more removed than ever enters, and little room if that stops | dump_flow=8.1 gal/min; removal_flow=20 gal/min; free_volume=5 gal | caution
more removed than ever enters, and no room | dump_flow=8.1 gal/min; removal_flow=20 gal/min; free_volume=0 gal | stop
"""

# ---- trials

def trial(given):
    tried, clean = int(given["tubes_tried"]), int(given["clean_first_pass"])
    low, high = binomtest(clean, tried).proportion_ci(confidence_level=0.95, method="wilson")
    results = {"share_clean": clean / tried, "share_low": low, "share_high": high}
    if clean:
        results |= {"passes_to_plan": 1 / low, "effective_speed": float(given["feed_speed"]) * low}
    else:
        results |= {"passes_to_plan": "none"}
    return results, worst(("stop", (clean == 0,)), ("caution", (tried < 10, low < 0.5)))

TRIALS = """
20 of 20 | tubes_tried=20; clean_first_pass=20; feed_speed=18 ft/min | go
0 of 20 | clean_first_pass=0 | stop
10 of 20 | clean_first_pass=10 | caution
15 of 20 | clean_first_pass=15 | go
1 of 1 | tubes_tried=1; clean_first_pass=1 | caution
6 of 10 | tubes_tried=10; clean_first_pass=6; feed_speed=24 ft/min | caution
30 of 30 | tubes_tried=30; clean_first_pass=30; feed_speed=30 ft/min | go
1 of 20 | clean_first_pass=1 | caution
190 of 200 | tubes_tried=200; clean_first_pass=190; feed_speed=20 ft/min | go
10 of 10 | tubes_tried=10; clean_first_pass=10 | go
9 of 9 | tubes_tried=9; clean_first_pass=9 | caution
14 of 20: a low end of 48 % | clean_first_pass=14 | caution
0 of 1 | tubes_tried=1; clean_first_pass=0 | stop
9999 of 10 000 | tubes_tried=10000; clean_first_pass=9999; feed_speed=6 m/min | go
"""

# ---- gauges

def window(given):
    expected, faster = given["expected"], 1 + given["speed_error"]
    # What a pump that runs faster makes at its square, and what the gauge may be off.
    off = given["gauge_class"] * given["gauge_scale"] + (expected * faster * faster - expected)
    low, high, plugged = expected - off, expected + off, given.get("pressure_one_plugged")
    swapped = plugged is not None and plugged <= given["pump_pressure"] or given["relief"] != "none" and given["relief_setting"] <= given["pump_pressure"]
    if plugged is not None:
        # A pump that slows as a hole plugs hides so much of it.
        plugged *= (1 - given["speed_error"]) ** 2
    if plugged is not None and given["relief"] != "none" and plugged > given["relief_setting"]:
        # The device opens on the way there; how far it rises from then on, the gauge needn't tell.
        plugged = given["relief_setting"]
    results = {"low": low, "high": high, "plug_margin": "none" if plugged is None else plugged - high,
               "plugged_reading": "none" if plugged is None else plugged}
    if plugged is None:
        return results, None
    # Which of two pressures the start is nearer to, and whether window and sum have one in common.
    opened = given["pump_pressure"]
    nearer = abs(expected - plugged) < abs(expected - opened)
    apart = abs(expected - opened) > opened / 20
    unseen = plugged < high + given["gauge_class"] * given["gauge_scale"]
    return results, worst(("stop", (given["reading"] > high, given["reading"] < low, swapped, nearer and not low <= opened <= high)),
                          ("caution", (unseen, nearer, apart)))

WINDOWS = """
in the band | relief=none; relief_setting=; expected=11000 psi; pump_pressure=11000 psi; gauge_scale=19000 psi; gauge_class=1 %; speed_error=1 %; pressure_one_plugged=13400 psi; reading=11100 psi | go
plugged hole | reading=13350 psi | stop
just in, high | reading=11411 psi | go
just out, high | reading=11420 psi | stop
just in, low | reading=10589 psi | go
forty holes: a plug can't be seen | gauge_class=2 %; pressure_one_plugged=11570 psi; reading=11000 psi | caution
digital gauge | gauge_scale=20000 psi; gauge_class=0.25 %; speed_error=0.5 %; pressure_one_plugged=12000 psi | go
60 psi would be too narrow | speed_error=0 %; reading=11150 psi | go
just out, low | reading=10588 psi | stop
exactly the high end | reading=11411.1 psi | go
exactly the low end | reading=10588.9 psi | go
a plug reads just under the high end at a slow pump | pressure_one_plugged=11642 psi | caution
a plug reads just over it | pressure_one_plugged=11643 psi | caution
a plug reads more by hardly the gauge's own error | pressure_one_plugged=11836 psi | caution
a plug reads more by a little over the gauge's own error | pressure_one_plugged=11837 psi | go
plugged, and the gauge can't show it | gauge_class=2 %; pressure_one_plugged=11570 psi; reading=11650 psi | stop
pressure of a plugged hole not known | pressure_one_plugged= |
proved with a hole plugged | expected=13300 psi; reading=13300 psi | stop
just halfway to a plugged hole | expected=12066 psi; reading=12066 psi | caution
a psi past halfway | expected=12067 psi; reading=12067 psi | stop
higher than the sum explains | expected=11551 psi; reading=11551 psi | caution
just as high as it explains | expected=11550 psi; reading=11550 psi | go
lower than it explains | expected=10449 psi; reading=10449 psi | caution
just as low as it explains | expected=10450 psi; reading=10450 psi | go
forty holes: nearer to a plugged one, and the gauge can't tell | expected=11400 psi; gauge_class=2 %; pressure_one_plugged=11570 psi; reading=11400 psi | caution
forty holes, proved above a plugged one | expected=11700 psi; gauge_class=2 %; pressure_one_plugged=11570 psi; reading=11700 psi | stop
relief valve opens before a plugged hole shows | relief=valve; relief_setting=11400 psi | caution
relief valve opens a psi above the window | relief=valve; relief_setting=11412 psi | caution
relief valve opens at work | relief=valve; relief_setting=10900 psi | stop
relief valve above a plugged hole's pressure | relief=valve; relief_setting=14000 psi | go
started against an open relief valve | relief=valve; relief_setting=12500 psi; expected=12300 psi; reading=12300 psi | stop
the same line without the valve is high, not plugged | expected=12060 psi; reading=12060 psi | caution
a slow pump hides a plug that a steady one shows | speed_error=2 %; pressure_one_plugged=12000 psi; reading=11520 psi | caution
without a speed error it shows | speed_error=0 %; pressure_one_plugged=12000 psi | go
the speed may be off by a fifth | speed_error=20 %; reading=11000 psi | caution
metric | expected=760 bar; pump_pressure=755 bar; gauge_scale=1600 bar; gauge_class=1.6 %; speed_error=2 %; pressure_one_plugged=900 bar; reading=775 bar | go
"""

# ---- clamps

def hold(given):
    clamps, above, span = int(given["clamp_count"]), int(given["upper_clamps"]), float(given["clamp_span"])
    torque, lever = float(given["screw_torque"]), float(given["nut_factor"] * given["screw_diameter"])
    force = brentq(lambda f: f * lever - torque, 0, 1e9, xtol=1e-9, rtol=1e-14)
    # Each clamp grips with two faces.
    slip = sum(2 * float(given["friction"]) * force for _ in range(clamps))
    # The load's place across the frame: what is on the side it runs to, by moments about the other side.
    off, out = float(given["travel"]) / 2, float(given["offset"])
    heavy = brentq(lambda near: near * 2 * out - (off + out), 0, 1e6, xtol=1e-12, rtol=1e-14) * 2
    weight, pull = float(given["hung_mass"] * Fraction("9.80665")), float(given["hose_pull"])
    hang, tilt = weight + pull, weight * float(given["arm"]) + pull * float(given["hose_arm"])
    # The upper ones are drawn off and the lower ones pressed on: no force over, and no moment.
    below = clamps - above
    if below <= 0:
        return {"clamp_force": force, "slip_load": slip, "hang_load": hang, "slip_factor": slip / (hang * heavy)}, "stop"
    drawn, pressed = numpy.linalg.solve([[above, -below], [above * span / 2, below * span / 2]], [0.0, tilt * heavy])
    assert isclose(above * drawn, below * pressed)
    slips, tilts = (slip / 2) / (hang * heavy / 2), force / drawn
    least = float(given["hold_factor"]) * (1 - 1e-12)
    return {"side": heavy, "clamp_force": force, "slip_load": slip, "hang_load": hang, "slip_factor": slips, "tilt_force": drawn, "tilt_factor": tilts}, worst(
        ("stop", (slips < least, tilts < least, given["screw_torque"] > given["torque_most"])))

HOLDS = """
two clamps at 15 ft·lbf | clamp_count=2; upper_clamps=1; screw_torque=15 ft·lbf; torque_most=45 ft·lbf; screw_diameter=0.75 in; nut_factor=0.2; friction=0.12; hung_mass=160 lb; hose_pull=60 lbf; arm=10 in; hose_arm=10 in; clamp_span=24 in; offset=10 in; travel=0 in; hold_factor=3 | stop
oily flange | clamp_count=4; upper_clamps=2; screw_torque=40 ft·lbf; friction=0.06 | go
hand-tight: 8 ft·lbf | clamp_count=4; upper_clamps=2; screw_torque=8 ft·lbf | stop
heavy drive | clamp_count=4; upper_clamps=2; screw_torque=40 ft·lbf; hung_mass=300 lb; hose_pull=100 lbf; arm=14 in; hose_arm=14 in | go
rusty screw takes the torque: factor 0.35 | clamp_count=4; upper_clamps=2; screw_torque=40 ft·lbf; nut_factor=0.35 | go
rusty and hung far out | clamp_count=4; upper_clamps=2; screw_torque=25 ft·lbf; nut_factor=0.35; friction=0.08; hung_mass=250 lb; hose_pull=80 lbf; arm=24 in; hose_arm=24 in; clamp_span=8 in | stop
six clamps | clamp_count=6; upper_clamps=3; screw_torque=30 ft·lbf; screw_diameter=0.625 in; friction=0.1; hung_mass=220 lb; hose_pull=80 lbf; arm=12 in; hose_arm=12 in; clamp_span=30 in | go
no torque | clamp_count=4; upper_clamps=2; screw_torque=0.5 ft·lbf | stop
slips at exactly the factor | clamp_count=4; upper_clamps=2; screw_torque=40 ft·lbf; hung_mass=1000 lb; hose_pull=24 lbf | go
slips a pound-force below it | clamp_count=4; upper_clamps=2; screw_torque=40 ft·lbf; hung_mass=1000 lb; hose_pull=25 lbf | stop
doesn't slip but tilts | clamp_count=4; upper_clamps=2; screw_torque=40 ft·lbf; arm=100 in; hose_arm=100 in; clamp_span=8 in | stop
tilts at exactly the factor | clamp_count=4; upper_clamps=2; screw_torque=40 ft·lbf; hung_mass=100 lb; hose_pull=28 lbf; arm=100 in; hose_arm=100 in; clamp_span=6 in | go
a tenth of an inch further out | clamp_count=4; upper_clamps=2; screw_torque=40 ft·lbf; hung_mass=100 lb; hose_pull=28 lbf; arm=100.1 in; hose_arm=100.1 in; clamp_span=6 in | stop
three clamps: one above may carry all | clamp_count=3; upper_clamps=1; screw_torque=40 ft·lbf; arm=100 in; hose_arm=100 in | go
three clamps by half of them would hold | clamp_count=3; upper_clamps=1; screw_torque=40 ft·lbf; hung_mass=100 lb; hose_pull=28 lbf; arm=100 in; hose_arm=100 in; clamp_span=9 in | stop
five clamps | clamp_count=5; upper_clamps=2; screw_torque=40 ft·lbf; hung_mass=100 lb; hose_pull=28 lbf; arm=100 in; hose_arm=100 in; clamp_span=6 in | go
metric | clamp_count=4; upper_clamps=2; screw_torque=45 N·m; screw_diameter=16 mm; hung_mass=90 kg; hose_pull=350 N; arm=300 mm; hose_arm=300 mm; clamp_span=600 mm | go
one above and three below | clamp_count=4; screw_torque=40 ft·lbf | go
one above, hung far out | clamp_count=4; screw_torque=40 ft·lbf; hung_mass=100 lb; hose_pull=28 lbf; arm=100 in; hose_arm=100 in; clamp_span=9 in | stop
two above, hung as far | clamp_count=4; upper_clamps=2; screw_torque=40 ft·lbf; hung_mass=100 lb; hose_pull=28 lbf; arm=100 in; hose_arm=100 in; clamp_span=9 in | go
hoses hung far behind the mass, at exactly the factor | clamp_count=4; screw_torque=40 ft·lbf; hung_mass=100 lb; hose_pull=30 lbf; hose_arm=180 in; clamp_span=6 in | go
a tenth of an inch farther behind | clamp_count=4; screw_torque=40 ft·lbf; hung_mass=100 lb; hose_pull=30 lbf; hose_arm=180.1 in; clamp_span=6 in | stop
hoses nearer than the mass | clamp_count=4; screw_torque=40 ft·lbf; hung_mass=100 lb; hose_pull=28 lbf; arm=60 in; clamp_span=6 in | go
runs as far out as the clamps sit: one side carries all | clamp_count=4; upper_clamps=2; screw_torque=40 ft·lbf; travel=20 in | go
runs past them, and slips at exactly the factor | clamp_count=4; upper_clamps=2; screw_torque=40 ft·lbf; hung_mass=226 lb; hose_pull=30 lbf; travel=60 in | go
a tenth of an inch farther | clamp_count=4; upper_clamps=2; screw_torque=40 ft·lbf; hung_mass=226 lb; hose_pull=30 lbf; travel=60.1 in | stop
screws at just what they bear | clamp_count=4; upper_clamps=2; screw_torque=45 ft·lbf | go
screws past what they bear | clamp_count=4; upper_clamps=2; screw_torque=45.1 ft·lbf | stop
none below | clamp_count=4; upper_clamps=4; screw_torque=40 ft·lbf | stop
"""

if __name__ == "__main__":
    compare("nozzle-wear-areas", "nozzle-wear", "the orifice's effective area at both times; loss of a smooth hose with the flow's power of 1.75 (Blasius). Limits of 5 and 10 %: crop sprayers, ISO 16122 (from memory)",
            "1e-9 the same balance in another order of rounding", WEAR, wear, {"area_growth": 1e-8, "wear": 1e-8})
    compare("stored-energy-potential", "stored-energy", "CoolProp 8.0.0 (IAPWS-95): fall of the Helmholtz energy at constant temperature, less the work on the atmosphere; a hose that grows in proportion",
            "0.0005 Simpson's rule over the pressure in five points; the potentials of a fill pressure differ by a few parts in 10^7", ENERGY, energy)
    tiny = {"usable": 1e-12, "shortfall": 1e-15, "time_left": 1e-6}
    compare("tank-endurance-minutes", "tank-endurance", "the level followed from minute to minute, as exact fractions", "1e-9 the same balance in another order of rounding", TANKS, tank, tiny)
    compare("waste-catch-minutes", "waste-catch", "a cycle of running and dumping, the level followed from minute to minute, as exact fractions",
            "1e-9 the same balance in another order of rounding; a small rise is a difference of flows", PANS, pan, {"rise_rate": 1e-15, "peak_rise": 1e-15})
    compare("trial-rate-wilson", "trial-rate", "scipy 1.17.1: binomtest with proportion_ci by Wilson's method", "1e-6 the normal quantile is rounded to 1.959964",
            TRIALS, trial, {"share_low": 1e-8, "share_high": 1e-8})
    compare("gauge-window-squares", "gauge-window", "exact fractions; pressure goes with the square of the pump's speed. 1 % of the scale: ASME B40.100 grade 1A (from memory)",
            "1e-9 the same sum in another order of rounding", WINDOWS, window, {"plug_margin": 0.01})
    compare("frame-hold-balance", "frame-hold", "forces and moments in balance, numpy 2.4 and scipy 1.17.1; torque by the nut factor and Coulomb's friction with its coefficients (from memory)",
            "1e-6 the same balance", HOLDS, hold)
