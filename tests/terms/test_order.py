"""The parts of a term in order: each once, before what is made of it; and only so much of that is kept."""

from __future__ import annotations

import pytest

from derive.terms import term as terms
from derive.terms.term import postorder
from tests.typed import term


@pytest.mark.parametrize("texts", [("m*g*sin(th) - f",), ("(a + b)*(a + b)^2", "a + b"), ("x", "x^2", "sin(x^2)*x")])
def test_every_part_comes_once_and_before_what_is_made_of_it(texts: tuple[str, ...]) -> None:
    roots = [term(text) for text in texts]
    order = postorder(*roots)

    assert len(set(order)) == len(order)
    assert all(order.index(a) < order.index(t) for t in order for a in t.args)
    assert set(roots) <= set(order)
    assert postorder(*roots) == order


def test_no_more_orders_are_kept_than_a_page_can_use(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(terms, "_MOST_KEPT", 60)
    for k in range(50):
        postorder(term(f"x^{k + 2}*y - {k}"))

    assert sum(map(len, terms._passed.values())) <= 60
