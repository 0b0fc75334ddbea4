#!/usr/bin/env python3
"""An independent reckoning of a season folder, from the interchange's text alone.

Prints every figure of each quarter in the shape of an `expected.json`. It shares
no code with the library and takes its input to be valid.

    reckon.py FOLDER [--quarters 2026-Q2 ...]
    reckon.py FOLDER --detail
    reckon.py FOLDER --longer       years, the whole award and spans, as "figures", and their "costs"
    reckon.py FOLDER [FOLDER ...] --check     against each folder's expected.json
"""

import argparse
import datetime
import json
import sys
from pathlib import Path

from detail import detail
from figures import Reckoning
from cost_steps import cost_steps
from quarters import Quarter, period_named, quarter_of
from season import DATED, read_season


def award_quarters(season):
    """The quarters of the award, and those outside it that hold dated rows."""
    award = season["award"][0]
    starts = award["quarter_starts"]
    begins, ends = (quarter_of(award[column], starts) for column in ("begins", "ends"))
    found = {Quarter(index, starts) for index in range(begins.index, ends.index + 1)}
    found |= {quarter_of(row["date"], starts) for kind in DATED for row in season[kind]}
    return sorted(found)


def reckon(season, names=None):
    """The figures of the named quarters, or of all that matter, by quarter."""
    reckoning = Reckoning(season)
    ends = reckoning.terms.on("ends", datetime.date.max)
    quarters = ([period_named(name, season, ends) for name in names] if names
                else award_quarters(season))
    return {quarter.name: reckoning.figures(quarter) for quarter in quarters}


def longer_periods(season):
    """Names of a season's years, its whole award, and a span of quarters and one of months that cut across them."""
    quarters = award_quarters(season)
    years = sorted({quarter.name[:4] for quarter in quarters})
    months = [f"{day.year:04d}-{day.month:02d}" for day in (quarters[0].first, quarters[-1].last)]
    inner = max(quarters[0].name, quarters[-2].name if len(quarters) > 1 else "")
    return years + ["final", f"{quarters[0].name}..{inner}", "..".join(months)]


def costs(season):
    """Costs by purpose and site, of the whole award and of months that cut across quarters."""
    reckoning = Reckoning(season)
    ends = reckoning.terms.on("ends", datetime.date.max)
    return {name: cost_steps(reckoning, period_named(name, season, ends)) for name in longer_periods(season)[-3::2]}


def differences(folder):
    """Where the reckoning and the folder's expected.json differ, one line each."""
    expected = json.loads((Path(folder) / "expected.json").read_text(encoding="utf-8"))
    reckoned = reckon(read_season(folder), list(expected))
    return [f"{folder}: {quarter} {name}: expected {figures.get(name)!r},"
            f" reckoned {reckoned[quarter].get(name)!r}"
            for quarter, figures in expected.items()
            for name in sorted(figures.keys() | reckoned[quarter].keys())
            if repr(figures.get(name)) != repr(reckoned[quarter].get(name))]


def main():
    """The command line."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("folders", metavar="FOLDER", nargs="+")
    parser.add_argument("--quarters", nargs="+", metavar="Q")
    parser.add_argument("--longer", action="store_true", help="years, the whole award, spans, and their costs")
    parser.add_argument("--detail", action="store_true", help="bales, shares and totals")
    parser.add_argument("--check", action="store_true", help="against expected.json")
    options = parser.parse_args()
    if options.check:
        found = [line for folder in options.folders for line in differences(folder)]
        print("\n".join(found) or "all figures agree")
        return 1 if found else 0
    if len(options.folders) > 1:
        parser.error("several folders only with --check")
    season = read_season(options.folders[0])
    if options.longer:
        answer = {"figures": reckon(season, longer_periods(season)), "costs": costs(season)}
        answer["costs"] = {name: each | {"sites": {site or "": line for site, line in each["sites"].items()}}
                           for name, each in answer["costs"].items()}
    else:
        answer = detail(season) if options.detail else reckon(season, options.quarters)
    print(json.dumps(answer, indent=1, ensure_ascii=False))
    return 0


if __name__ == "__main__":
    sys.exit(main())
