"""The greatest and the least of what changes: `maximum speed: v = A ω`, `x'_max = A ω`, told by a word or an index."""

from __future__ import annotations

from dataclasses import replace

from derive.notation.lists.word_lists import words
from derive.notation.tree import Apply, Claim, Derivative, Expr, Name, Relation, Statement, rebuilt, walk
from derive.records import Standing
from derive.states.context import tied_names
from derive.states.said import Outcome, Source
from derive.states.setting import Setting
from derive.terms.world import TIME
from derive.verdicts.cases.beside import changes
from derive.verdicts.claims.claiming import decide_claim
from derive.verdicts.claims.suppositions import case_of

EXTREMES = {
    "max": words(
        "max maximum maximal greatest largest highest biggest fastest longest strongest steepest farthest furthest"),
    "min": words("min minimum minimal least smallest lowest slowest shortest weakest nearest closest"),
}


def of_an_extreme(statement: Statement, setting: Setting, source: Source) -> Outcome | None:
    """`maximum speed: v = F/√(k m)`: v_max is meant, and not v at all times."""
    claim = statement.claim
    said = f"{source.words} {statement.word}".lower().replace(",", " ").replace(":", " ").split()
    extreme = next((name for name, its in EXTREMES.items() if not its.isdisjoint(said)), "")
    if not extreme or not isinstance(claim, Relation) or claim.signs[0] != "=" or setting.regime is not None:
        return None
    greatest = _called(claim.sides[0], extreme, setting)
    if greatest is None:
        return _where_a_bound_is_met(claim, extreme, setting, source)
    if _is_of_another(greatest, said):
        return None
    return decide_claim(replace(claim, sides=(greatest, *claim.sides[1:])), setting, source, statement.word)


def _where_a_bound_is_met(claim: Relation, extreme: str, setting: Setting, source: Source) -> Outcome | None:
    """`smallest height: h = 5R/2` of an h that the page bounds: the least there may be, and the lines that go on with
    it are said of just that."""
    name = claim.sides[0]
    if not isinstance(name, Name):
        return None
    told = replace(claim, sides=(Name(f"{name.ident}_{extreme}", span=name.span), *claim.sides[1:]))
    verdicts, after = decide_claim(told, setting, source)
    if any(v.standing is Standing.FAILS for v in verdicts):
        return verdicts, replace(setting, broken=after.broken)
    if any(v.standing not in (Standing.FOLLOWS, Standing.APPROXIMATES) for v in verdicts):
        return None
    met = replace(case_of(claim, setting, source), line=source.number, where=claim)
    return tuple(replace(v, introduces=()) for v in verdicts), setting.opening(met)


# What words say is greatest, by the letters and primes that it may be written with (common practice, no source).
_LETTERS = {
    "speed": "vuwVWcωΩ'", "velocity": "vuwVωΩ'", "height": "hyzHs", "force": "FNTRPfQS", "tension": "TFS",
    "acceleration": "aαgA'", "displacement": "xysrzθφA", "angle": "θφαβψ", "v": "v", "a": "a", "x": "x",
}


def _is_of_another(named: Name, said: list[str]) -> bool:
    """`max speed: F = 0, x = a/b`: it is the place of the greatest speed, and no greatest place."""
    meant = [letters for word, letters in _LETTERS.items() if word in said]
    return bool(meant) and not any(letter in named.ident.partition("_")[0] for letters in meant for letter in letters)


def _called(e: Expr, extreme: str, setting: Setting) -> Name | None:
    """The name of the extreme of what a side stands for: v_max of v, x'_max of x'."""
    if isinstance(e, Apply) and e.function == "abs":
        e = e.arg  # the size of x'
    body = _of_time(e)
    name = body if body is not None else e
    if not isinstance(name, Name) or not changes(name.ident, setting):
        return None
    primes = "'" * e.order if isinstance(e, Derivative) else ""
    return Name(f"{name.ident}{primes}_{extreme}", span=e.span)


def _of_time(e: Expr) -> Name | None:
    """The x of x'."""
    rate = isinstance(e, Derivative) and not e.partial and e.wrt == Name(TIME) and isinstance(e.body, Name)
    return e.body if rate else None  # type: ignore[union-attr,return-value]


def named(statement: Statement, setting: Setting) -> Statement:
    """The statement with the extremes of rates as names: `x'_max` is the greatest x', and no rate of an x_max."""
    claim = statement.claim
    if claim is None:
        return statement
    change = _named_in(claim, setting)
    return replace(statement, claim=rebuilt(claim, change)) if change else statement  # type: ignore[arg-type]


def _named_in(claim: Claim, setting: Setting) -> dict[int, object]:
    change: dict[int, object] = {}
    for rate in walk(claim):
        body = _of_time(rate) if isinstance(rate, Derivative) else None
        if not isinstance(rate, Derivative) or body is None or body.ident in tied_names(setting.context):
            continue
        stem, _, index = body.ident.rpartition("_")
        called = _called(replace(rate, body=Name(stem)), index, setting) if index in EXTREMES else None
        if called is not None:
            change[id(rate)] = called
    return change
