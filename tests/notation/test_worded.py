"""Quantities that are told in several words, where symbols are declared and where none are."""

from __future__ import annotations

import pytest

from derive.notation.names import Scope
from derive.notation.printing import as_text
from tests.notation.trees import QUICK, declared, read, refused

DECLARED = declared("m g h v c k", free=True)


def first(typed: str, scope: Scope) -> str:
    return "; ".join(as_text(s.claim) for s in read(typed, scope)[0].statements if s.claim is not None)


@pytest.mark.parametrize("scope", [DECLARED, QUICK], ids=["declared", "quick"])
@pytest.mark.parametrize(("typed", "reading"), [
    ("max compression = c", "max_compression = c"),
    ("energy at top = mgh", "energy_{at_top} = m g h"),
    ("the energy at the top = mgh", "energy_{at_top} = m g h"),
    ("KE at bottom = ½mv²", "KE_{at_bottom} = ½ m v²"),
    ("work of friction = 0", "work_{of_friction} = 0"),
    ("impulse on m2 = c", "impulse_{on_m2} = c"),
    ("work done by m = c", "work_{done_by_m} = c"),
    ("m g h = KE gained", "m g h = KE_gained"),
    ("impact speed v = c", "v = c"),
    ("v = c downwards", "v = c"),
    ("at the top: v = 0", "v = 0"),
])
def test_words_for_a_quantity_make_one_name(typed: str, reading: str, scope: Scope) -> None:
    assert first(typed, scope) == reading


@pytest.mark.parametrize(("typed", "reading"), [
    ("Two crates m1=2 kg and m2=3kg joined by a rope over a wheel of mass M=1kg radius R=0.1m",
     "m_1 = 2 kg; m_2 = 3 kg; M = 1 kg; R = 0.1 m"),
    ("The ferryman tugs with F=120 N at θ = 30° to the sledge weighing W = 300 N",
     "F = 120 N; θ = 30°; W = 300 N"),
])
def test_a_sentence_gives_the_values_in_it(typed: str, reading: str) -> None:
    assert first(typed, QUICK) == reading


@pytest.mark.parametrize("typed", [
    "Two crates m1=2 kg joined by a rope so v = u + a t", "v = 3 m/s frobnicated * 2",
])
def test_what_is_no_sentence_of_values_stays_unreadable(typed: str) -> None:
    refused(typed, QUICK)
