"""Rows of `Symbols:` — `θ : rad, 0 < θ < π/2, about 30° -- slope of the slipway` — to Symbols.

How a row is taken apart is for derive.quantities.table_rows; here is what its pieces say. A row that cannot be read
gives a Problem that says what to type; the other rows stand.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction

from derive.notation.names import ARROW, Scope, canonical
from derive.notation.reader import read_claim
from derive.notation.tree import Both, Claim, Name, Neg, Num, Product, Relation, Span, Unit, names_in, rebuilt
from derive.problems import problem
from derive.quantities.further import SIGNS, sign_of_all, sign_of_names, takes_sign, with_more
from derive.quantities.table_rows import NAME, NUMBER, SIGN, folded, pieces_of, taken_apart, wordy
from derive.quantities.table_rows import Declared as TypedRow
from derive.quantities.table_rows import Related as TypedRelation
from derive.quantities.units import UnreadUnit, known_unit, parse_unit_text
from derive.records import Dimension, Problem, Signed, Symbol, Unreadable

MOST_ROWS = 300  # ten times what the largest exercise declares
_LONGEST_ROW = 1000
_LARGEST_TYPICAL = 1e100
_MOST_SHOWN = 3
_FLAGS = ("whole", "integer", "vector", "constant", "scalar", "small")
_PLAIN_NUMBER = ("dimensionless", "unitless", "no unit", "no units", "none")
_WORDS = (*SIGNS, *_FLAGS)
_NEAR = 0.85  # `postive`, `integr`; further off is another word (`position`)
_RELATION_SIGN = re.compile(r"[<>≤≥≠≪≫=]")
_ABOUT = re.compile(
    r"(?:about|around|approx(?:imately|\.)?|typically|say|≈|~)\s*(?P<minus>[-−]?)(?P<number>\d+(?:\.\d+)?|\.\d+)"
    r"(?:(?:[eE]|\s*[×*·]\s*10\s*(?:\^|\*\*))\s*\(?(?P<ten>[-+−]?\d{1,3})\)?)?\s*(?P<unit>.*)\Z"
)


@dataclass(frozen=True, slots=True)
class _Row:
    """A declaration as far as it has been read: what it says of each of its names."""

    line: int
    names: tuple[tuple[str, str | None], ...]
    symbol: Symbol
    unit_given: bool = False
    problems: tuple[Problem, ...] = field(default=())
    notes: tuple[str, ...] = ()
    value: str = ""


@dataclass(frozen=True, slots=True)
class Declarations:
    """What rows declare. `problems`: what is wrong with rows; `notes`: words among the pieces, with their lines;
    `given`: what the rows state (`m = 2 kg`, `F = m a`), with their lines."""

    symbols: tuple[Symbol, ...] = ()
    problems: tuple[Problem, ...] = ()
    notes: tuple[tuple[int, str], ...] = ()
    given: tuple[tuple[int, str], ...] = ()


def declared(rows: Iterable[tuple[int, str]]) -> Declarations:
    """What numbered rows declare, each name once."""
    symbols: dict[str, Symbol] = {}
    problems: list[Problem] = []
    notes: list[tuple[int, str]] = []
    given: list[tuple[int, str]] = []
    for count, (line, text) in enumerate(rows):
        if count == MOST_ROWS:
            problems.append(problem("symbols.too_many", line, limit=str(MOST_ROWS)))
            break
        if (of_all := sign_of_all(text)) and symbols:
            sign, apart = of_all
            symbols = {
                n: replace(x, sign=sign) if takes_sign(x) and n not in apart else x for n, x in symbols.items()}
            continue
        if (of_names := sign_of_names(text)) and of_names[1] <= symbols.keys():
            sign, named = of_names
            symbols = {n: replace(x, sign=sign) if n in named else x for n, x in symbols.items()}
            continue
        row = read_row(text, line)
        problems.extend(row.problems)
        notes.extend(row.notes)
        given.extend(row.given)
        for symbol in row.symbols:
            if symbol.name in symbols and (said := with_more(symbols[symbol.name], symbol)) is not None:
                symbols[symbol.name] = said
            elif symbol.name in symbols:
                problems.append(problem("symbols.twice", line, name=symbol.name))
            else:
                symbols[symbol.name] = symbol
    return Declarations(tuple(symbols.values()), (*problems, *_taken(notes, given)), tuple(notes), tuple(given))


def _taken(notes: list[tuple[int, str]], given: list[tuple[int, str]]) -> Iterable[Problem]:
    """What is said once of all the words taken for notes, and once of all that was taken as given."""
    for code, pieces in (("read.notes", notes), ("read.given", given)):
        if pieces:
            shown = ", ".join(f"“{piece}”" for _, piece in pieces[:_MOST_SHOWN])
            yield problem(code, pieces[0][0], pieces=shown + (", …" if len(pieces) > _MOST_SHOWN else ""))


def read_row(text: str, line: int = 0) -> Declarations:
    """What one row declares."""
    if text.strip().startswith("#"):
        return Declarations()
    if len(text) > _LONGEST_ROW:
        return Declarations(problems=(problem("symbols.too_long", line, limit=str(_LONGEST_ROW)),))
    found, typed = taken_apart(text), text.strip()
    if found is None:
        return Declarations(problems=(problem("symbols.no_colon", line, _span(text, typed), typed=typed),))
    return _together([_declaration(x, text, line) for x in found])


def _declaration(typed: TypedRow | TypedRelation, text: str, line: int) -> Declarations:
    if isinstance(typed, TypedRelation):
        return Declarations(given=((line, typed.text),))
    names = [_name(piece) for piece in typed.names]
    bad = next((piece.strip() for piece, name in zip(typed.names, names, strict=True) if name is None), None)
    if bad is not None:
        at = bad or text.partition(":")[0].strip()
        return Declarations(problems=(problem("symbols.no_name", line, _span(text, bad), typed=at),))
    row = _Row(line, tuple(name for name in names if name is not None), Symbol("", note=typed.note))
    items = [piece for item in typed.items for piece in _pieces(row, item, text) if piece.strip()]
    units = [item for item in items if _as_unit(row, item, text) is not None]
    if len(units) == len(row.names) > 1:  # `m, k : kg, N/m, positive`: one for each, in their order
        others = [item for item in items if item not in units]
        each = zip(row.names, units, strict=True)
        return _together([_with_items(replace(row, names=(name,)), [unit, *others], text) for name, unit in each])
    # The unit first, wherever it stands: bounds and typical values are in it.
    return _with_items(row, sorted(items, key=lambda item: item not in units), text)


def _with_items(row: _Row, items: Iterable[str], text: str) -> Declarations:
    for item in items:
        row = _with_item(row, item, text)
    return _finished(row)


def _together(parts: Sequence[Declarations]) -> Declarations:
    return Declarations(
        tuple(s for part in parts for s in part.symbols), tuple(p for part in parts for p in part.problems),
        tuple(n for part in parts for n in part.notes), tuple(g for part in parts for g in part.given))


def _pieces(row: _Row, item: str, text: str) -> Iterable[str]:
    """An item, or what it says one after the other."""
    own = _name(SIGN.split(item, maxsplit=1)[0]) in row.names  # `g = 9.81`, `m > 0`: about the name, no unit
    whole = own or any(reading(row, item, text) for reading in (_as_word, _as_typical, _as_unit, _as_value))
    return (item,) if whole else pieces_of(item)


def _span(text: str, piece: str) -> Span | None:
    start = text.find(piece) if piece else -1
    return Span(start, start + len(piece)) if start >= 0 else None


def _name(piece: str) -> tuple[str, str | None] | None:
    """`m`, `x_0`, `v'`, `Delta p`, `y(t)`: the canonical name, and the variable it is a function of."""
    found = NAME.match(folded(piece))
    if found is None:
        return None
    return canonical(found["name"].replace(ARROW, "")), canonical(found["of"]) if found["of"] else None


# --- one function for each kind of item ---------------------------------------------------------------
# Each returns the row with the item taken in, or None where the item is not of its kind.


def _as_word(row: _Row, item: str, text: str) -> _Row | None:
    word = re.sub(r"\A(?:a|all|both|each) ", "", item.lower())
    word = word[:-1] if word[:-1] in _FLAGS else word  # `F, d : vectors`
    if word in SIGNS:
        return replace(row, symbol=replace(row.symbol, sign=SIGNS[word]))
    if word in ("whole", "integer", "whole number"):
        return replace(row, symbol=replace(row.symbol, whole=True))
    if word in _PLAIN_NUMBER:
        return replace(row, symbol=replace(row.symbol, unit="1", dimension=Dimension()), unit_given=True)
    if word == "vector":
        return replace(row, symbol=replace(row.symbol, vector=True))
    if word == "small":
        if row.symbol.dimension not in (None, Dimension()):
            return _complain(row, "symbols.small", text, item)
        bounds = tuple(Relation((Name(name), Num(Fraction(1))), ("≪",)) for name, _ in row.names[:1])
        return replace(row, symbol=replace(row.symbol, bounds=row.symbol.bounds + bounds))
    return row if word in ("constant", "scalar") else None


def _as_typical(row: _Row, item: str, text: str) -> _Row | None:
    if not re.match(r"(?:about|around|approx(?:imately)?|typically|say)\b|[≈~]", item):
        return None
    found = _ABOUT.match(item)
    if found is None and len(item.split()) > 2 and wordy(item):
        return replace(row, notes=(*row.notes, item))  # a moment of inertia `about the axle`
    if found is None:
        return _complain(row, "symbols.about", text, item)
    ten = int((found["ten"] or "0").replace("−", "-"))
    value = float(found["number"]) * 10.0 ** min(ten, 300) * (-1 if found["minus"] else 1)
    if abs(value) > _LARGEST_TYPICAL:
        return _complain(row, "symbols.about", text, item)
    scale = row.symbol.scale
    if found["unit"].strip():
        measure = parse_unit_text(found["unit"])
        if isinstance(measure, UnreadUnit):
            return _complain(row, "symbols.about", text, item)
        if row.symbol.dimension is not None and measure[0] != row.symbol.dimension:
            return _complain(row, "symbols.about_unit", text, item, unit=row.symbol.unit)
        scale = measure[1]
    return replace(row, symbol=replace(row.symbol, typical=value * float(scale)))


# `between 0 and π/2`, `from 0 to L`, `0..90°`.
_BETWEEN = re.compile(
    r"(?:between|from)\s+(?P<low>.+?)\s+(?:and|to)\s+(?P<high>.+)|(?P<least>[^.\s]+)\s*(?:\.{2,3}|…)\s*(?P<most>.+)",
    re.IGNORECASE)


def _as_bound(row: _Row, item: str, text: str) -> _Row | None:
    if (limits := _BETWEEN.fullmatch(item)) is not None:
        low, high = (limits["low"], limits["high"]) if limits["low"] else (limits["least"], limits["most"])
        return _as_bound(row, f"{low} < {row.names[0][0]} < {high}", text)
    if not _RELATION_SIGN.search(item) and not item.startswith("!="):
        return None
    names = [name for name, _ in row.names]
    typed = f"{names[0]} {item}" if re.match(r"(?:[<>≤≥≠≪≫=]|!=)", item) else item
    claim = read_claim(typed, Scope(symbols={name: Symbol(name) for name in names}, quick=True))
    bounds = [] if isinstance(claim, Unreadable) else _relations(claim)
    if not bounds or any(not _bounded(bound, names) for bound in bounds):
        return _complain(row, "symbols.bound", text, item)
    if any("=" in bound.signs for bound in bounds):
        return _as_value(row, typed.partition("=")[2].strip(), text) or _complain(row, "symbols.number", text, item)
    return replace(row, symbol=replace(row.symbol, bounds=row.symbol.bounds + tuple(bounds)))


def _as_unit(row: _Row, item: str, text: str) -> _Row | None:
    bare = item[1:-1].strip() if item[:1] + item[-1:] in ("[]", "()") else item
    measure = parse_unit_text(bare)
    if isinstance(measure, UnreadUnit):
        return None
    if row.unit_given:
        return _complain(row, "symbols.two_units", text, item)
    symbol = replace(row.symbol, unit="" if bare in ("-", "–", "—", "−") else bare,
                     dimension=measure[0], scale=measure[1])
    return replace(row, symbol=symbol, unit_given=True)


def _as_value(row: _Row, item: str, text: str) -> _Row | None:
    """`2 kg`: what the quantity is given to be, in its unit."""
    found = NUMBER.match(item)
    if found is None or (row.value and row.value != item):
        return None
    unit = item[found.end():].strip("[] ")
    if unit:
        measured = _as_unit(replace(row, unit_given=False), unit, text)
        if measured is None or (row.unit_given and measured.symbol.dimension != row.symbol.dimension):
            return None
        row = row if row.unit_given else measured
    return replace(row, value=f"{found[0].strip()} {unit or row.symbol.unit}".strip())


_READINGS: tuple[Callable[[_Row, str, str], _Row | None], ...] = (
    _as_word, _as_typical, _as_bound, _as_unit, _as_value)


def _with_item(row: _Row, item: str, text: str) -> _Row:
    for reading in _READINGS:
        taken = reading(row, item, text)
        if taken is not None:
            return taken
    first, *more = item.split()
    near = difflib.get_close_matches(first.lower(), _WORDS, n=1, cutoff=_NEAR) if len(more) < 2 else []
    if near and near[0] != first.lower():
        return _complain(row, "symbols.word", text, item, nearest=near[0])
    unread = parse_unit_text(item)
    assert isinstance(unread, UnreadUnit)
    if re.match(r"[-−]?\d", item):
        return _complain(row, "symbols.number", text, item)
    if not _tells(item, unread):
        return _complain(row, "symbols.unit", text, item, nearest=unread.nearest, hint=unread.hint)
    if first.lower() in SIGNS and (signed := _as_word(row, first, text)) is not None:
        row = signed  # `positive constant`
    return replace(row, notes=(*row.notes, item))


def _tells(item: str, unread: UnreadUnit) -> bool:
    """Are these words, and no unit slipped with the keyboard?"""
    if wordy(item) and len(item.split()) > 1:
        return True
    if wordy(item):
        return not unread.nearest or difflib.SequenceMatcher(None, item, unread.nearest).ratio() < _NEAR
    return len(re.findall(r"[^\W\d_]{3,}", item)) > 1


def _complain(row: _Row, code: str, text: str, item: str, **facts: str) -> _Row:
    found = problem(code, row.line, _span(text, item), typed=item, name=row.names[0][0], **facts)
    return replace(row, problems=(*row.problems, found))


# --- from what a row says to its symbols ----------------------------------------------------------------


def _relations(claim: Claim) -> list[Relation]:
    if isinstance(claim, Relation):
        return [claim]
    return [relation for part in claim.parts for relation in _relations(part)] if isinstance(claim, Both) else []


def _finished(row: _Row) -> Declarations:
    symbols = []
    names = [name for name, _ in row.names]
    for name, of in row.names:
        bounds = tuple(_in_si(bound, row.symbol) for bound in _bounds_of(name, names, row.symbol.bounds))
        symbol = replace(row.symbol, name=name, of=of, bounds=tuple(b for b in bounds if not _says_only_sign(b, name)))
        sign = _sign_from(bounds, name)
        symbols.append(replace(symbol, sign=sign) if sign and symbol.sign in ("real", "nonnegative") else symbol)
    note = "; ".join(x for x in (*row.notes, row.symbol.note) if x)
    given = tuple((row.line, f"{name} = {row.value}") for name, _ in row.names) if row.value else ()
    return Declarations(
        tuple(replace(s, note=note) for s in symbols), row.problems, tuple((row.line, x) for x in row.notes), given)


def _bounded(bound: Relation, names: Sequence[str]) -> list[str]:
    """The names of a row that a bound is about."""
    return [name for name in names if name in names_in(bound)]


def _bounds_of(name: str, names: Sequence[str], bounds: Sequence[Relation]) -> list[Relation]:
    """What is said of one name of a row: what is said of a single one of them is said of all, but where each has a
    range of its own (`α, β : 0 < α < π/2, 0 < β < π`) or one is compared with another (`m, M : m < M`)."""
    about = [_bounded(bound, names) for bound in bounds]
    if len({n for found in about for n in found}) > 1:
        return [bound for bound, found in zip(bounds, about, strict=True) if found[0] == name]
    return [_renamed(bound, found[0], name) for bound, found in zip(bounds, about, strict=True)]


def _renamed(bound: Relation, old: str, new: str) -> Relation:
    """The bound of one name of a row, said of another."""
    if old == new:
        return bound
    sides = tuple(Name(new) if side == Name(old) else side for side in bound.sides)
    return replace(bound, sides=sides)


def _in_si(bound: Relation, symbol: Symbol) -> Relation:
    """Bare numbers in a bound are in the row's own unit: `θ : deg, 0 < θ < 90`."""
    if symbol.scale == 1 or symbol.dimension is None:
        return bound
    ident = known_unit(symbol.unit)

    def with_unit(number: Num) -> Product | Num:
        if number.value == 0:
            return number
        return Product((number, Unit(ident))) if ident else replace(number, value=number.value * symbol.scale)

    change: dict[int, object] = {}
    for side in bound.sides:
        inner = side.arg if isinstance(side, Neg) else side
        if isinstance(inner, Num):
            change[id(inner)] = with_unit(inner)
    result = rebuilt(bound, change)
    assert isinstance(result, Relation)
    return result


def _against_zero(bound: Relation, name: str) -> Iterable[tuple[str, bool]]:
    """Each neighbouring pair `name sign number` of a chain, turned so that the name is on the left:
    the sign, and whether the number is 0."""
    turned = {"<": ">", ">": "<", "≤": "≥", "≥": "≤", "≠": "≠"}
    for left, sign, right in zip(bound.sides, bound.signs, bound.sides[1:], strict=False):
        if left == Name(name) and isinstance(right, Num) and sign in turned:
            yield sign, right.value == 0
        elif right == Name(name) and isinstance(left, Num) and sign in turned:
            yield turned[sign], left.value == 0


def _sign_from(bounds: Iterable[Relation], name: str) -> Signed | None:
    """The sign that bounds give a name."""
    by_sign: dict[str, Signed] = {">": "positive", "<": "negative", "≥": "nonnegative", "≤": "nonpositive",
                                  "≠": "nonzero"}
    for bound in bounds:
        for sign, is_zero in _against_zero(bound, name):
            if is_zero:
                return by_sign[sign]
            if sign in (">", "≥"):  # above a positive number
                return "positive"
    return None


def _says_only_sign(bound: Relation, name: str) -> bool:
    return len(bound.signs) == 1 and any(is_zero for _, is_zero in _against_zero(bound, name))
