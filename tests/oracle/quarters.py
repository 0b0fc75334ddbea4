"""Quarters of program years, years, the whole award and spans: `2026-Q3`, `2026`, `final`, `2026-04..2026-09`."""

import datetime
from dataclasses import dataclass


@dataclass(frozen=True, order=True)
class Quarter:
    """A quarter; `index` counts quarters from year 0 of the program's years."""

    index: int
    starts: int

    @property
    def name(self):
        """The quarter's name, with the year in which its program year begins."""
        return f"{self.index // 4:04d}-Q{self.index % 4 + 1}"

    @property
    def first(self):
        """The quarter's first day."""
        months = self.index * 3 + self.starts - 1
        return datetime.date(months // 12, months % 12 + 1, 1)

    @property
    def last(self):
        """The quarter's last day."""
        return Quarter(self.index + 1, self.starts).first - datetime.timedelta(days=1)


def quarter_of(date, starts):
    """The quarter that holds a date, when program years begin in month `starts`."""
    return Quarter((date.year * 12 + date.month - starts) // 3, starts)


def quarter_named(name, starts):
    """The quarter of a name such as `2026-Q3`."""
    year, number = name.split("-Q")
    return Quarter(int(year) * 4 + int(number) - 1, starts)


@dataclass(frozen=True)
class Period:
    """Any days under a name."""

    name: str
    first: datetime.date
    last: datetime.date


def month_before(text):
    """The month of `2026-04`, counted from year 0."""
    year, month = text.split("-")
    return int(year) * 12 + int(month) - 1


def first_of_month(number):
    """The first day of a month counted from year 0."""
    return datetime.date(number // 12, number % 12 + 1, 1)


def period_named(name, season, ends):
    """The period of a name; the whole award runs to `ends`, from its first day or that of the first dated row."""
    starts = season["award"][0]["quarter_starts"]
    if name == "final":
        dated = [row["date"] for kind in WEIGHT_AND_MONEY for row in season[kind]]
        return Period(name, min(dated + [season["award"][0]["begins"]]), ends)
    if ".." in name:
        first, last = name.split("..")
        if "Q" in name:
            return Period(name, quarter_named(first, starts).first, quarter_named(last, starts).last)
        return Period(name, first_of_month(month_before(first)),
                      first_of_month(month_before(last) + 1) - datetime.timedelta(days=1))
    if "Q" not in name:
        return Period(name, quarter_named(name + "-Q1", starts).first, quarter_named(name + "-Q4", starts).last)
    return quarter_named(name, starts)


WEIGHT_AND_MONEY = ("covers", "receipts", "bales", "rejects", "shipments", "tickets", "acceptances", "costs", "inkind",
                    "income", "payments")
