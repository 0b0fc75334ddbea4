#!/usr/bin/env python3
"""Makes the sample season: an invented program in the Kestrel Basin, April to September 2026.

    make_season.py [FOLDER]      default: the folder `season` beside this script

Every run writes the same bytes. The film's true weight is drawn here and known only here.
"""
import csv
import random
import sys
from pathlib import Path

sys.dont_write_bytecode = True
from season_parts import agency, deliveries, film, mess, money, places, pressing, weighing

SEED = 2027

# the files of the interchange, in the order of intake, and their columns
COLUMNS = {
    "award": "award agency program region begins ends goal_tons quarter_starts unit"
             " match_percent match_base indirect_percent counted_when",
    "sites": "site name town host opens closes capacity_lb",
    "growers": "grower name farm town region email phone",
    "scales": "scale location class capacity division unit certified_on certified_until",
    "covers": "registration date grower site cover structure length_ft width_ft rise_ft"
             " layers film mil",
    "bundles": "bundle registration number of estimate unit",
    "receipts": "receipt date site bundle registration number outcome reason disposition"
             " received_by",
    "hauls": "haul date from to bundle driver",
    "bales": "bale date site bundle",
    "rejects": "reject date stage bundle bale weight unit reason disposition document",
    "shipments": "shipment date processor bale carrier bill_of_lading",
    "tickets": "ticket date scale weighs subject gross tare net unit weigher entry"
             " as_printed document",
    "acceptances": "shipment date weight unit document received rejected reason price per",
    "budget": "category grant match",
    "costs": "cost date category description payee amount fund source subaward paid_on document"
             " purpose site",
    "inkind": "inkind date kind giver site source quantity rate amount document purpose",
    "rates": "rate kind what begins value source",
    "obligations": "obligation date category description payee amount fund document",
    "liquidations": "liquidation date obligation amount cost",
    "income": "income date kind method description party amount cost document shipment",
    "requests": "request date cost indirect document",
    "payments": "payment date kind amount request retained document",
    "narrative": "quarter part text",
}


def make_season():
    """All rows of all files, by the file's name."""
    rng = random.Random(SEED)
    registrations = film.draw_registrations(rng)
    deliveries.plan_arrivals(registrations, rng)
    deliveries.deal_fates(registrations, rng)
    deliveries.add_odd_registrations(registrations)
    receipts, rejects = deliveries.receipts_and_rejects(registrations, rng)
    bales, hauls, thrown_out = pressing.haul_and_press(registrations, rng)
    loads = weighing.ship(bales)
    tickets = (weighing.bale_tickets(bales, rng) + weighing.load_tickets(loads)
               + weighing.spot_weights(receipts, registrations, rng))
    rejects += thrown_out + weighing.weighed_out(loads, tickets)
    costs = numbered(money.cost_rows(), "cost", "C", 3)
    return {
        "award": [money.AWARD], "sites": places.site_rows(), "growers": places.grower_rows(),
        "scales": places.scale_rows(), "covers": film.cover_rows(registrations),
        "bundles": film.bundle_rows(registrations),
        "receipts": numbered(receipts, "receipt", "RC", 4), "hauls": hauls,
        "bales": pressing.bale_rows(bales),
        "rejects": numbered(rejects, "reject", "J", 3),
        "shipments": weighing.shipment_rows(loads),
        "tickets": weighing.with_slips(numbered(tickets, "ticket", "T", 4)),
        "acceptances": weighing.acceptance_rows(loads, rng), "budget": money.budget_rows(),
        "costs": costs,
        "inkind": numbered(money.inkind_rows(rng), "inkind", "K", 3),
        "rates": agency.rate_rows(), "obligations": agency.obligation_rows(),
        "liquidations": numbered(agency.liquidation_rows(costs), "liquidation", "LQ", 2),
        "income": agency.income_rows(costs), "requests": agency.request_rows(costs),
        "payments": agency.payment_rows(costs), "narrative": agency.note_rows(),
    }


def numbered(rows, column, prefix, digits):
    """Gives each row its id, in order of date; rows of one date keep their order."""
    ordered = sorted(rows, key=lambda row: row["date"])
    for count, row in enumerate(ordered, start=1):
        row[column] = f"{prefix}{count:0{digits}d}"
    return ordered


def write_season(folder, season):
    """Writes every file; a missing cell is empty, an unknown column is a mistake."""
    folder.mkdir(parents=True, exist_ok=True)
    for kind, columns in COLUMNS.items():
        with open(folder / f"{kind}.csv", "w", encoding="utf-8", newline="") as out:
            writer = csv.DictWriter(out, columns.split(), restval="", lineterminator="\n")
            writer.writeheader()
            writer.writerows(season[kind])


def read_season(folder):
    """Reads the files back as lists of rows, each with all its columns."""
    season = {}
    for kind in COLUMNS:
        with open(folder / f"{kind}.csv", encoding="utf-8", newline="") as lines:
            season[kind] = list(csv.DictReader(lines, strict=True))
    return season


def main(arguments):
    if len(arguments) > 1:
        sys.exit("usage: make_season.py [FOLDER]")
    folder = Path(arguments[0]) if arguments else Path(__file__).resolve().parent / "season"
    write_season(folder, make_season())
    written = read_season(folder)
    mess.check_mess(written)
    for kind, rows in written.items():
        print(f"{kind}.csv: {len(rows)} rows")


if __name__ == "__main__":
    main(sys.argv[1:])
