"""The award, its budget, and what the season cost: paid, and given in kind."""
from decimal import ROUND_HALF_UP, Decimal

AWARD = {
    "award": "KB-26-014", "agency": "Basin Environmental Agency",
    "program": "Kestrel Basin farm film collection", "region": "KB", "begins": "2026-04-01",
    "ends": "2027-06-30", "goal_tons": "13", "quarter_starts": "1", "unit": "lb",
    "match_percent": "25", "match_base": "total", "indirect_percent": "10",
    "counted_when": "weighed",
}

# category, grant, match: the match is a quarter of the whole
_BUDGET = [
    ("personnel", "10200.00", "1700.00"), ("fringe", "1785.00", "297.50"),
    ("travel", "1750.00", "2400.00"), ("equipment", "1200.00", "0.00"),
    ("supplies", "1900.00", "900.00"), ("contractual", "11400.00", "0.00"),
    ("other", "1240.00", "5470.00"), ("indirect", "2827.50", "0.00"),
]

_MONTH_ENDS = {"April": "2026-04-30", "May": "2026-05-29", "June": "2026-06-30",
               "July": "2026-07-31", "August": "2026-08-31", "September": "2026-09-30"}
_EXCHANGE = "Saltlick Ferry Growers' Exchange"
_FRINGE = Decimal("0.175")
_MILE = Decimal("0.725")             # business mileage, 2026
_VOLUNTEER_HOUR = "36.14"            # national value of a volunteer hour, data year 2025

# coordinator's hours on the grant, agency crew's hours on match, coordinator's miles
_MONTHS = {"April": (40, 4, 152), "May": (46, 6, 261), "June": (44, 4, 274),
           "July": (32, 4, 188), "August": (30, 5, 179), "September": (38, 3, 232)}
_COORDINATOR_RATE, _CREW_RATE = Decimal("25.50"), Decimal("28.40")

# date, category, description, payee, amount, fund, source, subaward, paid on, document
_BILLS = [
    ("2026-03-24", "supplies", "bundle labels, printed before the award", "Tansy Bend Print Shop",
     "184.50", "grant", "", "", "2026-04-02", "inv 2291"),
    ("2026-04-07", "equipment", "hanging scale, 200 lb, with sling", "Orrery Scale Service",
     "1140.00", "grant", "", "", "2026-04-20", "inv 0718"),
    ("2026-04-09", "supplies", "baling twine, 20 spools", "Alder Fork Farm Supply", "306.00",
     "grant", "", "", "2026-05-04", "inv AF-3310"),
    ("2026-04-14", "supplies", "pallets, 48 x 40 in, 40 used", "Pell Crossing Pallet", "260.00",
     "grant", "", "", "2026-05-04", "inv 118"),
    ("2026-04-15", "other", "liability rider for nine sites", "Kestrel Valley Mutual", "410.00",
     "grant", "", "", "2026-04-29", "policy rider 6"),
    ("2026-04-22", "other", 'grower leaflet, "Clean film, dry film"', "Tansy Bend Print Shop",
     "236.80", "grant", "", "", "2026-05-04", "inv 2304"),
    ("2026-05-29", "contractual", "baler hire, May", "Rook & Tenter Equipment Hire", "560.00",
     "grant", "", "", "2026-06-12", "inv RT-501"),
    ("2026-06-17", "contractual", "hauling, SH01", "Burdock Freight", "310.00", "grant", "", "",
     "2026-07-06", "BOL-0617-S01"),
    ("2026-06-18", "supplies", "pallet scale ramp mats and tarpaulins", "Alder Fork Farm Supply",
     "148.35", "match", "Town of Alder Fork", "", "2026-06-18", "receipt"),
    ("2026-06-24", "contractual", "hauling, SH02", "Hobnail Haulage", "345.00", "grant", "", "",
     "2026-07-06", "BOL-0624-S04"),
    ("2026-06-30", "contractual", "baler hire, June", "Rook & Tenter Equipment Hire", "560.00",
     "grant", "", "", "2026-07-14", "inv RT-517"),
    ("2026-06-30", "contractual", "subaward: pressing and yard, April to June", _EXCHANGE,
     "900.00", "grant", "", "SUB-1", "2026-07-20", "SUB-1 claim 1"),
    ("2026-07-09", "contractual", "hauling, SH03", "Burdock Freight", "325.00", "grant", "", "",
     "2026-07-27", "BOL-0709-S07"),
    ("2026-07-13", "supplies", "baling twine, 10 spools", "Alder Fork Farm Supply", "153.00",
     "grant", "", "", "2026-07-27", "inv AF-3402"),
    ("2026-07-15", "supplies", "credit: 12 pallets sent back", "Pell Crossing Pallet", "-78.00",
     "grant", "", "", "2026-07-27", "credit note 118-C"),
    ("2026-07-31", "contractual", "baler hire, July", "Rook & Tenter Equipment Hire", "560.00",
     "grant", "", "", "2026-08-14", "inv RT-533"),
    ("2026-08-19", "contractual", "hauling, SH04", "Burdock Freight", "310.00", "grant", "", "",
     "2026-09-04", "BOL-0819-S01"),
    ("2026-08-24", "travel", "road toll and mileage, crew truck", "Town of Alder Fork", "96.40",
     "match", "Town of Alder Fork", "", "2026-08-31", "log 8"),
    ("2026-08-31", "contractual", "baler hire, August", "Rook & Tenter Equipment Hire", "560.00",
     "grant", "", "", "2026-09-15", "inv RT-549"),
    ("2026-09-02", "contractual", "hauling, SH05", "Hobnail Haulage", "345.00", "grant", "", "",
     "2026-09-18", "BOL-0902-S04"),
    ("2026-09-17", "contractual", "hauling, SH06", "Burdock Freight", "325.00", "grant", "", "",
     "", "BOL-0917-S07"),
    ("2026-09-30", "contractual", "baler hire, September", "Rook & Tenter Equipment Hire",
     "560.00", "grant", "", "", "", "inv RT-566"),
    ("2026-09-30", "contractual", "subaward: pressing and yard, July to September", _EXCHANGE,
     "900.00", "grant", "", "SUB-1", "", "SUB-1 claim 2"),
]

# date, kind, giver, site, quantity, rate, amount (empty: quantity x rate)
_GIFTS = [
    ("2026-04-30", "donated_use", "Kestrel Mills Fruit Packers, forklift by the day", "S07", "1",
     "125.00", ""),
    ("2026-05-28", "donated_use", _EXCHANGE + ", forklift by the day", "S04", "2", "125.00",
     "250.00"),
    ("2026-06-12", "donated_goods", "Marrow Creek Auction, used pallets", "S06", "24", "6.50", ""),
    ("2026-06-30", "donated_use", "Town of Alder Fork, covered bay by the month", "S01", "3",
     "80.00", ""),
    ("2026-07-23", "donated_use", _EXCHANGE + ", forklift by the day", "S04", "2", "125.00", ""),
    ("2026-08-05", "donated_goods", "Pellam Bottom Farm, tarpaulins 20 x 30 ft", "S03", "4",
     "42.75", "171.00"),
    ("2026-09-25", "donated_use", "Kestrel Mills Fruit Packers, forklift by the day", "S07", "1",
     "125.00", ""),
    ("2026-09-30", "donated_use", "Town of Alder Fork, covered bay by the month", "S01", "3",
     "80.00", ""),
]

# giver, site, whether they drive film as well
_VOLUNTEERS = [
    ("Odile Fenn", "S02", False), ("Cap Harrowgate", "S03", False), ("Dell Rourke", "S01", True),
    ("Pia Lindqvarn", "S08", True), ("Jory Marsh", "S09", True), ("Zoë Ankerby", "S04", False),
]


# what a cost or contribution is for, by words of its description or giver; the first that is in it
_PURPOSES = [
    ("credit: 12 pallets", "collect"), ("yard crew", "bale"), ("coordinator", "run"), ("baler hire", "bale"),
    ("baling twine", "bale"), ("pressing and yard", "bale"), ("forklift", "bale"), ("hauling", "haul"), ("toll", "haul"),
    ("labels", "collect"), ("pallet", "collect"), ("hanging scale", "collect"), ("liability", "collect"),
    ("tarpaulins", "collect"), ("covered bay", "collect"),
]


def purpose_of(text):
    """What a cost is for; empty where the coordinator has not said."""
    return next((purpose for words, purpose in _PURPOSES if words in text), "")


def site_of(bill):
    """The site that a load was hauled from: the end of its bill of lading."""
    return bill["document"][-3:] if bill["document"].startswith("BOL-") else ""


def cents(amount):
    return str(amount.quantize(Decimal("0.01"), ROUND_HALF_UP))


def budget_rows():
    return [dict(zip(("category", "grant", "match"), row)) for row in _BUDGET]


def cost_rows():
    columns = ("date", "category", "description", "payee", "amount", "fund", "source", "subaward",
               "paid_on", "document")
    rows = [dict(zip(columns, bill)) for bill in _BILLS]
    for month in _MONTHS:
        rows += _payroll(month)
    return [{**row, "purpose": purpose_of(row["description"]), "site": site_of(row)} for row in rows]


def _payroll(month):
    """The coordinator on the grant, the town's crew on match, each with fringe, and miles."""
    hours, crew_hours, miles = _MONTHS[month]
    wages, crew_wages = hours * _COORDINATOR_RATE, crew_hours * _CREW_RATE
    town, day = "Town of Alder Fork", _MONTH_ENDS[month]

    def row(category, description, payee, amount, fund, document):
        return {"date": day, "category": category, "description": description, "payee": payee,
                "amount": cents(amount), "fund": fund, "source": town if fund == "match" else "",
                "paid_on": day, "document": document}
    return [
        row("personnel", f"coordinator, {month}, {hours} h", "Maud Ellery", wages, "grant",
            f"timesheet {month}"),
        row("fringe", f"fringe on coordinator, {month}", "Basin Environmental Agency",
            wages * _FRINGE, "grant", f"payroll {month}"),
        row("travel", f"coordinator's mileage, {month}, {miles} mi", "Maud Ellery", miles * _MILE,
            "grant", f"mileage log {month}"),
        row("personnel", f"yard crew, {month}, {crew_hours} h", town, crew_wages, "match",
            f"crew sheet {month}"),
        row("fringe", f"fringe on yard crew, {month}", town, crew_wages * _FRINGE, "match",
            f"crew sheet {month}"),
    ]


def inkind_rows(rng):
    """Each month's hours of each site's volunteers, the miles of those who drive, and gifts."""
    rows = []
    for month, day in _MONTH_ENDS.items():
        for giver, site, drives in _VOLUNTEERS:
            row = {"date": day, "giver": giver, "site": site, "source": "volunteer",
                   "document": f"sign-in sheet {site} {month}"}
            quarter_hours = rng.randrange(5, 11)
            rows.append({**row, "kind": "hours", "quantity": str(Decimal(quarter_hours) / 4),
                         "rate": _VOLUNTEER_HOUR, "purpose": "collect"})
            if drives:
                rows.append({**row, "kind": "miles", "quantity": rng.randrange(40, 100),
                             "rate": str(_MILE), "purpose": "haul"})
    columns = ("date", "kind", "giver", "site", "quantity", "rate", "amount")
    rows += [{**dict(zip(columns, gift)), "source": "donation", "document": "letter on file",
              "purpose": purpose_of(gift[2])} for gift in _GIFTS]
    return rows
