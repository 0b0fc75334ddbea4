#!/usr/bin/env python3
"""Makes the sample season: an invented program in the Kestrel Basin, April to September 2026.

    make_season.py [FOLDER]      default: the folder `season` beside this script

Every run writes the same bytes. The film's true weight is drawn here and known only here.
"""
import random
import sys
from pathlib import Path

sys.dont_write_bytecode = True
from season_parts import (checks, deliveries, film, mess, money, places, pressing, tables,
                          weighing)

SEED = 2026


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
    return {
        "award": [money.AWARD], "sites": places.site_rows(), "growers": places.grower_rows(),
        "scales": places.scale_rows(), "covers": film.cover_rows(registrations),
        "bundles": film.bundle_rows(registrations),
        "receipts": tables.numbered(receipts, "receipt", "RC", 4), "hauls": hauls,
        "bales": pressing.bale_rows(bales),
        "rejects": tables.numbered(rejects, "reject", "J", 3),
        "shipments": weighing.shipment_rows(loads),
        "tickets": weighing.with_slips(tables.numbered(tickets, "ticket", "T", 4)),
        "acceptances": weighing.acceptance_rows(loads, rng), "budget": money.budget_rows(),
        "costs": tables.numbered(money.cost_rows(), "cost", "C", 3),
        "inkind": tables.numbered(money.inkind_rows(rng), "inkind", "K", 3),
    }


def main(arguments):
    if len(arguments) > 1:
        sys.exit("usage: make_season.py [FOLDER]")
    folder = Path(arguments[0]) if arguments else Path(__file__).resolve().parent / "season"
    tables.write_season(folder, make_season())
    written = tables.read_season(folder)
    checks.check_season(written)
    mess.check_mess(written)
    for kind in tables.KINDS:
        print(f"{kind}.csv: {len(written[kind])} rows")


if __name__ == "__main__":
    main(sys.argv[1:])
