"""The refusal rules of the interchange, as assertions: a season that passes is taken in whole."""
import re
from datetime import date
from decimal import Decimal

from .tables import KINDS, REQUIRED

_ID_COLUMNS = ("award site grower scale registration bundle receipt haul bale reject shipment"
               " ticket cost inkind subject from to").split()
_DATES = "date begins ends certified_on certified_until paid_on".split()
_NUMBERS = {   # by file: decimals without sign; those with ! may not be 0
    "award": "goal_tons match_percent indirect_percent", "sites": "capacity_lb",
    "scales": "capacity! division!", "covers": "length_ft! width_ft! rise_ft! mil!",
    "bundles": "estimate!", "rejects": "weight!", "tickets": "gross tare net!",
    "acceptances": "weight!", "budget": "grant match", "inkind": "quantity rate amount",
}
_COUNTS = {"award": "quarter_starts", "covers": "cover layers", "bundles": "number of",
           "receipts": "number"}
_MONEY = {"budget": "grant match", "costs": "amount", "inkind": "amount"}
_CHOICES = {
    "award": {"unit": "lb kg", "match_base": "total grant",
              "counted_when": "weighed shipped accepted"},
    "scales": {"unit": "lb kg", "class": "II|III|IIII|III L"}, "bundles": {"unit": "lb kg"},
    "receipts": {"outcome": "accepted rejected held"},
    "rejects": {"stage": "site baler processor", "unit": "lb kg",
                "disposition": "returned landfilled elsewhere"},
    "tickets": {"weighs": "bundle bale load", "unit": "lb kg", "entry": "printed manual",
                "as_printed": "yes"},
    "acceptances": {"unit": "lb kg"},
    "budget": {"category": "personnel fringe travel equipment supplies contractual construction"
                           " other indirect"},
    "costs": {"category": "personnel fringe travel equipment supplies contractual construction"
                          " other indirect", "fund": "grant match"},
    "inkind": {"kind": "hours miles donated_use donated_goods"},
}
_KEYS = {"covers": "registration cover", "bales": "bale bundle", "shipments": "shipment bale",
         "hauls": "haul bundle"}
_SHARED = {"covers": ("registration", "date grower site"), "bales": ("bale", "date site"),
           "shipments": ("shipment", "date processor carrier bill_of_lading"),
           "hauls": ("haul", "date from to driver"), "bundles": ("registration", "of")}


def check_season(season):
    """Raises AssertionError with the file and row of the first thing that would be refused."""
    for kind in KINDS:
        _check_cells(kind, season[kind])
        _check_keys(kind, season[kind])
    _check_award(season)
    _check_covers_and_bundles(season)
    _check_references(season)
    _check_receipts(season)
    _check_bales_and_loads(season)
    _check_tickets(season)
    _check_money(season)


def _check_cells(kind, rows):
    for line, row in enumerate(rows, start=2):
        where = f"{kind}.csv:{line}"
        for column in REQUIRED[kind]:
            assert row[column], f"{where}: {column} is empty"
        for column, text in row.items():
            if text and column in _ID_COLUMNS:
                assert text == text.strip(), f"{where}: {column} has spaces around it"
            if text and column in _DATES:
                assert re.fullmatch(r"\d{4}-\d\d-\d\d", text), f"{where}: {column} {text}"
                date.fromisoformat(text)
            if text and column in ("opens", "closes"):
                assert re.fullmatch(r"([01]\d|2[0-3]):[0-5]\d", text), f"{where}: {column} {text}"
        _check_numbers(kind, row, where)
        _check_choices(kind, row, where)


def _check_numbers(kind, row, where):
    for name in _NUMBERS.get(kind, "").split():
        text = row[name.rstrip("!")]
        assert not text or re.fullmatch(r"\d+(\.\d+)?", text), f"{where}: {name} {text}"
        assert not (text and name.endswith("!")) or Decimal(text) > 0, f"{where}: {name} is 0"
    for name in _COUNTS.get(kind, "").split():
        assert re.fullmatch(r"([1-9]\d*)?", row[name]), f"{where}: {name} {row[name]}"
    for name in _MONEY.get(kind, "").split():
        assert re.fullmatch(r"(-?\d+(\.\d{1,2})?)?", row[name]), f"{where}: {name} {row[name]}"
    for weight in ("estimate", "weight"):
        if weight in row:
            assert bool(row[weight]) == bool(row["unit"]), f"{where}: weight without unit"


def _check_choices(kind, row, where):
    for column, text in _CHOICES.get(kind, {}).items():
        allowed = text.split("|") if "|" in text else text.split()
        assert row[column] in allowed + [""], f"{where}: {column} {row[column]}"


def _check_keys(kind, rows):
    columns = _KEYS.get(kind, next(iter(rows[0]))).split()
    keys = [tuple(row[column] for column in columns) for row in rows]
    assert len(keys) == len(set(keys)), f"{kind}.csv: a key comes twice"
    if kind in _SHARED:
        record, shared = _SHARED[kind]
        seen = {}
        for row in rows:
            values = [row[column] for column in shared.split()]
            assert seen.setdefault(row[record], values) == values, f"{kind}.csv: {row[record]}"


def _check_award(season):
    assert len(season["award"]) == 1
    award = season["award"][0]
    assert award["begins"] < award["ends"] and 1 <= int(award["quarter_starts"]) <= 12
    for grower in season["growers"]:
        assert grower["region"] == award["region"], f"{grower['grower']}: another region"
        assert grower["grower"] != "unknown", "the grower unknown is built in"


def _check_covers_and_bundles(season):
    measured = set()
    for row in season["covers"]:
        size = [bool(row[column]) for column in ("length_ft", "width_ft", "layers")]
        assert all(size) or not any(size), f"{row['registration']}: size in part"
        if all(size):
            measured.add(row["registration"])
    numbers = [(row["registration"], row["number"]) for row in season["bundles"]]
    assert len(numbers) == len(set(numbers)), "a registration's number comes twice"
    for row in season["bundles"]:
        assert int(row["number"]) <= int(row["of"]), f"{row['bundle']}: number above of"
        assert row["estimate"] or row["registration"] in measured, f"{row['bundle']}: no estimate"


def _check_references(season):
    known = {kind: {next(iter(row.values())) for row in season[kind]} for kind in KINDS}
    known["growers"].add("unknown")
    uses = {
        "covers": {"grower": "growers", "site": "sites"}, "bundles": {"registration": "covers"},
        "receipts": {"site": "sites", "bundle": "bundles", "registration": "covers"},
        "hauls": {"from": "sites", "to": "sites", "bundle": "bundles"},
        "bales": {"site": "sites", "bundle": "bundles"},
        "rejects": {"bundle": "bundles", "bale": "bales"}, "shipments": {"bale": "bales"},
        "tickets": {"scale": "scales"}, "acceptances": {"shipment": "shipments"},
        "inkind": {"site": "sites"},
    }
    for kind, columns in uses.items():
        for row in season[kind]:
            for column, owner in columns.items():
                assert row[column] in known[owner] | {""}, f"{kind}.csv: {column} {row[column]}"
    subjects = {"bundle": "bundles", "bale": "bales", "load": "shipments"}
    for row in season["tickets"]:
        assert row["subject"] in known[subjects[row["weighs"]]], f"{row['ticket']}: subject"
    for row in season["rejects"]:
        assert bool(row["bundle"]) != bool(row["bale"]), f"{row['reject']}: bundle or bale"


def bundle_of(receipt, season):
    """The bundle that a receipt names, by its id or as its label is written."""
    if receipt["bundle"]:
        return receipt["bundle"]
    label = (receipt["registration"], receipt["number"])
    return next(row["bundle"] for row in season["bundles"]
                if (row["registration"], row["number"]) == label)


def _check_receipts(season):
    accepted = [bundle_of(row, season) for row in season["receipts"]
                if row["outcome"] == "accepted"]
    assert len(accepted) == len(set(accepted)), "a bundle is accepted twice"


def _check_bales_and_loads(season):
    pressed = [row["bundle"] for row in season["bales"]]
    assert len(pressed) == len(set(pressed)), "a bundle is in two bales"
    shipped = [row["bale"] for row in season["shipments"]]
    assert len(shipped) == len(set(shipped)), "a bale is in two shipments"


def _check_tickets(season):
    for row in season["tickets"]:
        if row["gross"] and row["tare"] and row["as_printed"] != "yes":
            difference = Decimal(row["gross"]) - Decimal(row["tare"])
            assert difference == Decimal(row["net"]), f"{row['ticket']}: gross - tare is not net"


def _check_money(season):
    if season["award"][0]["indirect_percent"]:
        assert all(row["category"] != "indirect" for row in season["costs"]), "indirect cost"
