"""The page that `thence notation` prints: what can be typed. Its examples are data, and a test reads every one."""

from __future__ import annotations

import textwrap
from dataclasses import dataclass

from derive.notation.kinds import A_FILE, KINDS


@dataclass(frozen=True, slots=True)
class Row:
    """What it is, ways to type it (each a whole line that reads), and a remark or ''."""

    what: str
    typed: tuple[str, ...]
    remark: str = ""


@dataclass(frozen=True, slots=True)
class Part:
    title: str
    rows: tuple[Row, ...]


PARTS: tuple[Part, ...] = (
    Part("A line", (
        Row("a relation", ("F = m a", "0 < θ < π/2", "a = b = c")),
        Row("after a joining word", ("so a = F/m", "hence T = 2π/ω", "⇒ v = u", "=> v = u")),
        Row("going on from above", ("= ½ k x²",),
            "the first side may stand on a line of its own, as in “energy lost: ½ m u² - ½ m v²”"),
        Row("several statements", ("m = ρ A d, so k = ρ g A", "y' = 0 and y = y0", "v² = g r means v = √(g r)")),
        Row("a new name", ("let ω² = k/m", "y = Y cos n t, where n = √(k/m)")),
        Row("a trial, a case", ("try y = Y cos(ω t + φ)", "suppose v = 0", "v = 0 gives u = w")),
        Row("at an instant or a place", ("at t = 0: y = y0, y' = 0", "v = 0 at x = 0", "y(0) = y0",
            "after 5 s: v = u")),
        Row("how it starts", ("starts at y = y0 at rest", "y(0) = y0, at rest", "released from rest at x = a",
            "initially v = u"), "above the law as well as below it"),
        Row("what is greatest", ("v_max when a = 0", "largest for θ = π/4", "P max at u = v/3")),
        Row("what is not there", ("no friction: a = g sin θ", "without drag: v' = g")),
        Row("how long it is so", ("v' = a until v = u", "F = k x as long as x < a", "v = 0 while F ≤ W")),
        Row("kinds told apart", ("disc k = 1/2, ring k = 1", "disc: v = 2 u"),
            "in bare lines: what a later line with the word at its head is said of"),
        Row("an approximation", ("for small θ: sin θ ≈ θ", "linearised: sin θ = θ", "ε ≪ 1", "ε << 1")),
        Row("a limit, a range", ("as m → ∞: a → g", "s runs from 1 to 2")),
        Row("alternatives", ("u = a or u = b", "u = 1, 3", "x = ±√a", "(u, v) = (a, 0) or (u, v) = (b, c)")),
        Row("work on labelled lines", ("(1) + (2): 2 T = F", "(2)/(1) gives tan θ = μ"),
            "labels stand in brackets"),
        Row("words", ("at the top: N = 0", "energy: ½ m v² = m g h"),
            "words before a colon, and words after the mathematics, are kept as words"),
    )),
    Part("Products, powers, roots", (
        Row("product", ("F = m g", "F = mg", "F = m*g", "F = m·g", "A = 2πr h"),
            "letters run together are split into declared names, the longest first"),
        Row("brackets", ("x = (a + b) c", "x = [a + b] c", "x = {a + b} c"), "all three are alike"),
        Row("power", ("y = x^2", "y = x²", "y = x**2", "y = e^(-γ t)", "y = 10^-3 x")),
        Row("root", ("T = √(k/m)", "T = sqrt(k/m)", "y = √2 x")),
        Row("fraction", ("y = ½ x", "y = (a + b)/(2 c)", "y = \\frac{a}{b}"),
            "a slash divides by the next factor; k/2m is tried both ways, brackets settle it"),
    )),
    Part("Names", (
        Row("with a subscript", ("x_0 = 0", "x0 = 0", "x₀ = 0", "v_max = 2 u", "F_net = 0"),
            "x_0, x0 and x₀ are one name"),
        Row("Greek", ("ω = 2 u", "omega = 2 u", "Δp = m u", "Delta p = m u"), "by sign or by name"),
        Row("after an event", ("v' = e u",),
            "if v' is declared, or in bare lines that say nothing of time; otherwise a prime is a derivative"),
    )),
    Part("Functions", (
        Row("of an angle", ("y = sin θ", "y = sin(θ)", "y = sin ωt", "y = sin²θ", "y = sin θ cos θ", "θ = tan⁻¹(y/x)")),
        Row("others", ("y = ln(v/u)", "y = exp(-k t)", "y = tanh(k t)", "y = arctan x", "y = |v|")),
        Row("of complex numbers", ("x = Re(A e^(iωt))", "b = Im A", "x = real part of y", "φ = arg A")),
        Row("of your own", ("U(R + h) = 0", "y'(0) = u", "v(t) = u"), "for names declared as functions, such as U(r)"),
    )),
    Part("Derivatives and integrals", (
        Row("by time", ("y'' = -k y", "ẏ = v", "dy/dt = v", "d²y/dt² = a", "d^2y/dt^2 = a", "d/dt(m v) = F")),
        Row("by something else", ("dU/dr = -F", "d(½ v²)/dx = a", "∂L/∂x = 0", "d/dt(∂L/∂x') = 0")),
        Row("differentials", ("dv = a dt", "dT/T = μ dφ")),
        Row("integral", ("W = ∫ F dx", "W = ∫_0^d F dx", "W = ∫ F dx from 0 to d", "M = ∫ dm over 0 ≤ x ≤ L")),
        Row("evaluated", ("W = [½ k x²]_0^d", "W = ½ k x² |_0^d")),
    )),
    Part("Relations", (
        Row("signs", ("a = b", "a ≠ b", "a != b", "a ≤ b", "a <= b", "a ≥ b", "a >= b", "a ≈ b", "a ~ b", "a ∝ b")),
    )),
    Part("Numbers and units", (
        Row("number", ("k = 9.81", "k = 1.2e3", "k = 1.2×10³", "k = 6.7·10^-11", "k = 12 000"),
            "a decimal is typed with a point"),
        Row("quantity", ("F = 0.40 N", "g = 9.81 m/s^2", "v = 72 km/h", "θ = 30°", "θ = 30 deg", "x = 5 [m]"),
            "5 m is a quantity or a product, whichever is homogeneous; 5·m is a product, 5 [m] a quantity"),
    )),
    Part("Vectors", (
        Row("components", ("r = (a, b)", "r = a x̂ + b ŷ", "r = -4 î + 3 ĵ (m)", "F_x = F cos θ")),
        Row("that turn with θ", ("v = r' r̂ + r θ' θ̂", "v = r' e_r + r θ' e_θ")),
        Row("products", ("W = F·d", "M = r × F", "M = r x F", "|F| = m g", "r ⊥ v"),
            "between names declared as vectors, or given by components in bare lines"),
    )),
)


_HEADED = """Bare lines are a working. Headings tell the symbols, what is given and what is to be shown from the
working:"""
_ALSO_TYPED = """A symbol needs no unit. Names with their units at the head of a file need no heading.
“Known:”, “Find:”, “Steps:” and the like will do for headings. Bullets, bold marks and LaTeX are taken off. What
follows -- or // is a reason; a line that begins with # is a remark."""


def notation_page() -> str:
    """The page as plain text, at most 80 columns wide."""
    lines = ["What can be typed", "",
             "ASCII and Unicode are alike, and so are the LaTeX commands for the same signs.", ""]
    for part in PARTS:
        lines += [part.title, ""]
        for row in part.rows:
            lines += _row(row)
        lines.append("")
    return "\n".join([*lines, *_kinds(), *_file()]).rstrip() + "\n"


def _file() -> list[str]:
    """A file as a whole, and what else may be typed for what it shows."""
    return [
        "A file", "", *_paragraph(_HEADED), "", *(f"      {line}" for line in A_FILE.splitlines()), "",
        *_paragraph(_ALSO_TYPED), ""]


def _paragraph(text: str) -> list[str]:
    return textwrap.wrap(text, 78, initial_indent="  ", subsequent_indent="  ")


def _kinds() -> list[str]:
    """The kinds of step that are decided, each with a working that may be typed as it stands."""
    lines = ["Kinds of step", ""]
    for kind, working in KINDS:
        lines += [f"  {kind}", *(f"      {line}" for line in working.splitlines()), ""]
    return lines


def _row(row: Row) -> list[str]:
    """The ways to type it in a column of their own, folded between them and never inside one."""
    left, width = 28, 80
    written: list[str] = []
    line = ""
    for typed in row.typed:
        longer = f"{line}    {typed}" if line else typed
        if line and left + len(longer) > width:
            written.append(line)
            line = typed
        else:
            line = longer
    written.append(line)
    lines = [f"  {row.what if at == 0 else '':<{left - 2}}{text}" for at, text in enumerate(written)]
    if row.remark:
        lines += [" " * left + piece for piece in _folded(row.remark, width - left)]
    return lines


def _folded(text: str, width: int) -> list[str]:
    return textwrap.wrap(f"({text})", width)
