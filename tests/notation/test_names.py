"""One name, many spellings; letters run together."""

from __future__ import annotations

import pytest

from tests.notation.trees import QUICK, declared, dumps

# Undeclared names in a working without declarations.
NAMES = (
    ("x_0 = 0", "x_0 = 0"),
    ("x0 = 0", "x_0 = 0"),
    ("x₀ = 0", "x_0 = 0"),
    ("x_{0} = 0", "x_0 = 0"),
    ("x_max = 0", "x_max = 0"),
    ("xmax = 0", "x_max = 0"),
    ("x_{max} = 0", "x_max = 0"),
    ("F_net = 0", "F_net = 0"),
    ("Fnet = 0", "F_net = 0"),
    ("T1 = 0", "T_1 = 0"),
    ("T_1 = 0", "T_1 = 0"),
    ("T₁ = 0", "T_1 = 0"),
    ("omega = 0", "ω = 0"),
    ("ω = 0", "ω = 0"),
    ("\\omega = 0", "ω = 0"),
    ("Omega = Ω", "Ω = Ω"),
    ("Delta p = 0", "Δp = 0"),
    ("Δp = 0", "Δp = 0"),
    ("\\Delta p = 0", "Δp = 0"),
    ("delta = δ", "δ = δ"),
    ("theta_0 = θ₀", "θ_0 = θ_0"),
    ("th = 0", "θ = 0"),
    ("th0 = th_1", "θ_0 = θ_1"),
    ("N = m g costh", "N = (* m g (cos θ))"),
    ("th'' = 0", "(D2 θ t) = 0"),
    ("θ0 = 0", "θ_0 = 0"),
    ("rho g V = 0", "(* ρ g V) = 0"),
    ("rhogV = 0", "(* ρ g V) = 0"),
    ("2pir = 0", "(* 2 #π r) = 0"),
    ("μ_s = 0", "μ_s = 0"),
    ("mu_s = 0", "μ_s = 0"),
    ("µN = 0", "(* μ N) = 0"),
    ("v_0t = 0", "(* v_0 t) = 0"),
    ("v0t = 0", "(* v_0 t) = 0"),
    ("v_0x = 0", "v_0x = 0"),
    ("v_x = 0", "v_x = 0"),
    ("m1g = 0", "(* m_1 g) = 0"),
    ("m_1 g + m_2 g = 0", "(+ (* m_1 g) (* m_2 g)) = 0"),
    ("x_0' = 0", "(D x_0 t) = 0"),
    ("x' = 0", "(D x t) = 0"),
    ("x'_0 = 0", "(D x_0 t) = 0"),
    ("x'' = 0", "(D2 x t) = 0"),
    ("x″ = 0", "(D2 x t) = 0"),
    ('x" = 0', "(D2 x t) = 0"),
    ("x’ = 0", "(D x t) = 0"),
    ("ẋ = 0", "(D x t) = 0"),
    ("ẍ = 0", "(D2 x t) = 0"),
    ("\\dot{x} = 0", "(D x t) = 0"),
    ("\\ddot{x} = 0", "(D2 x t) = 0"),
    ("\\dot x = 0", "(D x t) = 0"),
    ("\\ddot{\\theta} = 0", "(D2 θ t) = 0"),
    ("θ̇ = 0", "(D θ t) = 0"),
    ("θ̈ = 0", "(D2 θ t) = 0"),
    ("mẍ = -kx", "(* m (D2 x t)) = (- (* k x))"),
    ("x̄ = 0", "x̄ = 0"),
    ("\\vec{F} = m \\vec{a}", "F = (* m a)"),
    ("Ekin = 0", "E_kin = 0"),
    ("ΣF = m a", "ΣF = (* m a)"),
    ("Σ F = m a", "ΣF = (* m a)"),
    ("ΣF_x = 0", "ΣF_x = 0"),
    ("E_kin + E_pot = E", "(+ E_kin E_pot) = E"),
    ("ℓ = 0", "l = 0"),
    ("ħ = 0", "ħ = 0"),
    ("e = 1", "e = 1"),
    ("π = 0", "#π = 0"),
    ("x_{n+1} = 0", "x_n+1 = 0"),
    ("α + β + γ = 180°", "(+ α β γ) = (* 180 [°])"),
    ("φ = ϕ", "φ = φ"),
    ("ε = ϵ", "ε = ε"),
    ("k_theta = 0", "k_θ = 0"),
    ("vₓ = 0", "v_x = 0"),
    ("ｘ = ２", "x = 2"),
    ("𝑥 = 0", "x = 0"),
)


@pytest.mark.parametrize(("typed", "tree"), NAMES)
def test_a_name_has_one_spelling(typed: str, tree: str) -> None:
    assert dumps(typed, QUICK)[0] == tree


def test_a_name_declared_with_a_bare_underscore_is_not_the_one_without() -> None:
    assert dumps("g_ g = g_/g", declared("g g_"))[0] == "(* g_ g) = (/ g_ g)"
