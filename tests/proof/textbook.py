"""Steps of a first mechanics course, each with a twin that is wrong by one slip.

(what is shown, wrong twin, premises, signs, known). Everything is typed in Python's expression syntax.
"""

from __future__ import annotations

from typing import NamedTuple


class Step(NamedTuple):
    shown: str
    wrong: str
    given: tuple[str, ...] = ()
    signs: str = ""
    known: str = ""
    moving: str = ""


_MASSES = "m M m1 m2 k g R r positive"

STEPS: dict[str, Step] = {
    # rearranging
    "divide by the mass": Step("a = F/m", "a = m/F", ("m*a = F",), "m positive"),
    "multiply out": Step("m*(a + b) = m*a + m*b", "m*(a + b) = m*a + b"),
    "square of a sum": Step("(a + b)^2 = a^2 + 2*a*b + b^2", "(a + b)^2 = a^2 + b^2"),
    "move a term": Step("m*a = m*g - T", "m*a = m*g + T", ("m*a - m*g + T = 0",)),
    "take a common factor": Step("m*g*h + m*v^2/2 = m*(g*h + v^2/2)", "m*g*h + m*v^2/2 = m*(g*h + v^2)"),
    "fractions added": Step("1/R = 1/r1 + 1/r2", "1/R = 1/(r1 + r2)", ("R = r1*r2/(r1 + r2)",), "r1 r2 R positive"),
    "fraction over fraction": Step("a/(b/c) = a*c/b", "a/(b/c) = a/(b*c)", (), "b c positive"),
    "decimals are exact": Step("0.5*m*v^2 = m*v^2/2", "0.05*m*v^2 = m*v^2/2"),
    "solve a linear equation": Step(
        "x = (c - b)/a", "x = (c + b)/a", ("a*x + b = c",), "a nonzero"),
    # several lines
    "substitute one line": Step("E = m*g^2*t^2/2", "E = m*g*t^2/2", ("E = m*v^2/2", "v = g*t")),
    "incline with friction": Step(
        "a = g*sin(s) - μ*g*cos(s)", "a = g*sin(s) + μ*g*cos(s)",
        ("m*a = m*g*sin(s) - f", "f = μ*N", "N = m*g*cos(s)"), "m g positive"),
    "two hanging masses": Step(
        "a = (m1 - m2)*g/(m1 + m2)", "a = (m1 + m2)*g/(m1 - m2)",
        ("m1*g - T = m1*a", "T - m2*g = m2*a"), _MASSES),
    "tension between them": Step(
        "T = 2*m1*m2*g/(m1 + m2)", "T = m1*m2*g/(m1 + m2)", ("m1*g - T = m1*a", "T - m2*g = m2*a"), _MASSES),
    "pulley with inertia": Step(
        "a = (m1 - m2)*g/(m1 + m2 + J/R^2)", "a = (m1 - m2)*g/(m1 + m2 + J/R)",
        ("m1*g - T1 = m1*a", "T2 - m2*g = m2*a", "(T1 - T2)*R = J*q", "a = q*R"), f"{_MASSES}; J positive"),
    "pulley that is a disc": Step(
        "a = m*g/(m + M/2)", "a = m*g/(m + 2*M)",
        ("m*g - T = m*a", "T*R = J*a/R", "J = M*R^2/2"), _MASSES),
    "linear system of statics": Step(
        "A = W*(L - x)/L", "A = W*x/L", ("A + B = W", "B*L = W*x"), "L W positive"),
    "lines added": Step("(m + M)*a = F", "(m - M)*a = F", ("F - C = m*a", "C = M*a")),
    "two strings": Step(
        "P = W*cos(b)/(sin(a)*cos(b) + cos(a)*sin(b))", "P = W*sin(b)/(sin(a)*cos(b) + cos(a)*sin(b))",
        ("P*cos(a) = Q*cos(b)", "P*sin(a) + Q*sin(b) = W"), "a b positive", "pi/2 - a > 0; pi/2 - b > 0"),
    # collisions
    "perfectly inelastic": Step("w = m*u/(m + M)", "w = m*u/M", ("m*u = (m + M)*w",), _MASSES),
    "elastic, the trivial root excluded": Step(
        "w = 2*m*u/(m + M)", "w = m*u/(m + M)",
        ("m*u = m*v + M*w", "m*u^2/2 = m*v^2/2 + M*w^2/2"), _MASSES, "w != 0"),
    "elastic, u ≠ v": Step(
        "u + v = w", "u - v = w", ("m*(u - v) = M*w", "m*(u^2 - v^2) = M*w^2"), _MASSES, "u - v != 0"),
    "loss of energy": Step(
        "m*u^2/2 - (m + M)*w^2/2 = m*M*u^2/(2*(m + M))", "m*u^2/2 - (m + M)*w^2/2 = m*u^2/(2*(m + M))",
        ("m*u = (m + M)*w",), _MASSES),
    # roots and signs
    "energy to speed": Step("v = sqrt(2*g*h)", "v = sqrt(g*h)", ("m*v^2/2 = m*g*h",), "m v g h positive"),
    "speed from v² = u² + 2as": Step(
        "v = sqrt(u^2 + 2*a*s)", "v = u + sqrt(2*a*s)", ("v^2 = u^2 + 2*a*s",), "v u a s positive"),
    "frequency": Step("w = sqrt(k/m)", "w = sqrt(m/k)", ("m*w^2 = k",), "m w k positive"),
    "period": Step(
        "T = 2*pi*sqrt(m/k)", "T = 2*pi*sqrt(k/m)", ("T = 2*pi/w", "w^2 = k/m"), "m k w T positive"),
    "bobbing": Step(
        "T = 2*pi*sqrt(m/(q*g*S))", "T = pi*sqrt(m/(q*g*S))",
        ("T = 2*pi/w", "w = sqrt(k/m)", "k = q*g*S"), "m k w T q g S positive"),
    "root of a quotient": Step("sqrt(a/b) = sqrt(a)/sqrt(b)", "sqrt(a/b) = sqrt(b)/sqrt(a)", (), "a b positive"),
    "root of a square": Step("sqrt(x^2) = abs(x)", "sqrt(x^2) = x"),
    "numbers under roots": Step("sqrt(8) = 2*sqrt(2)", "sqrt(8) = 4*sqrt(2)"),
    "rational power": Step("(a^3)^(1/2) = a*sqrt(a)", "(a^3)^(1/2) = a^2*sqrt(a)", (), "a positive"),
    "launch speed squared away": Step(
        "v^2 = g*r", "v^2 = g*r^2", ("v = sqrt(g*r)",), "g r positive"),
    "Pythagoras": Step(
        "c = sqrt(a^2 + b^2)", "c = a + b", ("c^2 = a^2 + b^2",), "a b c positive"),
    # orbits and circles
    "circular orbit": Step("v = sqrt(G*M/r)", "v = sqrt(G*M*r)", ("m*v^2/r = G*M*m/r^2",), "G M m r v positive"),
    "law of periods": Step(
        "T^2 = 4*pi^2*r^3/(G*M)", "T^2 = 4*pi^2*r^2/(G*M)",
        ("G*M*m/r^2 = m*v^2/r", "v = 2*pi*r/T"), "G M m r T v positive"),
    "period of an orbit": Step(
        "T = 2*pi*sqrt(r^3/(G*M))", "T = 2*pi*sqrt(r^2/(G*M))",
        ("G*M*m/r^2 = m*w^2*r", "w = 2*pi/T"), "G M m r T w positive"),
    "banked curve": Step(
        "tan(s) = v^2/(r*g)", "tan(s) = r*g/v^2", ("N*sin(s) = m*v^2/r", "N*cos(s) = m*g"), "N m r g v positive"),
    "angle of the bank": Step(
        "s = arctan(v^2/(r*g))", "s = arctan(r*g/v^2)", ("tan(s) = v^2/(r*g)",), "v r g s positive", "pi/2 - s > 0"),
    "conical pendulum": Step(
        "w^2 = g/(L*cos(s))", "w^2 = g*cos(s)/L",
        ("P*cos(s) = m*g", "P*sin(s) = m*w^2*L*sin(s)"), "m g L P s w positive", "pi/2 - s > 0"),
    "top of a loop": Step(
        "N = m*v^2/r - m*g", "N = m*v^2/r + m*g", ("N + m*g = m*v^2/r",), "m r positive"),
    # trigonometry
    "double angle": Step("sin(2*x) = 2*sin(x)*cos(x)", "sin(2*x) = sin(x)*cos(x)"),
    "square of a cosine": Step("cos(x)^2 = (1 + cos(2*x))/2", "cos(x)^2 = (1 - cos(2*x))/2"),
    "sine of a sum": Step("sin(a + b) = sin(a)*cos(b) + cos(a)*sin(b)", "sin(a + b) = sin(a) + sin(b)"),
    "half a turn": Step("sin(pi - x) = sin(x)", "sin(pi + x) = sin(x)"),
    "quarter of a turn": Step("cos(pi/2 - x) = sin(x)", "cos(pi/2 + x) = sin(x)"),
    "special angles": Step("sin(pi/6)*cos(pi/4) = sqrt(2)/4", "sin(pi/3)*cos(pi/4) = sqrt(2)/4"),
    "one plus tangent squared": Step("1 + tan(x)^2 = 1/cos(x)^2", "1 + tan(x)^2 = cos(x)^2"),
    "range of a throw": Step(
        "D = u^2*sin(2*s)/g", "D = u^2*sin(s)/g",
        ("D = u*cos(s)*t", "0 = u*sin(s)*t - g*t^2/2"), "u g t positive"),
    "height of a throw": Step(
        "h = u^2*sin(s)^2/(2*g)", "h = u^2*sin(s)/(2*g)",
        ("h = u*sin(s)*t - g*t^2/2", "0 = u*sin(s) - g*t"), "u g positive"),
    "cosine from the tangent": Step(
        "cos(s) = 1/sqrt(1 + μ^2)", "cos(s) = μ/sqrt(1 + μ^2)", ("tan(s) = μ",), "s μ positive", "pi/2 - s > 0"),
    "sine of an arctangent": Step("sin(arctan(x)) = x/sqrt(1 + x^2)", "sin(arctan(x)) = 1/sqrt(1 + x^2)"),
    "amplitude and phase": Step(
        "C^2 = A^2 + B^2", "C^2 = A^2 - B^2", ("A = C*cos(p)", "B = -C*sin(p)")),
    # rolling
    "rolling solid": Step(
        "a = 2*g*sin(s)/3", "a = g*sin(s)/3",
        ("m*a = m*g*sin(s) - f", "f*r = J*a/r", "J = m*r^2/2"), "m g r positive"),
    "energy of rolling": Step(
        "v = sqrt(4*g*h/3)", "v = sqrt(2*g*h/3)",
        ("m*g*h = m*v^2/2 + J*w^2/2", "J = m*r^2/2", "v = w*r"), "m g h r v positive"),
    # exponentials, logarithms
    "exponentials multiply": Step("exp(-c*t)*exp(2*c*t) = exp(c*t)", "exp(-c*t)*exp(2*c*t) = exp(3*c*t)"),
    "square of an exponential": Step("exp(x)^2 = exp(2*x)", "exp(x)^2 = exp(x^2)"),
    "logarithm of a product": Step("ln(a*b) = ln(a) + ln(b)", "ln(a*b) = ln(a)*ln(b)", (), "a b positive"),
    "logarithm of a root": Step("ln(sqrt(a)) = ln(a)/2", "ln(sqrt(a)) = sqrt(ln(a))", (), "a positive"),
    "drag solved for the speed": Step(
        "v = u*exp(-k*t)", "v = u*exp(k*t)", ("ln(v/u) = -k*t",), "v u k positive"),
    "drag solved for the time": Step(
        "t = ln(u/v)/k", "t = ln(v/u)/k", ("v = u*exp(-k*t)",), "v u k positive"),
    "half-life": Step("h = ln(2)/k", "h = 2/k", ("exp(-k*h) = 1/2",), "k h positive"),
    "constant of integration": Step(
        "v = u*exp(-k*t/m)", "v = u - exp(-k*t/m)", ("ln(v) = -k*t/m + C", "C = ln(u)"), "u v m positive"),
    "settling speed": Step(
        "v = (g/k)*(1 - exp(-k*t))", "v = (g/k)*(1 + exp(-k*t))",
        ("ln((g - k*v)/g) = -k*t",), "g k positive"),
    "hyperbolic tangent": Step(
        "tanh(x) = (exp(2*x) - 1)/(exp(2*x) + 1)", "tanh(x) = (exp(2*x) + 1)/(exp(2*x) - 1)"),
    "hyperbolic Pythagoras": Step("cosh(x)^2 - sinh(x)^2 = 1", "cosh(x)^2 + sinh(x)^2 = 1"),
    "damped exponentials": Step(
        "exp(-c*t)*cos(w*t)*exp(c*t) = cos(w*t)", "exp(-c*t)*cos(w*t)*exp(c*t) = sin(w*t)"),
    # complex exponentials
    "complex exponential": Step("exp(i*x) = cos(x) + i*sin(x)", "exp(i*x) = cos(x) - i*sin(x)"),
    "complex square": Step("(a + i*b)^2 = a^2 - b^2 + 2*i*a*b", "(a + i*b)^2 = a^2 + b^2 + 2*i*a*b"),
    "cosine from exponentials": Step("(exp(i*x) + exp(-i*x))/2 = cos(x)", "(exp(i*x) - exp(-i*x))/2 = cos(x)"),
    # names inside functions
    "frequency put into a cosine": Step(
        "y = A*cos(sqrt(k/m)*t)", "y = A*cos(sqrt(m/k)*t)", ("y = A*cos(w*t)", "w = sqrt(k/m)"), "k m w positive"),
    "angle put into a sine": Step(
        "h = L*sin(x/L)", "h = L*sin(L/x)", ("h = L*sin(s)", "s = x/L"), "L positive"),
    # integrals
    "work of a spring": Step("integral(k*x, x, 0, d) = k*d^2/2", "integral(k*x, x, 0, d) = k*d^2", (), "d positive"),
    "moment of inertia of a rod": Step(
        "J = M*L^2/3", "J = M*L^2/2", ("J = integral(q*x^2, x, 0, L)", "q = M/L"), "M L q positive"),
    "separated drag": Step(
        "ln(v/u) = -k*t", "ln(v/u) = k*t",
        ("integral(1/s, s, u, v) = integral(-k, z, 0, t)",), "u v k t positive"),
    "work against gravity": Step(
        "integral(G/r^2, r, a, b) = G/a - G/b", "integral(G/r^2, r, a, b) = G/b - G/a", (), "a b G positive"),
    "impulse of a decaying force": Step(
        "integral(F*exp(-t/s), t, 0, T) = F*s*(1 - exp(-T/s))", "integral(F*exp(-t/s), t, 0, T) = F*s*exp(-T/s)",
        (), "F s T positive"),
    "integral by parts": Step(
        "integral(x*exp(-x), x, 0, d) = 1 - (1 + d)*exp(-d)", "integral(x*exp(-x), x, 0, d) = (1 + d)*exp(-d)",
        (), "d positive"),
    "integral over another name": Step(
        "integral(x^2*F, x, 0, d) = integral(F*s^2, s, 0, d)", "integral(x^2*F, x, 0, d) = integral(F*s, s, 0, d)"),
    # all times
    "coefficients compared": Step(
        "w^2 = k/m", "w^2 = m/k", ("always: k*A*cos(w*t + p) = m*w^2*A*cos(w*t + p)",), "k m w A positive"),
    "coefficients of two waves": Step(
        "B = k*A", "B = -k*A", ("always: B*cos(w*t) + C*sin(w*t) = k*A*cos(w*t)",), "w positive"),
    # inequalities
    "a sum of positive terms": Step("m*g + k*x^2 > 0", "m*g - k*x^2 > 0", (), "m g k positive"),
    "a square is not negative": Step("x^2 - 2*x*y + y^2 >= 0", "x^2 - 3*x*y + y^2 >= 0"),
    "normal force points outwards": Step("N > 0", "N < 0", ("N = m*g*cos(s)",), "m g s positive", "pi/2 - s > 0"),
    "it slides": Step(
        "a > 0", "a < 0", ("m*a = m*g*sin(s) - μ*m*g*cos(s)",), "m g s positive", "pi/2 - s > 0; tan(s) - μ > 0"),
    "least speed at the top": Step(
        "v >= sqrt(g*r)", "v > sqrt(2*g*r)", ("N = m*v^2/r - m*g",), "v g r m positive; N nonnegative"),
    "not zero": Step("a != 0", "a > 0", ("m*a = -k",), "m k positive"),
}
