"""`v = 0` below `y = u t - ½ g t²`, `a = 0` below `v = 4 t - t²/4`: a rate by its letter, of the one course about.

Said of a moment, for nobody means that a thing whose course is told never moves.
"""

from __future__ import annotations

from dataclasses import replace

from derive.notation.tree import Claim, Derivative, Name, Relation, Statement, is_zero
from derive.states.context import given_by_time, tied_names
from derive.states.setting import Setting
from derive.terms.world import TIME

# What each letter is the rate of, and how often that is differentiated (common practice).
_PLACES, _ANGLES = ("x", "y", "z", "s"), ("θ", "φ")
_RATES = {
    "v": tuple((p, 1) for p in _PLACES), "a": (("v", 1), *((p, 2) for p in _PLACES)),
    "ω": tuple((p, 1) for p in _ANGLES), "α": (("ω", 1), *((p, 2) for p in _ANGLES)),
}


def with_rates_meant(statement: Statement, setting: Setting) -> Statement:
    """The statement with the rate put for its letter, where the letter is nothing and nobody has said what it is."""
    if setting.strict or statement.role not in ("claim", "at", "suppose"):
        return statement
    where, claim = (_meant(part, setting) for part in (statement.where, statement.claim))
    if where is statement.where and claim is statement.claim:
        return statement
    if statement.role == "claim" and where is None:
        return replace(statement, role="suppose", claim=claim)
    return replace(statement, where=where, claim=claim)


def _meant(claim: Claim | None, setting: Setting) -> Claim | None:
    if not isinstance(claim, Relation) or claim.signs != ("=",) or not is_zero(claim.sides[1]):
        return claim
    name = claim.sides[0]
    if not isinstance(name, Name) or name.ident not in _RATES or name.ident in tied_names(setting.context):
        return claim
    told = {v.name for v in given_by_time(setting.context)} | setting.context.world.functions.keys()
    about = [(course, order) for course, order in _RATES[name.ident] if course in told]
    if len(about) != 1:
        return claim
    (course, order), = about
    return replace(claim, sides=(Derivative(Name(course), Name(TIME), order), claim.sides[1]))
