"""Bundles come to the sites: what befalls each, and the receipts the sites write."""
from datetime import date, timedelta

from . import places
from .film import Bundle, Registration

LAST_DAY = date(2026, 9, 29)
LB_PER_KG = 1 / 0.45359237

# What befalls a bundle, other than the ordinary, and how many.
_FATES = [
    ("never received", 7), ("refused at site", 6), ("refused, came back", 2),
    ("held, then accepted", 4), ("held still", 1), ("rejected after receipt", 2),
    ("rejected at baler", 4), ("pulled from bale", 1), ("receipt lost", 1), ("lost on the road", 1),
]
_REASONS = ["soil", "wet", "drip tape", "shade cloth", "mulch film", "brittle film", "wood lath",
            "staples", "silage film"]
_NEIGHBOUR = {"S01": "S03", "S02": "S01", "S03": "S01", "S04": "S06", "S05": "S04", "S06": "S04",
              "S07": "S08", "S08": "S07", "S09": "S07"}


def plan_arrivals(registrations, rng):
    """Gives every bundle a site and a day on which that site is open."""
    for registration in registrations:
        first = _open_day(registration.site, registration.date + timedelta(rng.randrange(4, 24)))
        in_two_trips = len(registration.bundles) > 2 and rng.random() < 0.4
        for bundle in registration.bundles:
            late = in_two_trips and bundle.number > len(registration.bundles) // 2
            bundle.arrives_at = registration.site
            bundle.arrives = _open_day(registration.site, first + timedelta(7)) if late else first


def _open_day(site, day):
    while day.weekday() not in places.OPEN_DAYS[site]:
        day += timedelta(1)
    return min(day, LAST_DAY)


def deal_fates(registrations, rng):
    """Draws the bundles of each fate; a registration meets one at most."""
    early = [r for r in registrations if r.date < date(2026, 8, 20) and len(r.bundles) > 1]
    drawn = iter(rng.sample(early, sum(count for _, count in _FATES) + 6))
    for fate, count in _FATES:
        for _ in range(count):
            registration = next(drawn)
            while fate == "lost on the road" and places.HUB[registration.site] == registration.site:
                registration = next(drawn)       # only what is hauled can be lost so
            rng.choice(registration.bundles).fate = fate
    _send_elsewhere(registrations)


def _send_elsewhere(registrations):
    """Two loads of one farm's film come to the neighbouring site."""
    ordinary = [r for r in registrations if all(b.fate == "ordinary" for b in r.bundles)]
    for registration in (ordinary[20], ordinary[60]):
        for bundle in registration.bundles:
            bundle.arrives_at = _NEIGHBOUR[registration.site]
            bundle.arrives = _open_day(bundle.arrives_at, bundle.arrives)


def add_odd_registrations(registrations):
    """A label missing of three, own estimates, a cover nobody measured, a bundle without label."""
    whole = [r for r in registrations if all(b.fate == "ordinary" for b in r.bundles)]
    _lose_a_label(next(r for r in whole[8:] if _can_lose_a_label(r)))
    spoken_for = [r for r in whole[30:] if len(r.bundles) == 3]
    for registration, value, unit in zip(spoken_for, ("46", "51.5", "22.5", "44"),
                                         ("lb", "lb", "kg", "lb")):
        _estimate_one(registration.bundles[-1], value, unit)
    registrations.append(_unmeasured(len(registrations) + 1))
    registrations.append(_without_label(len(registrations) + 1))


def _can_lose_a_label(registration):
    return registration.claimed_bundles == 3 and sum(b.claim for b in registration.bundles) < 130


def _lose_a_label(registration):
    total = sum(bundle.claim for bundle in registration.bundles)
    del registration.bundles[1]
    for bundle in registration.bundles:
        bundle.claim = total / 2


def _estimate_one(bundle, value, unit):
    own = float(value) * (LB_PER_KG if unit == "kg" else 1)
    others = [b for b in bundle.registration.bundles if b is not bundle]
    for other in others:
        other.claim += (bundle.claim - own) / len(others)
    bundle.own, bundle.claim = (value, unit), own


def _registration_by_eye(count, day, grower, site, cover, bundles):
    """A registration whose bundles (id, lb by eye, lb in truth) carry their own estimates."""
    empty = dict.fromkeys(("structure", "length_ft", "width_ft", "rise_ft", "layers", "film",
                           "mil"), "")
    registration = Registration(day, grower, site, [{**empty, **cover}], f"R{count:03d}",
                                len(bundles))
    for number, (bundle_id, by_eye, truth) in enumerate(bundles, start=1):
        registration.bundles.append(
            Bundle(bundle_id or f"{registration.id}-{number}", registration, number,
                   float(by_eye), truth, (by_eye, "lb"), arrives_at=site, arrives=day))
    return registration


def _unmeasured(count):
    return _registration_by_eye(count, date(2026, 6, 16), "G041", "S06",
                                {"structure": "low tunnel", "film": "clear"},
                                [("", "40", 34.6), ("", "35", 31.9)])


def _without_label(count):
    return _registration_by_eye(count, date(2026, 7, 11), "unknown", "S02", {},
                                [("FOUND-1", "48", 39.4)])


def receipts_and_rejects(registrations, rng):
    """The sites' sheets; a bundle whose `arrives` is None afterwards never came in."""
    receipts, rejects = [], []
    for bundle in (b for r in registrations for b in r.bundles):
        if bundle.fate == "never received" or bundle.fate == "receipt lost":
            bundle.loose = bundle.fate == "receipt lost"
        elif bundle.fate in ("refused at site", "held still"):
            receipts.append(_receipt(bundle, bundle.arrives, *_turned_away(bundle, rng)))
            bundle.loose = False
        else:
            if bundle.fate in ("refused, came back", "held, then accepted"):
                receipts.append(_receipt(bundle, bundle.arrives, *_turned_away(bundle, rng)))
                bundle.arrives = _open_day(bundle.arrives_at, bundle.arrives + timedelta(9))
            receipts.append(_receipt(bundle, bundle.arrives, "accepted", "", ""))
        if bundle.fate == "rejected after receipt":
            rejects.append({"date": (bundle.arrives + timedelta(1)).isoformat(), "stage": "site",
                            "bundle": bundle.id, "reason": rng.choice(_REASONS),
                            "disposition": "landfilled"})
            bundle.loose = False
    return _as_written(receipts), rejects


def _turned_away(bundle, rng):
    if bundle.fate.startswith("held"):
        return "held", rng.choice(("wet", "label to be checked")), ""
    if bundle.fate == "refused, came back":
        return "rejected", "wet", "returned"
    return "rejected", rng.choice(_REASONS), rng.choice(("returned", "returned", "landfilled"))


def _receipt(bundle, day, outcome, reason, disposition):
    return {"date": day.isoformat(), "site": bundle.arrives_at, "bundle": bundle.id,
            "outcome": outcome, "reason": reason, "disposition": disposition,
            "received_by": places.ATTENDANT[bundle.arrives_at]}


def _as_written(receipts):
    """In order of day and site; every ninth names registration and number, as on its label."""
    receipts.sort(key=lambda row: (row["date"], row["site"]))
    for row in receipts[8::9]:
        if row["bundle"].startswith("R"):
            row["registration"], row["number"] = row["bundle"].split("-")
            row["bundle"] = ""
    return receipts
