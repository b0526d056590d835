"""The statements of a line: which opening word says what of which relation.

Roles, the instants and limits that conditions say, and what a bare expression may stand for.
"""

from __future__ import annotations

from dataclasses import replace

from derive.notation.failures import ReadError
from derive.notation.grammar import raw
from derive.notation.grouping.building import Build
from derive.notation.lists.vocabulary import OPENING, SMALL_WORDS
from derive.notation.lists.word_lists import words
from derive.notation.names import TIME, Scope
from derive.notation.sentences.denial import UNLESS, denied
from derive.notation.sentences.heads import headed, state_value
from derive.notation.tree import (
    Apply,
    Both,
    Claim,
    Constant,
    Derivative,
    Expr,
    Name,
    Num,
    Power,
    Product,
    Quotient,
    Relation,
    Role,
    Span,
    Statement,
    Sum,
    Unit,
    Value,
    names_in,
    walk,
)

_CONDITIONS = ("at", "limit", "small")


def statements_of(line: raw.RawLine, b: Build, works: bool) -> tuple[Statement, ...]:
    """Every statement in order. `works`: the line's head says it comes from work on labelled lines."""
    out: list[Statement] = []
    opened: Statement | None = None        # `at t = 0:` holds for the statements after it
    pending: list[Expr] = []               # bare expressions that wait for their relation: `m, g > 0`
    for index, node in enumerate(line.statements):
        word = _word(line, index)
        role = _role(node)
        if role == "suppose" and out and node.joint is None:
            role = "at"  # v = 0 if x = 0
        if node.opening == "small":
            opened = _regime(node, b, word)
            _attach_regime(out, opened, line, index)
            if index + 1 == len(line.statements) and not (out and out[-1].role == "regime"):
                out.append(opened)
            continue
        after_small = index > 0 and line.statements[index - 1].opening == "small"
        if _bare(node) and after_small and opened is not None:
            opened = replace(opened, small=opened.small + tuple(_sides(node, b)))
            continue
        if _bare(node):
            pending += _bare_expressions(node, b, line, index)
            continue
        claim = _with_pending(b.claim(node), pending)
        claim = denied(claim, node.span) if node.opening == UNLESS else claim
        pending = []
        if role in _CONDITIONS:
            opened = _condition(out, opened, role, claim, word, line, index)
        elif opened is not None and opened.where is not None and not out and _more_of_condition(line, index):
            parts = opened.where.parts if isinstance(opened.where, Both) else (opened.where,)
            opened = replace(opened, where=Both((*parts, claim), span=opened.where.span))
        elif role == "claim" and _is_another_place(claim, node, out):
            out.append(_said_there_too(claim, node, out[-1], word))
        else:
            out.append(_statement(node, claim, role, word, opened, out, line, index, b.scope))
    if works and out:
        out = [replace(s, role="operation") if s.role == "claim" else s for s in out[:1]] + out[1:]
    return headed(out, b.scope)


def _condition(out: list[Statement], opened: Statement | None, role: str, claim: Claim, word: str, line: raw.RawLine,
               index: int) -> Statement | None:
    """What is open after a condition: itself at the head of what it is said of, else what was open before."""
    node, last = line.statements[index], index + 1 == len(line.statements)
    if not _has_head(line, index):
        if role == "at" and out and _is_another_place(claim, node, out):
            out.append(_said_there_too(claim, node, out[-1], word))
            return opened
        if not out and opened is not None and opened.role == "at" and isinstance(opened.where, Relation):
            # `first at x = 0 when ω t = π/2`: where it is, and when.
            start = opened.span.start if opened.span else node.span.start
            out.append(replace(opened, claim=opened.where, where=claim, span=Span(start, node.span.end)))
            return None
        _attach_condition(out, role, claim, node, line)
        return opened
    if _small_in(claim) and not last:
        return Statement("regime", None, small=_small_in(claim), word=word, span=node.span)
    head = Statement("limit" if role == "limit" else "at", None, claim, word=word, span=node.span)
    run_on = (_run_on(claim) if role == "at" else None) or _run_on_limit(claim)
    if run_on is not None:
        head = replace(head, where=run_on[0])
        out.append(replace(head, claim=run_on[1]))
        return head
    if last:
        out.append(replace(head, claim=claim if role == "at" else None))
    return head


def _run_on(claim: Claim) -> tuple[Relation, Relation] | None:
    """`at t = 0 v = v0`, typed without a comma: the instant, and what is said of it. A number times a name between two
    equals signs is never meant."""
    if not isinstance(claim, Relation) or len(claim.sides) != 3 or set(claim.signs) != {"="} or claim.carries_on:
        return None
    first, middle, last = claim.sides
    if not isinstance(first, Name) or not isinstance(middle, Product):
        return None
    number, *rest = middle.factors
    if not isinstance(number, Num) or not all(isinstance(r, Name | Derivative | Value) for r in rest):
        return None
    said = rest[0] if len(rest) == 1 else Product(tuple(rest), span=middle.span)
    return (Relation((first, number), ("=",), span=claim.span), Relation((said, last), ("=",), span=claim.span))


def _run_on_limit(claim: Claim) -> tuple[Relation, Relation] | None:
    """`as t → ∞ v → v_T`, typed without a comma."""
    if not isinstance(claim, Relation) or len(claim.sides) != 3 or claim.signs[0] != "→" or claim.carries_on:
        return None
    first, middle, last = claim.sides
    whole = middle.num if isinstance(middle, Quotient) else middle
    if not isinstance(whole, Product):
        return None
    end, *rest = whole.factors
    if not isinstance(end, Num | Constant) or not all(names_in(r) for r in rest):
        return None
    said: Expr = rest[0] if len(rest) == 1 else Product(tuple(rest), span=whole.span)
    if isinstance(middle, Quotient):
        said = Quotient(said, middle.den, span=middle.span)
    return Relation((first, end), ("→",), span=claim.span), Relation((said, last), claim.signs[1:], span=claim.span)


def _word(line: raw.RawLine, index: int) -> str:
    joint = line.first if index == 0 else line.statements[index].joint
    return joint.word if joint is not None else ""


def _role(node: raw.RawStatement) -> str:
    if node.opening == "small":
        return "small"
    if isinstance(node.alternatives[0], raw.RawRange):
        return "range"
    return OPENING.get(node.opening, "claim")


def _bare(node: raw.RawStatement) -> bool:
    return all(isinstance(a, raw.RawSum) for a in node.alternatives)


def _sides(node: raw.RawStatement, b: Build) -> list[Expr]:
    return [b.sum(a) for a in node.alternatives if isinstance(a, raw.RawSum)]


def _bare_expressions(node: raw.RawStatement, b: Build, line: raw.RawLine, index: int) -> list[Expr]:
    """Expressions without a relation: only a list that ends in a relation may begin with them."""
    last = index + 1 == len(line.statements)
    follower = None if last else line.statements[index + 1].joint
    exprs = _sides(node, b)
    if last or follower is None or not follower.listing or not all(isinstance(e, Name | Derivative) for e in exprs):
        end = node.span.end
        if any(isinstance(e, Product) and e.factors[-1] in _SHARES for e in exprs):
            raise ReadError(node.span, "also what this is a share of, as in ‘60 % of E’")
        raise ReadError(Span(max(node.span.start, end - 1), end), "a relation sign such as = after this")
    return exprs


_SHARES = (Unit("%"), Unit("‰"))


def _with_pending(claim: Claim, pending: list[Expr]) -> Claim:
    """`m, g > 0` says it of both."""
    if not pending or not isinstance(claim, Relation):
        return claim
    shared = tuple(replace(claim, sides=(expr, *claim.sides[1:])) for expr in pending)
    return Both((*shared, claim), span=claim.span)


# --- roles ------------------------------------------------------------------------------------------------------


def _statement(node: raw.RawStatement, claim: Claim, role: str, word: str, opened: Statement | None,
               out: list[Statement], line: raw.RawLine, index: int, scope: Scope) -> Statement:
    settled: Role = role  # type: ignore[assignment]
    where: Claim | None = None
    small: tuple[Expr, ...] = ()
    if role == "let" and node.opening not in ("let", "define", "denote", "call") and not (
            _introduces(claim, scope) or _shifts(claim, scope)):
        settled = "suppose"
    if role == "claim":
        settled = _unopened(claim, word, out, line, index, scope)
    if settled == "suppose" and _small_in(claim):
        settled = "regime"
    if settled in ("claim", "at") and index == 0 and opened is None and _small_said(line):
        small = _angles_of(claim)
        settled = "regime" if small or _swing_said(line) else settled
    if settled in ("claim", "limit") and opened is not None:
        if opened.role == "regime":
            small = opened.small if not any(s.role == "regime" for s in out) else ()
            settled = "regime" if small else "claim"
        else:
            settled, where = opened.role, opened.where
    if settled == "regime" and not small:
        small = _small_in(claim)
    return Statement(settled, claim, where, small, word, span=node.span)


def _small_said(line: raw.RawLine) -> bool:
    """`for small angles, sin θ ≈ θ`: the smallness is said in words before the first statement."""
    said = _head_words(line)
    return not SMALL_WORDS.isdisjoint(said) or _linear(said)


_SWINGS = frozenset(words("angle angles oscillation oscillations swing swings amplitude amplitudes"))
_LINEAR = frozenset(words("linearise linearize linearised linearized linearising linearizing linearisation"))


def _swing_said(line: raw.RawLine) -> bool:
    """`small angles: θ'' = -(g/L) θ`, `small: …`, `linearised: …`: which angles is left to the page."""
    said = _head_words(line)
    return not _SWINGS.isdisjoint(said) or said[-1:] in [[w] for w in SMALL_WORDS] or _linear(said)


def _linear(said: list[str]) -> bool:
    """`linearise: …`, `to lowest order: …`, `linear approximation: …`."""
    order = "order" in said and any(which in said for which in ("first", "lowest", "leading", "linear"))
    return order or {"linear", "approximation"} <= {*said} or not _LINEAR.isdisjoint(said)


def _head_words(line: raw.RawLine) -> list[str]:
    return line.first.words.lower().replace(",", " ").replace(":", " ").split() if line.first is not None else []


def _angles_of(claim: Claim) -> tuple[Expr, ...]:
    """What the sines, cosines and tangents of a claim are taken of, where that is a name."""
    found = [n.arg for n in walk(claim) if isinstance(n, Apply) and n.function in ("sin", "cos", "tan")]
    return tuple(dict.fromkeys(a for a in found if isinstance(a, Name)))


def _unopened(claim: Claim, word: str, out: list[Statement], line: raw.RawLine, index: int, scope: Scope) -> Role:
    """The role of a statement without an opening word."""
    joint = line.statements[index].joint
    if out and out[-1].role == "let" and joint is not None and joint.listing and _introduces(claim, scope):
        return "let"
    if word.lower().split()[-1:] in (["where"], ["with"]) and _introduces(claim, scope):
        return "let"
    if out and out[-1].role == "try" and joint is not None and joint.listing and _is_condition_on_names(claim):
        return "try" if _another_course(claim, out) else "claim"
    if _small_in(claim):
        return "regime"
    if isinstance(claim, Relation) and claim.signs == ("→",):
        return "limit"
    return "claim"


def _introduces(claim: Claim, scope: Scope) -> bool:
    """Is the left side a new name, or the square of one?"""
    if not isinstance(claim, Relation) or claim.signs[0] != "=":
        return False
    left = claim.sides[0]
    if isinstance(left, Power):
        left = left.base
    return isinstance(left, Name) and scope.is_new(left.ident) and left.ident not in names_in(claim.sides[1])


def _shifts(claim: Claim, scope: Scope) -> bool:
    """`put x = x0 + s`: what is about, told by a new name for what is beside a place."""
    if not isinstance(claim, Relation) or claim.signs != ("=",) or not isinstance(claim.sides[0], Name):
        return False
    terms = claim.sides[1].terms if isinstance(claim.sides[1], Sum) else ()
    new = [n for n in names_in(claim.sides[1]) if scope.is_new(n)]
    return len(terms) == 2 and not scope.is_new(claim.sides[0].ident) and len(new) == 1 and Name(new[0]) in terms


def _another_course(claim: Claim, out: list[Statement]) -> bool:
    """`x2 = B cos ωt` behind `try x1 = A cos ωt`: the course of another name."""
    tried = {s.claim.sides[0] for s in out if s.role == "try" and isinstance(s.claim, Relation)}
    return isinstance(claim, Relation) and claim.sides[0] not in tried and TIME in names_in(claim.sides[1])


def _is_condition_on_names(claim: Claim) -> bool:
    return isinstance(claim, Relation) and isinstance(claim.sides[0], Name)


def _small_in(claim: Claim) -> tuple[Expr, ...]:
    """What a relation with ≪ or ≫ calls small: ε in `ε ≪ 1`, m/M in `m ≪ M`."""
    if not isinstance(claim, Relation):
        return ()
    found: list[Expr] = []
    for left, sign, right in zip(claim.sides, claim.signs, claim.sides[1:], strict=False):
        if sign in ("≪", "≫"):
            little, big = (left, right) if sign == "≪" else (right, left)
            found.append(little if isinstance(big, Num) and big.value == 1 else Quotient(little, big))
    return tuple(found)


# --- conditions --------------------------------------------------------------------------------------------------


def _has_head(line: raw.RawLine, index: int) -> bool:
    """Does the condition stand before what it is said of (`at t = 0: …`)?"""
    node = line.statements[index]
    if index == 0:
        return True
    if node.joint is None:
        return False
    follower = line.statements[index + 1].joint if index + 1 < len(line.statements) else None
    return follower is not None and (follower.colon or follower.listing)


def _more_of_condition(line: raw.RawLine, index: int) -> bool:
    """`for θ = 0 and m1 = m2: …`, `for μ = 0.4, r = 2 m: …`: what is listed before the colon belongs to it."""
    joint = line.statements[index].joint
    for following in line.statements[index + 1:]:
        if joint is None or not joint.listing:
            return False
        joint = following.joint
        if joint is not None and joint.colon:
            return True
    return False


def _attach_condition(out: list[Statement], role: str, claim: Claim, node: raw.RawStatement,
                      line: raw.RawLine) -> None:
    """`v = 0 at x = 0`: the condition goes to the statement before it, and to state values listed with that."""
    if not out:
        raise ReadError(node.span, "what is said under this condition")
    settled: Role = "limit" if role == "limit" else "at"
    for back in range(len(out) - 1, -1, -1):
        before = out[back]
        if before.where is not None or before.role not in ("claim", "limit"):
            break
        if back < len(out) - 1 and not state_value(before.claim):
            break
        span = Span(before.span.start if before.span else node.span.start, node.span.end)
        out[back] = replace(before, role=settled, where=claim, span=span)
        joint = line.statements[back].joint if back < len(line.statements) else None
        if joint is None or not joint.listing:
            break


def _is_another_place(claim: Claim, node: raw.RawStatement, out: list[Statement]) -> bool:
    """`v = 0 at t = 0 and t = 8/3`: what was said at the one is said at the other."""
    before = out[-1].where if out and out[-1].role == "at" and out[-1].claim is not None else None
    joined = node.joint is not None and node.joint.listing and not node.joint.colon
    return joined and isinstance(before, Relation) and isinstance(claim, Relation) and (
        before.signs == claim.signs == ("=",) and isinstance(claim.sides[0], Name)
        and before.sides[0] == claim.sides[0] and before.sides[1] != claim.sides[1])


def _said_there_too(claim: Claim, node: raw.RawStatement, before: Statement, word: str) -> Statement:
    return replace(before, where=claim, word=word, span=node.span)


def _regime(node: raw.RawStatement, b: Build, word: str) -> Statement:
    return Statement("regime", None, small=tuple(_sides(node, b)), word=word, span=node.span)


def _attach_regime(out: list[Statement], regime: Statement, line: raw.RawLine, index: int) -> None:
    """`sin θ ≈ θ for small θ`: the statement before opens the approximation."""
    if out and line.statements[index].joint is None and out[-1].role == "claim":
        out[-1] = replace(out[-1], role="regime", small=regime.small)
