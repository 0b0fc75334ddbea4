"""What became of each bundle and bale: estimates, acceptance, weighing, shares, residue."""

from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction
from functools import partial

from award_terms import Terms
from exact import (METRES_IN_MIL, SQUARE_METRES_IN_SQUARE_FOOT, arc_factor, convert, half_up,
                   share_out, thousandths)


@dataclass
class Bundle:
    """A bundle as registered, and what was found out about it."""

    bundle: str
    registration: str
    registered: date
    grower: str
    site: str
    estimate: int
    basis: str
    accepted: date | None = None
    bale: "Bale | None" = None
    spot: int | None = None
    rejections: list = field(default_factory=list)

    def rejected_since_acceptance(self, by=date.max):
        """Whether a rejection is dated from its acceptance on, up to `by`."""
        return self.accepted is not None and any(
            self.accepted <= day <= by for day in self.rejections)


@dataclass
class Bale:
    """A bale as pressed, its weighing, and what was rejected out of it."""

    bale: str
    made: date
    pressed: list = field(default_factory=list)
    shipment: str | None = None
    shipped: date | None = None
    weighed: date | None = None
    net: int | None = None
    ticket: str | None = None
    weighed_as: str | None = None
    shares: dict = field(default_factory=dict)
    residue: list = field(default_factory=list)

    @property
    def bundles(self):
        """The bundles still in it: not rejected before it was weighed."""
        return [bundle for bundle in self.pressed if not bundle.rejected_since_acceptance()]

    @property
    def estimate(self):
        """The sum of the estimates of the bundles still in it."""
        return sum(bundle.estimate for bundle in self.bundles)


@dataclass
class Residue:
    """What one row of rejects.csv took out of a weighed bale."""

    reject: str
    date: date
    stage: str
    weight: int


def cover_weight(cover, unit, terms):
    """The weight of a cover's film in `unit`, exact but for the arc, by the settings of its date."""
    set_to = partial(terms.setting, day=cover["date"])
    if cover["length_ft"] is None:
        return Fraction(0)
    width, rise = cover["width_ft"], cover["rise_ft"]
    if rise is not None:
        factor = arc_factor(width, rise)
    else:  # flat film (endwalls, sheets) has no more area than its floor
        factor = 1 if (cover["structure"] or "").lower() == "flat" else set_to("curvature_factor")
    area = cover["length_ft"] * width * factor * cover["layers"]
    if cover["mil"] is None:
        return convert(area * set_to("area_weight_lb_per_ft2"), "lb", unit)
    volume = area * SQUARE_METRES_IN_SQUARE_FOOT * cover["mil"] * METRES_IN_MIL
    return convert(volume * set_to("density_g_per_cm3") * 1000, "kg", unit)


def estimates(rows, covers, unit, terms):
    """Estimate and basis of each bundle of one registration."""
    worked_out = half_up(sum(cover_weight(cover, unit, terms) for cover in covers) * 1000)
    basis = "constant" if all(cover["mil"] is None for cover in covers) else "thickness"
    own = {row["bundle"]: thousandths(row["estimate"], row["unit"], unit)
           for row in rows if row["estimate"] is not None}
    result = {bundle: (estimate, "own") for bundle, estimate in own.items()}
    others = sorted((row for row in rows if row["bundle"] not in own),
                    key=lambda row: row["number"])
    if others:
        each, odd = divmod(worked_out - sum(own.values()), len(others))
        for place, row in enumerate(others):
            result[row["bundle"]] = (each + (place < odd), basis)
    return result


def grouped(rows, column):
    """Rows by the value of a column, in the order of entry."""
    groups = {}
    for row in rows:
        groups.setdefault(row[column], []).append(row)
    return groups


def make_bundles(season, unit, terms):
    """All bundles by id, with their estimates."""
    covers = grouped(season["covers"], "registration")
    bundles = {}
    for registration, rows in grouped(season["bundles"], "registration").items():
        shared = covers[registration][0]
        found = estimates(rows, covers[registration], unit, terms)
        for row in rows:
            estimate, basis = found[row["bundle"]]
            bundles[row["bundle"]] = Bundle(
                row["bundle"], registration, shared["date"], shared["grower"], shared["site"],
                estimate, basis)
    return bundles


def make_bales(season, bundles):
    """All bales by id, with the bundles pressed into them and their shipment."""
    bales = {}
    for row in season["bales"]:
        bale = bales.setdefault(row["bale"], Bale(row["bale"], row["date"]))
        bale.pressed.append(bundles[row["bundle"]])
        bundles[row["bundle"]].bale = bale
    for row in season["shipments"]:
        bales[row["bale"]].shipment = row["shipment"]
        bales[row["bale"]].shipped = row["date"]
    return bales


def first_tickets(season, weighs):
    """The first ticket of each subject: earliest date, then order of entry."""
    rows = [row for row in season["tickets"] if row["weighs"] == weighs]
    firsts = {}
    for row in sorted(rows, key=lambda row: row["date"]):
        firsts.setdefault(row["subject"], row)
    return firsts


def net_of(ticket, unit):
    """A ticket's net in thousandths of the award's unit."""
    return thousandths(ticket["net"], ticket["unit"], unit)


def weigh_alone(bales, tickets, unit):
    """Gives each bale that has a ticket of its own its weight and date."""
    for name, ticket in tickets.items():
        bale = bales[name]
        bale.weighed, bale.net = ticket["date"], net_of(ticket, unit)
        bale.ticket, bale.weighed_as = ticket["ticket"], "bale"


def load_remainders(bales, tickets, unit):
    """What each load's net leaves for its bales without a ticket, where it leaves any.

    Those bales get the load ticket's date; their nets follow when it is known
    which bundles are still in them.
    """
    remainders = []
    for shipment, ticket in tickets.items():
        load = [bale for bale in bales.values() if bale.shipment == shipment]
        without = [bale for bale in load if bale.net is None]
        left = net_of(ticket, unit) - sum(bale.net for bale in load if bale.net is not None)
        if left <= 0:
            continue
        remainders.append((left, without))
        for bale in without:
            bale.weighed = ticket["date"]
            bale.ticket, bale.weighed_as = ticket["ticket"], "load"
    return remainders


def labels(season):
    """Bundle ids by what is written on the label: registration and number."""
    return {(row["registration"], row["number"]): row["bundle"] for row in season["bundles"]}


def receipt_bundle(receipt, by_label):
    """The bundle id that a receipt names, by id or by its label."""
    return receipt["bundle"] or by_label[receipt["registration"], receipt["number"]]


def before_weighing(bundle, day):
    """Whether a day is before the weighing of a bundle's bale, or it has none."""
    return bundle.bale is None or bundle.bale.weighed is None or day < bundle.bale.weighed


def rejected_by(reject, bundles, bales):
    """The bundles that a row of rejects.csv rejects, were it dated early enough."""
    weighs = reject["weight"] is not None
    if reject["bale"] is not None:
        return [] if weighs or reject["stage"] != "baler" else bales[reject["bale"]].pressed
    bundle = bundles[reject["bundle"]]
    partly = weighs and bundle.bale is not None
    return [] if partly or reject["stage"] == "processor" else [bundle]


def note_receipts(season, bundles):
    """Dates of acceptance, and rejections by receipt before the weighing."""
    by_label = labels(season)
    for receipt in season["receipts"]:
        bundle = bundles[receipt_bundle(receipt, by_label)]
        if receipt["outcome"] == "accepted":
            bundle.accepted = receipt["date"]
        elif receipt["outcome"] == "rejected" and before_weighing(bundle, receipt["date"]):
            bundle.rejections.append(receipt["date"])


def note_rejects(season, bundles, bales):
    """Rejections by site and baler before the weighing."""
    for reject in season["rejects"]:
        for bundle in rejected_by(reject, bundles, bales):
            if before_weighing(bundle, reject["date"]):
                bundle.rejections.append(reject["date"])


def share_loads(remainders):
    """Shares what each load leaves over its bales, by estimate."""
    for left, without in remainders:
        shares = share_out(left, {bale.bale: bale.estimate for bale in without})
        for bale in without:
            bale.net = shares[bale.bale]


def share_bale(bale):
    """Shares of a bale's net over the bundles still in it."""
    spots = {bundle.bundle: bundle.spot for bundle in bale.bundles if bundle.spot is not None}
    others = {bundle.bundle: bundle.estimate for bundle in bale.bundles if bundle.spot is None}
    left = bale.net - sum(spots.values())
    if spots and (not others or left <= 0):
        return share_out(bale.net, spots | others)
    return spots | share_out(left, others)


def residue_asked(reject, bale, bundle):
    """What a reject would take out of a weighed bale, before the cap."""
    if bundle is not None and bundle.bundle not in bale.shares:
        return 0
    if reject["weight"] is not None:
        return reject["thousandths"]
    return bale.net if bundle is None else bale.shares[bundle.bundle]


def note_residue(season, bundles, bales, unit):
    """Residue of weighed bales by date and order of entry, never past the net."""
    for reject in sorted(season["rejects"], key=lambda row: row["date"]):
        bundle = bundles.get(reject["bundle"])
        bale = bundle.bale if bundle is not None else bales[reject["bale"]]
        if bale is None or bale.weighed is None or reject["date"] < bale.weighed:
            continue
        if reject["weight"] is not None:
            reject["thousandths"] = thousandths(reject["weight"], reject["unit"], unit)
        left = bale.net - sum(row.weight for row in bale.residue)
        bale.residue.append(Residue(reject["reject"], reject["date"], reject["stage"],
                                    min(left, residue_asked(reject, bale, bundle))))


def follow(season):
    """All bundles and bales of a season, by id, with everything found out about them."""
    unit = season["award"][0]["unit"]
    bundles = make_bundles(season, unit, Terms(season))
    bales = make_bales(season, bundles)
    for name, ticket in first_tickets(season, "bundle").items():
        bundles[name].spot = net_of(ticket, unit)
    weigh_alone(bales, first_tickets(season, "bale"), unit)
    remainders = load_remainders(bales, first_tickets(season, "load"), unit)
    note_receipts(season, bundles)
    note_rejects(season, bundles, bales)
    share_loads(remainders)
    for bale in bales.values():
        if bale.net is not None:
            bale.shares = share_bale(bale)
    note_residue(season, bundles, bales, unit)
    return bundles, bales
