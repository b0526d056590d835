"""A published table of physics formulas, read where it lies beside the checkout, and evaluated without Thence.

The table is the Feynman Symbolic Regression Database (S.-M. Udrescu and M. Tegmark, Science Advances 6,
eaay2631, 2020). Its formulas are typed in Python's notation, so Python's own parser serves as the second reader:
the trees it gives are walked here, node by node of a short list, and never run.
"""

from __future__ import annotations

import ast
import csv
import math
import os
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

from derive.records import Dimension

# Beside the checkout, or where the environment says that such tables lie.
TABLES = Path(os.environ.get("THENCE_TABLES") or Path(__file__).parents[3] / "shared" / "data")
FOLDER = TABLES / "feynman"


@dataclass(frozen=True)
class Formula:
    """`output = text`, with the range of each variable for which the formula is meant."""

    name: str
    output: str
    text: str
    ranges: tuple[tuple[str, float, float], ...]


def formulas() -> list[Formula]:
    """All formulas of the two tables; none where they are not present."""
    return [f for table in ("FeynmanEquations.csv", "BonusEquations.csv") for f in _read(FOLDER / table)]


def _read(path: Path) -> Iterator[Formula]:
    for row in _rows(path):
        if row["Formula"]:
            numbered = [f"v{i}" for i in range(1, 11) if row.get(f"v{i}_name")]
            ranges = tuple((row[f"{v}_name"], float(row[f"{v}_low"]), float(row[f"{v}_high"])) for v in numbered)
            yield Formula(row["Filename"], row["Output"], row["Formula"], ranges)


def _rows(path: Path) -> list[dict[str, str]]:
    if not path.is_file():
        return []
    with path.open(encoding="utf-8-sig", newline="") as file:
        return list(csv.DictReader(file))


def dimensions() -> dict[str, Dimension]:
    """The dimension of each variable of the table of units: powers of m, s, kg, kelvin and volt."""
    return {row["Variable"]: _dimension(row) for row in _rows(FOLDER / "units.csv") if row["Variable"]}


def _dimension(row: dict[str, str]) -> Dimension:
    m, s, kg, kelvin, volt = (Fraction(row[unit]) for unit in ("m", "s", "kg", "T", "V"))
    zero = Fraction(0)
    # V = kg m² s⁻³ A⁻¹ (SI Brochure, 9th edition, table 4)
    return Dimension((kg + volt, m + 2 * volt, s - 3 * volt, -volt, kelvin, zero, zero))


# --- the second evaluation --------------------------------------------------------------------------------

_FUNCTIONS: dict[str, Callable[[float], float]] = {
    "exp": math.exp, "sqrt": math.sqrt, "ln": math.log, "log": math.log, "sin": math.sin, "cos": math.cos,
    "tan": math.tan, "arcsin": math.asin, "arccos": math.acos, "tanh": math.tanh,
}
_OPERATIONS: dict[type, Callable[[float, float], float]] = {
    ast.Add: lambda a, b: a + b, ast.Sub: lambda a, b: a - b, ast.Mult: lambda a, b: a * b,
    ast.Div: lambda a, b: a / b, ast.Pow: lambda a, b: a**b,
}


def number(text: str, values: dict[str, float]) -> float:
    """What a formula comes to at some values, by walking the tree that Python's parser gives."""
    return _walked(ast.parse(text, mode="eval").body, {"pi": math.pi, **values})


def _walked(node: ast.expr, values: dict[str, float]) -> float:
    match node:
        case ast.Constant(value=int() | float() as value):
            return float(value)
        case ast.Name(id=name):
            return values[name]
        case ast.UnaryOp(op=ast.USub(), operand=operand):
            return -_walked(operand, values)
        case ast.BinOp(left=left, op=operation, right=right):
            return _OPERATIONS[type(operation)](_walked(left, values), _walked(right, values))
        case ast.Call(func=ast.Name(id=name), args=[argument], keywords=[]):
            return _FUNCTIONS[name](_walked(argument, values))
    raise ValueError(f"not in the list of nodes: {ast.dump(node)}")
