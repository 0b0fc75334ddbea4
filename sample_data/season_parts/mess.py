"""The season's honest mess: where each kind stands, and a check that it truly stands there.

All of it is valid: taken in, some of it flagged, none of it refused.
"""
from decimal import Decimal

from . import places

# what, and the ids of the rows or bundles that show it
MESS = {
    "kg ticket":
        "T0006 T0007 T0012 T0022 T0029 T0031 T0032 T0038 T0039 T0044 T0047 T0050 T0051 T0055"
        " T0056",
    "refused at a site": "R048-3 R060-2 R075-2 R086-3 R093-3 R113-1",
    "refused wet, came back dry": "R029-1 R058-2",
    "held, then accepted": "R013-6 R024-2 R053-3 R071-1",
    "held still": "R008-3",
    "rejected at the site after receipt": "J001 J003",
    "rejected at the baler, unpressed": "J002 J005 J010 J011",
    "pulled from a bale before its weighing": "J012",
    "weight rejected out of a weighed bale at the baler": "J004 J006",
    "weight rejected by a processor": "J007 J008 J009",
    "whole bundle rejected by a processor": "J013",
    "net wrong as printed": "T0004",
    "net off the scale's divisions": "T0026",
    "scale certificate lapsed 2026-06-30": "T0040 T0048 T0049 T0053",
    "bale weighed again": "T0019 T0020",
    "load ticket over bales all weighed": "T0041",
    "load ticket over bales without their own": "T0058",
    "bale not yet weighed": "B044",
    "pressed, its receipt lost": "R028-4",
    "hauled, never came off": "R046-2",
    "never received": "R023-3 R062-3 R069-1 R074-2 R115-2 R118-2 R125-2",
    "registration with a number missing": "R016",
    "found without a label": "FOUND-1",
    "own estimate": "R040-3 R042-3 R043-3 R050-3 R142-1 R142-2 FOUND-1",
    "came to another site": "R027-1 R027-2 R027-3 R081-1 R081-2 R081-3",
    "cover nobody measured": "R142",
    "cost dated before the award": "C001",
    "credit": "C030",
    "subaward": "C022 C048",
    "load not yet accepted": "SH06",
    "name with accents": "G003",
    "name with a comma": "G006",
    "name with quotes": "G005",
    "name with a leading equals sign": "G033",
}


def check_mess(season):
    """Every id that MESS names shows what it says, and no other row does."""
    found = {**_found_in_receipts(season), **_found_in_rejects(season), **_found_in_bales(season),
             **_found_in_tickets(season), **_found_in_registrations(season),
             **_found_in_money_and_names(season)}
    assert found.keys() == MESS.keys(), f"only on one side: {found.keys() ^ MESS.keys()}"
    for what, ids in MESS.items():
        assert found[what] == ids.split(), f"{what}: {' '.join(found[what])}, not {ids}"


def _bundle_of(receipt, season):
    """The bundle that a receipt names, by its id or as its label is written."""
    if receipt["bundle"]:
        return receipt["bundle"]
    label = (receipt["registration"], receipt["number"])
    return next(row["bundle"] for row in season["bundles"]
                if (row["registration"], row["number"]) == label)


def _ids(rows, column):
    return [row[column] for row in rows]


def _outcomes(season):
    """Each received bundle's outcomes, in order of the bundles' file."""
    outcomes = {row["bundle"]: [] for row in season["bundles"]}
    for row in season["receipts"]:
        outcomes[_bundle_of(row, season)].append(row["outcome"])
    return outcomes


def _found_in_receipts(season):
    outcomes = _outcomes(season)
    pressed = {row["bundle"] for row in season["bales"]}
    # what was hauled in September may still wait at its hub to be pressed
    hauled = {row["bundle"] for row in season["hauls"] if row["date"] < "2026-09-01"}
    thrown_out = {row["bundle"] for row in season["rejects"]}
    home = {row["registration"]: row["site"] for row in season["covers"]}
    owner = {row["bundle"]: row["registration"] for row in season["bundles"]}

    def came_as(*wanted):
        return [bundle for bundle, got in outcomes.items() if got == list(wanted)]
    elsewhere = {_bundle_of(row, season) for row in season["receipts"]
                 if row["site"] != home[owner[_bundle_of(row, season)]]}
    return {
        "refused at a site": came_as("rejected"), "held still": came_as("held"),
        "refused wet, came back dry": came_as("rejected", "accepted"),
        "held, then accepted": came_as("held", "accepted"),
        "pressed, its receipt lost": [b for b in came_as() if b in pressed],
        "never received": [b for b in came_as() if b not in pressed],
        "hauled, never came off": [
            b for b in outcomes if b in hauled and b not in pressed and b not in thrown_out],
        "came to another site": [b for b in outcomes if b in elsewhere],
    }


def _found_in_rejects(season):
    pressed = {row["bundle"] for row in season["bales"]}

    def rejects(stage, wanted):
        return _ids([r for r in season["rejects"] if r["stage"] == stage and wanted(r)], "reject")
    return {
        "rejected at the site after receipt": rejects("site", lambda row: row["bundle"]),
        "rejected at the baler, unpressed": rejects(
            "baler", lambda row: row["bundle"] and row["bundle"] not in pressed),
        "pulled from a bale before its weighing": rejects(
            "baler", lambda row: row["bundle"] in pressed),
        "weight rejected out of a weighed bale at the baler": rejects(
            "baler", lambda row: row["bale"] and row["weight"]),
        "weight rejected by a processor": rejects("processor", lambda row: row["weight"]),
        "whole bundle rejected by a processor": rejects("processor", lambda row: row["bundle"]),
    }


def _weighed(season):
    return {row["subject"] for row in season["tickets"] if row["weighs"] == "bale"}


def _found_in_bales(season):
    weighed, loaded = _weighed(season), {row["bale"] for row in season["shipments"]}
    accepted = {row["shipment"] for row in season["acceptances"]}
    bales = dict.fromkeys(_ids(season["bales"], "bale"))
    return {
        "bale not yet weighed": [b for b in bales if b not in weighed and b not in loaded],
        "load not yet accepted": [s for s in dict.fromkeys(_ids(season["shipments"], "shipment"))
                                  if s not in accepted],
    }


def _found_in_tickets(season):
    scales, seen, again = {row["scale"]: row for row in season["scales"]}, set(), []
    for row in season["tickets"]:
        again += [row["ticket"]] if row["subject"] in seen else []
        seen.add(row["subject"])

    def tickets(wanted):
        return _ids([row for row in season["tickets"] if wanted(row)], "ticket")

    def loads_unweighed(row):
        return any(load["bale"] not in _weighed(season) for load in season["shipments"]
                   if load["shipment"] == row["subject"])
    assert len(tickets(lambda row: row["weighs"] == "bundle")) == 15
    return {
        "kg ticket": tickets(lambda row: row["unit"] == "kg"),
        "net wrong as printed": tickets(lambda row: row["as_printed"]),
        "net off the scale's divisions": tickets(
            lambda row: Decimal(row["net"]) % Decimal(scales[row["scale"]]["division"])),
        "scale certificate lapsed 2026-06-30": tickets(
            lambda row: row["date"] > scales[row["scale"]]["certified_until"]),
        "bale weighed again": again,
        "load ticket over bales all weighed": tickets(
            lambda row: row["weighs"] == "load" and not loads_unweighed(row)),
        "load ticket over bales without their own": tickets(
            lambda row: row["weighs"] == "load" and loads_unweighed(row)),
    }


def _found_in_registrations(season):
    present, labelled = {}, {}
    for row in season["bundles"]:
        present[row["registration"]] = present.get(row["registration"], 0) + 1
        labelled[row["registration"]] = int(row["of"])
    unknown = {row["registration"] for row in season["covers"] if row["grower"] == "unknown"}
    return {
        "registration with a number missing": [r for r in present if present[r] < labelled[r]],
        "found without a label": _ids(
            [row for row in season["bundles"] if row["registration"] in unknown], "bundle"),
        "own estimate": _ids([row for row in season["bundles"] if row["estimate"]], "bundle"),
        "cover nobody measured": _ids([row for row in season["covers"] if not row["length_ft"]
                                       and row["registration"] not in unknown], "registration"),
    }


def _found_in_money_and_names(season):
    def costs(wanted):
        return _ids([row for row in season["costs"] if wanted(row)], "cost")

    def first_grower(wanted):
        return next([row["grower"]] for row in season["growers"]
                    if wanted(row["name"]) or wanted(row["farm"]))
    assert season["sites"][5]["host"].count('"') == 2 and places.REGION == "KB"
    begins = season["award"][0]["begins"]
    return {
        "cost dated before the award": costs(lambda row: row["date"] < begins),
        "credit": costs(lambda row: row["amount"].startswith("-")),
        "subaward": costs(lambda row: row["subaward"]),
        "name with accents": first_grower(lambda name: not name.isascii()),
        "name with a comma": first_grower(lambda name: "," in name),
        "name with quotes": first_grower(lambda name: '"' in name),
        "name with a leading equals sign": first_grower(lambda name: name.startswith("=")),
    }
