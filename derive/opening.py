"""The page before its first line: symbols declared, givens read and taken, the goal known."""

from __future__ import annotations

import re
from dataclasses import replace

from derive.going_on import last_side
from derive.guarding import guarded
from derive.left_open import given_up, unread
from derive.notation.lexemes.joined import components_in, indexed_in, products_in
from derive.notation.lexemes.primed import primed_among, primed_in
from derive.notation.lexemes.vectors import crossed_in, vectors_in
from derive.notation.names import canonical
from derive.notation.tree import Claim, Derivative, Name, Product, Relation, Value, names_in, walk
from derive.page import Page
from derive.quantities.dimensions import Dimensions
from derive.quantities.unit_table import dimension
from derive.quantities.usual import UsualDimensions
from derive.readings import likeliest_first
from derive.records import (
    Document,
    LineVerdict,
    Problem,
    RawLine,
    Symbol,
    Unreadable,
)
from derive.states import moving
from derive.states.along import with_what_goes_along_as_declared
from derive.states.consistency import at_odds
from derive.states.context import Context, Premise, tied_names
from derive.states.restless import with_restless
from derive.states.said import GIVEN, source_of
from derive.states.setting import Setting
from derive.states.states import States
from derive.states.whose_speed import with_speeds_declared
from derive.terms.term import Var, sub, substitute, var, variables
from derive.terms.tidying import tidied
from derive.terms.world import STAYING, TIME, World
from derive.verdicts.premises import given_premises, with_ranges


def opened(document: Document, proofs: bool = True, letters: bool = True, crossed: bool = False) -> Page:
    """The page before its first line: symbols declared, givens read and taken, the goal known. letters: a v beside an x
    is its velocity, though no given says so. crossed: what is crossed where nothing is declared are vectors."""
    symbols = _saying_something(document.symbols)
    beside = (*_vectors_given(document), *_others_of_a_kind(document), *_falling(document)) if symbols else (
        _told_by_their_look(document, crossed))
    world = World().declaring((*symbols, *beside, *_charge(document)))
    seed = "\n".join(x.text for x in (*document.given, *document.working, *document.solution))
    setting = Setting(
        Context(world, seed=seed), States(), strict=bool(document.given), proofs=proofs,
        grounded=_speaks_of_no_other_g(document), rated=frozenset() if symbols else _rated(document))
    declared = bool(document.symbols)
    page = Page(
        document, with_ranges(setting, document.symbols), Dimensions((*document.symbols, *beside), declared),
        None if declared else UsualDimensions(), problems=document.problems,
        apart=frozenset() if declared else products_in(_typed(document)),
        indexed=indexed_in(_typed(document), {s.name for s in (*symbols, *beside)}, declared))
    page = _held_to_givens(_with_givens(page))
    known = (_knowing_whose_speed,) if letters else ()
    for step in (_knowing_what_moves, *known, _checked_givens, _knowing_goal):
        page = guarded(lambda p=page, s=step: s(p), lambda _, p=page: p, 0)  # type: ignore[misc]
    return page


def _saying_something(symbols: tuple[Symbol, ...]) -> tuple[Symbol, ...]:
    """A bare list of names (`m, M, R, T, a`) says no more of them than that they will be met: none of it is kept."""
    told = any(s != Symbol(s.name, note=s.note) for s in symbols)
    return symbols if told else ()


def may_be_crossed(document: Document) -> bool:
    """Is something crossed where nothing is declared, that may be vectors or their sizes?"""
    lines = _typed(document)
    return not _saying_something(document.symbols) and not {*crossed_in(lines)} <= {*vectors_in(lines)}


def _told_by_their_look(document: Document, crossed: bool) -> tuple[Symbol, ...]:
    """Where nothing is declared: the names that some line gives by components, components by themselves, and primes
    that are no rates."""
    lines = _typed(document)
    named = (*vectors_in(lines), *(crossed_in(lines) if crossed else ()))
    vectors = {n: Symbol(n, vector=True, declared=False) for n in named}
    others = {n: Symbol(n, declared=False) for n in (*components_in(lines), *primed_in(lines)) if n not in vectors}
    return (*vectors.values(), *others.values())


def _vectors_given(document: Document) -> tuple[Symbol, ...]:
    """The vectors that givens bring in by components, beside what is declared."""
    declared = {s.name for s in document.symbols}
    found = vectors_in(x.text for x in document.given if not x.remark)
    return tuple(Symbol(n, vector=True, declared=False) for n in found if n not in declared)


def _others_of_a_kind(document: Document) -> tuple[Symbol, ...]:
    """`P' = 8 P` where nothing moves: the same quantities as those that are declared, of another or later."""
    if any(s.of or s.name == TIME for s in document.symbols):
        return ()
    given = [x.text for x in document.given]
    plain = {s.name: s for s in document.symbols if not s.vector}
    return tuple(
        replace(plain[n], name=f"{n}'", bounds=(), typical=None, declared=False)
        for n in primed_among(_typed(document), given, plain) if f"{n}'" not in plain)


_TOKENS = re.compile(r"[^\W\d_]+|\d[\d.,]*|\S")
_JOINING = frozenset("*·/")
_WEIGHTS = frozenset(("mg", "Mg", "mgh", "Mgh", "ρg", "ρgh"))


def _falling(document: Document) -> tuple[Symbol, ...]:
    """g where it is the one that was forgotten: `W = m g h`, `2 g h`, `√(2 h/g)`, and nobody multiplies or divides by
    grams."""
    if any(s.name == "g" for s in document.symbols):
        return ()
    declared = {_TOKENS.findall(s.name)[0] for s in document.symbols} | {TIME}
    rows = [["=", *_TOKENS.findall(text), "="] for text in _typed(document)]
    found = any(
        (typed == "g" and _beside_a_name(row, at, declared)) or (typed in _WEIGHTS and not row[at - 1][:1].isdigit())
        for row in rows for at, typed in enumerate(row))
    return (Symbol("g", dimension=dimension(m=1, s=-2), sign="positive", declared=False),) if found else ()


def _beside_a_name(row: list[str], at: int, declared: set[str]) -> bool:
    """Is the letter at a place of a row of tokens multiplied or divided by a name, or a name divided by it? (In `50 g`,
    `1 g/cm³` it is not.)"""
    before, after = row[at - 1], row[at + 1]
    if len(before) == 1 and before.isalpha():
        return True
    if before == "/":
        return row[at - 2] in declared
    return after in declared or (after in _JOINING and row[at + 2] in declared)


_GIVES_E = re.compile(r"(?:^|[,;:])\s*e\s*=")
_RAISED_E = re.compile(r"(?<![^\W\d_])e\s*(?:\^|\*\*|[⁰¹²³⁴⁵⁶⁷⁸⁹⁻⁺ˣᵗ])")


def _charge(document: Document) -> tuple[Symbol, ...]:
    """`e = 1.6e-19 C`, `e = 0.8` where symbols are listed: given a value, and never raised, e is a name. (Where none
    are, a lone e always is.)"""
    lines = _typed(document)
    told = document.symbols and any(map(_GIVES_E.search, lines)) and not any(map(_RAISED_E.search, lines))
    return (Symbol("e", declared=False),) if told and all(s.name != "e" for s in document.symbols) else ()


_FINDS_G = re.compile(r"(?<![^\W\d])g['′]?(?:_\w+)?\s*(?:=|≈|:|\bis\b)|[=≈]\s*g\s*$")
_ELSEWHERE = re.compile(
    r"\b(?:moon|lunar|planet|asteroid|comet|star|orbit|space|altitude|lift|elevator|measured|measure|observed|experiment)"
    r"\w*", re.IGNORECASE)


def _speaks_of_no_other_g(document: Document) -> bool:
    """Does a page work out no g, tell none, and say nothing of a place or a measurement that could have another than
    there is near the ground?"""
    lines = [x.text for x in (*document.given, *document.working)]
    return not any(_FINDS_G.search(x) or _ELSEWHERE.search(x) for x in lines)


def _typed(document: Document) -> list[str]:
    return [x.text for x in (*document.given, *document.working) if not x.remark]


def _held_to_givens(page: Page) -> Page:
    """Where names are declared and more than values is given (`Given: m = 2 kg, F = 10 N`), nothing but that is to
    support the lines; else they may bring in laws of their own."""
    laws = any(x.reading is None or not all(_is_value(s.claim) for s in x.reading.statements) for x in page.givens)
    return replace(page, setting=replace(page.setting, strict=bool(page.document.symbols) and laws))


def _is_value(claim: Claim | None) -> bool:
    """`m = 2 kg`, `v(0) = 3 m/s`: one name, and nothing named on the other side."""
    return isinstance(claim, Relation) and claim.signs == ("=",) and isinstance(
        claim.sides[0], Name | Value | Derivative) and not names_in(claim.sides[1])


_RATE = re.compile(r"(?<![^\W\d_])d([^\W\d_]\w*)\s*/\s*dt\b")
_RATE_OF_A_RATE = re.compile(r"(?<![^\W\d_])d(?:²|\^2|\*\*2)\s*([^\W\d_]\w*)\s*/\s*dt")
_PRIMED = re.compile(r"(?<![^\W\d_])([^\W\d_]\w*)['′″]")
_COURSE = re.compile(r"(?:^|[,;:])\s*([^\W\d_]\w*)\s*=[^,;:]*(?<![^\W\d_])t(?![^\W\d_²³⁴])")


def _rated(document: Document) -> frozenset[str]:
    """The names whose rate in time some line asks for, or whose course it gives, where nothing is declared."""
    lines = _typed(document)
    primed = {canonical(n) for line in lines for n in _PRIMED.findall(line)}
    kept = {n for n in primed if f"{n}'" not in primed_in(lines)}
    return frozenset(kept | {
        canonical(n) for line in lines for rate in (_RATE, _RATE_OF_A_RATE, _COURSE) for n in rate.findall(line)})


def _knowing_what_moves(page: Page) -> Page:
    """A name that no given speaks of moves as well where the working asks for its rate: E where `dE/dt = -b x'²`, and,
    where nothing is declared, m where there is a `dm/dt`, so that `d(m v)/dt` is known to have two parts."""
    context, states = page.setting.context, page.setting.states
    asked = {canonical(n) for line in _typed(page.document) for n in _RATE.findall(line)}
    loose = {s.name for s in page.document.symbols if s.sign == "real" and not (s.of or s.bounds or s.vector)}
    quick = set() if page.document.symbols else {n for n in asked if n.partition("_")[0] in STAYING}
    new = ((asked & loose) | quick) - tied_names(context)
    if new:
        context = context.knowing(replace(context.world, moving=context.world.moving | new))
    return replace(page, setting=page.setting.within(moving.settled(with_restless(context, states), states)))


def _knowing_whose_speed(page: Page) -> Page:
    """`v dv/dx = -g - k v²` of an x and a v that are both declared of t, or an x of which no given speaks: v is dx/dt,
    which nobody need say."""
    context = page.setting.context
    world = context.world
    given = [s.claim for x in page.givens if x.reading is not None for s in x.reading.statements if s.claim is not None]
    for n in (n for claim in given for n in walk(claim) if isinstance(n, Product)):
        slope = next((f for f in n.factors if isinstance(f, Derivative) and f.order == 1 and not f.partial), None)
        if slope is None or not isinstance(slope.wrt, Name) or slope.body not in n.factors:
            continue
        v, x = Var(slope.body.ident), Var(slope.wrt.ident)  # type: ignore[union-attr]
        rate = Var(x.name, 1, TIME)
        told = any(v in variables(p.term) and rate in variables(p.term) and len(variables(p.term)) == 2
                   for p in context.premises)
        if {v.name, x.name} <= world.moving and not told:
            said = f"{v.name} being the velocity"
            premise = Premise(said, sub(var(v), var(rate)), kind="custom")
            # v (dv/dt)/(dx/dt) is dv/dt, also where both stand still.
            plain = tuple(
                replace(p, term=tidied(substitute(p.term, {var(rate): var(v)})), sides=None)
                if {v, rate} <= set(variables(p.term)) else p for p in context.premises)
            return replace(page, setting=page.setting.within(replace(context, premises=plain).adding(premise)))
    return replace(page, setting=page.setting.within(with_speeds_declared(context)))


def _with_givens(page: Page) -> Page:
    """The page with all its givens. Where a partial derivative is among them, what a name stands for may be given
    further down (`ω = x'/R` after `∂L/∂x'`), and so may be what goes along with the b of a declared S(b): then they are
    taken again with all that known."""
    after = page
    for line in page.document.given:
        after = _with_given(after, line)
    statements = [s for x in after.givens if x.reading is not None for s in x.reading.statements]
    known = after.setting.context.world
    along = with_what_goes_along_as_declared(after.setting.context)
    partial = any(isinstance(n, Derivative) and n.partial for s in statements for n in walk(s))
    if not partial and along == known:
        return after
    before = page.setting.context.world
    world = replace(before, definitions=known.definitions, moving=known.moving) if partial else before
    world = replace(world, fields={**world.fields, **along.fields})
    page = replace(page, setting=page.setting.within(page.setting.context.knowing(world)))
    for line in page.document.given:
        page = _with_given(page, line)
    return page


def _with_given(page: Page, line: RawLine) -> Page:
    if line.remark:
        return page

    def left_open(code: str) -> Page:
        return replace(page, givens=(*page.givens, given_up(line, code)))

    return guarded(lambda: _with_given_read(page, line), left_open, line.number)


def _with_given_read(page: Page, line: RawLine) -> Page:
    found = page.readings(line)
    if isinstance(found, Unreadable):
        return replace(page, givens=(*page.givens, unread(line, found)))
    reading = likeliest_first(found, page.dimensions, page.scope())[0]
    verdicts, setting = given_premises(reading, page.setting, source_of(line, reading, GIVEN))
    for statement in reading.statements:
        if statement.claim is not None:
            page.dimensions.adopt(statement.claim)
            if page.usual:
                page.usual.adopt(statement.claim)
    return replace(page, setting=setting, givens=(*page.givens, LineVerdict(line, verdicts, reading)),
                   previous=last_side(reading))


def _checked_givens(page: Page) -> Page:
    """Givens that no state satisfies are said to contradict each other, before anything is drawn from them."""
    context = page.setting.context
    if not context.premises or page.setting.states.of(context).size:
        return page
    from derive.messages import sentence

    odd = at_odds(context, page.setting.states)
    line = odd[-1].source if odd else page.document.given[0].number if page.document.given else 0
    labels = [p.label.removeprefix("given ") for p in odd]
    facts = {"lines": f"{', '.join(labels[:-1])} and {labels[-1]}"} if len(labels) > 1 else {}
    problem = Problem("context.contradiction", sentence("context.contradiction", facts), line)
    return replace(page, problems=(*page.problems, problem))


def _knowing_goal(page: Page) -> Page:
    """The goal as premises: never used to support a line, only to refute one that nothing supports."""
    goal: list[Premise] = []
    for line in page.document.show:
        found = page.readings(line)
        if isinstance(found, Unreadable):
            continue
        reading = likeliest_first(found, page.dimensions, page.scope())[0]
        if reading.statements:
            _, setting = given_premises(reading, page.setting, source_of(line, reading))
            goal.extend(setting.context.premises[len(page.setting.context.premises):])
    return replace(page, setting=replace(page.setting, goal=tuple(goal)))
