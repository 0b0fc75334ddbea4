"""Broken rules of meaning: between the columns of a row, between rows, between files."""

from fractions import Fraction
from functools import partial

from award_terms import TERMS, Terms
from damage_copy import Place
from damage_format import some_row
from damage_values import filled_row
from exact import half_up
from line_of_life import cover_weight, grouped
from season import columns_of, read_value, values_of

SHARED = {"covers": ("date", "grower", "site"), "hauls": ("date", "from", "to", "driver"),
          "bales": ("date", "site"), "requests": ("date", "indirect", "document"),
          "shipments": ("date", "processor", "carrier", "bill_of_lading")}
KEYS = {"narrative": ("quarter", "part"), "covers": ("registration", "cover"), "hauls": ("haul", "bundle"),
        "bales": ("bale", "bundle"), "shipments": ("shipment", "bale")}
OTHER_TEXT = {  # a column that may change without breaking another rule
    "sites": "name", "growers": "name", "scales": "location", "covers": "film",
    "receipts": "received_by", "rejects": "reason", "tickets": "weigher",
    "acceptances": "document", "costs": "description", "inkind": "giver", "rates": "source",
    "obligations": "description", "liquidations": "amount", "income": "description", "payments": "document",
    "narrative": "text", "amendments": "description"}


def same_key(copy, random, kind):
    """The key of a row once more, with another value beside it."""
    index = some_row(copy, random, kind)
    if index is None or (kind == "receipts" and
                         copy.value(kind, index, "outcome") == "accepted"):
        return None
    column = OTHER_TEXT[kind]
    row = copy.rows[kind][index] | {column: copy.value(kind, index, column) + "x"}
    added = copy.add(kind, row)
    return Place(kind, added, KEYS.get(kind, (columns_of(kind)[0],)) + (column,))


def same_category(copy, random):
    """A budget's category twice, with other amounts."""
    index = some_row(copy, random, "budget")
    if index is None:
        return None
    row = copy.rows["budget"][index]
    added = copy.add("budget", row | {"grant": "123.45" if row["grant"] != "123.45" else "1"})
    return Place("budget", added, ("category", "grant"))


def same_label(copy, random):
    """A bundle with the registration and number of another."""
    index = some_row(copy, random, "bundles")
    if index is None:
        return None
    added = copy.add("bundles", copy.rows["bundles"][index] | {
        "bundle": "another-1", "estimate": "0.01", "unit": "lb"})
    return Place("bundles", added, ("number", "registration"))


def same_bundle(copy, random):
    """A bundle's id in two registrations."""
    index = some_row(copy, random, "bundles")
    own = [row for row in copy.rows["bundles"]
           if row["registration"] != copy.value("bundles", index, "registration")
           and row["number"] != row["of"]]
    taken = {(row["registration"], row["number"]) for row in copy.rows["bundles"]}
    for row in own:
        if (row["registration"], row["of"]) not in taken:
            added = copy.add("bundles", row | {
                "bundle": copy.value("bundles", index, "bundle"), "number": row["of"],
                "estimate": "0.01", "unit": "lb"})
            return Place("bundles", added, ("bundle",))
    return None


def disagree(copy, random, kind, column):
    """A later row of a record with another value in a shared column."""
    name = columns_of(kind)[0]
    firsts, later = {}, []
    for index, row in enumerate(copy.rows[kind]):
        if firsts.setdefault(row[name], index) != index:
            later.append(index)
    if not later:
        return None
    index = random.choice(later)
    was = copy.value(kind, index, column)
    others = {"date": ("2026-05-14", "2026-05-15"), "processor": ("Fen", "Other Fen"),
              "driver": ("Ann", "Bea"), "carrier": ("A", "B"), "bill_of_lading": ("1", "2"),
              "indirect": ("12.34", "43.21"), "document": ("1", "2")}
    defined = {"grower": "grower", "site": "site", "from": "site", "to": "site"}
    if column in defined:
        ids = [row[defined[column]] for row in copy.rows[defined[column] + "s"]]
        others[column] = [text for text in ids
                          if text not in (was, row_value(copy, kind, index, column))]
    choices = [text for text in others[column] if text != was]
    if not choices:
        return None
    copy.set(kind, index, column, choices[0])
    return Place(kind, index, (column,))


def row_value(copy, kind, index, column):
    """For a haul's `from` its `to` and the other way round: they should differ."""
    other = {"from": "to", "to": "from"}.get(column)
    return copy.value(kind, index, other) if other else None


def second_acceptance(copy, random, by_label):
    """A bundle accepted twice, the second time by its id or by its label."""
    accepted = [row for row in copy.rows["receipts"] if row["outcome"] == "accepted"]
    bundles = {(row["registration"], row["number"]): row for row in copy.rows["bundles"]}
    by_id = {row["bundle"]: row for row in copy.rows["bundles"]}
    if not accepted:
        return None
    row = random.choice(accepted)
    bundle = (by_id[row["bundle"]] if row.get("bundle")
              else bundles[row["registration"], row["number"]])
    named = ({"registration": bundle["registration"], "number": bundle["number"], "bundle": ""}
             if by_label else {"registration": "", "number": "", "bundle": bundle["bundle"]})
    added = copy.add("receipts", row | named | {"receipt": "another-1"})
    columns = ("registration", "number") if by_label else ("bundle",)
    return Place("receipts", added, columns + ("outcome", "bundle"))


def in_two(copy, random, kind, column):
    """A bundle in two bales, or a bale in two shipments."""
    index = some_row(copy, random, kind)
    name = columns_of(kind)[0]
    others = [row for row in copy.rows[kind]
              if index is not None and row[name] != copy.value(kind, index, name)]
    if not others:
        return None
    added = copy.add(kind, random.choice(others) | {column: copy.value(kind, index, column)})
    return Place(kind, added, (column,))


def of_disagrees(copy, random):
    """A later bundle of a registration with another `of`."""
    firsts, later = {}, []
    for index, row in enumerate(copy.rows["bundles"]):
        if firsts.setdefault(row["registration"], index) != index:
            later.append(index)
    if not later:
        return None
    index = random.choice(later)
    copy.set("bundles", index, "of", str(int(copy.value("bundles", index, "of")) + 1))
    return Place("bundles", index, ("of",))


def number_past_of(copy, random):
    """A bundle whose number is more than its `of`."""
    index = some_row(copy, random, "bundles")
    copy.set("bundles", index, "number", str(int(copy.value("bundles", index, "of")) + 1))
    return Place("bundles", index, ("number", "of"))


def without(copy, random, kind, filled, emptied):
    """Of two columns that come together, one alone."""
    index = filled_row(copy, random, kind, filled)
    if index is None:
        return None
    copy.set(kind, index, emptied, "")
    return Place(kind, index, (emptied, filled))


def net_is_not(copy, random, as_printed):
    """gross - tare other than net, and as_printed not yes."""
    index = some_row(copy, random, "tickets")
    if index is None:
        return None
    net = copy.value("tickets", index, "net")
    copy.set("tickets", index, "gross", str(int(Fraction(net)) + 100))
    copy.set("tickets", index, "tare", "50.00001")
    copy.set("tickets", index, "as_printed", as_printed)
    return Place("tickets", index, ("net", "gross", "tare", "as_printed"))


def accepted_is_not(copy, random):
    """received - rejected other than the weight accepted."""
    index = some_row(copy, random, "acceptances")
    if index is None:
        return None
    weight = Fraction(copy.value("acceptances", index, "weight"))
    copy.set("acceptances", index, "received", str(int(weight) + 100))
    copy.set("acceptances", index, "rejected", "50.00001")
    return Place("acceptances", index, ("weight", "received", "rejected"))


def net_nothing(copy, random):
    """A net of 0, with gross and tare alike."""
    index = some_row(copy, random, "tickets")
    if index is None:
        return None
    for column in ("gross", "tare"):
        copy.set("tickets", index, column, "")
    copy.set("tickets", index, "net", random.choice(("0", "0.0", "0.000")))
    return Place("tickets", index, ("net",))


def subject_of_another(copy, random):
    """A ticket whose subject is defined, but as another kind of thing."""
    index = some_row(copy, random, "tickets")
    if index is None or not copy.rows["shipments"]:
        return None
    bundle = copy.rows["bundles"][0]["bundle"]
    taken = {row["bale"] for row in copy.rows["bales"]} | {
        row["shipment"] for row in copy.rows["shipments"]}
    if bundle in taken:
        return None
    copy.set("tickets", index, "weighs", random.choice(("bale", "load")))
    copy.set("tickets", index, "subject", bundle)
    return Place("tickets", index, ("subject", "weighs"))


def other_region(copy, random):
    """A grower of another region than the award's."""
    index = some_row(copy, random, "growers")
    if index is None:
        return None
    copy.set("growers", index, "region", copy.value("award", 0, "region") + "x")
    return Place("growers", index, ("region",))


def indirect_with_percent(copy, random):
    """A cost of category indirect although the award sets a percent."""
    percent = copy.value("award", 0, "indirect_percent")
    index = some_row(copy, random, "costs")
    if index is None or not percent or Fraction(percent) == 0:
        return None
    copy.set("costs", index, "category", "indirect")
    return Place("costs", index, ("category",))


def size_in_part(copy, random, column):
    """A cover with two of length, width and layers."""
    index = filled_row(copy, random, "covers", "length_ft")
    if index is None:
        return None
    for name in ("rise_ft", column):
        copy.set("covers", index, name, "")
    return Place("covers", index, (column, "length_ft", "width_ft", "layers"))


def rise_nothing(copy, random):
    """A rise of 0."""
    index = filled_row(copy, random, "covers", "length_ft")
    if index is None:
        return None
    copy.set("covers", index, "rise_ft", random.choice(("0", "0.0")))
    return Place("covers", index, ("rise_ft",))


def shared_registrations(copy):
    """Registrations with both own and worked-out estimates, and what is worked out."""
    columns = ("date", "structure", "length_ft", "width_ft", "rise_ft", "layers", "mil")
    terms = Terms({kind: values_of(kind, copy.rows[kind]) for kind in TERMS})
    unit = copy.value("award", 0, "unit")
    covers = grouped(copy.rows["covers"], "registration")
    for registration, rows in grouped(copy.rows["bundles"], "registration").items():
        if len(rows) > 1 and not all(row.get("estimate") for row in rows):
            parsed = [{column: read_value(column, cover.get(column, "")) for column in columns}
                      for cover in covers[registration]]
            weight = half_up(sum(cover_weight(cover, unit, terms) for cover in parsed) * 1000)
            yield registration, weight, unit


def nothing_left(copy, random, extra):
    """Own estimates that leave nothing, or less, for the bundles without one."""
    found = list(shared_registrations(copy))
    if not found:
        return None
    registration, weight, unit = random.choice(found)
    rows = [row for row in copy.rows["bundles"] if row["registration"] == registration]
    index = copy.rows["bundles"].index(rows[0])
    for row in rows[1:]:
        if row.get("estimate"):
            copy.set("bundles", copy.rows["bundles"].index(row), "estimate", "")
            copy.set("bundles", copy.rows["bundles"].index(row), "unit", "")
    weight += extra
    copy.set("bundles", index, "estimate", f"{weight // 1000}.{weight % 1000:03d}")
    copy.set("bundles", index, "unit", unit)
    return Place("bundles", None, ("estimate",))


def no_size(copy, random):
    """Bundles without an estimate of their own whose covers have no size."""
    names = [row["registration"] for row in copy.rows["bundles"] if not row.get("estimate")]
    if not names:
        return None
    name = random.choice(names)
    for index, row in enumerate(copy.rows["covers"]):
        if row["registration"] == name:
            for column in ("length_ft", "width_ft", "rise_ft", "layers"):
                copy.set("covers", index, column, "")
    return Place("bundles", None, ("estimate",))


def receipt_names(copy, random, how):
    """A receipt that names nothing, half a label, or two bundles."""
    index = some_row(copy, random, "receipts")
    rows = copy.rows["bundles"]
    if index is None or len(rows) < 2:
        return None
    first, second = random.sample(rows, 2)
    columns = {"nothing": {}, "registration_alone": {"registration": first["registration"]},
               "number_alone": {"number": first["number"]},
               "two_bundles": {"bundle": first["bundle"], "registration": second["registration"],
                               "number": second["number"]},
               "missing_number": {"registration": first["registration"], "number": "9999"}}[how]
    for column in ("bundle", "registration", "number"):
        copy.set("receipts", index, column, columns.get(column, ""))
    copy.set("receipts", index, "outcome", "held")
    return Place("receipts", index, ("bundle", "number", "registration"))


def reject_names(copy, random, both):
    """A reject that names neither bundle nor bale, or both."""
    index = some_row(copy, random, "rejects")
    if index is None or not copy.rows["bales"]:
        return None
    bale = copy.rows["bales"][0]
    for column in ("bundle", "bale"):
        copy.set("rejects", index, column, bale[column] if both else "")
    return Place("rejects", index, ("bundle", "bale"))


def award_rows(copy, _random, count):
    """An award file with no row, or with two."""
    rows = copy.rows["award"]
    copy.rows["award"] = [] if count == 0 else rows + [rows[0] | {"award": "another-1"}]
    return Place("award", None if count == 0 else 1, ("award",) if count else ())


def quarter_start(copy, random):
    """A program year that begins in no month."""
    copy.set("award", 0, "quarter_starts", random.choice(("0", "13")))
    return Place("award", 0, ("quarter_starts",))


def past_obligation(copy, random):
    """More paid or let go of an obligation than it has."""
    index = some_row(copy, random, "liquidations")
    if index is None:
        return None
    of = {row["obligation"]: row["amount"] for row in copy.rows["obligations"]}
    more = Fraction(of[copy.value("liquidations", index, "obligation")]) + 1
    copy.set("liquidations", index, "amount", str(more.__ceil__()))
    same = [other for other, row in enumerate(copy.rows["liquidations"])
            if row["obligation"] == copy.value("liquidations", index, "obligation")]
    return Place("liquidations", index if len(same) == 1 else None, ("amount",))


def claimed_twice(copy, random):
    """A cost in two requests."""
    index = some_row(copy, random, "requests")
    if index is None:
        return None
    row = copy.rows["requests"][index]
    return Place("requests", copy.add("requests", row | {"request": "another-1"}), ("cost",))


def claimed_of_match(copy, random):
    """A cost on match in a request."""
    costs = [row["cost"] for row in copy.rows["costs"] if row["fund"] == "match"]
    index = some_row(copy, random, "requests")
    if index is None or not costs:
        return None
    copy.set("requests", index, "cost", random.choice(costs))
    return Place("requests", index, ("cost",))


def other_fund(copy, random):
    """A liquidation by a cost of the other fund than the obligation's."""
    index = some_row(copy, random, "liquidations")
    if index is None:
        return None
    funds = {row["obligation"]: row["fund"] for row in copy.rows["obligations"]}
    costs = [row["cost"] for row in copy.rows["costs"]
             if row["fund"] != funds[copy.value("liquidations", index, "obligation")]]
    if not costs:
        return None
    copy.set("liquidations", index, "cost", random.choice(costs))
    return Place("liquidations", index, ("cost",))


def of_kind(copy, random, kind, column, words):
    """The index of some row whose column holds one of some words."""
    found = [index for index, row in enumerate(copy.rows[kind]) if row[column] in words]
    return random.choice(found) if found else None


def earned_with_cost(copy, random):
    """Income earned that names a cost it was spent on."""
    index = of_kind(copy, random, "income", "kind", ("earned",))
    if index is None or not copy.rows["costs"]:
        return None
    copy.set("income", index, "cost", copy.rows["costs"][0]["cost"])
    return Place("income", index, ("cost", "kind"))


def payment_columns(copy, random, kinds, column, text):
    """A payment with a column that its kind has not, or without one that it must have."""
    index = of_kind(copy, random, "payments", "kind", kinds)
    if index is None or not copy.rows["requests"]:
        return None
    copy.set("payments", index, column, text or copy.rows["requests"][0]["request"])
    return Place("payments", index, (column, "kind"))


def reimbursement_of_nothing(copy, random):
    """A reimbursement that names no request."""
    index = of_kind(copy, random, "payments", "kind", ("reimbursement",))
    if index is None:
        return None
    copy.set("payments", index, "request", "")
    return Place("payments", index, ("request",))


def unheard_setting(copy, random):
    """A setting that the program does not have."""
    index = some_row(copy, random, "settings")
    if index is None:
        return None
    copy.set("settings", index, "setting", "weight_of_hope")
    return Place("settings", index, ("setting",))


def no_quarter(copy, random, text):
    """A paragraph for what is no quarter."""
    index = some_row(copy, random, "narrative")
    if index is None:
        return None
    copy.set("narrative", index, "quarter", text)
    return Place("narrative", index, ("quarter",))


def rules_of_the_agency():
    """Rules of what passes between program and agency, by name."""
    return {
        "past_obligation": past_obligation, "claimed_twice": claimed_twice, "claimed_of_match": claimed_of_match,
        "other_fund": other_fund, "earned_with_cost": earned_with_cost,
        "reimbursement_of_nothing": reimbursement_of_nothing, "unheard_setting": unheard_setting,
        "advance_of_request": partial(payment_columns, kinds=("advance", "retainage"), column="request", text=""),
        "advance_retained": partial(payment_columns, kinds=("advance", "retainage"), column="retained", text="5"),
        "no_quarter:month": partial(no_quarter, text="2026-07"), "no_quarter:fifth": partial(no_quarter, text="2026-Q5"),
    }


def rules():
    """All rules of meaning, by name."""
    found = {f"same_key_other_values:{kind}": partial(same_key, kind=kind) for kind in OTHER_TEXT}
    for kind, columns in SHARED.items():
        for column in columns:
            found[f"shared_column_disagrees:{kind}.{column}"] = partial(
                disagree, kind=kind, column=column)
    for how in ("nothing", "registration_alone", "number_alone", "two_bundles",
                "missing_number"):
        found[f"receipt_names:{how}"] = partial(receipt_names, how=how)
    for column in ("length_ft", "width_ft", "layers"):
        found[f"size_in_part:{column}"] = partial(size_in_part, column=column)
    for kind, filled, emptied in (("bundles", "estimate", "unit"), ("bundles", "unit", "estimate"),
                                  ("rejects", "weight", "unit"), ("rejects", "unit", "weight")):
        found[f"{filled}_without_{emptied}:{kind}"] = partial(
            without, kind=kind, filled=filled, emptied=emptied)
    return found | rules_of_the_agency() | {
        "same_category_other_amounts": same_category, "same_label": same_label,
        "same_bundle": same_bundle,
        "second_acceptance:by_id": partial(second_acceptance, by_label=False),
        "second_acceptance:by_label": partial(second_acceptance, by_label=True),
        "bundle_in_two_bales": partial(in_two, kind="bales", column="bundle"),
        "bale_in_two_shipments": partial(in_two, kind="shipments", column="bale"),
        "of_disagrees": of_disagrees, "number_past_of": number_past_of,
        "net_is_not_gross_less_tare": partial(net_is_not, as_printed=""),
        "accepted_is_not_received_less_rejected": accepted_is_not,
        "net_nothing": net_nothing, "subject_of_another_kind": subject_of_another,
        "other_region": other_region, "indirect_with_percent": indirect_with_percent,
        "rise_nothing": rise_nothing, "nothing_left": partial(nothing_left, extra=0),
        "less_than_nothing_left": partial(nothing_left, extra=1500), "no_size": no_size,
        "reject_names:nothing": partial(reject_names, both=False),
        "reject_names:both": partial(reject_names, both=True),
        "award_without_row": partial(award_rows, count=0),
        "award_with_two_rows": partial(award_rows, count=2), "quarter_start": quarter_start,
    }
