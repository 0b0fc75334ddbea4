"""Writes a large invented season: big_season.py BUNDLES FOLDER [YEARS]. Deterministic; keeps to the interchange format.

Of several years the last is 2025, so that its quarters can be closed."""
import os
import random
import sys
from datetime import date, timedelta


def writer(folder, name, columns):
    """An open CSV file with its header."""
    file = open(os.path.join(folder, name + ".csv"), "w", encoding="utf-8")
    file.write(",".join(columns) + "\n")
    return lambda *values: file.write(",".join(str(value) for value in values) + "\n")


def main(bundles, folder, years=1):
    draw = random.Random(1)
    os.makedirs(folder, exist_ok=True)
    first = date(2026 if years == 1 else 2026 - years, 1, 1)
    day = lambda n: (first + timedelta(days=n)).isoformat()  # noqa: E731
    days = (date(first.year + years, 1, 1) - first).days
    sites, growers = max(4, bundles // 1000), max(5, bundles // 10)
    award = writer(folder, "award", ["award", "agency", "program", "region", "begins", "ends", "goal_tons",
                                     "quarter_starts", "unit", "match_percent", "match_base", "indirect_percent"])
    award("KB-BIG", "Basin Environmental Agency", "Kestrel Basin film", "KB", day(0), day(days - 1), bundles // 50, 1, "lb", 20,
          "total", 10)
    put = writer(folder, "sites", ["site", "name", "town"])
    for s in range(sites):
        put(f"S{s:04}", f"Site {s}", "Wend")
    put = writer(folder, "growers", ["grower", "name", "region", "email"])
    for g in range(growers):
        put(f"G{g:06}", f"Grower {g}", "KB", f"g{g}@example.org")
    writer(folder, "scales", ["scale", "class", "capacity", "division", "unit"])("P1", "III", 5000, 1, "lb")
    cover = writer(folder, "covers", ["registration", "date", "grower", "site", "cover", "structure", "length_ft",
                                      "width_ft", "rise_ft", "layers", "film", "mil"])
    bundle = writer(folder, "bundles", ["bundle", "registration", "number", "of"])
    receipt = writer(folder, "receipts", ["receipt", "date", "site", "bundle", "outcome", "received_by"])
    bale = writer(folder, "bales", ["bale", "date", "site", "bundle"])
    ticket = writer(folder, "tickets", ["ticket", "date", "scale", "weighs", "subject", "gross", "tare", "net", "unit", "entry"])
    shipment = writer(folder, "shipments", ["shipment", "date", "processor", "bale"])
    made = registrations = 0
    on_hand = []
    while made < bundles:
        registrations += 1
        name, when = f"R{registrations:07}", draw.randrange(days - 115)
        site = f"S{draw.randrange(sites):04}"
        rise = draw.choice(["", "", "7.5"])
        cover(name, day(when), f"G{draw.randrange(growers):06}", site, 1, "greenhouse", 96, 30, rise, 1, "clear",
              draw.choice(["", "", 6]))
        for number in range(1, 4):
            made += 1
            bundle(f"{name}-{number}", name, number, 3)
            arrived = when + draw.randrange(30)
            receipt(f"C{made:07}", day(arrived), site, f"{name}-{number}", "accepted" if draw.random() > .03 else "rejected", "vol")
            on_hand.append((arrived, f"{name}-{number}"))
    on_hand.sort()
    for b in range(0, len(on_hand) * 9 // 10, 10):
        name, when = f"B{b // 10:06}", on_hand[min(b + 9, len(on_hand) - 1)][0] + 1
        load = on_hand[b:b + 10]
        for _, one in load:
            bale(name, day(when), "S0000", one)
        net = draw.randrange(350, 520)
        ticket(f"T{b // 10:06}", day(when + 3), "P1", "bale", name, net + 40, 40, net, "lb", "printed")
        shipment(f"H{b // 500:05}", day(days - 65), "Fen Polymer", name)
    put = writer(folder, "costs", ["cost", "date", "category", "description", "amount", "fund"])
    for c in range(bundles // 100):
        put(f"X{c:05}", day(draw.randrange(days - 65)), draw.choice(["supplies", "travel"]), "receipt", f"{draw.randrange(9999)}.50", "grant")


main(int(sys.argv[1]), sys.argv[2], *(int(years) for years in sys.argv[3:]))
