"""Vectors by their components along x, y and z: the axes that go along with an angle θ, and the dot product."""

from __future__ import annotations

from derive.terms.term import ZERO, Term, Var, add, fun, mul, neg, var

Vector = tuple[Term, ...]


def polar_axes() -> tuple[Vector, Vector]:
    """Along the radius and across it."""
    angle = var(Var("θ"))
    c, s = fun("cos", angle), fun("sin", angle)
    return (c, s, ZERO), (neg(s), c, ZERO)


def dot_terms(a: Vector, b: Vector) -> Term:
    return add(*(mul(x, y) for x, y in zip(a, b, strict=True)))
