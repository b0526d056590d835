"""States of a working's contexts: kept, completed, and the freedom that is left on them."""

from __future__ import annotations

import numpy as np
import pytest

from derive.opening import opened
from derive.page import Page
from derive.states.projection import Cloud
from derive.states.states import States, freedom
from derive.terms.tape import Tape
from derive.terms.term import Var, var
from derive.text.document import read_document

HEAD = """\
Symbols:
  m, g, k : 1, positive
  θ : rad, 0 < θ < π/2
  y(t) : m
  a, N : 1

Given:
  m a = m g sin θ
  N = m g cos θ
"""


def page(text: str, typed: str = "") -> Page:
    """A working up to the end of its lines."""
    document = read_document(f"{text}\nWorking:\n{typed or '  a = g sin θ'}\n", "")
    here = opened(document)
    for line in document.working if typed else ():
        here = here.after(line)
    return here


def residual(here: Page, cloud: Cloud) -> float:
    system = here.setting.context.system()
    tape = Tape(system.equations)
    values, sizes = tape.run(cloud.columns), tape.magnitudes(cloud.columns)
    return max(float(np.max(np.abs(v) / s)) for v, s in zip(values, sizes, strict=True))


def test_the_states_of_a_page_satisfy_its_equations() -> None:
    here = page(HEAD)
    cloud = here.setting.states.of(here.setting.context)

    assert cloud.size == 40
    assert residual(here, cloud) < 1e-9


def test_states_are_found_once_and_kept() -> None:
    here = page(HEAD)
    states = here.setting.states
    first = states.of(here.setting.context)

    assert states.of(here.setting.context) is first


def test_the_same_text_has_the_same_states_every_time() -> None:
    one, other = (page(HEAD) for _ in range(2))
    clouds = [States().of(p.setting.context) for p in (one, other)]

    assert all(np.array_equal(clouds[0].columns[v], clouds[1].columns[v]) for v in clouds[0].columns)


def test_what_no_premise_mentions_is_given_values_too() -> None:
    here = page(HEAD)
    k = Var("k")

    values = here.setting.states.of(here.setting.context, (var(k),)).columns[k]

    assert (values > 0).all()
    assert np.ptp(values) > 0.1


def test_a_line_that_follows_leaves_the_states_as_they_were() -> None:
    here = page(HEAD)
    after = here.after(here.document.working[0])

    assert after.setting.context.system() == here.setting.context.system()


@pytest.mark.parametrize(("names", "free"), [
    ("m g θ", 3), ("m g θ a", 3), ("a g", 2), ("a g θ", 2), ("N m g a", 3), ("k m", 2),
])
def test_as_much_can_be_varied_as_the_premises_leave_open(names: str, free: int) -> None:
    here = page(HEAD)

    assert freedom(here.setting.context, [Var(n) for n in names.split()], (), here.setting.states) == free


def test_a_relation_between_moving_names_holds_with_its_derivatives() -> None:
    here = page("Symbols:\n  y(t), x(t) : m\n  c : 1, positive\n\nGiven:\n  x = c y\n", "  x'' = c y''")
    x, y, c = Var("x", 2, "t"), Var("y", 2, "t"), Var("c")
    cloud = here.setting.states.of(here.setting.context, (var(x), var(y)))

    assert cloud.columns[x] == pytest.approx(cloud.columns[c] * cloud.columns[y])


def test_givens_that_contradict_each_other_have_no_states() -> None:
    here = page("Symbols:\n  a, b : 1, positive\n\nGiven:\n  a + b = 0\n")

    assert not here.setting.states.of(here.setting.context).size
    assert here.problems
