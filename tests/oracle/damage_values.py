"""Broken rules of single values: dates, numbers, words, ids, empty fields."""

from functools import partial

from damage_copy import Place
from damage_format import some_row
from season import KINDS, columns_of, required_of

BAD_DATES = ("2026-02-30", "2026-13-01", "14/05/2026", "2026-5-4", "20260514", "2026-05-14T00:00",
             "2026-W20-4", " 2026-05-14", "2026-05-14 ", "today", "2026-05-00", "26-05-14")
BAD_NUMBERS = ("1,000.0", "1e3", "nan", "inf", "-5", " 5", "5 ", "1.2.3", "five", "5,5", "0x10",
               "１２", "$5", "1 000", "NaN", "5E-1", "--5", "-", ".")
BAD_AMOUNTS = tuple(text for text in BAD_NUMBERS if text != "-5")
BAD_WHOLES = ("1.5", "0", "-1", "one", "1e0", " 1")
BAD_TIMES = ("25:00", "8:00", "08:60", "noon", "08:00:00", "24:01", " 08:00")

DATES = {"award": "begins ends", "scales": "certified_on certified_until", "costs": "date paid_on",
         "rates": "begins", "settings": "from", "amendments": "ends"}
NUMBERS = {
    "award": "goal_tons match_percent indirect_percent", "sites": "capacity_lb",
    "scales": "capacity division", "covers": "length_ft width_ft rise_ft layers mil",
    "bundles": "estimate", "rejects": "weight", "tickets": "gross tare net",
    "acceptances": "weight", "budget": "grant match", "costs": "amount",
    "inkind": "quantity rate amount", "rates": "value", "obligations": "amount", "liquidations": "amount",
    "income": "amount", "requests": "indirect", "payments": "amount retained",
    "amendments": "goal_tons match_percent indirect_percent", "rebudgets": "grant match"}
WHOLES = {"award": "quarter_starts", "bundles": "number of"}
TIMES = {"sites": "opens closes"}
CENTS = {"budget": "grant match", "costs": "amount", "inkind": "amount",
         "obligations": "amount", "liquidations": "amount", "income": "amount", "requests": "indirect",
         "payments": "amount retained", "rebudgets": "grant match"}
WORDS = {
    "award": "unit match_base counted_when", "scales": "unit", "bundles": "unit",
    "receipts": "outcome", "rejects": "stage unit disposition",
    "tickets": "weighs unit entry as_printed", "acceptances": "unit", "budget": "category",
    "costs": "category fund", "inkind": "kind", "rates": "kind", "obligations": "category fund",
    "income": "kind method", "payments": "kind", "amendments": "match_base", "rebudgets": "category"}
IDS = {
    "award": "award", "sites": "site", "growers": "grower", "scales": "scale",
    "covers": "registration grower site cover", "bundles": "bundle registration",
    "receipts": "receipt site bundle registration", "hauls": "haul from to bundle",
    "bales": "bale site bundle", "rejects": "reject bundle bale", "shipments": "shipment bale",
    "tickets": "ticket scale subject", "acceptances": "shipment", "costs": "cost",
    "inkind": "inkind site", "rates": "rate", "obligations": "obligation",
    "liquidations": "liquidation obligation cost", "income": "income cost", "requests": "request cost",
    "payments": "payment request", "narrative": "part", "settings": "setting", "amendments": "amendment",
    "rebudgets": "amendment"}
REFERENCES = {
    "covers": "grower site", "bundles": "registration", "receipts": "site bundle registration",
    "hauls": "from to bundle", "bales": "site bundle", "rejects": "bundle bale",
    "shipments": "bale", "tickets": "scale subject", "acceptances": "shipment", "inkind": "site",
    "liquidations": "obligation cost", "income": "cost", "requests": "cost", "payments": "request",
    "rebudgets": "amendment"}


def filled_row(copy, random, kind, column):
    """The index of some row that fills a column, else of any row."""
    filled = [index for index, row in enumerate(copy.rows[kind]) if row.get(column)]
    return random.choice(filled) if filled else None


def set_bad(copy, random, kind, column, texts):
    """Sets a field to one of some bad texts; numbers that need company only where filled."""
    index = filled_row(copy, random, kind, column)
    if index is None and (kind, column) in ALONE:
        index = some_row(copy, random, kind)
    if index is None:
        return None
    copy.set(kind, index, column, random.choice(texts))
    return Place(kind, index, (column,))


# Optional columns that may be filled in a row where nothing else depends on them.
ALONE = {("scales", "certified_on"), ("scales", "certified_until"), ("costs", "paid_on"),
         ("sites", "capacity_lb"), ("sites", "opens"), ("sites", "closes"), ("covers", "mil"),
         ("award", "counted_when"), ("rejects", "disposition"), ("tickets", "as_printed"),
         ("inkind", "amount"), ("inkind", "site")}


def set_word(copy, random, kind, column):
    """Sets a field of few words to another, or to one of them misspelt or spaced."""
    index = filled_row(copy, random, kind, column)
    if index is None and (kind, column) in ALONE:
        index = some_row(copy, random, kind)
    if index is None:
        return None
    was = copy.value(kind, index, column) or "yes"
    copy.set(kind, index, column, random.choice(("perhaps", was + "x", was + " ", " " + was)))
    return Place(kind, index, (column,))


def set_empty(copy, random, kind, column):
    """Empties a required field."""
    index = some_row(copy, random, kind)
    if index is None:
        return None
    copy.set(kind, index, column, "")
    return Place(kind, index, (column,))


def set_space(copy, random, kind, column):
    """Puts a space before or after an id."""
    index = filled_row(copy, random, kind, column)
    if index is None:
        return None
    was = copy.value(kind, index, column)
    copy.set(kind, index, column, random.choice((" " + was, was + " ")))
    return Place(kind, index, (column,))


def set_undefined(copy, random, kind, column):
    """Sets a reference to an id that nothing defines, perhaps for its capitals only."""
    index = filled_row(copy, random, kind, column)
    if index is None:
        return None
    was = copy.value(kind, index, column)
    known = {row.get(name, "") for rows in copy.rows.values() for row in rows for name in row}
    swapped = was.swapcase()
    undefined = swapped if swapped not in known and random.random() < 0.4 else "nowhere-1"
    copy.set(kind, index, column, undefined)
    return Place(kind, index, (column,))


def each(columns):
    """Pairs of kind and column."""
    return [(kind, column) for kind, names in columns.items() for column in names.split()]


def date_columns():
    """Pairs of kind and column of all dates."""
    plain = [(kind, "date") for kind in KINDS if "date" in columns_of(kind) and kind != "costs"]
    return plain + each(DATES)


def bad_numbers(kind, column):
    """Bad texts of a number; a cost may be negative."""
    return BAD_AMOUNTS if (kind, column) == ("costs", "amount") else BAD_NUMBERS


def rules():
    """All rules of single values, by name."""
    found = {}
    for kind, column in date_columns():
        found[f"bad_date:{kind}.{column}"] = partial(
            set_bad, kind=kind, column=column, texts=BAD_DATES)
    for kind, column in each(NUMBERS):
        found[f"bad_number:{kind}.{column}"] = partial(
            set_bad, kind=kind, column=column, texts=bad_numbers(kind, column))
    for name, columns, texts in (("bad_whole_number", WHOLES, BAD_WHOLES),
                                 ("bad_time", TIMES, BAD_TIMES),
                                 ("three_decimals", CENTS, ("1.005", "12.341", "0.999"))):
        for kind, column in each(columns):
            found[f"{name}:{kind}.{column}"] = partial(
                set_bad, kind=kind, column=column, texts=texts)
    for name, columns, rule in (("bad_word", WORDS, set_word), ("space_round_id", IDS, set_space),
                                ("undefined_id", REFERENCES, set_undefined)):
        for kind, column in each(columns):
            found[f"{name}:{kind}.{column}"] = partial(rule, kind=kind, column=column)
    for kind in KINDS:
        for column in required_of(kind):
            found[f"required_empty:{kind}.{column}"] = partial(
                set_empty, kind=kind, column=column)
    return found
