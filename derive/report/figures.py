"""Numbers as a person reads them: few figures, but enough that a difference shows."""

from __future__ import annotations

import math
import re

from derive.notation.printed.printing import RAISED
from derive.records import Quantity

_SAME = 1e-6  # states are found by iteration: a value this close to a short one is meant to be that one
_FEWEST, _MOST = 3, 15  # three figures are the habit of the course; a double has no more than fifteen


def quantity_text(quantity: Quantity, figures: int = _FEWEST) -> str:
    """`0.898 s`; a plain number where there is no unit."""
    unit = unit_text(quantity.unit)
    number = number_text(quantity.value, figures)
    if not unit:
        return number
    return f"{number}{unit}" if unit in ("°", "%") else f"{number} {unit}"


def number_text(value: complex | float, figures: int = _FEWEST) -> str:
    """A number to so many significant figures; whole numbers stay whole, far powers of ten are written out."""
    if isinstance(value, complex):
        return _complex_text(value, figures)
    if math.isnan(value):
        return "no value"
    if math.isinf(value):
        return "∞" if value > 0 else "-∞"
    if value == 0:
        return "0"
    mantissa, exponent = f"{value:.{figures - 1}e}".split("e")
    power = int(exponent)
    if -4 < power < 6:
        return _plain(value, figures, power)
    mantissa = mantissa.rstrip("0").rstrip(".") if "." in mantissa else mantissa
    raised = str(power).translate(RAISED)
    if mantissa in ("1", "-1"):
        return f"{mantissa[:-1]}10{raised}"
    return f"{mantissa}×10{raised}"


def telling_pair(left: Quantity, right: Quantity) -> tuple[str, str]:
    """Both sides to as few figures as show that they differ (to fifteen where even those do not)."""
    for figures in range(_FEWEST, _MOST + 1):
        pair = quantity_text(left, figures), quantity_text(right, figures)
        if number_text(left.value, figures) != number_text(right.value, figures):
            return pair
    return pair


def unit_text(unit: str) -> str:
    """A unit as typed, set as on a page: `kg/m^3` is `kg/m³`, `1` is no unit at all."""
    if unit.strip() in ("", "1", "-"):
        return ""
    raised = re.sub(
        r"\^(?:\((-?\d+)\)|(-?\d+))", lambda found: (found[1] or found[2]).translate(RAISED), unit.strip())
    below = re.fullmatch(r"1/([A-Za-zΩ]+)([⁰¹²³⁴⁵⁶⁷⁸⁹]*)", raised)
    if below is not None:  # `4 s⁻²`: a number before `1/s²` would read as a fraction
        return f"{below[1]}⁻{below[2] or '¹'}"
    return raised.replace("*", "·")


def _plain(value: float, figures: int, power: int) -> str:
    decimals = max(figures - 1 - power, 0)  # digits before the point are never rounded away: 1234, not 1230
    text = f"{value:.{decimals}f}"
    # Zeros at the end say that a number was rounded; an exact 0.5 or 40 has none to show.
    exact = "." in text and math.isclose(float(text), value, rel_tol=_SAME)
    return text.rstrip("0").rstrip(".") if exact else text


def _complex_text(value: complex, figures: int) -> str:
    if value.imag == 0:
        return number_text(value.real, figures)
    imaginary = number_text(abs(value.imag), figures)
    if value.real == 0:
        return f"{'-' if value.imag < 0 else ''}{imaginary} i"
    return f"{number_text(value.real, figures)} {'-' if value.imag < 0 else '+'} {imaginary} i"
