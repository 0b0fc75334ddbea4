"""Runs the program named by TAREWELL on a season folder and holds its figures against expectations."""
import json
import os
import subprocess
import tempfile

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


def differences(folder, expected):
    """Every (quarter, figure, expected, got) that is not the same to the last digit."""
    found = []
    with tempfile.TemporaryDirectory() as where:
        ledger = ledger_of(folder, where)
        for quarter, wanted in expected.items():
            got = figures(ledger, quarter)
            for name, value in wanted.items():
                if repr(got.get(name, "missing")) != repr(value):
                    found.append((quarter, name, value, got.get(name, "missing")))
            found += [(quarter, name, "not reckoned", got[name])
                      for name in got if name not in wanted and name not in PREDICTED]
    return found
