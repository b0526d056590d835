"""Reading a line: every way it can be read, the plain way first, or where and why it cannot.

The rest of the project calls these functions; nothing is raised at what a person typed.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import TypeVar

from derive.notation.depth import too_deep
from derive.notation.failures import ReadError
from derive.notation.grammar import raw
from derive.notation.grammar.parsing import parse_claim, parse_expression, parse_line
from derive.notation.grouping.building import Build
from derive.notation.grouping.choices import Chooser, Taken, ways
from derive.notation.lexemes.letters import FUNCTIONS, split
from derive.notation.lexemes.scanning import Lexeme, ScanError, scan
from derive.notation.lists.vocabulary import MEANING_A_SIGN, PROSE
from derive.notation.names import Scope, canonical
from derive.notation.printed.printing import as_text
from derive.notation.respelling.bracket_ends import with_bracket_ends, with_ends_named_once
from derive.notation.respelling.constancy import with_constancy
from derive.notation.respelling.crosses import with_crosses
from derive.notation.respelling.formula_units import with_units_of_formulas
from derive.notation.respelling.how_long import with_how_long
from derive.notation.respelling.in_units import with_units_behind
from derive.notation.respelling.indices import with_indices
from derive.notation.respelling.parts import with_parts
from derive.notation.respelling.polar import with_polar
from derive.notation.respelling.results import with_results_told, with_value_at_head
from derive.notation.respelling.series import with_from_to, with_proportions, with_series
from derive.notation.respelling.shorthand import (
    components_named,
    with_arrows,
    with_commas,
    with_ends_of_ranges,
    with_large,
    with_orders,
    with_places_first,
    with_points,
    with_ratios,
    with_trial,
    with_unit_powers,
    with_unit_vectors,
    without_asides,
)
from derive.notation.respelling.smallness_said import with_smallness
from derive.notation.respelling.telling import roots_listed, values_told, without_mere_words
from derive.notation.respelling.times_told import with_times_told
from derive.notation.respelling.told_beside import with_values_beside
from derive.notation.respelling.vector_units import with_vector_units
from derive.notation.respelling.zeros_said import with_zeros
from derive.notation.sentences.denial import with_denials
from derive.notation.sentences.statements import statements_of
from derive.notation.tokens.lexer import line_tokens
from derive.notation.tokens.mathematics import mathematics
from derive.notation.tokens.references import with_references
from derive.notation.tokens.words import depths
from derive.notation.tree import Both, Claim, Expr, Span, Statement
from derive.records import Choice, RawLine, Reading, Symbol, Unreadable

MOST_READINGS = 16
LONGEST_LINE = 20_000

T = TypeVar("T")


def read_line(line: RawLine, scope: Scope) -> list[Reading] | Unreadable:
    """Every reading of a line, at most sixteen, the default first."""
    if line.remark:
        return [Reading((), line.text.strip(), (), line.reason, line.cites)]
    readings: list[Reading] = []
    failure: Unreadable | None = None
    seen: set[tuple[Statement, ...]] = set()
    for body, reason, choices in (*_bodies(line), *_with_label_as_factor(line, scope)):
        found = _guarded(lambda body=body: _read_body(line.text, body, scope), body)  # type: ignore[misc]
        if isinstance(found, Unreadable):
            failure = failure or found
            continue
        if choices and {r.statements for r in found} <= seen:  # the bracket holds no mathematics: it is a reason
            if not reason:
                continue
            readings = []
        seen.update(r.statements for r in found)
        readings += [replace(r, reason=reason, cites=tuple(dict.fromkeys(line.cites + r.cites)),
                             choices=choices + r.choices) for r in found]
    if not readings and failure is not None and scope.quick:
        told = _guarded(lambda: _read_told(line, scope), line.body)
        readings = told if isinstance(told, list) else []
    if readings:
        return readings[:MOST_READINGS]
    if _only_tells(line.text[line.body.start:line.body.end]):
        return [Reading((), line.text.strip(), (), line.reason, line.cites)]
    return failure or Unreadable(line.body, "a statement here")


_RELATES_OR_RECKONS = re.compile(r"[=<>≤≥≈~∝≠→⇒≪≫+*/^√∫∂Σ\\]|\d\s*[-−]|[-−]\s*\d")
_A_WORD = re.compile(r"[^\W\d_]{4,}")
_BEGINS_WITH_A_WORD = re.compile(r"\s*(?!sqrt|cbrt|sinh|cosh|tanh|arc)[A-Za-z][a-z]{3,},?\s")


def _only_tells(typed: str) -> bool:
    """`reactions at A and B`, `T for tension`, `coin at r, μ`: words and names, of which nothing is said."""
    said = [w.lower().removesuffix("s") for w in _A_WORD.findall(typed)]
    worded = not PROSE.isdisjoint(said) or _BEGINS_WITH_A_WORD.match(typed) is not None
    return _RELATES_OR_RECKONS.search(typed) is None and worded and MEANING_A_SIGN.isdisjoint(said)


def _read_told(line: RawLine, scope: Scope) -> list[Reading]:
    """The values that a sentence gives, its words kept."""
    _check_length(line.body)
    lexemes = scan(line.text, scope, line.body.start, line.body.end)
    told = values_told(lexemes, scope) or without_mere_words(lexemes, scope)
    if told is None:
        return []
    readings = _read_lexemes(line.text, told, line.body, scope)
    return [replace(r, words=line.text.strip(), cites=line.cites) for r in readings]


def read_claim(text: str, scope: Scope) -> Claim | Unreadable:
    """A claim by itself: a range, a mark point. The first reading."""
    return _guarded(lambda: _first(text, _claim_builder(text, scope)), Span(0, len(text)))


def read_expression(text: str, scope: Scope) -> Expr | Unreadable:
    """An expression by itself. The first reading."""
    return _guarded(lambda: _first(text, _expression_builder(text, scope)), Span(0, len(text)))


# --- lines ------------------------------------------------------------------------------------------------------


def _bodies(line: RawLine) -> list[tuple[Span, str, tuple[Choice, ...]]]:
    """Where the mathematics may stand: a trailing bracket is a reason, a factor, or either."""
    bracket = line.maybe_reason
    if bracket is None:
        return [(line.body, line.reason, ())]
    typed = line.text[bracket.start:bracket.end]
    inside = typed.strip()[1:-1].strip()
    short = Span(line.body.start, len(line.text[:bracket.start].rstrip()))
    as_reason = (short, inside, (Choice("bracket", typed, "a reason", bracket),))
    as_factor = (line.body, line.reason, (Choice("bracket", typed, "a factor", bracket),))
    apart = bracket.start - short.end >= 2
    return [as_reason, as_factor] if apart else [as_factor, as_reason]


def _with_label_as_factor(line: RawLine, scope: Scope) -> list[tuple[Span, str, tuple[Choice, ...]]]:
    """`(m) a = m g sin θ`, where m is about; `x = cos ω t  (A)`."""
    if len(line.label) == 1 and line.label in scope.symbols and (behind := line.text[line.body.end:].rstrip()).endswith(
            f"({line.label})"):
        span = Span(line.body.end + len(behind) - len(line.label) - 2, line.body.end + len(behind))
        choice = Choice("bracket", line.text[span.start:span.end], "a factor", span)
        return [(Span(line.body.start, span.end), line.reason, (choice,))]
    bracket = line.text[:line.body.start].rstrip()
    if not bracket.endswith(f"({line.label})") or len(line.label) != 1 or line.label not in scope.symbols:
        return []
    start = len(bracket) - len(line.label) - 2
    span = Span(start, len(bracket))
    typed = line.text[start:span.end]
    return [(Span(start, line.body.end), line.reason, (Choice("bracket", typed, "a factor", span),))]


def _read_body(text: str, body: Span, scope: Scope) -> list[Reading]:
    """The readings of one stretch of a typed line; raises ReadError."""
    _check_length(body)
    lexemes, scope = with_value_at_head(_gone_on_with(_settled(text, body, scope), scope), scope)
    try:
        return _read_lexemes(text, lexemes, body, scope)
    except ReadError:
        listed = roots_listed(lexemes)
        if listed is None:
            raise
    return _read_lexemes(text, listed, body, scope)


def _gone_on_with(lexemes: list[Lexeme], scope: Scope) -> list[Lexeme]:
    """The lexemes with the sign that the line above was left with, and without one that is for the line below."""
    if scope.unended and len(lexemes) > 1 and lexemes[-1].kind == "rel":
        lexemes = lexemes[:-1]
    if not scope.sign or not lexemes or lexemes[0].kind == "rel":
        return lexemes
    start = lexemes[0].span.start
    return [Lexeme("rel", scope.sign, Span(start, start)), *lexemes]


def _settled(text: str, body: Span, scope: Scope) -> list[Lexeme]:
    """The lexemes of a stretch, its shorthand written out."""
    lexemes = with_ends_named_once(scan(text, scope, body.start, body.end))
    lexemes = with_from_to(with_series(with_proportions(lexemes, text)))
    lexemes = with_crosses(with_indices(with_how_long(lexemes)), scope)
    lexemes = with_units_behind(lexemes, scope)
    lexemes = with_times_told(with_commas(with_references(lexemes, scope)), scope)
    lexemes = with_bracket_ends(with_trial(with_places_first(lexemes, scope), scope))
    lexemes = with_values_beside(with_results_told(lexemes, scope), scope)
    lexemes = with_arrows(with_polar(with_points(with_ratios(lexemes, scope), scope), scope), scope)
    lexemes = with_orders(without_asides(lexemes, scope), scope)
    lexemes = with_zeros(with_smallness(with_parts(lexemes, scope), scope), scope)
    lexemes = with_denials(with_ends_of_ranges(lexemes))
    lexemes = with_unit_vectors(with_unit_powers(with_large(lexemes, scope), scope), scope)
    return with_constancy(with_units_of_formulas(with_vector_units(lexemes, scope), scope), scope)


def _read_lexemes(text: str, lexemes: list[Lexeme], body: Span, scope: Scope) -> list[Reading]:
    scope = _with_own_definitions(lexemes, scope)
    tokens = line_tokens(lexemes, scope, text)
    head = tokens.head
    if not tokens.tokens:
        return [Reading((), head.words, (), "", head.cites)]
    node = parse_line(tokens.tokens, body)
    words = " … ".join(w for w in (head.words, *_words(node)) if w)
    signs = _calculus(lexemes)

    def build(chooser: Chooser) -> tuple[Statement, ...]:
        return statements_of(node, Build(scope, chooser, text, *signs), head.works)

    readings = []
    for statements, trail in _distinct(ways(text, build)):
        for statement in statements:
            too_deep(statement, body)
        readings.append(Reading(statements, words, tuple(_choices(trail)), "", head.cites))
        if len(readings) == MOST_READINGS:
            break
    return readings


def _distinct(found: Iterator[tuple[T, list[Taken]] | ReadError]) -> Iterator[tuple[T, list[Taken]]]:
    """Each different result once; the default's failure if there is none at all."""
    failure: ReadError | None = None
    seen: set[T] = set()
    for way in found:
        if isinstance(way, ReadError):
            failure = failure or way
        elif way[0] not in seen:
            seen.add(way[0])
            yield way
    if not seen and failure is not None:
        raise failure


def _choices(trail: list[Taken]) -> Iterator[Choice]:
    for taken in trail:
        result = taken.result
        text = as_text(result) if result is not None else ""
        yield Choice(taken.kind, taken.typed, text, taken.span, taken.option == 0)


def _words(node: raw.RawLine) -> Iterator[str]:
    """The words at the joints, in order."""
    joints = [node.first, *(s.joint for s in node.statements), node.last]
    yield from (j.words for j in joints if j is not None and j.words)


def _calculus(lexemes: list[Lexeme]) -> tuple[bool, bool]:
    """Does the line show a differential at the start of a run, or an integral sign? And the sign by itself?"""
    integrates = any(x.kind == "integral" for x in lexemes)
    return integrates or any(x.kind == "run" and len(x.text) > 1 and x.text[0] in "d∂" for x in lexemes), integrates


_DEFINES = frozenset(("let", "where", "with", "define", "denote", "put", "set", "write"))


def _with_own_definitions(lexemes: list[Lexeme], scope: Scope) -> Scope:
    """The scope with the names that the line itself defines (`y = A cos ω t, where ω = …`); a trial or a
    supposition may bring names along."""
    words = [x.text.lower() for x in lexemes if x.kind == "run"]
    if any(w in ("try", "guess", "suppose", "ansatz") for w in words[:3]):
        scope = replace(scope, free=True)
    names = [*components_named(lexemes, scope)]
    for at, lexeme in enumerate(lexemes):
        if lexeme.kind == "run" and lexeme.text.lower() in _DEFINES:
            names += _defined_after(lexemes, at + 1, scope)
    new = {name: Symbol(name, declared=False) for name in map(scope.spelt, names)}
    return replace(scope, symbols={**scope.symbols, **new}, own=frozenset(new)) if new else scope


def _defined_after(lexemes: list[Lexeme], at: int, scope: Scope) -> Iterator[str]:
    """Names that stand before an equals sign, alone or squared, from `at` on; further on than right there, what reads
    as a product of known names is one (`check with energy: mgh = …`)."""
    right_there = at
    while at < len(lexemes):
        lexeme = lexemes[at]
        after = at + 1
        if lexeme.kind == "run" and after < len(lexemes):
            if lexemes[after].kind == "raised":
                after += 1
            elif lexemes[after].kind == "caret":
                after += 2
            name = canonical(lexeme.text)
            differential = name[:1] == "d" and scope.knows(canonical(lexeme.text[1:]))  # `let s = x/L: dx = L ds`
            equated = after < len(lexemes) and lexemes[after].text == "="
            if equated and _may_be_called(name, at == right_there, scope) and not (
                scope.knows(name) or differential or _applied(lexeme.text)
                or (at > right_there and _product_of_known(lexeme.text, scope))
            ):
                before = lexemes[at - 1]
                if before.kind in ("comma", "run", "colon"):
                    yield name
        at += 1


def _may_be_called(name: str, right_there: bool, scope: Scope) -> bool:
    """Any name without primes; `let X' = h - X` of a declared X that is no course, and has no rate."""
    if "'" not in name:
        return True
    own = scope.symbols.get(name[:-1])
    return right_there and own is not None and own.declared and own.of is None and name[:-1] not in scope.functions


def _applied(run: str) -> bool:
    """`with friction: N cosθ = …` defines no cosθ."""
    return any(len(run) > k + 2 and run[:-k].lower() in FUNCTIONS for k in (1, 2))


def _product_of_known(run: str, scope: Scope) -> bool:
    return not scope.quick and all(p.kind == "name" and scope.knows(p.ident) for p in split(run, scope))


# --- single claims and expressions -----------------------------------------------------------------------------------


def _claim_builder(text: str, scope: Scope) -> Callable[[Chooser], Claim]:
    _check_length(Span(0, len(text)))
    lexemes = with_arrows(scan(text, scope), scope)
    tokens = line_tokens(lexemes, scope, text).tokens
    signs = _calculus(lexemes)
    nodes = parse_claim(tokens, Span(0, len(text)))

    def build(chooser: Chooser) -> Claim:
        b = Build(scope, chooser, text, *signs)
        claims = tuple(b.claim(node) for node in nodes)
        return claims[0] if len(claims) == 1 else Both(claims, span=Span(0, len(text)))

    return build


def _expression_builder(text: str, scope: Scope) -> Callable[[Chooser], Expr]:
    _check_length(Span(0, len(text)))
    lexemes = with_arrows(scan(text, scope), scope)
    depths(lexemes)
    node = parse_expression(mathematics(lexemes), Span(0, len(text)))
    signs = _calculus(lexemes)
    return lambda chooser: Build(scope, chooser, text, *signs).sum(node)


def _first(text: str, build: Callable[[Chooser], T]) -> T:
    for result, _ in _distinct(ways(text, build)):
        too_deep(result, Span(0, len(text)))
        return result
    raise ReadError(Span(0, len(text)), "a statement here")


_HEAD = re.compile(r"[^:=]*:\s|(?:[^\W\d_]{4,}\s+)+")  # words before what they speak of


def read_alone(line: RawLine, scope: Scope) -> Expr | None:
    """What a line without a relation says, words before it or not: `energy lost: ½ m u² - ½ (m + M) V²`."""
    typed = line.text[line.body.start:line.body.end].rstrip(" \t=≈")
    head = _HEAD.match(typed)
    texts = (typed, typed[head.end():]) if head else (typed,)
    found = (read_expression(text, scope) for text in texts if _RELATES_OR_RECKONS.search(text) or "/" in text)
    return next((e for e in found if not isinstance(e, Unreadable)), None)


# --- limits ----------------------------------------------------------------------------------------------------------


def _check_length(body: Span) -> None:
    if body.end - body.start > LONGEST_LINE:
        raise ReadError(Span(body.start + LONGEST_LINE, body.end), f"a line of at most {LONGEST_LINE} characters")


def _guarded(read: Callable[[], T], body: Span) -> T | Unreadable:
    """The result of `read`, or its failure as a value."""
    try:
        return read()
    except (ReadError, ScanError) as failure:
        return Unreadable(failure.span, failure.expected, getattr(failure, "nearest", ""))
    except RecursionError:
        return Unreadable(body, "fewer brackets and functions inside each other")
