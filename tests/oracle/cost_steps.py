"""What a period cost by purpose and by site, and what the next ton would cost: each expense once."""

from fractions import Fraction

from exact import decimal_text, half_up, tons
from figures import Span, inkind_cents

PURPOSES = ("collect", "bale", "haul", "process", "run")
STEPS = PURPOSES[:4]


class Line:
    """Cents and hours of one purpose or site."""

    def __init__(self):
        self.grant = self.match = self.in_kind = 0
        self.hours = Fraction(0)
        self.collected = 0

    def told(self, over):
        """As the program's JSON has it, a ton being one of `over`."""
        total = self.grant + self.match + self.in_kind
        return {"grant": decimal_text(self.grant, 2), "match": decimal_text(self.match, 2),
                "in_kind": decimal_text(self.in_kind, 2), "total": decimal_text(total, 2),
                "per_ton": float(Fraction(total, 100) / over) if over > 0 else None,
                "hours": float(self.hours), "hours_per_ton": float(self.hours / over) if over > 0 else None}


def expenses(season, span):
    """Every cost, contribution and income spent as match in a span: purpose, site, category, fund, cents, hours."""
    for row in season["costs"]:
        if row["date"] in span and not (row["fund"] == "grant" and row["category"] == "indirect"):
            yield row["purpose"], row["site"], row["category"], row["fund"], half_up(row["amount"] * 100), 0
    for row in season["inkind"]:
        if row["date"] in span:
            yield (row["purpose"], row["site"], row["category"], "in_kind", inkind_cents(row),
                   row["quantity"] if row["kind"] == "hours" else 0)
    for row in season["income"]:
        if row["date"] in span and row["kind"] == "spent" and row["method"] == "match" and row["cost"] is None:
            yield "program income as match", None, None, "match", half_up(row["amount"] * 100), 0


def scale_weight_by_site(reckoning, span):
    """Shares of the bales weighed in a span, by the site that accepted the bundle, else where it was registered."""
    label = {(row["registration"], row["number"]): row["bundle"] for row in reckoning.season["bundles"]}
    accepted_at = {row["bundle"] or label[row["registration"], row["number"]]: row["site"]
                   for row in reckoning.season["receipts"] if row["outcome"] == "accepted"}
    found = {}
    for bundle in reckoning.bundles.values():
        bale = bundle.bale
        share = bale.shares.get(bundle.bundle) if bale else None
        if share is not None and bale.weighed in span:
            site = accepted_at.get(bundle.bundle, bundle.site)
            found[site] = found.get(site, 0) + share
    return found


def cost_steps(reckoning, period):
    """Costs of a period by purpose and site, with their sum and the next ton."""
    span = Span(period.first, period.last)
    diverted = tons(reckoning.diverted(span), reckoning.unit)
    purposes = {name: Line() for name in PURPOSES + ("not said",)}
    sites, total, steps, unsaid, any_step = {}, Line(), 0, 0, False
    for purpose, site, category, fund, cents, hours in expenses(reckoning.season, span):
        for line in (purposes.setdefault(purpose or "not said", Line()), sites.setdefault(site, Line()), total):
            setattr(line, fund, getattr(line, fund) + cents)
            line.hours += hours
        any_step = any_step or purpose in STEPS
        if category != "equipment" and purpose in STEPS:
            steps += cents
        if category != "equipment" and purpose is None:
            unsaid += cents
    indirect = reckoning.indirect(span) - reckoning.indirect(span.before)
    if indirect:
        purposes.setdefault("indirect costs", Line()).grant += indirect
    for line in (sites.setdefault(None, Line()), total):
        line.grant += indirect
    for site, weight in scale_weight_by_site(reckoning, span).items():
        if weight or site in sites:
            sites.setdefault(site, Line()).collected = weight
    known = diverted > 0 and any_step
    return {
        "tons": float(diverted),
        "purposes": {name: line.told(diverted) for name, line in purposes.items()},
        "total": total.told(diverted),
        "sites": {site: line.told(tons(line.collected, reckoning.unit)) for site, line in sites.items()},
        "next_ton": [float(Fraction(cents, 100) / diverted) if known else None for cents in (steps, steps + unsaid)],
    }
