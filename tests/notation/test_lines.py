"""Whole lines: joining words, opening words, conditions, alternatives, heads, and words that stay words."""

from __future__ import annotations

import pytest

from derive.notation import tree as n
from tests.notation.trees import declared, dump, read, refused

LINES = declared("F m a v u ρ y(t) Y A ω k θ(t) φ N g x(t) w L λ ε M T R h b c μ β s t0 E σ B C d",
                 labels="1 2 3", previous=n.Name("W"))

# Typed, its statements, and the words kept beside them.
ROWS = (
    ("so a = F/m", "a = (/ F m)", ""),
    ("hence F = m a", "F = (* m a)", ""),
    ("⇒ F = m a", "F = (* m a)", ""),
    ("=> F = m a", "F = (* m a)", ""),
    ("∴ F = m a", "F = (* m a)", ""),
    ("F = m a, a = F/m", "F = (* m a); a = (/ F m)", ""),
    ("check with energy: mgh = T", "(* m g h) = T", "check energy"),
    ("F = m a, so a = F/m", "F = (* m a); a = (/ F m)", ""),
    ("F = m a and v = u", "F = (* m a); v = u", ""),
    ("E=2J w=0", "E = (* 2 [J]); w = 0", ""),
    ("F = m a so a = F/m", "F = (* m a); a = (/ F m)", ""),
    ("F = m a => a = F/m", "F = (* m a); a = (/ F m)", ""),
    ("F = m a ⇒ a = F/m → v = u", "F = (* m a); a = (/ F m); v = u", ""),
    ("F = m a; a = F/m", "F = (* m a); a = (/ F m)", ""),
    ("F = m a, which gives a = F/m", "F = (* m a); a = (/ F m)", ""),
    ("F = m a, i.e. a = F/m", "F = (* m a); a = (/ F m)", ""),
    ("F = m a i.e. a = F/m", "F = (* m a); a = (/ F m)", ""),
    ("F = m a means a = F/m", "F = (* m a); a = (/ F m)", ""),
    ("F = m a gives a = F/m", "F = (* m a); a = (/ F m)", ""),
    ("F = m a, where m = ρ", "F = (* m a); m = ρ", ""),
    ("y = A cos ω t, where ω = √k", "y = (* A (cos (* ω t))); ω = (sqrt k)", ""),
    ("y = A cos nt with n² = k", "y = (* A (cos (* n t))); let: (^ n 2) = k", ""),
    ("let n = k/m", "let: n = (/ k m)", ""),
    ("let n² = k/m", "let: (^ n 2) = (/ k m)", ""),
    ("let n^2 = k/m", "let: (^ n 2) = (/ k m)", ""),
    ("define n = k/m", "let: n = (/ k m)", ""),
    ("let n = k/m, q = 2 n", "let: n = (/ k m); let: q = (* 2 n)", ""),
    ("let n = k/m and q = 2 n", "let: n = (/ k m); let: q = (* 2 n)", ""),
    ("let s = 1 + x/L: x = L (s - 1), dx = L ds",
     "let: s = (+ 1 (/ x L)); x = (* L (+ s (- 1))); (d x) = (* L (d s))", ""),
    ("put n = k/m", "let: n = (/ k m)", ""),
    ("put v = 0", "suppose: v = 0", ""),
    ("try y = Y cos(ω t + φ)", "try: y = (* Y (cos (+ (* ω t) φ)))", ""),
    ("try y = A e^(λ t)", "try: y = (* A (^ #e (* λ t)))", ""),
    ("suppose v = 0", "suppose: v = 0", ""),
    ("suppose v = 0, then u = w", "suppose: v = 0; u = w", ""),
    ("if v = 0 then u = w", "suppose: v = 0; u = w", ""),
    ("if v = 0: u = w", "suppose: v = 0; u = w", ""),
    ("case v = 0: u = w", "suppose: v = 0; u = w", ""),
    ("v = 0 gives u = w", "suppose: v = 0; u = w", ""),
    ("v = 0 means u = w", "suppose: v = 0; u = w", ""),
    ("v = 0 so u = w", "v = 0; u = w", ""),
    ("at t = 0: y = u", "at: y = u when t = 0", ""),
    ("at t = 0 y = u so a = g", "at: y = u when t = 0; at: a = g when t = 0", ""),
    ("at t=0 y' = 0", "at: (D y t) = 0 when t = 0", ""),
    ("at t = 0, y = u", "at: y = u when t = 0", ""),
    ("at t = 0: y = u, y' = 0", "at: y = u when t = 0; at: (D y t) = 0 when t = 0", ""),
    ("at t = 0: y = u and y' = 0", "at: y = u when t = 0; at: (D y t) = 0 when t = 0", ""),
    ("y = u at t = 0", "at: y = u when t = 0", ""),
    ("first at y = 0 when t = T", "at: y = 0 when t = T", "first"),
    ("y = u, y' = 0 at t = 0", "at: y = u when t = 0; at: (D y t) = 0 when t = 0", ""),
    ("y = u and y' = 0 at t = 0", "at: y = u when t = 0; at: (D y t) = 0 when t = 0", ""),
    ("m y'' = -k y, y = u at t = 0", "(* m (D2 y t)) = (- (* k y)); at: y = u when t = 0", ""),
    ("v = 0 when x = 0", "at: v = 0 when x = 0", ""),
    ("v = 0 at x = 0", "at: v = 0 when x = 0", ""),
    ("v = 0 if x = 0", "at: v = 0 when x = 0", ""),
    ("when θ = 0: N = m g", "at: N = (* m g) when θ = 0", ""),
    ("for θ = 0: N = m g", "at: N = (* m g) when θ = 0", ""),
    ("N = m g for θ = 0", "at: N = (* m g) when θ = 0", ""),
    ("for x > 0: F = m a", "at: F = (* m a) when x > 0", ""),
    ("for small θ: sin θ ≈ θ", "regime: (sin θ) ≈ θ small θ", ""),
    ("for small θ, sin θ ≈ θ", "regime: (sin θ) ≈ θ small θ", ""),
    ("for small θ", "regime: small θ", ""),
    ("when θ is small: sin θ ≈ θ", "regime: (sin θ) ≈ θ small θ", "is"),
    ("if θ is small, sin θ ≈ θ", "regime: (sin θ) ≈ θ small θ", "is"),
    ("sin θ ≈ θ for small θ", "regime: (sin θ) ≈ θ small θ", ""),
    ("for small θ and φ: sin θ ≈ θ", "regime: (sin θ) ≈ θ small θ φ", ""),
    ("ε ≪ 1", "regime: ε ≪ 1 small ε", ""),
    ("ε << 1", "regime: ε ≪ 1 small ε", ""),
    ("if ε ≪ 1: u ≈ v", "regime: ε ≪ 1 small ε; u ≈ v", ""),
    ("m ≪ M", "regime: m ≪ M small (/ m M)", ""),
    ("M ≫ m", "regime: M ≫ m small (/ m M)", ""),
    ("as m → ∞: a → g", "limit: a → g when m → #∞", ""),
    ("as m → ∞ a → g", "limit: a → g when m → #∞", ""),
    ("as m → 0 F/m → g", "limit: (/ F m) → g when m → 0", ""),
    ("lim m → ∞: a = g", "limit: a = g when m → #∞", ""),
    ("as m → ∞, a → g", "limit: a → g when m → #∞", ""),
    ("as m -> inf: a = g", "limit: a = g when m → #∞", ""),
    ("a → g as m → ∞", "limit: a → g when m → #∞", ""),
    ("in the limit m → ∞: a → g", "limit: a → g when m → #∞", "the limit"),
    ("as t → ∞: v → u, so k s = u", "limit: v → u when t → #∞; limit: (* k s) = u when t → #∞", ""),
    ("s runs from 1 to 2", "range: 1 ≤ s ≤ 2", ""),
    ("s goes from 0 to L", "range: 0 ≤ s ≤ L", ""),
    ("as x runs from 0 to L, s runs from 1 to 2", "range: 0 ≤ x ≤ L; range: 1 ≤ s ≤ 2", ""),
    ("x varies from R to R + h", "range: R ≤ x ≤ (+ R h)", ""),
    ("u = a or u = b", "u = a or u = b", ""),
    ("u = a or b", "u = a or u = b", ""),
    ("x = 2 or -2", "x = 2 or x = (- 2)", ""),
    ("x = 2 or x = -2", "x = 2 or x = (- 2)", ""),
    ("(u, v) = (a, 0) or (u, v) = (b, c)", "(vec u v) = (vec a 0) or (vec u v) = (vec b c)", ""),
    ("(u, v) = (a, 0) or (b, c)", "(vec u v) = (vec a 0) or (vec u v) = (vec b c)", ""),
    ("m, g > 0", "m > 0 and g > 0", ""),
    ("m, g, k > 0", "m > 0 and g > 0 and k > 0", ""),
    ("d > 0, so v = u", "d > 0; v = u", ""),
    ("at the top: N = 0", "N = 0", "at the top"),
    ("energy: ½ m v² = m g h", "(* 1/2 m (^ v 2)) = (* m g h)", "energy"),
    ("sin ωt: 2 m = k", "(* 2 m) = k", "sin ωt"),
    ("Using Newton's second law: F = m a", "F = (* m a)", "Using Newton's second law"),
    ("Using Newton's second law F = m a", "F = (* m a)", "Using Newton's second law"),
    ("Therefore the period is T = 2π/ω", "T = (/ (* 2 #π) ω)", "the period is"),
    ("The kinetic energy is E = ½ m v²", "E = (* 1/2 m (^ v 2))", "The kinetic energy is"),
    ("F = m a as required", "F = (* m a)", "as required"),
    ("F = m a for all t", "F = (* m a)", "for all t"),
    ("F = m a by Newton's law", "F = (* m a)", "by Newton's law"),
    ("F = m a (constant)", "F = (* m a)", "(constant)"),
    ("F = m a, by symmetry", "F = (* m a)", "by symmetry"),
    ("v = u + at", "v = (+ u (* a t))", ""),
    ("v = u + at at t = 0", "at: v = (+ u (* a t)) when t = 0", ""),
    ("s = ut + ½at²", "s = (+ (* u t) (* 1/2 a (^ t 2)))", ""),
    ("v² = u² + 2as", "(^ v 2) = (+ (^ u 2) (* 2 a s))", ""),
    ("v² = u² + 2 as", "(^ v 2) = (+ (^ u 2) (* 2 a s))", ""),
    ("x = m as required", "x = m", "as required"),
    ("= ½ k x²", "… W = (* 1/2 k (^ x 2))", ""),
    ("≤ m g", "… W ≤ (* m g)", ""),
    ("= m a = F", "… W = (* m a) = F", ""),
    ("(1) + (2): 2 T = F", "operation: (* 2 T) = F", "(1) + (2)"),
    ("(1) + (2) gives 2 T = F", "operation: (* 2 T) = F", "(1) + (2)"),
    ("(2) × cos β: T = F", "operation: T = F", "(2) × cos β"),
    ("(1)² + (2)²: T = F", "operation: T = F", "(1)² + (2)²"),
    ("(3)/(1) gives tan θ = μ", "operation: (tan θ) = μ", "(3)/(1)"),
    ("2×(1) - (2): T = F", "operation: T = F", "2×(1) - (2)"),
    ("from (1) and (2), T = F", "T = F", "from (1) and (2)"),
    ("Adding (1) and (2): T = F", "operation: T = F", "Adding (1) and (2)"),
    ("Substituting (2) into (1) gives T = F", "operation: T = F", "Substituting (2) into (1)"),
    ("by (1): T = F", "T = F", "by (1)"),
    ("½ m v² + m g h = const", "(+ (* 1/2 m (^ v 2)) (* m g h)) = const", ""),
    ("½ m v² + m g h = constant", "(+ (* 1/2 m (^ v 2)) (* m g h)) = const", ""),
    ("this line has no mathematics", "", "this line has no mathematics"),
    ("where m is the mass", "", "m is the mass"),
    ("x-direction: F = m a", "F = (* m a)", "x-direction"),
    ("non-zero v: F = m a", "F = (* m a)", "non-zero v"),
    ("F = m a.", "F = (* m a)", ""),
    ("the acceleration a is constant", "", "the acceleration a is constant"),
    ("Q.E.D.", "", "Q.E.D"),
    ("F = m a, q.e.d.", "F = (* m a)", "q.e.d"),
    ("F = m·a (from (1))", "F = (* m a)", "(from (1))"),
    ("A 1200 kg barge is towed by a rope with 900 N at 25 deg to its path", "",
     "A 1200 kg barge is towed by a rope with 900 N at 25 deg to its path"),
    ("the crate starts from rest. drag 300 N", "", "the crate starts from rest. drag 300 N"),
    ("try y: Y cos(ω t)", "try: y = (* Y (cos (* ω t)))", ""),
    ("try complex: y = A e^(λ t)", "try: y = (* A (^ #e (* λ t)))", "complex"),
    ("Eq. 1 gives F = m a", "F = (* m a)", "Eq. 1"),
    ("Eq.(2): F = m a", "F = (* m a)", "Eq.(2)"),
    ("eqn 2 gives F = m a", "F = (* m a)", "eqn 2"),
    ("from 2) F = m a", "F = (* m a)", "from 2)"),
    ("by eq. 2 F = m a", "F = (* m a)", "by eq. 2"),
    ("by eq. 7 of the sheet, F = m a", "F = (* m a)", "by eq. 7 of the sheet"),
    ("F = m a ∎", "F = (* m a)", ""),
    ("F = m a ✓", "F = (* m a)", ""),
    ("(↑) N - m g = 0", "(+ N (- (* m g))) = 0", "(↑)"),
    ("↑: N = m g", "N = (* m g)", "↑"),
    ("**Result:** F = m a", "F = (* m a)", "Result"),
    ("so **F = m a**", "F = (* m a)", ""),
)


@pytest.mark.parametrize(("typed", "statements", "words"), ROWS)
def test_a_line_falls_into_its_statements_and_its_words(typed: str, statements: str, words: str) -> None:
    reading = read(typed, LINES)[0]

    assert dump(reading) == statements
    assert reading.words == words


@pytest.mark.parametrize(("typed", "cites"), [
    ("Eq. 1 gives F = m a", ("1",)), ("from 2) F = m a", ("2",)), ("by eq. 7 of the sheet, F = m a", ()),
    ("from 1) and 2) F = m a", ("1", "2")),
])
def test_a_line_is_cited_without_the_brackets_of_its_label(typed: str, cites: tuple[str, ...]) -> None:
    assert read(typed, LINES)[0].cites == cites


@pytest.mark.parametrize("typed", ["try Y cos(ω t)", "try complex: Y cos(ω t)"])
def test_a_trial_without_its_equals_sign_says_how_to_type_it(typed: str) -> None:
    assert "try x = …" in refused(typed, LINES).expected


@pytest.mark.parametrize("typed", ["m a + k x", "½ m v² + m g x", "sin θ cos θ tan θ", "m g sin θ cos φ"])
def test_mathematics_that_says_nothing_is_no_sentence(typed: str) -> None:
    assert "relation" in refused(typed).expected
