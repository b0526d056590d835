"""From the name of a file to a Document, joined with the exercise it belongs to.

The one place that opens files for checking. What cannot be had becomes a Problem of an otherwise empty
Document; only a wrong `exercise` asked for by the caller is given back as such.
"""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path

from derive.problems import problem
from derive.records import Document, Problem
from derive.text.decode import LARGEST_FILE
from derive.text.document import read_document
from derive.text.exercise_files import find_exercise, nearest_exercise, with_exercise

STANDARD_INPUT = "-"


def load(name: str, exercise: Document | None = None) -> Document:
    """The document in a file (`-`: on standard input), with the exercise given, else the one it names."""
    data = bytes_of(name)
    if isinstance(data, Problem):
        return Document(name, "quick", problems=(data,))
    document = read_document(data, name)
    if exercise is None and document.exercise:
        found = exercise_named(document.exercise, Path() if name == STANDARD_INPUT else Path(name))
        if isinstance(found, Problem):
            return replace(document, problems=(*document.problems, found))
        exercise = found
    return document if exercise is None else with_exercise(document, exercise)


def exercise_named(name: str, near: Path) -> Document | Problem:
    """The exercise of this name beside a working or among those shipped."""
    path = find_exercise(name, near)
    if path is None:
        return problem("exercise.unknown", name=name, nearest=nearest_exercise(name, near))
    return exercise_in(str(path))


def exercise_in(path: str) -> Document | Problem:
    """The exercise in a file."""
    data = bytes_of(path)
    return data if isinstance(data, Problem) else read_document(data, path)


def bytes_of(name: str) -> bytes | Problem:
    """What a file holds, at most one byte more than is allowed, or why it cannot be had."""
    try:
        if name == STANDARD_INPUT:
            return sys.stdin.buffer.read(LARGEST_FILE + 1)
        with Path(name).open("rb") as file:
            return file.read(LARGEST_FILE + 1)
    except IsADirectoryError:
        return problem("file.folder", name=name)
    except FileNotFoundError:
        return problem("file.missing", name=name)
    except PermissionError:
        return problem("file.denied", name=name)
    except (OSError, ValueError) as error:  # ValueError: a name with a zero byte in it
        return problem("file.failed", name=name, why=getattr(error, "strerror", None) or str(error))
