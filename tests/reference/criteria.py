"""What the scripts share that write the reference values of the second edition's criteria.

Inputs stand in tables as people type them; units are exact fractions, so that a corner such
as a setting exactly at its limit is decided without rounding.
"""

import csv
import math
import pathlib
import re
from fractions import Fraction

HERE = pathlib.Path(__file__).parent / "calculators"

INCH = Fraction(254, 10000)
FOOT = 12 * INCH
POUND = Fraction(45359237, 10**8)
LBF = POUND * Fraction(980665, 10**5)
GALLON = 231 * INCH**3
UNITS = {
    "": 1, "%": Fraction(1, 100), "dB": 1, "s": 1, "min": 60, "h": 3600, "deg": Fraction(math.pi) / 180,
    "in": INCH, "ft": FOOT, "mm": Fraction(1, 1000), "m": 1, "mm/m": Fraction(1, 1000),
    "psi": LBF / INCH**2, "bar": 10**5, "MPa": 10**6, "lbf": LBF, "N": 1, "lb": POUND, "kg": 1,
    "ft·lbf": FOOT * LBF, "N·m": 1, "gal": GALLON, "L": Fraction(1, 1000), "gal/min": GALLON / 60,
    "L/min": Fraction(1, 60000), "ft/min": FOOT / 60, "m/min": Fraction(1, 60), "ft3/min": FOOT**3 / 60,
}

def si(text):
    """A typed quantity in SI as an exact fraction; a choice as it is."""
    found = re.fullmatch(r"(-?[\d.]+)(?:/(\d+))? ?(.*)", text)
    if not found or found[3] not in {*UNITS, "degC", "degF"}:
        return text
    value = Fraction(found[1]) / int(found[2] or 1)
    if found[3] == "degC":
        return value + Fraction("273.15")
    if found[3] == "degF":
        return (value + Fraction("459.67")) * 5 / 9
    return value * UNITS[found[3]]

def typed(text):
    """Just three places after one to three digits may be thousands, and would be asked back."""
    return re.sub(r"^(-?[1-9]\d{0,2}\.\d{3})(?=$| )", r"\g<1>0", text)

def cases(table):
    """Rows `case | input=value; input=value | verdict`: the first gives all inputs, each other what
    it changes of them; `input=` gives none."""
    first = None
    for line in table.strip().splitlines():
        case, changes, verdict = (part.strip() for part in line.split(" |"))
        changes = dict(change.strip().split("=") for change in changes.split(";") if change.strip())
        given = changes if first is None else {**first, **changes}
        first = first or given
        yield case.replace(",", ""), {name: text for name, text in given.items() if text}, verdict

def cell(value):
    return value if isinstance(value, str) else str(value) if isinstance(value, int) else repr(float(value))

def write(name, calculator, source, tolerance, rows, absolute=()):
    """Columns in the order of their first use; what a row doesn't have stays empty."""
    columns = {kind: {} for kind in ("case", "in.", "out.", "verdict")}
    for row in rows:
        for column in row:
            columns[next(kind for kind in columns if column.startswith(kind))][column] = None
    header = [column for found in columns.values() for column in found]
    with (HERE / f"{name}.csv").open("w", newline="\n") as out:
        out.write(f"# calculator: {calculator}\n# source: {source}\n# tolerance: {tolerance}\n")
        for output, value in dict(absolute).items():
            out.write(f"# absolute: {output} {value}\n")
        writer = csv.DictWriter(out, header, restval="", lineterminator="\n")
        writer.writeheader()
        writer.writerows(rows)

def compare(name, calculator, source, tolerance, table, work, absolute=()):
    """Writes a table's cases with what `work` makes of their inputs in SI: results and a verdict. The
    table's own verdict, set by hand, must be the same; an empty one says that nothing is expected."""
    rows = []
    for case, given, stated in cases(table):
        results, verdict = work({input: si(text) for input, text in given.items()})
        agrees = verdict != "stop" if stated == "not stop" else stated in ("", verdict)
        assert agrees, f"{name}: {case}: {verdict}, not {stated}"
        row = {"case": case} | {f"in.{input}": typed(text) for input, text in given.items()}
        row |= {f"out.{output}": cell(value) for output, value in results.items() if value is not None}
        rows.append(row | {"verdict": stated})
    write(name, calculator, source, tolerance, rows, absolute)
