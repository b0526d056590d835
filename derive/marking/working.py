"""One file of a class from its bytes to a `Marked`: read, joined with the exercise, judged, its points awarded.

Runs in a worker. Nothing here trusts the file, and nothing in it is raised: what cannot be had or read becomes
a working that a person has to look at.
"""

from __future__ import annotations

import hashlib
import os
import stat
from collections.abc import Callable
from dataclasses import dataclass, field, replace

from derive.loading import bytes_of
from derive.marking.award import Award, Awarding, Found
from derive.marking.judging import Judged, Judging
from derive.marking.records import Marked, MarkedLine, PointResult, Slip
from derive.marking.scheme import Scheme, read_scheme
from derive.messages import sentence
from derive.notation.printed.mathml import as_mathml
from derive.notation.printed.printing import as_text
from derive.notation.tree import Claim, Name, rebuilt, walk
from derive.problems import problem
from derive.records import UNSURE, Document, LineVerdict, Problem, Standing, Verdict
from derive.report.account import Remark, account, headline, state_in_words
from derive.report.cells import visible
from derive.report.naming import WEIGHT, full_name, line_name, piece_of, standing_of
from derive.report.teaching import Taught
from derive.terms.claims import alternatives, pairs
from derive.text.document import read_document
from derive.text.exercise_files import with_exercise

_MOST_SHOWN = 2000  # lines of one working on a page


@dataclass(slots=True)
class Marker:
    """Marks workings of one exercise; remembers what their lines have in common."""

    exercise: Document
    judging: Judging = field(init=False)
    awarding: Awarding = field(init=False)

    def __post_init__(self) -> None:
        self.judging = Judging(read_scheme(self.exercise))
        self.awarding = Awarding(self.judging.scheme)

    @property
    def scheme(self) -> Scheme:
        return self.judging.scheme

    def file(self, path: str, name: str, largest: int) -> Marked:
        """The working in a file."""
        data = content(path, largest)
        if isinstance(data, Problem):
            return unmarked(self.scheme, name, data.message)
        return self.text(data, name)

    def text(self, data: bytes | str, name: str) -> Marked:
        """A working given by its content."""
        raw = data.encode() if isinstance(data, str) else data
        own = read_document(data, name)
        unread = [p for p in own.problems if p.code.startswith("file.") or p.code == "working.none"]
        if unread:
            return replace(unmarked(self.scheme, name, unread[0].message), digest=digest(raw))
        judged = self.judging.judged(with_exercise(own, self.exercise))
        return replace(self._marked(judged, own, name), digest=digest(raw))

    def _marked(self, judged: Judged, own: Document, name: str) -> Marked:
        check = judged.check
        places = {x.line.number: line_name(x) for x in check.lines}
        awards = self.awarding.of(judged)
        slip = slip_of(judged)
        taught = Taught({check.first_break: slip.told} if slip and slip.told else {})
        return Marked(
            name, outcome=check.outcome, headline=headline(check), shape=shape_of(judged),
            points=tuple(_result(a, self.scheme, places) for a in awards),
            lines=tuple(_line(x) for x in check.lines[:_MOST_SHOWN]),
            slip=slip, looks=tuple(dict.fromkeys([*_looks(judged, awards, places), *self._misnamed(own)])),
            account=tuple((r.heading, _said(r)) for r in account(check, "edit", taught)),
        )

    def _misnamed(self, own: Document) -> list[str]:
        """A working that names another exercise may lie in the wrong folder."""
        said = own.exercise.strip().casefold()
        known = {self.exercise.title.strip().casefold(), *_file_names(self.exercise.source)}
        if not said or said in known:
            return []
        return [sentence("look.other_exercise", {"name": visible(own.exercise)})]


def _file_names(source: str) -> set[str]:
    name = os.path.basename(source).casefold()
    return {name, os.path.splitext(name)[0]}


def content(path: str, largest: int) -> bytes | Problem:
    """What a file holds; only plain files are opened, for a pipe would be waited at for ever."""
    try:
        status = os.stat(path)
    except FileNotFoundError:
        return problem("file.broken_link" if os.path.islink(path) else "file.missing", name=visible(path))
    except (OSError, ValueError):
        return bytes_of(path)
    if not stat.S_ISREG(status.st_mode) and not stat.S_ISDIR(status.st_mode):
        return problem("file.not_plain", name=visible(path))
    if status.st_size > largest:
        return problem("file.too_big", limit=f"{largest / 1e6:g} MB")
    return bytes_of(path)


def digest(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


def marked_or_why(scheme: Scheme, name: str, mark: Callable[[], Marked]) -> Marked:
    """What marking a working comes to, or that it could not be had: one file must never take the others with it."""
    try:
        return mark()
    except MemoryError:
        return unmarked(scheme, name, sentence("look.too_much"))
    except Exception as defect:  # noqa: BLE001  said of the file, for a person to see
        return unmarked(scheme, name, sentence("look.defect", {"kind": type(defect).__name__}))


def unmarked(scheme: Scheme, name: str, why: str) -> Marked:
    """A working of which nothing can be said: every point is left for a person."""
    points = tuple(
        PointResult(p.label, p.name, p.row.marks, 0, Found.OPEN.value, "", sentence("award.unmarked"))
        for p in scheme.points)
    return Marked(name, headline=why, points=points, looks=(why,))


# --- the pieces of the result ---------------------------------------------------------------------------------


def _result(a: Award, scheme: Scheme, places: dict[int, str]) -> PointResult:
    name = next(p.name for p in scheme.points if p.label == a.label)
    place = places.get(a.line, "")
    why = sentence(a.code, {"line": place, "needed": dict(a.facts).get("point", "")})
    return PointResult(a.label, name, a.most, a.marks, a.found.value, place, why[:1].upper() + why[1:])


def _line(x: LineVerdict) -> MarkedLine:
    statements = x.reading.statements if x.reading else ()
    mathml = " ".join(as_mathml(s) for s in statements if s.claim is not None)
    worst = min(x.verdicts, key=lambda v: WEIGHT.index(v.standing), default=None)
    said = sentence(worst.code, worst.facts) if worst and worst.code in _WORTH_SAYING else ""
    return MarkedLine(line_name(x), x.line.text, standing_of(x).value, said, mathml)


_WORTH_SAYING = ("fails.dimension", "fails.unit", "fails.number", "fails.redefined", "follows.if", "unknown.name")


def _said(remark: Remark) -> tuple[str, ...]:
    """A remark's sentences, the state that shows it being the last: a page has no table for it."""
    if remark.state is None:
        return tuple(remark.sentences)
    found = state_in_words(remark.state, remark.first)
    return (*remark.sentences, sentence("feedback.state", {"found": found}))


def _looks(judged: Judged, awards: tuple[Award, ...], places: dict[int, str]) -> list[str]:
    """Why a person should look, most pressing first; empty where every mark is sure."""
    out = [
        sentence(f"look.{standing_of(x).name.lower()}", {"line": full_name(x), "text": visible(x.line.text.strip())})
        for x in judged.check.lines if standing_of(x) in UNSURE
    ]
    for a in awards:
        if a.found is Found.OPEN:
            why = sentence(a.code, {"line": places.get(a.line, ""), "needed": dict(a.facts).get("point", "")})
            out.append(sentence("piece.look_point", {"point": a.label, "why": why}))
    return out


def slip_of(judged: Judged) -> Slip | None:
    """The first break, with what is needed to know an equal one by."""
    check = judged.check
    line = next((x for x in check.lines if x.line.number == check.first_break and check.first_break), None)
    if line is None:
        return None
    verdict = next((v for v in line.verdicts if v.standing is Standing.FAILS), None)
    claim = _broken_step(line, verdict) if verdict else None
    explained = judged.slip
    told = tuple(sentence(h.code, h.facts) for h in explained.told("edit")) if explained else ()
    return Slip(
        line_name(line), piece_of(line, verdict) if verdict else line.line.text.strip(),
        _plainly(claim), _definitions(judged), explained.slip.kind if explained else "", told)


def _broken_step(line: LineVerdict, verdict: Verdict) -> Claim | None:
    """The one step of a chain that does not follow."""
    claim = verdict.statement.claim if verdict.statement else None
    if claim is None:
        return None
    own = [v for v in line.verdicts if v.statement == verdict.statement]
    steps = list(pairs(claim)) if len(alternatives(claim)) == 1 else []
    return steps[own.index(verdict)].relation() if len(steps) == len(own) else claim


def _plainly(claim: object) -> str:
    return "" if claim is None else as_text(claim)


def _definitions(judged: Judged) -> tuple[str, ...]:
    """The writer's own definitions, as plain notation, for names that the broken line or another one uses."""
    claims = [
        v.statement.claim for x in judged.check.lines for v in x.verdicts
        if v.introduces and v.statement is not None and v.code in ("taken.definition", "taken.shorthand")
    ]
    return tuple(dict.fromkeys(as_text(c) for c in claims if c is not None))


def shape_of(judged: Judged) -> str:
    """A digest of what the lines say, spacing, spelling and own names apart: equal for workings that are alike."""
    declared = {s.name for s in judged.ground.context.world.symbols.values() if s.declared}
    names: dict[str, str] = {}
    said = []
    for x in judged.check.lines:
        if x.reading is None:
            said.append("".join(x.line.text.split()).casefold() if not x.line.remark else "")
            continue
        for s in x.reading.statements:
            text = as_text(s) if s.claim is None else f"{s.role} {as_text(s.claim)}"
            said.append(_renamed(text, s, declared, names))
    return digest("\n".join(t for t in said if t).encode())


def _renamed(text: str, statement: object, declared: set[str], names: dict[str, str]) -> str:
    """The text with the writer's own names numbered in the order in which they appear."""
    change: dict[int, object] = {}
    for node in walk(statement):
        if isinstance(node, Name) and node.ident not in declared and node.ident != "t":
            change[id(node)] = Name(names.setdefault(node.ident, f"own{len(names)}"))
    if not change:
        return text
    made = rebuilt(statement, change)
    claim = getattr(made, "claim", None)
    return text if claim is None else f"{getattr(made, 'role', '')} {as_text(claim)}"
