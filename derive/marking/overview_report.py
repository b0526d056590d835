"""A class's figures on the screen and as a page with its histogram drawn in it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from derive.marking.feedback import template
from derive.marking.lists import named
from derive.marking.overview import Overview
from derive.messages import sentence
from derive.report.cells import set_in, visible

_BAR = 40  # columns of the longest bar


@dataclass(frozen=True, slots=True)
class Usual:
    """What the instructor calls usual: the share of a class below the pass line."""

    share_below: float | None = None


def figures(o: Overview, usual: Usual) -> tuple[str, ...]:
    """The class in sentences."""
    if not o.present:
        return (sentence("class.nobody"), *_absent(o))
    out = [sentence("class.size_one" if o.present == 1 else "class.size", {"count": str(o.present)})]
    facts = {"mean": f"{o.mean:.1f}", "median": f"{o.median:g}", "most": str(o.most)}
    if o.spread is not None:
        facts["spread"] = f"{o.spread:.1f}"
    out.append(sentence("class.middle", facts))
    if o.open:
        out.append(sentence("class.open", {"count": str(o.open)}))
    if o.unlike:
        out.append(sentence("class.unlike", {"count": str(len(o.unlike)), "who": named(o.unlike)}))
    if o.passing is not None and o.share_below is not None:
        below = {"pass": str(o.passing), "count": str(o.below), "share": f"{100 * o.share_below:.0f}"}
        if usual.share_below is not None:
            below["usual"] = f"{100 * usual.share_below:.0f}"
        out.append(sentence("class.below", below))
    return (*out, *_absent(o))


def _absent(o: Overview) -> tuple[str, ...]:
    if not o.absent:
        return ()
    return (sentence("class.absent", {"count": str(len(o.absent)), "who": named(o.absent)}),)


def _figure(x: float | None) -> str:
    return "–" if x is None else f"{round(x, 2) + 0.0:.2f}".replace("-", "−")


def say_class(o: Overview, usual: Usual, title: str, say: Callable[[str], object]) -> None:
    """The class on the screen."""
    say(visible(title))
    for s in figures(o, usual):
        for row in set_in(s):
            say(row)
    if not o.present:
        return
    say("")
    say(sentence("title.totals"))
    highest = max(o.counts)
    width = len(str(o.most))
    for total, count in enumerate(o.counts):
        line = f"  {total:{width}}  {'█' * round(_BAR * count / highest) if count else ''} {count or ''}".rstrip()
        say(line + ("   " + sentence("piece.pass_line") if total == o.passing else ""))
    say("")
    say(sentence("title.points"))
    say(f"  {'':6}  {'facility':>8}  {'correlation':>11}  {'upper–lower':>11}")
    for p in o.points:
        say(f"  {p.label:6}  {_figure(p.facility):>8}  {_figure(p.correlation):>11}  {_figure(p.upper_lower):>11}")
    for row in set_in(sentence("class.formulas")):
        say(row)
    if o.breaks:
        say("")
        say(sentence("title.first_breaks"))
        for b in o.breaks:
            for row in set_in(f"{b.what}: {named(b.who)}", f"  {len(b.who):>3}  "):
                say(row)
        say(f"  {sentence('class.breaks_where')}")
    say("")
    for row in set_in(sentence("mark.closing")):
        say(row)


# --- a page -----------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Bar:
    """A bar of the histogram, in the units of its drawing."""

    x: float
    y: float
    width: float
    height: float
    total: int
    count: int
    below: bool


HEIGHT, ROOM = 160.0, 640.0


def bars(o: Overview) -> tuple[Bar, ...]:
    """The histogram's bars, one a total."""
    step, highest = ROOM / len(o.counts), max(max(o.counts), 1)
    return tuple(
        Bar(k * step + 0.1 * step, HEIGHT - HEIGHT * c / highest, 0.8 * step, HEIGHT * c / highest, k, c,
            o.passing is not None and k < o.passing)
        for k, c in enumerate(o.counts))


def class_page(o: Overview, usual: Usual, title: str) -> str:
    """The class as a page of its own."""
    points = [{"label": p.label, "most": p.most, "facility": _figure(p.facility),
               "correlation": _figure(p.correlation), "upper_lower": _figure(p.upper_lower)} for p in o.points]
    breaks = [{"what": visible(b.what), "count": len(b.who), "who": named(b.who)} for b in o.breaks]
    step = ROOM / len(o.counts)
    return template("figures.html").render(
        title=visible(title), figures=figures(o, usual), bars=bars(o), points=points, breaks=breaks,
        line=None if o.passing is None else o.passing * step, height=HEIGHT, room=ROOM,
        every=max(1, len(o.counts) // 20), formulas=sentence("class.formulas"), closing=sentence("mark.closing"),
        told=_told(o), pass_line=sentence("piece.pass_line"), where=sentence("class.breaks_where"))


def _told(o: Overview) -> str:
    """The histogram for who cannot see it."""
    counts = [sentence("piece.have_total", {"total": str(k), "count": str(c)}) for k, c in enumerate(o.counts) if c]
    return sentence("class.histogram", {"counts": ", ".join(counts)} if counts else {})
