"""The Kestrel Basin: its sites, scales, growers and helpers. All are invented."""
import unicodedata

REGION = "KB"

# site, name, town, host, opens, closes, capacity in lb, days open (Monday is 0)
_SITES = [
    ("S01", "Alder Fork transfer yard", "Alder Fork", "Town of Alder Fork", "07:30", "15:30",
     12000, (1, 3, 5)),
    ("S02", "Tansy Bend grange hall", "Tansy Bend", "Tansy Bend Grange", "09:00", "12:00",
     3500, (5,)),
    ("S03", "Pell Crossing fire hall, rear lot", "Pell Crossing",
     "Pell Crossing Volunteer Fire Company", "08:00", "13:00", 4000, (2, 5)),
    ("S04", "Growers' exchange at Saltlick Ferry", "Saltlick Ferry",
     "Saltlick Ferry Growers' Exchange", "08:00", "16:00", 10000, (0, 2, 4)),
    ("S05", "Wick Tarrow school barn", "Wick Tarrow", "Wick Tarrow Consolidated School", "14:00",
     "18:00", 2500, (4,)),
    ("S06", "Marrow Creek auction yard", "Marrow Creek", 'Marrow Creek Auction, "the Ring"',
     "08:00", "12:00", 5000, (1, 5)),
    ("S07", "Kestrel Mills depot", "Kestrel Mills", "Basin Environmental Agency", "07:00",
     "16:00", 14000, (0, 1, 2, 3, 4)),
    ("S08", "Dunlin extension plot", "Dunlin", "Dunlin Extension Garden", "09:00", "14:00",
     3000, (2,)),
    ("S09", "Ostrey landing", "Ostrey", "Ostrey River Landing Trust", "08:00", "12:00", 4000,
     (0, 5)),
]

TOWN = {row[0]: row[2] for row in _SITES}
OPEN_DAYS = {row[0]: row[7] for row in _SITES}
# Film from three sites each is pressed at one of them, the hub.
HUB = {"S01": "S01", "S02": "S01", "S03": "S01", "S04": "S04", "S05": "S04", "S06": "S04",
       "S07": "S07", "S08": "S07", "S09": "S07"}
HUBS = ["S01", "S04", "S07"]
# Ostrey landing floods: its film comes wet and with silt on it.
SITE_EFFECT = {"S01": 1.00, "S02": 0.99, "S03": 1.01, "S04": 1.00, "S05": 1.02, "S06": 0.99,
               "S07": 1.00, "S08": 0.98, "S09": 1.10}
ATTENDANT = {"S01": "Bram Tolliver", "S02": "Odile Fenn", "S03": "Cap Harrowgate",
             "S04": "Inés Valcourt", "S05": "June Pettibrook", "S06": "Wendell Skarr",
             "S07": "Tamsin Orr", "S08": "Pia Lindqvarn", "S09": "Jory Marsh"}
DRIVER = {"S01": "Dell Rourke", "S04": "Inés Valcourt", "S07": "Tamsin Orr"}

# scale, location, class, capacity, division, unit, certified on, certified until
_SCALES = [
    ("SC1", "Alder Fork transfer yard, floor scale", "III", "5000", "1", "lb", "2026-02-11",
     "2027-02-28"),
    ("SC2", "Saltlick Ferry exchange, metric pallet scale", "III", "1500", "0.5", "kg",
     "2026-03-05", "2027-03-31"),
    ("SC3", "Kestrel Mills depot, pallet scale", "III", "2500", "1", "lb", "2025-06-24",
     "2026-06-30"),
    ("SC4", "hanging scale carried by the coordinator", "III", "200", "0.2", "lb", "2026-04-08",
     "2027-04-30"),
    ("SC5", "Kestrel Mills grain elevator, truck scale", "III L", "80000", "20", "lb",
     "2026-01-20", "2027-01-31"),
]
BALE_SCALE = {"S01": "SC1", "S04": "SC2", "S07": "SC3"}

# site: growers as name | farm
_GROWERS = {
    "S01": """Hesper Quillan | Alderbank Farm
Tobin Marchbanks | Marchbanks Greenhouses
Renée Vautrel | Ferme du Pré Haut
Silas Crake | Crake Hill Produce
Nell Ashgrove | The "Old Forge" Nursery
Ike Dunmorrow | Dunmorrow Brothers, bedding plants
Perpetua Lowe | Lowe End Flowers
Amos Brindlecombe | Brindle Acres
Yun Sik Haan | Haan Pears""",
    "S02": """Orla Tansley | Tansley Market Garden
Jasper Wicklow-Reed | Reed & Rushes
Mila Havrenko | Havrenko Tomatoes
Gus Pennyfarrow | Pennyfarrow Farm
Corinna Stoat | Stoatfield
Ansel Bright, Jr. | Bright Berries
Dulcie Marrable | Marrable Herbs""",
    "S03": """Lowell Pellam | Pellam Bottom Farm
Søren Aakvist | Aakvist Nursery
Thea Garrowby | Garrowby Starts
Rufus Nettleship | Nettleship & Sons
Imara Odell | Odell Long Rows
Clement Varga | Varga Peppers
Bettina Crowhurst | Crowhurst Cut Flowers
Hob Lattimer | Lattimer Ridge""",
    "S04": """Marisol Ibarrondo | Rancho Ibarrondo
Eben Saltmarsh | Saltmarsh Growers
Fenella Croft | Croft & Daughter, greens
Noé Castellar | Huerta Castellar
Wilhelmina Drax | Draxton Glass and Film
Percy Oldacre | Oldacre Farm
Leocadia Munt | Munt's Plants
Haruko Senda | Senda Strawberry House
Barnaby Fitch | =Equal Share Gardens
Ottoline Grebe | Grebe Pond Farm""",
    "S05": """Walt Hollowell | Hollowell Farm
Greta Sundvall | Sundvall Seedlings
Micah Thornapple | Thornapple Orchard
Lettice Farrier | Farrier's Field
Dov Abelsohn | Abelsohn Beds
Euphemia Tarn | Tarnside""",
    "S06": """Roscoe Marrowby | Marrowby Stock and Truck
Chidi Okwuosa | Okwuosa Greens
Vesper Lyle | Lyle Low Tunnels
Hank Prudholm | Prudholm Dairy
Josefa Rincón | Rincón Family Farm
Edmund Slate | Slate Quarry Gardens
Tilda Wren | Wren & Wren
Augustin Bellweather | Bellweather Farm""",
    "S07": """Kit Millhouse | Millhouse Nurseries
Zdenka Horvat-Pryce | Pryce Glasshouses
Alban Stokesay | Stokesay Organics
Beatrix Fallow | Fallow Year Farm
Obadiah Kestle | Kestle Growers
Minh Châu Dang | Dang Lanterns
Sybil Overmeer | Overmeer Perennials
Jack Tumbrell | Tumbrell's "Early & Late"
Ludo Castaigne | Castaigne Mushrooms
Honor Bexley-Ward | Ward Brook Farm""",
    "S08": """Delphine Ruddock | Ruddock Rows
Casimir Wold | Wold Edge Farm
Prudence Eelhart | Eelhart Produce
Arlo Finchley | Finchley Fruit
Nadia Belkhadem | Belkhadem Garden
Stellan Krook | Krook's Crook""",
    "S09": """Morwenna Ostler | Ostler Landing Farm
Hyacinth Peverell | Peverell Bulbs
Caleb Driftwood | Driftwood Silts
Ruth Anne Sallow | Sallow Holt
Emeka Adighije | Adighije Vegetables
Flint Haverstock | Haverstock Meadows""",
}


def site_rows():
    names = ["site", "name", "town", "host", "opens", "closes", "capacity_lb"]
    return [dict(zip(names, row)) for row in _SITES]


def scale_rows():
    names = ["scale", "location", "class", "capacity", "division", "unit", "certified_on",
             "certified_until"]
    return [dict(zip(names, row)) for row in _SCALES]


def scale_of(scale_id):
    return next(row for row in scale_rows() if row["scale"] == scale_id)


def _email_of(name):
    plain = unicodedata.normalize("NFKD", name.split(",")[0].replace("ø", "o"))
    letters = "".join(c for c in plain if c.isascii() and (c.isalpha() or c == " "))
    words = letters.lower().split()
    return f"{words[0]}.{words[-1]}@example.org"


def grower_rows():
    """Most growers left an address, most a telephone, a few neither."""
    rows = []
    for site, text in _GROWERS.items():
        for line in text.splitlines():
            name, farm = line.split(" | ")
            count = len(rows) + 1
            rows.append({"grower": f"G{count:03d}", "name": name, "farm": farm,
                         "town": TOWN[site], "region": REGION,
                         "email": _email_of(name) if count % 4 else "",
                         "phone": f"555-01{count:02d}" if count % 5 else ""})
    return rows


def home_sites():
    """Each grower's own site, by id."""
    homes = [site for site, text in _GROWERS.items() for _ in text.splitlines()]
    return {row["grower"]: home for row, home in zip(grower_rows(), homes)}
