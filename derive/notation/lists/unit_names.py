"""Which words are units, and one spelling for each. What a unit is worth is told in derive.quantities."""

from __future__ import annotations

from derive.notation.lists.word_lists import words

_PREFIXES = ("", "f", "p", "n", "μ", "m", "c", "d", "h", "k", "M", "G", "T")
_PREFIXABLE = ("m", "g", "s", "A", "K", "mol", "cd", "Hz", "N", "Pa", "J", "W", "C", "V", "F", "Ω", "S", "T",
               "H", "rad", "L", "l", "bar", "eV", "Wh", "sr", "lm", "lx", "Bq", "Gy", "Sv", "t", "kat", "Wb")
_PLAIN = ("min", "h", "d", "°", "%", "ha", "au", "Da", "rpm", "rev", "knot", "nmi", "atm", "dB", "‰", "ml",
          "°C", "turn")
_SPELLED = {
    "deg": "°", "degs": "°", "degree": "°", "degrees": "°", "sec": "s", "secs": "s", "second": "s", "seconds": "s",
    "metre": "m", "metres": "m", "meter": "m", "meters": "m", "kilogram": "kg", "kilograms": "kg",
    "newton": "N", "newtons": "N", "joule": "J", "joules": "J", "watt": "W", "watts": "W",
    "hertz": "Hz", "pascal": "Pa", "pascals": "Pa", "minute": "min", "minutes": "min", "mins": "min",
    "hr": "h", "hrs": "h", "hour": "h", "hours": "h", "day": "d", "days": "d", "radian": "rad", "radians": "rad",
    "percent": "%", "litre": "L", "litres": "L", "liter": "L", "liters": "L", "l": "L",
    "tonne": "t", "tonnes": "t", "kilometre": "km", "kilometres": "km", "kilometer": "km", "kilometers": "km",
    "centimetre": "cm", "centimetres": "cm", "millimetre": "mm", "millimetres": "mm", "gram": "g", "grams": "g",
    "kgs": "kg",
    "kn": "knot", "kt": "knot", "knots": "knot", "kmh": "km/h", "kph": "km/h", "ms^-1": "m/s",
    "revolution": "rev", "revolutions": "rev", "revs": "rev", "turns": "turn", "AU": "au",
}

# Prefixes in words go before units in words; a word that also counts or orders things is no unit with a capital.
_PREFIX_WORDS = {"kilo": "k", "mega": "M", "giga": "G", "milli": "m", "micro": "μ", "nano": "n", "centi": "c"}
_SPELLED |= {
    word + name: sign + _SPELLED[name] for word, sign in _PREFIX_WORDS.items() for name in (
        "metre", "metres", "meter", "meters", "gram", "grams", "second", "seconds", "newton", "newtons", "joule",
        "joules", "watt", "watts", "pascal", "pascals", "hertz", "litre", "litres", "liter", "liters")}
_ALSO_WORDS = frozenset(("second", "minute", "hour", "day", "degree", "turns", "revolution"))

UNITS: frozenset[str] = frozenset(
    {p + u for u in _PREFIXABLE for p in _PREFIXES} | set(_PLAIN)
)

# Units that come to mind at once in a mechanics course. The others (Gm, pm, mg: all of them could be
# products of names) are units only where nothing else fits.
READY: frozenset[str] = words("""
    m km cm mm μm nm g kg s ms min h t N kN MN mN J kJ MJ W kW MW Pa kPa MPa GPa hPa bar Hz kHz MHz rad mrad sr
    L mL ml ° % deg rpm knot mol K °C C V A Wh kWh eV ha nmi rev AU GW GJ
""")


def unit_named(word: str) -> str | None:
    """The one spelling of a typed unit, or None: `deg` -> `°`, `sec` -> `s`."""
    if len(word) > 3 and word[0].isupper() and word[1:].islower() and word.lower() not in _ALSO_WORDS:
        word = word.lower() if word.lower() in _SPELLED else word  # `280 Joules`
    if word in _SPELLED:
        spelled = _SPELLED[word]
        return spelled if "/" not in spelled else None
    return word if word in UNITS else None


_FIRST = ("kg", "kN", "N", "kJ", "J", "kW", "W")
_LATER = ("m", "s", "h")


def run_together(word: str) -> tuple[str, ...]:
    """`Nm`, `kgm`, `Ns`, `kNm`: units typed without a space, or ()."""
    first = next((u for u in _FIRST if word.startswith(u)), "")
    rest = word[len(first):]
    together = first and rest and word not in UNITS and len(set(rest)) == len(rest) and set(rest) <= set(_LATER)
    return (first, *rest) if together else ()


def compound_named(word: str) -> tuple[str, str] | None:
    """`kph`, `kmh`: one word for a quotient of two units."""
    top, slash, bottom = _SPELLED.get(word, "").partition("/")
    return (top, bottom) if slash else None
