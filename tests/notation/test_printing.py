"""A printed tree reads back as the same tree; LaTeX and MathML of it are well formed and harmless."""

from __future__ import annotations

from fractions import Fraction
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from derive.notation import tree as n
from derive.notation.printed.latex import as_latex
from derive.notation.printed.mathml import as_mathml
from derive.notation.printed.printing import as_text
from derive.notation.reader import read_expression
from tests.notation.trees import declared, dump, read
from tests.sampling import WHOLE

SCOPE = declared("m v g x y(t) z(t) θ ω x_0 v_max U(r) r A k_θ E Δp", "p q")

_TYPED_NAMES = "m v g x y z θ ω x_0 v_max r A k_θ t Δp"
_NAMES = st.sampled_from(_TYPED_NAMES.split()).map(n.Name)
_NUMBERS = st.one_of(
    st.integers(0, 999).map(lambda i: n.Num(Fraction(i))),
    st.sampled_from([Fraction(1, 2), Fraction(3, 4), Fraction(1, 3)]).map(n.Num),
    st.tuples(st.integers(1, 9999), st.integers(-6, 9)).map(lambda p: n.Num(p[0] * Fraction(10) ** p[1], p[1])),
)
_UNITS = st.sampled_from([
    n.Unit("kg"), n.Unit("°"), n.Quotient(n.Unit("km"), n.Unit("h")), n.Product((n.Unit("N"), n.Unit("m"))),
    n.Quotient(n.Unit("N"), n.Power(n.Unit("mm"), n.Num(Fraction(2)))),
])
_QUANTITIES = st.tuples(_NUMBERS.filter(lambda x: x.last_digit is not None), _UNITS).map(n.Product)
_CONSTANTS = st.sampled_from("πe").map(n.Constant)
_MOTIONS = st.sampled_from([n.Name("y"), n.Name("z")])
_RATES = st.builds(n.Derivative, _MOTIONS, st.just(n.Name("t")), st.integers(1, 3))
_LEAVES = st.one_of(_NAMES, _NUMBERS, _CONSTANTS, _RATES, _QUANTITIES)
_FUNCTIONS = st.sampled_from(["sin", "cos", "tan", "ln", "exp", "sqrt", "tanh", "arctan", "abs", "sinh", "cbrt"])


def _positive(term: n.Expr) -> bool:
    return not isinstance(term, n.Neg | n.PlusMinus)


def _larger(inner: st.SearchStrategy[n.Expr]) -> st.SearchStrategy[n.Expr]:
    several = st.lists(inner, min_size=2, max_size=4).map(tuple)
    return st.one_of(
        several.map(n.Sum),
        several.map(n.Product).filter(lambda p: not _is_quantity(p)),
        inner.map(n.Neg),
        inner.map(n.PlusMinus),
        st.builds(n.Quotient, inner, inner),
        st.builds(n.Power, inner, inner),
        st.builds(n.Apply, _FUNCTIONS, inner),
        st.builds(n.Value, _MOTIONS | _RATES, inner.filter(lambda x: x != n.Name("t")).map(lambda x: (x,))),
        st.builds(n.Value, st.just(n.Name("U")), inner.filter(lambda x: x != n.Name("r")).map(lambda x: (x,))),
        st.builds(n.Derivative, inner.filter(lambda x: x not in (n.Name("y"), n.Name("z"))), _NAMES, st.integers(1, 2)),
        st.builds(n.Derivative, inner, _NAMES | _RATES, st.integers(1, 2), st.just(True)),
        st.builds(n.Differential, inner),
        st.builds(n.Integral, inner, _NAMES),
        st.builds(n.Integral, inner, _NAMES, inner, inner),
        st.builds(n.Between, inner, inner, inner),
        st.builds(n.Between, inner, inner, inner, _NAMES),
    )


def _is_quantity(product: n.Product) -> bool:
    return any(isinstance(f, n.Unit) for f in product.factors)


TREES = st.recursive(_LEAVES, _larger, max_leaves=9)


@settings(max_examples=1000 if WHOLE else 300, deadline=None, derandomize=True, database=None)
@given(TREES)
def test_a_printed_tree_reads_back_as_the_same_tree(tree: n.Expr) -> None:
    text = as_text(tree)

    assert dump(read_expression(text, SCOPE)) == dump(tree), text


# Vectors are told by their declaration, so they have a table of their own.
VECTORS = (
    n.Dot(n.Name("p"), n.Name("q")),
    n.Product((n.Name("m"), n.Dot(n.Name("p"), n.Name("q")))),
    n.Cross(n.Name("p"), n.Name("q")),
    n.Vector((n.Name("x"), n.Num(Fraction(0)))),
    n.Sum((n.Product((n.Name("x"), n.UnitVector("x"))), n.Product((n.Name("v"), n.UnitVector("θ"))))),
    n.Component(n.Name("p"), "x"),
    n.Apply("abs", n.Name("p")),
    n.Dot(n.Cross(n.Name("p"), n.Name("q")), n.UnitVector("z")),
)


@pytest.mark.parametrize("tree", VECTORS)
def test_a_printed_vector_reads_back_as_the_same_tree(tree: n.Expr) -> None:
    assert dump(read_expression(as_text(tree), SCOPE)) == dump(tree)


# Typed, and printed as text and as LaTeX.
PRINTED = (
    ("T = 2pi sqrt(m/k)", "T = 2π √(m/k)", r"T = 2\, \pi\, \sqrt{\frac{m}{k}}"),
    ("E=1/2mv^2", "E = 1/2·m v²", r"E = \frac{1}{2}\, m\, v^{2}"),
    ("E = ½ m v²", "E = ½ m v²", r"E = \tfrac{1}{2}\, m\, v^{2}"),
    ("sin^2 x + cos^2 x = 1", "sin²(x) + cos²(x) = 1",
     r"\sin^{2}\left(x\right) + \cos^{2}\left(x\right) = 1"),
    ("v = 72 km/h", "v = 72 km/h", r"v = 72\, \frac{\mathrm{km}}{\mathrm{h}}"),
    ("θ = 30°", "θ = 30°", r"\theta = 30^{\circ}"),
    ("k = 1.20e3", "k = 1.20×10³", r"k = 1.20 \times 10^{3}"),
    ("m y'' = -k y", "m y'' = -k y", r"m\, \ddot{y} = -k\, y"),
    ("dv/dx = 0", "dv/dx = 0", r"\frac{\mathrm{d} v}{\mathrm{d} x} = 0"),
    ("W = ∫_0^d F dx", "W = ∫_0^d F dx", r"W = \int_{0}^{d} F\, \mathrm{d}x"),
    ("v_max ≤ u", "v_max ≤ u", r"v_{\mathrm{max}} \leq u"),
    ("x = a(b - c)", "x = a·(b - c)", r"x = a\, \left(b - c\right)"),
    ("u = a or u = b", "u = a or u = b", r"u = a\;\text{or}\; u = b"),
)


@pytest.mark.parametrize(("typed", "text", "latex"), PRINTED)
def test_a_line_is_printed_as_a_person_would_write_it(typed: str, text: str, latex: str) -> None:
    claim = read(typed)[0].statements[0].claim

    assert as_text(claim) == text
    assert as_latex(claim) == latex


@settings(max_examples=300, deadline=None, derandomize=True, database=None)
@given(TREES)
def test_latex_has_matching_braces_and_mathml_is_well_formed(tree: n.Expr) -> None:
    latex = as_latex(tree)
    page = ElementTree.fromstring(as_mathml(tree))

    assert latex.count("{") == latex.count("}")
    assert latex.count(r"\left") == latex.count(r"\right")
    assert page.tag.endswith("math")


@pytest.mark.parametrize("name", ["<b>x</b>", "a&b", "\\input{f}", "x}$%", "]]>", "\x1b[31m", "a\x00b"])
def test_no_name_becomes_markup(name: str) -> None:
    latex, mathml = as_latex(n.Name(name)), as_mathml(n.Name(name))
    text = "".join(ElementTree.fromstring(mathml).itertext())

    assert "\x1b" not in latex + mathml
    assert "\x00" not in latex + mathml
    assert "<b>" not in mathml
    assert all(command not in latex for command in ("\\input", "$%"))
    assert set(text) <= set(name)


def test_mathml_says_what_the_text_says() -> None:
    claim = read("E = ½ m v²")[0].statements[0].claim
    spoken = "".join(ElementTree.fromstring(as_mathml(claim)).itertext()).replace("\u2062", "")

    assert spoken == "E=½mv2"
