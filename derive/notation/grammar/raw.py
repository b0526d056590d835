"""What the grammar makes of the tokens, before it is settled how a row of factors is grouped."""

from __future__ import annotations

from dataclasses import dataclass

from derive.notation.lexemes.scanning import Lexeme
from derive.notation.tokens.lexer import Joint
from derive.notation.tree import Num, Sign, Span


@dataclass(frozen=True, slots=True)
class RawNumber:
    value: Num
    span: Span


@dataclass(frozen=True, slots=True)
class RawLetters:
    """A run of letters, or the sign of a unit such as ° that stands like one."""

    run: Lexeme
    span: Span


@dataclass(frozen=True, slots=True)
class RawRoot:
    function: str
    span: Span


@dataclass(frozen=True, slots=True)
class RawGroup:
    inner: RawSum
    span: Span
    bracket: str = "("
    primes: int = 0


@dataclass(frozen=True, slots=True)
class RawNamedLimit:
    """`{x=0}` as a limit."""

    relation: RawRelation
    span: Span


@dataclass(frozen=True, slots=True)
class RawTuple:
    parts: tuple[RawSum, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class RawBars:
    inner: RawSum
    span: Span


@dataclass(frozen=True, slots=True)
class RawFraction:
    top: RawGroup
    bottom: RawGroup
    span: Span


@dataclass(frozen=True, slots=True)
class RawIntegral:
    lower: RawExponent | None
    upper: RawExponent | None
    span: Span


@dataclass(frozen=True, slots=True)
class RawNegative:
    inner: RawExponent
    span: Span


@dataclass(frozen=True, slots=True)
class RawNegativeArgument:
    span: Span


@dataclass(frozen=True, slots=True)
class RawPower:
    base: RawAtom
    exponent: RawExponent
    span: Span


@dataclass(frozen=True, slots=True)
class RawEvaluatedGroup:
    body: RawGroup
    lower: RawExponent
    upper: RawExponent
    span: Span


@dataclass(frozen=True, slots=True)
class RawEvaluated:
    """`body |_lower^upper`; with `upper` None the body is taken at one place."""

    body: RawProduct
    lower: RawExponent
    upper: RawExponent | None
    span: Span


@dataclass(frozen=True, slots=True)
class RawJoined:
    """A factor after a sign: `· x`, `/ -x`."""

    sign: str
    negative: bool
    factor: RawFactor
    span: Span
    sign_span: Span


RawAtom = (RawNumber | RawLetters | RawRoot | RawGroup | RawNamedLimit | RawTuple | RawBars | RawFraction)
RawExponent = RawAtom | RawPower | RawNegative
RawFactor = RawAtom | RawPower | RawEvaluatedGroup | RawIntegral | RawNegativeArgument


@dataclass(frozen=True, slots=True)
class RawProduct:
    row: tuple[RawFactor | RawJoined, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class RawRanged:
    """An integral with its limits in words after it: `∫ F dx from 0 to d`, `∫ dm over 0 ≤ x ≤ L`."""

    body: RawProduct
    limits: tuple[RawGroup, RawGroup] | RawNamedLimit
    span: Span


RawTerm = RawProduct | RawEvaluated | RawRanged


@dataclass(frozen=True, slots=True)
class RawSum:
    """Terms with their signs `+ - ± ∓` ('' for a first term without one)."""

    terms: tuple[tuple[str, RawTerm], ...]
    span: Span


@dataclass(frozen=True, slots=True)
class RawRelation:
    """`sides` is one shorter than it should be where the line continues the one above."""

    sides: tuple[RawSum, ...]
    signs: tuple[Sign, ...]
    continues: bool
    span: Span


@dataclass(frozen=True, slots=True)
class RawRange:
    """`s runs from 1 to 2`."""

    side: RawSum
    lower: RawGroup
    upper: RawGroup
    span: Span


@dataclass(frozen=True, slots=True)
class RawStatement:
    """The alternatives of one statement, its opening word and the joint before it."""

    alternatives: tuple[RawRelation | RawRange | RawSum, ...]
    span: Span
    opening: str = ""
    joint: Joint | None = None


@dataclass(frozen=True, slots=True)
class RawLine:
    """The statements of a line, and the joints at its ends."""

    statements: tuple[RawStatement, ...]
    first: Joint | None = None
    last: Joint | None = None
