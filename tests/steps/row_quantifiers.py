"""Relations that hold at all instants: trial solutions, compared coefficients, amplitude and phase."""

from __future__ import annotations

from random import Random

from mpmath import atan, cos, exp, sin, sqrt, tan

from .corpus import Line, Slip, World, Worlds, along, cases, slope

ROW = "Quantifiers over t"

EXAMPLE = """\
Symbols:
  m    : kg, positive
  k    : N/m, positive
  x(t) : m
  X    : m, positive
  ω    : rad/s, positive

Given:
  (a)  m x'' = -k x

Working:
  (1)  try x = X cos ωt
  (2)  x'' = -ω² X cos ωt
  (3)  (k - m ω²) X cos ωt = 0   [put into (a)]
  (4)  so ω = √(k/m)             [at all t, and X ≠ 0]
"""


# --- a crate on a buffer: the frequency from the trial solution -----------------------------------


def buffer(r: Random) -> World:
    w = World(m=r.uniform(2, 40), k=r.uniform(50, 900), X=r.uniform(0.1, 0.8))
    w["ω"] = sqrt(w.k / w.m)
    w["T"] = 2 * 3.141592653589793 / w.ω
    w["x"] = lambda t: w.X * cos(w.ω * t)
    return w


def buffer_at_rest(r: Random) -> World:
    """No motion at all satisfies the trial for any frequency."""
    w = buffer(r)
    w["X"], w["ω"] = 0.0, 2.0 * w.ω
    return w


BUFFER = """
    m    : kg, positive    -- mass of the crate
    k    : N/m, positive   -- stiffness of the quay's buffer
    x(t) : m
    X    : m, positive
    ω    : rad/s, positive
    T    : s, positive
"""

CRATE = cases(
    "crate on a buffer in small steps",
    [
        ("(1)", "try x = X cos ωt"),
        ("(2)", "x' = -ω X sin ωt", along(lambda w, t: (slope(w.x, t), -w.ω * w.X * sin(w.ω * t)))),
        ("(3)", "x'' = -ω² X cos ωt", along(lambda w, t: (slope(w.x, t, 2), -w.ω**2 * w.X * cos(w.ω * t)))),
        ("(4)", "-m ω² X cos ωt = -k X cos ωt   [put into (a)]",
         along(lambda w, t: (-w.m * w.ω**2 * w.X * cos(w.ω * t), -w.k * w.X * cos(w.ω * t)))),
        ("(5)", "so -ω² + k/m = 0   [for all t]", lambda w: (w.ω**2, w.k / w.m)),
        ("(6)", "hence ω = √(k/m)", lambda w: (w.ω, sqrt(w.k / w.m))),
        ("(7)", "T = 2π √(m/k)", lambda w: (w.T, 6.283185307179586 * sqrt(w.m / w.k))),
    ],
    buffer, symbols=BUFFER, given="(a)  m x'' = -k x\n(b)  T = 2π/ω", show="T = 2π √(m/k)",
    premises=along(lambda w, t: [(w.m * slope(w.x, t, 2), -w.k * w.x(t)), (w.T, 6.283185307179586 / w.ω)]),
    slips=[
        Slip("(2)", "x' = -X sin ωt", along(lambda w, t: (slope(w.x, t), -w.X * sin(w.ω * t))), name="inner factor"),
        Slip("(3)", "x'' = ω² X cos ωt", along(lambda w, t: (slope(w.x, t, 2), w.ω**2 * w.X * cos(w.ω * t)))),
        Slip("(4)", "-m ω² X cos ωt = k X cos ωt",
             along(lambda w, t: (-w.m * w.ω**2 * w.X * cos(w.ω * t), w.k * w.X * cos(w.ω * t))),
             then={"(5)": "so -ω² - k/m = 0"}),
        Slip("(5)", "so -ω² + m/k = 0", lambda w: (w.ω**2, w.m / w.k), then={
            "(6)": "hence ω = √(m/k)", "(7)": "T = 2π √(k/m)"}, name="upside down"),
        Slip("(6)", "hence ω = k/m", lambda w: (w.ω, w.k / w.m), then={"(7)": "T = 2π m/k"}, name="root forgotten"),
        Slip("(7)", "T = 2π √(k/m)", lambda w: (w.T, 6.283185307179586 * sqrt(w.k / w.m))),
    ],
)

CRATE_LOSING = cases(
    "crate on a buffer whose amplitude may be nothing",
    [
        Line("1.", "try x = X cos(omega t)"),
        Line("2.", "(k - m omega^2) X cos(omega t) = 0",
             along(lambda w, t: (w.k * w.X * cos(w.ω * t), w.m * w.ω**2 * w.X * cos(w.ω * t)))),
        Line("3.", "=> omega^2 = k/m", lambda w: (w.ω**2, w.k / w.m), lost=buffer_at_rest),
    ],
    buffer, symbols=BUFFER.replace("X    : m, positive", "X    : m"), given="(a)  m x'' = -k x",
    premises=along(lambda w, t: (w.m * slope(w.x, t, 2), -w.k * w.x(t))),
    slips=[Slip("3.", "=> omega^2 = 2 k/m", lambda w: (w.ω**2, 2 * w.k / w.m))],
)

CRATE_SUPPOSING = cases(
    "crate on a buffer, the empty motion set aside",
    [
        ("(1)", "m ẍ + k x = 0", along(lambda w, t: (w.m * slope(w.x, t, 2), -w.k * w.x(t)))),
        ("(2)", "try x = X cos(ωt)"),
        ("(3)", "then ẍ + ω² x = 0", along(lambda w, t: (slope(w.x, t, 2), -w.ω**2 * w.x(t)))),
        ("(4)", "(-ω² + k/m) X = 0", lambda w: ((-w.ω**2 + w.k / w.m) * w.X + 1, 1)),
        ("(5)", "if X ≠ 0: -ω² + k/m = 0", lambda w: (w.ω**2, w.k / w.m)),
    ],
    buffer, symbols=BUFFER.replace("X    : m, positive", "X    : m"), given="(a)  m x'' = -k x",
    premises=along(lambda w, t: (w.m * slope(w.x, t, 2), -w.k * w.x(t))),
    slips=[
        Slip("(3)", "then ẍ = ω² x", along(lambda w, t: (slope(w.x, t, 2), w.ω**2 * w.x(t)))),
        Slip("(5)", "if X ≠ 0: -ω + k/m = 0", lambda w: (w.ω, w.k / w.m), name="power"),
    ],
)


# --- amplitude and phase from the start -----------------------------------------------------------


def start(side: int) -> Worlds:
    """A swinging gangway; `side` the sign of the position at the start."""

    def make(r: Random) -> World:
        w = World(Y=r.uniform(0.2, 1.5), φ=-r.uniform(0.2, 1.3), ω=r.uniform(0.8, 3))
        if side < 0:
            w["φ"] = -3.141592653589793 - w.φ
        w["y"] = lambda t: w.Y * cos(w.ω * t + w.φ)
        w["y0"], w["v0"] = w.y(0), slope(w.y, 0)
        return w

    return make


START = """
    y(t) : m
    Y    : m, positive
    ω    : rad/s, positive
    φ    : rad, -π < φ < π
    y_0  : m, positive
    v_0  : m/s, positive
"""

PHASE = cases(
    "amplitude and phase from a start on the near side",
    [
        ("(1)", "ẏ = -ω Y sin(ωt + φ)", along(lambda w, t: (slope(w.y, t), -w.ω * w.Y * sin(w.ω * t + w.φ)))),
        ("(2)", "y_0 = Y cos φ", lambda w: (w.y0, w.Y * cos(w.φ))),
        ("(3)", "v_0 = -ω Y sin φ", lambda w: (w.v0, -w.ω * w.Y * sin(w.φ))),
        ("(4)", "(3)/(2) gives tan φ = -v_0/(ω y_0)", lambda w: (tan(w.φ), -w.v0 / (w.ω * w.y0))),
        ("(5)", "y_0² + (v_0/ω)² = Y²   [sin² + cos² = 1]", lambda w: (w.y0**2 + (w.v0 / w.ω) ** 2, w.Y**2)),
        ("(6)", "Y = √(y_0² + v_0²/ω²)", lambda w: (w.Y, sqrt(w.y0**2 + w.v0**2 / w.ω**2))),
        ("(7)", "φ = -arctan(v_0/(ω y_0))", lambda w: (w.φ, -atan(w.v0 / (w.ω * w.y0)))),
    ],
    start(1), symbols=START, given="(a)  y = Y cos(ω t + φ)\n(b)  y(0) = y_0\n(c)  y'(0) = v_0",
    premises=along(lambda w, t: [
        (w.y(t), w.Y * cos(w.ω * t + w.φ)),
        (w.y(0), w.y0),
        (slope(w.y, 0), w.v0),
        (w.y0 > 0 and w.v0 > 0, True),
    ]),
    slips=[
        Slip("(3)", "v_0 = ω Y sin φ", lambda w: (w.v0, w.ω * w.Y * sin(w.φ)), then={
            "(4)": "(3)/(2) gives tan φ = v_0/(ω y_0)", "(7)": "φ = arctan(v_0/(ω y_0))"}, name="sign"),
        Slip("(4)", "tan φ = -ω v_0/y_0", lambda w: (tan(w.φ), -w.ω * w.v0 / w.y0)),
        Slip("(4)", "tan φ = -ω y_0/v_0", lambda w: (tan(w.φ), -w.ω * w.y0 / w.v0), name="upside down"),
        Slip("(6)", "Y = √(y_0² + v_0²)", lambda w: (w.Y, sqrt(w.y0**2 + w.v0**2))),
        Slip("(6)", "Y = y_0 + v_0/ω", lambda w: (w.Y, w.y0 + w.v0 / w.ω), name="root of a sum"),
        Slip("(7)", "φ = -arctan(v_0/(ω y_0)) + π", lambda w: (w.φ, 3.141592653589793 - atan(w.v0 / (w.ω * w.y0)))),
    ],
)

PHASE_FAR = cases(
    "phase in the third quadrant",
    [
        ("", "y_0 = Y cos φ and v_0 = -ωY sin φ",
         lambda w: [(w.y0, w.Y * cos(w.φ)), (w.v0, -w.ω * w.Y * sin(w.φ))]),
        ("", "so tan φ = -v_0/(ω y_0)", lambda w: (tan(w.φ), -w.v0 / (w.ω * w.y0))),
        ("", "cos φ < 0, sin φ < 0", lambda w: bool(cos(w.φ) < 0 and sin(w.φ) < 0)),
        ("", "φ = arctan(-v_0/(ω y_0)) - π", lambda w: (w.φ, atan(-w.v0 / (w.ω * w.y0)) - 3.141592653589793)),
    ],
    start(-1), symbols=START.replace("y_0  : m, positive", "y_0  : m, negative"),
    given="(a)  y = Y cos(ω t + φ)\n(b)  y = y_0, y' = v_0 at t = 0",
    premises=along(lambda w, t: [
        (w.y(t), w.Y * cos(w.ω * t + w.φ)), (w.y(0), w.y0), (w.y0 < 0 < w.v0, True), (abs(w.φ) < 3.14159, True),
    ]),
    slips=[
        Slip(3, "cos φ < 0, sin φ > 0", lambda w: bool(cos(w.φ) < 0 and sin(w.φ) > 0)),
        Slip(4, "φ = arctan(-v_0/(ω y_0))", lambda w: (w.φ, atan(-w.v0 / (w.ω * w.y0))), name="quadrant"),
    ],
)


# --- two barges and a hawser between them ---------------------------------------------------------


def barges(r: Random) -> World:
    w = World(m=r.uniform(5, 30), k=r.uniform(40, 200), c=r.uniform(30, 150), B=r.uniform(0.2, 1))
    together = r.random() < 0.5
    w["ω"] = sqrt((w.k if together else w.k + 2 * w.c) / w.m)
    w["A"] = w.B if together else -w.B
    w["x1"], w["x2"] = (lambda t: w.A * cos(w.ω * t)), (lambda t: w.B * cos(w.ω * t))
    return w


def barges_free(r: Random) -> World:
    """Both modes at once."""
    w = barges(r)
    slow, fast = sqrt(w.k / w.m), sqrt((w.k + 2 * w.c) / w.m)
    w["p"], w["q"] = (lambda t: 0.7 * cos(slow * t + 0.3)), (lambda t: 0.4 * cos(fast * t - 0.9))
    w["x1"], w["x2"] = (lambda t: (w.p(t) + w.q(t)) / 2), (lambda t: (w.p(t) - w.q(t)) / 2)
    return w


BARGES = """
    m      : kg, positive
    k      : N/m, positive   -- each barge's mooring
    c      : N/m, positive   -- the hawser between them
    x_1(t) : m
    x_2(t) : m
"""
COUPLED = "(a)  m x_1'' = -k x_1 + c (x_2 - x_1)\n(b)  m x_2'' = -k x_2 - c (x_2 - x_1)"

MODES = cases(
    "two modes of two barges by a trial",
    [
        ("(1)", "try x_1 = A cos ωt, x_2 = B cos ωt"),
        ("(2)", "(k + c - mω²) A = c B   [from (a), at all t]",
         lambda w: ((w.k + w.c - w.m * w.ω**2) * w.A, w.c * w.B)),
        ("(3)", "(k + c - mω²) B = c A   [from (b)]", lambda w: ((w.k + w.c - w.m * w.ω**2) * w.B, w.c * w.A)),
        ("(4)", "so (k + c - mω²)² B = c² B", lambda w: ((w.k + w.c - w.m * w.ω**2) ** 2 * w.B, w.c**2 * w.B)),
        ("(5)", "(k + c - mω²)² = c²", lambda w: ((w.k + w.c - w.m * w.ω**2) ** 2, w.c**2)),
        ("(6)", "k + c - mω² = ±c", lambda w: (abs(w.k + w.c - w.m * w.ω**2), w.c)),
        ("(7)", "ω² = k/m or ω² = (k + 2c)/m",
         lambda w: ((w.ω**2 - w.k / w.m) * (w.ω**2 - (w.k + 2 * w.c) / w.m) + 1, 1)),
    ],
    barges, symbols=BARGES + "A : m\nB : m, nonzero\nω : rad/s, positive", given=COUPLED,
    premises=along(lambda w, t: [
        (w.m * slope(w.x1, t, 2), -w.k * w.x1(t) + w.c * (w.x2(t) - w.x1(t))),
        (w.m * slope(w.x2, t, 2), -w.k * w.x2(t) - w.c * (w.x2(t) - w.x1(t))),
    ]),
    slips=[
        Slip("(2)", "(k - mω²) A = c B", lambda w: ((w.k - w.m * w.ω**2) * w.A, w.c * w.B), name="dropped term"),
        Slip("(3)", "(k + c - mω²) B = -c A", lambda w: ((w.k + w.c - w.m * w.ω**2) * w.B, -w.c * w.A)),
        Slip("(4)", "so (k + c - mω²)² B = c B", lambda w: ((w.k + w.c - w.m * w.ω**2) ** 2 * w.B, w.c * w.B)),
        Slip("(7)", "ω² = k/m or ω² = (k + c)/m",
             lambda w: bool(min(abs(w.ω**2 - w.k / w.m), abs(w.ω**2 - (w.k + w.c) / w.m)) < 1e-9)),
    ],
)

SUM_AND_DIFFERENCE = cases(
    "two modes of two barges by sum and difference",
    [
        ("(1)", "let p = x_1 + x_2, q = x_1 - x_2"),
        ("(2)", "(a) + (b): m (x_1'' + x_2'') = -k (x_1 + x_2)", along(lambda w, t: (
            w.m * (slope(w.x1, t, 2) + slope(w.x2, t, 2)), -w.k * (w.x1(t) + w.x2(t))))),
        ("(3)", "m p'' = -k p", along(lambda w, t: (w.m * slope(w.p, t, 2), -w.k * w.p(t)))),
        ("(4)", "(a) - (b): m q'' = -(k + 2c) q", along(lambda w, t: (
            w.m * slope(w.q, t, 2), -(w.k + 2 * w.c) * w.q(t)))),
        ("(5)", "q'' + ((k + 2c)/m) q = 0", along(lambda w, t: (slope(w.q, t, 2), -(w.k + 2 * w.c) / w.m * w.q(t)))),
    ],
    barges_free, symbols=BARGES, given=COUPLED,
    premises=along(lambda w, t: [
        (w.m * slope(w.x1, t, 2), -w.k * w.x1(t) + w.c * (w.x2(t) - w.x1(t))),
        (w.m * slope(w.x2, t, 2), -w.k * w.x2(t) - w.c * (w.x2(t) - w.x1(t))),
    ]),
    slips=[
        Slip("(3)", "m p'' = -2 k p", along(lambda w, t: (w.m * slope(w.p, t, 2), -2 * w.k * w.p(t)))),
        Slip("(4)", "(a) - (b): m q'' = -(k + c) q", along(lambda w, t: (
            w.m * slope(w.q, t, 2), -(w.k + w.c) * w.q(t))), then={"(5)": "q'' + ((k + c)/m) q = 0"}),
    ],
)


# --- damped motion --------------------------------------------------------------------------------

DAMPED = """
    m    : kg, positive
    b    : kg/s, positive
    k    : N/m, positive
    y(t) : m
"""


def creeping(r: Random) -> World:
    """Over-damped, on one of the two decays."""
    w = World(m=r.uniform(1, 4), k=r.uniform(1, 5), C=r.uniform(0.2, 2))
    w["b"] = r.uniform(2.3, 5) * sqrt(w.m * w.k)
    w["λ"] = (-w.b + r.choice([1, -1]) * sqrt(w.b**2 - 4 * w.m * w.k)) / (2 * w.m)
    w["y"] = lambda t: w.C * exp(w.λ * t)
    return w


OVER = cases(
    "over-damped flap by a real exponential",
    [
        ("(1)", "try y = C e^(λt)"),
        ("(2)", "y' = λ y, y'' = λ² y",
         along(lambda w, t: [(slope(w.y, t), w.λ * w.y(t)), (slope(w.y, t, 2), w.λ**2 * w.y(t))])),
        ("(3)", "(m λ² + b λ + k) y = 0", along(lambda w, t: ((w.m * w.λ**2 + w.k) * w.y(t), -w.b * w.λ * w.y(t)))),
        ("(4)", "m λ² + b λ + k = 0", lambda w: (w.m * w.λ**2 + w.k, -w.b * w.λ)),
        ("(5)", "λ = (-b ± √(b² - 4 m k))/(2m)",
         lambda w: (abs(2 * w.m * w.λ + w.b), sqrt(w.b**2 - 4 * w.m * w.k))),
    ],
    creeping, symbols=DAMPED + "C : m, positive\nλ : 1/s",
    given="(a)  m y'' + b y' + k y = 0\n(b)  b² > 4 m k",
    premises=along(lambda w, t: [
        (w.m * slope(w.y, t, 2) + w.k * w.y(t), -w.b * slope(w.y, t)),
        (w.b**2 > 4 * w.m * w.k, True),
    ]),
    slips=[
        Slip("(2)", "y' = λ y, y'' = λ y", along(lambda w, t: (slope(w.y, t, 2), w.λ * w.y(t))), then={
            "(3)": "(m λ + b λ + k) y = 0"}),
        Slip("(4)", "m λ² - b λ + k = 0", lambda w: (w.m * w.λ**2 + w.k, w.b * w.λ)),
        Slip("(5)", "λ = (-b ± √(b² - m k))/(2m)", lambda w: (abs(2 * w.m * w.λ + w.b), sqrt(w.b**2 - w.m * w.k))),
        Slip("(5)", "λ = (b ± √(b² - 4 m k))/(2m)",
             lambda w: (abs(2 * w.m * w.λ - w.b), sqrt(w.b**2 - 4 * w.m * w.k))),
    ],
)


def ringing(r: Random) -> World:
    w = World(m=r.uniform(1, 4), k=r.uniform(20, 60), Y=r.uniform(0.2, 2))
    w["b"] = r.uniform(0.2, 1.2) * sqrt(w.m * w.k)
    w["γ"] = w.b / (2 * w.m)
    w["ω"] = sqrt(w.k / w.m - w.γ**2)
    w["y"] = lambda t: w.Y * exp(-w.γ * t) * cos(w.ω * t)
    return w


UNDER = cases(
    "under-damped fender, sine and cosine compared",
    [
        ("(1)", "try y = Y e^(-γt) cos ωt"),
        ("(2)", "y' = -γ y - ω Y e^(-γt) sin ωt",
         along(lambda w, t: (slope(w.y, t), -w.γ * w.y(t) - w.ω * w.Y * exp(-w.γ * t) * sin(w.ω * t)))),
        ("(3)", "y'' = (γ² - ω²) y + 2 γ ω Y e^(-γ t) sin ωt", along(lambda w, t: (
            slope(w.y, t, 2), (w.γ**2 - w.ω**2) * w.y(t) + 2 * w.γ * w.ω * w.Y * exp(-w.γ * t) * sin(w.ω * t)))),
        ("(4)", "sin ωt: 2 m γ ω - b ω = 0", lambda w: (2 * w.m * w.γ * w.ω, w.b * w.ω)),
        ("(5)", "cos ωt: m (γ² - ω²) - b γ + k = 0", lambda w: (w.m * (w.γ**2 - w.ω**2) + w.k, w.b * w.γ)),
        ("(6)", "γ = b/(2m)", lambda w: (w.γ, w.b / (2 * w.m))),
        ("(7)", "ω = √(k/m - b²/(4m²))", lambda w: (w.ω, sqrt(w.k / w.m - w.b**2 / (4 * w.m**2)))),
    ],
    ringing, symbols=DAMPED + "Y : m, positive\nγ : 1/s, positive\nω : rad/s, positive",
    given="(a)  m y'' + b y' + k y = 0",
    premises=along(lambda w, t: (w.m * slope(w.y, t, 2) + w.k * w.y(t), -w.b * slope(w.y, t))),
    slips=[
        Slip("(2)", "y' = -γ y - Y e^(-γt) sin ωt",
             along(lambda w, t: (slope(w.y, t), -w.γ * w.y(t) - w.Y * exp(-w.γ * t) * sin(w.ω * t)))),
        Slip("(3)", "y'' = (γ² + ω²) y + 2 γ ω Y e^(-γ t) sin ωt", along(lambda w, t: (
            slope(w.y, t, 2), (w.γ**2 + w.ω**2) * w.y(t) + 2 * w.γ * w.ω * w.Y * exp(-w.γ * t) * sin(w.ω * t)))),
        Slip("(6)", "γ = b/m", lambda w: (w.γ, w.b / w.m), name="factor 2"),
        Slip("(7)", "ω = √(k/m - b²/(2m²))", lambda w: (w.ω**2, w.k / w.m - w.b**2 / (2 * w.m**2))),
    ],
)


def critical(r: Random) -> World:
    w = World(m=r.uniform(1, 4), k=r.uniform(2, 9), A=r.uniform(0.2, 2), B=r.uniform(0.2, 2))
    w["b"] = 2 * sqrt(w.m * w.k)
    w["γ"] = w.b / (2 * w.m)
    w["y"] = lambda t: (w.A + w.B * t) * exp(-w.γ * t)
    return w


CRITICAL = cases(
    "critically damped lock gate checked backwards",
    [
        ("", "y' = (B - γA - γBt) e^(-γt)", along(lambda w, t: (
            slope(w.y, t), (w.B - w.γ * w.A - w.γ * w.B * t) * exp(-w.γ * t)))),
        ("", "y' + γ y = B e^(-γ t)", along(lambda w, t: (slope(w.y, t) + w.γ * w.y(t), w.B * exp(-w.γ * t)))),
        ("", "y'' + γ y' = -γ B e^(-γ t) = -γ (y' + γ y)", along(lambda w, t: [
            (slope(w.y, t, 2) + w.γ * slope(w.y, t), -w.γ * w.B * exp(-w.γ * t)),
            (-w.γ * w.B * exp(-w.γ * t), -w.γ * (slope(w.y, t) + w.γ * w.y(t)))])),
        ("", "so y'' + 2γ y' + γ² y = 0", along(lambda w, t: (
            slope(w.y, t, 2) + w.γ**2 * w.y(t), -2 * w.γ * slope(w.y, t)))),
        ("", "γ² = b²/(4m²) = k/m", lambda w: [(w.γ**2, w.b**2 / (4 * w.m**2)), (w.γ**2, w.k / w.m)]),
        ("", "∴ m y'' + b y' + k y = 0", along(lambda w, t: (
            w.m * slope(w.y, t, 2) + w.k * w.y(t), -w.b * slope(w.y, t)))),
    ],
    critical, symbols=DAMPED + "γ : 1/s, positive\nA : m, positive\nB : m/s, positive",
    given="(a)  b² = 4 m k\n(b)  γ = b/(2m)\n(c)  y = (A + B t) e^(-γt)",
    premises=along(lambda w, t: [
        (w.b**2, 4 * w.m * w.k),
        (w.γ, w.b / (2 * w.m)),
        (w.y(t), (w.A + w.B * t) * exp(-w.γ * t)),
    ]),
    slips=[
        Slip(1, "y' = (B - γA + γBt) e^(-γt)", along(lambda w, t: (
            slope(w.y, t), (w.B - w.γ * w.A + w.γ * w.B * t) * exp(-w.γ * t)))),
        Slip(2, "y' + γ y = (A + B) e^(-γ t)", along(lambda w, t: (
            slope(w.y, t) + w.γ * w.y(t), (w.A + w.B) * exp(-w.γ * t)))),
        Slip(4, "so y'' + γ y' + γ² y = 0", along(lambda w, t: (
            slope(w.y, t, 2) + w.γ**2 * w.y(t), -w.γ * slope(w.y, t)))),
        Slip(5, "γ² = b²/(4m²) = 2k/m", lambda w: (w.γ**2, 2 * w.k / w.m)),
    ],
)

CASES = [*CRATE, *CRATE_LOSING, *CRATE_SUPPOSING, *PHASE, *PHASE_FAR, *MODES, *SUM_AND_DIFFERENCE, *OVER, *UNDER,
         *CRITICAL]
