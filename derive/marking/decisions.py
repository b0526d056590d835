"""What a person has decided: marks and comments for groups of equal slips and for single workings.

They live in one plain text file beside the mark sheet, each with its reason, and are never written over by
marking again. The form of the file is explained at its head, which `HEAD` holds.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from difflib import get_close_matches

from derive.marking.records import Marked, PointResult
from derive.messages import sentence
from derive.problems import problem
from derive.records import Problem

HEAD = """\
# Decisions of the marker. This file is yours: marking again reads it and never writes over it.
#
# One decision a line, each with its reason after two dashes:
#
#   slip 3f2a91: p4 = 1            -- the factor is lost in copying only
#   slip 3f2a91: say Mind the factor ½.   -- same words for all of them
#   working s014: p2 = 1           -- the sign is clear from the sketch
#   working "s014: late": p2 = 0   -- quote a name that holds a colon
#
# `slip` is the name of a group of equal slips (slips.txt lists them); the decision holds for all its members,
# also for workings that join the group later. `working` is the name in the first column of the mark sheet, and
# goes before a decision for its group. `pN = n` sets the marks of a point and settles its second look; `say`
# adds a comment to the feedback page. A line that begins with # is a remark.
"""
_WHAT = (
    r"\s*(?P<who>slip|working)\s+(?P<name>\"(?:[^\"\\]|\\.)*\"|[^:]+?)\s*:\s*"
    r"(?:(?P<point>\w+)\s*=\s*(?P<marks>\d{1,3})|say\s+(?P<words>.*?))\s*")
# Two dashes as typed, or the one long dash that editors like to make of them.
_FORMS = tuple(re.compile(rf"{_WHAT}(?:{dash})\s*(?P<reason>.*\S)\s*\Z", re.IGNORECASE) for dash in ("--+", "[—–]"))
_NO_REASON = re.compile(rf"{_WHAT}(?:--+|[—–])?\s*\Z", re.IGNORECASE)
MOST_DECISIONS = 5000


@dataclass(frozen=True, slots=True)
class Decision:
    """Marks for a point, or words to say, for a group or a working; `line` is where it stands."""

    who: str
    name: str
    reason: str
    point: str = ""
    marks: int = 0
    words: str = ""
    line: int = 0


@dataclass(frozen=True, slots=True)
class Decisions:
    made: tuple[Decision, ...] = ()
    problems: tuple[Problem, ...] = ()


@dataclass(frozen=True, slots=True)
class Applied:
    """A working after the decisions: its points, what is left to look at, comments, and notes for the sheet."""

    points: tuple[PointResult, ...]
    looks: tuple[str, ...]
    comments: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()

    @property
    def total(self) -> int:
        return sum(p.marks for p in self.points)

    @property
    def open_marks(self) -> int:
        return sum(p.most for p in self.points if p.open)


def read_decisions(text: str) -> Decisions:
    """The decisions of a file, and its lines that could not be taken as one."""
    made: list[Decision] = []
    problems: list[Problem] = []
    for number, line in enumerate(text.removeprefix("\ufeff").splitlines(), 1):
        if not line.strip() or line.lstrip().startswith("#"):
            continue
        if len(made) >= MOST_DECISIONS:
            problems.append(problem("decision.too_many", number, limit=str(MOST_DECISIONS)))
            break
        found = next((m for form in _FORMS if (m := form.match(line))), None)
        if found is None:
            code = "decision.no_reason" if _NO_REASON.match(line) else "decision.unread"
            problems.append(problem(code, number, text=line.strip()[:80]))
            continue
        name = found["name"].strip()
        if name.startswith('"'):
            name = re.sub(r"\\(.)", r"\1", name[1:-1])
        made.append(Decision(found["who"].lower(), name, found["reason"], found["point"] or "",
                             int(found["marks"] or 0), found["words"] or "", number))
    return Decisions(tuple(made), tuple(problems))


def checked(decisions: Decisions, workings: Iterable[str], groups: Iterable[str], most: Mapping[str, int]) -> Decisions:
    """The decisions that can be applied; the others are problems, for none is passed over in silence."""
    workings, groups = set(workings), set(groups)
    kept: list[Decision] = []
    problems = list(decisions.problems)
    for d in decisions.made:
        known = workings if d.who == "working" else groups
        if d.name not in known:
            problems.append(_unknown(f"decision.no_{d.who}", d.line, d.name, known))
        elif d.point and d.point not in most:
            problems.append(_unknown("decision.no_point", d.line, d.point, most))
        elif d.point and d.marks > most[d.point]:
            facts = {"point": d.point, "most": str(most[d.point]), "marks": str(d.marks)}
            problems.append(problem("decision.too_much", d.line, **facts))
        else:
            kept.append(d)
    return Decisions(tuple(kept), tuple(sorted(problems, key=lambda p: p.line)))


def _unknown(code: str, line: int, name: str, known: Iterable[str]) -> Problem:
    """What is wrong with a name that nothing has, with the nearest one that there is."""
    by_small = {k.casefold(): k for k in sorted(known, reverse=True)}
    near = get_close_matches(name.casefold(), by_small, 1, 0.6)
    return problem(code, line, name=name, **({"near": by_small[near[0]]} if near else {}))


def applied(marked: Marked, group: str, decisions: Sequence[Decision]) -> Applied:
    """A working with the decisions for its group and then its own; the later line wins."""
    mine = [d for d in decisions if d.who == "slip" and group and d.name == group]
    mine += [d for d in decisions if d.who == "working" and d.name == marked.name]
    points = {p.label: p for p in marked.points}
    notes: list[str] = []
    comments: list[str] = []
    settled: set[str] = set()
    for d in mine:
        if d.words:
            comments.append(d.words)
            continue
        before = points[d.point]
        settled.add(d.point)
        points[d.point] = replace(before, marks=d.marks, found="decided", why=sentence(
            "piece.decided", {"marks": str(d.marks), "reason": d.reason}))
        notes.append(sentence("decision.note", {"point": d.point, "marks": str(d.marks), "reason": d.reason}))
    after = tuple(points.values())
    settles = bool(settled) and not any(p.open for p in after)
    looks = () if settles else tuple(x for x in marked.looks if not _about(x, settled))
    return Applied(after, looks, tuple(comments), tuple(notes))


def _about(look: str, settled: Iterable[str]) -> bool:
    return any(look.startswith(sentence("piece.look_point", {"point": p, "why": "\0"}).split("\0")[0]) for p in settled)
