"""Every sentence about a verdict, a slip or a problem that a person can meet, in one room.

The stages name a message by its code and hand over facts; the words are chosen here. No stage composes
sentences of its own, and nothing here decides anything. A code has one or more templates, the fullest
first: the first whose facts are all there is used, so that a stage which knows less still speaks plainly.

To change a wording, change it here and refresh the golden reports (DEVELOPERS.md says how).
"""

from __future__ import annotations

import string
from collections.abc import Iterable, Mapping

from derive.messages.files import FILES
from derive.messages.marking import MARKING
from derive.messages.reports import REPORTS
from derive.messages.slips import SLIPS
from derive.messages.verdicts import VERDICTS

MESSAGES: Mapping[str, tuple[str, ...]] = VERDICTS | SLIPS | FILES | REPORTS | MARKING


def sentence(code: str, facts: Mapping[str, str] | Iterable[tuple[str, str]] = ()) -> str:
    """The sentence for a code: its fullest template whose facts are all known (empty facts count as unknown).

    A code that is not registered is a defect of ours, which a test looks for; a report met by it still
    has to be printed, so it says which code has no words.
    """
    known = {name: value for name, value in dict(facts).items() if value}
    templates = MESSAGES.get(code)
    if templates is None:
        return f"(Thence has no sentence for “{code}”.)"
    for template in templates:
        if needed_facts(template) <= known.keys():
            return template.format_map(known)
    return templates[-1].format_map(dict.fromkeys(needed_facts(templates[-1]), "…") | known)


def needed_facts(template: str) -> frozenset[str]:
    """The names of the facts that a template speaks of."""
    return frozenset(name for _, name, _, _ in string.Formatter().parse(template) if name)
