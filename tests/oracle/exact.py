"""Exact arithmetic for the independent reckoning: no binary floating point.

Weights are whole thousandths of the award's unit, money whole cents, everything
else a fraction. Only the arc of a cover is irrational; it is worked out to far
more digits than any rounding here can notice.
"""

from decimal import Decimal, localcontext
from fractions import Fraction

KG_IN_LB = Fraction("0.45359237")
LB_IN_TON = 2000
SQUARE_METRES_IN_SQUARE_FOOT = Fraction("0.09290304")
METRES_IN_MIL = Fraction("0.0000254")

ARC_DIGITS = 60


def half_up(value):
    """The whole number nearest to a fraction; a half goes up."""
    return (Fraction(value) + Fraction(1, 2)).__floor__()


def convert(value, unit, to_unit):
    """A weight in one unit (lb, kg), exactly, in another."""
    if unit == to_unit:
        return Fraction(value)
    return Fraction(value) * KG_IN_LB if unit == "lb" else Fraction(value) / KG_IN_LB


def thousandths(value, unit, to_unit):
    """A written weight as whole thousandths of `to_unit`, rounded half up once."""
    return half_up(convert(value, unit, to_unit) * 1000)


def tons(weight, unit):
    """Thousandths of `unit` as tons of 2,000 lb, exactly."""
    return convert(Fraction(weight, 1000), unit, "lb") / LB_IN_TON


def decimal_text(value, decimals):
    """A whole number of 10**-decimals as a decimal string."""
    sign, digits = ("-" if value < 0 else ""), str(abs(value)).rjust(decimals + 1, "0")
    return f"{sign}{digits[:-decimals]}.{digits[-decimals:]}"


def ratio(above, below):
    """above / below as the nearest double, None where it is undefined."""
    return None if below == 0 else float(Fraction(above) / Fraction(below))


def share_out(total, weights):
    """Shares `total` whole units by weight: the largest remainder, ties by id.

    `weights` maps ids to whole weights. Where no weight is above zero all count
    alike, so that the shares always sum to the total.
    """
    if not weights:
        return {}
    if sum(weights.values()) == 0:
        weights = dict.fromkeys(weights, 1)
    whole = sum(weights.values())
    shares = {name: total * weight // whole for name, weight in weights.items()}
    by_remainder = sorted(
        weights, key=lambda name: (-(total * weights[name] % whole), name.encode()))
    for name in by_remainder[:total - sum(shares.values())]:
        shares[name] += 1
    return shares


def arc_factor(width, rise):
    """The circular arc through a floor `width` and a `rise`, over the width.

    The angle at the rim between floor and crown is a quarter of the arc's, which
    holds past a half circle too: arc = 4 r atan(2 rise / width).
    """
    radius = (width * width / 4 + rise * rise) / (2 * rise)
    return 4 * radius / width * _atan(2 * rise / width)


def _atan(value):
    """The arc tangent of a fraction above zero, to ARC_DIGITS digits."""
    with localcontext() as context:
        context.prec = ARC_DIGITS + 15
        x, halvings = Decimal(value.numerator) / Decimal(value.denominator), 0
        while x > Decimal("0.01"):
            x = x / (1 + (1 + x * x).sqrt())
            halvings += 1
        power, result, odd = x, x, 1
        while abs(power) > Decimal(10) ** -(ARC_DIGITS + 5):
            power, odd = -power * x * x, odd + 2
            result += power / odd
        return Fraction(result * 2 ** halvings)
