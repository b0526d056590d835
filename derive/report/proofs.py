"""How proved lines were proved: in words a student can follow, and as data for whoever re-checks them.

Only certificates that the re-checker accepts are shown; it shares nothing with the prover that wrote them.
"""

from __future__ import annotations

from derive.messages import sentence
from derive.proof.certificate import Certificate, explain, recheck, to_json
from derive.records import Check, LineVerdict, Verdict
from derive.report.account import Remark
from derive.report.naming import line_name, piece_of


def proofs(check: Check) -> list[Remark]:
    """One remark for each proved statement."""
    remarks = []
    for line in check.lines:
        for verdict in line.verdicts:
            said = proof_in_words(verdict)
            if said:
                remarks.append(Remark(_heading(line, verdict), tuple(said)))
    return remarks


def proof_in_words(verdict: Verdict) -> list[str]:
    """The moves of a verdict's proof, in order; none where there is no proof to show."""
    return list(dict.fromkeys(said for certificate in accepted(verdict) for said in explain(certificate)))


def certificates_as_data(verdict: Verdict) -> list[dict[str, object]]:
    """A verdict's certificates as plain JSON values."""
    return [to_json(certificate) for certificate in accepted(verdict)]


def accepted(verdict: Verdict) -> list[Certificate]:
    """A verdict's certificates, if every one of them is accepted by the re-checker."""
    found = verdict.certificate if isinstance(verdict.certificate, tuple) else (verdict.certificate,)
    certificates = [c for c in found if isinstance(c, Certificate)]
    return certificates if len(certificates) == len(found) and all(map(recheck, certificates)) else []


def _heading(line: LineVerdict, verdict: Verdict) -> str:
    piece = piece_of(line, verdict) if len(line.verdicts) > 1 else ""
    return sentence("title.proof", {"line": line_name(line), "piece": piece})
