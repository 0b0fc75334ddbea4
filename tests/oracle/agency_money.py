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
        """Costs claimed, and the indirect costs of each request once."""
        costs = {row["cost"]: row["amount"] for row in self.season["costs"]}
        rows = self.through("requests", span)
        indirect = {row["request"]: cents(row["indirect"]) for row in rows}
        return sum(cents(costs[row["cost"]]) for row in rows) + sum(indirect.values())

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
        """Obligations on the grant, less what of them was paid or let go."""
        on_grant = {row["obligation"] for row in self.season["obligations"] if row["fund"] == "grant"}
        gone = sum(cents(row["amount"]) for row in self.through("liquidations", span)
                   if row["obligation"] in on_grant)
        return total(self.through("obligations", span), fund="grant") - gone

    def income(self, span, kind, method=None):
        """Program income earned or spent, perhaps by one method alone."""
        wanted = {"kind": kind} | ({"method": method} if method else {})
        return total(self.through("income", span), **wanted)
