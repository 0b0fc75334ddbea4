"""The detail behind the figures: bales with their shares, and totals of estimates."""

from exact import decimal_text
from line_of_life import follow


def detail(season):
    """Bales, bundles, and totals by grower, site and registration, for comparison."""
    bundles, bales = follow(season)
    return {
        "bales": {name: bale_detail(bales[name]) for name in by_bytes(bales)},
        "bundles": {name: bundle_detail(bundles[name]) for name in by_bytes(bundles)},
    } | {f"{what}s": totals(bundles, what) for what in ("registration", "grower", "site")}


def by_bytes(names):
    """Ids in the order of their bytes."""
    return sorted(names, key=str.encode)


def text(weight):
    """Thousandths as a decimal string, None where there is none."""
    return None if weight is None else decimal_text(weight, 3)


def day(date):
    """A date as ISO 8601, None where there is none."""
    return None if date is None else date.isoformat()


def bale_detail(bale):
    """A bale's weighing, the bundles still in it, and its residue."""
    return {
        "made": day(bale.made),
        "shipped": day(bale.shipped),
        "net": text(bale.net),
        "weighed": day(bale.weighed),
        "ticket": bale.ticket,
        "weighed_as": bale.weighed_as,
        "estimate": text(bale.estimate),
        "bundles": {
            bundle.bundle: {"estimate": text(bundle.estimate),
                            "share": text(bale.shares.get(bundle.bundle))}
            for bundle in sorted(bale.bundles, key=lambda some: some.bundle.encode())},
        "residue": [{"reject": row.reject, "date": day(row.date), "stage": row.stage,
                     "weight": text(row.weight)} for row in bale.residue],
    }


def bundle_detail(bundle):
    """A bundle's estimate, basis, and the dates of its life."""
    return {
        "estimate": text(bundle.estimate),
        "basis": bundle.basis,
        "accepted": day(bundle.accepted),
        "first_rejected": day(min(bundle.rejections, default=None)),
        "bale": bundle.bale.bale if bundle.bale else None,
        "spot": text(bundle.spot),
    }


def totals(bundles, what):
    """Bundles, estimates and shares by grower, registered site, or registration."""
    groups = {}
    for bundle in bundles.values():
        group = groups.setdefault(getattr(bundle, what), [0, 0, 0, 0])
        share = bundle.bale.shares.get(bundle.bundle) if bundle.bale else None
        group[0] += 1
        group[1] += bundle.estimate
        group[2] += share is not None
        group[3] += share or 0
    return {name: {"bundles": groups[name][0], "estimate": text(groups[name][1]),
                   "weighed_bundles": groups[name][2], "share": text(groups[name][3])}
            for name in by_bytes(groups)}
