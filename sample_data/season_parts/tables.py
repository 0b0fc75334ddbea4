"""The sixteen files of the interchange: their columns, and a plain CSV writer."""
import csv

# A column whose name ends in ! is required and may not be empty.
_TABLES = {
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
    "acceptances": "shipment! date! weight! unit! document",
    "budget": "category! grant! match!",
    "costs": "cost! date! category! description! payee amount! fund! source subaward paid_on"
             " document",
    "inkind": "inkind! date! kind! giver! site source quantity! rate! amount document",
}

KINDS = list(_TABLES)
COLUMNS = {kind: [c.rstrip("!") for c in text.split()] for kind, text in _TABLES.items()}
REQUIRED = {kind: [c[:-1] for c in text.split() if c.endswith("!")]
            for kind, text in _TABLES.items()}


def numbered(rows, column, prefix, digits):
    """Gives each row its id, in order of date; rows of one date keep their order."""
    ordered = sorted(rows, key=lambda row: row["date"])
    for count, row in enumerate(ordered, start=1):
        row[column] = f"{prefix}{count:0{digits}d}"
    return ordered


def write_season(folder, season):
    """Writes every file; a missing cell is empty, an unknown column is a mistake."""
    folder.mkdir(parents=True, exist_ok=True)
    for kind in KINDS:
        with open(folder / f"{kind}.csv", "w", encoding="utf-8", newline="") as out:
            writer = csv.DictWriter(out, COLUMNS[kind], restval="", lineterminator="\n")
            writer.writeheader()
            writer.writerows(season[kind])


def read_season(folder):
    """Reads the files back as lists of rows, each with all its columns."""
    season = {}
    for kind in KINDS:
        with open(folder / f"{kind}.csv", encoding="utf-8", newline="") as lines:
            reader = csv.DictReader(lines, strict=True)
            assert reader.fieldnames == COLUMNS[kind], f"{kind}.csv: columns"
            season[kind] = list(reader)
    return season
