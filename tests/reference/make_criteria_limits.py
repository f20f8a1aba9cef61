"""Writes the reference values for where a result ends: noise behind protectors, hoses whose outlet
would lie below zero, guide tubes past what small angles describe, hot water and long air lines.

Run it in an environment with the packages of requirements.txt; it rewrites its CSV files. Nothing
here uses the project's own formulas: beams are bent exactly, air is followed along the line, and
water's enthalpy is looked up.
"""

from math import cos, exp, log, pi, sin, sqrt

import CoolProp.CoolProp as coolprop
import fluids
from iapws import IAPWS95
from scipy.integrate import quad, solve_ivp
from scipy.optimize import brentq

from criteria import compare
from make_criteria_pressure import friction

ATM = 101325.0

# ---- noise

KEPT = {"muff": 0.75, "foam-plug": 0.5, "other-plug": 0.3}

def dose(level, hours, criterion, exchange):
    """Parts of a day: the sound's intensity relative to the criterion, by the exchange rate."""
    return hours / 8 * exp(log(2) * (float(level) - criterion) / exchange)

def noise(given):
    level, hours, kind = float(given["level"]), float(given["duration"] / 3600), given["protector"]
    bare = {f"dose_{by}": dose(level, hours, *limits) for by, limits in (("osha", (90, 5)), ("niosh", (85, 3)))}
    bare |= {f"permitted_{by}": 3600 / dose(level, 1, *limits) for by, limits in (("osha", (90, 5)), ("niosh", (85, 3)))}
    if kind != "none" and "protector_rating" not in given:
        return bare | dict.fromkeys(("attenuation_osha", "attenuation_niosh", "protected_level", "protected_dose_osha"), "none"), None
    second = given.get("second_protector") == "yes"
    osha = niosh = 0.0
    if kind != "none":
        rated = float(given["protector_rating"])
        osha, niosh = (max(0.0, cut) + 5 * second for cut in ((rated - 7) / 2, KEPT[kind] * rated - 7))
    behind = dose(level - osha, hours, 90, 5), dose(level - niosh, hours, 85, 3)
    if behind[0] > 1 + 1e-12 or (level > 115 and not second):
        verdict = "stop"
    else:
        verdict = "caution" if behind[1] > 1 + 1e-12 or (level > 100 and not second) or level > 115 else "go"
    return bare | {"attenuation_osha": osha, "attenuation_niosh": niosh, "protected_level": level - osha, "protected_level_niosh": level - niosh,
                   "protected_dose_osha": behind[0], "protected_dose_niosh": behind[1]}, verdict

NOISE = """
pump operator, 96 dBA, foam plugs NRR 29 | level=96 dB; duration=4.8 h; protector=foam-plug; protector_rating=29 dB; second_protector=no | caution
the same without protectors | protector=none; protector_rating=; second_protector= | stop
91 dBA, plugs | level=91 dB; duration=6 h | go
91 dBA, none, 6 h | level=91 dB; duration=6 h; protector=none; protector_rating=; second_protector= | caution
112 dBA, muffs and plugs | level=112 dB; duration=2 h; protector=muff; protector_rating=27 dB; second_protector=yes | caution
117 dBA, one protector | level=117 dB; duration=0.25 h; protector=muff; protector_rating=30 dB | stop
117 dBA, both, 15 min | level=117 dB; duration=0.25 h; protector=muff; protector_rating=30 dB; second_protector=yes | caution
protector rated 5: no attenuation below 0 | level=95 dB; duration=8 h; protector_rating=5 dB | stop
quiet | level=82 dB; duration=8 h; protector=none; protector_rating=; second_protector= | go
moulded plugs, 95 dBA | level=95 dB; duration=8 h; protector=other-plug; protector_rating=25 dB | caution
exactly 100 % behind the protector | level=99 dB; duration=8 h; protector=muff; protector_rating=25 dB | caution
106 dBA, plugs NRR 22, all shift | level=106 dB; duration=8 h; protector_rating=22 dB | stop
a minute past 100 % behind the protector | level=99 dB; duration=481 min; protector=muff; protector_rating=25 dB | stop
exactly 100 % of NIOSH behind the protector | level=96 dB; duration=8 h; protector=muff; protector_rating=24 dB | go
a minute past it | level=96 dB; duration=481 min; protector=muff; protector_rating=24 dB | caution
exactly 100 dBA, one protector | level=100 dB; duration=8 h; protector=muff; protector_rating=33 dB | go
past 100 dBA, one protector | level=100.1 dB; duration=6 h; protector=muff; protector_rating=33 dB | caution
past 100 dBA, two protectors | level=100.1 dB; duration=6 h; protector=muff; protector_rating=33 dB; second_protector=yes | go
exactly 115 dBA, two protectors | level=115 dB; duration=0.2 h; protector=muff; protector_rating=33 dB; second_protector=yes | go
past 115 dBA, one protector, a moment | level=115.1 dB; duration=0.01 h; protector=muff; protector_rating=33 dB | stop
past 115 dBA, two protectors, a moment | level=115.1 dB; duration=0.01 h; protector=muff; protector_rating=33 dB; second_protector=yes | caution
rated 7: nothing left of it | level=92 dB; duration=5 h; protector=muff; protector_rating=7 dB | caution
a second protector on one of no worth | level=95 dB; duration=6 h; protector_rating=5 dB; second_protector=yes | caution
rating not read off the package | protector_rating= |
"""

# ---- hoses

def hose(given):
    bore, length, celsius = float(given["bore"]), float(given["length"]), float(given["water_temperature"])
    mean = float(given["mean_pressure"])
    def water(gauge):
        state = ("T", celsius, "P", gauge + ATM, "Water")
        return coolprop.PropsSI("D", *state), coolprop.PropsSI("V", *state)
    density, viscosity = water(mean)
    mass = float(given["flow"]) * water(0)[0]
    speed = mass / density / (pi / 4 * bore**2)
    reynolds = density * speed * bore / viscosity
    factor = friction(reynolds, float(given["roughness"]) / bore)
    # The pull of the wall on the water over the bore's area.
    loss = factor / 8 * density * speed**2 * pi * bore * length / (pi / 4 * bore**2)
    if loss / 2 > mean or mean + ATM + loss / 2 > 300e6:
        return dict.fromkeys(("loss", "loss_per_length"), "none"), "stop"
    return {"velocity": speed, "reynolds": reynolds, "friction_factor": factor, "loss": loss, "loss_per_length": loss / length}, "go"

HOSES = """
lance hose | flow=4.05 gal/min; bore=4 mm; length=45 ft; roughness=0.004 mm; water_temperature=12 degC; mean_pressure=9700 psi; reel_diameter=0 in | not stop
1400 bar | flow=5 gal/min; bore=5 mm; length=66 ft; roughness=0.0015 mm; water_temperature=15 degC; mean_pressure=20305 psi | not stop
low pressure | flow=8 gal/min; bore=8 mm; length=100 ft; roughness=0.0015 mm; water_temperature=20 degC; mean_pressure=1500 psi | not stop
supply hose | flow=20 gal/min; bore=13 mm; length=150 ft; roughness=0.0015 mm; water_temperature=15 degC; mean_pressure=12000 psi | not stop
laminar trickle | flow=0.05 gal/min; bore=6 mm; length=30 ft; roughness=0.0015 mm; water_temperature=10 degC; mean_pressure=100 psi | not stop
warm and thin | flow=2 gal/min; bore=3 mm; length=80 ft; roughness=0.002 mm; water_temperature=30 degC; mean_pressure=18000 psi | not stop
a bore of 1 mm: 17.8 million psi | flow=10 gal/min; bore=1 mm; mean_pressure=9000 psi | stop
outlet just above zero | length=100 ft; mean_pressure=3200 psi | not stop
mean pressure 0 | mean_pressure=0 psi | stop
outlet 9 psi above zero | length=100 ft; mean_pressure=2630 psi | not stop
outlet 12 psi below zero | length=100 ft; mean_pressure=2610 psi | stop
inlet at 42 930 psi | mean_pressure=41800 psi | not stop
inlet past where water's properties end | mean_pressure=42900 psi | stop
a mean pressure too low by a factor of ten | mean_pressure=970 psi | stop
"""

# ---- guide tubes

STEEL, HEAVY = 200e9, 7850.0

def tube(given):
    outer, wall, length = (float(given[name]) for name in ("pipe_od", "pipe_wall", "length"))
    inner = outer - 2 * wall
    moment = quad(lambda r: pi * r**3, inner / 2, outer / 2)[0]
    metal, bore = (quad(lambda r: 2 * pi * r, *edge)[0] for edge in ((inner / 2, outer / 2), (0, inner / 2)))
    inside = IAPWS95(T=288.15, P=ATM / 1e6).rho if given["contents"] == "water" else 0.0
    return length, 9.80665 * (HEAVY * metal + inside * bore) / (STEEL * moment)

def flat(length, load):
    """Sag and slope of a level cantilever's end for small angles, by integrating moments' areas."""
    slope = quad(lambda x: load * (length - x) ** 2 / 2, 0, length)[0]
    sag = quad(lambda x: load * (length - x) ** 2 / 2 * (length - x), 0, length)[0]
    return sag, slope

def bent(length, load):
    """The exact sag: the slope along the arc, with weight acting straight down."""
    def end(moment):
        def along(s, state):
            return [state[1], -load * (length - s) * cos(state[0]), sin(state[0])]
        return solve_ivp(along, (0, length), [0.0, moment, 0.0], rtol=1e-11, atol=1e-13).y[:, -1]
    root = brentq(lambda moment: end(moment)[1], 0, load * length**2, xtol=1e-14)
    return float(end(root)[2])

def guide(given):
    length, load = tube(given)
    sag, slope = flat(length, load)
    if sag > length / 10:
        return {"sag": "none", "tip_slope": "none"}, "stop"
    return {"sag": sag, "tip_slope": slope}, None

def elastica(given):
    length, load = tube(given)
    return ({}, None) if flat(length, load)[0] > length / 10 else ({"sag": bent(length, load)}, None)

TUBES = """
fitted | length=21.375 in; pipe_od=0.675 in; pipe_wall=0.091 in; contents=water |
stock tube | length=12.75 in |
long | length=84 in |
long and thin | length=96 in; pipe_od=0.405 in; pipe_wall=0.068 in |
1 in schedule 40 | length=96 in; pipe_od=1.315 in; pipe_wall=0.133 in |
120 in of 0.540 | length=120 in; pipe_od=0.54 in; pipe_wall=0.088 in |
168 in of 0.840 | length=168 in; pipe_od=0.84 in; pipe_wall=0.109 in; contents=empty |
0.0997 of the length | length=125 in; pipe_od=0.54 in; pipe_wall=0.088 in |
short and empty | length=9 in; contents=empty |
metric | length=1.2 m; pipe_od=17.1 mm; pipe_wall=2.3 mm |
"""
TOO_LONG = """
240 in of 0.675 | length=240 in; pipe_od=0.675 in; pipe_wall=0.091 in; contents=water | stop
200 in of 0.540 | length=200 in; pipe_od=0.54 in; pipe_wall=0.088 in | stop
0.102 of the length | length=126 in; pipe_od=0.54 in; pipe_wall=0.088 in | stop
240 in of 0.405, empty | pipe_od=0.405 in; pipe_wall=0.068 in; contents=empty | stop
"""

# ---- hot water

def heating(given):
    kelvin, gauge = float(given["water_temperature"]), float(given["pressure"])
    before = IAPWS95(T=kelvin, P=(gauge + ATM) / 1e6)
    suction = IAPWS95(T=kelvin, P=ATM / 1e6)
    def spent(enthalpy):
        return brentq(lambda t: IAPWS95(T=t, P=ATM / 1e6).h - enthalpy, 273.16, 373.1, xtol=1e-10)
    # The pump presses at constant entropy; the work ends up in the water all the same.
    pressed = brentq(lambda t: IAPWS95(T=t, P=(gauge + ATM) / 1e6).s - suction.s, kelvin - 1, kelvin + 40, xtol=1e-10)
    through = spent(IAPWS95(T=pressed, P=(gauge + ATM) / 1e6).h)
    after = spent(before.h)
    return {"rise": after - kelvin, "outlet_temperature": after, "rise_from_suction": through - kelvin}, None

WARM = """
1500 psi, 10 °C | pressure=1500 psi; water_temperature=10 degC |
8500 psi, 12 °C | pressure=8500 psi; water_temperature=12 degC |
14 504 psi, 15 °C | pressure=14504 psi; water_temperature=15 degC |
20 000 psi, 5 °C | pressure=20000 psi; water_temperature=5 degC |
20 305 psi, 30 °C | pressure=20305 psi; water_temperature=30 degC |
3000 psi, 60 °C | pressure=3000 psi; water_temperature=60 degC |
25 000 psi, 25 °C | pressure=25000 psi; water_temperature=25 degC |
"""
HOT = """
40 000 psi, 10 °C | pressure=40000 psi; water_temperature=10 degC |
43 000 psi, 2 °C | pressure=43000 psi; water_temperature=2 degC |
43 000 psi, 20 °C | pressure=43000 psi; water_temperature=20 degC |
36 000 psi, 15 °C | pressure=36000 psi; water_temperature=15 degC |
30 000 psi, 35 °C | pressure=30000 psi; water_temperature=35 degC |
"""

# ---- air lines

GAS = 8.314462618 / 0.0289647

class Air:
    def __init__(self, given):
        self.kelvin, self.bore, self.length = (float(given[name]) for name in ("air_temperature", "bore", "length"))
        self.inlet, self.rough = float(given["supply_pressure"]) + ATM, float(given["roughness"])
        self.area = pi / 4 * self.bore**2
        self.viscosity = coolprop.PropsSI("V", "T", self.kelvin, "P", ATM, "Air")

    def mass(self, free):
        return ATM / (GAS * 288.15) * free

    def reach(self, free, outlet):
        """How long a hose takes a free flow down to a pressure: the slices of it that fall by a pascal each."""
        flux = self.mass(free) / self.area
        reynolds = flux * self.bore / self.viscosity
        factor = 64 / reynolds if reynolds < 2000 else fluids.friction.Colebrook(reynolds, self.rough / self.bore, tol=-1)
        def slice(p):
            return (p / (GAS * self.kelvin * flux**2) - 1 / p) * 2 * self.bore / factor
        return quad(slice, outlet, self.inlet, epsrel=1e-12)[0]

    def floor(self, free):
        """Below it there is no flow: the speed of isothermal sound, or the atmosphere."""
        return max(ATM, self.mass(free) / self.area * sqrt(GAS * self.kelvin))

    def greatest(self):
        sonic = self.inlet * self.area / sqrt(GAS * self.kelvin) / self.mass(1)
        # The step of the friction at a Reynolds number of 2000 is part of the answer.
        return brentq(lambda free: self.reach(free, min(self.floor(free), self.inlet)) - self.length, sonic * 1e-6, sonic * 0.9999, rtol=1e-13)

def air(given):
    line, free = Air(given), float(given["free_air_flow"])
    greatest = line.greatest()
    if free > greatest:
        return {"greatest_flow": greatest}, "stop"
    outlet = brentq(lambda p: line.reach(free, p) - line.length, line.floor(free), line.inlet, xtol=1e-8, rtol=1e-14)
    drop = line.inlet - outlet
    share = drop / (line.inlet - ATM)
    return {"drop": drop, "tool_pressure": outlet - ATM, "drop_share": share, "greatest_flow": greatest}, "caution" if share > 0.1 else "go"

LINES = """
92 ft3/min in 3/4 in | free_air_flow=92 ft3/min; bore=0.75 in; length=65 ft; supply_pressure=102 psi; air_temperature=77 degF; roughness=0 mm | go
half the flow | free_air_flow=50 ft3/min | go
rough | roughness=0.05 mm | go
cold | air_temperature=0 degF | go
hot | air_temperature=140 degF | go
laminar, 2000 ft, low pressure | free_air_flow=0.1 ft3/min; bore=0.18 in; length=2000 ft; supply_pressure=10 psi; air_temperature=68 degF | caution
outlet would lie below atmosphere | free_air_flow=0.13 ft3/min; bore=0.14 in; length=3000 ft; supply_pressure=16 psi; air_temperature=30 degF | stop
laminar throughout, 3000 ft | free_air_flow=0.1 ft3/min; bore=0.16 in; length=3000 ft; supply_pressure=16 psi; air_temperature=30 degF | caution
low supply | free_air_flow=60 ft3/min; supply_pressure=40 psi | caution
2 in main | free_air_flow=400 ft3/min; bore=2 in; length=300 ft; supply_pressure=110 psi; air_temperature=68 degF | go
just below the greatest flow of a long thin line | free_air_flow=27 ft3/min; bore=0.5 in; length=400 ft; supply_pressure=60 psi | caution
just above it | free_air_flow=28.3 ft3/min; bore=0.5 in; length=400 ft; supply_pressure=60 psi | stop
chokes at the speed of sound | free_air_flow=340 ft3/min | stop
just short of choking | free_air_flow=325 ft3/min | caution
"""

if __name__ == "__main__":
    compare("noise-exposure-protected", "noise-exposure",
            "29 CFR 1910.95 table G-16 and appendix B (NRR less 7 dB); half of it and 5 dB for a second protector: OSHA's manual on noise (from memory); NRR less 25 50 and 70 %: NIOSH 98-126 (from memory); doses as exponentials",
            "1e-9 the same definitions", NOISE, noise, {"attenuation_osha": 1e-9, "attenuation_niosh": 1e-9})
    compare("hose-pressure-loss-outlet", "hose-pressure-loss", "CoolProp 8.0.0 (IAPWS-95, R12-08) at the mean pressure; Colebrook by Newton's method; friction of the wall over the bore's area",
            "5e-5 the same model; density to 1e-6, viscosity to 2e-6", HOSES, hose)
    beam = "moments' areas integrated, scipy 1.17.1 (quad); iapws 1.5.5 for water at 15 degC; steel of 200 GPa and 7850 kg/m3"
    compare("guide-tube-sag-lengths", "guide-tube-sag", beam, "1e-6 the same beam", TUBES, guide)
    compare("guide-tube-sag-too-long", "guide-tube-sag", beam, "0 no numbers", TOO_LONG, guide)
    compare("guide-tube-sag-elastica", "guide-tube-sag", "the exact elastica, shot from the clamp with scipy 1.17.1 (solve_ivp, brentq)",
            "0.0085 small angles read up to 0.8 % high where the sag is a tenth of the length", TUBES, elastica)
    for name, table, off in (("enthalpy", WARM, 0.05), ("highest", HOT, 0.15)):
        compare(f"water-heating-{name}", "water-heating", "iapws 1.5.5 (IAPWS-95): constant enthalpy to 1 atm; from the suction, constant entropy in the pump first",
                f"0 the same balance in steps of the pressure, good to {off} K", table, heating, dict.fromkeys(("rise", "outlet_temperature", "rise_from_suction"), off))
    compare("air-line-drop-along", "air-line-drop", "isothermal flow followed along the hose, scipy 1.17.1 (quad, brentq); fluids 1.3.1 (Colebrook); viscosity from CoolProp 8.0.0 at 1 atm",
            "0.001 the same model; the viscosity here is a fit to the library's within 0.1 %", LINES, air)
