#!/usr/bin/env python3
"""Writes a random valid season folder that stresses the rare rules of the interchange.

    random_season.py SEED FOLDER [--unsettled]

The same seed gives the same bytes. Without --unsettled it keeps to what the
interchange's text settles; with it, also what two careful readers may read
differently (see UNSETTLED).
"""

import argparse
import datetime
import random

from folder_writer import write_awkwardly
from invented import Invented
from random_agency import AgencyMaker
from random_bales import BalesMaker
from random_bundles import BundlesMaker
from random_money import MoneyMaker
from season import KINDS

UNSETTLED = """
- a site or baler reject with weight of a bundle whose bale is weighed later
- a rejecting receipt on the day on which the bundle's bale is weighed
- a reject with weight, after the weighing, of a bundle no longer in the bale
- estimates of 0, so that shares by estimate may have nothing to go by
- match_percent without match_base
- a receipt with both bundle and label
"""


class SeasonMaker(BundlesMaker, BalesMaker, MoneyMaker, AgencyMaker):
    """Makes the tables of a season, in the order of intake."""

    def __init__(self, seed, unsettled):
        self.random = random.Random(seed)
        self.invented = Invented(self.random)
        self.unsettled = unsettled
        self.tables = {kind: [] for kind in KINDS}

    def make(self):
        """All tables of the season, as dicts of text."""
        self.make_award()
        self.make_settings()
        self.make_amendments()
        self.make_places()
        self.make_growers()
        self.make_registrations()
        self.make_receipts()
        self.make_bales()
        self.make_hauls()
        self.make_shipments()
        self.make_tickets()
        self.drop_late_receipts()
        self.make_rejects()
        self.make_acceptances()
        self.make_money()
        self.make_agency()
        for kind in ("sites", "growers", "covers", "bundles", "receipts", "bales", "rejects",
                     "shipments", "tickets", "costs", "obligations", "liquidations", "income", "requests", "payments",
                     "settings", "rebudgets"):
            if self.invented.chance(0.5):
                self.random.shuffle(self.tables[kind])
        return self.tables

    def make_award(self):
        """The award: its days, unit, percents and ways of counting."""
        chance, maybe = self.invented.chance, self.invented.maybe
        year = self.random.randint(2024, 2031)
        self.begins = datetime.date(year, self.random.randint(1, 12), self.random.choice((1, 15)))
        self.ends = self.begins + datetime.timedelta(days=self.random.randint(200, 500))
        self.first = self.begins - datetime.timedelta(days=60 if chance(0.4) else 0)
        self.last = self.ends + datetime.timedelta(days=60 if chance(0.4) else 0)
        self.region = self.random.choice(("KB", "Kestrel Basin", "Bæsin, upper"))
        self.unit = self.invented.unit()
        match_percent = self.random.choice(("", "20", "25.0", "33.3", "12.5", "50"))
        base_given = match_percent and not (self.unsettled and chance(0.3))
        self.indirect_percent = self.random.choice(("", "", "10", "15", "12.25", "8.5"))
        self.tables["award"] = [{
            "award": "KB-1", "agency": self.invented.person(), "program": "Kestrel Basin film",
            "region": self.region, "begins": str(self.begins), "ends": str(self.ends),
            "goal_tons": self.invented.decimal(1, 40, self.random.choice((0, 1, 3))),
            "quarter_starts": str(self.random.randint(1, 12)), "unit": self.unit,
            "match_percent": match_percent,
            "match_base": self.random.choice(("total", "grant")) if base_given else "",
            "indirect_percent": self.indirect_percent,
            "counted_when": maybe(self.random.choice(("weighed", "shipped", "accepted")), 0.8),
        }]

    def make_places(self):
        """Sites and scales."""
        invented = self.invented
        self.sites = invented.ids("S", self.random.randint(2, 6))
        for site in self.sites:
            self.tables["sites"].append({
                "site": site, "name": invented.place(), "town": invented.maybe("Wend"),
                "host": invented.maybe("volunteer"), "opens": invented.maybe("07:30"),
                "closes": invented.maybe("23:59"), "capacity_lb": invented.maybe("4000.5")})
        self.scales = invented.ids("P", self.random.randint(1, 3))
        for scale in self.scales:
            certified = invented.day(self.first, self.last)
            self.tables["scales"].append({
                "scale": scale, "location": invented.maybe(invented.place()),
                "class": self.random.choice(("III", "III L", "IIII")),
                "capacity": self.random.choice(("300", "5000", "80000.0")),
                "division": self.random.choice(("0.05", "0.5", "1", "20")),
                "unit": invented.unit(),
                "certified_on": invented.maybe(str(certified)),
                "certified_until": invented.maybe(str(certified + datetime.timedelta(days=90)))})

    def make_growers(self):
        """Growers, all of the award's region."""
        invented = self.invented
        self.growers = invented.ids("G", self.random.randint(5, 25))
        for grower in self.growers:
            self.tables["growers"].append({
                "grower": grower, "name": invented.person(), "region": self.region,
                "farm": invented.maybe(invented.place()), "town": invented.maybe("Wend"),
                "email": invented.maybe("g@example.org"), "phone": invented.maybe("555 0100")})


def main():
    """The command line."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("seed", metavar="SEED", type=int)
    parser.add_argument("folder", metavar="FOLDER")
    parser.add_argument("--unsettled", action="store_true",
                        help="also what two careful readers may read differently")
    options = parser.parse_args()
    maker = SeasonMaker(options.seed, options.unsettled)
    tables = maker.make()
    write_awkwardly(maker.random, options.folder, tables)


if __name__ == "__main__":
    main()
