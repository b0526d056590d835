"""Is it a proof? Certificates re-checked by expansion alone, by code that shares nothing with the prover.

It reads terms its own way, multiplies out, and compares. What it takes on trust is short: the identities of
`rules`, the rules of signs, and the facts and premises that the certificate names.
"""

from derive.proof.recheck.check import recheck

__all__ = ["recheck"]
