"""A published table of physics formulas: each reads, has the numbers of a second evaluation, and fits in dimensions.

Skipped where the table is not present (see `formulas`).
"""

from __future__ import annotations

from random import Random

import numpy as np
import pytest

from derive.notation import tree as n
from derive.notation.names import Scope, canonical
from derive.notation.reader import read_line
from derive.quantities.dimensions import Dimensions
from derive.records import RawLine, Symbol, Unreadable
from derive.terms.lowering import lower
from derive.terms.tape import Tape
from derive.terms.term import Term, Var
from derive.terms.world import World

from .formulas import Formula, dimensions, formulas, number

FORMULAS = formulas()
UNITS = dimensions()
STRANGER = "Ψ"  # no formula has it
# The table gives mu_drift in kg/s where v = mu_drift q V/d needs s/kg; its own "mob" has s/kg.
SLIPS_OF_THE_TABLE = {"I.43.16"}
STATES = 12

pytestmark = pytest.mark.skipif(not FORMULAS, reason="the table of formulas is not beside this checkout")
every_formula = pytest.mark.parametrize("formula", FORMULAS, ids=[f.name for f in FORMULAS])


def symbols(formula: Formula) -> dict[str, Symbol]:
    """The variables and the output of a formula as declared names with their dimensions."""
    typed = (formula.output, *(name for name, _, _ in formula.ranges))
    return {canonical(name): Symbol(canonical(name), dimension=UNITS[name]) for name in typed}


def read(formula: Formula) -> n.Relation:
    """The relation a formula is read as, in a scope where its variables are declared and nothing else is."""
    typed = f"{formula.output} = {formula.text}"
    found = read_line(RawLine(1, typed, body=n.Span(0, len(typed))), Scope(symbols(formula)))
    assert not isinstance(found, Unreadable), f"{typed}: expected {found.expected}"
    (statement,) = found[0].statements
    assert isinstance(statement.claim, n.Relation)
    return statement.claim


def drawn(formula: Formula) -> list[dict[str, float]]:
    """Values within the ranges of the table at which the formula has a real value."""
    random, states = Random(formula.name), []
    for _ in range(50 * STATES):
        values = {name: random.uniform(low, high) for name, low, high in formula.ranges}
        try:
            real = not isinstance(number(formula.text, values), complex)
        except (ValueError, ZeroDivisionError):
            real = False
        if real:
            states.append(values)
        if len(states) == STATES:
            break
    return states


@every_formula
def test_a_formula_reads_with_its_own_variables_and_no_others(formula: Formula) -> None:
    relation = read(formula)

    assert set(n.names_in(relation)) == set(symbols(formula))


@every_formula
def test_a_formula_has_the_numbers_of_an_independent_evaluation(formula: Formula) -> None:
    states = drawn(formula)
    assert len(states) == STATES

    term = lower(read(formula).sides[1], World().declaring(tuple(symbols(formula).values())))
    assert isinstance(term, Term)
    env = {Var(canonical(name)): np.array([s[name] for s in states]) for name, _, _ in formula.ranges}
    (found,) = Tape([term]).run(env)

    assert np.broadcast_to(found, STATES) == pytest.approx([number(formula.text, s) for s in states], rel=1e-10)


@every_formula
def test_the_right_side_has_the_dimension_of_the_output(formula: Formula) -> None:
    known = Dimensions(tuple(symbols(formula).values()))
    relation = read(formula)
    fits = formula.name not in SLIPS_OF_THE_TABLE

    assert (known.of(relation.sides[1]) == UNITS[formula.output]) is fits
    assert (known.examine(relation) is None) is fits


@every_formula
def test_a_formula_with_one_variable_of_another_dimension_is_refused(formula: Formula) -> None:
    relation = read(formula)
    for name, _, _ in formula.ranges:
        other = next(d for d in UNITS.values() if d != UNITS[name])
        known = Dimensions((*symbols(formula).values(), Symbol(STRANGER, dimension=other)))
        mine = canonical(name)
        swapped = n.rebuilt(
            relation.sides[1],
            {id(node): n.Name(STRANGER) for node in n.walk(relation.sides[1]) if node == n.Name(mine)})

        mismatch = known.examine(n.Relation((relation.sides[0], swapped), ("=",)))  # type: ignore[arg-type]

        assert mismatch is not None, f"{name} swapped for {STRANGER} in {formula.text}"


def test_the_table_is_whole() -> None:
    assert len(FORMULAS) == 120
