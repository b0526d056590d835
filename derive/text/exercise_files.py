"""Finding the exercise that a working names, and joining the two.

A name is compared with the names and titles of the files in a few folders; it never becomes part of a
path. What a student may not see of an exercise (solution, marks) is not carried over.
"""

from __future__ import annotations

import difflib
from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path

import derive
from derive.problems import problem
from derive.records import Document, Problem, RawLine, Symbol
from derive.text.decode import LARGEST_FILE, decode, split_lines
from derive.text.lines import with_cites
from derive.text.sections import Sections, split_sections

_MOST_FILES = 2000  # looked at in one folder
_HEAD_LINES = 400
_LONGEST_NAME = 200


def shipped_folder() -> Path | None:
    """The exercises that come with Thence: in a checkout beside the package, in a wheel inside it."""
    package = Path(derive.__file__).parent
    for folder in (package / "exercise_files", package.parent / "exercises"):
        if folder.is_dir():
            return folder
    return None


def find_exercise(name: str, near: Path | None = None) -> Path | None:
    """The file of the exercise of this name (its file's name or its title), or None.

    Looked for in the folder of `near` (a working, or a folder), in the folder above it, and among the shipped
    ones, in this order; a file's name counts before a title."""
    wanted = _plain(name)
    if not wanted or len(wanted) > _LONGEST_NAME:
        return None
    for folder in _folders(near):
        files = _text_files(folder)
        for path in files:
            if wanted in (_plain(path.stem), _plain(path.name)) and _sections_of(path) is not None:
                return path
        for path in files:
            sections = _sections_of(path)
            if sections is not None and _plain(sections.title) == wanted:
                return path
    return None


def nearest_exercise(name: str, near: Path | None = None) -> str:
    """The name of the exercise that was probably meant, or ''."""
    stems = [path.stem for folder in _folders(near) for path in _text_files(folder) if _sections_of(path)]
    close = difflib.get_close_matches(name.strip().lower()[:_LONGEST_NAME], stems, n=1, cutoff=0.6)
    return close[0] if close else ""


def _plain(name: str) -> str:
    return " ".join(name.casefold().split()).removesuffix(".txt")


def _folders(near: Path | None) -> Iterator[Path]:
    seen: set[Path] = set()
    beside = [] if near is None else [near if near.is_dir() else near.parent]
    above = [folder.resolve().parent for folder in beside]
    shipped = shipped_folder()
    for folder in (*beside, *above, *([shipped] if shipped else [])):
        if folder not in seen and folder.is_dir():
            seen.add(folder)
            yield folder


def _text_files(folder: Path) -> list[Path]:
    try:
        return sorted(path for path in folder.iterdir() if path.suffix == ".txt")[:_MOST_FILES]
    except OSError:
        return []


def _sections_of(path: Path) -> Sections | None:
    """The sections of a file if it is an exercise: with a goal or a solution, and not somebody's working."""
    try:
        if not path.is_file() or path.stat().st_size > LARGEST_FILE:
            return None
        text = decode(path.read_bytes())
    except OSError:
        return None
    if isinstance(text, Problem):
        return None
    sections = split_sections(split_lines(text)[0][:_HEAD_LINES])
    given = sections.under.keys() & {"given", "symbols"}
    whole = given and sections.under.keys() & {"show", "solution", "marks"}
    return sections if whole and "working" not in sections.under else None


# --- joining --------------------------------------------------------------------------------------------


def with_exercise(document: Document, exercise: Document) -> Document:
    """A working with the symbols, givens and goal of its exercise; the writer's own symbols are added.

    A symbol declared otherwise than in the exercise, and givens or a goal of the writer's own, are
    problems: the exercise's hold."""
    symbols, clashes = _joined_symbols(document.symbols, exercise.symbols)
    added = [
        *_own_lines(document.given, exercise.given, "exercise.given_added"),
        *_own_lines(document.show, exercise.show, "exercise.show_added"),
    ]
    return replace(
        document, title=exercise.title, symbols=symbols, given=exercise.given, show=exercise.show,
        working=_cites_given_too(document, exercise), problems=(*document.problems, *clashes, *added),
    )


def _joined_symbols(own: Sequence[Symbol], theirs: Sequence[Symbol]) -> tuple[tuple[Symbol, ...], list[Problem]]:
    declared = {symbol.name: symbol for symbol in theirs}
    clashes = [
        problem("exercise.clash", name=symbol.name, unit=declared[symbol.name].unit or "no unit")
        for symbol in own
        if symbol.name in declared and not _same_quantity(symbol, declared[symbol.name])
    ]
    return (*theirs, *(symbol for symbol in own if symbol.name not in declared)), clashes


def _same_quantity(own: Symbol, theirs: Symbol) -> bool:
    """A student may repeat a symbol, and say less of it; not something else."""
    same_unit = own.dimension is None or (own.dimension, own.scale) == (theirs.dimension, theirs.scale)
    return same_unit and own.sign in ("real", theirs.sign) and own.vector == theirs.vector


def _own_lines(own: Sequence[RawLine], theirs: Sequence[RawLine], code: str) -> list[Problem]:
    known = {_letters(line) for line in theirs}
    return [problem(code, line.number) for line in own if not line.remark and _letters(line) not in known]


def _letters(line: RawLine) -> str:
    return "".join(line.text[line.body.start:line.body.end].split())


def _cites_given_too(document: Document, exercise: Document) -> tuple[RawLine, ...]:
    labels = [line.label for part in (exercise.given, document.working) for line in part if line.label]
    return with_cites(document.working, labels)
