"""Requests, payments, obligations and program income: what the agency's financial report asks for."""

from exact import half_up


def cents(amount):
    """An amount in whole cents."""
    return half_up((amount or 0) * 100)


def total(rows, column="amount", **wanted):
    """The sum of a column of those rows whose other columns hold what is wanted, in cents."""
    return sum(cents(row[column]) for row in rows
               if all(row[name] == value for name, value in wanted.items()))


class AgencyMoney:
    """What was claimed, paid, bound and earned, through any day."""

    def __init__(self, season):
        self.season = season

    def through(self, kind, span):
        """Rows of a kind dated in a span."""
        return [row for row in self.season[kind] if row["date"] in span]

    def received(self, span):
        """Payments from the agency, of whatever kind."""
        return total(self.through("payments", span))

    def claimed(self, span):
        """Costs claimed, and the indirect costs of each request once.

        What program income had paid of a cost by the request's day is not claimed again.
        """
        costs = {row["cost"]: row["amount"] for row in self.season["costs"]}
        rows = self.through("requests", span)
        indirect = {row["request"]: cents(row["indirect"]) for row in rows}
        from_income = sum(cents(spent["amount"]) for row in rows for spent in self.season["income"]
                          if spent["kind"] == "spent" and spent["cost"] == row["cost"]
                          and spent["date"] <= row["date"])
        return sum(cents(costs[row["cost"]]) for row in rows) + sum(indirect.values()) - from_income

    def unpaid(self, span):
        """Claimed, and by reimbursements neither paid nor retained."""
        paid = self.through("payments", span)
        return (self.claimed(span) - total(paid, kind="reimbursement")
                - total(paid, "retained", kind="reimbursement"))

    def retained(self, span):
        """Kept back by the agency and not let go since."""
        rows = self.through("payments", span)
        return total(rows, "retained") - total(rows, kind="retainage")

    def paid_costs(self, span):
        """Direct costs on the grant that were paid in a span, whenever they were incurred."""
        return sum(cents(row["amount"]) for row in self.season["costs"]
                   if row["fund"] == "grant" and row["category"] != "indirect" and row["paid_on"] in span)

    def bound(self, span):
        """Obligations on the grant, less what of them was incurred as a cost, or deobligated.

        A liquidation that names its cost counts from the day on which that was incurred, another from its own.
        """
        on_grant = {row["obligation"] for row in self.season["obligations"] if row["fund"] == "grant"}
        incurred = {row["cost"]: row["date"] for row in self.season["costs"]}
        gone = sum(cents(row["amount"]) for row in self.season["liquidations"]
                   if row["obligation"] in on_grant and incurred.get(row["cost"], row["date"]) in span)
        return total(self.through("obligations", span), fund="grant") - gone

    def income(self, span, kind, method=None):
        """Program income earned or spent, perhaps by one method alone."""
        wanted = {"kind": kind} | ({"method": method} if method else {})
        return total(self.through("income", span), **wanted)

    def income_as_match(self, span):
        """Program income spent as match; where it names a cost, that is on match and counts itself."""
        return total(self.through("income", span), kind="spent", method="match", cost=None)
