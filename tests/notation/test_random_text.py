"""No text raises: whatever is typed is read or refused."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from derive.notation import tree as n
from derive.notation.printed.printing import as_text
from derive.notation.reader import read_claim, read_expression, read_line
from derive.records import Reading, Unreadable
from tests.notation.trees import QUICK, declared, line

SCOPES = (QUICK, declared("F m a v u y(t) k θ g x(t) d U(r) r ω", "p", labels="1 2", previous=n.Name("W")))

# What people type, in pieces.
_TYPED_PIECES = r"""
F m a v y'' ẏ sin cos √ ∫ dx dy/dt d/dt ∂L/∂q = < ≤ ≈ → + - − ± * · × / ^ ^2 ² ½ 9.81 1.2e3 kg m/s ° ( ) [ ] { }
| , : ; . so hence let try at when for small as or and from to over runs gives where (1) (2) [from _0 ^d t=0
\frac{a}{b} \theta \dot{x} x_{0} v_max const ∞ π e i ≪ ⊥ ' ’ # the mass is 2,5 ! $ @ ħ x̂ θ̂
"""
_PIECES = st.sampled_from(_TYPED_PIECES.split())
_ROWS = st.lists(st.tuples(_PIECES, st.sampled_from(["", " "])), max_size=14)
_TYPED = _ROWS.map(lambda row: "".join(piece + gap for piece, gap in row))


@settings(max_examples=250, deadline=None, derandomize=True, database=None)
@given(st.text(max_size=60))
def test_random_characters_never_raise(text: str) -> None:
    for scope in SCOPES:
        assert isinstance(read_line(line(text), scope), list | Unreadable)


@settings(max_examples=500, deadline=None, derandomize=True, database=None)
@given(_TYPED)
def test_random_mathematics_never_raises_and_prints(text: str) -> None:
    for scope in SCOPES:
        found = read_line(line(text), scope)
        if isinstance(found, Unreadable):
            assert 0 <= found.span.start <= found.span.end <= max(len(text), found.span.start)
            assert found.expected
            continue
        assert 0 < len(found) <= 16
        for reading in found:
            assert isinstance(reading, Reading)
            assert all(isinstance(as_text(statement), str) for statement in reading.statements)


@settings(max_examples=200, deadline=None, derandomize=True, database=None)
@given(_TYPED)
def test_random_claims_and_expressions_never_raise(text: str) -> None:
    for scope in SCOPES:
        read_claim(text, scope)
        read_expression(text, scope)


@settings(max_examples=300, deadline=None, derandomize=True, database=None)
@given(_TYPED)
def test_every_letter_of_a_readable_line_is_in_a_tree_or_in_the_words(text: str) -> None:
    """Nothing that a person wrote is silently skipped."""
    found = read_line(line(text), QUICK)
    if isinstance(found, Unreadable):
        return
    reading = found[0]
    covered = [False] * len(text)
    for statement in reading.statements:
        for node in (statement.claim, statement.where, *statement.small):
            span = getattr(node, "span", None)
            if span is not None:
                covered[span.start:span.end] = [True] * (span.end - span.start)
    kept = reading.words + " ".join(s.word for s in reading.statements)
    left = [c for c, seen in zip(text, covered, strict=True) if not seen and c.isalpha()]
    opening = "letrysupposeatwhenforsmallasorsoandhencefromtooverrunsgiveswhere"
    assert all(c in kept or c in opening for c in left)
