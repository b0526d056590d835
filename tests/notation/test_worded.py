"""Quantities that are told in several words, where symbols are declared and where none are."""

from __future__ import annotations

import pytest

from derive.notation.names import Scope
from derive.notation.printed.printing import as_text
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
    ("p before = m v", "p_before = m v"),
    ("K2 after = ½ m v²", "K_{2after} = ½ m v²"),
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
    ("W = 240 N hangs from two ropes, 30° and 45° from the horizontal", "W = 240 N"),
])
def test_a_sentence_gives_the_values_in_it(typed: str, reading: str) -> None:
    assert first(typed, QUICK) == reading


@pytest.mark.parametrize("typed", [
    "Two crates m1=2 kg joined by a rope so v = u + a t", "v = 3 m/s frobnicated * 2",
])
def test_what_is_no_sentence_of_values_stays_unreadable(typed: str) -> None:
    refused(typed, QUICK)


def place_and_claim(typed: str, scope: Scope) -> list[tuple[str, str]]:
    return [(as_text(s.where) if s.where is not None else "", as_text(s.claim) if s.claim is not None else "")
            for s in read(typed, scope)[0].statements]


@pytest.mark.parametrize("scope", [DECLARED, QUICK], ids=["declared", "quick"])
@pytest.mark.parametrize(("typed", "where", "claim"), [
    ("m vanishes when h = c/k", "h = c/k", "m = 0"),
    ("the mass m becomes zero at h = c/k", "h = c/k", "m = 0"),
    ("m drops to zero if h = c/k", "h = c/k", "m = 0"),
    ("v reaches c/2 after h = m/k", "h = m/k", "v = c/2"),
    ("v falls to c/4 when h = c/k", "h = c/k", "v = c/4"),
    ("v = c/2 after h = m/k", "h = m/k", "v = c/2"),
    ("v < 0 as soon as h > m/k", "h > m/k", "v < 0"),
])
def test_a_verb_told_of_a_name_with_its_when_is_a_relation(typed: str, where: str, claim: str, scope: Scope) -> None:
    assert place_and_claim(typed, scope) == [(where, claim)]


def test_a_name_that_vanishes_without_a_when_is_no_relation() -> None:
    assert not [s for s in read("so v vanishes there", QUICK)[0].statements if s.claim is not None]


@pytest.mark.parametrize("typed", ["N = 0, i.e. h = c", "N = 0, ie h = c"])
def test_that_is_draws_what_stands_behind_it(typed: str) -> None:
    assert read(typed, QUICK)[0].statements[1].word.replace(",", "").strip() in ("i.e.", "ie")
