"""Invented ids, names, numbers and days, all valid and some of them awkward."""

import datetime
from decimal import Decimal

PEOPLE = ("Zoë Ånd", "Marl, J.", '+Ray "Big" Quill', "=cmd|x", "@Wend", "-Fen", "Ib Orn",
          "Ó Duibh\nthe elder", "O’Dell", "50 % Growers", "𝔘na", "e\u0301lan")
PLACES = ("Fairground barn", "Nursery lot, east gate", 'The "Old" Creamery', "Sælvond yard",
          "=Shed", "Barn\r\nround the back")
WORDS = ("twine", "soil, wet", 'called "clean"', "wet\nthrough", "=SUM(A1)", "drip tape", "süß")
LETTERS = ("", "", "", "a", "B", "é", "Z", "-x", " 2nd", ",c", '"q"', "=", "/", "_", "ß")


class Invented:
    """Random values from one source of chance."""

    def __init__(self, random):
        self.random = random

    def chance(self, probability):
        """True with the given probability."""
        return self.random.random() < probability

    def maybe(self, text, probability=0.5):
        """The text, or an empty field."""
        return text if self.chance(probability) else ""

    def ids(self, prefix, count):
        """Distinct ids whose order by bytes is not their order by number or eye."""
        found = {}
        awkward = self.chance(0.5)
        while len(found) < count:
            number = self.random.randint(1, count * 3)
            head = self.random.choice((prefix, prefix, prefix.lower()))
            tail = self.random.choice(LETTERS) if awkward else ""
            lead = self.random.choice(("=", "+", "-", "@")) if awkward and self.chance(0.03) else ""
            found[f"{lead}{head}{number}{tail}"] = True
        return list(found)

    def person(self):
        """A name of a person or firm."""
        return self.random.choice(PEOPLE)

    def place(self):
        """A name of a place."""
        return self.random.choice(PLACES)

    def word(self):
        """A reason or remark."""
        return self.random.choice(WORDS)

    def day(self, first, last):
        """A day between two, both included."""
        return first + datetime.timedelta(days=self.random.randint(0, (last - first).days))

    def near(self, day, before, after):
        """A day near another, often the very same."""
        if self.chance(0.25):
            return day
        return day + datetime.timedelta(days=self.random.randint(-before, after))

    def decimal(self, low, high, places=None):
        """A decimal above zero, as text, with up to so many places, some ending in 5."""
        if places is None:
            places = self.random.choice((0, 0, 1, 1, 2, 3, 4, 5))
        scale = 10 ** places
        whole = self.random.randint(max(1, int(low * scale)), int(high * scale))
        if places == 4 and self.chance(0.7):
            whole = whole // 10 * 10 + 5
        return plain(Decimal(whole).scaleb(-places))

    def cents(self, low, high):
        """An amount of money with none, one or two decimals."""
        return self.decimal(low, high, self.random.choice((0, 1, 2, 2, 2)))

    def unit(self):
        """A unit of weight."""
        return self.random.choice(("lb", "kg"))


def plain(value):
    """A decimal as the interchange writes it, without an exponent."""
    return format(value, "f")
