"""Tuples, unit vectors, components and products of names declared as vectors."""

from __future__ import annotations

import pytest

from tests.notation.trees import declared, dumps

VECTORS = declared("a b c d m u v W M g p(t) ω", "F r Δr")

# F, r and Δr are vectors here.
VECTOR_LINES = (
    ("r = (a, b)", "r = (vec a b)"),
    ("r = (a, b, c)", "r = (vec a b c)"),
    ("(u, v) = (a, 0)", "(vec u v) = (vec a 0)"),
    ("r = a x̂ + b ŷ", "r = (+ (* a ^x) (* b ^y))"),
    ("r = a î + b ĵ + c k̂", "r = (+ (* a ^x) (* b ^y) (* c ^z))"),
    ("r = a cos ωb î - b sin ω ĵ", "r = (+ (* a (cos (* ω b)) ^x) (- (* b (sin ω) ^y)))"),
    ("r = a r̂ + b θ̂", "r = (+ (* a ^r) (* b ^θ))"),
    ("r = -4 î + 3 ĵ (m)", "r = (+ (- (* 4 ^x)) (* 3 ^y m))"),
    ("F·r = W", "(dot F r) = W"),
    ("W = F·r", "W = (dot F r)"),
    ("W = F · Δr", "W = (dot F Δr)"),
    ("M = r × F", "M = (cross r F)"),
    ("a·b = c", "(* a b) = c"),
    ("m a·b = c", "(* m a b) = c"),
    ("m F·r = W", "(* m (dot F r)) = W"),
    ("F × r × a = 0", "(* (cross F r) a) = 0"),
    ("|F| = m g", "(abs F) = (* m g)"),
    ("F_x = m", "F.x = m"),
    ("F_y = 0", "F.y = 0"),
    ("F_r = 0", "F.r = 0"),
    ("F_θ = 0", "F.θ = 0"),
    ("r ⊥ F", "r ⊥ F"),
    ("d/dt (r·r) = 0", "(D (dot r r) t) = 0"),
    ("d/dt(r·r) = 2 r·r'", "(D (dot r r) t) = (* 2 (dot r (D r t)))"),
    ("F = m r''", "F = (* m (D2 r t))"),
    ("\\hat{x} = 0", "^x = 0"),
    ("(a, b)·(c, d) = 0", "(dot (vec a b) (vec c d)) = 0"),
    ("(r × F)·k̂ = 0", "(dot (cross r F) ^z) = 0"),
    ("2 r·F = 0", "(* 2 (dot r F)) = 0"),
    ("F·r/m = 0", "(/ (dot F r) m) = 0"),
)


@pytest.mark.parametrize(("typed", "tree"), VECTOR_LINES)
def test_vectors_are_told_from_scalars_by_their_declaration(typed: str, tree: str) -> None:
    assert dumps(typed, VECTORS)[0] == tree
