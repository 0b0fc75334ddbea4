"""Scale tickets, the loads to the processors, and what the processors say of them."""
from datetime import date, timedelta
from decimal import Decimal

from . import places

LB_PER_KG = 1 / 0.45359237
_FIRST_UNWEIGHED_AT_DEPOT = date(2026, 8, 20)   # when somebody read its certificate
_LAPSED_LOAD = "SH06"

# shipment, date, from, processor, carrier, days until accepted (None: not yet), unit
_LOADS = [
    ("SH01", date(2026, 6, 17), "S01", "Low Fen Resin Works", "Burdock Freight", 12, "lb"),
    ("SH02", date(2026, 6, 24), "S04", "Tarn Street Reclaim", "Hobnail Haulage", 15, "kg"),
    ("SH03", date(2026, 7, 9), "S07", "Low Fen Resin Works", "Burdock Freight", 11, "lb"),
    ("SH04", date(2026, 8, 19), "S01", "Low Fen Resin Works", "Burdock Freight", 13, "lb"),
    ("SH05", date(2026, 9, 2), "S04", "Tarn Street Reclaim", "Hobnail Haulage", 14, "kg"),
    ("SH06", date(2026, 9, 17), "S07", "Low Fen Resin Works", "Burdock Freight", None, "lb"),
]

# what the processors rejected of a load, in its unit, and why; of SH04 they named a bundle and no weight
_REJECTED_THERE = {"SH01": (Decimal("26"), "soil"), "SH02": (Decimal("11.5"), "other resin"),
                   "SH03": (Decimal("44"), "wet"), "SH05": (Decimal("0"), "")}
_PRICES = {"SH01": {"price": "0.083", "per": "lb"}, "SH03": {"price": "0.03", "per": "lb"},
           "SH04": {"price": "0", "per": "lb"}}


def on_divisions(weight, division):
    """The reading of a scale: the nearest whole number of its divisions."""
    step = Decimal(division)
    return round(Decimal(repr(weight)) / step) * step


def weigh(weight_lb, tare, scale_id):
    """Gross, tare and net of one weighing, in the scale's unit; the tare is in it already."""
    scale = places.scale_of(scale_id)
    weight = weight_lb / LB_PER_KG if scale["unit"] == "kg" else weight_lb
    gross = on_divisions(weight + float(tare), scale["division"])
    return {"scale": scale_id, "gross": gross, "tare": tare, "net": gross - tare,
            "unit": scale["unit"], "entry": "printed"}


def bale_tickets(bales, rng):
    """A ticket for each bale, but those left for the load, and the last, which waits."""
    tickets = []
    for bale in bales:
        if bale is bales[-1] or _left_for_the_load(bale):
            continue
        scale = places.BALE_SCALE[bale.site]
        day = max(bale.day + timedelta(rng.choice((0, 0, 0, 1, 1, 2))), bale.pulled_on or bale.day)
        if bale.pulled_on:
            day = bale.pulled_on + timedelta(1)
        tare = Decimal(rng.randrange(35, 44)) / 2 if scale == "SC2" else Decimal(
            rng.randrange(38, 48))
        row = weigh(bale.true_weight(), tare, scale)
        row.update(date=day.isoformat(), weighs="bale", subject=bale.id,
                   weigher=places.ATTENDANT[bale.site])
        row["entry"] = "manual" if scale == "SC2" and rng.random() < 0.3 else "printed"
        tickets.append(row)
    _spoil_two(tickets)
    return tickets + _check_weights(tickets, bales)


def _left_for_the_load(bale):
    load_day = next(day for name, day, *_ in _LOADS if name == _LAPSED_LOAD)
    return bale.site == "S07" and _FIRST_UNWEIGHED_AT_DEPOT <= bale.day <= load_day


def _spoil_two(tickets):
    """A slip whose printer dropped ten pounds, and a weight read between two divisions."""
    on_floor_scale = [row for row in tickets if row["scale"] == "SC1"]
    wrong, between = on_floor_scale[1], on_floor_scale[7]
    wrong["net"] -= 10
    wrong["as_printed"] = "yes"
    between["gross"] += Decimal("0.5")
    between["net"] += Decimal("0.5")
    between["entry"] = "manual"


def _check_weights(tickets, bales):
    """Two bales are weighed again some days later, on the same scale."""
    by_id = {bale.id: bale for bale in bales}
    again = []
    for row in [row for row in tickets if row["scale"] == "SC1"][4:6]:
        day = date.fromisoformat(row["date"]) + timedelta(4)
        check = weigh(by_id[row["subject"]].true_weight() + 1, row["tare"] + 3, "SC1")
        again.append({**check, "date": day.isoformat(), "weighs": "bale",
                      "subject": row["subject"], "weigher": "Dell Rourke"})
    return again


def spot_weights(receipts, registrations, rng):
    """Fifteen bundles hung on the coordinator's scale as they came in."""
    bundles = {b.id: b for r in registrations for b in r.bundles}
    accepted = [row for row in receipts if row["outcome"] == "accepted" and row["bundle"]]
    ordinary = [row for row in accepted if bundles[row["bundle"]].fate == "ordinary"]
    step = len(ordinary) // 15
    rows = []
    for row in ordinary[rng.randrange(step)::step][:15]:
        ticket = weigh(bundles[row["bundle"]].truth, Decimal("1.2"), "SC4")
        rows.append({**ticket, "date": row["date"], "weighs": "bundle",
                     "subject": row["bundle"], "weigher": "Maud Ellery", "entry": "manual"})
    return rows


def ship(bales):
    """Each load takes every bale that its hub has pressed by then and not yet sent."""
    gone, loads = set(), {}
    for name, day, hub, *_ in _LOADS:
        loads[name] = [b for b in bales if b.site == hub and b.id not in gone
                       and b.day + timedelta(3) <= day]
        gone.update(bale.id for bale in loads[name])
    return loads


def shipment_rows(loads):
    return [{"shipment": name, "date": day.isoformat(), "processor": processor, "bale": bale.id,
             "carrier": carrier, "bill_of_lading": f"BOL-{day:%m%d}-{hub}"}
            for name, day, hub, processor, carrier, *_ in _LOADS for bale in loads[name]]


def load_tickets(loads):
    """One load is checked on the truck scale; another has bales weighed nowhere else."""
    rows = []
    for name, empty_truck in (("SH03", Decimal(18460)), (_LAPSED_LOAD, Decimal(18520))):
        day = next(load[1] for load in _LOADS if load[0] == name)
        row = weigh(sum(bale.true_weight() for bale in loads[name]), empty_truck, "SC5")
        rows.append({**row, "date": day.isoformat(), "weighs": "load", "subject": name,
                     "weigher": "Kestrel Mills elevator"})
    return rows


def acceptance_rows(loads, rng):
    """The processors weigh the load at their own gate: a little drier, to their own division."""
    rows = []
    for name, day, _, _, _, days, unit in _LOADS:
        if days is None:
            continue
        weight = sum(b.true_weight() for b in loads[name]) * rng.uniform(0.985, 0.998)
        weight = weight / LB_PER_KG if unit == "kg" else weight
        weight = on_divisions(weight, "5")
        rejected, reason = _REJECTED_THERE.get(name, (None, None))
        rows.append({"shipment": name, "date": (day + timedelta(days)).isoformat(), "weight": weight, "unit": unit,
                     "document": f"settlement-{name}",
                     **({} if rejected is None else {"received": weight + rejected, "rejected": rejected, "reason": reason}),
                     **_PRICES.get(name, {})})
    return rows


def weighed_out(loads, tickets):
    """Rejects out of weighed bales: two at the baler, four by the processors."""
    first = {}
    for row in sorted(tickets, key=lambda row: row["date"]):
        first.setdefault(row["subject"], row["date"])
    rows = []
    for name, place, weight, reason in (("SH01", 2, "14", "twine"), ("SH04", 2, "22", "drip tape")):
        bale = loads[name][place]
        rows.append({"date": first[bale.id], "stage": "baler", "bale": bale.id, "weight": weight,
                     "unit": "lb", "reason": reason, "disposition": "landfilled"})
    for name, place, weight, unit, reason in (("SH01", 0, "26", "lb", "soil"),
                                              ("SH02", 1, "11.5", "kg", "other resin"),
                                              ("SH03", 3, "44", "lb", "wet")):
        rows.append({**_by_processor(name, reason), "bale": loads[name][place].id,
                     "weight": weight, "unit": unit})
    bundle = next(b for b in loads["SH04"][0].bundles if b.fate == "ordinary")
    rows.append({**_by_processor("SH04", "silage film"), "bundle": bundle.id})
    return rows


def _by_processor(name, reason):
    day, days = next((load[1], load[5]) for load in _LOADS if load[0] == name)
    return {"date": (day + timedelta(days)).isoformat(), "stage": "processor", "reason": reason,
            "disposition": "landfilled", "document": f"settlement-{name}"}


def with_slips(tickets):
    """The serial numbers on the slips, each scale's own, rising by date."""
    serial = {"SC1": 4410, "SC2": 207, "SC3": 88, "SC4": 0, "SC5": 60312}
    for row in tickets:
        serial[row["scale"]] += 7 if row["scale"] == "SC5" else 1
        row["document"] = f"{row['scale']}-{serial[row['scale']]:05d}"
    return tickets
