"""A check as data: whole, as the shipped schema describes it, and without solution or marks."""

import json

import jsonschema
import pytest

from derive.records import Check, Quantity, State, Verdict
from derive.report.structured import as_json, schema
from tests.report import samples
from tests.report.samples import S, document, line


@pytest.mark.parametrize("name", samples.ALL)
@pytest.mark.parametrize("grade", ["place", "kind", "edit"])
def test_every_check_fits_the_shipped_schema_and_is_strict_json(name, grade):
    data = as_json(samples.ALL[name], grade)
    again = json.loads(json.dumps(data, allow_nan=False))
    assert again == data
    jsonschema.Draft202012Validator(schema()).validate(again)


def test_the_schema_is_itself_a_schema():
    jsonschema.Draft202012Validator.check_schema(schema())


def test_the_schema_refuses_what_it_does_not_describe():
    data = as_json(samples.BROKEN)
    judge = jsonschema.Draft202012Validator(schema())
    for change in ({"solution": []}, {"version": 2}, {"outcome": "fine"}, {"lines": [{}]}):
        assert not judge.is_valid(data | change)


@pytest.mark.parametrize("grade", ["place", "kind", "edit"])
def test_neither_solution_nor_marks_are_ever_in_it(grade):
    for check in samples.ALL.values():
        assert samples.SECRET not in json.dumps(as_json(check, grade))


def test_with_help_kept_to_the_place_what_shows_the_break_is_left_out():
    broken = as_json(samples.BROKEN, "place")["lines"][3]["verdicts"][0]
    assert broken["standing"] == "does not follow"
    assert broken["state"] is None
    assert broken["sentence"] is None
    assert as_json(samples.BROKEN, "kind")["lines"][3]["verdicts"][0]["state"]["left"]["unit"] == "rad/s"


def test_values_without_a_finite_number_are_null_and_complex_ones_have_two_parts():
    state = State((Quantity("z", 1 + 2j),), Quantity("left", float("inf")), Quantity("right", float("nan")))
    broken = line(3, "z = 1", Verdict(S.FAILS, code="fails.state", state=state))
    check = Check(document(), "broken", (broken,), first_break=3)
    shown = as_json(check)["lines"][0]["verdicts"][0]["state"]
    assert shown["left"]["value"] is None
    assert shown["right"]["value"] is None
    assert (shown["values"][0]["value"], shown["values"][0]["imaginary"]) == (1.0, 2.0)
    jsonschema.Draft202012Validator(schema()).validate(as_json(check))
