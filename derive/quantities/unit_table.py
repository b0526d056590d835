"""The units a person may type, as a table: SI, what the SI Brochure keeps beside SI, and everyday ones.

Only data, and the record one row is. Spelling, prefixes put before units, and unit expressions such as
`kg/m^3` are the business of `units`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from derive.records import Dimension

Kind = Literal["si", "beside", "everyday"]


@dataclass(frozen=True, slots=True)
class UnitInfo:
    """One unit: its SI value is `exact · π^pi`, so that 180° is π and not nearly π.

    ident:      the one spelling used for it in trees and reports (`deg` and `degrees` are `°`).
    kind:       'si', 'beside' (SI Brochure, 9th edition, table 8), or 'everyday'.
    prefixable: whether kilo, milli … may stand before it.
    usual:      False for what nobody types in a mechanics course although SI allows it (`as`, an
                attosecond): a reader prefers any other reading of those letters.
    """

    ident: str
    dimension: Dimension
    exact: Fraction
    pi: int = 0
    kind: Kind = "si"
    prefixable: bool = False
    usual: bool = True

    @property
    def scale(self) -> Fraction | float:
        """SI value of one of it: exact where that is a rational number."""
        return self.exact if self.pi == 0 else float(self.exact) * math.pi**self.pi


def dimension(kg: int = 0, m: int = 0, s: int = 0, *, a: int = 0, k: int = 0, mol: int = 0, cd: int = 0) -> Dimension:
    """A dimension by its powers of kg, m, s (and A, K, mol, cd)."""
    return Dimension(tuple(Fraction(p) for p in (kg, m, s, a, k, mol, cd)))


# SI Brochure, 9th edition (2019), table 7: symbol, name, power of ten.
PREFIXES: tuple[tuple[str, str, int], ...] = (
    ("Q", "quetta", 30), ("R", "ronna", 27), ("Y", "yotta", 24), ("Z", "zetta", 21), ("E", "exa", 18),
    ("P", "peta", 15), ("T", "tera", 12), ("G", "giga", 9), ("M", "mega", 6), ("k", "kilo", 3),
    ("h", "hecto", 2), ("da", "deca", 1), ("d", "deci", -1), ("c", "centi", -2), ("m", "milli", -3),
    ("μ", "micro", -6), ("n", "nano", -9), ("p", "pico", -12), ("f", "femto", -15), ("a", "atto", -18),
    ("z", "zepto", -21), ("y", "yocto", -24), ("r", "ronto", -27), ("q", "quecto", -30),
)
USUAL_PREFIXES = frozenset("GMkmμnpcdh")

_NONE = dimension()

# SI units without the kilogram, which is gram with a prefix: symbol, dimension, spelt-out names.
_SI: tuple[tuple[str, Dimension, str], ...] = (
    ("m", dimension(m=1), "metre metres meter meters"),
    ("s", dimension(s=1), "second seconds sec secs"),
    ("A", dimension(a=1), "ampere amperes amp amps"),
    ("K", dimension(k=1), "kelvin kelvins"),
    ("mol", dimension(mol=1), "mole moles"),
    ("cd", dimension(cd=1), "candela candelas"),
    ("rad", _NONE, "radian radians rads"),
    ("sr", _NONE, "steradian steradians"),
    ("Hz", dimension(s=-1), "hertz"),
    ("N", dimension(1, 1, -2), "newton newtons"),
    ("Pa", dimension(1, -1, -2), "pascal pascals"),
    ("J", dimension(1, 2, -2), "joule joules"),
    ("W", dimension(1, 2, -3), "watt watts"),
    ("C", dimension(s=1, a=1), "coulomb coulombs"),
    ("V", dimension(1, 2, -3, a=-1), "volt volts"),
    ("F", dimension(-1, -2, 4, a=2), "farad farads"),
    ("Ω", dimension(1, 2, -3, a=-2), "ohm ohms"),
    ("S", dimension(-1, -2, 3, a=2), "siemens"),
    ("Wb", dimension(1, 2, -2, a=-1), "weber webers"),
    ("T", dimension(1, 0, -2, a=-1), "tesla teslas"),
    ("H", dimension(1, 2, -2, a=-2), "henry henries henrys"),
    ("lm", dimension(cd=1), "lumen lumens"),
    ("lx", dimension(m=-2, cd=1), "lux"),
    ("Bq", dimension(s=-1), "becquerel becquerels"),
    ("Gy", dimension(m=2, s=-2), "gray grays"),
    ("Sv", dimension(m=2, s=-2), "sievert sieverts"),
    ("kat", dimension(s=-1, mol=1), "katal katals"),
)


def _row(ident: str, dim: Dimension, exact: str | int, names: str = "", *, pi: int = 0,
         kind: Kind = "everyday", prefixable: bool = False) -> tuple[UnitInfo, str]:
    return UnitInfo(ident, dim, Fraction(exact), pi, kind, prefixable), names


# `rpm` is an angular velocity, one turn of 2π radians a minute.
# A calorie is the thermochemical one; an atmosphere the standard one (both exact by definition).
_OTHERS: tuple[tuple[UnitInfo, str], ...] = (
    _row("g", dimension(1), "1/1000", "gram grams gramme grammes gm", kind="si", prefixable=True),
    _row("min", dimension(s=1), 60, "minute minutes mins", kind="beside"),
    _row("h", dimension(s=1), 3600, "hour hours hr hrs", kind="beside"),
    _row("d", dimension(s=1), 86400, "day days", kind="beside"),
    _row("°", _NONE, "1/180", "deg degs degree degrees º ∘", pi=1, kind="beside"),
    _row("′", _NONE, "1/10800", "arcmin arcminute arcminutes", pi=1, kind="beside"),
    _row("″", _NONE, "1/648000", "arcsec arcsecond arcseconds", pi=1, kind="beside"),
    _row("au", dimension(m=1), 149597870700, "AU", kind="beside"),
    _row("ha", dimension(m=2), 10000, "hectare hectares", kind="beside"),
    _row("L", dimension(m=3), "1/1000", "l ℓ litre litres liter liters", kind="beside", prefixable=True),
    _row("t", dimension(1), 1000, "tonne tonnes", kind="beside", prefixable=True),
    _row("eV", dimension(1, 2, -2), "1.602176634e-19", "electronvolt electronvolts", kind="beside", prefixable=True),
    _row("Da", dimension(1), "1.66053906892e-27", "u dalton daltons", kind="beside"),
    _row("%", _NONE, "1/100", "percent"),
    _row("‰", _NONE, "1/1000"),
    _row("bar", dimension(1, -1, -2), 100000, "bars", prefixable=True),
    _row("atm", dimension(1, -1, -2), 101325, "atmosphere atmospheres"),
    _row("Wh", dimension(1, 2, -2), 3600, prefixable=True),
    _row("cal", dimension(1, 2, -2), "4.184", "calorie calories", prefixable=True),
    _row("km/h", dimension(m=1, s=-1), "5/18", "kph kmh kmph"),
    _row("mph", dimension(m=1, s=-1), "0.44704"),
    _row("kn", dimension(m=1, s=-1), "1852/3600", "knot knots kt kts"),
    _row("nmi", dimension(m=1), 1852),
    _row("mi", dimension(m=1), "1609.344", "mile miles"),
    _row("ft", dimension(m=1), "0.3048", "foot feet"),
    _row("inch", dimension(m=1), "0.0254", "inches"),
    _row("yd", dimension(m=1), "0.9144", "yard yards"),
    _row("lb", dimension(1), "0.45359237", "lbs pound pounds"),
    _row("rev", _NONE, 2, "revs revolution revolutions turn turns", pi=1),
    _row("rpm", dimension(s=-1), "1/30", pi=1),
)

UNITS: tuple[tuple[UnitInfo, tuple[str, ...]], ...] = tuple(
    [(UnitInfo(symbol, dim, Fraction(1), prefixable=True), tuple(names.split())) for symbol, dim, names in _SI]
    + [(row, tuple(names.split())) for row, names in _OTHERS]
)
