"""States of systems: they satisfy every equation, stay in range, reach every branch, and are not invented."""

from __future__ import annotations

import numpy as np
import pytest

from derive.states.coordinates import Coordinates
from derive.states.points import Search
from derive.states.projection import Projector, System
from derive.terms.isolation import isolated
from derive.terms.prior import Prior, draw
from derive.terms.tape import Tape
from derive.terms.term import Var, show, variables
from tests.systems import off, priors, states, system
from tests.typed import term

SYSTEMS = {
    "a crate on a slipway": (
        system("m*a = m*g*sin(th) - f", "f = mu*N", "N = m*g*cos(th)"), priors("m g mu N", "th")),
    "two crates over a block": (
        system("m*a = m*g - T", "M*a = T - M*g", "J*al = r*(T - S)", "a = r*al"), priors("m M g r J")),
    "a bump without loss": (
        system("m*u = m*v + M*w", "m*u^2/2 = m*v^2/2 + M*w^2/2"), priors("m M u")),
    "a satellite in its orbit": (
        system("G*M*m/r^2 = m*v^2/r", "v = 2*pi*r/T"), priors("G M m r v T")),
    "an oscillation and its frequency": (
        system("m*y_tt + k*y", "w^2 = k/m", "T = 2*pi/w"), priors("m k w T")),
    "an integral that gives the work": (
        system("W = integral(k*x + c*x^3, x, 0, d)", "m*v^2/2 = W"), priors("k c d m v")),
}


@pytest.mark.parametrize("name", SYSTEMS)
def test_every_state_satisfies_every_equation(name: str) -> None:
    s, prior = SYSTEMS[name]
    cloud = states(s, prior)

    assert cloud.size >= 24
    assert max(off(cloud, e) for e in s.equations) < 1e-9


@pytest.mark.parametrize("name", SYSTEMS)
def test_every_state_is_in_range(name: str) -> None:
    s, prior = SYSTEMS[name]
    cloud = states(s, prior)

    for v, values in cloud.columns.items():
        assert ((values > prior(v).lower) & (values < prior(v).upper)).all(), v


@pytest.mark.parametrize("name", SYSTEMS)
def test_the_same_seed_gives_the_same_states(name: str) -> None:
    s, prior = SYSTEMS[name]
    first, again = states(s, prior, seed=7), states(s, prior, seed=7)

    assert all(np.array_equal(first.columns[v], again.columns[v]) for v in first.columns)


def test_another_seed_gives_other_states() -> None:
    s, prior = SYSTEMS["a crate on a slipway"]

    assert not np.array_equal(states(s, prior, 1).columns[Var("m")], states(s, prior, 2).columns[Var("m")])


def test_both_roots_of_a_collision_are_reached() -> None:
    s, prior = SYSTEMS["a bump without loss"]
    cloud = states(s, prior)
    w = cloud.columns[Var("w")]

    assert (np.abs(w) < 1e-9).any()
    assert (np.abs(w) > 1e-3).any()


def test_both_signs_of_a_square_root_are_reached() -> None:
    v = states(system("v^2 = 2*g*h"), priors("g h")).columns[Var("v")]

    assert (v > 0).any()
    assert (v < 0).any()


def test_inequalities_hold_in_every_state() -> None:
    cloud = states(system("x + y = s", positive=("x - 2*y",)), priors("x y s"))

    assert cloud.size
    assert (cloud.columns[Var("x")] > 2 * cloud.columns[Var("y")]).all()


IMPOSSIBLE = {
    "a positive quantity that would be negative": (system("a + b"), priors("a b")),
    "two values for one thing": (system("x = k*y", "x = 2*k*y"), priors("x y k")),
    "a sine above one": (system("sin(th) = 2 + q"), priors("q", "th")),
    "a square that is negative": (system("x^2 + 1"), priors()),
    "plain numbers that differ": (system("x = 3", "x = 4"), priors()),
}


@pytest.mark.parametrize("name", IMPOSSIBLE)
def test_no_state_is_invented_where_there_is_none(name: str) -> None:
    s, prior = IMPOSSIBLE[name]

    assert states(s, prior).size == 0


def test_a_system_without_unknowns_is_true_or_not() -> None:
    assert states(System((term("2*3 - 6"),)), priors()).size
    assert not states(System((term("sqrt(2) - 1"),)), priors()).size


def test_identities_among_the_equations_do_not_lead_astray() -> None:
    cloud = states(system("x = k*y", "sin(y)^2 + cos(y)^2 = 1"), priors("k"))

    assert cloud.size == 40
    assert off(cloud, term("x = k*y")) < 1e-9


def test_unknowns_that_are_held_stay_where_they_are() -> None:
    s, prior = SYSTEMS["a satellite in its orbit"]
    projector = Projector(s, prior, fixed=(Var("M"), Var("r")))
    rng = np.random.default_rng(3)
    env = {v: draw(prior(v), 20, rng) for v in map(Var, "GMmrvT")}
    after, bad = projector.project(env)

    assert (bad < 1e-9).all()
    assert np.array_equal(after[Var("M")], env[Var("M")])


def test_the_same_states_are_found_whatever_was_asked_of_the_search_before() -> None:
    s, prior = SYSTEMS["a satellite in its orbit"]
    search, again = (Search.of(s, prior, np.random.default_rng(7)) for _ in range(2))

    search.states(12)

    many, other = search.states(40), again.states(40)
    assert many.size == 40
    assert all(np.array_equal(many.columns[v], other.columns[v]) for v in many.columns)


@pytest.mark.parametrize("prior", [Prior(), Prior(0.0), Prior(upper=2.0), Prior(-1.0, 3.0)], ids=str)
def test_an_unknown_moves_within_its_range_at_the_slope_it_says(prior: Prior) -> None:
    coordinates = Coordinates([Prior(), prior])
    x = np.array([np.ones(50), draw(prior, 50, np.random.default_rng(5))])
    h = np.array([[0.0], [1e-6]])
    risen = (coordinates.moved(x, h + 0 * x) - coordinates.moved(x, -h + 0 * x))[1] / 2e-6

    assert prior.admits(x[1]).all()
    assert prior.admits(coordinates.moved(x, np.full(x.shape, 2.0))[1]).all()
    assert risen == pytest.approx(coordinates.slopes(x)[1], rel=1e-6)


@pytest.mark.parametrize(("equation", "ways"), [
    ("v - u - a*t", [("v", "u + a*t"), ("u", "v - a*t")]),
    ("2*x = y", [("x", "y/2"), ("y", "2*x")]),
    ("x - x^2 - y", [("y", "x - x^2")]),
    ("x*y = 1", []),
])
def test_what_an_equation_gives_at_sight_is_read_off(equation: str, ways: list[tuple[str, str]]) -> None:
    found = isolated(term(equation))

    assert [v.name for v, _ in found] == [n for n, _ in ways]
    for (_, rest), (_, said) in zip(found, ways, strict=True):
        pair = (rest, term(said))
        env = {v: draw(Prior(), 8, np.random.default_rng(1)) for v in variables(*pair)}
        one, other = Tape(pair).run(env)

        assert one == pytest.approx(other), show(rest)
