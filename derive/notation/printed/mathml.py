"""A tree as MathML for a page. Built as elements and serialised, so that nothing typed can become markup."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from xml.etree.ElementTree import Element, tostring

from derive.notation.printed.printing import OPEN, PARTS, PRODUCT, SUM, VULGAR, decimal_text
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

FACTOR, ATOM = PRODUCT + 1, PRODUCT + 2
_TIMES = "\u2062"  # invisible multiplication: screen readers say it, eyes see a thin space
_APPLIED = "\u2061"


def as_mathml(node: object) -> str:
    """An expression, a claim or a statement as one `<math>` element."""
    root = Element("math", {"xmlns": "http://www.w3.org/1998/Math/MathML"})
    root.append(_row(_claim(node)))
    return tostring(root, encoding="unicode")


def _claim(node: object) -> list[Element]:
    match node:
        case Relation(sides, signs, carries_on):
            parts = [] if carries_on else [_element(sides[0])]
            for sign, side in zip(signs, sides[1:], strict=True):
                parts += [_leaf("mo", sign), _element(side)]
            return parts
        case Both(parts=claims):
            return _listed(claims, _leaf("mo", ","))
        case Either(parts=claims):
            return _listed(claims, _leaf("mtext", " or "))
        case Statement(claim=claim):
            return _claim(claim) if claim is not None else []
    return [_element(node)]


def _listed(claims: Sequence[object], joint: Element) -> list[Element]:
    parts: list[Element] = []
    for at, claim in enumerate(claims):
        parts += ([joint] if at else []) + _claim(claim)
    return parts


def _leaf(tag: str, text: str, **more: str) -> Element:
    leaf = Element(tag, more)
    # Characters that XML forbids are not even escaped: they are left out.
    leaf.text = "".join(c for c in text if c.isprintable() or c in " \u2061\u2062")
    return leaf


def _branch(tag: str, *children: Element, **more: str) -> Element:
    branch = Element(tag, more)
    branch.extend(children)
    return branch


def _row(parts: Sequence[Element]) -> Element:
    return parts[0] if len(parts) == 1 else _branch("mrow", *parts)


def _bracketed(inner: Element, opening: str = "(", closing: str = ")") -> Element:
    return _branch("mrow", _leaf("mo", opening), inner, _leaf("mo", closing))


def _at_least(node: object, level: int) -> Element:
    built = _element(node)
    return built if _binds(node) >= level else _bracketed(built)


def _binds(node: object) -> int:
    """How tightly the built element holds together."""
    match node:
        case Sum() | Neg() | PlusMinus():
            return SUM
        case Num(value):
            return SUM if value < 0 else PRODUCT if node.last_digit is not None and "×" in decimal_text(node) else ATOM
        case Integral():
            return OPEN
        case Product(factors):
            return OPEN if isinstance(factors[-1], Integral) else PRODUCT
        case Dot() | Cross():
            return PRODUCT
        case Quotient() | Power() | Differential() | Between():
            return FACTOR
        case Derivative(body):
            return ATOM if isinstance(body, Name) and node.wrt == Name("t") and not node.partial else FACTOR
        case Apply(function):
            return ATOM if function in ("sqrt", "cbrt", "abs") else FACTOR
    return ATOM


def _element(node: object) -> Element:
    match node:
        case Num():
            return _number(node)
        case Name(ident):
            return _name(ident)
        case Constant(ident):
            return _leaf("mi", ident)
        case Unit(ident):
            return _leaf("mi", ident, mathvariant="normal")
        case Sum(terms):
            return _sum(terms)
        case Neg(arg):
            return _branch("mrow", _leaf("mo", "−"), _at_least(arg, OPEN))
        case PlusMinus(arg, upper):
            return _branch("mrow", _leaf("mo", "±" if upper else "∓"), _at_least(arg, OPEN))
        case Product(factors):
            return _product(factors)
        case Quotient(num, den):
            return _branch("mfrac", _element(num), _element(den))
        case Power(base, exponent):
            return _branch("msup", _at_least(base, ATOM), _element(exponent))
        case Apply(function, arg):
            return _apply(function, arg)
    return _vector(node)


def _vector(node: object) -> Element:
    match node:
        case Dot(left, right):
            return _branch("mrow", _at_least(left, FACTOR), _leaf("mo", "·"), _at_least(right, FACTOR))
        case Cross(left, right):
            return _branch("mrow", _at_least(left, FACTOR), _leaf("mo", "×"), _at_least(right, FACTOR))
        case Vector(components, "cartesian"):
            return _bracketed(_row(_listed(components, _leaf("mo", ","))))
        case Vector(components):
            axes = zip(components, ("r", "θ"), strict=False)
            return _element(Sum(tuple(Product((c, UnitVector(axis))) for c, axis in axes)))
        case UnitVector(axis):
            return _branch("mover", _leaf("mi", axis), _leaf("mo", "^"), accent="true")
        case Component(vector, axis):
            return _branch("msub", _at_least(vector, ATOM), _leaf("mi", axis))
    return _calculus(node)


def _calculus(node: object) -> Element:
    match node:
        case Value(function, args):
            return _branch("mrow", _at_least(function, ATOM), _leaf("mo", _APPLIED),
                           _bracketed(_row(_listed(args, _leaf("mo", ",")))))
        case Derivative():
            return _derivative(node)
        case Differential(body):
            return _branch("mrow", _leaf("mo", "d"), _at_least(body, ATOM))
        case Integral():
            return _integral(node)
        case Between(body, lower, upper, wrt):
            limits = [_element(x) if wrt is None else _branch("mrow", _element(wrt), _leaf("mo", "="), _element(x))
                      for x in (lower, upper)]
            return _branch("msubsup", _bracketed(_element(body), "[", "]"), *limits)
    raise TypeError(f"not a tree: {type(node).__name__}")


def _number(node: Num) -> Element:
    value = node.value
    if value < 0:
        return _branch("mrow", _leaf("mo", "−"), _number(Num(-value, node.last_digit)))
    if node.last_digit is not None:
        figures, times, power = decimal_text(node).partition("×10")
        if not times:
            return _leaf("mn", figures)
        plain = power.translate(str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹⁻", "0123456789−"))
        ten = _branch("msup", _leaf("mn", "10"), _leaf("mn", plain))
        return _branch("mrow", _leaf("mn", figures), _leaf("mo", "×"), ten)
    if value.denominator == 1:
        return _leaf("mn", str(value.numerator))
    if value in VULGAR:
        return _leaf("mn", VULGAR[value])
    return _branch("mfrac", _leaf("mn", str(value.numerator)), _leaf("mn", str(value.denominator)))


def _name(ident: str) -> Element:
    plain = ident.rstrip("'")
    base, _, subscript = plain.partition("_")
    written = _leaf("mi", base)
    primes = len(ident) - len(plain)
    if subscript:
        below = _leaf("mn" if subscript.isdigit() else "mi", subscript)
        if primes:
            return _branch("msubsup", written, below, _leaf("mo", "′" * primes))
        return _branch("msub", written, below)
    return _branch("msup", written, _leaf("mo", "′" * primes)) if primes else written


def _sum(terms: Sequence[object]) -> Element:
    parts: list[Element] = []
    for at, term in enumerate(terms):
        sign, inner = "+", term
        if isinstance(term, Neg):
            sign, inner = "−", term.arg
        elif isinstance(term, PlusMinus):
            sign, inner = ("±" if term.upper else "∓"), term.arg
        if at or sign != "+":
            parts.append(_leaf("mo", sign))
        parts.append(_at_least(inner, OPEN))
    return _row(parts)


def _product(factors: Sequence[object]) -> Element:
    parts: list[Element] = []
    for at, factor in enumerate(factors):
        if at:
            visible = isinstance(factor, Num) or (isinstance(factor, Power) and isinstance(factor.base, Num))
            parts.append(_leaf("mo", "·" if visible else _TIMES))
        open_end = at == len(factors) - 1 and isinstance(factor, Integral)
        parts.append(_element(factor) if open_end else _at_least(factor, FACTOR))
    return _row(parts)


def _apply(function: str, arg: object) -> Element:
    if function == "sqrt":
        return _branch("msqrt", _element(arg))
    if function == "cbrt":
        return _branch("mroot", _element(arg), _leaf("mn", "3"))
    if function == "abs":
        return _bracketed(_element(arg), "|", "|")
    named = _leaf("mi", PARTS.get(function, function))
    head = _branch("msub", _leaf("mi", "log"), _leaf("mn", "10")) if function == "log10" else named
    return _branch("mrow", head, _leaf("mo", _APPLIED), _bracketed(_element(arg)))


def _derivative(node: Derivative) -> Element:
    if isinstance(node.body, Name) and node.wrt == Name("t") and not node.partial:
        return _branch("msup", _name(node.body.ident), _leaf("mo", "′" * node.order))
    d = "∂" if node.partial else "d"
    top = _branch("msup", _leaf("mo", d), _leaf("mn", str(node.order))) if node.order > 1 else _leaf("mo", d)
    wrt = _at_least(node.wrt, ATOM)
    below = _branch("msup", wrt, _leaf("mn", str(node.order))) if node.order > 1 else wrt
    bottom = _branch("mrow", _leaf("mo", d), below)
    if isinstance(node.body, Name):
        return _branch("mfrac", _branch("mrow", top, _element(node.body)), bottom)
    return _branch("mrow", _branch("mfrac", top, bottom), _bracketed(_element(node.body)))


def _integral(node: Integral) -> Element:
    sign = _leaf("mo", "∫")
    if node.lower is not None and node.upper is not None:
        sign = _branch("msubsup", sign, _element(node.lower), _element(node.upper))
    parts = [sign]
    if node.body != Num(Fraction(1)):
        parts.append(_at_least(node.body, PRODUCT))
    return _branch("mrow", *parts, _leaf("mo", "d"), _at_least(node.wrt, ATOM))
