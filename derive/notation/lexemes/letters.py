"""A run of letters typed without a space: which names, functions and signs it is made of.

`mgsinθ` is m, g, the function sin and θ; what it is depends on the declared names, longest first.
This room splits one run; it does not know what stands around it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from derive.notation.lexemes.cleaning import MARKS
from derive.notation.lexemes.joined import TOGETHER
from derive.notation.lists.vocabulary import JOINING, PROSE
from derive.notation.names import ARROW, GREEK, SHORT_GREEK, SUBSCRIPT_SIGNS, SUFFIXES, Scope, canonical

FUNCTIONS: dict[str, str] = {
    **{f: f for f in ("sin", "cos", "tan", "cot", "sec", "csc", "sinh", "cosh", "tanh", "exp", "ln", "sqrt",
                      "cbrt", "abs", "sign", "log10", "arcsin", "arccos", "arctan", "arcsinh", "arccosh", "arctanh")},
    "cosec": "csc", "ctg": "cot", "tg": "tan", "log": "log", "lg": "log10", "sgn": "sign", "root": "sqrt",
    "ℜ": "re", "ℑ": "im", "arg": "arg", "conj": "conj",
    "asin": "arcsin", "acos": "arccos", "atan": "arctan", "asinh": "arcsinh", "acosh": "arccosh", "atanh": "arctanh",
    "arsinh": "arcsinh", "arcosh": "arccosh", "artanh": "arctanh", "arcsinh": "arcsinh",
}
# `asinθ` may be arcsin or a times sine: both are offered.
_TWOFOLD = frozenset(("asin", "acos", "atan", "asinh", "acosh", "atanh"))
_CONSTANTS = {"π": "π", "pi": "π", "e": "e", "i": "i", "∞": "∞", "inf": "∞", "infinity": "∞"}

# Names that a general solution or an integral brings along without declaring them.
_FREE_CONSTANTS = frozenset(["A", "B", "C", "D", "K", "φ", "δ", "const", "constant"])

Kind = Literal["name", "func", "const", "d", "partial", "unitvec", "num", "unknown"]
_AXES = {"x": "x", "y": "y", "z": "z", "i": "x", "j": "y", "k": "z", "r": "r", "θ": "θ"}
_LONGEST = 24  # no name that a person types is longer; keeps splitting linear in the run's length


@dataclass(frozen=True, slots=True)
class Piece:
    """One part of a run: `start` and `end` count from the run's first character.

    ident: the canonical name, the function, or the constant.   order: how many primes or dots.
    """

    kind: Kind
    ident: str
    start: int
    end: int
    order: int = 0


@dataclass(frozen=True, slots=True)
class Habits:
    """The ways in which one run can be split differently."""

    d_is_name: bool = False       # `dx` is d times x
    inverse_apart: bool = False   # `asinθ` is a sin θ
    before_caret: bool = False    # a power sign follows the run: `e^…`


def is_letter(char: str) -> bool:
    return (char.isalpha() or char == "∂" or char == "∞") and char not in SUBSCRIPT_SIGNS and char not in _RAISED


_RAISED = "ⁿⁱᵃᵇᶜᵈᵉᶠᵍʰʲᵏˡᵐᵒᵖʳˢᵗᵘᵛʷˣʸᶻᵝᵞᵟᶿᵠᵡªº"


def split(run: str, scope: Scope, habits: Habits = Habits()) -> tuple[Piece, ...]:
    """The run as pieces; where no split covers it, one piece of kind 'unknown' for the whole run."""
    if run == "d" and not (scope.knows("d") or scope.quick or scope.free):
        return (Piece("d", "d", 0, 1),)
    whole = _exact(run, scope) or _in_words(run, scope)
    if whole is not None:
        return (whole,)
    cover = _cover(run, scope, habits)
    if cover is None or (len(cover) > 1 and _is_a_word(run) and not _known(cover, scope)):
        return (Piece("unknown", run, 0, len(run)),)
    return cover


def _known(pieces: tuple[Piece, ...], scope: Scope) -> bool:
    return all(p.kind != "name" or scope.knows(p.ident) for p in pieces)


def _is_a_word(run: str) -> bool:
    """`that`, `then`: a word of the language, and no product of names nobody has declared."""
    return len(run) > 2 and run.lower() in PROSE | JOINING




def _exact(run: str, scope: Scope) -> Piece | None:
    """A run that is one declared name from end to end."""
    name = canonical(run)
    return Piece("name", name, 0, len(run)) if scope.knows(name) else None


def _in_words(run: str, scope: Scope) -> Piece | None:
    """`work_done`, `KE_lost` where nobody declared it: a name made of words, and no product that ends in `k_done`."""
    stem, joined, _ = run.partition("_")
    if not (scope.quick or scope.free) or not joined or not run.replace("_", "").rstrip("0123456789").isalpha():
        return None
    wordy = len(stem) > 2 and any(c in "aeiou" for c in stem.lower()[1:])
    if (not wordy or stem in GREEK or stem in FUNCTIONS) and stem not in TOGETHER:
        return None
    return Piece("name", canonical(run.rstrip("_")), 0, len(run))


def _cover(run: str, scope: Scope, habits: Habits) -> tuple[Piece, ...] | None:
    """Longest pieces first, stepping back where the rest cannot be covered (own stack, no recursion)."""
    dead: set[int] = set()
    path: list[Piece] = []
    open_choices = [_candidates(run, 0, scope, habits, None)]
    while open_choices:
        piece = next(open_choices[-1], None)
        if piece is None:
            open_choices.pop()
            if path:
                dead.add(path.pop().end)
            continue
        if piece.end in dead:
            continue
        path.append(piece)
        if piece.end == len(run):
            return tuple(path)
        open_choices.append(_candidates(run, piece.end, scope, habits, piece))
    return None


def _candidates(run: str, at: int, scope: Scope, habits: Habits, before: Piece | None) -> Iterator[Piece]:
    """What can start at `at`, the longest first; at equal length declared names before functions."""
    if run[at].isdigit():
        end = at
        while end < len(run) and run[end].isdigit():
            end += 1
        if before is not None and before.kind == "func":
            yield Piece("num", run[at:end], at, end)
        return
    found: list[tuple[int, int, Piece]] = []
    for end in _name_ends(run, at):
        piece = _declared(run, at, end, scope)
        if piece is not None:
            found.append((-end, 0, piece))
    for rank, piece in enumerate(_known_words(run, at, habits), start=1):
        found.append((-piece.end, rank, piece))
    if run[at] == "∂":
        found.append((-at - 1, 0, Piece("partial", "∂", at, at + 1)))
    elif run[at] == "d" and not habits.d_is_name and at + 1 < len(run) and is_letter(run[at + 1]):
        found.append((-at - 1, -1, Piece("d", "d", at, at + 1)))
    free = _undeclared(run, at, scope)
    if free is not None:
        found.append((-free.end, 9, free))
    seen: set[tuple[str, str, int]] = set()
    for _, _, piece in sorted(found, key=lambda row: row[:2]):
        key = (piece.kind, piece.ident, piece.end)
        # Without declarations a lone e is a name (a coefficient of restitution); raised, or once raised, the number.
        euler = piece.ident != "e" or piece.kind != "const" or not scope.quick or habits.before_caret or scope.euler
        if key not in seen and euler:
            seen.add(key)
            yield piece


def _marks_end(run: str, at: int) -> int:
    while at < len(run) and run[at] in MARKS:
        at += 1
    return at


def _name_ends(run: str, at: int) -> list[int]:
    """Where a name that starts at `at` may end: after letters, a subscript, primes."""
    ends: list[int] = []
    here = at
    while here < len(run) and is_letter(run[here]) and here - at < _LONGEST:
        here = _marks_end(run, here + 1)
        ends.append(here)
    for stem in tuple(ends):
        ends += _tails(run, stem)
    return sorted(set(ends), reverse=True)


def _tails(run: str, at: int) -> Iterator[int]:
    """Ends of a subscript and of primes, in either order, after a stem that ends at `at`."""
    primes = _primes_end(run, at)
    if primes > at:
        yield primes
    for end in _subscript_ends(run, at):
        yield end
        if (further := _further_index(run, at, end)) > end:
            yield further
        if _primes_end(run, end) > end:
            yield _primes_end(run, end)
    if primes > at:
        yield from _subscript_ends(run, primes)


def _further_index(run: str, at: int, end: int) -> int:
    """End of what is said of a numbered name behind an underscore, `v1_x`, `K2_after`; `end` where nothing is."""
    if "_" in run[at:end] or run[end:end + 1] != "_":
        return end
    if run[end + 1:] in SUFFIXES:
        return len(run)
    return end + 2 if run[end + 1:end + 2] in ("x", "y", "z") else end


def _primes_end(run: str, at: int) -> int:
    while at < len(run) and run[at] == "'":
        at += 1
    return at


def _subscript_ends(run: str, at: int) -> list[int]:
    if at >= len(run):
        return []
    if run[at] == "_":
        if run[at + 1:at + 2] == "{":
            close = run.find("}", at)
            return [close + 1] if close > 0 else []
        end = at + 1
        while end < len(run) and (run[end].isalnum() or run[end] in MARKS or run[end] == "∞") and end - at <= _LONGEST:
            end += 1
        return list(range(end, at + 1, -1))
    end = at
    kind = str.isdigit if run[at].isdigit() and run[at] not in SUBSCRIPT_SIGNS else SUBSCRIPT_SIGNS.__contains__
    while end < len(run) and kind(run[end]):
        end += 1
    return [end] if end > at else []


def _declared(run: str, at: int, end: int, scope: Scope) -> Piece | None:
    """A declared name, or the derivative of one by primes or dots, or the component of a vector."""
    typed = run[at:end]
    name = canonical(typed)
    if typed in SHORT_GREEK and not _SHORT.match(run, at):
        return None  # `the`
    if scope.knows(name):
        return Piece("name", name, at, end)
    plain, order = _without_marks(typed)
    change = plain[:1] if plain[:1] in "ΔδΣ" else ""
    if plain.removeprefix(change) in scope.indexed:
        return Piece("name", change + scope.spelt(plain.removeprefix(change)), at, end, order)
    if order and _is_another(typed, plain, scope):
        return Piece("name", name, at, end)
    if order and scope.knows(canonical(plain)):
        return Piece("name", canonical(plain), at, end, order)
    stem, _, axis = canonical(plain).partition("_")
    for vector in (stem, stem + ARROW):  # a_r is said of a⃗ too
        if axis in ("x", "y", "z", "r", "θ") and scope.is_vector(vector):
            return Piece("name", f"{vector}_{axis}", at, end, order)
    whole = canonical(plain)
    if whole[-1:] in ("x", "y", "z") and scope.is_vector(whole[:-1]) and "_" in whole:  # `v1_x`, of the vector v1
        return Piece("name", whole, at, end, order)
    return None


def _without_marks(typed: str) -> tuple[str, int]:
    """A typed name without its primes and dots, and how often it is differentiated by them."""
    dots = {"\u0307": 1, "\u0308": 2, "\u20db": 3, "'": 1}
    order = sum(dots.get(c, 0) for c in typed)
    return "".join(c for c in typed if c not in dots), order


@lru_cache(maxsize=4096)
def _known_words(run: str, at: int, habits: Habits) -> tuple[Piece, ...]:
    """Functions, constants and unit vectors that start here."""
    found: list[Piece] = []
    if run[at:at + 2] == "√":
        return ()
    end = _marks_end(run, at + 1)
    if "\u0302" in run[at + 1:end]:
        axis = _AXES.get(run[at])
        if axis:
            found.append(Piece("unitvec", axis, at, end))
    for size in range(min(_LONGEST, len(run) - at), 0, -1):
        word = run[at:at + size]
        if _marks_end(run, at + size) > at + size:
            continue
        lower = word.lower() if size > 2 else word
        product = lower in _TWOFOLD and (habits.inverse_apart or word != lower)  # Acosωt is A cos ωt
        if lower in FUNCTIONS and not product:
            found.append(_function(run, at, size, lower))
        elif word in _CONSTANTS and not (size == 1 and _tail_follows(run, at + size)):
            found.append(Piece("const", _CONSTANTS[word], at, at + size))
    return tuple(found)


def _function(run: str, at: int, size: int, word: str) -> Piece:
    for tail in ("_10", "_{10}", "₁₀"):
        if word == "log" and run[at + size:].startswith(tail):
            return Piece("func", "log10", at, at + size + len(tail))
    return Piece("func", FUNCTIONS[word], at, at + size)


def _tail_follows(run: str, at: int) -> bool:
    return at < len(run) and (run[at] in "_'" or run[at].isdigit() or run[at] in SUBSCRIPT_SIGNS)


def _undeclared(run: str, at: int, scope: Scope) -> Piece | None:
    """A name nobody declared, where such names are allowed."""
    if run[at + 1:at + 2] == "∞" and is_letter(run[at]):  # `v∞`, which is no product anywhere
        return Piece("name", canonical(f"{run[at]}_∞"), at, at + 2)
    stem = (_greek_word(run, at, scope) or _written_together(run, at, scope) or _stem_with_suffix(run, at, scope)
            or _marks_end(run, at + 1))
    if run[at] in "∂∞":
        return None
    end = stem
    subscripts = _subscript_ends(run, stem)
    primes_first = _primes_end(run, stem)
    if subscripts:
        end = _usual_subscript(run, stem, subscripts)
        end = _further_index(run, stem, end)
    elif primes_first > stem:
        later = _subscript_ends(run, primes_first)
        end = _usual_subscript(run, primes_first, later) if later else primes_first
        if run[primes_first:] in ("max", "min"):  # x'max
            return Piece("name", f"{canonical(run[at:stem])}_{run[primes_first:]}", at, len(run), primes_first - stem)
    end = _primes_end(run, end)
    plain, order = _without_marks(run[at:end])
    name = canonical(plain)
    if order and _is_another(run[at:end], plain, scope):
        return Piece("name", canonical(run[at:end]), at, end)
    word = canonical(run[at:at + 8]) if run[at:at + 5] == "const" else ""
    if word in ("const", "constant") and at + len(word) == len(run):
        return Piece("name", "const", at, len(run))
    if scope.quick or scope.free:
        return Piece("name", name, at, end, order)
    base, _, subscript = name.partition("_")
    constant = base in _FREE_CONSTANTS or (base in ("c", "C") and subscript.isdigit())
    return Piece("name", name, at, end, order) if constant and not order else None


# Letters whose prime is another value and no rate: gravity higher up, another pendulum's period, a weight in water,
# the time by another way.
_CHANGE_NEVER = frozenset(("t", "g", "G", "k", "μ", "ρ", "T", "L", "R", "M", "N", "W", "I"))


def _is_another(typed: str, plain: str, scope: Scope) -> bool:
    """`g' = G M/(R + h)²` without declarations: g has no course whose rate this could be."""
    name = canonical(plain)
    letter = name.partition("_")[0] in _CHANGE_NEVER and typed.endswith("'") and typed.count("'") == 1
    return letter and scope.quick and scope.variable_of(name) is None


_NO_PRODUCTS = ("Ek", "Ep")  # nobody multiplies an energy by a stiffness


def _written_together(run: str, at: int, scope: Scope) -> int:
    """End of `Ek`, `KE` where its letters are not names already; 0 elsewhere."""
    change = at + 1 if run[at] in "ΔδΣ" else at
    for word in TOGETHER:
        end = change + len(word)
        apart = word in scope.apart or (all(map(scope.knows, word)) and word not in _NO_PRODUCTS)
        if run.startswith(word, change) and not run[end:end + 1].isalpha() and not apart:
            return end
    return 0


def _usual_subscript(run: str, at: int, ends: list[int]) -> int:
    """`v_0t` is v_0 t, `v_maxt` is not split: a subscript that begins with figures ends with them.

    x, y and z straight after the figures still belong to it: `v_0x` is a component.
    """
    first = at + 1
    if run[at] != "_" or not run[first:first + 1].isdigit():
        return max(ends)
    end = first
    while end < len(run) and run[end].isdigit():
        end += 1
    return end + 1 if run[end:end + 1] in ("x", "y", "z") and end + 1 in ends else end


def _greek_word(run: str, at: int, scope: Scope) -> int:
    """End of a Greek letter's name that starts here; the shortest names only where they are the whole run."""
    for size in range(7, 1, -1):
        word = run[at:at + size]
        sure = size > 2 or word in ("pi", "mu") or (at == 0 and size == len(run))
        if sure and len(word) == size and word in GREEK and word not in scope.apart:
            return at + size
    return at + 2 if _SHORT.match(run, at) and (at == 0 or _ENDS_IN_FUNCTION.search(run[:at])) else 0


_SHORT = re.compile(rf"(?:{'|'.join(SHORT_GREEK)})(?![^\W\d_])")
_ENDS_IN_FUNCTION = re.compile(r"(?:sin|cos|tan)\Z")


def _stem_with_suffix(run: str, at: int, scope: Scope) -> int:
    """End of `vmax`, `Fnet`: one letter and a customary subscript, up to the run's end or a sign."""
    if at + 1 >= len(run) or not is_letter(run[at]):
        return 0
    change = 1 if run[at] in "ΔδΣ" else 0
    if change and is_letter(run[at + 1]):
        return _stem_with_suffix(run, at + 1, scope) or _greek_word(run, at + 1, scope) or _marks_end(run, at + 2)
    end = at + 1
    while end < len(run) and is_letter(run[end]):
        end += 1
    if run[at + 1:end] not in SUFFIXES or run[at:end] in FUNCTIONS:
        return 0
    product = end - at == 3 and all(map(scope.knows, run[at:end]))  # after m, a and v, `mav` is a power
    return 0 if product else end
