"""Writes the outside reference values that the tests compare with.

Run it in an environment with the packages of requirements.txt; it rewrites
the CSV files beside it. Nothing here is computed by the project itself.
"""

import csv
import pathlib

import fluids
import pint

HERE = pathlib.Path(__file__).parent


def write(name, source, tolerance, header, rows):
    with (HERE / name).open("w", newline="\n") as out:
        out.write(f"# source: {source}\n# tolerance: {tolerance}\n")
        writer = csv.writer(out, lineterminator="\n")
        writer.writerow(header)
        writer.writerows(rows)


def units():
    registry = pint.UnitRegistry()
    names = {
        "in": "inch", "ft": "foot", "yd": "yard", "mm": "millimeter", "cm": "centimeter",
        "lb": "pound", "g": "gram", "min": "minute", "h": "hour", "deg": "degree",
        "lbf": "pound_force", "kN": "kilonewton", "psi": "pound_force / inch ** 2", "bar": "bar",
        "MPa": "megapascal", "atm": "standard_atmosphere", "gal": "US_liquid_gallon",
        "gal/min": "US_liquid_gallon / minute", "L/min": "liter / minute", "ft3/min": "foot ** 3 / minute",
        "hp": "550 * foot * pound_force / second", "kW": "kilowatt", "kWh": "kilowatt_hour",
        "ft/min": "foot / minute", "g/kWh": "gram / kilowatt_hour", "lb/ft3": "pound / foot ** 3",
        "in/ft": "inch / foot", "mm/m": "millimeter / meter", "psia": "pound_force / inch ** 2",
    }
    rows = []
    for ours, theirs in names.items():
        for value in (1, 37.5):
            quantity = registry.Quantity(value, "") * registry.parse_expression(theirs)
            rows.append([value, ours, repr(float(quantity.to_base_units().magnitude))])
    for value, unit, theirs in ((-40, "degF", "degF"), (68, "degF", "degF"), (212, "degF", "degF"), (15, "degC", "degC")):
        rows.append([value, unit, repr(float(registry.Quantity(value, theirs).to("kelvin").magnitude))])
    write("units.csv", "pint 0.25.3", "1e-12 relative: the same definitions, in another order of rounding",
          ["value", "unit", "si"], rows)


def pipe_sizes():
    rows = []
    for nominal, text in ((0.125, "1/8 in"), (0.25, "1/4 in"), (0.375, "3/8 in"), (0.5, "1/2 in"), (0.75, "3/4 in"), (1, "1 in")):
        for schedule in ("40", "80"):
            _, inner, outer, wall = fluids.piping.nearest_pipe(NPS=nominal, schedule=schedule)
            rows.append([text, schedule, repr(outer), repr(wall), repr(inner)])
    write("pipe-sizes.csv", "fluids 1.3.1, nearest_pipe: ASME B36.10M in its metric series",
          "0.6 % relative: the metric series rounds the inch series to 0.1 mm and 0.01 mm",
          ["size", "schedule", "od", "wall", "bore"], rows)


if __name__ == "__main__":
    units()
    pipe_sizes()
