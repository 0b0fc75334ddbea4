"""The figures of a quarter, as the interchange's JSON table defines them."""

import datetime
from fractions import Fraction

from exact import decimal_text, half_up, ratio, thousandths, tons
from line_of_life import follow

SUBAWARD_LIMIT = 50_000 * 100


class Reckoning:
    """A season followed through, ready to give the figures of any quarter."""

    def __init__(self, season):
        self.season = season
        self.award = season["award"][0]
        self.unit = self.award["unit"]
        self.bundles, self.bales = follow(season)
        self.costs = [dict(row, cents=half_up(row["amount"] * 100)) for row in season["costs"]]
        self.inkind = [(row["date"], inkind_cents(row)) for row in season["inkind"]]
        self.acceptances = [
            (row["date"], thousandths(row["weight"], row["unit"], self.unit))
            for row in season["acceptances"]]

    def figures(self, quarter):
        """All figures of a quarter, by name."""
        span = Span(quarter.first, quarter.last)
        return (self._claims(span) | self._bales(span) | self._diversion(span)
                | self._money(span))

    def _claims(self, span):
        """Registered, received, rejected, on hand; growers and sites."""
        bundles = self.bundles.values()
        registered = [bundle for bundle in bundles if bundle.registered in span]
        received = [bundle for bundle in bundles if bundle.accepted in span]
        rejected = [bundle for bundle in bundles
                    if bundle.rejections and min(bundle.rejections) in span]
        on_hand = [bundle for bundle in bundles if is_on_hand(bundle, span.last)]
        served = growers(received)
        to_date = growers(bundle for bundle in bundles if bundle.accepted in span.to_date)
        before = growers(bundle for bundle in bundles if bundle.accepted in span.before)
        counted = {"registered": registered, "received": received, "rejected": rejected,
                   "on_hand": on_hand}
        figures = {f"{name}_bundles": len(some) for name, some in counted.items()}
        figures |= {f"{name}_estimate": weight_text(estimate_of(some))
                    for name, some in counted.items()}
        return figures | {
            "rejected_share": ratio(len(rejected), len(rejected) + len(received)),
            "growers_served": len(served),
            "growers_new": len(to_date - before),
            "growers_to_date": len(to_date),
            "sites_active": len({row["site"] for row in self.season["receipts"]
                                 if row["date"] in span}),
        }

    def _bales(self, span):
        """Bales made and weighed, and their residue."""
        made = [bale for bale in self.bales.values() if bale.made in span]
        weighed = [bale for bale in self.bales.values() if bale.weighed in span]
        net = sum(bale.net for bale in weighed)
        estimate = sum(bale.estimate for bale in weighed)
        residue = self._residue(span)
        return {
            "bales_made": len(made),
            "baled_bundles": sum(len(bale.pressed) for bale in made),
            "bales_weighed": len(weighed),
            "bale_net_weight": weight_text(net),
            "bale_estimate": weight_text(estimate),
            "weight_over_estimate": ratio(net, estimate),
            "residue_weight": weight_text(residue),
            "residue_share": ratio(residue, net),
            "bales_on_hand": sum(
                bale.made <= span.last and not (bale.shipped and bale.shipped <= span.last)
                for bale in self.bales.values()),
        }

    def _residue(self, span, stages=("site", "baler", "processor")):
        """Residue of the given stages in a span."""
        return sum(row.weight for bale in self.bales.values() for row in bale.residue
                   if row.date in span and row.stage in stages)

    def _shipped(self, span):
        """Net of shipped bales, on the later of weighing and shipment."""
        return sum(bale.net for bale in self.bales.values()
                   if bale.shipped and bale.weighed and max(bale.shipped, bale.weighed) in span)

    def _accepted(self, span):
        """Weight of acceptances in a span."""
        return sum(weight for date, weight in self.acceptances if date in span)

    def diverted(self, span):
        """Weight diverted in a span, by the award's counted_when."""
        counted_when = self.award["counted_when"] or "weighed"
        if counted_when == "accepted":
            return self._accepted(span) - self._residue(span, ("processor",))
        if counted_when == "shipped":
            residue = sum(row.weight for bale in self.bales.values() if bale.shipped
                          for row in bale.residue if max(row.date, bale.shipped) in span)
            return self._shipped(span) - residue
        net = sum(bale.net for bale in self.bales.values() if bale.weighed in span)
        return net - self._residue(span)

    def _diversion(self, span):
        """Diverted, shipped, accepted, and the award's goal."""
        to_date = tons(self.diverted(span.to_date), self.unit)
        return {
            "diverted_weight": weight_text(self.diverted(span)),
            "diverted_tons": float(tons(self.diverted(span), self.unit)),
            "diverted_tons_to_date": float(to_date),
            "goal_share": ratio(to_date, self.award["goal_tons"]),
            "shipped_tons": float(tons(self._shipped(span), self.unit)),
            "accepted_tons": float(tons(self._accepted(span), self.unit)),
        }

    def grant_direct(self, span):
        """Direct costs on the grant in a span, in cents."""
        return sum(row["cents"] for row in self._direct_rows(span))

    def _direct_rows(self, span):
        """Rows of direct costs on the grant in a span."""
        return [row for row in self.costs if row["date"] in span and row["fund"] == "grant"
                and row["category"] != "indirect"]

    def indirect(self, span):
        """Indirect claimed through the span's last day, in cents."""
        subawards, base = {}, 0
        for row in self._direct_rows(span.to_date):
            if row["category"] == "equipment":
                continue
            if row["subaward"] is None:
                base += row["cents"]
            else:
                subawards[row["subaward"]] = subawards.get(row["subaward"], 0) + row["cents"]
        base += sum(min(cents, SUBAWARD_LIMIT) for cents in subawards.values())
        return half_up(max(base, 0) * (self.award["indirect_percent"] or 0) / 100)

    def match(self, span):
        """Costs on match plus in-kind in a span, in cents."""
        costs = sum(row["cents"] for row in self.costs
                    if row["date"] in span and row["fund"] == "match")
        return costs + sum(cents for date, cents in self.inkind if date in span)

    def _match_required(self, on_grant):
        """The match that goes with so many cents of the grant."""
        percent = self.award["match_percent"]
        if percent is None:
            return 0
        of_grant = self.award["match_base"] == "grant"
        return half_up(on_grant * percent / (100 if of_grant else 100 - percent))

    def _money(self, span):
        """Grant, indirect, match, and the cost of a ton."""
        spent, spent_to_date = self.grant_direct(span), self.grant_direct(span.to_date)
        indirect_to_date = self.indirect(span)
        claimed = indirect_to_date - self.indirect(span.before)
        given, given_to_date = self.match(span), self.match(span.to_date)
        on_grant = spent_to_date + indirect_to_date
        budget = half_up(sum(row["grant"] for row in self.season["budget"]) * 100)
        diverted = tons(self.diverted(span), self.unit)
        diverted_to_date = tons(self.diverted(span.to_date), self.unit)
        return {
            "grant_spent": money_text(spent),
            "grant_spent_to_date": money_text(spent_to_date),
            "indirect_claimed": money_text(claimed),
            "indirect_to_date": money_text(indirect_to_date),
            "grant_left": money_text(budget - on_grant),
            "match_given": money_text(given),
            "match_to_date": money_text(given_to_date),
            "match_required": money_text(self._match_required(on_grant)),
            "cost_per_ton": per_ton(spent + claimed + given, diverted),
            "grant_cost_per_ton": per_ton(spent + claimed, diverted),
            "cost_per_ton_to_date": per_ton(on_grant + given_to_date, diverted_to_date),
            "grant_cost_per_ton_to_date": per_ton(on_grant, diverted_to_date),
        }


class Span:
    """Days from first to last, both included; a missing date is never in."""

    def __init__(self, first, last):
        self.first, self.last = first, last

    def __contains__(self, date):
        return date is not None and self.first <= date <= self.last

    @property
    def to_date(self):
        """Everything through the last day."""
        return Span(datetime.date.min, self.last)

    @property
    def before(self):
        """Everything before the first day."""
        return Span(datetime.date.min, self.first - datetime.timedelta(days=1))


def inkind_cents(row):
    """The amount of an in-kind row: as given, else quantity x rate to the cent."""
    amount = row["quantity"] * row["rate"] if row["amount"] is None else row["amount"]
    return half_up(amount * 100)


def is_on_hand(bundle, day):
    """Accepted by a day, by then neither rejected since nor in a bale weighed."""
    if bundle.accepted is None or bundle.accepted > day:
        return False
    in_weighed = bundle.bale is not None and bundle.bale.weighed and bundle.bale.weighed <= day
    return not in_weighed and not bundle.rejected_since_acceptance(day)


def growers(bundles):
    """The distinct growers of bundles, without `unknown`."""
    return {bundle.grower for bundle in bundles} - {"unknown"}


def estimate_of(bundles):
    """The sum of estimates, in thousandths."""
    return sum(bundle.estimate for bundle in bundles)


def weight_text(weight):
    """Thousandths as the JSON shows them."""
    return decimal_text(weight, 3)


def money_text(cents):
    """Cents as the JSON shows them."""
    return decimal_text(cents, 2)


def per_ton(cents, diverted_tons):
    """Dollars a ton; None where nothing was diverted."""
    return float(Fraction(cents, 100) / diverted_tons) if diverted_tons > 0 else None
