"""Checks made by hand, so that reports are tested apart from the engine that fills them."""

from __future__ import annotations

from derive.notation.tree import Name, Relation, Span, Statement
from derive.records import (
    Check,
    Choice,
    Document,
    LineVerdict,
    MarkPoint,
    Problem,
    Quantity,
    RawLine,
    Reading,
    Standing,
    State,
    Symbol,
    Unreadable,
    Verdict,
)  # fmt: skip

S = Standing
SECRET = "zanzibar"  # stands in the solution and the marks, and must never come out in a student's report


def line(number: int, text: str, *verdicts: Verdict, **more) -> LineVerdict:
    """A typed line; label and reason are found well enough for these samples."""
    stripped = text.strip()
    label = stripped[1 : stripped.index(")")] if stripped.startswith("(") and ")" in stripped[:5] else ""
    start = text.index(")") + 1 if label else 0
    end = text.index("[") if "[" in text else len(text)
    start += len(text[start:end]) - len(text[start:end].lstrip())
    reason = text[text.index("[") + 1 : text.index("]")] if "[" in text else ""
    raw = RawLine(number, text, label, Span(start, len(text[:end].rstrip())), reason)
    return LineVerdict(raw, tuple(verdicts), **more)


def says(left: str, right: str) -> Statement:
    return Statement("claim", Relation((Name(left), Name(right)), ("=",)))


def document(**more) -> Document:
    secret = RawLine(90, f"  (1)  {SECRET} = 1", "1", Span(7, 19))
    return Document(
        "s014.txt", "working", title="A buoy bobbing at its mooring", exercise="buoy",
        symbols=(Symbol("m", unit="kg", sign="positive", typical=40.0), Symbol("y", of="t", unit="m")),
        solution=(secret,), marks=(MarkPoint("p1", "M", 2, (secret,)),), **more,
    )  # fmt: skip


_MOTION = line(20, "  (1)  m y'' = -ρ g S y                      [from (a) and (b)]",
               Verdict(S.FOLLOWS, support="proved", premises=("given (a)", "given (b)"), points=64))  # fmt: skip
_DIVIDED = line(21, "  (2)  so  y'' = -(ρ g S/m) y                [divide by m]",
                Verdict(S.FOLLOWS, support="tested", premises=("(1)",), points=64))  # fmt: skip
_LET = line(22, "  (3)  let ω² = ρ g S/m", Verdict(S.TAKEN, code="taken.definition", introduces=("ω",)))
_STATE = State(
    (Quantity("g", 9.81, "m/s^2"), Quantity("S", 0.12, "m^2"), Quantity("ρ", 1025.0, "kg/m^3"),
     Quantity("m", 40.0, "kg"), Quantity("ω", 5.4927, "rad/s")),
    Quantity("ω", 5.4927, "rad/s"), Quantity("ρ g S/m", 30.17, "rad/s"),
)  # fmt: skip
_GOAL = line(17, "  T = 2π √(m/(ρ g S))", Verdict(S.FOLLOWS, support="proved"))
_GOAL_MISSED = line(17, "  T = 2π √(m/(ρ g S))", Verdict(S.FAILS, code="fails.goal_not_reached"))

UNBROKEN = Check(
    document(), "unbroken",
    (
        _MOTION, _DIVIDED, _LET,
        line(23, "  (4)  T = 2π/ω = 2π √(m/(ρ g S))            [from (c)]",
             Verdict(S.FOLLOWS, support="proved", premises=("given (c)", "(3)"))),
    ),
    goal=(_GOAL,),
)  # fmt: skip

BROKEN = Check(
    document(), "broken",
    (
        _MOTION, _DIVIDED, _LET,
        line(23, "  (4)  ω = ρ g S/m",
             Verdict(S.FAILS, says("ω", "ρ"), code="fails.state", premises=("(3)",), state=_STATE)),
        line(24, "  (5)  T = 2π m/(ρ g S)", Verdict(S.CARRIED, support="proved", code="carried.from", carried_from=23)),
        line(25, "  (6)  y'' = -(ρ g S/m) y", Verdict(S.FOLLOWS, support="proved", premises=("(2)",))),
        line(26, "  (7)  m = ρ T", Verdict(
            S.FAILS, code="fails.dimension",
            facts=(("term", "ρ T"), ("found", "kg s m⁻³"), ("expected", "a mass (kg)")))),
        line(27, "  (8)  d = 0 or d = 4", Verdict(S.FAILS, code="fails.alternatives",
             state=State((Quantity("d", 2.0, "m"),), Quantity("", 2.0, "m"), Quantity("", 0.0, "m")))),
    ),
    goal=(_GOAL_MISSED,), first_break=23,
)  # fmt: skip

_TWO = "m = ρ A d, so y'' = -(g/d) y"
SEVERAL_ON_A_LINE = Check(
    document(), "broken",
    (
        line(20, "a remark of the writer's", Verdict(S.REMARK)),
        line(21, _TWO, Verdict(S.FOLLOWS, support="proved", span=Span(0, 9)),
             Verdict(S.FAILS, code="fails.contradicts", strength="contradicts", span=Span(11, len(_TWO)))),
    ),
    first_break=21,
)  # fmt: skip

UNSURE = Check(
    document(), "unsure",
    (
        line(20, "(1)  v² = u² + 2 a s", Verdict(
            S.FOLLOWS_IF, support="tested", points=64, code="follows.if", condition="t ≠ 0",
            state=State((), Quantity("v²", 4.0), Quantity("", 9.0)))),
        line(21, "(2)  sin θ ≈ θ", Verdict(S.APPROXIMATES, code="approximates.order", facts=(("dropped", "θ³"),))),
        line(22, "(3)  F = m a +", unreadable=Unreadable(Span(14, 15), "something after the plus sign")),
        line(23, "(4)  F = m w a", unreadable=Unreadable(Span(11, 12), "a declared name", "ω")),
        line(24, "(5)  k/2m = 3", Verdict(S.UNDECIDED, code="undecided.budget"),
             reading=Reading((), choices=(Choice("slash", "k/2m", "k/(2 m)"),))),
    ),
    problems=(Problem("file.windows_1252", "The file is not in UTF-8; save it as UTF-8.", 0),),
)  # fmt: skip

HOSTILE = Check(
    Document("[red]x[/red].txt", "working", title="\x1b[31mred\x1b[0m [bold]title[/bold]"), "broken",
    (
        line(1, "\x1b]0;title\x07 = [link=file:///x]y[/link]", Verdict(S.FOLLOWS, support="proved")),
        line(2, "\u202eabc = x\u200b", Verdict(S.REMARK)),
        line(3, "力 = 質量 × 加速度, é = e\u0301, x\u0302 = ŷ", Verdict(
            S.FAILS, code="fails.redefined", facts=(("name", "[red]\x1b[1mx[/red]"),),
            state=State((Quantity("[b]m[/b]", 1.0, "\x1b[5mkg"),), Quantity("\x07", 1.0), Quantity("y", 2.0)))),
        line(4, "x = " + "1 + " * 2000 + "1", Verdict(S.FOLLOWS, support="proved")),
    ),
    first_break=3,
)  # fmt: skip

UNREAD = Check(
    Document("barge.txt", "working"), "unread",
    problems=(Problem("file.missing", "There is no file barge.txt here."),),
)  # fmt: skip

ALL = {
    "unbroken": UNBROKEN, "broken": BROKEN, "several_on_a_line": SEVERAL_ON_A_LINE, "unsure": UNSURE,
    "hostile": HOSTILE, "unread": UNREAD,
}  # fmt: skip
