"""Workings with a known slip, and whether what is said of it is right: for counting, not for deciding.

A slip of the step corpus is named rightly when the edit named gives back what the right working says there, and
"otherwise" when it makes the line follow by mending the very piece that was slipped in another way (`w = u - v` for
`w = 0` in the case v = u). The workings of the exercises have no right line beside them; their table has a word for the
slip.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations

from derive.check import check_document
from derive.diagnosis.alike import alike, number_of
from derive.diagnosis.explain import Explained, explain
from derive.notation.tree import Claim, Num, Relation, Unit, names_in, rebuilt, relations, walk
from derive.page import Page
from derive.quantities.units import unit
from derive.records import Check, Document, Standing, Unreadable, Verdict
from derive.text.document import read_document
from tests.exercises.table import expected, working_document
from tests.steps.corpus import Case, all_cases

# Findings of the engine that say themselves what is wrong with a line.
SAYS_IT = (
    "fails.constant_missing", "fails.too_few_constants", "fails.order", "fails.dimension", "fails.unit",
    "fails.vector_scalar", "fails.start", "fails.limit", "fails.not_a_solution", "fails.derivative", "fails.redefined",
)
# Seconds for a search: enough that its effort alone ends it, which is counted and the same on a busy machine.
GENEROUS = 10
# The table's words for a slip, and the families of edits that are one; findings that say it are right as well.
TABLE: dict[str, tuple[str, ...]] = {
    "factor": ("number", "upside_down"), "sign": ("sign", "exponent_sign"), "upside down": ("upside_down",),
    "power": ("power", "quantity", "upside_down"), "function": ("function",),
    "derivative": ("derivative_order", "quantity", "power"), "direction": ("direction",),
    "inner factor": ("quantity", "number"), "dropped term": ("term",), "limits": ("limits", "sign"), "unit": ("unit",),
    "power of ten": ("power_of_ten",), "root of a sum": ("function_of_sum", "power", "bracket"),
    "one term not divided": ("quantity",), "one term not multiplied": ("quantity", "bracket"),
    "dropped factor": ("quantity",), "difference of squares": ("power_of_sum",), "product rule": ("term",),
    "factor not squared": ("bracket", "power", "number"), "logarithm of a difference": ("function_of_sum",),
    "missing constant": ("term",),
}


@dataclass(frozen=True)
class Slipped:
    """A working with one known slip: its document, the line, and the right line or the table's word for the slip."""

    group: str
    name: str
    document: Document
    line: int
    right: str = ""
    word: str = ""


def slipped_workings() -> Iterator[Slipped]:
    """Every working with a slip, of the step corpus and of the exercises."""
    cases = all_cases()
    right = {(row, case.name): case for row, case in cases if case.broken_at is None}
    for row, case in cases:
        if case.broken_at is not None:
            yield _of_case(row, case, right[row, case.name.split(", slip ")[0]])
    for e in expected():
        if e.broken_at:
            yield Slipped("exercises", f"{e.exercise}/{e.working}", working_document(e), e.broken_at, word=e.slip)


def _of_case(row: str, case: Case, right: Case) -> Slipped:
    place = next(k for k, (number, _) in enumerate(case.lines) if number == case.broken_at)
    line = right.text.splitlines()[right.lines[place][0] - 1]
    return Slipped(row, case.name, read_document(case.text, ""), case.broken_at or 0, right=line)


def outcome(slipped: Slipped) -> str:
    """'rightly', 'otherwise', 'finding' where the check itself says what is wrong, 'wrongly', 'unnamed', or 'elsewhere'
    where the break is not seen at the slip."""
    check = check_document(slipped.document, proofs=False)
    if check.first_break != slipped.line:
        return "elsewhere"
    line = next(x for x in check.lines if x.line.number == slipped.line)
    verdict = next(v for v in line.verdicts if v.standing is Standing.FAILS)
    (found,) = explain(check, seconds=GENEROUS)
    if found.slip.kind and found.slip.found != "none":
        if _right(found, slipped, check):
            return "rightly"
        return "otherwise" if slipped.right and _touches(found, slipped, line.line.text) else "wrongly"
    return "finding" if verdict.code in SAYS_IT or _true_factor(verdict) else "unnamed"


def _true_factor(verdict: Verdict) -> bool:
    """A number said to be off by a familiar factor is so by the check's own exact value."""
    return verdict.code == "fails.number" and "factor" in dict(verdict.facts)


def _right(found: Explained, slipped: Slipped, check: Check) -> bool:
    if slipped.word:
        return any(e.family in TABLE.get(slipped.word, ()) for e in found.slip.edits)
    wanted = list(_right_claims(slipped, check))
    return any(_same(ours, theirs) for e in found.slip.edits for ours in _pairs(e.claim) for theirs in wanted)


def _touches(found: Explained, slipped: Slipped, typed: str) -> bool:
    """Does the edit lie where the wrong line and the right one differ?"""
    right = slipped.right
    start = next((k for k, (a, b) in enumerate(zip(typed, right, strict=False)) if a != b), min(len(typed), len(right)))
    same_end = next(
        (k for k, (a, b) in enumerate(zip(reversed(typed), reversed(right), strict=False)) if a != b), len(right))
    end = max(len(typed) - same_end, start + 1)
    spans = [e.span for e in found.slip.edits]
    return all(s is not None and s.start <= end and s.end >= start for s in spans)


def _right_claims(slipped: Slipped, check: Check) -> Iterator[Relation]:
    """What the right line says, pair by pair, read where the slipped one stands."""
    at = next(k for k, x in enumerate(check.lines) if x.line.number == slipped.line)
    page = check.stages[at]
    assert isinstance(page, Page)
    right = read_document(f"Working:\n{slipped.right.strip()}\n", "").working[0]
    readings = page.readings(right)
    for reading in [] if isinstance(readings, Unreadable) else readings:
        for statement in reading.statements:
            for claim in (statement.claim, statement.where):
                if claim is not None:
                    yield from _pairs(claim)


def _pairs(claim: Claim) -> Iterator[Relation]:
    for r in relations(claim):
        for (i, a), (j, b) in combinations(enumerate(_in_si(r).sides), 2):
            yield Relation((a, b), (r.signs[min(i, j)],))


def _in_si(relation: Relation) -> Relation:
    """Units as the numbers they stand for, so that 6 kN and 6000 N are alike."""
    change: dict[int, object] = {}
    for node in walk(relation):
        if isinstance(node, Unit) and (info := unit(node.ident)) is not None:
            change[id(node)] = Num(Fraction(info.scale))
    return rebuilt(relation, change)  # type: ignore[return-value]


def _same(ours: Relation, theirs: Relation) -> bool:
    if alike(ours, theirs):
        return True
    a, b = (number_of(r.sides[-1])[0].real for r in (ours, theirs))
    return not names_in(ours.sides[-1]) and not names_in(theirs.sides[-1]) and abs(a - b) <= 0.03 * abs(b)
