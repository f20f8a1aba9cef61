"""Writes the reference values for the ratings of a line, its relief device and the pump's pressure.

Run it in an environment with the packages of requirements.txt; it rewrites its CSV files. Nothing
here uses the project's own formulas: flows are found at a pressure that all lances share, and a
lance that is shut or a hole that is plugged is left out there.
"""

from fractions import Fraction
from math import inf, log, log10, pi, sqrt

from CoolProp.CoolProp import PropsSI
from scipy.optimize import brentq

from criteria import compare

NINE_TENTHS = Fraction(9, 10)

def relief(given, working, lowest):
    """The verdict on a relief device that is to protect a line, in the words of the catalog."""
    if given.get("relief") == "none" or working > lowest:
        return "stop"
    if "relief_setting" not in given:
        return None
    setting = given["relief_setting"]
    if setting * (1 + given["relief_rise"]) > lowest or working >= setting:
        return "stop"
    return "caution" if working > NINE_TENTHS * setting else "go"

# ---- ratings

PARTS = ("pump", "hose", "valve", "jumper", "lance", "adapter", "nozzle", "gauge")

def rating(given):
    ratings = [given.get(f"{part}_rating") for part in PARTS]
    if None in ratings:
        return {"lowest_rating": "none", "weakest": "none", "headroom": "none"}, None
    lowest, working = sorted(ratings)[0], given["working_pressure"]
    results = {"lowest_rating": lowest, "weakest": PARTS[ratings.index(lowest)], "headroom": lowest - working}
    if given.get("relief") == "none":
        # Whatever a tag once said, nothing opens.
        results |= dict.fromkeys(("relief_full", "relief_margin", "relief_most"), "none")
    elif "relief_rise" in given:
        full = given["relief_setting"] + given["relief_setting"] * given["relief_rise"]
        # The setting that opens fully at just the lowest rating is as much below it as this one.
        results |= {"relief_full": full, "relief_margin": lowest - full, "relief_most": given["relief_setting"] * lowest / full}
    verdict = relief(given, working, lowest)
    if verdict not in ("stop", None) and given["relief_flow"] < given["pump_flow"]:
        verdict = "stop"
    return results, verdict

RATINGS = """
all well | working_pressure=11000 psi; pump_rating=18000 psi; hose_rating=16000 psi; valve_rating=14000 psi; jumper_rating=17000 psi; lance_rating=22000 psi; adapter_rating=20000 psi; nozzle_rating=20000 psi; gauge_rating=19000 psi; relief=valve; relief_setting=12500 psi; relief_rise=10 %; relief_flow=12 gal/min; pump_flow=8.1 gal/min | go
relief above the weakest part | relief_setting=15000 psi | stop
relief opens below the work | working_pressure=12600 psi | stop
relief weeps in work | working_pressure=11600 psi | caution
relief passes less than the pump | relief_flow=8 gal/min | stop
burst disc | relief=disc; relief_setting=13000 psi; relief_rise=5 %; relief_flow=20 gal/min | go
burst disc over | relief=disc; relief_setting=13500 psi; relief_rise=5 %; relief_flow=20 gal/min | stop
adapter is the weakest | working_pressure=9000 psi; adapter_rating=10000 psi | stop
work at the lowest rating: headroom 0 | working_pressure=14000 psi | stop
pump rated 40 000 psi, no relief | pump_rating=40000 psi; relief=none; relief_setting=; relief_rise=; relief_flow=; pump_flow= | stop
drawn at random 2 | working_pressure=10940 psi; pump_rating=21250 psi; hose_rating=15250 psi; valve_rating=25000 psi; jumper_rating=23000 psi; lance_rating=19750 psi; adapter_rating=29250 psi; nozzle_rating=37000 psi; gauge_rating=16000 psi; relief_setting=13499 psi; relief_rise=12 %; relief_flow=30 gal/min; pump_flow=20 gal/min | go
drawn at random 3 | working_pressure=11873 psi; pump_rating=24750 psi; hose_rating=24500 psi; valve_rating=34000 psi; jumper_rating=23750 psi; lance_rating=23750 psi; adapter_rating=18500 psi; nozzle_rating=27750 psi; gauge_rating=38500 psi; relief_setting=17270 psi; relief_rise=5 %; relief_flow=30 gal/min; pump_flow=20 gal/min | go
drawn at random 4 | working_pressure=9790 psi; pump_rating=36500 psi; hose_rating=37250 psi; valve_rating=15250 psi; jumper_rating=23250 psi; lance_rating=31250 psi; adapter_rating=24500 psi; gauge_rating=28750 psi; relief_setting=12982 psi; relief_flow=30 gal/min; pump_flow=20 gal/min | go
full lift past the rating, second kit | working_pressure=15000 psi; pump_rating=25000 psi; hose_rating=22000 psi; valve_rating=20000 psi; jumper_rating=21000 psi; lance_rating=26000 psi; adapter_rating=24000 psi; nozzle_rating=28000 psi; gauge_rating=30000 psi; relief_setting=18500 psi; relief_flow=25 gal/min; pump_flow=20 gal/min | stop
second kit, well | working_pressure=15000 psi; pump_rating=25000 psi; hose_rating=22000 psi; valve_rating=20000 psi; jumper_rating=21000 psi; lance_rating=26000 psi; adapter_rating=24000 psi; nozzle_rating=28000 psi; gauge_rating=30000 psi; relief_setting=18000 psi; relief_flow=25 gal/min; pump_flow=20 gal/min | go
fully open 0.3 psi below the lowest rating | relief_setting=12727 psi | go
fully open 0.8 psi above it | relief_setting=12728 psi | stop
fully open just at the lowest rating | valve_rating=13750 psi | go
no relief, though a tag was read | relief=none | stop
work exactly at the setting | working_pressure=12500 psi | stop
work 1 psi below the setting | working_pressure=12499 psi | caution
work at exactly 90 % of the setting | working_pressure=11250 psi | go
work 1 psi past 90 % of the setting | working_pressure=11251 psi | caution
relief passes just the pump's flow | relief_flow=8.1 gal/min | go
relief passes a hundredth less | relief_flow=8.09 gal/min | stop
opens fully at its setting | relief_rise=0 %; relief_setting=14000 psi | go
little headroom is no caution | working_pressure=12600 psi; relief_rise=0 %; relief_setting=14000 psi | go
work past the weakest part | working_pressure=9500 psi; adapter_rating=9000 psi | stop
weakest is the jumper | jumper_rating=13800 psi | go
weakest of equals: hose before valve | hose_rating=14000 psi | go
weakest of equals: valve before jumper | jumper_rating=14000 psi | go
weakest of equals: lance before adapter and nozzle | valve_rating=18000 psi; hose_rating=18000 psi; lance_rating=14000 psi; adapter_rating=14000 psi; nozzle_rating=14000 psi | go
weakest of equals: adapter before gauge | valve_rating=18000 psi; adapter_rating=14000 psi; gauge_rating=14000 psi | go
metric | working_pressure=800 bar; pump_rating=1400 bar; hose_rating=1200 bar; valve_rating=1050 bar; jumper_rating=1250 bar; lance_rating=1500 bar; adapter_rating=1100 bar; nozzle_rating=1400 bar; gauge_rating=1600 bar; relief_setting=950 bar; relief_flow=60 L/min; pump_flow=50 L/min | go
adapter's rating not read | adapter_rating= |
no relief named | relief=; relief_setting=; relief_rise=; relief_flow=; pump_flow= |
"""

# ---- the pump's pressure

def friction(reynolds, relative):
    """Colebrook's factor by Newton's method; 64/Re up to 2000."""
    if reynolds <= 2000:
        return 64 / reynolds
    x = 7.0
    for _ in range(60):
        inside = relative / 3.7 + 2.51 * x / reynolds
        step = (x + 2 * log10(inside)) / (1 + 2 * 2.51 / (reynolds * inside * log(10)))
        x -= step
        if abs(step) < 1e-15 * x:
            break
    return 1 / x**2

class Line:
    """A lance and its hose, in water at 1 atm."""

    def __init__(self, given):
        size = {name: float(value) for name, value in given.items() if not isinstance(value, str)}
        state = ("T", size["water_temperature"], "P", 101325.0, "Water")
        self.density, self.viscosity = PropsSI("D", *state), PropsSI("V", *state)
        self.bore, self.length, self.roughness = size["hose_bore"], size["hose_length"], size["roughness"]
        self.hole = size["discharge_coefficient"] * pi / 4 * size["orifice_diameter"] ** 2

    def nozzle(self, flow, holes):
        return self.density / 2 * (flow / (holes * self.hole)) ** 2

    def loss(self, flow):
        speed = flow / (pi / 4 * self.bore**2)
        factor = friction(self.density * speed * self.bore / self.viscosity, self.roughness / self.bore)
        return factor * self.length / self.bore * self.density * speed**2 / 2

    def flow(self, pressure, holes):
        """What one lance takes at a pressure: never more than without its hose."""
        most = holes * self.hole * sqrt(2 * pressure / self.density)
        return brentq(lambda flow: self.nozzle(flow, holes) + self.loss(flow) - pressure, most * 1e-9, most, xtol=1e-22, rtol=1e-14)

    def pressure(self, flow, lances):
        """At which lances with so many open holes take a flow together; none without a path."""
        kinds = {holes: lances.count(holes) for holes in lances if holes}
        if not kinds:
            return inf
        def missing(pressure):
            return sum(count * self.flow(pressure, holes) for holes, count in kinds.items()) - flow
        return brentq(missing, 1.0, 1e13, xtol=1e-6, rtol=1e-13)

def faults(line, flow, lances, holes):
    states = {
        "pressure_one_plugged": [holes - 1] + [holes] * (lances - 1),
        "pressure_each_plugged": [holes - 1] * lances,
        "pressure_one_shut": [holes] * (lances - 1),
    }
    found = {name: line.pressure(flow, state) for name, state in states.items()}
    return {name: "none" if pressure == inf else pressure for name, pressure in found.items()}

def operating_point(given):
    line, lances, holes = Line(given), int(given["lances"]), int(given["orifice_count"])
    pump = line.pressure(float(given["pump_flow"]), [holes] * lances)
    flow = line.flow(pump, holes)
    results = {"lance_flow": flow, "nozzle_pressure": line.nozzle(flow, holes), "hose_loss": line.loss(flow),
               "pump_pressure": pump, "headroom": float(given["lowest_rating"]) - pump}
    verdict = relief(given, pump, given["lowest_rating"])
    if verdict not in ("stop", None) and given["relief_flow"] < given["pump_flow"]:
        verdict = "stop"
    return results | faults(line, float(given["pump_flow"]), lances, holes), verdict

def flow_at_pressure(given):
    line, lances, holes = Line(given), int(given["lances"]), int(given["orifice_count"])
    pressure = given["pump_pressure"]
    flow = line.flow(float(pressure), holes)
    results = {"pump_flow": lances * flow, "nozzle_pressure": line.nozzle(flow, holes), "hose_loss": line.loss(flow)}
    return results | faults(line, lances * flow, lances, holes), relief(given, pressure, given["lowest_rating"])

# Where a hose takes more than 40 % of the pressure a check of the first edition asks for caution.
POINTS = """
two lances of five holes | relief_flow=200 gal/min; pump_flow=8.1 gal/min; lances=2; hose_bore=4 mm; hose_length=45 ft; roughness=0.004 mm; orifice_diameter=0.5 mm; orifice_count=5; discharge_coefficient=0.76; water_temperature=12 degC; lowest_rating=14000 psi; relief=valve; relief_setting=12500 psi; relief_rise=10 % | go
no relief device | relief=none; relief_setting=; relief_rise=; relief_flow= | stop
one lance: one hole plugged is each plugged | pump_flow=4.05 gal/min; lances=1 | go
one lance with one hole: no path left | pump_flow=3 gal/min; lances=1; hose_length=30 ft; roughness=0.0015 mm; orifice_diameter=0.8 mm; orifice_count=1; discharge_coefficient=0.9; water_temperature=15 degC; lowest_rating=20000 psi; relief_setting=17000 psi | go
three lances, eight holes | pump_flow=14 gal/min; lances=3; hose_length=60 ft; roughness=0.0015 mm; orifice_count=8; discharge_coefficient=0.8; water_temperature=15 degC; lowest_rating=20000 psi; relief_setting=17000 psi | not stop
wide hose, hardly any loss | pump_flow=12 gal/min; hose_bore=8 mm; hose_length=50 ft; roughness=0.0015 mm; orifice_diameter=0.8 mm; orifice_count=6; discharge_coefficient=0.85; water_temperature=20 degC; lowest_rating=15000 psi; relief_setting=12000 psi | go
warm water | pump_flow=10 gal/min; hose_bore=5 mm; hose_length=80 ft; orifice_diameter=0.6 mm; orifice_count=7; discharge_coefficient=0.75; water_temperature=45 degC; lowest_rating=18000 psi; relief_setting=15000 psi | go
work past the lowest rating | pump_flow=12 gal/min | stop
six lances | pump_flow=30 gal/min; lances=6; hose_bore=5 mm; hose_length=60 ft; roughness=0.0015 mm; orifice_diameter=0.6 mm; orifice_count=6; discharge_coefficient=0.82; water_temperature=15 degC; lowest_rating=20000 psi; relief_setting=17000 psi | go
smooth hose, 2 × 15 L/min | pump_flow=7.925161570744453 gal/min; hose_bore=6 mm; hose_length=65.61679790026247 ft; roughness=0 mm; orifice_diameter=0.7 mm; orifice_count=4; discharge_coefficient=0.9; water_temperature=15 degC; lowest_rating=15000 psi; relief_setting=3000 psi | caution
drawn at random 1 | pump_flow=3.7 gal/min; lances=1; roughness=0.002 mm; orifice_diameter=0.6 mm; orifice_count=4; discharge_coefficient=0.69; water_temperature=35 degC; lowest_rating=13300 psi; relief_setting=10700 psi | go
drawn at random 2 | pump_flow=5.6 gal/min; lances=1; hose_bore=8 mm; hose_length=30 ft; roughness=0.002 mm; orifice_diameter=0.42 mm; orifice_count=9; discharge_coefficient=0.81; water_temperature=35 degC; lowest_rating=11000 psi; relief_setting=9200 psi | caution
drawn at random 3 | pump_flow=11.7 gal/min; hose_bore=6 mm; hose_length=115 ft; roughness=0.002 mm; orifice_diameter=0.41 mm; orifice_count=9; discharge_coefficient=0.75; water_temperature=35 degC; lowest_rating=19200 psi; relief_setting=17500 psi | stop
just under 90 % of the setting | relief_setting=12093 psi | go
just past 90 % of it | relief_setting=12092 psi | caution
the pump passes the setting | relief_setting=10883 psi | stop
fully open 0.8 psi above the lowest rating | relief_setting=12728 psi | stop
fully open 0.3 psi below it | relief_setting=12727 psi | go
burst disc | relief=disc; relief_setting=13300 psi; relief_rise=5 % | go
two lances of one hole: plugged is shut | pump_flow=5 gal/min; orifice_diameter=0.9 mm; orifice_count=1 | go
two lances of two holes | pump_flow=5 gal/min; orifice_diameter=0.7 mm; orifice_count=2 | go
forty small holes: a plug hardly shows | pump_flow=10 gal/min; orifice_diameter=0.25 mm; orifice_count=40; hose_bore=8 mm | go
eight lances | pump_flow=40 gal/min; lances=8; hose_bore=6 mm; orifice_diameter=0.8 mm; orifice_count=4; discharge_coefficient=0.7 | go
laminar | pump_flow=0.05 L/min; hose_bore=1.5 mm; hose_length=1 m; orifice_diameter=0.15 mm; orifice_count=3 | go
relief passes just the pump's flow | relief_flow=8.1 gal/min | go
relief passes a hundredth less | relief_flow=8.09 gal/min | stop
no relief named | relief=; relief_setting=; relief_rise=; relief_flow= |
"""

FLOWS = """
one lance | relief_flow=200 gal/min; pump_pressure=10883.074932541638 psi; lances=1; hose_bore=4 mm; hose_length=45 ft; roughness=0.004 mm; orifice_diameter=0.5 mm; orifice_count=5; discharge_coefficient=0.76; water_temperature=12 degC; lowest_rating=14000 psi; relief=valve; relief_setting=12500 psi; relief_rise=10 % | go
relief too high | lances=2; relief_setting=13500 psi | stop
long thin hose | pump_pressure=13385.383344681522 psi; lances=2; hose_bore=3 mm; hose_length=100 ft; roughness=0.002 mm; orifice_diameter=0.4 mm; orifice_count=6; discharge_coefficient=0.8; water_temperature=10 degC; lowest_rating=26000 psi; relief_setting=20000 psi | not stop
wide hose | pump_pressure=1740.9943740267695 psi; lances=2; hose_bore=8 mm; hose_length=50 ft; roughness=0.0015 mm; orifice_diameter=0.8 mm; orifice_count=6; discharge_coefficient=0.85; water_temperature=20 degC; lowest_rating=15000 psi; relief_setting=12000 psi | go
warm water | pump_pressure=5129.975362196709 psi; lances=2; hose_bore=5 mm; hose_length=80 ft; orifice_diameter=0.6 mm; orifice_count=7; discharge_coefficient=0.75; water_temperature=45 degC; lowest_rating=18000 psi; relief_setting=15000 psi | go
over the lowest rating | pump_pressure=23669.33365260878 psi; lances=2 | stop
cold and rough | pump_pressure=5481.640713148127 psi; lances=2; hose_length=70 ft; roughness=0.02 mm; orifice_diameter=0.55 mm; orifice_count=6; discharge_coefficient=0.7; water_temperature=3 degC; lowest_rating=18000 psi; relief_setting=15000 psi | not stop
two lances of one big hole | pump_pressure=9312.513707053822 psi; lances=2; hose_bore=8 mm; hose_length=60 ft; roughness=0.0015 mm; orifice_diameter=1.6 mm; orifice_count=1; discharge_coefficient=0.9; water_temperature=15 degC; lowest_rating=15000 psi; relief_setting=12000 psi | go
no relief device | lances=2; relief=none; relief_setting=; relief_rise=; relief_flow= | stop
exactly 90 % of the setting | pump_pressure=11250 psi | go
just past 90 % of it | pump_pressure=11251 psi | caution
exactly the setting | pump_pressure=12500 psi | stop
fully open 0.8 psi above the lowest rating | relief_setting=12728 psi | stop
fully open just at the lowest rating | lowest_rating=13750 psi | go
past the lowest rating | pump_pressure=12000 psi; lowest_rating=11999 psi | stop
one lance with one hole: no path left | pump_pressure=8000 psi; orifice_diameter=0.9 mm; orifice_count=1 | go
a hose that takes next to nothing | pump_pressure=9000 psi; hose_bore=20 mm; hose_length=1 ft; roughness=0 mm; orifice_count=12 | go
burst disc, metric | pump_pressure=700 bar; lances=3; hose_bore=6 mm; hose_length=20 m; relief=disc; relief_setting=850 bar; relief_rise=5 % | go
no relief named | relief=; relief_setting=; relief_rise=; relief_flow= |
"""

if __name__ == "__main__":
    memory = "10 % of rise to full lift: ASME BPVC VIII (from memory); 90 % of the setting in work: API 520 (from memory)"
    compare("pressure-rating-relief", "pressure-rating", f"exact fractions; {memory}",
            "1e-9 the same sums in another order of rounding", RATINGS, rating, {"relief_margin": 1e-3, "headroom": 1e-3})
    source = "CoolProp 8.0.0 (IAPWS-95, R12-08) for water at 1 atm; Colebrook by Newton's method; scipy 1.17.1 (brentq) on the pressure that all lances share"
    compare("pump-operating-point-plugged", "pump-operating-point", f"{source}; {memory}", "2e-5 the same model; the density agrees to 1e-6, the viscosity to 2e-6",
            POINTS, operating_point, {"headroom": 7000})
    compare("flow-at-pressure-plugged", "flow-at-pressure", f"{source}; {memory}", "2e-5 the same model; the density agrees to 1e-6, the viscosity to 2e-6",
            FLOWS, flow_at_pressure)
