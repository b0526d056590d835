"""The registry of sentences and the code that names them agree, both ways."""

import re
from pathlib import Path

import pytest

from derive.messages import MESSAGES, needed_facts, sentence
from derive.messages.files import FILES
from derive.messages.marking import MARKING
from derive.messages.reports import REPORTS
from derive.messages.slips import SLIPS
from derive.messages.verdicts import VERDICTS
from tests.golden import check_against

ROOT = Path(__file__).parent.parent
FAMILIES = sorted({code.split(".")[0] for code in MESSAGES})
# A code of a family that is known, wherever it stands; or of any family, where a code is handed over.
KNOWN_FAMILY = re.compile(r'"((?:' + "|".join(FAMILIES) + r')\.[a-z][a-z_]*)"')
HANDED_OVER = re.compile(r'(?:code=|(?:Meaningless|sentence|problem|Hint|Observation)\()"([a-z]+\.[a-z_]+)"')
PUT_TOGETHER = re.compile(r'f"([a-z]+\.(?:[a-z]+_)?)\{')


def source_files() -> dict[str, str]:
    paths = sorted((ROOT / "derive").rglob("*.py"))
    return {str(p.relative_to(ROOT)): p.read_text(encoding="utf-8") for p in paths if p.parent.name != "messages"}


def codes_named_in_the_source() -> dict[str, str]:
    found = {}
    for name, text in source_files().items():
        for code in KNOWN_FAMILY.findall(text) + HANDED_OVER.findall(text):
            found[code] = name
    return found


def test_no_code_is_registered_twice():
    assert len(MESSAGES) == len(VERDICTS) + len(SLIPS) + len(FILES) + len(REPORTS) + len(MARKING)


def test_every_code_named_in_the_source_has_a_sentence():
    assert {code: where for code, where in codes_named_in_the_source().items() if code not in MESSAGES} == {}


def test_every_sentence_is_named_in_the_source_or_put_together_there():
    named = codes_named_in_the_source()
    families = tuple({start for text in source_files().values() for start in PUT_TOGETHER.findall(text)})
    assert families
    assert [code for code in MESSAGES if code not in named and not code.startswith(families)] == []


# Headings stand alone, and pieces are set into a layout or another sentence.
SENTENCES = [code for code in MESSAGES if not code.startswith(("title.", "piece."))]


@pytest.mark.parametrize("code", SENTENCES)
def test_every_sentence_is_whole_with_all_its_facts_and_with_none(code):
    facts = {name: "stuff" for template in MESSAGES[code] for name in needed_facts(template)}
    for known in (facts, {}):
        said = sentence(code, known)
        assert said[0].isupper() or said.startswith(("…", "stuff", "“"))
        assert said.rstrip("”)")[-1] in ".?"
        assert "{" not in said


def test_the_fullest_template_whose_facts_are_known_is_used():
    assert "needs 2" in sentence("fails.too_few_constants", {"have": "1", "need": "2"})
    assert "needs" not in sentence("fails.too_few_constants", {"have": "1"})
    assert "needs" not in sentence("fails.too_few_constants", {"have": "1", "need": ""})


def test_facts_are_put_in_as_they_are_and_never_read_as_a_template():
    assert "{0.__class__}" in sentence("fails.redefined", [("name", "{0.__class__}")])


def test_a_code_without_a_sentence_is_named_rather_than_hidden():
    assert "no.such" in sentence("no.such")


NOT_FOR_STUDENTS = (
    "groebner", "gröbner", "ideal", "residual", "polynomial", "certificate", "simplif", "normal form",
    "eigenvalue", "numeric", "heuristic", "jacobian", "canonical", "rewrite", "term order", "cofactor", "lemma",
    "color", "recogniz", "center", "analyz", "behavior", "gray", "meter ", "judgment", "labeled", "traveled",
)  # fmt: skip


@pytest.mark.parametrize("code", MESSAGES)
def test_no_sentence_uses_the_jargon_of_computer_algebra_or_american_spelling(code):
    text = " ".join(MESSAGES[code]).lower()
    for word in NOT_FOR_STUDENTS:
        assert word not in text


# What a sentence speaks of, as it might be, for showing each of them once.
EXAMPLES = {
    "term": "½ k x²", "before": "2 m g", "after": "m g", "name": "T", "of": "m", "becomes": "g sin θ", "first": "m_1",
    "second": "m_2", "dimension": "s (a time)", "written": "0.42 s", "exact": "0.90 s", "factor": "2", "line": "(4)",
    "lines": "(1) to (3)", "premises": "(1) and (a)", "piece": "T = 2π/ω", "values": "m = 40 kg", "left": "0.90 s",
    "right": "43.9 s", "sign": "≥", "where": "line (4)", "goal": "T = 2π √(m/k)", "condition": "v ≠ 0",
    "reason": "divide by m", "found": "(1)", "cited": "(2)", "label": "(3)", "result": "a = F/m", "expected": "a name",
    "which": "first",
}


def test_every_sentence_of_a_report_reads_as_the_one_kept():
    rows = []
    for code in (*VERDICTS, *SLIPS, *REPORTS):
        for template in MESSAGES[code]:
            facts = {name: EXAMPLES.get(name, f"<{name}>") for name in needed_facts(template)}
            rows.append(f"{code}: {template.format_map(facts)}")
    check_against(ROOT / "tests" / "golden" / "sentences.txt", "\n".join(rows) + "\n")
