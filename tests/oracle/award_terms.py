"""The award as it stands on a day: its terms and budget with what amendments changed, and the program's settings.

What an amendment leaves empty goes on as it was. It holds from its date on; of two of one date the later entry goes
before.
"""

from datetime import date
from fractions import Fraction

TERMS = ("award", "amendments", "budget", "rebudgets", "settings")  # the kinds that it stands on
DEFAULTS = {"curvature_factor": "1.5", "area_weight_lb_per_ft2": "0.04", "density_g_per_cm3": "0.92",
            "subaward_limit": "50000", "tipping_fee_per_ton": "0"}


class Terms:
    """An award, its amendments, its budget and settings."""

    def __init__(self, season):
        self.award = season["award"][0]
        self.amendments = sorted(season["amendments"], key=lambda row: row["date"])
        self.settings = season["settings"]
        self.budget = season["budget"]
        self.rebudgets = season["rebudgets"]

    def on(self, column, day):
        """A column of the award as it holds on a day."""
        value = self.award[column]
        for amendment in self.amendments:
            if amendment["date"] <= day and amendment[column] is not None:
                value = amendment[column]
        return value

    def periods(self, column, last):
        """Each value that a column had through a day, with its first and last day."""
        begins = [date.min] + sorted({row["date"] for row in self.amendments
                                      if row[column] is not None and row["date"] <= last})
        ends = [day.fromordinal(day.toordinal() - 1) for day in begins[1:]] + [last]
        return [(first, end, self.on(column, first)) for first, end in zip(begins, ends)]

    def budgeted(self, fund, day):
        """The budget's total of a fund on a day: each line as last amended."""
        lines = {row["category"]: row[fund] for row in self.budget}
        for amendment in self.amendments:
            if amendment["date"] <= day:
                lines |= {row["category"]: row[fund] for row in self.rebudgets
                          if row["amendment"] == amendment["amendment"]}
        return sum(lines.values())

    def subaward_limit(self, dates):
        """The limit of a subaward: that of the day of its first cost."""
        return self.setting("subaward_limit", min(dates))

    def setting(self, name, day):
        """A setting as it holds on a day: the one that holds from the latest day, else the program's own."""
        holding = [row for row in self.settings
                   if row["setting"] == name and (row["from"] or date.min) <= day]
        chosen = max(holding, key=lambda row: row["from"] or date.min, default=None)
        return Fraction(chosen["value"] if chosen else DEFAULTS[name])
