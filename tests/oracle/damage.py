#!/usr/bin/env python3
"""Writes a copy of a valid season folder in which exactly one rule is broken.

    damage.py SEED FOLDER OUT [--rule NAME]
    damage.py --list

The seed chooses the rule (seeds 0, 1, 2, ... go through all of them) and how it is
broken. OUT/damage.json says what was broken and where it should be reported: `rule`,
`file`, `line` (null: any), `column` (null: any), and `columns`, all reasonable ones.
"""

import argparse
import json
import random
import sys
from pathlib import Path

import damage_format
import damage_meaning
import damage_values
from damage_copy import SeasonCopy


def all_rules():
    """All rules by name, in a fixed order that mixes their kinds."""
    found = damage_meaning.rules() | damage_values.rules() | damage_format.rules()
    names = sorted(found)
    random.Random(0).shuffle(names)
    return {name: found[name] for name in names}


def break_one(folder, seed, wanted=None):
    """A copy with one rule broken, its name and place; the next rule where one won't do."""
    rules = all_rules()
    names = list(rules)
    start = names.index(wanted) if wanted else seed % len(names)
    for step in range(1 if wanted else len(names)):
        name = names[(start + step) % len(names)]
        for attempt in range(5):
            copy = SeasonCopy(folder)
            place = rules[name](copy, random.Random(seed * 10 + attempt))
            if place is not None:
                return copy, name, place
    return None


def line_of(copy, place):
    """The line at which a broken rule should be reported, None for any."""
    if place.index is None:
        return None
    return 1 if place.index < 0 else copy.line_number(place.kind, place.index)


def main():
    """The command line."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("seed", metavar="SEED", type=int, nargs="?")
    parser.add_argument("folder", metavar="FOLDER", nargs="?")
    parser.add_argument("out", metavar="OUT", nargs="?")
    parser.add_argument("--rule", metavar="NAME", help="break this rule, whatever the seed")
    parser.add_argument("--list", action="store_true", help="the rules' names")
    options = parser.parse_args()
    if options.list:
        print("\n".join(all_rules()))
        return 0
    if options.out is None:
        parser.error("SEED, FOLDER and OUT are needed")
    broken = break_one(options.folder, options.seed, options.rule)
    if broken is None:
        print("this season has nothing with which to break the rule", file=sys.stderr)
        return 1
    copy, name, place = broken
    copy.write(options.out, place.kind)
    line = line_of(copy, place)
    (Path(options.out) / "damage.json").write_text(json.dumps({
        "rule": name, "file": f"{place.kind}.csv", "line": line,
        "column": place.columns[0] if place.columns else None,
        "columns": list(place.columns)}, indent=1) + "\n", encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
