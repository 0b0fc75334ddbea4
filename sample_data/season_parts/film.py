"""Covers come off houses: registrations, the bundles claimed, and what they truly weigh."""
import math
from dataclasses import dataclass, field
from datetime import date, timedelta

from . import places

CURVATURE = 1.5                # the program's factor where no rise is given
CLAIMED_LB_PER_FT2 = 0.04      # the program's constant
CLEAN_6_MIL_LB_PER_FT2 = 0.028717   # 0.92 g/cm3; the field's check value
HANDLED = 1.02                 # mud, water and twine, less the edges cut off
UNCOUNTED = 1.12               # end walls and patches go along where nobody measured
LARGEST_BUNDLE_LB = 58

# structure, length, width, layers, how often of 100
_HOUSES = [
    ("high tunnel", 96, 30, 1, 18), ("high tunnel", 96, 26, 1, 11), ("high tunnel", 72, 20, 1, 15),
    ("high tunnel", 48, 30, 1, 11), ("greenhouse", 96, 30, 2, 3), ("greenhouse", 96, 30, 1, 8),
    ("greenhouse", 48, 30, 2, 7), ("greenhouse", 60, 24, 1, 13), ("low tunnel", 200, 6, 1, 7),
    ("low tunnel", 300, 5, 1, 7),
]


@dataclass
class Bundle:
    id: str
    registration: "Registration"
    number: int
    claim: float                 # lb, as the program will reckon it
    truth: float                 # lb, known to nobody in the season
    own: tuple = None            # (value, unit) where the grower or the site estimated it
    fate: str = "ordinary"
    arrives_at: str = ""
    arrives: date = None
    loose: bool = True           # not yet pressed, lost or thrown out


@dataclass
class Registration:
    date: date
    grower: str
    site: str
    covers: list
    id: str = ""
    claimed_bundles: int = 0     # the "of" on the labels
    bundles: list = field(default_factory=list)


def film_area(cover):
    """Square feet: length x width x factor x layers, the factor by rise where given."""
    factor = CURVATURE
    if cover["rise_ft"]:
        half, rise = cover["width_ft"] / 2, float(cover["rise_ft"])
        radius = (half * half + rise * rise) / (2 * rise)
        factor = radius * 2 * math.atan2(half, radius - rise) / cover["width_ft"]
    return cover["length_ft"] * cover["width_ft"] * factor * cover["layers"]


def claimed_weight(cover):
    per_ft2 = CLEAN_6_MIL_LB_PER_FT2 * cover["mil"] / 6 if cover["mil"] else CLAIMED_LB_PER_FT2
    return film_area(cover) * per_ft2


def true_weight(cover, rng):
    gauge = (cover["mil"] or 6) / 6 * rng.gauss(1, 0.03)
    extra = 1 if cover["mil"] else UNCOUNTED
    return film_area(cover) * CLEAN_6_MIL_LB_PER_FT2 * gauge * HANDLED * extra


def grower_effects(rng):
    """A few growers' film weighs far less than claimed, a few far more, most near the mean."""
    growers = list(places.home_sites())
    unusual = rng.sample(growers, 15)
    effects = {grower: rng.gauss(1, 0.035) for grower in growers}
    effects.update({grower: rng.uniform(0.80, 0.87) for grower in unusual[:9]})
    effects.update({grower: rng.uniform(1.14, 1.22) for grower in unusual[9:]})
    return effects


def _draw_cover(rng, measured):
    structure, length, width, layers, _ = rng.choices(_HOUSES, [row[4] for row in _HOUSES])[0]
    arched = structure == "high tunnel" and width >= 26 and rng.random() < 0.25
    mil = (4 if structure == "low tunnel" else 6) if measured else None
    film = "white" if structure == "greenhouse" and rng.random() < 0.45 else "clear"
    return {"structure": structure, "length_ft": length, "width_ft": width,
            "rise_ft": f"{width * 0.3:.1f}" if arched else "", "layers": layers, "film": film,
            "mil": mil}


def _draw_date(rng):
    """Most film comes off in spring, the rest after the early crops."""
    if rng.random() < 0.58:
        return date(2026, 4, 1) + timedelta(rng.randrange(70))
    return date(2026, 6, 15) + timedelta(rng.randrange(85))


def draw_registrations(rng):
    """One to three registrations a grower, in order of date, with their bundles."""
    homes, effects = places.home_sites(), grower_effects(rng)
    registrations = []
    for grower, site in homes.items():
        measures = rng.random() < 0.32           # some growers know their film's thickness
        for _ in range(rng.choice((1, 2, 2, 2, 2, 2, 3))):
            covers = [_draw_cover(rng, measures and rng.random() < 0.9)
                      for _ in range(rng.choice((1, 1, 1, 1, 1, 2)))]
            registrations.append(Registration(_draw_date(rng), grower, site, covers))
    registrations.sort(key=lambda registration: registration.date)
    for count, registration in enumerate(registrations, start=1):
        registration.id = f"R{count:03d}"
        effect = effects[registration.grower] * places.SITE_EFFECT[registration.site]
        _make_bundles(registration, effect, rng)
    return registrations


def _make_bundles(registration, effect, rng):
    claim = sum(claimed_weight(cover) for cover in registration.covers)
    truth = sum(true_weight(cover, rng) for cover in registration.covers) * effect
    count = max(1, math.ceil(claim / LARGEST_BUNDLE_LB))
    portions = [rng.gauss(1, 0.07) for _ in range(count)]
    registration.claimed_bundles = count
    for number, portion in enumerate(portions, start=1):
        registration.bundles.append(
            Bundle(f"{registration.id}-{number}", registration, number, claim / count,
                   truth * portion / sum(portions)))


def cover_rows(registrations):
    rows = []
    for registration in registrations:
        for count, cover in enumerate(registration.covers, start=1):
            shown = {name: "" if value is None else value for name, value in cover.items()}
            rows.append({"registration": registration.id, "date": registration.date.isoformat(),
                         "grower": registration.grower, "site": registration.site,
                         "cover": count, **shown})
    return rows


def bundle_rows(registrations):
    return [{"bundle": bundle.id, "registration": registration.id, "number": bundle.number,
             "of": registration.claimed_bundles,
             "estimate": bundle.own[0] if bundle.own else "",
             "unit": bundle.own[1] if bundle.own else ""}
            for registration in registrations for bundle in registration.bundles]
