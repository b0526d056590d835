"""Another situation, that words announce in a working without givens: `with friction: N sin θ + μ N cos θ = m v²/R`.

What the lines above say of the first one (no friction, no gravity, nobody on the ladder) would forbid it. All is kept
of them but the one relation that it stands in place of, or else only the values.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from derive.notation.lists.vocabulary import JOINING
from derive.notation.lists.word_lists import words
from derive.notation.names import canonical
from derive.notation.tree import Claim, Derivative, Name, Relation, Statement, names_in, walk
from derive.readings import gives_a_value
from derive.records import Standing, Verdict
from derive.states.context import Context, Premise, tied_names
from derive.states.said import Outcome, Source, matter
from derive.states.setting import Matter, Setting
from derive.states.sizes import all_positive
from derive.states.yielding import is_value
from derive.steps.letters.marks import stem_and_mark
from derive.terms.claims import alternatives, pairs
from derive.terms.term import Var, substitute, var, variables
from derive.terms.world import TIME
from derive.verdicts.cases.giving_way import (
    begun_in,
    in_the_next_stage,
    relations,
    says_the_same_of,
    takes_its_place,
    without,
)
from derive.verdicts.cases.which_case import ANNOUNCING, LITTLE, STAGES, amounts, content, spoken, telling_which

_SUPPOSING = words("only if instead suppose imagine supposing neglecting ignoring neglect ignore")
_BOUNDS = ("<", "≤", ">", "≥")
_MOST_TRIED = 6  # relations left out, one at a time
DRAWING = frozenset(JOINING) - {"with", "and", "but"}


def begun_anew(statement: Statement, setting: Setting, source: Source, verdicts: Sequence[Verdict]) -> Outcome | None:
    """A relation that fails where it stands, taken as the first of another situation; None where nothing tells of one:
    words that announce it, or name what it brings in (`load P at the end: …`), or a sentence of its own above, and a
    name that nobody has met, or that what is announced is only supposed."""
    claim, said = statement.claim, f"{source.words} {statement.word}"
    if claim is None or setting.strict or setting.regime is not None or _comes_of_it(claim, setting, source):
        return None
    every = list(pairs(alternatives(claim)[0]))
    if all(pair.sign in _BOUNDS for pair in every):
        drawn = not DRAWING.isdisjoint(spoken(statement.word))  # `N ≥ 0, i.e. h ≤ 5R/2` is said of what stands before
        return _bounded_elsewhere(claim, setting, source) if not drawn else None
    if any(pair.sign != "=" for pair in every) or not any(v.standing is Standing.FAILS for v in verdicts):
        return None
    if verdicts[0].standing is Standing.TAKEN and all(
            v.code == "fails.number" for v in verdicts if v.standing is Standing.FAILS):
        return None  # `with b = 0.8: s = v²/(2 b) = 5 m` is reckoned wrong in any situation
    beyond = _beyond_its_bound(claim, setting, source)
    if beyond is not None:
        return beyond
    matters = [matter(pair, setting, source) for pair in every]
    met = {v.name for m in matters for v in m.unknowns} & _met_here(statement, setting, source)
    brought = {canonical(w) for w in source.words.split()}.intersection(*(m.fresh for m in matters[:1]))
    if not (_announced(said) or met or brought or len(content(spoken(source.heading))) > 1):
        return (_given_anew(claim, matters[0], setting, source) or _without_values(matters, claim, setting, source)
                or _goes_on(claim, matters[0], setting, source) or _of_the_other(claim, matters[0], setting, source))
    fresh = {n for m in matters for n in m.fresh} | met
    known = {v.name for m in matters for v in m.unknowns} & tied_names(setting.context)
    if not (fresh or _only_supposed(said)) or len(known) < 2:
        return None
    contexts = (*_with_one_less(matters[0], setting), _with_values_only(setting.context))
    anew = replace(setting, situation=source.number)
    return next((found for context in contexts if (found := begun_in(context, claim, anew, source))), None)


def _bounded_elsewhere(claim: Claim, setting: Setting, source: Source) -> Outcome | None:
    """`to escape E ≥ 0: …` below `circular: m v²/r = G M m/r²`: what goes round does not escape, as the words say."""
    if not content(spoken(source.words)):
        return None
    anew = replace(setting, situation=source.number)
    for p in reversed(relations(setting.context)):
        found = begun_in(without(setting.context, [p]), claim, anew, source) if p.source in source.headed else None
        if found is not None:
            return found
    return None


def _beyond_its_bound(claim: Claim, setting: Setting, source: Source) -> Outcome | None:
    """`wet road: μ = 0.4` below `μ ≥ a/g = 0.80`, which was only said: what it needed to be there it is not here."""
    name = claim.sides[0] if isinstance(claim, Relation) and len(claim.sides) == 2 else None
    if not isinstance(claim, Relation) or not isinstance(name, Name) or names_in(claim.sides[1]) or not (
            content(spoken(source.words))):
        return None
    bounds = [p for p in setting.context.premises
              if p.sign in _BOUNDS and p.kind == "start" and name.ident in {v.name for v in variables(p.term)}]
    anew = replace(setting, situation=source.number)
    return begun_in(without(setting.context, bounds), claim, anew, source) if bounds else None


def headed_otherwise(statement: Statement, setting: Setting, source: Source) -> Outcome | None:
    """`downstream: v = u + w` below `upstream: v = u - w`, or below a value with a head: its own says another case."""
    claim, head = statement.claim, telling_which(source.words) | amounts(source.words)
    if not isinstance(claim, Relation) or not set(claim.signs) <= {"=", "≈"} or setting.strict or (
            setting.regime is not None or not head or _comes_of_it(claim, setting, source)) or (
            not DRAWING.isdisjoint({*spoken(statement.word)} - {"then"})):
        return None
    m = matter(next(pairs(claim)), setting, source)
    later = amounts(source.words) or "then" in spoken(f"{source.words} {statement.word}") or (
        _reckons(claim) and _was_reckoned(m, setting.context) and not _is_of_a_case(setting, source))
    valued = {p.source for p in setting.context.premises} if later else source.headed
    for p in reversed(relations(setting.context, valued)):
        elsewhere = p.source != source.number and not head <= telling_which(source.headed.get(p.source, ""))
        if elsewhere and says_the_same_of(m, p):
            found = _begun_without(_said_with(p, m, setting.context), claim, setting, source)
            if found is not None or not is_value(p):  # of a value told the relation that forbids it may stand above
                return found
    return _of_another_title(m, head, claim, setting, source)


def _of_another_title(
    m: Matter, head: set[str], claim: Claim, setting: Setting, source: Source
) -> Outcome | None:
    """`parallel: k = k1 + k2` below what was drawn of `two springs in series`, where the page begins: nothing of what
    was said of these is said of others."""
    titled = _titled(setting, source)
    drawn = (p for p in setting.context.premises if p.implied or p.kind == "line")
    if not titled or head & titled or not any(says_the_same_of(m, p) for p in drawn):
        return None
    return begun_in(_with_values_only(setting.context), claim, replace(setting, situation=source.number), source)


def _reckons(claim: Relation) -> bool:
    """`back down: a = (9.81 - 4.25)/2 = 2.78 m/s²`, `braking: a = -5 m/s²`"""
    return isinstance(claim.sides[0], Name) and not any(map(names_in, claim.sides[1:]))


def _is_of_a_case(setting: Setting, source: Source) -> bool:
    """`N = 300 N` of `free fall: a = -g, N = 300 N`: the case of its line says what it is."""
    return any(c.premises and c.premises[-1].source == source.number for c in setting.cases)


def _was_reckoned(m: Matter, context: Context) -> bool:
    """Has a name been given by numbers alone so far, and by no formula that goes on being so?"""
    name, said = m.lowered.parts[0][0], relations(context, {p.source for p in context.premises})
    return all(is_value(p) for p in said if name in (p.sides or ())[:1])


def _comes_of_it(claim: Claim, setting: Setting, source: Source) -> bool:
    """The s of `wet: μ = 0.35, s = 14.1 m`, or of a bare `s = 14.1 m` below `now μ = 0.35`: what the formula above
    gives with the μ that has just been told."""
    name = claim.sides[0] if isinstance(claim, Relation) and gives_a_value(claim) else None
    here = source.number == setting.situation or (setting.situation > 0 and not source.words.strip())
    return here and isinstance(name, Name) and any(
        p.sides is not None and p.sides[0].value == Var(name.ident) and bool(variables(p.sides[1]))
        for p in relations(setting.context))


def _titled(setting: Setting, source: Source) -> set[str]:
    """What tells the situation above all that is said: `two springs in series`."""
    first = min((p.source for p in setting.context.premises if p.source), default=0)
    return telling_which(" ".join(words for number, words in source.headed.items() if number < first))


def _said_with(old: Premise, m: Matter, context: Context) -> list[Premise]:
    """What the line of an old relation says of the same quantity: with `up: a = -g sin α = -5 m/s²` goes its value, and
    with `at the top: m g - N = m v²/R` what N was told to be where contact is lost."""
    (name, other), own = m.lowered.parts[0], variables(m.lowered.parts[0][0])
    return [p for p in context.premises if p is old or (
        p.source == old.source and not set(own).isdisjoint(variables(p.term))) or (
        variables(other) and is_value(p) and p.source > old.source and name in (p.sides or ())[:1])]


def is_law_of_stage(claim: Claim, source: Source) -> bool:
    """An equation of motion, where words tell of a stage."""
    return not STAGES.isdisjoint(spoken(source.words)) and any(isinstance(n, Derivative) for n in walk(claim))


# The two ends of what may be, by the words that tell which is meant.
_ENDS = (
    (words("fastest quickest maximum max greatest largest biggest most upper highest upward upwards up uphill"),
     words("slowest minimum min least smallest lower lowest downward downwards down downhill")),)


def at_the_other_end(statement: Statement, setting: Setting, source: Source) -> Outcome | None:
    """`slowest: v² = …` below `fastest: N cos β - μ N sin β = mg`: nothing of what was said of that one holds here."""
    claim = statement.claim
    if not isinstance(claim, Relation) or claim.signs != ("=",) or setting.strict or setting.regime is not None:
        return None
    gone = _said_of_the_other_end(setting, source)
    return _begun_without(gone, claim, setting, source) if gone else None


def _begun_without(gone: Sequence[Premise], claim: Claim, setting: Setting, source: Source) -> Outcome | None:
    """A claim as the first of a situation in which some premises do not hold."""
    anew, found = replace(setting, situation=source.number), None
    if is_law_of_stage(claim, source):
        found = begun_in(in_the_next_stage(setting.context, gone), claim, anew, source)
    return found or begun_in(without(setting.context, gone), claim, anew, source)


def _said_of_the_other_end(setting: Setting, source: Source) -> list[Premise]:
    """The relations of `fastest: N cos β - μ N sin β = m g` above `slowest: …`."""
    here = {*spoken(source.words)}
    other = [b for pair in _ENDS for a, b in (pair, pair[::-1]) if here & a and not here & b]
    return [p for p in relations(setting.context) if any(
        other_words & {*spoken(source.headed.get(p.source, ""))} for other_words in other)]


def with_more_terms(statement: Statement, setting: Setting, source: Source) -> Outcome | None:
    """`with friction: N cos θ = m g + μ N sin θ` below `N cos θ = m g`: both hold only where there is no friction at
    all, and the words say that there is. So they do in `plate moves at u: F = ρ A (v - u)²` below `F = ρ A v²`."""
    claim = statement.claim
    if not isinstance(claim, Relation) or claim.signs != ("=",) or setting.strict or setting.regime is not None:
        return None
    m = matter(next(pairs(claim)), setting, source)
    named = not {*m.fresh}.isdisjoint(source.words.split()) and bool(content(spoken(source.words)))
    told = named or _announced(f"{source.words} {statement.word}") or _announced(source.heading)
    old = [p for p in relations(setting.context) if takes_its_place(m, p)] if m.fresh and told else []
    if not old:
        return None
    anew = replace(setting, situation=source.number)
    return begun_in(without(setting.context, old), claim, anew, source)


def _met_here(statement: Statement, setting: Setting, source: Source) -> set[str]:
    """The names that the head of a line has told: `friction f = 10 N: ½ m v² = ½ k x² - f x`, `with a = 2 m/s²: …`."""
    if not statement.word.endswith(":"):
        return set()
    here = {v.name for p in setting.context.premises if p.source == source.number and is_value(p)
            for v in variables(p.term)}
    return here - {v.name for p in setting.context.premises if p.source != source.number for v in variables(p.term)}


def announces(statement: Statement, setting: Setting, source: Source) -> bool:
    """Do words announce another situation, of which the line brings in a name, though it is at odds with nothing yet
    (`with friction: N cos θ - μ N sin θ = m g`)?"""
    claim = statement.claim
    if not isinstance(claim, Relation) or claim.signs != ("=",) or setting.strict or not relations(setting.context):
        return False
    brought = set(names_in(claim)) - tied_names(setting.context) - {TIME}
    return bool(brought) and _announced(f"{source.words} {statement.word}")


def told_beside(statement: Statement, setting: Setting, source: Source, verdicts: Sequence[Verdict]) -> Outcome | None:
    """`with efficiency η = 0.7: t = 8.4 s` where t has a value: what its line tells is in no relation above, so that
    the number is of a situation that the page says nothing of. The lines below go on without it."""
    claim = statement.claim
    if not isinstance(claim, Relation) or setting.strict or not all(v.code == "fails.number" for v in verdicts):
        return None
    named = claim.sides[0]
    if not isinstance(named, Name) or names_in(replace(claim, sides=claim.sides[1:], signs=claim.signs[1:])):
        return None
    here = [p for p in setting.context.premises if p.source == source.number and is_value(p)]
    spoken_of = {v.name for p in setting.context.premises if p not in here for v in variables(p.term)}
    told = {v.name for p in here for v in variables(p.term)}
    if not told or not told.isdisjoint(spoken_of) or not statement.word.endswith(":"):
        return None
    facts = (("name", ", ".join(sorted(told))),)
    return (Verdict(Standing.TAKEN, code="taken.beside", span=claim.span, facts=facts),), setting


def _given_anew(claim: Claim, m: Matter, setting: Setting, source: Source) -> Outcome | None:
    """`N = 3 W` in another situation, where N was W in the first; `N cos θ - μ N sin θ = m g`, where it was N cos θ."""
    numbers = isinstance(claim, Relation) and len(claim.sides) > 2 and _reckons(claim)  # `t = 40/8 = 5 s`
    valued = {p.source for p in setting.context.premises} if numbers else ()
    old = [p for p in relations(setting.context, valued) if p.source < setting.situation and takes_its_place(m, p)]
    if not old or any(_is_in_force(p, m, setting) for p in old):
        return None
    return begun_in(without(setting.context, old), claim, setting, source)


# What goes differently in another situation, and that relations are written for (common practice, no source).
_GOING = frozenset("vωaα")


def _is_in_force(p: Premise, m: Matter, setting: Setting) -> bool:
    """`K = ½ I ω²`, where what has come with the new situation says what ω is: K is no other there."""
    going = {v.name for v in variables(p.term)} - {v.name for v in variables(m.lowered.parts[0][0])}
    said = relations(setting.context)
    before = {v.name for q in said if q.source < setting.situation for v in variables(q.term)}
    since = {v.name for q in said if q.source >= setting.situation and not _brings_in(q, before)
             for v in variables(q.term)}
    return any(n in since and n.partition("_")[0] in _GOING for n in going)


def _brings_in(p: Premise, before: set[str]) -> bool:
    """`a_r = r ω²` says what a new a_r is, and not what ω is."""
    name = p.sides[0].value if p.sides is not None else None
    return isinstance(name, Var) and name.name not in before


def _goes_on(claim: Claim, m: Matter, setting: Setting, source: Source) -> Outcome | None:
    """`N sin θ + μ N cos θ = m v²/r` below `v² = r g tan θ`, then `with friction: N cos θ - μ N sin θ = m g`: what
    speaks of a name that came with the new situation is not held to what was said before it."""
    if not setting.situation or (isinstance(claim, Relation) and isinstance(claim.sides[0], Name)):
        return None  # `a = g (cos θ - μ sin θ)` is drawn from what stands there
    before = [p for p in relations(setting.context) if p.source < setting.situation]
    old = {v.name for p in before for v in variables(p.term)}
    since = {v.name for p in relations(setting.context) if p not in before for v in variables(p.term)} - old
    if since.isdisjoint(v.name for v in m.unknowns):
        return None
    contexts = (without(setting.context, [p]) for p in reversed(before))
    return next((found for c in contexts if (found := begun_in(c, claim, setting, source)) is not None), None)


def _of_the_other(claim: Claim, m: Matter, setting: Setting, source: Source) -> Outcome | None:
    """`t = b/v_across` below `t = b/v_b` and `straight across: v_across = …`: the same, of what a head has spoken of
    since."""
    name, right = m.lowered.parts[0]
    for p in reversed(relations(setting.context)):
        if name.op != "var" or p.sides is None or p.sides[0] is not name:
            continue
        new, gone = (set(variables(a)) - set(variables(b)) for a, b in ((right, p.sides[1]), (p.sides[1], right)))
        since = {v for q in setting.context.premises if q.source <= p.source for v in variables(q.term)}
        heads = any(p.source < k <= source.number and content(spoken(head)) for k, head in source.headed.items())
        if not heads or len(new) != 1 or len(gone) != 1 or new & since:
            continue
        (it,), (other,) = new, gone
        if stem_and_mark(it.name)[0] == stem_and_mark(other.name)[0] and (
                substitute(p.sides[1], {var(other): var(it)}) is right):
            anew = replace(setting, situation=source.number)
            return begun_in(without(setting.context, _said_with(p, m, setting.context)), claim, anew, source)
    return None


def _without_values(matters: Sequence[Matter], claim: Claim, setting: Setting, source: Source) -> Outcome | None:
    """`top speed: P = D v` below `v = 20 m/s: F = P/v = 3 kN`: what v was there it is not at top speed."""
    names = {v.name for m in matters for v in m.unknowns} & source.told
    if not names or not content(spoken(source.words)):
        return None
    gone = [p for p in setting.context.premises if is_value(p) and names & {v.name for v in variables(p.term)}]
    anew = replace(setting, situation=source.number)
    return begun_in(without(setting.context, gone), claim, anew, source) if gone else None


def _with_one_less(m: Matter, setting: Setting) -> Iterator[Context]:
    """What the lines above say without one of their relations, where the new one can stand beside the others with
    every size more than nothing: the one for the same side first, then what shares most with it."""
    own = set(m.unknowns)
    head = m.lowered.parts[0][0]
    def shared(p: Premise) -> tuple[bool, int]:
        return head in (p.sides or ()), len(own.intersection(variables(p.term)))

    for p in sorted(relations(setting.context), key=shared, reverse=True)[:_MOST_TRIED]:
        context = without(setting.context, [p])
        names = {v for q in context.premises for v in variables(q.term)} | own
        whole = all_positive(context, sorted(names, key=str)) or context
        if setting.states.any(whole, m.premises(implied=False)).size:
            yield context


def _announced(said: str) -> bool:
    """`with friction`, `if a person stands at the top`: a word that announces, and what it announces."""
    heard = spoken(said)
    return bool(content(heard)) and not ANNOUNCING.isdisjoint(heard) and DRAWING.isdisjoint(heard)


def _only_supposed(said: str) -> bool:
    """`if a man stands at the top`, a whole sentence of it: it is not said of what stands above."""
    heard = spoken(said)
    told = [w for w in heard if w not in _SUPPOSING | LITTLE]
    return not _SUPPOSING.isdisjoint(heard) and len(told) > ("instead" not in heard)


def _with_values_only(context: Context) -> Context:
    return without(context, relations(context))


