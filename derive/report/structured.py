"""A check as plain data, complete and versioned, for programs to read.

The form is described by check.schema.json beside this file. A reference solution and a mark scheme are
never part of it, whatever the document that was checked holds.
"""

from __future__ import annotations

import json
import math
from dataclasses import dataclass
from importlib.resources import files
from typing import Any

from derive.messages import sentence
from derive.records import Check, LineVerdict, Problem, Quantity, Reading, Span, State, Symbol, Verdict
from derive.report.account import account, headline, named_state
from derive.report.discretion import HelpGrade, told
from derive.report.naming import piece_of, standing_of
from derive.report.teaching import NOTHING, Taught

FORMAT = "thence-check"
VERSION = 1

Data = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Asked:
    """How much of a verdict to put in: what shows a break, and the proof of a line that holds."""

    grade: HelpGrade
    proof: bool


def as_json(
    check: Check, help_grade: HelpGrade = "kind", taught: Taught = NOTHING, show_proof: bool = False
) -> Data:
    """The whole check as dictionaries, lists, text and numbers that `json.dumps` takes as they are."""
    document = check.document
    asked = Asked(help_grade, show_proof)
    return {
        "format": FORMAT,
        "version": VERSION,
        "source": document.source,
        "title": document.title,
        "exercise": document.exercise,
        "outcome": check.outcome,
        "first_break": check.first_break or None,
        "headline": headline(check),
        "account": [{"heading": r.heading, "sentences": list(r.sentences)} for r in account(check, help_grade, taught)],
        "symbols": [_symbol(s) for s in document.symbols],
        "problems": [_problem(p) for p in dict.fromkeys(check.problems)],
        "givens": [_line(line, asked) for line in check.givens],
        "lines": [_line(line, asked) for line in check.lines],
        "goal": [_line(line, asked) for line in check.goal],
    }


def schema() -> Data:
    """The JSON Schema of what `as_json` gives."""
    text = files("derive.report").joinpath("check.schema.json").read_text(encoding="utf-8")
    loaded: Data = json.loads(text)
    return loaded


def _line(line: LineVerdict, asked: Asked) -> Data:
    unreadable = line.unreadable
    return {
        "number": line.line.number,
        "text": line.line.text,
        "label": line.line.label,
        "reason": line.line.reason,
        "cites": list(line.line.cites),
        "standing": standing_of(line).value,
        "verdicts": [_verdict(line, v, asked) for v in line.verdicts],
        "reading": _reading(line.reading) if line.reading else None,
        "unreadable": None if unreadable is None else {
            "span": _span(unreadable.span), "expected": unreadable.expected, "nearest": unreadable.nearest,
        },
    }  # fmt: skip


def _verdict(line: LineVerdict, verdict: Verdict, asked: Asked) -> Data:
    """One statement's verdict, as far as it may be told."""
    verdict = told(verdict, asked.grade)
    state = named_state(line, verdict)
    data: Data = {
        "standing": verdict.standing.value,
        "role": verdict.statement.role if verdict.statement else None,
        "text": piece_of(line, verdict),
        "span": _span(verdict.span),
        "support": verdict.support or None,
        "strength": verdict.strength or None,
        "premises": list(verdict.premises),
        "points": verdict.points,
        "condition": verdict.condition or None,
        "state": _state(state) if state is not None else None,
        "code": verdict.code or None,
        "facts": dict(verdict.facts),
        "sentence": sentence(verdict.code, verdict.facts) if verdict.code else None,
        "note": verdict.note or None,
        "introduces": list(verdict.introduces),
        "carried_from": verdict.carried_from or None,
    }
    return data | (_proof(verdict) if asked.proof else {})


def _proof(verdict: Verdict) -> Data:
    from derive.report.proofs import certificates_as_data, proof_in_words

    return {"proof": proof_in_words(verdict), "certificates": certificates_as_data(verdict)}


def _reading(reading: Reading) -> Data:
    return {
        "words": reading.words,
        "choices": [
            {"kind": c.kind, "typed": c.typed, "taken": c.taken, "span": _span(c.span)} for c in reading.choices
        ],
    }


def _state(state: State) -> Data:
    return {
        "values": [_quantity(q) for q in state.values],
        "left": _quantity(state.left),
        "sign": state.sign,
        "right": _quantity(state.right),
    }


def _quantity(quantity: Quantity) -> Data:
    value = quantity.value
    data: Data = {"name": quantity.name, "value": _finite(value.real), "unit": quantity.unit}
    return data | ({"imaginary": _finite(value.imag)} if value.imag else {})


def _finite(value: float) -> float | None:
    """JSON has no word for infinity; a side without a finite value is null."""
    return float(value) if math.isfinite(value) else None


def _symbol(symbol: Symbol) -> Data:
    return {
        "name": symbol.name, "of": symbol.of, "unit": symbol.unit, "sign": symbol.sign, "whole": symbol.whole,
        "vector": symbol.vector, "typical": symbol.typical, "note": symbol.note, "declared": symbol.declared,
    }  # fmt: skip


def _problem(problem: Problem) -> Data:
    return {"code": problem.code, "message": problem.message, "line": problem.line or None, "span": _span(problem.span)}


def _span(span: Span | None) -> list[int] | None:
    return None if span is None else [span.start, span.end]
