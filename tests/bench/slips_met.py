#!/usr/bin/env python3
"""Slips of weighing put into invented seasons: what is told at entry, what is flagged, and what blocks the closing.

    TAREWELL=.build/release/tarewell python3 tests/bench/slips_met.py [seasons = 40] [first seed = 1] [clean = 100]

A season: 40 growers at 4 sites, about 160 bundles of 30 to 58 lb claimed, 20-odd bales of 8. A grower's claims are off
by a lognormal error (sd .07), a bundle's weight by 8 %, a site's by 4 %. One ticket in the second half is slipped and
typed in after all others of before; then the rest is taken in. "Entry" is any doubt told when it was typed, "stopped"
one that asks at a terminal; "flagged" any flag on it besides estimate-off; "blocked" one that blocks closing. A clean
season is stopped falsely where any flag blocks its closing."""
import csv
import json
import os
import random
import subprocess
import sys
import tempfile

PROGRAM = os.path.abspath(os.environ.get("TAREWELL", ".build/release/tarewell"))
AWARD = ["award", "agency", "program", "region", "begins", "ends", "goal_tons", "quarter_starts", "unit"]
TICKET = ["ticket", "date", "scale", "weighs", "subject", "net", "unit", "entry", "document"]


def day(number):
    """The day of the season, from April 1st on."""
    month, rest = divmod(number, 30)
    return f"2026-{4 + month:02d}-{1 + rest:02d}"


def season(seed):
    """Files by name, and the tickets in order."""
    dice = random.Random(seed)
    files = {"award": [AWARD, ["KB-26", "Basin Agency", "Kestrel Basin film", "KB", "2026-01-01", "2026-12-31", "30",
                               "1", "lb"]],
             "sites": [["site", "name"]] + [[f"S{s}", f"Yard {s}"] for s in range(4)],
             "growers": [["grower", "name", "region"]] + [[f"G{g:02d}", f"Grower number {g}", "KB"] for g in range(40)],
             "scales": [["scale", "class", "capacity", "division", "unit"], ["P1", "III", "5000", "1", "lb"]],
             "covers": [["registration", "date", "grower", "site", "cover"]],
             "bundles": [["bundle", "registration", "number", "of", "estimate", "unit"]],
             "receipts": [["receipt", "date", "site", "bundle", "outcome"]],
             "bales": [["bale", "date", "site", "bundle"]]}
    site_ratio = [1 + .04 * dice.gauss(0, 1) for _ in range(4)]
    weight, at_site = {}, {s: [] for s in range(4)}
    for g in range(40):
        ratio, site, claim = dice.lognormvariate(0, .07), g % 4, dice.uniform(30, 58)
        registration, count, on = f"R{g:02d}", 3 + dice.randrange(4), dice.randrange(60)
        files["covers"].append([registration, day(on), f"G{g:02d}", f"S{site}", "1"])
        for b in range(count):
            bundle = f"{registration}-{b + 1}"
            files["bundles"].append([bundle, registration, b + 1, count, f"{claim:.1f}", "lb"])
            files["receipts"].append([f"RC{bundle}", day(on + 5), f"S{site}", bundle, "accepted"])
            weight[bundle] = claim * .95 * ratio * site_ratio[site] * (1 + .08 * dice.gauss(0, 1))
            at_site[site].append((on, bundle))
    tickets = []
    for site, delivered in at_site.items():
        delivered.sort()
        for first in range(0, len(delivered) - 3, 8):
            inside = delivered[first:first + 8]
            bale, on = f"B{len(tickets):03d}", day(80 + len(tickets) % 8)
            files["bales"] += [[bale, on, f"S{site}", bundle] for _, bundle in inside]
            tickets.append([f"T{len(tickets):03d}", on, "P1", "bale", bale,
                            round(sum(weight[bundle] for _, bundle in inside)), "lb", "printed", f"{1000 + len(tickets)}"])
    dice.shuffle(tickets)
    return files, tickets


def swapped(net, at):
    """Two digits of a net that follow each other, the other way round; None where that changes nothing."""
    text = str(net)
    at = at if at >= 0 else len(text) + at
    if at + 1 >= len(text) or text[at] == text[at + 1] or (at == 0 and text[1] == "0"):
        return None
    return int(text[:at] + text[at + 1] + text[at] + text[at + 2:])


def slipped(kind, ticket, others, dice):
    """The ticket as it is mistyped; None where the slip is none."""
    made = list(ticket)
    if kind == "tenfold":
        made[5] = ticket[5] * 10
    elif kind == "kilograms as pounds":
        made[5] = round(ticket[5] * .45359237)
    elif kind == "first digits swapped":
        made[5] = swapped(ticket[5], 0)
    elif kind == "last digits swapped":
        made[5] = swapped(ticket[5], -2)
    elif kind == "wrong bale":
        made[4] = dice.choice(others)[4]
    elif kind == "twice":
        made[0], made[4], made[5], made[8] = "T900", others[0][4], others[0][5], others[0][8]
    return None if made[5] is None else made


def run(ledger, *arguments):
    """A command's exit, output and talk."""
    done = subprocess.run([PROGRAM, "--ledger", ledger, *arguments], capture_output=True, text=True, check=False)
    return done.returncode, done.stdout, done.stderr


def write(folder, files):
    """CSV files of a folder."""
    os.makedirs(folder, exist_ok=True)
    for name, rows in files.items():
        with open(os.path.join(folder, name + ".csv"), "w", newline="", encoding="utf-8") as file:
            csv.writer(file, lineterminator="\n").writerows(rows)


def must(*arguments):
    """A command that has to go well."""
    code, out, err = run(*arguments)
    if code not in (0, 1):
        raise SystemExit(f"{arguments}: {code} {out}{err}")
    return out, err


def flags(where):
    """The flags of a ledger."""
    return json.loads(must(where, "flags", "--json")[0])["flags"]


def meet(where, seed, kind):
    """How a slip is met: told at entry, stopped at entry, flagged, blocked; None where there is none."""
    files, tickets = season(seed)
    dice = random.Random(seed * 7 + len(kind))
    place = len(tickets) // 2 + dice.randrange(len(tickets) // 2)
    made = slipped(kind, tickets[place], tickets[:place], dice)
    if made is None:
        return None
    ledger = os.path.join(where, "a.tarewell")
    must(ledger, "new", ledger)
    before = tickets[:place + (kind == "twice")]
    write(os.path.join(where, "season"), {**files, "tickets": [TICKET] + before})
    must(ledger, "intake", "season", os.path.join(where, "season"))
    options = [word for name, value in zip(TICKET, made) for word in ("--" + name, str(value))]
    _, told = must(ledger, "record", "ticket", *options)
    doubts = [line for line in told.splitlines() if line.startswith(("question: ", "blocks closing: "))
              and "than its estimate" not in line]
    after = os.path.join(where, "after")
    write(after, {"tickets": [TICKET] + tickets[place + 1:]})
    must(ledger, "intake", "tickets", os.path.join(after, "tickets.csv"))
    found = [each for each in flags(ledger) if each["code"] not in ("estimate-off", "not-weighed")
             and each["subject"] in (made[0], made[4], tickets[place][4])]
    return (bool(doubts), any(line.startswith("blocks") for line in doubts), bool(found),
            any(each["stops_closing"] for each in found))


def clean(where, seed):
    """Flags that block a season without a slip, the questions about its nets, and its tickets."""
    files, tickets = season(seed)
    ledger = os.path.join(where, "a.tarewell")
    must(ledger, "new", ledger)
    write(os.path.join(where, "season"), {**files, "tickets": [TICKET] + tickets})
    must(ledger, "intake", "season", os.path.join(where, "season"))
    found = flags(ledger)
    return (sum(each["stops_closing"] for each in found), sum(each["code"] == "net-in-doubt" for each in found),
            len(tickets))


def main():
    seasons, first, clean_ones = (int(text) for text in (sys.argv[1:] + ["40", "1", "100"][len(sys.argv) - 1:])[:3])
    print(f"{'slip':<22}{'met':>5}{'at entry':>10}{'stopped':>10}{'flagged':>10}{'blocked':>10}")
    for kind in ("tenfold", "kilograms as pounds", "first digits swapped", "last digits swapped", "wrong bale", "twice"):
        results = []
        for seed in range(first, first + seasons):
            with tempfile.TemporaryDirectory() as where:
                met = meet(where, seed, kind)
            if met is not None:
                results.append(met)
        shares = [100 * sum(each[k] for each in results) / len(results) for k in range(4)]
        print(f"{kind:<22}{len(results):>5}" + "".join(f"{share:>8.0f} %" for share in shares), flush=True)
    stopped = doubted = stops = tickets = 0
    for seed in range(first, first + clean_ones):
        with tempfile.TemporaryDirectory() as where:
            blocks, questions, count = clean(where, seed)
        stopped += blocks > 0
        stops += blocks
        doubted += questions
        tickets += count
    print(f"clean seasons: {stopped} of {clean_ones} stopped falsely; of {tickets} tickets {100 * stops / tickets:.2f} % "
          f"stopped and {100 * doubted / tickets:.2f} % a question, falsely")


if __name__ == "__main__":
    main()
