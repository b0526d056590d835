"""Cases beside what the page speaks of: said by a line that would otherwise fail, or of a moment by its own name."""

from __future__ import annotations

from dataclasses import replace

from derive.notation.tree import Claim, Name, Relation, Statement, names_in, renamed
from derive.notation.word_lists import words
from derive.quantities.unit_table import dimension
from derive.records import Standing, Verdict
from derive.states.context import given_by_time, tied_names
from derive.states.said import Outcome, Source
from derive.states.setting import Case, Setting
from derive.states.states import freedom
from derive.terms.term import variables
from derive.terms.world import TIME
from derive.verdicts.cases import can_be, case_of, supposed

# Bodies whose shape makes their moment of inertia another.
_BODIES = words("hoop hoops ring disc disk cylinder sphere ball shell rod tube pipe wheel drum")
_INERTIA = dimension(kg=1, m=2)


def put_beside(statement: Statement, setting: Setting, source: Source) -> Outcome | None:
    """The case that a claim only says, or None."""
    if statement.claim is None:
        return None
    case = _with(statement, statement.claim, setting, source) or _of_another_body(
        statement, statement.claim, setting, source)
    if case is None:
        return None
    opened = setting.opening(case)
    return (Verdict(Standing.TAKEN, code="taken.case", span=statement.claim.span),), opened


def _with(statement: Statement, claim: Claim, setting: Setting, source: Source) -> Case | None:
    """`with u² = 5 g L: T = 6 m g`: for its line, where nothing above ties what it equates."""
    if statement.word.lower().split()[-1:] != ["with"]:
        return None
    case = replace(case_of(claim, setting, source), line=source.number)
    own = variables(*(p.term for p in case.premises))
    tied = freedom(setting.context, own, (), setting.states) < len(own)
    return None if tied or any(p.sign != "=" for p in case.premises) else case


def _of_another_body(statement: Statement, claim: Claim, setting: Setting, source: Source) -> Case | None:
    """`for a hoop, I = m R²` where the page has spoken of a disc: until another body is spoken of."""
    said = {*source.words.lower().replace(",", " ").split(), *statement.word.lower().split()}
    name = claim.sides[0] if isinstance(claim, Relation) and claim.signs == ("=",) else None
    if not said & _BODIES or not isinstance(name, Name):
        return None
    symbol = setting.context.world.symbols.get(name.ident)
    if symbol.dimension != _INERTIA if symbol is not None and symbol.declared else name.ident.split("_")[0] != "I":
        return None
    case = case_of(claim, setting, source)
    return case if can_be(case, setting) else None


def at_its_own_moment(statement: Statement, setting: Setting, source: Source) -> Outcome | None:
    """`x = L when cosh(λ T) = L/x0`: T is the t at which it is so. None where no name that nobody has met stands for
    the time, or where that does not decide the claim."""
    where, claim = statement.where, statement.claim
    if not isinstance(where, Relation) or where.signs != ("=",) or claim is None or TIME in names_in(where):
        return None
    known = {*setting.context.world.symbols, *tied_names(setting.context), *names_in(claim)}
    new = [n for n in names_in(where) if n not in known]
    if len(new) != 1:
        return None
    then = replace(statement, role="suppose", where=renamed(where, {new[0]: TIME}))
    verdicts, after = supposed(then, setting, source)
    courses = {v.name for v in given_by_time(setting.context)} | setting.context.world.functions.keys()
    if any(v.standing is Standing.FAILS for v in verdicts) and courses.intersection(names_in(claim)):
        return verdicts, replace(setting, broken=after.broken)
    if not verdicts or any(v.standing is not Standing.FOLLOWS for v in verdicts):
        return None
    return verdicts, setting.opening(replace(case_of(where, setting, source), line=source.number, where=where))
