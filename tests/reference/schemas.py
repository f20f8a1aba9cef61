"""Holds the published schemas to the standard's own, and the demonstration handbook to them.

    schemas.py ROOT PUBLIC      the handbook's folder, and the folder that it was published into

Every TOML file and the body of every block must validate, and must no longer once it holds a key
that no table has.
"""

import datetime
import json
import re
import sys
import tomllib
from pathlib import Path

from jsonschema import Draft202012Validator

# A fence that opens with a word, and its body: listings of four accents hold examples.
BLOCK = re.compile(r"^(`{3,})([a-z-]+)[^\n`]*\n(.*?)^\1[ ]*$", re.MULTILINE | re.DOTALL)
FREE = {"calculator", "figure", "setup-sheet", "tube-map"}


def as_json(value):
    """TOML's values as JSON has them: a date is a text."""
    if isinstance(value, dict):
        return {key: as_json(one) for key, one in value.items()}
    if isinstance(value, list):
        return [as_json(one) for one in value]
    if isinstance(value, datetime.date):
        return value.isoformat()
    return value


def kind_of(path, settings):
    """The schema that a file of the handbook answers to; none for a theme's or a test's."""
    named = {"handbook.toml": "handbook", "phase.toml": "phase", "words.toml": "words", "rules.toml": "rules"}
    if path.name in named:
        return named[path.name]
    heads = {"calculator": "calculator-file", "table": "table-file", "kit": "kit-file"}
    return next((kind for head, kind in heads.items() if head in settings), "values-file")


def texts(root):
    """Every text in TOML: where it stands, its kind, what it says."""
    files = [root / "handbook.toml", *root.glob("content/**/*.toml"), *root.glob("calculators/catalog/*.toml")]
    for path in sorted(files):
        settings = tomllib.loads(path.read_text())
        yield path, kind_of(path, settings), settings
    for path in sorted(root.glob("content/**/*.md")):
        for marks, kind, body in BLOCK.findall(path.read_text()):
            if marks == "```" and (Path(sys.argv[2]) / "schemas" / f"{kind}.json").exists():
                yield path, kind, tomllib.loads(body)


def main():
    root, public = map(Path, sys.argv[1:])
    schemas = {}
    for path in sorted(public.glob("schemas/*.json")):
        schema = json.loads(path.read_text())
        Draft202012Validator.check_schema(schema)
        schemas[path.stem] = Draft202012Validator(schema)
    faults, count = [], 0
    for path, kind, settings in texts(root):
        count += 1
        settings = as_json(settings)
        faults += [f"{path}, {kind}: {error.message}" for error in schemas[kind].iter_errors(settings)]
        if kind not in FREE and schemas[kind].is_valid({**settings, "no_such_key": "x"}):
            faults.append(f"{path}, {kind}: an unknown key passes")
    print("\n".join(faults) or f"{len(schemas)} schemas, {count} texts held to them")
    return 1 if faults or not count else 0


if __name__ == "__main__":
    sys.exit(main())
