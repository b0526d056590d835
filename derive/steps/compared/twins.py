"""Two of a kind, compared: `T2/T1 = (r2/r1)^(3/2)` below `T² = 4π² r³/(G M)`, `g'/g = 2/9` of a planet with `M' = 2 M`.

An index or a prime marks whose the quantities are. What the lines above say of them unmarked is so of each: with the
mark at every name that has one there or on the page, and at what depends on these; what is left is the same for both.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from derive.notation.tree import Name, Quotient, names_in
from derive.states.context import Context, Premise, tied_names
from derive.states.setting import Matter
from derive.states.sizes import positive
from derive.states.yielding import is_value
from derive.steps.brought_in.quick import claims_to_follow
from derive.steps.letters.marks import is_given, stem_and_mark, with_mark
from derive.steps.limiting.holding import charts
from derive.steps.limiting.running import Run
from derive.terms.term import Term, Var, mul, substitute, var, variables
from derive.terms.world import TIME, World

# Words that say no more than that the line is drawn from what stands above, for two of a kind (common practice, no
# source).
_DRAWN = frozenset((
    "hence", "thus", "therefore", "then", "and", "ratio", "ratios", "comparing", "compare", "compared", "dividing",
    "divide", "now", "that", "i.e.", "gives", "means", "the", "for", "with", "both", "two", "when", "where", "new",
    "old", "have", "get", "half", "halved", "double", "doubled", "doubles", "doubling", "twice", "halving",
    "triple", "tripled", "quadrupled", "times", "three", "four", "under"))


def views(m: Matter) -> Iterator[tuple[Matter, Context]]:
    """The matter among relations for both that it compares, for each way to hold what has no mark; and what is said of
    both without the custom that what is compared are sizes."""
    found = _compared(m)
    if found is None:
        return
    stem, marks = found
    alone = _of_the_kind(m.context, marks)
    if stem not in tied_names(alone) or _is_tied_otherwise(m.context, stem, marks):
        return
    varied = _varied(m, stem, marks, alone)
    if not ({*names_in(m.pair.right)} - {with_mark(stem, marks[1])} or is_given(stem, alone) or claims_to_follow(m)):
        return  # `M' = 2 M, R' = 3 R` says what is compared
    if not varied or any(alone.world.is_changing(Var(n)) for n in (stem, *varied)):
        return
    free = _without_values(alone, {stem, *varied})
    beside = mul(*(var(Var(n)) for n in varied))
    for chart, _, _ in charts(var(Var(stem)), beside, Run(Var(varied[0]), None), free, m.setting):
        depending = {v.name for v in chart.dependent}
        if stem not in depending or not depending.isdisjoint(varied) or _speaks_of_what_depends(m, marks, depending):
            continue
        both = _for_both(m.context, free, {stem, *varied, *depending}, marks)
        sizes = positive(both, _without_a_sign(m, both)) or both
        if m.setting.states.any(sizes).size:
            fresh = tuple(n for n in m.fresh if n not in tied_names(both))
            yield replace(m, setting=m.setting.within(sizes), fresh=fresh), both


def only_drawn(words: str) -> bool:
    """Do the words of a line bring in no law of its own (`by conservation of momentum: v2/v1 = m1/m2`)?"""
    return all(w in _DRAWN or len(w) < 3 for w in words.lower().replace(",", " ").replace(":", " ").split())


def _compared(m: Matter) -> tuple[str, tuple[str, str]] | None:
    """What is compared, and the marks of the two: a quotient of both, or one of them by the other."""
    left, right = m.pair.head if isinstance(m.pair.head, Quotient) else m.pair.left, m.pair.right
    if m.pair.sign not in ("=", "≈") or len(m.lowered.parts) != 1:
        return None
    if isinstance(left, Quotient) and isinstance(left.num, Name) and isinstance(left.den, Name):
        new, old = left.num.ident, left.den.ident
    elif isinstance(left, Name):
        new, stem = left.ident, stem_and_mark(left.ident)[0]
        olds = [n for n in names_in(right) if n != new and stem_and_mark(n)[0] == stem]
        if len(olds) != 1:
            return None
        old = olds[0]
    else:
        return None
    (stem, mark), (other, beside) = stem_and_mark(new), stem_and_mark(old)
    return (stem, (mark, beside)) if stem == other and mark != beside else None


def _of_the_kind(context: Context, marks: tuple[str, str]) -> Context:
    """What is said of the quantities without a mark."""
    def marked(p: Premise) -> bool:
        return any(mark and mark in marks for _, mark in (stem_and_mark(v.name) for v in variables(p.term)))

    return replace(context, premises=tuple(p for p in context.premises if not marked(p)))


def _without_a_sign(m: Matter, context: Context) -> set[str]:
    """The names of which nobody has said a sign: what is compared are sizes."""
    symbols, met = context.world.symbols, variables(*m.residuals, *(p.term for p in context.premises))
    return {v.name for v in met if v.role == "value" and not (v.order or v.at) and v.name != TIME and (
        v.name not in symbols or not (symbols[v.name].declared or symbols[v.name].sign != "real"))}


def _is_tied_otherwise(context: Context, stem: str, marks: tuple[str, str]) -> bool:
    """Does a line above say something of one of the two that is no comparison: `T_1 - m_1 g = m_1 a`?"""
    own = {with_mark(stem, mark) for mark in marks if mark}
    return any(
        not own.isdisjoint(names) and any(stem_and_mark(n)[1] not in marks for n in names)
        for p in context.premises if p.kind not in ("range", "custom") and not is_value(p)
        for names in [{v.name for v in variables(p.term)}])


def _varied(m: Matter, stem: str, marks: tuple[str, str], alone: Context) -> list[str]:
    """What is not the same for both: it has a mark in the line, or on the page."""
    typed = names_in(m.pair.relation())
    met = {stem_and_mark(n) for n in (*typed, *tied_names(m.context))}
    return sorted({n for n, mark in met if mark and mark in marks} & tied_names(alone) - {stem})


def _without_values(context: Context, names: set[str]) -> Context:
    gone = [p for p in context.premises if is_value(p) and names & {v.name for v in variables(p.term)}]
    return replace(context, premises=tuple(p for p in context.premises if p not in gone)) if gone else context


def _speaks_of_what_depends(m: Matter, marks: tuple[str, str], depending: set[str]) -> bool:
    """Is something without a mark in the line that is not the same for both?"""
    return "" not in marks and not depending.isdisjoint(names_in(m.pair.relation()))


def _for_both(context: Context, alone: Context, names: set[str], marks: tuple[str, str]) -> Context:
    """The context with each relation for each that has a mark."""
    out = context
    for mark in filter(None, marks):
        change = {n: with_mark(n, mark) for n in sorted(names)}
        out = out.knowing(_with_marked_symbols(out.world, change))
        out = out.adding(*(_marked(p, change) for p in alone.premises if p.sign == "=" and not p.implied and names & {
            v.name for v in variables(p.term)}))
    return out


def _with_marked_symbols(world: World, change: dict[str, str]) -> World:
    new = {
        marked: replace(world.symbols[n], name=marked, bounds=(), typical=None)
        for n, marked in change.items() if n in world.symbols and marked not in world.symbols}
    return replace(world, symbols={**world.symbols, **new}) if new else world


def _marked(p: Premise, change: dict[str, str]) -> Premise:
    def other(t: Term) -> Term:
        return substitute(t, {var(v): var(v._replace(name=change[v.name])) for v in variables(t) if v.name in change})

    sides = (other(p.sides[0]), other(p.sides[1])) if p.sides is not None else None
    return replace(p, term=other(p.term), sides=sides, pair=None)


__all__ = ["only_drawn", "stem_and_mark", "views", "with_mark"]
