"""What passes between the program and its agency: obligations, requests, payments, income, notes."""
from decimal import ROUND_HALF_UP, Decimal

_HIRE, _EXCHANGE = "baler hire, ", "subaward: pressing and yard, "

_NOTES = {
    ("2026-Q2", "done"): "Nine sites opened between April 14 and May 20. Growers brought film from the spring change of"
                         " covers; the baler came to three yards. Two loads went to the processor.",
    ("2026-Q2", "problems"): "Bundles came without labels at Pell Crossing, and one site took film with drip tape still in"
                             " it. The certificate of the pallet scale at Kestrel Mills ends on June 30.",
    ("2026-Q2", "next"): "A second leaflet on cutting off soiled edges goes out in July; hosts get a sign for what is not"
                         " taken.",
    ("2026-Q3", "done"): "Film came in more slowly over the summer, as expected, and all bales of the spring were weighed"
                         " and shipped.\n\nVolunteers checked every bundle at the gate in August.",
    ("2026-Q3", "problems"): "Estimates at the planning weight run well above what the scale says. Some growers' film was"
                             " thinner than 6 mil. The certificate of the pallet scale at Kestrel Mills ended on June 30;"
                             " what it weighed since is flagged.",
    ("2026-Q3", "next"): "The autumn round begins on October 10. Growers are asked for the film's thickness when they"
                         " register.",
}


def rate_rows():
    columns = ("rate", "kind", "what", "begins", "value", "source")
    return [dict(zip(columns, row)) for row in (
        ("RT1", "hours", "site volunteer", "2026-01-01", "36.14", "national value of a volunteer hour, data year 2025"),
        ("RT2", "miles", "own truck", "2026-01-01", "0.725", "business mileage, 2026"),
        ("RT3", "donated_use", "forklift, a day", "2026-01-01", "125.00", "quotation of a hire firm, on file"),
    )]


def _costs_called(costs, beginning):
    return [cost for cost in costs if cost["description"].startswith(beginning)]


def obligation_rows():
    columns = ("obligation", "date", "category", "description", "payee", "amount", "fund", "document")
    return [dict(zip(columns, row)) for row in (
        ("OB1", "2026-05-04", "contractual", "baler hire, May to October, by the month", "Rook & Tenter Equipment Hire",
         "3360.00", "grant", "contract RT-26-3"),
        ("OB2", "2026-04-20", "contractual", "subaward: pressing and yard, four quarters",
         "Saltlick Ferry Growers' Exchange", "3600.00", "grant", "SUB-1"),
    )]


def liquidation_rows(costs):
    rows = []
    for obligation, beginning in (("OB1", _HIRE), ("OB2", _EXCHANGE)):
        rows += [{"date": cost["date"], "obligation": obligation, "amount": cost["amount"], "cost": cost["cost"]}
                 for cost in _costs_called(costs, beginning)]
    return rows


def _claimed(costs):
    """The second quarter's costs on the grant; what was bought before the award is not claimed."""
    return [cost for cost in costs if cost["fund"] == "grant" and "2026-04-01" <= cost["date"] <= "2026-06-30"]


def _indirect(costs):
    base = sum(Decimal(cost["amount"]) for cost in _claimed(costs) if cost["category"] != "equipment")
    return (base / 10).quantize(Decimal("0.01"), ROUND_HALF_UP)


def request_rows(costs):
    return [{"request": "RQ1", "date": "2026-07-15", "cost": cost["cost"], "indirect": str(_indirect(costs)),
             "document": "request RQ1, signed"} for cost in _claimed(costs)]


def payment_rows(costs):
    claimed = sum(Decimal(cost["amount"]) for cost in _claimed(costs)) + _indirect(costs)
    retained = (claimed / 10).quantize(Decimal("0.01"), ROUND_HALF_UP)
    return [
        {"payment": "PY1", "date": "2026-04-08", "kind": "advance", "amount": "2000.00", "document": "notice 26-0408"},
        {"payment": "PY2", "date": "2026-08-19", "kind": "reimbursement", "amount": str(claimed - retained),
         "request": "RQ1", "retained": str(retained), "document": "notice 26-0819"},
    ]


def income_rows(costs):
    twine = _costs_called(costs, "baling twine, 10")[0]["cost"]
    return [
        {"income": "IN1", "date": "2026-07-02", "kind": "earned", "method": "addition",
         "description": "bales of SH01 sold", "party": "Low Fen Resin Works", "amount": "212.48",
         "document": "remittance 77", "shipment": "SH01"},
        {"income": "IN2", "date": "2026-08-27", "kind": "earned", "method": "addition",
         "description": "bales of SH03 sold", "party": "Low Fen Resin Works", "amount": "86.85",
         "document": "remittance 83", "shipment": "SH03"},
        {"income": "IN3", "date": "2026-07-13", "kind": "spent", "method": "addition",
         "description": "part of the twine", "amount": "120.00", "cost": twine},
    ]


def note_rows():
    return [{"quarter": quarter, "part": part, "text": text} for (quarter, part), text in _NOTES.items()]
