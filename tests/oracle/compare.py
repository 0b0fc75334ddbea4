"""Runs the program named by TAREWELL on a season folder and holds its figures against expectations."""
import json
import os
import subprocess
import tempfile
from fractions import Fraction

PREDICTED = ("on_hand_expected", "on_hand_low", "on_hand_high")  # by the audit's model: no figures of account
PROGRAM = os.environ.get("TAREWELL", "tarewell")


def run(*arguments, ledger=None):
    """Runs the program; returns the finished process with its texts."""
    command = [PROGRAM, *arguments]
    if ledger:
        command += ["--ledger", ledger]
    return subprocess.run(command, capture_output=True, text=True)


def must(*arguments, ledger=None):
    """Runs the program, which must do it."""
    done = run(*arguments, ledger=ledger)
    assert done.returncode == 0, done.stderr[:2000]
    return done


def take(step, folder, ledger):
    """Takes in a folder's season, or one of the files that are taken in by themselves, where it is there."""
    path = folder if step == "season" else os.path.join(folder, step + ".csv")
    if os.path.exists(path):
        must("intake", step, path, ledger=ledger)


def ledger_of(folder, where):
    """Makes a ledger in the folder `where` and takes the season in; returns its path."""
    ledger = os.path.join(where, "season.tarewell")
    must("new", ledger)
    for step in ("settings", "season", "amendments", "rebudgets"):
        take(step, folder, ledger)
    return ledger


def figures(ledger, quarter):
    """The figures of a quarter by name, as JSON gives them."""
    shown = must("quarter", "show", quarter, "--json", ledger=ledger)
    return {each["name"]: each["value"] for each in json.loads(shown.stdout)["figures"]}


def costs(ledger, period):
    """Costs by purpose and site as JSON gives them, in the reckoning's shape."""
    told = json.loads(must("costs", period, "--json", ledger=ledger).stdout)
    return {"tons": told["tons"], "purposes": {line.pop("purpose"): line for line in told["purposes"]},
            "total": {name: value for name, value in told["total"].items() if name != "purpose"},
            "sites": {line.pop("site") or "": line for line in told["sites"]},
            "next_ton": [told["next_ton"]["low"], told["next_ton"]["high"]]}


def across_differences(ledger, period):
    """Where a period's quarters do not sum to it, or a quarter's figure differs from its own command's."""
    told = json.loads(must("quarter", "across", period, "--json", ledger=ledger).stdout)
    for line in told["figures"]:
        if line["across"] == "sum" and isinstance(line["value"], (str, int)):
            parts = sum(Fraction(str(quarter["now"])) for quarter in line["quarters"])
            if parts != Fraction(str(line["value"])):
                yield (period, line["name"], str(parts), line["value"])
    for number, quarter in enumerate(told["quarters"]):
        if "-Q" in quarter["name"]:
            own = figures(ledger, quarter["name"])
            yield from ((quarter["name"], line["name"], own[line["name"]], line["quarters"][number]["now"])
                        for line in told["figures"] if own[line["name"]] != line["quarters"][number]["now"])


def differences(folder, expected, expected_costs=None, with_quarters=False):
    """Every (quarter, figure, expected, got) that is not the same to the last digit."""
    found = []
    with tempfile.TemporaryDirectory() as where:
        ledger = ledger_of(folder, where)
        for period, wanted in (expected_costs or {}).items():
            got = costs(ledger, period)
            found += [(period, "costs: " + name, wanted[name], got[name]) for name in wanted if got[name] != wanted[name]]
        if with_quarters:
            found += across_differences(ledger, "final")
        for quarter, wanted in expected.items():
            got = figures(ledger, quarter)
            for name, value in wanted.items():
                if repr(got.get(name, "missing")) != repr(value):
                    found.append((quarter, name, value, got.get(name, "missing")))
            found += [(quarter, name, "not reckoned", got[name])
                      for name in got if name not in wanted and name not in PREDICTED]
    return found
