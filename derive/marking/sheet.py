"""What a student gets of an exercise: statement, symbols, givens and goal; as text, a page or LaTeX source.

Neither the solution nor the marks are looked at here, so that nothing of them can slip out.
"""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass

from markupsafe import Markup

from derive.marking.feedback import template
from derive.messages import sentence
from derive.notation.printed.latex import as_latex, escaped
from derive.notation.printed.mathml import as_mathml
from derive.notation.printed.printing import as_text
from derive.notation.tree import Name, Statement
from derive.opening import opened
from derive.records import Document, LineVerdict, RawLine, Symbol
from derive.report.cells import paragraph, visible
from derive.report.figures import unit_text

_WIDTH = 80


@dataclass(frozen=True, slots=True)
class Formula:
    """A line of the sheet: its label, its text as typed, its statements, and the words beside it."""

    label: str
    text: str
    statements: tuple[Statement, ...]
    note: str = ""


@dataclass(frozen=True, slots=True)
class HandOut:
    """An exercise without what students may not see."""

    title: str
    statement: tuple[str, ...]
    symbols: tuple[Symbol, ...]
    given: tuple[Formula, ...]
    show: tuple[Formula, ...]


def hand_out(exercise: Document) -> HandOut:
    """The student's part of an exercise."""
    bare = Document(exercise.source, "exercise", exercise.title, statement=exercise.statement,
                    symbols=exercise.symbols, given=exercise.given, show=exercise.show)
    page = opened(bare, proofs=False)
    by_number = {x.line.number: x for x in page.givens}
    goals = [page.after(line).lines[-1] for line in bare.show]
    paragraphs = tuple(" ".join(p.split()) for p in bare.statement.split("\n\n") if p.strip())
    return HandOut(
        bare.title, paragraphs, bare.symbols,
        tuple(_formula(line, by_number.get(line.number)) for line in bare.given if not line.remark),
        tuple(_formula(x.line, x) for x in goals if not x.line.remark))


def _formula(line: RawLine, read: LineVerdict | None) -> Formula:
    text = " ".join(line.text[line.body.start : line.body.end].split())
    statements = read.reading.statements if read is not None and read.reading is not None else ()
    return Formula(f"({line.label})" if line.label else "", text, statements, line.reason)


# --- words for a symbol ---------------------------------------------------------------------------------------


def symbol_name(s: Symbol) -> str:
    return f"{s.name}({s.of})" if s.of else s.name


def unit_shown(unit: str) -> str:
    """A unit as it is printed, and the 1 of a plain number, which a table of symbols has to say."""
    return unit_text(unit) or unit


def symbol_words(s: Symbol) -> str:
    """What is known of a symbol beside its unit: sign, range, note."""
    kind = "vector" if s.vector else ""
    sign = s.sign if s.sign != "real" and not s.bounds else ""
    ranges = ", ".join(as_text(b) for b in s.bounds)
    return ", ".join(w for w in (kind, sign, ranges) if w) + (f"; {s.note}" if s.note and (sign or ranges or kind)
                                                              else s.note)


# --- three forms ------------------------------------------------------------------------------------------------


def sheet_text(sheet: HandOut) -> str:
    """As plain text, ready to be typed into: it begins as a working of this exercise does."""
    out = [sentence("title.exercise", {"title": sheet.title}), ""]
    for p in sheet.statement:
        out += [*paragraph(p, _WIDTH), ""]
    width = max((len(symbol_name(s)) for s in sheet.symbols), default=0)
    unit = max((len(s.unit) for s in sheet.symbols), default=0)
    if sheet.symbols:
        out += ["Symbols", *(f"  {symbol_name(s):{width}}  {s.unit:{unit}}  {symbol_words(s)}".rstrip()
                             for s in sheet.symbols), ""]
    for heading, formulas in (("Given", sheet.given), ("To show", sheet.show)):
        if formulas:
            out += [heading, *(_row(f, max(len(g.text) for g in formulas)) for f in formulas), ""]
    return "\n".join(visible(row) for row in out)


def _row(f: Formula, width: int) -> str:
    label = f"{f.label}  " if f.label else ""
    return f"  {label}{f.text:{width}}   {f.note}".rstrip()


def sheet_html(sheet: HandOut) -> str:
    """As a page of its own, with the formulas as MathML."""

    def shown(f: Formula) -> dict[str, object]:
        mathml = " ".join(as_mathml(s) for s in f.statements if s.claim is not None)
        return {"label": f.label, "note": visible(f.note), "text": visible(f.text),
                "mathematics": Markup(mathml)}  # noqa: S704  built as elements by derive.notation.printed.mathml

    def named(s: Symbol) -> dict[str, object]:
        name = Markup(as_mathml(Name(s.name)))  # noqa: S704  built as elements by derive.notation.printed.mathml
        return {"name": name, "of": s.of or "", "unit": visible(unit_shown(s.unit)), "words": visible(symbol_words(s))}

    return template("sheet.html").render(
        title=visible(sheet.title), statement=[visible(p) for p in sheet.statement],
        symbols=[named(s) for s in sheet.symbols], given=[shown(f) for f in sheet.given],
        show=[shown(f) for f in sheet.show])


def sheet_latex(sheet: HandOut) -> str:
    """As LaTeX source that compiles by itself."""
    out = [*_PREAMBLE, rf"\section*{{{_words(sheet.title)}}}", ""]
    for p in sheet.statement:
        out += [_words(p), ""]
    if sheet.symbols:
        out += [r"\subsection*{Symbols}", r"\begin{tabular}{@{}llp{0.6\linewidth}@{}}"]
        out += [rf"${_symbol(s)}$ & {_words(unit_shown(s.unit))} & {_words(symbol_words(s))} \\" for s in sheet.symbols]
        out += [r"\end{tabular}", ""]
    for heading, formulas in (("Given", sheet.given), ("To show", sheet.show)):
        if formulas:
            out += [rf"\subsection*{{{heading}}}", r"\begin{tabular}{@{}llp{0.4\linewidth}@{}}"]
            out += [rf"{_words(f.label)} & {_mathematics(f)} & {_words(f.note)} \\" for f in formulas]
            out += [r"\end{tabular}", ""]
    return "\n".join([*out, r"\end{document}", ""])


_PREAMBLE = (
    r"\documentclass[a4paper,11pt]{article}", r"\usepackage{amsmath,amssymb}", r"\usepackage[T1]{fontenc}",
    r"\usepackage[utf8]{inputenc}", r"\usepackage[margin=25mm]{geometry}", r"\setlength{\parindent}{0pt}",
    r"\setlength{\parskip}{6pt}", r"\renewcommand{\arraystretch}{1.5}", r"\pagestyle{empty}", r"\begin{document}",
)


def _symbol(s: Symbol) -> str:
    return as_latex(Name(s.name)) + (f"({as_latex(Name(s.of))})" if s.of else "")


def _mathematics(f: Formula) -> str:
    claims = [as_latex(s.claim) for s in f.statements if s.claim is not None]
    return r"$\displaystyle " + r",\quad ".join(claims) + "$" if claims else _words(f.text)


def _words(text: str) -> str:
    """Running text for LaTeX: signs that its text fonts lack are set as mathematics."""
    return "".join(map(_letter, " ".join(text.split())))


_TEXT = {"\\": r"\textbackslash{}", "~": r"\textasciitilde{}", "^": r"\textasciicircum{}", "’": "'", "–": "--",
         "—": "---", "“": "``", "”": "''", "…": r"\ldots{}", "<": "$<$", ">": "$>$", "|": "$|$", '"': "''"}
_SIGNS = {"√": r"\surd", "·": r"\cdot", "×": r"\times", "≤": r"\le", "≥": r"\ge", "≠": r"\ne", "≈": r"\approx",
          "∞": r"\infty", "∫": r"\int", "∂": r"\partial", "±": r"\pm", "−": "-", "∝": r"\propto", "≪": r"\ll",
          "≫": r"\gg", "⊥": r"\perp", "→": r"\to", "⇒": r"\Rightarrow", "∴": r"\therefore", "°": r"^{\circ}"}
_POWERS = dict(zip("⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻", "0123456789+-", strict=True))
_LOWERED = dict(zip("₀₁₂₃₄₅₆₇₈₉", "0123456789", strict=True))


def _letter(char: str) -> str:
    if char in _TEXT:
        return _TEXT[char]
    if char in "{}$%#&_":
        return "\\" + char
    if char in _SIGNS:
        return f"${_SIGNS[char]}$"
    if char in _POWERS:
        return f"$^{{{_POWERS[char]}}}$"
    if char in _LOWERED:
        return f"$_{{{_LOWERED[char]}}}$"
    if " " <= char <= "~" or (char.isalpha() and unicodedata.decomposition(char) and ord(char) < 0x180):
        return char
    made = escaped(char)
    if made != char:
        return f"${made.strip()}$"
    plain = unicodedata.normalize("NFKD", char).replace("\u2044", "/")
    return plain if plain.isascii() and plain.isprintable() else f"[U+{ord(char):04X}]"
