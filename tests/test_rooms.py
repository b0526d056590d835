"""The rooms of the package stand in the order of the pipeline, and imports run one way through them."""

import ast
from collections.abc import Iterator
from functools import cache
from pathlib import Path

PACKAGE = Path(__file__).parents[1] / "derive"

# What a room may look at: itself, and what stands before it here. Those on one row share a step of the pipeline.
ORDER = (
    "notation/tree", "records", "messages", "problems", "notation", "quantities", "text", "loading", "readings",
    "taking_over", "not_fitting", "left_open", "going_on", "apart", "meanings", "case_heads", "terms", "guarding",
    "states", "parts_told", "proof", "steps", "verdicts", "case_ends", "kinds_told", "forking", "rereading", "page",
    "opening", "check", "diagnosis", "report", "marking", "marking_commands", "cli",
)

# The same within a room that has rooms of its own. A module on its floor stands where it is named, or at `*`.
WITHIN = {
    "notation": (
        "tree", "lists", "names", "failures", "depth", "lexemes", "tokens", "grammar", "grouping", "sentences",
        "respelling", "printed", "*"),
    "steps": (
        "changing", "numbers", "letters", "brought_in", "customs", "limiting", "integrals", "small", "compared",
        "extremes", "cases", "breaks", "*"),
    "verdicts": ("pairs", "claims", "in_words", "cases", "*"),
}


def _room(module: str) -> str:
    parts = module.split(".")[1:]
    return "notation/tree" if parts[:2] == ["notation", "tree"] else parts[0] if parts else ""


def _imports(path: Path, module: str) -> Iterator[tuple[str, bool]]:
    """What a module imports from the package, and whether for its types alone."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    types = {id(n) for test in tree.body if isinstance(test, ast.If) and "TYPE_CHECKING" in ast.dump(test.test)
             for n in ast.walk(test)}
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom) and node.module and node.module.split(".")[0] == "derive":
            for name in node.names:
                full = f"{node.module}.{name.name}"
                found = full if full in MODULES else node.module
                if found != module:
                    yield found, id(node) in types


MODULES = {
    ".".join(("derive", *p.relative_to(PACKAGE).with_suffix("").parts)).removesuffix(".__init__"): p
    for p in sorted(PACKAGE.rglob("*.py"))
}


@cache
def needs() -> dict[str, tuple[tuple[str, bool], ...]]:
    """What each module imports."""
    return {m: tuple(_imports(p, m)) for m, p in MODULES.items()}


def test_a_module_looks_only_at_its_own_room_and_those_before_it() -> None:
    wrong = [
        (module, other) for module, others in needs().items() for other, _ in others
        if module != "derive" and ORDER.index(_room(other)) > ORDER.index(_room(module))
    ]

    assert wrong == []


def test_no_two_modules_need_each_other() -> None:
    left = {m: {d for d, types in others if not types} for m, others in needs().items()}
    while free := [m for m, d in left.items() if not d & left.keys()]:
        for m in free:
            del left[m]

    assert left == {}


def test_a_room_within_a_room_looks_only_at_those_before_it() -> None:
    def place(module: str) -> tuple[str, int]:
        room, within = module.split(".")[1:3]
        return room, WITHIN[room].index(within if within in WITHIN[room] else "*")

    inner = {m for m in MODULES if len(m.split(".")) > 2 and m.split(".")[1] in WITHIN}
    wrong = [
        (m, other) for m in sorted(inner) for other, _ in needs()[m]
        if other in inner and place(other)[0] == place(m)[0] and place(other) > place(m)
    ]

    assert wrong == []


def test_every_room_within_a_room_has_its_place() -> None:
    rooms = {(p.parent.parent.name, p.parent.name) for p in PACKAGE.glob("*/*/__init__.py")}

    assert {(room, within) for room, within in rooms if room in WITHIN} == {
        (room, within) for room, order in WITHIN.items() for within in order
        if (PACKAGE / room / within / "__init__.py").exists()}
    assert {room for room, _ in rooms} - set(WITHIN) == {"proof"}
