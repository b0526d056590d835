"""What an instructor reads after vetting: what to mend, what to know, and which slips would cost what."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import groupby

from derive.marking.vet import Finding, Subject
from derive.marking.vet_slips import Tried
from derive.messages import sentence
from derive.report.cells import set_in, visible

_THROUGH_SHOWN = 12


def say_vetting(
    subject: Subject, findings: Sequence[Finding], tried: Sequence[Tried], say: Callable[[str], object]
) -> None:
    """The report, section by section; the last sentence says whether the exercise can go out."""
    exercise, scheme = subject.exercise, subject.scheme
    say(visible(exercise.title or exercise.source))
    say(sentence("vet.size", {
        "symbols": str(len(exercise.symbols)), "givens": str(len(exercise.given)), "lines": str(len(exercise.solution)),
        "points": str(len(scheme.points)), "total": str(scheme.total)}))
    for weight, heading in (("fault", "title.to_mend"), ("notice", "title.to_know")):
        here = sorted((f for f in findings if f.weight == weight), key=lambda f: f.line)
        if here:
            say("")
            say(sentence(heading))
            for f in here:
                for row in set_in(f"line {f.line}: {f.said}" if f.line else f.said, "  ", "  "):
                    say(row)
    if tried:
        _say_slips(tried, say)
    faults = [f for f in findings if f.weight == "fault"]
    say("")
    say(sentence("vet.faults", {"count": str(len(faults))}) if faults else sentence("vet.clean"))
    for row in set_in(sentence("mark.closing")):
        say(row)


def _say_slips(tried: Sequence[Tried], say: Callable[[str], object]) -> None:
    say("")
    say(sentence("title.slips"))
    for _, group in groupby(tried, key=lambda t: t.number):
        here = list(group)
        found = sum(t.outcome == "found" for t in here)
        costs = here[0].costs
        code = "vet.line_slips_further" if costs.further else "vet.line_slips"
        told = sentence(code if costs.points else "vet.line_slips_free", {
            "line": here[0].line, "found": str(found), "tried": str(len(here)), "costs": ", ".join(costs.points)})
        for row in set_in(told, "  ", "  "):
            say(row)
    for outcome, heading in (("through", "title.through"), ("open", "title.left_open")):
        missed = [t for t in tried if t.outcome == outcome]
        if not missed:
            continue
        say("")
        say(sentence(heading))
        for t in missed[:_THROUGH_SHOWN]:
            say(visible(f"  {t.line}: {t.written}   ({t.kind.replace('_', ' ')})"))
        if len(missed) > _THROUGH_SHOWN:
            say("  " + sentence("piece.more", {"count": str(len(missed) - _THROUGH_SHOWN)}))
