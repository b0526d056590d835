"""Primes that are no rates: values after an event, in a working without declarations."""

from __future__ import annotations

import pytest

from derive.notation.lexemes.primed import primed_among, primed_in


@pytest.mark.parametrize(("lines", "names"), [
    (["v = sqrt(2 g h)", "v' = e v", "h' = v'^2/(2g)"], ("v'", "h'")),
    (["m1 v1 + m2 v2 = m1 v1' + m2 v2'"], ("v_1'", "v_2'")),
    (["mv₁ = mv₁′ + Mv₂′"], ("v_1'", "v_2'")),
    (["at the top: ½ m v'² = m g h"], ("v'",)),
    (["v1' = e v1", "h1 = v1'²/(2g)", "t = t0 (1 + e)/(1 - e)"], ("v_1'",)),
    (["½ m v'² = m g H", "s = v t"], ("v'",)),
    (["m a = -F", "down: m a' = F", "v = u - a t"], ("a'",)),
    (["T = 2 π √(l/g)", "on the moon g' = g/6"], ("g'",)),
    (["v = 20 m/s, v' = 15 m/s", "F = m (v + v')/Δt", "s = v t"], ("v'",)),
])
def test_a_prime_on_a_page_that_says_nothing_of_time_names_another_value(
    lines: list[str], names: tuple[str, ...]
) -> None:
    assert primed_in(lines) == names


def test_what_is_so_many_times_its_own_plain_name_is_no_rate_even_of_a_place() -> None:
    assert primed_in(["F = G M m/r^2", "r' = 3 r so F' = F/9"]) == ("r'", "F'")
    assert primed_in(["x' = 3 x, y' = 2 y", "x = a e^(3 t)"]) == ()


@pytest.mark.parametrize(("lines", "names"), [
    (["if v doubles P' = 8 P"], ("P",)),
    (["P'/P = (v'/v)^3"], ("P", "v")),
    (["P = F v"], ()),
    (["a = v'"], ()),
    (["v' = 2 v", "s = v t"], ()),
])
def test_declared_names_stand_with_a_prime_for_others_of_their_kind_where_they_are_compared(
    lines: list[str], names: tuple[str, ...]
) -> None:
    assert primed_among(lines, ["P = k v^3"], ["P", "v", "k"]) == names


@pytest.mark.parametrize("lines", [
    ["m v' = m g - k v"],                      # one name, and no square of it
    ["m v' = -k v'^2", "v = v0 e^(-k t)"],     # t
    ["E = ½ m x'^2 + ½ k x^2"],                # a place
    ["a = v'", "v'^2 = u", "v'' = 0"],         # a second rate
    ["m v'^2 = F", "dv/v = F"],                # a differential
    ["v'^2 + u' = 0", "v(0) = 0"],             # a start
    ["v'^2 = u'", "v = u + at"],               # t in a product
])
def test_a_prime_is_a_rate_where_anything_speaks_of_time_or_of_a_place(lines: list[str]) -> None:
    assert primed_in(lines) == ()
