"""What hurried writers leave out: degree signs, power signs after units, underscores, names for quantities."""

from __future__ import annotations

import pytest

from derive.notation.names import Scope
from derive.notation.printed.printing import as_text
from derive.notation.reader import read_line
from derive.records import RawLine, Span, Symbol, Unreadable

QUICK = Scope(quick=True)


def first(typed: str, scope: Scope = QUICK) -> str:
    """The first reading of a typed line, printed back."""
    found = read_line(RawLine(1, typed, body=Span(0, len(typed))), scope)
    assert not isinstance(found, Unreadable), found
    return ", ".join(as_text(s.claim) for s in found[0].statements if s.claim is not None)


@pytest.mark.parametrize(("typed", "read"), [
    ("a = 9.81 ms-2", "a = 9.81 m s⁻²"),
    ("g = 9.81 m s-2", "g = 9.81 m s⁻²"),
    ("ρ = 1000 kgm-3", "ρ = 1000 kg m⁻³"),
    ("x = 3 m - 2", "x = 3 m - 2"),
    ("v = 20 metres per second", "v = 20 m/s"),
    ("a = 9.8 metres per second squared", "a = 9.8 m/s²"),
    ("F = m.a", "F = m a"),
    ("F = m . a", "F = m a"),
    ("m1 : m2 = 2 : 1", "m_1/m_2 = 2/1"),
    ("ratio: m1 : m2 = 2:1, so a = 0", "m_1/m_2 = 2/1, a = 0"),
    ("case: m1 = m2", "m_1 = m_2"),
    (r"E = \frac12 m v^2", "E = ½ m v²"),
    (r"E = \tfrac 1 2 m v^2", "E = ½ m v²"),
    ("F = m².a", "F = m² a"),
    ("m=800kg v=3m/s F=20kN", "m = 800 kg, v = 3 m/s, F = 20 kN"),
    ("m = 2 kg  v = 3 m/s", "m = 2 kg, v = 3 m/s"),
    ("x = 2 m v = 6", "x = 2·m v = 6"),
    ("T = 2(9.8 + 3) N", "T = 2·((9.8 + 3) N)"),
    ("Pin = 8.4 kW", "P_in = 8.4 kW"),
    ("sin30 = 0.5", "sin(30°) = 0.5"),
    ("cos(60) = 0.5", "cos(60°) = 0.5"),
    ("θ = arctan(0.319) = 17.7", "θ = arctan(0.319) = 17.7°"),
    ("θ = arctan(0.319) = 0.309", "θ = arctan(0.319) = 0.309"),
    ("x = sin 2", "x = sin(2)"),
    ("t = sqrt(2h/g)", "t = √(2·h/g)"),
    ("v = root(2gh)", "v = √(2·g h)"),
    ("Ek = Ep", "Ek = Ep"),
    ("KE1 + PE1 = KE2", "KE_1 + PE_1 = KE_2"),
    ("vx = v cosα", "vx = v cos(α)"),
    ("ΣFy = N - mg", "ΣFy = N - m g"),
    ("KE lost = m g h", "KE_lost = m g h"),
    ("so the work done = F d", "work_done = F d"),
    ("acceleration = F/m", "acceleration = F/m"),
    ("the acceleration is a = F/m", "a = F/m"),
    ("a = 3i - 4j", "a = 3·x\u0302 - 4·y\u0302"),
    ("mA vA + mB vB = 0", "mA vA + mB vB = 0"),
    ("vA = (3, 0)", "vA = (3, 0)"),
    ("E = 1/2 kA^2", "E = 1/2·k A²"),
    ("gain in KE = m g h", "gain_{in_KE} = m g h"),
    ("m d2x/dt2 = -k x", "m x'' = -k x"),
    ("Id2theta/dt2 = -mgl", "I θ'' = -m g l"),
    ("d2U/dx2 = k", "d²U/dx² = k"),
    ("mx..=-kx", "m x'' = -k x"),
    ("x. = -A w sin(wt)", "x' = -A w sin(w t)"),
    ("r θ.. + 2 r. θ. = 0", "r θ'' + 2·r' θ' = 0"),
    ("v = u. So a = 3", "v = u, a = 3"),
    ("u = w - v  (e = 1)", "u = w - v, e = 1"),
    ("(since w ≠ 0, v = u)", "w ≠ 0, v = u"),
    ("x'(t = 0) = u", "x'(0) = u"),
    ("ω = 12.6 /s", "ω = 12.6/s"),
    ("α = 7.36 1/s²", "α = 7.36/s²"),
    ("n = 5 1/min", "n = 5/min"),
    ("E = 280 Joules", "E = 280 J"),
    ("n = 45 turns/min = 0.75 1/s", "n = 45·(1/min) = 0.75/s"),
    ("E = 3 kilojoules", "E = 3 kJ"),
    ("m = 3 kgs", "m = 3 kg"),
    ("a = 9.8 ms^-2", "a = 9.8 m s⁻²"),
    ("v = 2 x 9.8 x 5", "v = 2·9.8·5"),
    ("A = 8 m x 30 m", "A = (8 m)·(30 m)"),
    ("y = 2 x", "y = 2·x"),
    ("R = 40% of E", "R = (40 %)·E"),
    ("Q = 2/3 of mgh", "Q = 2/3·m g h"),
    ("sum F = m a", "ΣF = m a"),
    ("max when 2θ = 90°", "2·θ = 90°"),
])
def test_hurried_shorthand_is_read_as_it_is_meant(typed: str, read: str) -> None:
    assert read == first(typed)


def test_the_letters_of_known_names_stay_a_product() -> None:
    known = Scope({n: Symbol(n, declared=False) for n in ("K", "E", "F", "x")}, quick=True)

    assert first("KE = 3", known) == "K E = 3"
    assert first("Fx = 3", known) == "F x = 3"


def test_after_its_factors_a_power_is_no_average_mass() -> None:
    known = Scope({n: Symbol(n, declared=False) for n in ("m", "a", "v")}, quick=True)

    assert first("P = mav", known) == "P = m a v"
    assert first("P = mav") == "P = m_av"


def test_a_statement_in_a_bracket_that_opens_a_condition_stays_one() -> None:
    found = read_line(RawLine(1, "v = 0 (when x = A)", body=Span(0, 18)), QUICK)

    assert not isinstance(found, Unreadable)
    assert [s.role for s in found[0].statements] == ["at"]


def test_work_on_lines_after_a_first_statement_is_words() -> None:
    known = Scope(quick=True, labels=frozenset("ab"))
    typed = "since w ≠ 0, (a)/(b) gives u = v"
    found = read_line(RawLine(1, typed, body=Span(0, len(typed))), known)

    assert not isinstance(found, Unreadable)
    assert [as_text(s.claim) for s in found[0].statements if s.claim is not None] == ["w ≠ 0", "u = v"]
    assert found[0].cites == ("a", "b")


@pytest.mark.parametrize("typed", ["for small θ sin θ = θ", "for small angles sinθ ≈ θ", "small angles: sin θ = θ"])
def test_an_approximation_needs_no_colon_and_no_name(typed: str) -> None:
    found = read_line(RawLine(1, typed, body=Span(0, len(typed))), QUICK)

    assert not isinstance(found, Unreadable)
    assert [s.role for s in found[0].statements] == ["regime"]
