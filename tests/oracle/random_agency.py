"""The part of a random season about the agency: terms that change, obligations, requests, payments, income, notes."""

import datetime
from fractions import Fraction

from random_money import CATEGORIES

SETTINGS = {  # such that estimates of covers only grow: bundles' own must not pass them
    "curvature_factor": ("1.5", "1.6", "2.125"), "area_weight_lb_per_ft2": ("0.04", "0.0405", "0.05"),
    "density_g_per_cm3": ("0.92", "0.955"), "subaward_limit": ("50000", "25000", "10000.50"),
    "tipping_fee_per_ton": ("62", "71.25", "0"), "report_due_days": ("30", "45")}


class AgencyMaker:
    """Settings and amendments, which other tables go by, and what passes between program and agency."""

    def make_settings(self):
        """Some settings, always or from some days on."""
        for name, values in SETTINGS.items():
            days = {""} if self.invented.chance(0.3) else set()
            while self.invented.chance(0.25):
                days.add(str(self.invented.day(self.first, self.last)))
            self.tables["settings"] += [
                {"setting": name, "from": day, "value": self.random.choice(values)} for day in sorted(days)]

    def make_amendments(self):
        """Amendments of terms, some of them on one day, and of the budget's lines."""
        chance, maybe = self.invented.chance, self.invented.maybe
        while chance(0.45):
            number = len(self.tables["amendments"]) + 1
            day = self.invented.day(self.first, self.last)
            if self.tables["amendments"] and chance(0.2):
                day = datetime.date.fromisoformat(self.tables["amendments"][-1]["date"])
            percent = maybe(self.random.choice(("20", "30.5", "10")), 0.4)
            self.tables["amendments"].append({
                "amendment": f"A{number}", "date": str(day), "ends": maybe(str(self.ends + datetime.timedelta(90))),
                "goal_tons": maybe(self.invented.decimal(1, 60), 0.4), "match_percent": percent,
                "match_base": self.random.choice(("total", "grant")) if percent else "",
                "indirect_percent": maybe(self.random.choice(("10", "15", "7.25")), 0.4),
                "description": self.invented.word(), "document": maybe("letter")})
            for category in self.random.sample(CATEGORIES, self.random.randint(0, 3)):
                self.tables["rebudgets"].append({
                    "amendment": f"A{number}", "category": category, "grant": self.invented.cents(1, 20_000),
                    "match": self.invented.cents(1, 9_000)})

    def make_agency(self):
        """All that passes between the program and its agency."""
        self.make_rates()
        self.make_obligations()
        self.make_income()
        self.make_requests()
        self.make_payments()
        for part in self.random.sample(("done", "problems", "next", "a word, more"), self.random.randint(0, 4)):
            self.tables["narrative"].append({"quarter": f"{self.begins.year}-Q2", "part": part,
                                             "text": self.invented.word()})

    def some_day(self):
        """A day of the season, as text."""
        return str(self.invented.day(self.first, self.last))

    def make_rates(self):
        """In-kind rates, each from a day of its own."""
        for number in range(self.random.randint(0, 3)):
            self.tables["rates"].append({
                "rate": f"RT{number}", "kind": self.random.choice(("hours", "miles")), "what": f"work {number}",
                "begins": self.some_day(), "value": self.random.choice(("36.14", "0.725")),
                "source": self.invented.word()})

    def make_obligations(self):
        """Obligations of both funds, and what was paid or let go of them: never more than the whole."""
        for name in self.invented.ids("OB", self.random.randint(0, 6)):
            amount, fund = self.invented.cents(50, 9_000), self.random.choice(("grant", "grant", "match"))
            self.tables["obligations"].append({
                "obligation": name, "date": self.some_day(), "category": self.random.choice(CATEGORIES),
                "description": self.invented.word(), "payee": self.invented.maybe(self.invented.person()),
                "amount": amount, "fund": fund, "document": self.invented.maybe("order")})
            left = Fraction(amount)
            costs = [row["cost"] for row in self.tables["costs"] if row["fund"] == fund]
            while left > 1 and self.invented.chance(0.6):
                part = self.invented.cents(1, int(left)) if self.invented.chance(0.8) else str(left.__floor__())
                left -= Fraction(part)
                self.tables["liquidations"].append({
                    "liquidation": f"LQ{len(self.tables['liquidations'])}", "date": self.some_day(),
                    "obligation": name, "amount": part,
                    "cost": self.invented.maybe(self.random.choice(costs)) if costs else ""})

    def make_income(self):
        """Income earned and spent by the three methods, spent perhaps past what was earned."""
        for name in self.invented.ids("IN", 9)[:self.random.randint(0, 9)]:
            kind = self.random.choice(("earned", "spent"))
            method = self.random.choice(("deduction", "addition", "match"))
            costs = [row["cost"] for row in self.tables["costs"] if method != "match" or row["fund"] == "match"]
            self.tables["income"].append({
                "income": name, "date": self.some_day(), "kind": kind, "method": method,
                "description": self.invented.word(),
                "party": self.invented.maybe(self.invented.person()), "amount": self.invented.cents(1, 900),
                "cost": self.invented.maybe(self.random.choice(costs)) if costs and kind == "spent" else "",
                "document": self.invented.maybe("remittance")})

    def make_requests(self):
        """Requests for costs on the grant, each cost once, with or without indirect costs."""
        costs = [row["cost"] for row in self.tables["costs"] if row["fund"] == "grant"]
        self.random.shuffle(costs)
        for name in self.invented.ids("RQ", self.random.randint(0, 4)):
            row = {"request": name, "date": self.some_day(), "document": self.invented.maybe("signed"),
                   "indirect": self.invented.maybe(self.invented.cents(1, 900))}
            claimed, costs = costs[:self.random.randint(1, 8)], costs[8:]
            self.tables["requests"] += [row | {"cost": cost} for cost in claimed]

    def make_payments(self):
        """Advances, reimbursements with some retained, and retainage let go, perhaps too much of each."""
        requests = sorted({row["request"] for row in self.tables["requests"]})
        for name in self.invented.ids("PY", 8)[:self.random.randint(0, 8)]:
            kind = self.random.choice(("advance", "reimbursement", "reimbursement", "retainage"))
            row = {"payment": name, "date": self.some_day(), "kind": kind,
                   "amount": ("-" if self.invented.chance(0.1) else "") + self.invented.cents(1, 5_000),
                   "document": self.invented.maybe("notice")}
            if kind == "reimbursement":
                if not requests:
                    continue
                row |= {"request": self.random.choice(requests),
                        "retained": self.invented.maybe(self.invented.cents(1, 400))}
            self.tables["payments"].append(row)
