"""The part of a random season from registration to receipt."""

from fractions import Fraction

from exact import half_up, thousandths
from award_terms import TERMS, Terms
from line_of_life import cover_weight
from season import read_value


class BundlesMaker:
    """Covers, bundles and receipts; expects the award, sites and growers to be made."""

    def make_registrations(self):
        """Registrations with their covers and bundles, 20 to 150 bundles in all."""
        wanted = self.random.randint(20, 120)
        self.own_allowed = self.invented.chance(0.85)
        names = iter(self.invented.ids("R", 160))
        bundle_names = iter(self.invented.ids("b", 400))
        self.bundles = []
        while len(self.bundles) < wanted:
            self.make_registration(next(names), bundle_names)

    def make_registration(self, registration, bundle_names):
        """One registration: covers, then bundles that share what they weigh."""
        unknown = self.invented.chance(0.1)
        shared = {"registration": registration,
                  "date": str(self.invented.day(self.first, self.last)),
                  "grower": "unknown" if unknown else self.random.choice(self.growers),
                  "site": self.random.choice(self.sites)}
        sized = not (unknown and self.own_allowed) or self.invented.chance(0.3)
        covers = [shared | self.make_cover(str(place + 1), sized)
                  for place in range(self.random.choice((1, 1, 1, 2, 3)))]
        if sized:
            covers[0] |= self.make_size()
        self.tables["covers"] += covers
        self.make_bundles(registration, covers, sized, bundle_names)

    def make_cover(self, cover, sized):
        """A cover's own columns."""
        maybe = self.invented.maybe
        size = self.make_size() if sized and self.invented.chance(0.85) else {}
        structure = self.random.choice(("high tunnel", "high tunnel", "flat", "Flat"))
        return {"cover": cover, "structure": maybe(structure), "film": maybe("clear"),
                "mil": maybe(self.random.choice(("6", "4.0", "3.15", "5.5"))), **size}

    def make_size(self):
        """Length, width and layers, and often a rise, past a half circle too."""
        width = self.random.choice(("30", "20.0", "14.5", "26.25", "17.333"))
        size = {"length_ft": self.random.choice(("96", "48.5", "60", "100.125", "33.3333")),
                "width_ft": width, "layers": self.random.choice(("1", "1", "1", "2", "3.0"))}
        if self.invented.chance(0.45):
            width = Fraction(width)
            rises = (width / 2, width / 4, width * 3 / 4, width * 2, Fraction("0.5"))
            thousandth = half_up(self.random.choice(rises) * 1000)
            size["rise_ft"] = f"{thousandth // 1000}.{thousandth % 1000:03d}"
        return size

    def make_bundles(self, registration, covers, sized, bundle_names):
        """The bundles of a registration, some numbers missing, some estimates their own."""
        of = self.random.randint(1, 6)
        numbers = list(range(1, of + 1))
        while len(numbers) > 1 and self.invented.chance(0.12):
            numbers.remove(self.random.choice(numbers))
        rows = [{"bundle": next(bundle_names), "registration": registration,
                 "number": str(number), "of": str(of)} for number in numbers]
        parsed = [{column: read_value(column, cover.get(column, "")) for column in
                   ("date", "structure", "length_ft", "width_ft", "rise_ft", "layers", "mil")} for cover in covers]
        terms = Terms({kind: self.parsed(kind) for kind in TERMS})
        left = half_up(sum(cover_weight(cover, self.unit, terms) for cover in parsed) * 1000)
        if not sized:
            self.give_all(rows, 20_000)
        elif self.own_allowed:
            self.give_some(rows, left)
        self.tables["bundles"] += rows
        self.bundles += [row | {"site": covers[0]["site"], "registered": covers[0]["date"]}
                         for row in rows]

    def give_all(self, rows, about):
        """Gives all rows an estimate of their own, near so many thousandths or past it."""
        for row in rows:
            row["estimate"] = self.invented.decimal(about / 3000, about / 700)
            row["unit"] = self.invented.unit()

    def give_some(self, rows, left):
        """Gives some rows an estimate of their own that leaves enough for the others."""
        if self.invented.chance(0.15):
            self.give_all(rows, max(left // len(rows), 3000))
            return
        for place, row in enumerate(rows[:-1]):
            others = len(rows) - 1 - place
            if not self.invented.chance(0.3):
                continue
            estimate, unit = self.invented.decimal(1, 60), self.invented.unit()
            given = thousandths(Fraction(estimate), unit, self.unit)
            if self.unsettled and self.invented.chance(0.2):
                given, unit = left - self.random.randint(1, 5), self.unit
                estimate = f"{given // 1000}.{given % 1000:03d}"
            enough = 1 if self.unsettled else len(rows)
            if others and given > 0 and left - given >= enough:
                row["estimate"], row["unit"] = estimate, unit
                left -= given

    def make_receipts(self):
        """Receipts of most bundles: held, rejected and accepted, by id or by label."""
        for bundle in self.bundles:
            day = self.invented.day(self.first, self.last)
            for outcome in self.random.choices(
                    (("accepted",), ("held", "accepted"), ("rejected", "accepted"),
                     ("rejected", "held", "rejected", "accepted"), ("accepted", "rejected"),
                     ("rejected",), ("held",), ()),
                    (50, 8, 10, 3, 5, 5, 4, 10))[0]:
                self.add_receipt(bundle, outcome, day)
                if outcome == "accepted":
                    bundle["accepted"] = day
                day = self.invented.near(day, 1, 12)
        for row, receipt in zip(self.tables["receipts"],
                                self.invented.ids("RC", len(self.tables["receipts"]))):
            row["receipt"] = receipt

    def add_receipt(self, bundle, outcome, day):
        """One receipt, sometimes at another site than registered."""
        invented = self.invented
        site = bundle["site"] if invented.chance(0.85) else self.random.choice(self.sites)
        row = {"date": str(day), "site": site, "outcome": outcome,
               "reason": invented.word() if outcome != "accepted" else "",
               "disposition": invented.maybe("returned", 0.2) if outcome == "rejected" else "",
               "received_by": invented.maybe("vol", 0.3)}
        by_label = invented.chance(0.25)
        if by_label:
            row |= {"registration": bundle["registration"], "number": bundle["number"]}
        if not by_label or (self.unsettled and invented.chance(0.2)):
            row["bundle"] = bundle["bundle"]
        self.tables["receipts"].append(row)
