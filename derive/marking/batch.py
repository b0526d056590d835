"""A class marked from its folder to its mark sheet: the recipe, from the list of files to what is written.

    the folder's files → results kept from before → the others marked → equal slips → the marker's decisions →
    pages, lists and the mark sheet, which is written last.

Everything is written whole or not at all. What is written depends on the folder, the exercise and the decisions
alone, not on the order in which workers finish.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field, replace
from pathlib import Path

from derive.loading import bytes_of
from derive.marking.decisions import HEAD, Applied, Decision, Decisions, applied, checked, read_decisions
from derive.marking.feedback import page_of, text_of
from derive.marking.groups import Group, alike, equal_slips
from derive.marking.journal import FOLDER, Journal
from derive.marking.likeness import likeness
from derive.marking.lists import changes, second_look, slips_text
from derive.marking.mark_sheet import sheet_text
from derive.marking.pool import Entry, Limits, marked_files
from derive.marking.records import Marked, Sheet
from derive.marking.scheme import Scheme, read_scheme
from derive.marking.working import content, digest
from derive.marking.writing import file_name, sweep, write_whole
from derive.records import Document, Problem
from derive.text.decode import decode

SHEET, DECISIONS, LOOK, SLIPS, PAGES = "mark_sheet.csv", "decisions.txt", "second_look.txt", "slips.txt", "pages"
MOST_FILES = 20_000

Engine = Callable[[list[Entry], Document, Scheme, Limits], Iterator[tuple[Entry, Marked]]]
Progress = Callable[[int, int], None]


@dataclass(frozen=True, slots=True)
class Asked:
    """What a marker asks for."""

    folder: Path
    into: Path
    limits: Limits = field(default_factory=Limits)
    afresh: bool = False
    engine: Engine = marked_files


@dataclass(frozen=True, slots=True)
class Outcome:
    """What came of it."""

    sheet: Sheet
    applied: dict[str, Applied]
    groups: tuple[Group, ...]
    same: tuple[tuple[str, ...], ...]
    problems: tuple[Problem, ...]
    changed: tuple[str, ...] = ()
    resumed: int = 0
    written: dict[str, Path] = field(default_factory=dict)


def mark_class(exercise: Document, asked: Asked, progress: Progress = lambda done, of: None) -> Outcome:
    """Mark every working in a folder and write the mark sheet, the pages and the lists."""
    asked.into.mkdir(parents=True, exist_ok=True)
    sweep(asked.into)
    scheme = read_scheme(exercise)
    journal = Journal(asked.into / FOLDER, _digest_of(exercise))
    entries = list(files_of(asked.folder, asked.into))
    before = _text(asked.into / SHEET)
    workings, resumed = _marked(entries, scheme, journal, asked, progress)
    points = tuple((p.label, p.name, p.row.marks) for p in scheme.points)
    sheet = Sheet(exercise.title or Path(exercise.source).stem, points, workings)
    outcome = _decided(sheet, scheme, asked.into, resumed)
    written = _write(outcome, asked.into)
    journal.forget_others(w.digest for w in workings)
    text = sheet_text(sheet, outcome.applied, _group_of(outcome.groups))
    write_whole(asked.into / SHEET, text)
    return replace(outcome, changed=changes(before, text), written={SHEET: asked.into / SHEET, **written})


def files_of(folder: Path, into: Path) -> Iterator[Entry]:
    """Everything in the folder that could be a working, by name. Hidden files and the output are not workings."""
    names = sorted(os.listdir(folder))[:MOST_FILES]
    ours = os.path.realpath(into)
    visible = [n for n in names if not n.startswith(".") and os.path.realpath(folder / n) != ours]
    stems = [os.path.splitext(n)[0] for n in visible]
    for name, stem in zip(visible, stems, strict=True):
        plain = stem if name.lower().endswith(".txt") and stems.count(stem) == 1 else name
        yield Entry(plain, str(folder / name))


def _marked(
    entries: list[Entry], scheme: Scheme, journal: Journal, asked: Asked, progress: Progress
) -> tuple[tuple[Marked, ...], int]:
    """The result of every entry, in order. Contents that are the same to the letter are marked once."""
    found: dict[str, Marked] = {}
    first: dict[str, Entry] = {}
    alike: dict[Entry, tuple[str, ...]] = {}
    same: dict[str, list[Entry]] = {}
    for entry in entries:
        data = content(entry.path, asked.limits.largest)
        if isinstance(data, Problem):
            first[f"no content {entry.name}"] = entry
            continue
        key = digest(data)
        kept = None if asked.afresh else journal.kept(key)
        if kept is not None:
            found[entry.name] = kept.named(entry.name)
        elif key in first:
            same.setdefault(first[key].name, []).append(entry)
        else:
            first[key] = entry
            alike[entry] = likeness(data)
    resumed = len(found)
    progress(len(found), len(entries))
    todo = sorted(first.values(), key=lambda e: alike.get(e, ()))
    for entry, marked in asked.engine(todo, scheme.exercise, scheme, asked.limits) if todo else ():
        journal.keep(marked)
        for e in (entry, *same.get(entry.name, ())):
            found[e.name] = marked.named(e.name)
        progress(len(found), len(entries))
    return tuple(found[e.name] for e in entries), resumed


def _decided(sheet: Sheet, scheme: Scheme, into: Path, resumed: int) -> Outcome:
    """Groups, and the marker's decisions applied to their members."""
    groups = equal_slips(sheet.workings, scheme)
    path = into / DECISIONS
    if not path.exists():
        write_whole(path, HEAD)
    decisions = _typed(path)
    names = {n: g.name for g in groups for n in g.names}
    decisions = checked(decisions, (w.name for w in sheet.workings), names, {c[0]: c[2] for c in sheet.columns})
    group_of = _group_of(groups)
    made = _by_group_name(decisions, names)
    after = {w.name: applied(w, group_of.get(w.name, ""), made) for w in sheet.workings}
    problems = (*scheme.exercise.problems, *scheme.problems, *decisions.problems)
    return Outcome(sheet, after, groups, alike(sheet.workings), problems, resumed=resumed)


def _typed(path: Path) -> Decisions:
    """The marker's file, in whichever encoding an editor has left it."""
    text = decode(path.read_bytes())
    if isinstance(text, Problem):
        return Decisions(problems=() if text.code == "file.empty" else (text,))
    return read_decisions(text)


def _by_group_name(decisions: Decisions, names: dict[str, str]) -> tuple[Decision, ...]:
    """A group answers to the name of any way in which its slip is written; the first is used."""
    return tuple(replace(d, name=names[d.name]) if d.who == "slip" else d for d in decisions.made)


def _group_of(groups: Iterable[Group]) -> dict[str, str]:
    return {member: g.name for g in groups for member, _ in g.members}


def _write(outcome: Outcome, into: Path) -> dict[str, Path]:
    sheet = outcome.sheet
    for w in sheet.workings:
        name = file_name(w.name)
        mine = outcome.applied[w.name]
        write_whole(into / PAGES / f"{name}.html", page_of(w, mine, sheet.title, sheet.most))
        write_whole(into / PAGES / f"{name}.txt", text_of(w, mine, sheet.title, sheet.most))
    write_whole(into / LOOK, second_look(outcome.sheet, outcome.applied))
    write_whole(into / SLIPS, slips_text(outcome.groups, outcome.same))
    return {LOOK: into / LOOK, SLIPS: into / SLIPS, DECISIONS: into / DECISIONS, PAGES: into / PAGES}


def _digest_of(exercise: Document) -> str:
    data = bytes_of(exercise.source)
    return digest(repr(exercise).encode() if isinstance(data, Problem) else data)


def _text(path: Path) -> str:
    try:
        return path.read_bytes().decode("utf-8", "replace")
    except FileNotFoundError:
        return ""
