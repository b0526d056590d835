"""Terms and questions from short typed text, for the tests of the prover (Python's own expression syntax)."""

from __future__ import annotations

import ast
from fractions import Fraction

from derive.proof.prover import prove, prove_sign
from derive.proof.records import Certificate, Facts, Premise
from derive.terms.signs import Known
from derive.terms.term import (
    HALF,
    IMAGINARY,
    ONE,
    PI,
    ZERO,
    Term,
    Var,
    add,
    div,
    fun,
    integral,
    mul,
    neg,
    num,
    power,
    sub,
    var,
)

_OPERATORS = {ast.Add: add, ast.Sub: sub, ast.Mult: mul, ast.Div: div, ast.Pow: power}


def term(text: str) -> Term:
    """`m*v^2/2`, `sqrt(k/m)`, `integral(F, x, 0, d)`; `left = right` is their difference."""
    if "=" in text:
        left, right = text.split("=")
        return sub(term(left), term(right))
    return _built(ast.parse(text.replace("^", "**").strip(), mode="eval").body)


def _built(node: ast.expr) -> Term:
    if isinstance(node, ast.BinOp):
        return _OPERATORS[type(node.op)](_built(node.left), _built(node.right))
    if isinstance(node, ast.UnaryOp):
        return neg(_built(node.operand))
    if isinstance(node, ast.Constant):
        return num(Fraction(str(node.value)))
    if isinstance(node, ast.Name):
        return {"pi": PI, "i": IMAGINARY}.get(node.id) or var(_variable(node.id))
    assert isinstance(node, ast.Call)
    assert isinstance(node.func, ast.Name)
    args = node.args
    if node.func.id == "sqrt":
        return power(_built(args[0]), HALF)
    if node.func.id == "integral":
        bound = Var(ast.unparse(args[1]), role="dummy")
        return integral(_bound(_built(args[0]), bound), bound, _built(args[2]), _built(args[3]))
    return fun(node.func.id, *map(_built, args))


def _variable(name: str) -> Var:
    """`y_tt` is y''."""
    base, _, dots = name.partition("_t")
    return Var(base, 1 + len(dots), "t") if _ and set(dots) <= {"t"} else Var(name)


def _bound(body: Term, bound: Var) -> Term:
    from derive.terms.term import substitute

    return substitute(body, {var(Var(bound.name)): var(bound)})


def facts(signs: str = "", known: str = "", moving: str = "") -> Facts:
    """`m k positive; e nonnegative`; known inequalities `pi/2 - θ > 0; u - v != 0`."""
    words: dict[str, str] = {}
    for group in filter(None, map(str.strip, signs.split(";"))):
        *names, word = group.split()
        words.update(dict.fromkeys(names, word))
    return Facts(lambda v: words.get(v.name, "real") if not v.order else "real", tuple(_known(known)), _slopes(moving))


def _known(text: str) -> list[Known]:
    out = []
    for one in filter(None, map(str.strip, text.split(";"))):
        left, sign, _ = one.rsplit(" ", 2)
        out.append(Known(term(left), {">": ">", ">=": "≥", "!=": "≠"}[sign]))  # type: ignore[arg-type]
    return out


def _slopes(moving: str):
    names = set(moving.split())

    def slope(v: Var) -> Term:
        if v.name == "t" and not v.order:
            return ONE
        return var(Var(v.name, v.order + 1, "t")) if v.name in names else ZERO

    return slope


def premises(*texts: str) -> tuple[Premise, ...]:
    """Labelled (1), (2), …; `always: …` holds at every instant."""
    return tuple(
        Premise(f"({k})", term(text.removeprefix("always: ")), always=text.startswith("always: "))
        for k, text in enumerate(texts, 1)
    )


def proof(target: str, *given: str, signs: str = "", known: str = "", moving: str = "") -> Certificate | None:
    """Half a minute at most, so that a busy machine does not decide a test."""
    for sign, word in ((" >= ", "≥"), (" > ", ">"), (" != ", "≠"), (" < ", "<"), (" <= ", "≤")):
        if sign in target:
            left, right = target.split(sign)
            return prove_sign(sub(term(left), term(right)), word, premises(*given), facts(signs, known, moving), 30)
    return prove(term(target), premises(*given), facts(signs, known, moving), 30)
