"""Film is hauled to the hubs and pressed when the hired baler, a small vertical one, comes."""
from dataclasses import dataclass
from datetime import date, timedelta

from . import places

_FIRST_ROUND = {"S01": date(2026, 4, 30), "S04": date(2026, 5, 5), "S07": date(2026, 5, 8)}
_ROUND_DAYS = 14
_LAST_ROUND = date(2026, 9, 25)
_TRAILER_BUNDLES = 20
_MOST_BUNDLES, _FEWEST_BUNDLES = 12, 6
_BALER_REASONS = ["twine", "drip tape", "soil", "wood lath"]


@dataclass
class Bale:
    site: str
    day: date
    bundles: list
    id: str = ""
    pulled_on: date = None       # a bundle was cut out again before the weighing

    def true_weight(self):
        return sum(b.truth for b in self.bundles if b.fate != "pulled from bale")


def haul_and_press(registrations, rng):
    """Returns the bales, the rows of the hauls, and the rejects at the baler."""
    waiting = [b for r in registrations for b in r.bundles if b.loose]
    waiting.sort(key=lambda b: (b.arrives, b.arrives_at, b.registration.id, b.number))
    bales, hauls, rejects = [], [], []
    for day, hub in _rounds():
        due = [b for b in waiting if b.loose and places.HUB[b.arrives_at] == hub]
        came = [b for b in due if b.arrives < day - timedelta(1)
                or (b.arrives_at == hub and b.arrives <= day)]
        hauls += _haul(came, hub, day - timedelta(1))
        for bundle in came:
            bundle.arrives_at = hub
        bales += _press(came, hub, day, rejects, rng)
    for count, bale in enumerate(bales, start=1):
        bale.id = f"B{count:03d}"
    return bales, _number_hauls(hauls), rejects


def _rounds():
    days = [(first + timedelta(_ROUND_DAYS * turn), hub) for hub, first in _FIRST_ROUND.items()
            for turn in range(12)]
    return sorted((day, hub) for day, hub in days if day <= _LAST_ROUND)


def _haul(came, hub, day):
    """One trailer after another from each outlying site; what is lost never comes off one."""
    loads = []
    for site in sorted(set(b.arrives_at for b in came) - {hub}):
        here = [b for b in came if b.arrives_at == site]
        for start in range(0, len(here), _TRAILER_BUNDLES):
            loads.append([{"date": day.isoformat(), "from": site, "to": hub, "bundle": b.id,
                           "driver": places.DRIVER[hub]}
                          for b in here[start:start + _TRAILER_BUNDLES]])
    for bundle in came:
        bundle.loose = bundle.fate != "lost on the road"
    return loads


def _number_hauls(loads):
    loads.sort(key=lambda load: load[0]["date"])
    return [{"haul": f"H{count:03d}", **row} for count, load in enumerate(loads, start=1)
            for row in load]


def _press(came, hub, day, rejects, rng):
    """Bundles go in as they come off the heap, so that the growers' film mixes in every bale.

    One that cannot be pressed is thrown out at the baler; what fills no bale waits.
    """
    heap = [b for b in came if b.loose]
    rng.shuffle(heap)
    heap.sort(key=lambda b: b.arrives > day - 2 * timedelta(_ROUND_DAYS))     # none waits for ever
    bales, bundles, target = [], [], _draw_target(rng)
    for bundle in heap:
        if bundle.fate == "rejected at baler":
            bundle.loose = False
            rejects.append(_thrown_out(bundle, day, rng))
            continue
        bundles.append(bundle)
        full = sum(b.claim for b in bundles) >= target and len(bundles) >= _FEWEST_BUNDLES
        if full or len(bundles) == _MOST_BUNDLES:
            bales.append(Bale(hub, day, bundles))
            bundles, target = [], _draw_target(rng)
    for bale in bales:
        for bundle in bale.bundles:
            bundle.loose = False
            if bundle.fate == "pulled from bale":
                bale.pulled_on = day + timedelta(1)
                rejects.append(_thrown_out(bundle, bale.pulled_on, rng))
    return bales


def _draw_target(rng):
    return rng.triangular(270, 500, 340)


def _thrown_out(bundle, day, rng):
    return {"date": day.isoformat(), "stage": "baler", "bundle": bundle.id,
            "reason": rng.choice(_BALER_REASONS), "disposition": "landfilled"}


def bale_rows(bales):
    return [{"bale": bale.id, "date": bale.day.isoformat(), "site": bale.site, "bundle": b.id}
            for bale in bales for b in bale.bundles]
