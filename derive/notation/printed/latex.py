"""A tree as LaTeX mathematics. Names come from a typed text, so every character that LaTeX would act on is
escaped or left out."""

from __future__ import annotations

from fractions import Fraction

from derive.notation.names import GREEK
from derive.notation.printed.printing import OPEN, PRODUCT, SUM, VULGAR, decimal_text
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
_SIGNS = {"≠": r"\neq", "≤": r"\leq", "≥": r"\geq", "≈": r"\approx", "∝": r"\propto", "≪": r"\ll", "≫": r"\gg",
          "⊥": r"\perp", "→": r"\to"}
_NAMED = {sign: name for name, sign in GREEK.items() if not name.startswith("var")}
# Capital Greek letters that LaTeX has no command for look like Latin ones.
_LATIN_CAPITALS = {"Alpha": "A", "Beta": "B", "Epsilon": "E", "Zeta": "Z", "Eta": "H", "Iota": "I", "Kappa": "K",
                   "Mu": "M", "Nu": "N", "Rho": "P", "Tau": "T", "Chi": "X", "lamda": "lambda", "Lamda": "Lambda"}
_FUNCTIONS = {"sqrt": "", "cbrt": "", "abs": "", "log10": r"\log_{10}", "sign": r"\operatorname{sign}",
              "arcsinh": r"\operatorname{arcsinh}", "arccosh": r"\operatorname{arccosh}",
              "arctanh": r"\operatorname{arctanh}", "re": r"\operatorname{Re}", "im": r"\operatorname{Im}",
              "conj": r"\operatorname{conj}"}
_MARKS = {"\u20d7": r"\vec", "\u0302": r"\hat", "\u0304": r"\bar", "\u0303": r"\tilde", "\u0307": r"\dot",
          "\u0308": r"\ddot"}
_ESCAPED = {"\\": r"\backslash ", "{": r"\{", "}": r"\}", "$": r"\$", "%": r"\%", "#": r"\#", "&": r"\&", "_": r"\_",
            "^": r"\wedge ", "~": r"\sim ", "°": r"^{\circ}"}


def as_latex(node: object) -> str:
    """An expression, a claim or a statement in LaTeX, without the dollar signs around it."""
    match node:
        case Relation(sides, signs, carries_on):
            pieces = [] if carries_on else [_latex(sides[0])[0]]
            for sign, side in zip(signs, sides[1:], strict=True):
                pieces += [_SIGNS.get(sign, sign), _latex(side)[0]]
            return " ".join(pieces)
        case Both(parts):
            return r",\; ".join(map(as_latex, parts))
        case Either(parts):
            return r"\;\text{or}\; ".join(map(as_latex, parts))
        case Statement(claim=claim):
            return as_latex(claim) if claim is not None else ""
    return _latex(node)[0]


def escaped(text: str) -> str:
    """Characters of a typed text that LaTeX would act on, made harmless in mathematics."""
    return "".join(_character(c) for c in text)


def _character(char: str) -> str:
    if char in _ESCAPED:
        return _ESCAPED[char]
    if char in _NAMED:
        name = _NAMED[char]
        return _LATIN_CAPITALS.get(name, f"\\{name} ")
    if char == "ℓ":
        return r"\ell "
    return char if char.isprintable() else ""


def _at_least(node: object, level: int) -> str:
    text, binds = _latex(node)
    return text if binds >= level else rf"\left({text}\right)"


def _latex(node: object) -> tuple[str, int]:
    """The LaTeX of an expression, and how tightly it holds together."""
    match node:
        case Num():
            return _number(node)
        case Name(ident):
            return latex_name(ident), ATOM
        case Constant(ident):
            return {"π": r"\pi", "∞": r"\infty", "e": r"\mathrm{e}", "i": r"\mathrm{i}"}[ident], ATOM
        case Unit(ident):
            return _unit(ident), ATOM
        case Sum(terms):
            return _sum(terms), SUM
        case Neg(arg):
            return "-" + _at_least(arg, OPEN), SUM
        case PlusMinus(arg, upper):
            return (r"\pm " if upper else r"\mp ") + _at_least(arg, OPEN), SUM
        case Product(factors):
            return _product(factors)
        case Quotient(num, den):
            return rf"\frac{{{_latex(num)[0]}}}{{{_latex(den)[0]}}}", FACTOR
        case Power(base, exponent):
            return _power(base, exponent), FACTOR
        case Apply(function, arg):
            return _apply(function, arg)
    return _vector(node)


def _vector(node: object) -> tuple[str, int]:
    match node:
        case Dot(left, right):
            return rf"{_at_least(left, FACTOR)} \cdot {_at_least(right, FACTOR)}", PRODUCT
        case Cross(left, right):
            return rf"{_at_least(left, FACTOR)} \times {_at_least(right, FACTOR)}", PRODUCT
        case Vector(components, "cartesian"):
            return r"\left(" + ",\\, ".join(_latex(c)[0] for c in components) + r"\right)", ATOM
        case Vector(components):
            axes = zip(components, ("r", "θ"), strict=False)
            return _latex(Sum(tuple(Product((c, UnitVector(axis))) for c, axis in axes)))
        case UnitVector(axis):
            return rf"\hat{{{escaped(axis)}}}", ATOM
        case Component(vector, axis):
            return f"{{{_at_least(vector, ATOM)}}}_{{{escaped(axis)}}}", ATOM
    return _calculus(node)


def _calculus(node: object) -> tuple[str, int]:
    match node:
        case Value(function, args):
            return _at_least(function, ATOM) + r"\left(" + ", ".join(_latex(a)[0] for a in args) + r"\right)", ATOM
        case Derivative():
            return _derivative(node), FACTOR
        case Differential(body):
            return r"\mathrm{d}" + _at_least(body, ATOM), FACTOR
        case Integral(body, wrt, lower, upper):
            limits = f"_{{{_latex(lower)[0]}}}^{{{_latex(upper)[0]}}}" if lower is not None else ""
            inside = "" if body == Num(Fraction(1)) else _at_least(body, PRODUCT) + r"\, "
            return rf"\int{limits} {inside}\mathrm{{d}}{_at_least(wrt, ATOM)}", OPEN
        case Between(body, lower, upper, wrt):
            name = _latex(wrt)[0] + "=" if wrt is not None else ""
            limits = f"_{{{name}{_latex(lower)[0]}}}^{{{name}{_latex(upper)[0]}}}"
            return rf"\left[{_latex(body)[0]}\right]{limits}", FACTOR
    raise TypeError(f"not a tree: {type(node).__name__}")


def latex_name(ident: str) -> str:
    """A name: marks over it, its subscript upright where it is a word, its primes last."""
    plain = ident.rstrip("'")
    primes = "'" * (len(ident) - len(plain))
    base, _, subscript = plain.partition("_")
    written = _marked(base)
    if subscript:
        word = len(subscript) > 1 and subscript.isalpha() and subscript.isascii()
        below = rf"\mathrm{{{escaped(subscript)}}}" if word else escaped(subscript)
        written += f"_{{{below.strip()}}}"
    return written + primes


def _marked(base: str) -> str:
    import unicodedata

    letters = unicodedata.normalize("NFD", base)
    core = "".join(c for c in letters if c not in _MARKS)
    written = escaped(core).strip()
    if len(core) > 1 and core.isascii() and core.isalpha():
        written = rf"\mathit{{{written}}}"
    for mark in (c for c in letters if c in _MARKS):
        written = f"{_MARKS[mark]}{{{written}}}"
    return written


def _unit(ident: str) -> str:
    if ident == "°":
        return r"^{\circ}"
    return rf"\mathrm{{{escaped(ident)}}}"


def _number(node: Num) -> tuple[str, int]:
    value = node.value
    if value < 0:
        return "-" + _number(Num(-value, node.last_digit))[0], SUM
    if node.last_digit is not None:
        figures, times, power = decimal_text(node).partition("×10")
        if not times:
            return figures, ATOM
        plain = power.translate(str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹⁻", "0123456789-"))
        return rf"{figures} \times 10^{{{plain}}}", PRODUCT
    if value.denominator == 1:
        return str(value.numerator), ATOM
    command = "tfrac" if value in VULGAR else "frac"
    return rf"\{command}{{{value.numerator}}}{{{value.denominator}}}", FACTOR


def _sum(terms: tuple[object, ...]) -> str:
    text = ""
    for at, term in enumerate(terms):
        sign, inner = "+", term
        if isinstance(term, Neg):
            sign, inner = "-", term.arg
        elif isinstance(term, PlusMinus):
            sign, inner = (r"\pm" if term.upper else r"\mp"), term.arg
        written = _at_least(inner, OPEN)
        text += (f"{sign} " if sign != "+" else "") + written if at == 0 else f" {sign} {written}"
    return text


def _product(factors: tuple[object, ...]) -> tuple[str, int]:
    text = ""
    for at, factor in enumerate(factors):
        last = at == len(factors) - 1
        written = _latex(factor)[0] if last and isinstance(factor, Integral) else _at_least(factor, FACTOR)
        figure = written[:1].isdigit() or isinstance(factor, Num)
        joint = "" if at == 0 or written.startswith("^") else r" \cdot " if figure else r"\, "
        text += joint + written
    return text, OPEN if isinstance(factors[-1], Integral) else PRODUCT


def _power(base: object, exponent: object) -> str:
    above = _latex(exponent)[0]
    if isinstance(base, Apply) and base.function not in ("sqrt", "cbrt", "abs") and not isinstance(exponent, Neg):
        return rf"{_function(base.function)}^{{{above}}}\left({_latex(base.arg)[0]}\right)"
    below = _at_least(base, ATOM)
    if "'" in below or isinstance(base, Derivative | Component):
        below = f"{{{below}}}"
    return f"{below}^{{{above}}}"


def _function(name: str) -> str:
    return _FUNCTIONS.get(name, f"\\{name}")


def _apply(function: str, arg: object) -> tuple[str, int]:
    inner = _latex(arg)[0]
    if function == "sqrt":
        return rf"\sqrt{{{inner}}}", ATOM
    if function == "cbrt":
        return rf"\sqrt[3]{{{inner}}}", ATOM
    if function == "abs":
        return rf"\left|{inner}\right|", ATOM
    return rf"{_function(function)}\left({inner}\right)", FACTOR


def _derivative(node: Derivative) -> str:
    if isinstance(node.body, Name) and node.wrt == Name("t") and not node.partial and node.order <= 2:
        base, _, _ = node.body.ident.partition("_")
        if len(base) == 1 and "'" not in node.body.ident:
            dots = r"\dot" if node.order == 1 else r"\ddot"
            return latex_name(node.body.ident).replace(escaped(base).strip(), f"{dots}{{{escaped(base).strip()}}}", 1)
    d = r"\partial" if node.partial else r"\mathrm{d}"
    power = f"^{{{node.order}}}" if node.order > 1 else ""
    below = f"{d} {_at_least(node.wrt, ATOM)}{power}"
    if isinstance(node.body, Name):
        return rf"\frac{{{d}{power} {_latex(node.body)[0]}}}{{{below}}}"
    return rf"\frac{{{d}{power}}}{{{below}}}\left({_latex(node.body)[0]}\right)"
