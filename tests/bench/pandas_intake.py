"""What reading and checking a season costs with pandas: pandas_intake.py FOLDER. Keys stand once, ids that are named are
defined, dates are dates, numbers are numbers above 0; nothing is kept."""
import os
import sys

import pandas

KEYS = {"award": ["award"], "sites": ["site"], "growers": ["grower"], "scales": ["scale"],
        "covers": ["registration", "cover"], "bundles": ["bundle"], "receipts": ["receipt"], "bales": ["bale", "bundle"],
        "tickets": ["ticket"], "shipments": ["shipment", "bale"], "costs": ["cost"]}
NAMES = {"grower": "growers", "site": "sites", "registration": "covers", "bundle": "bundles", "bale": "bales",
         "scale": "scales"}
NUMBERS = ["length_ft", "width_ft", "rise_ft", "layers", "mil", "number", "of", "gross", "net", "amount"]


def main(folder):
    tables = {name: pandas.read_csv(os.path.join(folder, name + ".csv"), dtype=str, keep_default_na=False) for name in KEYS}
    for name, table in tables.items():
        assert not table.duplicated(KEYS[name]).any(), name
        for column, of in NAMES.items():
            if column in table and of != name:
                given = table[column][table[column] != ""]
                assert given.isin(tables[of][column]).all(), (name, column)
        if "date" in table:
            pandas.to_datetime(table["date"], format="%Y-%m-%d")
        for column in NUMBERS:
            if column in table:
                assert (pandas.to_numeric(table[column][table[column] != ""]) > 0).all() or column == "amount", (name, column)


main(sys.argv[1])
