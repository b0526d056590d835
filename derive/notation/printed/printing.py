"""A tree as plain text that reads back as the same tree.

Brackets and dots are written wherever the reader would group differently or offer a second reading, so
that a printed line is read as it was meant.
"""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

from derive.notation.tree import (
    Apply,
    Between,
    Both,
    Component,
    Constant,
    Cross,
    Derivative,
    Differential,
    Dot,
    Either,
    Integral,
    Name,
    Neg,
    Num,
    PlusMinus,
    Power,
    Product,
    Quotient,
    Relation,
    Statement,
    Sum,
    Unit,
    UnitVector,
    Value,
    Vector,
    walk,
)

# How tightly a piece of text holds together. OPEN is a product that ends in an integral: nothing may
# follow it in the same row.
SUM, OPEN, PRODUCT, FACTOR, ATOM = 0, 1, 2, 3, 4

VULGAR = {Fraction(1, 2): "½", Fraction(1, 4): "¼", Fraction(3, 4): "¾", Fraction(1, 3): "⅓", Fraction(2, 3): "⅔",
          Fraction(1, 5): "⅕", Fraction(1, 6): "⅙", Fraction(5, 6): "⅚", Fraction(1, 8): "⅛", Fraction(3, 8): "⅜",
          Fraction(5, 8): "⅝", Fraction(7, 8): "⅞", Fraction(2, 5): "⅖", Fraction(3, 5): "⅗", Fraction(4, 5): "⅘"}
HATS = {"x": "x\u0302", "y": "y\u0302", "z": "z\u0302", "r": "r\u0302", "θ": "θ\u0302"}
PARTS = {"re": "Re", "im": "Im"}
RAISED = str.maketrans("0123456789-", "⁰¹²³⁴⁵⁶⁷⁸⁹⁻")
# Functions whose power is written on the name: sin² θ.
_POWER_ON_NAME = frozenset(("sin", "cos", "tan", "cot", "sec", "csc", "sinh", "cosh", "tanh"))


def as_text(node: object) -> str:
    """An expression, a claim or a statement as plain text."""
    match node:
        case Relation(sides, signs, carries_on):
            pieces = [] if carries_on else [_text(sides[0])[0]]
            for sign, side in zip(signs, sides[1:], strict=True):
                pieces += [sign, _text(side)[0]]
            return " ".join(pieces)
        case Both(parts):
            return ", ".join(map(as_text, parts))
        case Either(parts):
            return " or ".join(map(as_text, parts))
        case Statement():
            return _statement(node)
    return _text(node)[0]


def _statement(statement: Statement) -> str:
    opening = {"let": "let ", "try": "try ", "suppose": "suppose "}.get(statement.role, "")
    claim = as_text(statement.claim) if statement.claim is not None else ""
    if statement.role == "regime" and statement.small:
        small = ", ".join(map(as_text, statement.small))
        return f"for small {small}: {claim}" if claim else f"for small {small}"
    if statement.where is not None and statement.where != statement.claim:
        word = "as" if statement.role == "limit" else "at"
        return f"{word} {as_text(statement.where)}: {claim}"
    return opening + claim


def _at_least(node: object, level: int) -> str:
    """The text of a node, bracketed where it holds together less tightly than asked."""
    text, binds = _text(node)
    return text if binds >= level else f"({text})"


def _text(node: object) -> tuple[str, int]:
    """The text of an expression, and how tightly it holds together."""
    match node:
        case Num():
            return _number(node)
        case Name(ident):
            return printed_name(ident), ATOM
        case Constant(ident) | Unit(ident):
            return ident, ATOM
        case Sum(terms):
            return _sum(terms), SUM
        case Neg(arg):
            return "-" + _at_least(arg, OPEN), SUM
        case PlusMinus(arg, upper):
            return ("±" if upper else "∓") + _at_least(arg, OPEN), SUM
        case Product(factors):
            return _product(factors)
        case Quotient(num, den):
            # The unit of a quantity would take a divisor to itself: 3 kg/m.
            top = f"({_text(num)[0]})" if _is_quantity(num) else _at_least(num, PRODUCT)
            return f"{top}/{_denominator(den)}", PRODUCT
        case Power(base, exponent):
            return _power(base, exponent)
        case Apply(function, arg):
            return _apply(function, arg)
    return _vector(node)


def _vector(node: object) -> tuple[str, int]:
    match node:
        case Dot(left, right):
            return f"{_at_least(left, FACTOR)}·{_at_least(right, FACTOR)}", PRODUCT
        case Cross(left, right):
            return f"{_at_least(left, FACTOR)}×{_at_least(right, FACTOR)}", PRODUCT
        case Vector(components, "cartesian"):
            return "(" + ", ".join(_text(c)[0] for c in components) + ")", ATOM
        case Vector(components):
            axes = zip(components, ("r", "θ"), strict=False)
            return _text(Sum(tuple(Product((c, UnitVector(axis))) for c, axis in axes)))
        case UnitVector(axis):
            return HATS.get(axis, axis), ATOM
        case Component(vector, axis):
            return f"{_at_least(vector, ATOM)}_{axis}", ATOM
    return _calculus(node)


def _calculus(node: object) -> tuple[str, int]:
    match node:
        case Value(function, args):
            return _function_name(function) + "(" + ", ".join(_text(a)[0] for a in args) + ")", ATOM
        case Derivative():
            return _derivative(node)
        case Differential(body):
            return "d" + (_text(body)[0] if isinstance(body, Name) else f"({_text(body)[0]})"), FACTOR
        case Integral():
            return _integral(node), OPEN
        case Between(body, lower, upper, wrt):
            name = f"{_text(wrt)[0]}=" if wrt is not None else ""
            return f"[{_text(body)[0]}]" + _limits(lower, upper, name, braces=True), FACTOR
    raise TypeError(f"not a tree: {type(node).__name__}")


def printed_name(ident: str) -> str:
    """A canonical name with braces around a subscript that would not end where it should."""
    base, joint, subscript = ident.partition("_")
    plain = subscript.rstrip("'")
    if not joint or (plain.isalnum() and (plain.isdigit() or not plain[0].isdigit())):
        return ident
    return f"{base}_{{{plain}}}" + "'" * (len(subscript) - len(plain))


# --- numbers ------------------------------------------------------------------------------------------------


def _number(node: Num) -> tuple[str, int]:
    value, digit = node.value, node.last_digit
    if value < 0:
        return "-" + _number(Num(-value, digit))[0], SUM
    if digit is None:
        if value.denominator == 1:
            return str(value.numerator), ATOM
        if value in VULGAR:
            return VULGAR[value], ATOM
        return f"{value.numerator}/{value.denominator}", PRODUCT
    return decimal_text(node), ATOM


def decimal_text(node: Num) -> str:
    """A decimal with the figures it was written with: 9.81, 1.20×10³."""
    digit = node.last_digit or 0
    scaled = node.value / Fraction(10) ** digit
    if scaled.denominator != 1:
        return repr(float(node.value))
    figures = str(scaled.numerator)
    if -12 < digit < 0:
        figures = figures.rjust(1 - digit, "0")
        return f"{figures[:digit]}.{figures[digit:]}"
    rest = f".{figures[1:]}" if len(figures) > 1 else ""
    return f"{figures[0]}{rest}×10{str(digit + len(figures) - 1).translate(RAISED)}"


# --- sums and products ------------------------------------------------------------------------------------------


def _sum(terms: tuple[object, ...]) -> str:
    text = ""
    for at, term in enumerate(terms):
        sign, inner = " + ", term
        if isinstance(term, Neg):
            sign, inner = " - ", term.arg
        elif isinstance(term, PlusMinus):
            sign, inner = (" ± " if term.upper else " ∓ "), term.arg
        written = _at_least(inner, OPEN)
        text += (sign.strip() if sign != " + " else "") + written if at == 0 else sign + written
    return text


def _product(factors: tuple[object, ...]) -> tuple[str, int]:
    """Factors side by side; a dot where a space could be taken for something else."""
    if _is_amount(factors):
        gap = "" if factors[1] == Unit("°") else " "
        number = _text(factors[0])[0]
        return (number if isinstance(factors[0], Num) else f"({number})") + gap + _units(factors[1]), PRODUCT
    text = _first_factor(factors[0])
    for before, factor in pairwise(factors):
        open_end = factor is factors[-1] and isinstance(factor, Integral)
        written = _text(factor)[0] if open_end else _factor(factor)
        text += _gap(before, factor, written) + written
    return text, OPEN if isinstance(factors[-1], Integral) else PRODUCT


def _first_factor(factor: object) -> str:
    return _text(factor)[0] if isinstance(factor, Quotient) else _factor(factor)


def _factor(factor: object) -> str:
    if isinstance(factor, Derivative):
        return _text(factor)[0]
    return _at_least(factor, FACTOR)


def _gap(before: object, factor: object, written: str) -> str:
    """What stands between two factors."""
    if isinstance(before, Num):
        if factor == Constant("π"):
            return ""
        fraction = before.last_digit is None and before.value in VULGAR
        apart = (fraction and isinstance(factor, Name | Constant | Power)) or isinstance(factor, Apply | Integral)
        return " " if apart and not written.startswith("(") and not isinstance(getattr(factor, "base", 0), Num) else "·"
    plain_before = isinstance(before, Name | Constant | Power | Apply | Derivative | Differential | Value)
    if not plain_before or written.startswith(("(", "[")) or isinstance(factor, Num | Unit):
        return "·"
    if isinstance(factor, Power) and isinstance(factor.base, Num | Unit):
        return "·"
    if isinstance(before, Name) and before.ident in ("d", "Δ", "δ", "Delta"):
        return "·"
    if isinstance(before, Power) and isinstance(before.base, Num | Unit):
        return "·"
    return " "


def _is_quantity(node: object) -> bool:
    return isinstance(node, Product) and _is_amount(node.factors)


def _is_amount(factors: tuple[object, ...]) -> bool:
    """A number, or what is worked out from numbers, and its unit."""
    return len(factors) == 2 and _of_numbers(factors[0]) and _of_units(factors[1])


def _of_numbers(node: object) -> bool:
    match node:
        case Num():
            return True
        case Sum(terms=parts) | Product(factors=parts):
            return all(map(_of_numbers, parts))
        case Quotient(num, den):
            return _of_numbers(num) and _of_numbers(den)
    return False


def _of_units(node: object) -> bool:
    match node:
        case Unit():
            return True
        case Product(factors):
            return all(map(_of_units, factors))
        case Quotient(num, den):
            return _of_units(num) and _of_units(den)
        case Power(base, _):
            return _of_units(base)
    return False


def _units(node: object) -> str:
    """Units with a space between factors: `N m`, `kg m/s²`."""
    match node:
        case Product(factors):
            return " ".join(map(_units, factors))
        case Quotient(num, den):
            below = _units(den)
            return f"{_units(num)}/{below}" if isinstance(den, Unit | Power) else f"{_units(num)}/({below})"
    return _text(node)[0]


def _denominator(node: object) -> str:
    """What is divided by; a differential is bracketed, for dm/dx is a derivative."""
    inner = node.base if isinstance(node, Power) else node
    text = _at_least(node, FACTOR)
    return f"({text})" if isinstance(inner, Differential) else text


def _power(base: object, exponent: object) -> tuple[str, int]:
    raised = _small_exponent(exponent)
    if isinstance(base, Apply) and base.function in _POWER_ON_NAME and raised and not isinstance(exponent, Neg):
        return f"{base.function}{raised}({_text(base.arg)[0]})", FACTOR
    below = _at_least(base, ATOM)
    if isinstance(base, Num) and ("×" in below or below.endswith("10")):
        below = f"({below})"  # 3·10² would be read as one number
    if raised:
        return below + raised, FACTOR
    inner, binds = _text(exponent)
    alone = binds == ATOM and isinstance(exponent, Name | Num | Constant)
    return f"{below}^{inner}" if alone else f"{below}^({inner})", FACTOR


def _small_exponent(exponent: object) -> str:
    """An integer exponent as raised figures, '' for any other."""
    negative = isinstance(exponent, Neg)
    inner = exponent.arg if isinstance(exponent, Neg) else exponent
    if isinstance(inner, Num) and inner.last_digit is None and inner.value.denominator == 1 and inner.value >= 0:
        return ("⁻" if negative else "") + str(inner.value.numerator).translate(RAISED)
    return ""


def _apply(function: str, arg: object) -> tuple[str, int]:
    inner = _text(arg)[0]
    if function == "abs":
        return (f"|{inner}|" if "|" not in inner else f"abs({inner})"), ATOM
    if function == "sqrt":
        return f"√({inner})", FACTOR
    return f"{PARTS.get(function, function)}({inner})", FACTOR


# --- calculus -----------------------------------------------------------------------------------------------------


def _function_name(function: object) -> str:
    """What stands before the bracket of a value: a name, with primes for its derivatives."""
    if isinstance(function, Derivative) and isinstance(function.body, Name):
        return _text(function.body)[0] + "'" * function.order
    return _at_least(function, ATOM)


def _derivative(node: Derivative) -> tuple[str, int]:
    simple = isinstance(node.body, Name) and "'" not in node.body.ident
    if simple and node.wrt == Name("t") and not node.partial:
        return _text(node.body)[0] + "'" * node.order, ATOM
    sign = "∂" if node.partial else "d"
    power = str(node.order).translate(RAISED) if node.order > 1 else ""
    body = _text(node.body)[0] if isinstance(node.body, Name) else f"({_text(node.body)[0]})"
    below, binds = _text(node.wrt)
    below = below if binds == ATOM else f"({below})"
    return f"{sign}{power}{body}/{sign}{below}{power}", PRODUCT


def _integral(node: Integral) -> str:
    limits = ""
    if node.lower is not None and node.upper is not None:
        limits = _limits(node.lower, node.upper)
    close = _text(Differential(node.wrt))[0]
    if node.body == Num(Fraction(1)):
        return f"∫{limits} {close}"
    body, binds = _text(node.body)
    # A differential inside the body would be taken for the one that ends the integral.
    closed = binds >= PRODUCT and not any(isinstance(part, Differential | Unit) for part in walk(node.body))
    return f"∫{limits} {body if closed else f'({body})'} {close}"


def _limits(lower: object, upper: object, name: str = "", braces: bool = False) -> str:
    """`_0^d`, with braces around what is more than one sign, or where anything may follow without a space."""
    parts = [name + _text(limit)[0] for limit in (lower, upper)]
    below, above = (p if len(p) == 1 and not braces else f"{{{p}}}" for p in parts)
    return f"_{below}^{above}"
