"""Lines and files made to hurt, and what is to be said of each."""

from __future__ import annotations

from derive.records import Standing

FOLLOWS, TAKEN, FAILS = Standing.FOLLOWS, Standing.TAKEN, Standing.FAILS
UNDECIDED, UNREADABLE = Standing.UNDECIDED, Standing.UNREADABLE

BEFORE = ("v = u + a t",)
AFTER = ("so v - u = a t", "so v = u + 2 a t")


def _sum(names: int, terms: int) -> str:
    return " + ".join(f"q_{i % names}" for i in range(terms))


# What the line is, the line, and what may be said of it. Between lines of an ordinary working, see `page`.
LINES: tuple[tuple[str, str, tuple[Standing, ...]], ...] = (
    # --- numbers without end
    ("a tower of powers", "x = 9^9^9^9", (UNDECIDED,)),
    ("a tower of powers alone", "9^9^9^9", (UNREADABLE,)),
    ("a tower of powers on a name", "x = 9^9^9^9^y", (TAKEN,)),
    ("a power of ten beyond all use", "x = 1e999999", (UNREADABLE,)),
    ("the same written out", "x = 10^999999", (UNDECIDED,)),
    ("a factorial of a factorial", "x = ((9!)!)!", (UNREADABLE,)),
    ("a number of three thousand figures", "x = 0." + "1" * 3000, (UNREADABLE,)),
    ("a very high power", "x = y^(10^9)", (TAKEN,)),
    ("a very high power of a sum", "x = (y + z)^1000000", (TAKEN,)),
    ("high powers to multiply out", "(x + y + z + w)^60 = p", (TAKEN,)),
    ("high powers that cancel", "(x + y)^200 (x - y)^200 = z", (TAKEN,)),
    ("products of large powers", "x = 123456789^123 · 987654321^123", (UNDECIDED,)),
    # --- values that are none
    ("one over zero", "x = 1/0", (UNDECIDED,)),
    ("zero to the zero", "x = 0^0", (TAKEN,)),
    ("the root of a negative", "x = sqrt(-1)", (UNDECIDED,)),
    ("the tangent of a right angle", "x = tan(π/2)", (UNDECIDED,)),
    ("the logarithm of zero", "x = ln 0", (UNDECIDED,)),
    ("infinity less infinity", "x = ∞ - ∞", (UNDECIDED,)),
    ("an integral that diverges at infinity", "x = ∫_1^∞ 1/y dy", (UNDECIDED,)),
    ("an integral that diverges at its end", "x = ∫_0^1 1/y dy", (UNDECIDED,)),
    ("an integral over everything", "x = ∫_-∞^∞ y dy", (UNDECIDED,)),
    # --- depth and length
    ("ten thousand brackets", "x = " + "(" * 10_000 + "a" + ")" * 10_000, (UNREADABLE,)),
    ("sines in sines", "x = " + "sin(" * 90 + "y" + ")" * 90, (TAKEN,)),
    ("roots in roots", "x = " + "√(" * 90 + "y" + ")" * 90, (TAKEN,)),
    ("exponentials in exponentials", "x = " + "exp(" * 60 + "y" + ")" * 60, (UNDECIDED,)),
    ("a sum of five thousand terms", "x = " + _sum(300, 5000), (UNREADABLE,)),
    ("a sum of five hundred names", "x = " + _sum(500, 500), (TAKEN,)),
    ("a chain of two hundred sides", "x = " + " = ".join(["y"] * 200), (TAKEN, FOLLOWS)),
    ("a chain of a hundred names", " = ".join(f"q_{i}" for i in range(100)), (TAKEN,)),
    ("eighty statements", ", ".join(f"q_{i} = {i}" for i in range(80)), (TAKEN,)),
    ("a hundred alternatives", " or ".join(f"x = {i}" for i in range(100)), (TAKEN,)),
    ("places read in two ways", "x = " + " + ".join("y/z w" for _ in range(12)), (TAKEN,)),
    ("derivatives of derivatives", "x = d^8/dt^8 (sin(t^3) exp(t^2) ln(t) √(1 + t^4))", (UNDECIDED,)),
    ("a hundred primes", "x = y" + "'" * 100, (TAKEN,)),
    ("integrals in integrals", "x = " + "∫_0^y " * 10 + "y " + "dy " * 10, (UNDECIDED,)),
    ("equations of the fifth degree", "p^5 + q^4 r = 3, q^5 + r^4 s = 4, r^5 + s^4 p = 5, s^5 + p^4 q = 6, p = 1",
     (TAKEN, FAILS)),
    ("a very long label", "(" + "9" * 5000 + ") x = y", (UNREADABLE,)),
    ("a very long reason", "x = y   [" + "because " * 2000 + "]", (TAKEN,)),
    # --- what is not mathematics
    ("a name that is code", "x = __import__('os').system('exit')", (UNREADABLE,)),
    ("a symbol that is code", "__import__('os') = 3", (UNREADABLE,)),
    ("markup", "x = [red]y[/red]", (TAKEN,)),
    ("a terminal escape", "x = y \x1b[31m+ z", (UNREADABLE,)),
    ("marks that turn the direction", "x = \u202ey + z\u202c", (UNREADABLE,)),
    ("a letter under five hundred accents", "x = y" + "\u0301" * 500, (UNREADABLE,)),
    # --- definitions that bite their tail
    ("a name defined by itself", "let p = p + 1", (FAILS,)),
    ("names defined by each other", "let p = q + 1, let q = p + 1", (TAKEN, FAILS)),
    ("nothing is something", "0 = 1", (FAILS,)),
)


def page(line: str) -> str:
    """A line made to hurt between the lines of an ordinary working, whose last line is wrong."""
    return "\n".join((*BEFORE, line, *AFTER)) + "\n"
