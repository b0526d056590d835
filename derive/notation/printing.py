"""A tree as plain text that reads back as the same tree.

Brackets are written wherever the reader would group differently, so a printed line has one reading.
"""

from __future__ import annotations

from fractions import Fraction

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
)

# How tightly a piece of text holds together: a sum, a product, a factor, an atom.
SUM, PRODUCT, FACTOR, ATOM = 0, 1, 2, 3

_VULGAR = {Fraction(1, 2): "½", Fraction(1, 4): "¼", Fraction(3, 4): "¾", Fraction(1, 3): "⅓", Fraction(2, 3): "⅔",
           Fraction(1, 5): "⅕", Fraction(1, 6): "⅙", Fraction(5, 6): "⅚", Fraction(1, 8): "⅛", Fraction(3, 8): "⅜",
           Fraction(5, 8): "⅝", Fraction(7, 8): "⅞", Fraction(2, 5): "⅖", Fraction(3, 5): "⅗", Fraction(4, 5): "⅘"}
_HATS = {"x": "x̂", "y": "ŷ", "z": "ẑ", "r": "r̂", "θ": "θ̂"}


def as_text(node: object) -> str:
    """An expression, a claim or a statement as plain text."""
    match node:
        case Relation(sides, signs, carries_on):
            pieces = [] if carries_on else [_at_least(sides[0], SUM)]
            for sign, side in zip(signs, sides[1:], strict=True):
                pieces += [sign, _at_least(side, SUM)]
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
    if statement.role == "regime":
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
            return "-" + _at_least(arg, PRODUCT), SUM
        case PlusMinus(arg, upper):
            return ("±" if upper else "∓") + _at_least(arg, PRODUCT), SUM
        case Product(factors):
            return _product(factors), PRODUCT
        case Quotient(num, den):
            return f"{_top(num)}/{_bottom(den)}", PRODUCT
        case Power(base, exponent):
            return _power(base, exponent), FACTOR
        case Apply("abs", arg):
            return f"|{_text(arg)[0]}|" if "|" not in _text(arg)[0] else f"abs({_text(arg)[0]})", ATOM
        case Apply(function, arg):
            return f"{function}({_text(arg)[0]})", FACTOR
        case Vector(components):
            return "(" + ", ".join(_text(c)[0] for c in components) + ")", ATOM
        case UnitVector(axis):
            return _HATS.get(axis, axis), ATOM
        case Component(vector, axis):
            return f"{_at_least(vector, ATOM)}_{axis}", ATOM
        case Dot(left, right):
            return f"{_at_least(left, FACTOR)}·{_at_least(right, FACTOR)}", PRODUCT
        case Cross(left, right):
            return f"{_at_least(left, FACTOR)}×{_at_least(right, FACTOR)}", PRODUCT
    return _calculus(node)


def _calculus(node: object) -> tuple[str, int]:
    match node:
        case Value(function, args):
            return _at_least(function, ATOM) + "(" + ", ".join(_text(a)[0] for a in args) + ")", ATOM
        case Derivative():
            return _derivative(node)
        case Differential(body):
            return "d" + (_text(body)[0] if isinstance(body, Name) else f"({_text(body)[0]})"), FACTOR
        case Integral():
            return _integral(node), SUM
        case Between(body, lower, upper, wrt):
            name = f"{_text(wrt)[0]}=" if wrt is not None else ""
            return f"[{_text(body)[0]}]_{{{name}{_text(lower)[0]}}}^{{{name}{_text(upper)[0]}}}", FACTOR
    raise TypeError(f"not a tree: {type(node).__name__}")


def printed_name(ident: str) -> str:
    """A canonical name with braces around a subscript that would not end where it should."""
    base, joint, subscript = ident.partition("_")
    if not joint or subscript.rstrip("'").isalnum():
        return ident
    return f"{base}_{{{subscript.rstrip(chr(39))}}}" + "'" * (len(subscript) - len(subscript.rstrip("'")))


def _number(node: Num) -> tuple[str, int]:
    value, digit = node.value, node.last_digit
    if value < 0:
        return "-" + _number(Num(-value, digit))[0], SUM
    if digit is None:
        if value.denominator == 1:
            return str(value.numerator), ATOM
        if value in _VULGAR:
            return _VULGAR[value], ATOM
        return f"{value.numerator}/{value.denominator}", PRODUCT
    scaled = value / Fraction(10) ** digit
    if digit >= 0 or len(str(abs(scaled.numerator))) > 15:
        return _scientific(scaled, digit), ATOM
    whole = str(scaled.numerator).rjust(1 - digit, "0") if scaled.denominator == 1 else str(float(value))
    return f"{whole[:digit]}.{whole[digit:]}" if scaled.denominator == 1 else whole, ATOM


def _scientific(scaled: Fraction, digit: int) -> str:
    """`1.20×10^5`: figures that end at the power of ten `digit`."""
    figures = str(scaled.numerator)
    rest = figures[1:]
    point = f".{rest}" if rest else ""
    return f"{figures[0]}{point}e{digit + len(rest)}"


def _sum(terms: tuple[object, ...]) -> str:
    text = ""
    for at, term in enumerate(terms):
        sign, inner = " + ", term
        if isinstance(term, Neg):
            sign, inner = " - ", term.arg
        elif isinstance(term, PlusMinus):
            sign, inner = (" ± " if term.upper else " ∓ "), term.arg
        elif isinstance(term, Num) and term.value < 0:
            text += f"{' + ' if at else ''}({_text(term)[0]})"
            continue
        written = _at_least(inner, PRODUCT)
        text += (sign.strip() if sign != " + " else "") + written if at == 0 else sign + written
    return text


def _product(factors: tuple[object, ...]) -> str:
    """Factors with a dot between them wherever a space could be taken for something else."""
    quantity = len(factors) == 2 and isinstance(factors[0], Num) and _of_units(factors[1])
    pieces = [_factor_text(f, at == 0, quantity) for at, f in enumerate(factors)]
    if quantity:
        return f"{pieces[0]} {pieces[1]}"
    return "·".join(pieces)


def _factor_text(factor: object, first: bool, quantity: bool) -> str:
    if quantity and not first:
        return _text(factor)[0]
    if first and isinstance(factor, Quotient):
        return _text(factor)[0]
    return _at_least(factor, FACTOR)


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


def _top(node: object) -> str:
    return _at_least(node, PRODUCT)


def _bottom(node: object) -> str:
    return _at_least(node, FACTOR)


def _power(base: object, exponent: object) -> str:
    below = _at_least(base, ATOM)
    inner, binds = _text(exponent)
    return f"{below}^{inner}" if binds == ATOM else f"{below}^({inner})"


def _derivative(node: Derivative) -> tuple[str, int]:
    sign = "∂" if node.partial else "d"
    if isinstance(node.body, Name) and isinstance(node.wrt, Name) and node.wrt.ident == "t" and not node.partial:
        return _text(node.body)[0] + "'" * node.order, ATOM
    power = f"^{node.order}" if node.order > 1 else ""
    plain = isinstance(node.body, Name)
    body = _text(node.body)[0] if plain else f"({_text(node.body)[0]})"
    return f"({sign}{power}{body}/{sign}{_text(node.wrt)[0]}{power})", ATOM


def _integral(node: Integral) -> str:
    limits = ""
    if node.lower is not None and node.upper is not None:
        limits = f"_{{{_text(node.lower)[0]}}}^{{{_text(node.upper)[0]}}}"
    body = _at_least(node.body, FACTOR)
    return f"∫{limits} {body} {_text(Differential(node.wrt))[0]}"
