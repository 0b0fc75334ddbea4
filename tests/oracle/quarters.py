"""Quarters of program years: `2026-Q3` and the days it holds."""

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
