"""The part of a random season about money: budget, costs, in-kind."""

CATEGORIES = ("personnel", "fringe", "travel", "equipment", "supplies", "contractual",
              "construction", "other")
PURPOSES = ("collect", "bale", "haul", "process", "run")


class MoneyMaker:
    """Budget, costs and in-kind rows; expects the award to be made."""

    def make_money(self):
        """All three tables."""
        self.make_budget()
        self.make_costs()
        self.make_inkind()

    def make_budget(self):
        """Budget lines of some categories."""
        indirect = ("indirect",) if self.invented.chance(0.5) else ()
        for category in CATEGORIES + indirect:
            if self.invented.chance(0.7):
                self.tables["budget"].append({
                    "category": category, "grant": self.invented.cents(1, 20_000),
                    "match": self.invented.cents(1, 9_000)})

    def make_costs(self):
        """Costs: equipment, subawards past the limit, credits that may pass the costs."""
        names = self.invented.ids("C", 60)
        credit_heavy = self.invented.chance(0.2)
        subaward_share = self.random.choice((0, 0.2, 0.5))
        for cost in names[:self.random.randint(0, 60)]:
            category = self.random.choice(CATEGORIES)
            if not self.has_indirect_percent() and self.invented.chance(0.05):
                category = "indirect"
            amount = self.invented.cents(1, 3_000)
            if self.invented.chance(0.6 if credit_heavy else 0.1):
                amount = "-" + amount
            row = {"cost": cost, "date": str(self.invented.day(self.first, self.last)),
                   "category": category, "description": self.invented.word(), "amount": amount,
                   "payee": self.invented.maybe(self.invented.person()),
                   "fund": self.random.choice(("grant", "grant", "match")),
                   "source": self.invented.maybe("county"),
                   "paid_on": self.invented.maybe(str(self.invented.day(self.first, self.last)), 0.7),
                   "document": self.invented.maybe("doc, 1")}
            if row["fund"] == "grant" and row["category"] != "indirect":
                row["base"] = self.random.choice(("", "", "", "in", "out"))
            if self.invented.chance(subaward_share):
                self.make_subaward(row)
            row["purpose"] = self.invented.maybe(self.random.choice(PURPOSES), 0.7)
            row["site"] = self.invented.maybe(self.random.choice(self.sites), 0.4)
            self.tables["costs"].append(row)

    def has_indirect_percent(self):
        """Whether the award sets a percent for indirect costs at any time."""
        return self.indirect_percent or any(row["indirect_percent"] for row in self.tables["amendments"])

    def make_subaward(self, row):
        """Makes a cost part of one of a few subawards, often a large part."""
        row["subaward"] = self.random.choice(("SUB1", "sub1", "Sub 2, é"))
        if self.invented.chance(0.6):
            row["amount"] = self.invented.cents(9_000, 49_000)
        if row["category"] != "indirect":
            row["category"] = self.random.choice(("contractual", "contractual", "equipment"))

    def make_inkind(self):
        """In-kind rows: amount given, or quantity x rate with many decimals and ties."""
        for inkind in self.invented.ids("I", 30)[:self.random.randint(0, 30)]:
            rate = self.random.choice(("31.80", "0.725", "0.01", "36.14", "12.3456789"))
            quantity = self.random.choice(("0.5", "1.5", self.invented.decimal(1, 90)))
            self.tables["inkind"].append({
                "inkind": inkind, "date": str(self.invented.day(self.first, self.last)),
                "kind": self.random.choice(("hours", "miles", "donated_use", "donated_goods")),
                "giver": self.invented.person(), "site": self.invented.maybe(self.sites[0]),
                "source": self.invented.maybe("county"), "quantity": quantity, "rate": rate,
                "amount": self.invented.maybe(self.invented.cents(1, 400), 0.3),
                "document": self.invented.maybe("sheet"),
                "category": self.invented.maybe(self.random.choice(CATEGORIES), 0.3),
                "purpose": self.invented.maybe(self.random.choice(PURPOSES), 0.6)})
