"""From folded text to lexemes: numbers, runs of letters, signs. No grammar, no meaning.

A lexeme knows where it was typed and whether white space stood before it, for people show by their
spacing what belongs together.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from derive.notation.lexemes.cleaning import MARKS, Typed, clean
from derive.notation.lexemes.letters import is_letter
from derive.notation.lists.vocabulary import JOINING, PROSE
from derive.notation.names import SUBSCRIPT_SIGNS, Scope, canonical
from derive.notation.tree import Num, Span

Kind = Literal[
    "number", "run", "plus", "minus", "plusminus", "times", "slash", "caret", "raised", "lower", "lowered",
    "open", "close", "comma", "semicolon", "colon", "stop", "rel", "arrow", "join", "bar", "primes",
    "root", "integral", "fraction", "unit", "other",
]

MOST_TOKENS = 2000
LARGEST_EXPONENT = 400
# The ways to read a run as names, words and products grow with its square; a chapter's title is shorter.
_LONGEST_RUN = 200


# Kinds of lexemes that what is added, multiplied or compared can end with.
ENDS_OPERAND = frozenset(("number", "run", "close", "raised", "lowered", "unit", "primes"))
ENDS_CLAUSE = frozenset(("comma", "semicolon", "colon", "join", "stop"))


@dataclass(frozen=True, slots=True)
class Lexeme:
    """kind and text after folding; `value` for numbers and for raised or lowered parts (their lexemes)."""

    kind: Kind
    text: str
    span: Span
    spaced: bool = False
    value: Num | tuple[Lexeme, ...] | None = None
    places: tuple[Span, ...] = ()  # of a run: where each character was typed


class ScanError(Exception):
    """The text cannot even be cut into signs; carried as a value from the reader on."""

    def __init__(self, span: Span, expected: str) -> None:
        super().__init__(expected)
        self.span, self.expected = span, expected


_RAISED_SIGNS = str.maketrans(
    "⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻⁼⁽⁾ⁿⁱᵃᵇᶜᵈᵉᶠᵍʰʲᵏˡᵐᵒᵖʳˢᵗᵘᵛʷˣʸᶻᵝᵞᵟᶿᵠ⁄",
    "0123456789+-=()niabcdefghjklmoprstuvwxyzβγδθφ/",
)
_RAISED = frozenset(map(chr, _RAISED_SIGNS)) - {"⁄"}
_LOWERED = frozenset(SUBSCRIPT_SIGNS)

_SIGNS: tuple[tuple[str, Kind, str], ...] = (
    # Longest first. The last column is the sign they all mean.
    ("=/=", "rel", "≠"), ("<=>", "join", "⇔"), ("==>", "join", "⇒"), ("-->", "arrow", "→"),
    ("\\frac", "fraction", "\\frac"), ("+/-", "plusminus", "±"), ("-/+", "plusminus", "∓"),
    ("+-", "plusminus", "±"),
    ("**", "caret", "^"), ("<=", "rel", "≤"), (">=", "rel", "≥"), ("=<", "rel", "≤"), ("=>", "join", "⇒"),
    ("!=", "rel", "≠"), ("<>", "rel", "≠"), ("==", "rel", "="), (":=", "rel", "="), ("<<", "rel", "≪"),
    (">>", "rel", "≫"), ("~=", "rel", "≈"), ("->", "arrow", "→"),
    ("=", "rel", "="), ("≡", "rel", "="), ("≠", "rel", "≠"), ("<", "rel", "<"), (">", "rel", ">"),
    ("≤", "rel", "≤"), ("≥", "rel", "≥"), ("≈", "rel", "≈"), ("~", "rel", "≈"), ("∝", "rel", "∝"),
    ("≪", "rel", "≪"), ("≫", "rel", "≫"), ("⊥", "rel", "⊥"), ("→", "arrow", "→"),
    ("⇒", "join", "⇒"), ("∴", "join", "∴"), ("∵", "join", "∵"), ("⇔", "join", "⇔"),
    ("+", "plus", "+"), ("-", "minus", "-"), ("±", "plusminus", "±"), ("∓", "plusminus", "∓"),
    ("*", "times", "*"), ("·", "times", "·"), ("×", "times", "×"), ("/", "slash", "/"), ("^", "caret", "^"),
    ("_", "lower", "_"), ("(", "open", "("), ("[", "open", "["), ("{", "open", "{"), (")", "close", ")"),
    ("]", "close", "]"), ("}", "close", "}"), (",", "comma", ","), (";", "semicolon", ";"), (":", "colon", ":"),
    ("|", "bar", "|"), ("√", "root", "√"), ("∛", "root", "∛"), ("∫", "integral", "∫"), ("°", "unit", "°"),
    ("%", "unit", "%"), ("‰", "unit", "‰"), ("'", "primes", "'"), (".", "stop", "."),
)
_SIGNS_BY_FIRST: dict[str, tuple[tuple[str, Kind, str], ...]] = {}
for _row in _SIGNS:
    _SIGNS_BY_FIRST[_row[0][0]] = (*_SIGNS_BY_FIRST.get(_row[0][0], ()), _row)

_GROUPED = re.compile(r"[1-9]\d{0,2}(?: \d{3})+(?![\d.]|\s*[A-Za-z]*_)(?:\.\d+)?|[1-9]\d{0,2}(?: \d{3})+\.\d+")
_PLAIN = re.compile(r"\d+(?:\.\d+)?|\.\d+")
_E_PART = re.compile(r"[eE]([+-]?\d+)(?![\w.])")
_TIMES_TEN = re.compile(
    r" ?[×·*x] ?10(?:\^ ?(?:\{ ?([+-]?\d+) ?\}|\( ?([+-]?\d+) ?\)|([+-]?\d+))|([⁺⁻]?[⁰¹²³⁴⁵⁶⁷⁸⁹]+))"
)
_CHANGE_SIGNS = {"Delta": "Δ", "Δ": "Δ", "Σ": "Σ", "sum": "Σ", "Sum": "Σ"}
_DOTS = re.compile(r"\.\.(?!\.)|\.(?= ?[=+*/^)²]| -| [^\W\d_]{1,5}\.)")
# Stars around what is set in bold are no power signs: `so **a = F/m**`, `**Answer:** a = F/m`.
_BOLD = re.compile(r"(?<=:)(\*\*)|(\*\*)(?=:)|(?<!\S)(\*\*)(?=\S)[^*]+(?<=\S)(\*\*)(?=[\s.,;)]|\Z)")
_FRACTION_OF_FIGURES = re.compile(r"\\frac *(\d) *([1-9])(?!\d)")  # \frac12
_DECIMAL_COMMA = re.compile(r"\d,\d")
# Where a bracket could hold components: two such numbers worked with, or one that begins with nothing.
_WORKED_WITH = re.compile(r"\d,\d+\s*[-+*/·]\s*\d+,\d")


def scan(line: str, scope: Scope, start: int = 0, end: int | None = None) -> list[Lexeme]:
    """Cut columns start..end of a typed line into lexemes; raises ScanError on what is no sign at all."""
    return _Scanner(clean(line, start, end), scope).run()


class _Scanner:
    def __init__(self, typed: Typed, scope: Scope) -> None:
        self.typed, self.text, self.scope = typed, typed.text, scope
        self.found: list[Lexeme] = []

    def run(self) -> list[Lexeme]:
        at, spaced = 0, True
        bold = {found.start(group) for found in _BOLD.finditer(self.text) for group in range(1, 5)}
        while at < len(self.text):
            if at in bold:
                at, spaced = at + 2, True
                continue
            if self.text[at] in " &" or (self.text[at] == "$" and self.text.count("$") % 2 == 0):
                at, spaced = at + 1, True
                continue
            after = self._one(at, spaced)
            at, spaced = after, False
            if len(self.found) > MOST_TOKENS:
                where = self.typed.span(at, len(self.text))
                raise ScanError(where, "a shorter line; this one has too many signs to read")
        return self.found

    def _add(self, kind: Kind, text: str, start: int, end: int, spaced: bool, **more: object) -> int:
        self.found.append(Lexeme(kind, text, self.typed.span(start, end), spaced, **more))  # type: ignore[arg-type]
        return end

    def _one(self, at: int, spaced: bool) -> int:
        """Add the lexeme that starts at `at`; the place after it."""
        char = self.text[at]
        if (char.isascii() and char.isdigit()) or (char == "." and self.text[at + 1:at + 2].isdecimal()):
            return self._number(at, spaced)
        if _fraction(char) is not None:
            return self._add("number", char, at, at + 1, spaced, value=Num(_fraction(char) or Fraction(0)))
        if is_letter(char):
            return self._letters(at, spaced)
        if char in _RAISED or char in _LOWERED:
            return self._shifted(at, spaced)
        if char == "'":
            end = at
            while end < len(self.text) and self.text[end] == "'":
                end += 1
            return self._add("primes", "'" * (end - at), at, end, spaced)
        halves = _FRACTION_OF_FIGURES.match(self.text, at) if char == "\\" else None
        if halves is not None:
            value = Num(Fraction(int(halves[1]), int(halves[2])))
            return self._add("number", halves[0], at, halves.end(), spaced, value=value)
        for typed, kind, sign in _SIGNS_BY_FIRST.get(char, ()):
            if self.text.startswith(typed, at):
                if typed == "+-" and self._sign_pair(at):
                    continue
                return self._add(kind, sign, at, at + len(typed), spaced)
        return self._add("other", char, at, at + 1, spaced)

    def _sign_pair(self, at: int) -> bool:
        """`a +-b`, with a space or none: an addition of a negative only before a figure and after a factor."""
        before = self.text[:at].rstrip()
        return bool(before) and (before[-1].isalnum() or before[-1] in ")]}") and self.text[at + 2:at + 3].isdigit()

    def _number(self, at: int, spaced: bool) -> int:
        # A limit or an exponent is no number in groups of three: ∫_0^1 100 dx.
        shifted = bool(self.found) and self.found[-1].kind in ("caret", "lower")
        match = (None if shifted else _GROUPED.match(self.text, at)) or _PLAIN.match(self.text, at)
        assert match is not None
        figures = match.group().replace(" ", "")
        self._no_decimal_comma(at, match.end())
        end, value = match.end(), Fraction(figures) if len(figures) <= 400 else None
        if value is None:
            raise ScanError(self.typed.span(at, end), "a number with fewer figures")
        if re.match(r"\.\d", self.text[end:end + 2]) and "." in figures:
            raise ScanError(self.typed.span(at, end + 2), "a number with one point")
        digits = -len(figures.partition(".")[2]) if "." in figures else None
        power, end = self._power_of_ten(end)
        if power is not None:
            if abs(power) > LARGEST_EXPONENT:
                raise ScanError(self.typed.span(at, end), f"a power of ten no larger than {LARGEST_EXPONENT}")
            value, digits = value * Fraction(10) ** power, (digits or 0) + power
        elif end < len(self.text) and _fraction(self.text[end]) is not None and digits is None:
            value, end = value + (_fraction(self.text[end]) or 0), end + 1  # 2½
        return self._add("number", self.text[at:end], at, end, spaced, value=Num(value, digits))

    def _power_of_ten(self, at: int) -> tuple[int | None, int]:
        e_part = _E_PART.match(self.text, at)
        if e_part and not self.scope.knows(canonical(e_part.group().replace("+", "").replace("-", ""))):
            return _small_int(e_part.group(1)), e_part.end()
        ten = _TIMES_TEN.match(self.text, at)
        if ten:
            typed = ten.group(1) or ten.group(2) or ten.group(3) or ten.group(4).translate(_RAISED_SIGNS)
            return _small_int(typed), ten.end()
        return None, at

    def _no_decimal_comma(self, start: int, end: int) -> None:
        """`2,5` outside brackets is a decimal typed with a comma, and so are those in `(9,81 - 1,96)` and
        `(25 - 0,3·40)`: say so rather than guess."""
        if not _DECIMAL_COMMA.match(self.text, end - 1):
            return
        opened = sum(x.kind == "open" for x in self.found) - sum(x.kind == "close" for x in self.found)
        before_it = self.text[:start].rstrip()[-1:]
        worked = _WORKED_WITH.match(self.text, end - 1) or (self.text[start:end] == "0" and before_it in tuple("-+*/·"))
        if opened <= 0 or worked:
            more = _PLAIN.match(self.text, end + 1)
            assert more is not None
            before, after = self.text[start:end], more.group()
            thousands = f", or no comma at all ({before}{after})" if len(after) == 3 else ""
            place = self.typed.span(start, more.end())
            raise ScanError(place, f"a point in the number ({before}.{after}), not a comma{thousands}")

    def _letters(self, at: int, spaced: bool) -> int:
        end = self._run_end(at)
        if self.text[at:end] == "int" or (self.text.startswith("int_", at) and not self.scope.knows("int")):
            return self._add("integral", "∫", at, at + 3, spaced)
        if end - at > _LONGEST_RUN:
            raise ScanError(self.typed.span(at, end), "fewer letters in a row")
        text, places = self.text[at:end], list(range(at, end))
        sign = _CHANGE_SIGNS.get(text, "")
        if sign and self.text[end:end + 1] == " " and self._changes(sign, end + 1):
            after = self._run_end(end + 1)
            text, places = sign + self.text[end + 1:after], [at, *range(end + 1, after)]
            end = after
        dots = self._dots(at, end)
        if dots:  # `x..` for ẍ
            text, places, end = text + "'" * dots, [*places, *range(end, end + dots)], end + dots
        spans = tuple(self.typed.span(i, i + 1) for i in places)
        return self._add("run", text, at, end, spaced, places=spans)

    def _dots(self, at: int, end: int) -> int:
        """Full stops close behind a name that are derivatives: two of them, or one before a sign or another such."""
        typed = self.text[at:end]
        found = _DOTS.match(self.text, end)
        if found is None or typed.lower() in JOINING | PROSE or (typed[0] == "d" and len(typed) > 1):
            return 0
        dots = len(found.group())
        return dots if dots > 1 or len(canonical(typed).partition("_")[0]) == 1 else 0

    def _changes(self, sign: str, at: int) -> bool:
        """After `Delta` and a space: does a name follow whose change is meant?"""
        if at >= len(self.text) or not is_letter(self.text[at]):
            return False
        typed = self.text[at:self._run_end(at)]
        name = canonical(sign + typed)
        return self.scope.knows(name) or (self.scope.quick and len(name) <= 3 and typed not in PROSE)

    def _run_end(self, at: int) -> int:
        """End of a run: letters with their marks, subscripts, figures and primes, no space between."""
        text, end = self.text, at
        while end < len(text):
            char = text[end]
            if is_letter(char) or char in MARKS or char in _LOWERED or char in "'0123456789":
                end += 1
            elif char == "_" and text[end + 1:end + 2] == "{" and 0 < text.find("}", end) < end + 24:
                end = text.find("}", end) + 1
            elif char == "_" and end + 1 < len(text) and (text[end + 1].isalnum() or text[end + 1] == "∞"):
                end += 2
            elif char == "_" and self.scope.knows(canonical(text[at:end + 1])):  # a name declared as `g_`
                end += 1
            else:
                break
        return end

    def _shifted(self, at: int, spaced: bool) -> int:
        """Raised or lowered signs in a row, scanned on their own."""
        signs, kind = (_RAISED, "raised") if self.text[at] in _RAISED else (_LOWERED, "lowered")
        end = at
        while end < len(self.text) and self.text[end] in signs:
            end += 1
        level = self.text[at:end].translate(_RAISED_SIGNS) if kind == "raised" else _level(self.text[at:end])
        inner = _Scanner(Typed(level, self.typed.starts[at:end], self.typed.ends[at:end]), self.scope).run()
        return self._add(kind, level, at, end, spaced, value=tuple(inner))  # type: ignore[arg-type]


def _level(text: str) -> str:
    return canonical("x" + text)[2:]


def _small_int(figures: str) -> int:
    """The power, or one too large: a power with a million figures is not even computed."""
    return int(figures) if len(figures) < 6 else LARGEST_EXPONENT + 1


def _fraction(char: str) -> Fraction | None:
    """½ ¼ ⅓ … as exact fractions."""
    if char < "\x80" or not unicodedata.decomposition(char).startswith("<fraction>"):
        return None
    top, slash, bottom = unicodedata.normalize("NFKC", char).partition("⁄")
    return Fraction(int(top), int(bottom)) if slash and bottom else None
