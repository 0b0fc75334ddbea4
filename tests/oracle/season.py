"""The season folder: its files, their columns, and reading them.

A season that is read here is taken to be valid.
"""

import csv
import datetime
from fractions import Fraction
from pathlib import Path

# In the order of intake; the columns marked ! are required and not empty.
COLUMNS = {
    "award": "award! agency! program! region! begins! ends! goal_tons! quarter_starts! unit!"
             " match_percent match_base indirect_percent counted_when",
    "sites": "site! name! town host opens closes capacity_lb",
    "growers": "grower! name! farm town region! email phone",
    "scales": "scale! location class! capacity! division! unit! certified_on certified_until",
    "covers": "registration! date! grower! site! cover! structure length_ft width_ft rise_ft"
              " layers film mil",
    "bundles": "bundle! registration! number! of! estimate unit",
    "receipts": "receipt! date! site! bundle registration number outcome! reason disposition"
                " received_by",
    "hauls": "haul! date! from! to! bundle! driver",
    "bales": "bale! date! site! bundle!",
    "rejects": "reject! date! stage! bundle bale weight unit reason! disposition document",
    "shipments": "shipment! date! processor! bale! carrier bill_of_lading",
    "tickets": "ticket! date! scale! weighs! subject! gross tare net! unit! weigher entry!"
               " as_printed document",
    "acceptances": "shipment! date! weight! unit! document received rejected",
    "budget": "category! grant! match!",
    "costs": "cost! date! category! description! payee amount! fund! source subaward paid_on"
             " document base purpose site",
    "inkind": "inkind! date! kind! giver! site source quantity! rate! amount document category purpose",
    "rates": "rate! kind! what begins! value! source!",
    "obligations": "obligation! date! category! description! payee amount! fund! document",
    "liquidations": "liquidation! date! obligation! amount! cost",
    "income": "income! date! kind! method! description! party amount! cost document",
    "requests": "request! date! cost! indirect document",
    "payments": "payment! date! kind! amount! request retained document",
    "narrative": "quarter! part! text!",
    "settings": "setting! from value!",
    "amendments": "amendment! date! ends goal_tons match_percent match_base indirect_percent"
                  " description! document",
    "rebudgets": "amendment! category! grant! match!",
}
KINDS = tuple(COLUMNS)
APART = ("settings", "amendments", "rebudgets")  # taken in by themselves, after the season
DATED = tuple(kind for kind in KINDS if "date!" in COLUMNS[kind].split())

DATES = {"date", "begins", "ends", "paid_on"}
NUMBERS = {"goal_tons", "match_percent", "indirect_percent", "length_ft", "width_ft", "rise_ft",
           "layers", "mil", "estimate", "weight", "net", "grant", "match", "amount", "quantity",
           "rate", "indirect", "retained", "received", "rejected"}
WHOLES = {"quarter_starts", "number", "of"}


def columns_of(kind):
    """All columns of a kind of file, in the table's order."""
    return [column.rstrip("!") for column in COLUMNS[kind].split()]


def required_of(kind):
    """The columns of a kind of file that are required and not empty."""
    return [column[:-1] for column in COLUMNS[kind].split() if column.endswith("!")]


def read_value(column, text):
    """A field as its value; None where it is empty."""
    if text == "":
        return None
    if column in DATES:
        return datetime.date.fromisoformat(text)
    if column in NUMBERS:
        return Fraction(text)
    if column in WHOLES:
        return int(Fraction(text))
    return text


def read_setting(column, text):
    """A field of settings.csv: the day from which it holds, else text."""
    return datetime.date.fromisoformat(text) if column == "from" and text else text or None


# The rate of rates.csv is an id.
TEXT_OF = {"settings": read_setting, "rates": lambda column, text: text or None}


def read_text_rows(path):
    """The rows of one CSV file as lists of text, the header first."""
    with open(path, encoding="utf-8-sig", newline="") as stream:
        return list(csv.reader(stream, strict=True))


def values_of(kind, rows):
    """Rows of text as records with all columns of their kind."""
    read = TEXT_OF.get(kind, read_value)
    return [{column: read(column, row.get(column, "")) for column in columns_of(kind)} for row in rows]


def read_kind(folder, kind):
    """The records of one kind; a file that is not there has none."""
    path = Path(folder) / f"{kind}.csv"
    if not path.exists():
        return []
    header, *rows = read_text_rows(path)
    return values_of(kind, [dict(zip(header, row)) for row in rows])


def read_season(folder):
    """All records of a season folder, by kind, in the order of entry."""
    return {kind: read_kind(folder, kind) for kind in KINDS}
