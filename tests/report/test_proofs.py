"""How a proved line was proved, in words and as data, and only where the re-checker accepts it."""

import dataclasses
import json

import jsonschema
import pytest

from derive.proof.prover import Facts, Premise, prove
from derive.records import Check, Verdict
from derive.report.proofs import accepted, proof_in_words, proofs
from derive.report.structured import as_json, schema
from derive.terms.term import Var, add, div, mul, neg, var
from tests.report.samples import UNBROKEN, S, document, line

F, M, A = (var(Var(name)) for name in ("F", "m", "a"))
NEWTON = Premise("(1)", add(F, neg(mul(M, A))))


@pytest.fixture(scope="module")
def check() -> Check:
    certificate = prove(add(A, neg(div(F, M))), [NEWTON], Facts(lambda _: "positive"), 5.0)
    assert certificate is not None
    verdict = Verdict(S.FOLLOWS, support="proved", premises=("(1)",), certificate=(certificate,))
    return Check(document(), "unbroken", (line(4, "(2)  a = F/m", verdict),))


def test_a_proof_is_told_in_words_that_name_the_lines_it_uses(check):
    (remark,) = proofs(check)
    assert remark.heading == "How (2) was proved"
    assert remark.sentences == ("It is (1) divided by m.",)


def test_with_the_proof_asked_for_the_data_hold_it_in_words_and_for_the_re_checker(check):
    data = json.loads(json.dumps(as_json(check, show_proof=True)))
    jsonschema.Draft202012Validator(schema()).validate(data)
    verdict = data["lines"][0]["verdicts"][0]
    assert verdict["proof"] == ["It is (1) divided by m."]
    assert verdict["certificates"][0]["premises"][0]["label"] == "(1)"


def test_a_certificate_that_the_re_checker_refuses_is_not_shown_as_a_proof(check):
    verdict = check.lines[0].verdicts[0]
    (certificate,) = accepted(verdict)
    tampered = dataclasses.replace(certificate, target=add(A, neg(div(M, F))))
    assert proof_in_words(dataclasses.replace(verdict, certificate=(tampered,))) == []


def test_lines_without_a_certificate_have_no_proof_to_show():
    assert proofs(UNBROKEN) == []
