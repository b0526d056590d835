"""The ways a row of a table of symbols is typed, taken apart into names, what is said of them, and a note.

`m : kg, positive -- mass`, `m = mass of the barge (kg)`, `m [kg]`, `| m | kg | mass |`, `a, T, v`, `F: N, m: kg` and
`θ > 0` all declare names. What the pieces say (a unit, a sign, a value) is for derive.quantities.declarations.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from derive.notation.lexemes.cleaning import clean
from derive.notation.lexemes.letters import FUNCTIONS
from derive.notation.names import GREEK
from derive.quantities.units import UnreadUnit, parse_unit_text


@dataclass(frozen=True, slots=True)
class Declared:
    """One declaration as typed: its names, the pieces said of them, and its note."""

    names: tuple[str, ...]
    items: tuple[str, ...] = ()
    note: str = ""


@dataclass(frozen=True, slots=True)
class Related:
    """A row that relates quantities, and declares none: `F = m a`."""

    text: str


Taken = tuple[Declared | Related, ...]

NAME = re.compile(
    r"(?P<name>[^\W\d_][\w\u0300-\u036f\u20d7{}+\-]*?[\u0300-\u036f\u20d7]*(?P<primes>['’′″‴\"”]*))"
    r"(?:\(\s*(?P<of>[^\W\d][\w']*)\s*\))?\s*\Z"
)
NUMBER = re.compile(
    r"[-−+]?\s*(?:\d+(?:\.\d+)?|\.\d+)(?:[eE][-+−]?\d{1,3}|\s*[×*·]\s*10\s*(?:\^|\*\*)\s*\(?[-+−]?\d{1,3}\)?)?\s*")
SIGN = re.compile(r"[<>≤≥≠≪≫=≈~]")
NOTE = re.compile(r"\s(?:--+|—)\s*|\s#\s")
# What a list puts before its entries.
_ENTRY = re.compile(r"\s*(?:[-–*•+]\s+|\(?\d{1,3}[.)]\s+)")
_RULED = re.compile(r"[\s|:+=_-]*\Z")
_TITLES = frozenset(("symbol", "symbols", "name", "names", "variable", "quantity", "letter", "var"))
_CHANGE = re.compile(r"^(Delta|δ|Δ|delta)\s+(?=\S)")
_UNIT_BEHIND = re.compile(
    r"(?P<left>.+?)(?:\s*\[(?P<square>[^\[\]]+)\]|\s+\((?P<round>[^()]+)\)|\((?P<tight>[^()]+)\))\s*\Z")
_SAYING = re.compile(r"\s+(?:-|–|->|→|is|are|be|denotes?|means|stands\s+for|being)\s+", re.IGNORECASE)
_IN = re.compile(r"\s+(?:in|measured in)\s+", re.IGNORECASE)
# What tells a unit from a product of names after an equals sign.
_USUAL = re.compile(r"kg|rad|deg|\b[mNJWs]\b")
_COLUMNS = re.compile(r"\t+|\s{2,}")


def taken_apart(text: str) -> Taken | None:
    """What a row declares, () for a row that only rules or titles a table, None where nothing is declared."""
    body, note = _without_note(text)
    entry = _ENTRY.match(body)
    body = (body[entry.end():] if entry else body).replace("\uff1a", ":", 1).strip().replace("$", "")
    if _RULED.match(body):
        return ()
    found = _first(body, _FORMS)
    return None if found is None else tuple(_noted(x, note) for x in found)


def _noted(found: Declared | Related, note: str) -> Declared | Related:
    if isinstance(found, Related) or not note:
        return found
    return Declared(found.names, found.items, f"{found.note}; {note}" if found.note else note)


def _without_note(text: str) -> tuple[str, str]:
    found = NOTE.search(text)
    return (text[:found.start()], text[found.end():].strip()) if found else (text, "")


def folded(piece: str) -> str:
    r"""A name as typed without its commands: `\theta`, `Delta p`."""
    return _CHANGE.sub(r"\1", clean(piece.strip()).text.strip())


def is_name(piece: str) -> bool:
    return NAME.match(folded(piece)) is not None


def is_unit(piece: str) -> bool:
    return not isinstance(parse_unit_text(piece), UnreadUnit)


def is_measure(piece: str) -> bool:
    """A unit, or a number with one or none."""
    number = NUMBER.match(piece)
    return is_unit(piece[number.end():] if number else piece) or bool(number and not piece[number.end():].strip())


def items_of(right: str) -> list[str]:
    """The pieces between commas that stand in no bracket."""
    pieces, depth, start = [], 0, 0
    for position, character in enumerate(right):
        depth += (character in "([{") - (character in ")]}")
        if character in ",;" and depth <= 0:
            pieces.append(right[start:position])
            start = position + 1
    pieces.append(right[start:])
    return [piece.strip() for piece in pieces if piece.strip()]


def wordy(text: str) -> bool:
    """Letters only, and a word among them that is no function's and no letter's name."""
    pieces = text.replace("'", "").replace("-", " ").split()
    return all(p.isalpha() for p in pieces) and any(
        len(p) > 2 and p.isascii() and re.search(r"[aeiouy]", p.lower()) and p not in FUNCTIONS and p not in GREEK
        for p in pieces)


# --- the forms, the most telling first -------------------------------------------------------------------


def _cells(body: str) -> Taken | None:
    """`| m | kg | mass |`, or columns set apart by tabs or wide gaps."""
    if "|" in body.strip("|") and (body.startswith("|") or ":" not in body):
        cells = [cell.strip(" `*") for cell in body.strip("|").split("|")]
    elif ":" not in body and not SIGN.search(body):
        cells = _COLUMNS.split(body)
    else:
        return None
    if len(cells) < 2:
        return None
    if cells[0].lower() in _TITLES:
        return ()
    if all(map(_bare_name, cells)):
        return (Declared(tuple(cells)),)
    names = [n.strip() for n in cells[0].split(",")]
    if not all(map(is_name, names)):
        return None
    return (Declared(tuple(names), tuple(item for cell in cells[1:] for item in items_of(cell))),)


def _set_apart(body: str) -> Taken | None:
    """`m : kg ; F, P : N, W`: declarations with semicolons between them, each with a colon of its own."""
    parts = body.split(";")
    if len(parts) < 2 or not all(part.count(":") == 1 for part in parts):
        return None
    found = [_first(part.strip(), _FORMS) for part in parts]
    return None if any(x is None for x in found) else tuple(y for x in found if x is not None for y in x)


def _first(body: str, forms: Sequence[Callable[[str], Taken | None]]) -> Taken | None:
    """What the first form says that fits."""
    return next((x for form in forms if (x := form(body)) is not None), None)


def _several(body: str) -> Taken | None:
    """`m: kg, F: N` and `m (kg), F (N)`: a row of declarations."""
    rows: list[list[str]] = []
    bare: list[str] = []
    opened: set[str] = set()
    for piece in items_of(body):
        name = _opens(piece)
        if name and name not in opened:  # `g : m/s^2, g = 9.81` goes on about g
            opened.add(name)
            rows.append([*bare, piece])
            bare = []
        elif is_name(piece) and not (rows and (is_unit(piece) or wordy(piece))):
            bare.append(piece)
        elif not rows:
            return None
        else:
            rows[-1] += [*bare, piece]
            bare = []
    if len(rows) < 2 or bare:
        return None
    found: list[Declared | Related] = []
    for row in rows:
        one = _first(", ".join(row), _ONE)
        if one is None:
            return None
        found += one
    return tuple(found)


def _opens(piece: str) -> str:
    """The name that a declaration begins with here, with a colon, an equals sign or its unit in brackets, or ''."""
    left, sign, _ = piece.partition(":") if ":" in piece else piece.partition("=")
    if sign:
        return left.strip() if not SIGN.search(left) and is_name(left) else ""
    said = _SAYING.search(piece)
    if said is not None and is_name(piece[:said.start()]):
        return piece[:said.start()].strip()
    behind = _unit_behind(piece)
    return behind[0][0] if behind else ""


def _colon(body: str) -> Taken | None:
    left, colon, right = body.partition(":")
    if not colon:
        return None
    names = tuple(piece.strip() for piece in left.rstrip("=").split(","))  # `m := 2 kg` has its colon for a sign
    if right.startswith("="):
        return _said(left, right[1:])
    if not all(map(is_name, names)):
        return _behind_words(left, right) or (Declared(names, tuple(items_of(right))),)
    return (Declared(names, tuple(items_of(right))),)


def _behind_words(left: str, right: str) -> Taken | None:
    """`mass m : kg`; `mass of the barge: m (kg)`."""
    *words, last = left.split() or [""]
    if words and wordy(" ".join(words)) and is_name(last) and len(folded(last)) <= 3:
        return (Declared((last,), tuple(items_of(right)), " ".join(words)),)
    first, *more = items_of(right) or [""]
    behind = _unit_behind(first)
    named = behind[0] if behind else (first,)
    if wordy(left) and len(left.split()) > 1 and all(map(is_name, named)):
        return (Declared(named, (*behind[1:], *more) if behind else tuple(more), left.strip()),)
    return None


def _equals(body: str) -> Taken | None:
    """`m = mass of the barge (kg)`, `m = 2 kg`; any other equation declares nothing."""
    left, sign, right = body.partition("=")
    if not sign or SIGN.search(left) or SIGN.search(right):
        return None
    return _said(left.rstrip(":"), right)


def _said(left: str, right: str) -> Taken | None:
    names = tuple(piece.strip() for piece in left.split(","))
    if not all(map(is_name, names)):
        return _behind_words(left, right) or (Related(f"{left.strip()} = {right.strip()}"),)
    first = (items_of(right) or [""])[0]
    words = re.sub(r"[\[(][^\[\]()]*[\])]\s*\Z|/.*\Z", "", first)
    if NUMBER.match(first) or wordy(words) or (is_unit(first) and _USUAL.search(first)):
        return (Declared(names, tuple(items_of(right))),)
    return (Related(f"{left.strip()} = {right.strip()}"),)


def _range(body: str) -> Taken | None:
    """`m > 0, R, g > 0`, `0 < θ < π/2, small`: the names that each range is of, and what is said of them."""
    found: list[Declared] = []
    bare: list[str] = []
    for item in items_of(body) if SIGN.search(body) else ():
        name = _ranged(item)
        if name:
            found += [Declared((n,), (item if n == name else n + item.removeprefix(name),)) for n in (*bare, name)]
            bare = []
        elif found and not bare:
            found[-1] = Declared(found[-1].names, (*found[-1].items, item))
        elif is_name(item):
            bare.append(item)
        else:
            return None
    return tuple(found) if found and not bare else None


def _ranged(item: str) -> str:
    """The name that a range is of, or ''."""
    sides = [side.strip() for side in re.split(r"[<>≤≥≠≪≫=≈~]+", item)]
    named = [side for side in sides if is_name(side) and not _is_constant(side)] if len(sides) > 1 else []
    return "" if not named else named[-1] if len(sides) > 2 else named[0]


def _is_constant(side: str) -> bool:
    return folded(side) in ("π", "pi", "e")


def _saying(body: str) -> Taken | None:
    """`m - mass in kg`, `let m be the mass of the barge (kg)`, `m in kg`."""
    body = re.sub(r"\Alet\s+", "", body, flags=re.IGNORECASE)
    for pattern in (_SAYING, _IN):
        found = pattern.search(body)
        if found is None:
            continue
        names = tuple(piece.strip() for piece in body[:found.start()].split(","))
        right = body[found.end():]
        if all(map(is_name, names)) and (is_unit(right) or pattern is _SAYING):
            return (Declared(names, tuple(items_of(right))),)
    return None


def _unit_in_brackets(body: str) -> Taken | None:
    """`m [kg]`, `v(t) (m/s), positive`."""
    first, *more = items_of(body) or [""]
    behind = _unit_behind(first)
    return (Declared(behind[0], (behind[1], *more)),) if behind else None


def _unit_behind(piece: str) -> tuple[tuple[str, ...], str] | None:
    found = _UNIT_BEHIND.match(piece)
    if found is None or not is_name(found["left"]):
        return None
    unit = found["square"] or found["round"] or found["tight"]
    # `x(t)` is a function of t, though t is a unit as well; nothing is a function of N or m here.
    tight = found["tight"] and len(unit) == 1 and unit not in "NJWKm"
    return ((found["left"].strip(),), unit) if is_unit(unit) and not tight else None


def _bare(body: str) -> Taken | None:
    """`a, T, v(t)`: names whose units are left open; `m, kg, positive` says something of its first."""
    pieces = items_of(body)
    if not pieces or not is_name(pieces[0]) or wordy(pieces[0]):
        return None
    if all(map(_bare_name, pieces[1:])):
        return (Declared(tuple(pieces)),)
    return (Declared((pieces[0],), tuple(pieces[1:])),)


def _bare_name(piece: str) -> bool:
    """A name that no unit of more than a letter is called by: `T`, `m2`, `d(t)`, and not `kg`."""
    found = NAME.match(folded(piece))
    if found is None or wordy(piece):
        return False
    return found["of"] is not None or not is_unit(piece) or len(piece.rstrip("0123456789")) == 1


def _with_words(body: str) -> Taken | None:
    """`m mass of the barge`, `A m^2, positive`, `m kg positive`."""
    name, _, rest = body.partition(" ")
    if not is_name(name) or wordy(name) or not rest.strip():
        return None
    first, *more = items_of(rest)
    if wordy(first) and not is_unit(first.split()[0]):
        return (Declared((name,), (first, *more)),)
    pieces = list(pieces_of(first))
    return (Declared((name,), (*pieces, *more)),) if is_unit(pieces[0]) and _USUAL.search(pieces[0]) else None


_ONE: tuple[Callable[[str], Taken | None], ...] = (
    _colon, _saying, _equals, _range, _unit_in_brackets, _bare, _with_words)
_FORMS: tuple[Callable[[str], Taken | None], ...] = (_cells, _set_apart, _several, *_ONE)


def pieces_of(item: str) -> tuple[str, ...]:
    """`kg (mass of the barge)`, `mass in kg`, `N normal force`, `kg > 0`, `gravity = 9.8 m/s^2`: what is said of a
    quantity one thing after the other; an item by itself where it says one thing."""
    for split in (_bracket_behind, _related, _in_unit, _words_behind):
        pieces = split(item)
        if pieces is not None:
            return pieces
    return (item,)


def _bracket_behind(item: str) -> tuple[str, ...] | None:
    found = re.match(r"(?P<left>.+?)\s*[\[(](?P<inside>[^\[\]()]+)[\])]\s*\Z", item)
    if found is None:
        return None
    left, inside = found["left"], found["inside"]
    told = is_measure(left) or is_unit(inside) or (SIGN.search(left) and wordy(inside))
    return (*pieces_of(left), inside) if told else None


def _related(item: str) -> tuple[str, ...] | None:
    sign = SIGN.search(item)
    if sign is None:
        return None
    before, after = item[:sign.start()].strip(), item[sign.start():]
    return (before, after) if is_unit(before) or (wordy(before) and len(before) > 3) else (item,)


def _in_unit(item: str) -> tuple[str, ...] | None:
    joint = next((j for j in reversed(list(_IN.finditer(item))) if is_unit(item[j.end():])), None)
    return (item[:joint.start()], item[joint.end():]) if joint else None


def _words_behind(item: str) -> tuple[str, ...] | None:
    words = item.split()
    for size in range(len(words) - 1, 0, -1):
        unit, rest = " ".join(words[:size]), " ".join(words[size:])
        if all(len(w) < 3 or re.search(r"[/^\d²³]", w) for w in words[:size]) and wordy(rest) and is_measure(unit):
            return unit, rest
    return None
