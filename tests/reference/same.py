"""Compares two folders of reference values: same.py COMMITTED AGAIN

The texts must be the same, and each number within a part in 10^9: the last digits
of these packages differ from one processor to the next. The values are used to a
part in 10^6 at the narrowest.
"""

import math
import pathlib
import re
import sys

NUMBER = re.compile(r"[-+]?\d+(?:\.\d+)?(?:e[-+]?\d+)?")

def differences(committed, again):
    """Each line that differs, as (line number, committed, again)."""
    before, after = committed.splitlines(), again.splitlines()
    if len(before) != len(after):
        yield min(len(before), len(after)) + 1, f"{len(before)} lines", f"{len(after)} lines"
    for number, (old, new) in enumerate(zip(before, after), 1):
        texts_differ = NUMBER.split(old) != NUMBER.split(new)
        pairs = zip(NUMBER.findall(old), NUMBER.findall(new))
        if texts_differ or not all(math.isclose(float(a), float(b), rel_tol=1e-9) for a, b in pairs):
            yield number, old, new

def files(folder):
    return {path.relative_to(folder) for path in folder.rglob("*") if path.is_file() and "__pycache__" not in path.parts}

def main(committed, again):
    found = 0
    for path in sorted(files(committed) | files(again)):
        if not ((committed / path).exists() and (again / path).exists()):
            print(f"{path}: only in {committed if (committed / path).exists() else again}")
            found += 1
            continue
        for line, old, new in differences((committed / path).read_text(), (again / path).read_text()):
            print(f"{path}:{line}\n  committed: {old}\n  made again: {new}")
            found += 1
    return 1 if found else 0

if __name__ == "__main__":
    sys.exit(main(pathlib.Path(sys.argv[1]), pathlib.Path(sys.argv[2])))
