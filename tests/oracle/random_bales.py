"""The part of a random season from the bale to what was accepted and rejected."""

import datetime
from decimal import Decimal
from fractions import Fraction

from award_terms import TERMS, Terms
from invented import plain
from line_of_life import (first_tickets, follow, load_remainders, make_bales, make_bundles,
                          weigh_alone)
from season import KINDS, values_of


class BalesMaker:
    """Bales, hauls, shipments, tickets, rejects and acceptances, after the receipts."""

    def make_bales(self):
        """Bales of bundles near in time, some never accepted or accepted too late."""
        chosen = [bundle for bundle in self.bundles
                  if self.invented.chance(0.85 if "accepted" in bundle else 0.3)]
        chosen.sort(key=lambda bundle: (str(bundle.get("accepted", bundle["registered"])),
                                        bundle["bundle"]))
        names = iter(self.invented.ids("BL", 150))
        self.bale_of = {}
        while chosen:
            size = self.random.choice((1, 2, 3, 4, 6, 9))
            some, chosen = chosen[:size], chosen[size:]
            days = [bundle["accepted"] for bundle in some if "accepted" in bundle]
            day = max(days) if days else self.invented.day(self.first, self.last)
            day = self.invented.near(day, 4, 15)
            shared = {"bale": next(names), "date": str(day),
                      "site": self.random.choice(self.sites)}
            if self.invented.chance(0.9):
                self.tables["bales"] += [shared | {"bundle": row["bundle"]} for row in some]
                self.bale_of |= {row["bundle"]: shared["bale"] for row in some}
        self.bales = {row["bale"]: datetime.date.fromisoformat(row["date"])
                      for row in self.tables["bales"]}

    def make_hauls(self):
        """A few hauls; they move no figure."""
        if self.invented.chance(0.5) and len(self.sites) > 1:
            start, end = self.random.sample(self.sites, 2)
            shared = {"haul": "H1", "date": str(self.invented.day(self.first, self.last)),
                      "from": start, "to": end, "driver": self.invented.maybe("Ann")}
            some = self.random.sample(self.bundles, min(4, len(self.bundles)))
            self.tables["hauls"] += [shared | {"bundle": row["bundle"]} for row in some]

    def make_shipments(self):
        """Shipments of most bales, some dated before the bale was made or weighed."""
        left = [bale for bale in self.bales if self.invented.chance(0.8)]
        names = iter(self.invented.ids("SH", 60))
        self.shipments = {}
        while left:
            size = self.random.choice((1, 2, 3, 5, 8))
            some, left = left[:size], left[size:]
            day = self.invented.near(max(self.bales[bale] for bale in some), 5, 30)
            shared = {"shipment": next(names), "date": str(day), "processor": "Fen Polymer",
                      "carrier": self.invented.maybe("Hill Haulage"),
                      "bill_of_lading": self.invented.maybe("B/L 7")}
            self.tables["shipments"] += [shared | {"bale": bale} for bale in some]
            self.shipments[shared["shipment"]] = (day, some)

    def make_tickets(self):
        """Tickets on bales, then on bundles, then on loads: they need the others' nets."""
        for _, loaded in self.shipments.values():
            self.ticket_bales(loaded, self.random.choice((0, 0.3, 0.6, 0.9, 1)))
        loose = [bale for bale in self.bales
                 if not any(bale in some for _, some in self.shipments.values())]
        self.ticket_bales(loose, 0.85)
        for bundle in self.bundles:
            if self.invented.chance(0.12):
                self.ticket_bundle(bundle)
        nets = {name: bale.net for name, bale in self.weighed_bales().items()}
        for shipment, (day, loaded) in self.shipments.items():
            if self.invented.chance(0.75):
                self.ticket_load(shipment, day, [nets[bale] for bale in loaded])
        names = self.invented.ids("T", len(self.tables["tickets"]))
        self.random.shuffle(self.tables["tickets"])
        for row, ticket in zip(self.tables["tickets"], names):
            row["ticket"] = ticket

    def ticket_bales(self, bales, share):
        """Tickets of their own for a share of the bales, some with check weights."""
        for bale in bales:
            if not self.invented.chance(share):
                continue
            for _ in range(self.random.choice((1, 1, 1, 1, 2, 3))):
                day = self.invented.near(self.bales[bale], 2, self.random.choice((3, 20, 90)))
                self.add_ticket("bale", bale, day, self.invented.decimal(20, 400))

    def ticket_bundle(self, bundle):
        """Spot weights, now and then more than the whole bale weighs."""
        day = self.invented.near(bundle.get("accepted", self.begins), 2, 30)
        net = self.invented.decimal(10, 60) if self.invented.chance(0.8) else "500.0005"
        for _ in range(self.random.choice((1, 1, 2))):
            self.add_ticket("bundle", bundle["bundle"], self.invented.near(day, 2, 2), net)
            net = self.invented.decimal(10, 60)

    def ticket_load(self, shipment, day, nets):
        """Load tickets that leave much, a little, or nothing for the other bales."""
        own = sum(net for net in nets if net is not None)
        without = nets.count(None)
        extra = self.random.choice((0, -1, 1, 2, without + 1, 7, 99_999 * (without + 1),
                                    200_001 * (without + 1)))
        for net in (own + extra, self.random.randint(1, 900_000)):
            if net > 0:
                text = f"{net // 1000}.{net % 1000:03d}"
                self.add_ticket("load", shipment, self.invented.near(day, 3, 9), text, self.unit)
            if self.invented.chance(0.8):
                break

    def add_ticket(self, weighs, subject, day, net, unit=None):
        """A ticket with none, one or both of gross and tare; some print a wrong net."""
        row = {"date": str(day), "scale": self.random.choice(self.scales), "weighs": weighs,
               "subject": subject, "net": net, "unit": unit or self.invented.unit(),
               "weigher": self.invented.maybe(self.invented.person(), 0.3),
               "entry": self.random.choice(("printed", "manual")),
               "document": self.invented.maybe("scan 1", 0.2)}
        tare = self.invented.decimal(5, 60)
        places = max(len(text.partition(".")[2]) for text in (net, tare))
        gross = round((Fraction(net) + Fraction(tare)) * 10 ** places)
        wrong = self.invented.chance(0.15)
        gross += self.random.choice((-1, 1, 7)) if wrong else 0
        row["as_printed"] = "yes" if wrong else self.invented.maybe("yes", 0.05)
        given = self.random.choice(
            (("gross", "tare"), ("gross", "tare"), ("tare",), ("gross",), ()))
        digits = str(gross).rjust(places + 1, "0")
        texts = {"gross": f"{digits[:-places]}.{digits[-places:]}" if places else digits,
                 "tare": tare}
        row |= {column: texts[column] for column in given}
        self.tables["tickets"].append(row)

    def parsed(self, kind):
        """The rows of a table as values."""
        return values_of(kind, self.tables[kind])

    def weighed_bales(self):
        """The bales as weighed so far, load tickets too; their nets may still be open."""
        season = {kind: self.parsed(kind)
                  for kind in TERMS + ("covers", "bundles", "bales", "shipments", "tickets")}
        bales = make_bales(season, make_bundles(season, self.unit, Terms(season)))
        weigh_alone(bales, first_tickets(season, "bale"), self.unit)
        load_remainders(bales, first_tickets(season, "load"), self.unit)
        return bales

    def drop_late_receipts(self):
        """Without --unsettled, drops rejecting receipts of the day of weighing."""
        bales = self.weighed_bales()
        self.weighed = {name: bale.weighed for name, bale in bales.items()}
        if self.unsettled:
            return
        labels = self.labels()
        self.tables["receipts"] = [
            row for row in self.tables["receipts"]
            if row["outcome"] != "rejected" or row["date"] != str(self.weighed.get(
                self.bale_of.get(row.get("bundle") or labels[row["registration"], row["number"]])))]

    def make_rejects(self):
        """Rejects of bundles and bales at each stage, before, on and after the weighing."""
        for _ in range(self.random.randint(0, len(self.bundles))):
            if self.bales and self.invented.chance(0.4):
                bale = self.random.choice(list(self.bales))
                self.add_reject({"bale": bale}, self.weighed[bale] or self.bales[bale])
                continue
            bundle = self.random.choice(self.bundles)
            bale = self.bale_of.get(bundle["bundle"])
            day = self.weighed.get(bale) or bundle.get("accepted", self.begins)
            if "accepted" in bundle and self.invented.chance(0.5):
                day = bundle["accepted"]
            self.add_reject({"bundle": bundle["bundle"]}, day)
        for row, reject in zip(self.tables["rejects"],
                               self.invented.ids("J", len(self.tables["rejects"]))):
            row["reject"] = reject
        self.weigh_rejects()
        if not self.unsettled:
            self.spare_loads()

    def add_reject(self, subject, day):
        """One reject near a day, without weight yet."""
        self.tables["rejects"].append(subject | {
            "date": str(self.invented.near(day, 6, 12)),
            "stage": self.random.choice(("site", "baler", "baler", "processor")),
            "reason": self.invented.word(),
            "disposition": self.invented.maybe("landfilled"),
            "document": self.invented.maybe("scan 2", 0.2)})

    def weigh_rejects(self):
        """Gives some rejects a weight, sometimes more than the bale's."""
        for row in self.tables["rejects"]:
            if self.invented.chance(0.5) and (self.unsettled or self.weight_is_settled(row)):
                row["weight"] = self.invented.decimal(1, self.random.choice((20, 20, 300)))
                row["unit"] = self.invented.unit()

    def weight_is_settled(self, row):
        """Whether the text settles what a weight in this reject means."""
        bale = self.bale_of.get(row.get("bundle"))
        if bale is None:
            return True
        weighed = self.weighed[bale]
        if weighed is None or row["date"] < str(weighed):
            return row["stage"] == "processor"
        season = {kind: self.parsed(kind) for kind in KINDS}
        bundles, _ = follow(season)
        return not bundles[row["bundle"]].rejected_since_acceptance()

    def spare_loads(self):
        """Drops what would leave a bale that a load ticket weighs without any bundle."""
        _, bales = follow({kind: self.parsed(kind) for kind in KINDS})
        bare = {name for name, bale in bales.items()
                if bale.weighed_as == "load" and bale.estimate == 0}
        self.tables["rejects"] = [
            row for row in self.tables["rejects"]
            if (row.get("bale") or self.bale_of.get(row["bundle"])) not in bare]
        labels = self.labels()
        self.tables["receipts"] = [
            row for row in self.tables["receipts"] if row["outcome"] != "rejected"
            or self.bale_of.get(row.get("bundle")
                                or labels[row["registration"], row["number"]]) not in bare]

    def labels(self):
        """Bundle ids by what is written on the label."""
        return {(row["registration"], row["number"]): row["bundle"] for row in self.bundles}

    def make_acceptances(self):
        """Acceptances of some shipments, near what they weigh or not."""
        for shipment, (day, loaded) in self.shipments.items():
            if self.invented.chance(0.6):
                weight = self.invented.decimal(50 * len(loaded), 300 * len(loaded))
                rejected = self.invented.decimal(1, 90) if self.invented.chance(0.4) else ""
                self.tables["acceptances"].append({
                    "shipment": shipment, "date": str(self.invented.near(day, 1, 60)), "weight": weight,
                    "unit": self.invented.unit(), "document": self.invented.maybe("scan 3"),
                    "received": plain(Decimal(weight) + Decimal(rejected)) if rejected else "",
                    "rejected": rejected})
