"""The lists beside a mark sheet: what a person should look at, equal slips, and what changed since the last run."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence

from derive.marking.decisions import Applied
from derive.marking.groups import Group
from derive.marking.records import Sheet
from derive.marking.writing import BYTE_ORDER_MARK, cell_text
from derive.messages import sentence
from derive.report.cells import set_in, visible

_NAMES_SHOWN = 8


def second_look(sheet: Sheet, applied: dict[str, Applied]) -> str:
    """Every working that needs a person, with why; and broken workings that lost no mark."""
    out = [*set_in(sentence("list.look_head")), ""]
    flagged = [w for w in sheet.workings if applied[w.name].looks]
    for w in flagged:
        out.append(visible(w.name))
        out += [row for reason in applied[w.name].looks for row in set_in(reason, "  ", "  ")]
        out.append("")
    if not flagged:
        out += [sentence("list.look_none"), ""]
    whole = [w for w in sheet.workings if w.slip and applied[w.name].total == sheet.most and sheet.most]
    if whole:
        out.append(sentence("title.no_mark_lost"))
        out += [f"  {visible(w.name)}, {w.slip.place}: {visible(w.slip.text)}" for w in whole if w.slip]
        out.append("")
    return "\n".join(out)


def slips_text(groups: Sequence[Group], same: Sequence[Sequence[str]]) -> str:
    """Equal slips, each shown once with its members; then workings that are the same but for spacing and names."""
    out = [*set_in(sentence("list.slips_head")), ""]
    for g in groups:
        kind = f"  ({g.kind.replace('_', ' ')})" if g.kind else ""
        out.append(f"slip {g.name}{kind}")
        out += [f"  {visible(way)}" for way in g.ways]
        several = len(g.members) > 1
        out.append("  " + sentence("piece.members" if several else "piece.one_member", {"count": str(len(g.members))}))
        out += [f"    {visible(name)}, {place}" for name, place in g.members]
        out.append("")
    if not groups:
        out += [sentence("list.slips_none"), ""]
    out += [sentence("title.same_workings"), ""]
    out += ["  " + visible(", ".join(names)) for names in same] or ["  " + sentence("piece.none")]
    return "\n".join(out) + "\n"


def changes(before: str, after: str) -> tuple[str, ...]:
    """What differs between two mark sheets, workings that changed alike in one sentence; nothing where there was no
    sheet before."""
    if not before:
        return ()
    old, new = _rows(before), _rows(after)
    alike: dict[str, list[str]] = {}
    for name, row in new.items():
        cells = [_changed(head, old[name].get(head, ""), now) for head, now in row.items() if name in old]
        if any(cells):
            alike.setdefault("; ".join(filter(None, cells)), []).append(name)
    return (
        *(sentence("change.gone", {"name": visible(n)}) for n in old if n not in new),
        *(sentence("change.new", {"name": visible(n)}) for n in new if n not in old),
        *(sentence("change.cells", {"who": named(who), "cells": cells}) for cells, who in alike.items()))


def _changed(head: str, was: str, now: str) -> str:
    if was == now:
        return ""
    facts = {"what": head, "was": visible(was).rstrip(".") or "—", "now": visible(now).rstrip(".") or "—"}
    return sentence("piece.changed", facts)


def named(who: Sequence[str]) -> str:
    """Some names, and how many more there are."""
    shown, left = ", ".join(map(visible, who[:_NAMES_SHOWN])), len(who) - _NAMES_SHOWN
    return f"{shown} {sentence('piece.more', {'count': str(left)})}" if left > 0 else shown


def _rows(text: str) -> dict[str, dict[str, str]]:
    try:
        read = csv.reader(io.StringIO(text.removeprefix(BYTE_ORDER_MARK)))
        rows = [[cell_text(c) for c in row] for row in read if row]
    except csv.Error:
        return {}
    return {row[0]: dict(zip(rows[0], row, strict=False)) for row in rows[1:]} if rows else {}
