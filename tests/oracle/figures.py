"""The figures of a quarter, as the interchange's JSON table defines them."""

import datetime
from fractions import Fraction

from agency_money import AgencyMoney, cents
from award_terms import Terms
from exact import decimal_text, half_up, ratio, thousandths, tons
from line_of_life import follow


class Reckoning:
    """A season followed through, ready to give the figures of any quarter."""

    def __init__(self, season):
        self.season = season
        self.award = season["award"][0]
        self.unit = self.award["unit"]
        self.terms = Terms(season)
        self.agency = AgencyMoney(season)
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
                | self._money(span) | self._agency(span))

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
            "growers_returning": len(served & before),
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

    def _rejected_since_acceptance(self, span):
        """What processors rejected after they had accepted the shipment; an accepted weight is after all before."""
        accepted = {row["shipment"]: row["date"] for row in self.season["acceptances"]}
        return sum(row.weight for bale in self.bales.values() for row in bale.residue
                   if row.date in span and row.stage == "processor"
                   and bale.shipment in accepted and row.date > accepted[bale.shipment])

    def diverted(self, span):
        """Weight diverted in a span, by the award's counted_when."""
        counted_when = self.award["counted_when"] or "weighed"
        if counted_when == "accepted":
            return self._accepted(span) - self._rejected_since_acceptance(span)
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
            "goal_share": ratio(to_date, self.terms.on("goal_tons", span.last)),
            "projected_tons": self._projected(to_date, span.last),
            "tipping_avoided": self._tipping_avoided(span),
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
        """Indirect claimed through the span's last day, in cents.

        An amended percent holds for costs from its date on: each period's percent is of what the period added to the
        base, a credit reversing at its own period's; the sum is rounded once and never below 0.
        """
        claimed = sum((self._indirect_base(last) - self._indirect_base(day_before(first)))
                      * (percent or 0) / 100
                      for first, last, percent in self.terms.periods("indirect_percent", span.last))
        return half_up(max(claimed, 0))

    def _indirect_base(self, last):
        """Direct costs less what is out of the base and less what passes the limit in each subaward."""
        subawards, base = {}, 0
        for row in self._direct_rows(Span(datetime.date.min, last)):
            if is_out_of_base(row):
                continue
            if row["subaward"] is None:
                base += row["cents"]
            else:
                subawards.setdefault(row["subaward"], []).append(row)
        return base + sum(min(sum(row["cents"] for row in rows),
                              cents(self.terms.subaward_limit(row["date"] for row in rows)))
                          for rows in subawards.values())

    def match(self, span):
        """Costs on match, in-kind, and program income spent as match in a span, in cents."""
        costs = sum(row["cents"] for row in self.costs
                    if row["date"] in span and row["fund"] == "match")
        in_kind = sum(cents for date, cents in self.inkind if date in span)
        return costs + in_kind + self.agency.income_as_match(span)

    def _match_required(self, on_grant, day):
        """The match that goes with so many cents of the grant, by the terms of a day; None without a percent."""
        percent = self.terms.on("match_percent", day)
        if percent is None:
            return None
        of_grant = self.terms.on("match_base", day) == "grant"
        return half_up(on_grant * percent / (100 if of_grant else 100 - percent))

    def _money(self, span):
        """Grant, indirect, match, and the cost of a ton."""
        spent, spent_to_date = self.grant_direct(span), self.grant_direct(span.to_date)
        indirect_to_date = self.indirect(span)
        claimed = indirect_to_date - self.indirect(span.before)
        given, given_to_date = self.match(span), self.match(span.to_date)
        on_grant = spent_to_date + indirect_to_date
        net = on_grant - self.agency.income(span.to_date, "spent", "deduction")
        budget = cents(self.terms.budgeted("grant", span.last))
        diverted = tons(self.diverted(span), self.unit)
        diverted_to_date = tons(self.diverted(span.to_date), self.unit)
        return {
            "grant_spent": money_text(spent),
            "grant_spent_to_date": money_text(spent_to_date),
            "indirect_claimed": money_text(claimed),
            "indirect_to_date": money_text(indirect_to_date),
            "grant_left": money_text(budget - net),
            "match_given": money_text(given),
            "match_to_date": money_text(given_to_date),
            "match_required": money_text(self._match_required(net, span.last) or 0),
            "cost_per_ton": per_ton(spent + claimed + given, diverted),
            "grant_cost_per_ton": per_ton(spent + claimed, diverted),
            "cost_per_ton_to_date": per_ton(on_grant + given_to_date, diverted_to_date),
            "grant_cost_per_ton_to_date": per_ton(on_grant, diverted_to_date),
        }

    def _agency(self, span):
        """What was claimed and paid, and the lines of the federal financial report, to date."""
        agency, to_date = self.agency, span.to_date
        indirect, given = self.indirect(span), self.match(to_date)
        budget = cents(self.terms.budgeted("grant", span.last))
        required = self._match_required(budget, span.last)
        if required is None:
            required = cents(self.terms.budgeted("match", span.last))
        deducted, added = (agency.income(to_date, "spent", way) for way in ("deduction", "addition"))
        a, paid = agency.received(to_date), agency.paid_costs(to_date) + indirect - deducted
        b = min(a, max(paid, 0))  # what the program's own money paid ahead of the agency's is no disbursement of the agency's
        e, f = self.grant_direct(to_date) + indirect - deducted, agency.bound(to_date)
        earned = agency.income(to_date, "earned")
        lines = {"a": a, "b": b, "c": a - b, "d": budget, "e": e, "f": f, "g": e + f,
                 "h": budget - e - f, "i": required, "j": given, "k": required - given,
                 "l": earned, "m": deducted, "n": added,
                 "o": earned - deducted - added - agency.income_as_match(to_date)}
        return {f"line_10{letter}": money_text(amount) for letter, amount in lines.items()} | {
            "payments_received": money_text(agency.received(span)),
            "claimed_unpaid": money_text(agency.unpaid(to_date)),
            "retained_to_date": money_text(agency.retained(to_date)),
            "paid_ahead": money_text(max(paid - a, 0)),
        }

    def _tipping_avoided(self, span):
        """The quarter's tons at the landfill's fee of its last day; None while no fee is given."""
        fee = self.terms.setting("tipping_fee_per_ton", span.last)
        if fee == 0:
            return None
        return money_text(half_up(tons(self.diverted(span), self.unit) * fee * 100))

    def _projected(self, counted, day):
        """The tons counted by a day, and what bales weighed and bundles on hand will add.

        A bale counts when it is weighed, shipped, or its shipment accepted, as the award has it; what was rejected
        out of it by that day is taken off. Bundles on hand weigh their estimate times the weight over estimate of all
        bales weighed by then; None where no estimate stands behind those.
        """
        weighed = [bale for bale in self.bales.values() if bale.weighed and bale.weighed <= day]
        estimate = sum(bale.estimate for bale in weighed)
        if estimate == 0:
            return None
        waiting = sum(bale.net - sum(row.weight for row in bale.residue if row.date <= day)
                      for bale in weighed if not self._is_counted(bale, day))
        on_hand = sum(bundle.estimate for bundle in self.bundles.values() if is_on_hand(bundle, day))
        over = Fraction(sum(bale.net for bale in weighed), estimate)
        return float(counted + tons(waiting + on_hand * over, self.unit))

    def _is_counted(self, bale, day):
        """Whether a bale that is weighed by a day is counted as diverted by then."""
        counted_when = self.award["counted_when"] or "weighed"
        if counted_when == "shipped":
            return bale.shipped is not None and bale.shipped <= day
        if counted_when == "accepted":
            return any(row["shipment"] == bale.shipment and row["date"] <= day
                       for row in self.season["acceptances"])
        return True


def is_out_of_base(cost):
    """Whether a direct cost is out of the indirect base: equipment, what says so, and construction unless it says in."""
    return (cost["category"] == "equipment" or cost["base"] == "out"
            or cost["category"] == "construction" and cost["base"] != "in")


def day_before(day):
    """The day before, or the first of all."""
    return day if day == datetime.date.min else day - datetime.timedelta(days=1)


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
