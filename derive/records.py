"""The records that the stages hand to each other: text → lines → readings → verdicts → report.

Immutable, without behaviour, importing only the tree types. Errors are values here: nothing a person
types is raised as an exception past the stage that met it.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import Enum
from fractions import Fraction
from typing import Literal

from derive.notation.tree import Claim, Expr, Relation, Span, Statement

# --- dimensions and symbols -----------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Dimension:
    """Powers of the seven SI base units, in the order kg m s A K mol cd (rad counts as 1)."""

    powers: tuple[Fraction, ...] = (Fraction(0),) * 7


Signed = Literal["positive", "nonnegative", "negative", "nonpositive", "nonzero", "real", "complex"]


@dataclass(frozen=True, slots=True)
class Symbol:
    """A declared name: `θ : rad, 0 < θ < π/2, about 30° -- slope of the slipway`.

    of:       the variable it is a function of (`y(t)` -> 't', `U(r)` -> 'r'), or None.
    unit:     as typed, '' where none was given; `dimension` None means not known.
    scale:    SI value of one of its unit.
    bounds:   range relations as trees (`0 < θ < π/2`).
    typical:  an everyday value in SI units, or None.
    """

    name: str
    of: str | None = None
    unit: str = ""
    dimension: Dimension | None = None
    scale: Fraction = Fraction(1)
    sign: Signed = "real"
    bounds: tuple[Relation, ...] = ()
    whole: bool = False
    vector: bool = False
    typical: float | None = None
    note: str = ""
    declared: bool = True


# --- text -------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Problem:
    """Something that could not be read or is wrong with a file: one sentence that says what to do.

    code is a name from derive/messages; line is the one-based line of the file, 0 for the file as a
    whole; span the columns in that line as typed, or None.
    """

    code: str
    message: str
    line: int = 0
    span: Span | None = None


@dataclass(frozen=True, slots=True)
class RawLine:
    """A line of a section before its mathematics is read.

    number:  one-based in the file.   text: as typed, tabs and all (for showing).
    label:   canonical label without brackets ('3', 'a', 'p1'), or ''.
    body:    where the mathematics stands in `text`: after label and before the reason.
    reason:  the writer's reason, without its brackets or dashes.
    cites:   labels named in the reason that exist in the document.
    remark:  the whole line is words (starts with #, or reads as prose).
    maybe_reason: the span, brackets included, of a trailing bracket that could be a reason or a factor
             (`(3) x = 2 [a + b]`); body then includes it and the reader decides.
    """

    number: int
    text: str
    label: str = ""
    body: Span = field(default=Span(0, 0))
    reason: str = ""
    cites: tuple[str, ...] = ()
    remark: bool = False
    maybe_reason: Span | None = None


@dataclass(frozen=True, slots=True)
class MarkPoint:
    """A row of `Marks:`: `(p2)  A1   y'' = … or … ft   -- needs p1`. `claims` are the alternatives."""

    label: str
    kind: Literal["M", "A", "B"]
    marks: int
    claims: tuple[RawLine, ...]
    follow_through: bool = False
    needs: tuple[str, ...] = ()
    line: int = 0


@dataclass(frozen=True, slots=True)
class Document:
    """One file, split into its sections. `exercise` is the name a student's file gives of its exercise."""

    source: str
    kind: Literal["exercise", "working", "quick"]
    title: str = ""
    exercise: str = ""
    statement: str = ""
    symbols: tuple[Symbol, ...] = ()
    given: tuple[RawLine, ...] = ()
    show: tuple[RawLine, ...] = ()
    working: tuple[RawLine, ...] = ()
    solution: tuple[RawLine, ...] = ()
    marks: tuple[MarkPoint, ...] = ()
    problems: tuple[Problem, ...] = ()


# --- readings -----------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Choice:
    """One place that people read in two ways, and the way taken: 'slash', 'unit', 'argument', 'call',
    'differential', 'bracket', 'given unit'. `taken` is the piece as read, in plain text; `plain`: the way that
    comes first."""

    kind: str
    typed: str
    taken: str
    span: Span | None = None
    plain: bool = False


@dataclass(frozen=True, slots=True)
class Reading:
    """One way to read a line: its statements, and the choices that make this way."""

    statements: tuple[Statement, ...]
    words: str = ""  # opening or closing words kept as words
    choices: tuple[Choice, ...] = ()
    reason: str = ""
    cites: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Unreadable:
    """Where reading stopped, what was expected there in words, and the nearest known name."""

    span: Span
    expected: str
    nearest: str = ""


# --- verdicts -----------------------------------------------------------------------------------------


class Standing(Enum):
    """What is said of a statement. The values are the words that reports print."""

    FOLLOWS = "follows"
    FOLLOWS_IF = "follows if"
    TAKEN = "taken"
    APPROXIMATES = "approximates"
    FAILS = "does not follow"
    CARRIED = "carried"
    UNDECIDED = "undecided"
    UNREADABLE = "unreadable"
    REMARK = "remark"


# A line that was shown, be it under a condition or to its figures; and one that a person has to look at.
ESTABLISHED = (Standing.FOLLOWS, Standing.FOLLOWS_IF, Standing.APPROXIMATES)
UNSURE = (Standing.UNDECIDED, Standing.UNREADABLE)


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number with its unit for showing: the value in that unit, unit text (may be '')."""

    name: str
    value: complex | float
    unit: str = ""


@dataclass(frozen=True, slots=True)
class State:
    """A state that satisfies the context: what every quantity of the statement is there, and both sides.

    settled: what stands before the statement leaves both sides, or a quantity in them that no line gives, no other
    value: it tells a result that is to be found.
    """

    values: tuple[Quantity, ...]
    left: Quantity
    right: Quantity
    sign: str = "="
    settled: bool = False


@dataclass(frozen=True, slots=True)
class Verdict:
    """What was established of one statement, and what stands behind it.

    support:    'proved', 'tested' or '' (nothing to establish).
    premises:   labels or words for what was used ('(1)', 'given (a)', 'definition of ω').
    condition:  for `follows if`, the condition in plain notation (`u - v ≠ 0`); `lost` the state lost.
    state:      for `does not follow`, the state that shows it.
    code, facts: the finding (a name from derive/messages) and what fills its sentence.
    certificate: what the re-checker accepts (derive.proof.certificate.Certificate), or None.
    carried_from: number of the broken line it follows from.
    """

    standing: Standing
    statement: Statement | None = None
    span: Span | None = None
    support: Literal["proved", "tested", ""] = ""
    strength: Literal["contradicts", "unsupported", ""] = ""
    premises: tuple[str, ...] = ()
    points: int = 0
    condition: str = ""
    state: State | None = None
    code: str = ""
    facts: tuple[tuple[str, str], ...] = ()
    introduces: tuple[str, ...] = ()
    certificate: object | None = field(default=None, repr=False, compare=False)
    carried_from: int = 0
    note: str = ""


@dataclass(frozen=True, slots=True)
class LineVerdict:
    """A typed line with the verdict on each of its statements, and the reading that was taken."""

    line: RawLine
    verdicts: tuple[Verdict, ...]
    reading: Reading | None = None
    unreadable: Unreadable | None = None


@dataclass(frozen=True, slots=True)
class Check:
    """The whole result of checking one working.

    outcome:  'unbroken', 'broken', 'unsure' (undecided or unreadable lines and no break),
              'unread' (the file could not be read at all).
    first_break: number of the first line that does not follow, 0 if none.
    goal:     verdicts on the lines of `Show:` (reached or not), never used as premises.
    stages:   the working as it stood before each line (derive.page.Page), for what asks more of a line; may be
              empty, and is never written out.
    """

    document: Document
    outcome: Literal["unbroken", "broken", "unsure", "unread"]
    lines: tuple[LineVerdict, ...] = ()
    givens: tuple[LineVerdict, ...] = ()
    goal: tuple[LineVerdict, ...] = ()
    first_break: int = 0
    problems: tuple[Problem, ...] = ()
    stages: tuple[object, ...] = field(default=(), repr=False, compare=False)


__all__ = [
    "ESTABLISHED", "UNSURE", "Check", "Choice", "Claim", "Dimension", "Document", "Expr", "LineVerdict", "MarkPoint",
    "Problem", "Quantity", "RawLine", "Reading", "Signed", "Span", "Standing", "State", "Statement", "Symbol",
    "Unreadable", "Verdict",
]
