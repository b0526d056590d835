"""The kinds of step of a first mechanics course, each shown by a short working as it may be typed.

Printed by `thence notation`, with a file as a whole; a test checks that every one of them is unbroken.
"""

from __future__ import annotations

# A file with headings, as it may be typed.
A_FILE = """\
Symbols:
  m : kg, positive, about 900 -- mass of the boat
  k [N/m], stiffness of the fender
  x(t) : m
Given:
  (a) m x'' = -k x
Show: ω = √(k/m)
Working:
  (1) x'' = -(k/m) x       [divide (a) by m]
  (2) try x = A cos ω t
  (3) -ω² A cos ω t = -(k/m) A cos ω t    // from (1)
  so  ω = √(k/m)"""

KINDS: tuple[tuple[str, str], ...] = (
    ("rearranging, substituting", """\
f = μ N
N = m g
so f = μ m g
μ = f/(m g)"""),
    ("combining lines, a linear system", """\
(1) T - m1 g = m1 a
(2) m2 g - T = m2 a
(1) + (2): (m2 - m1) g = (m1 + m2) a"""),
    ("a quadratic with both roots", """\
y^2 + 2 b y - c^2 = 0
y = -b ± sqrt(b^2 + c^2)"""),
    ("identities", """\
R = 2 u^2 sin θ cos θ/g
so R = u^2 sin(2θ)/g"""),
    ("differentiating along the motion", """\
E = 1/2 m x'^2 + 1/2 k x^2
dE/dt = m x' x'' + k x x'"""),
    ("a trial solution, compared for all t", """\
m y'' = -k y
try y = Y cos(ω t + φ)
y'' = -ω² Y cos(ω t + φ)
ω² = k/m"""),
    ("a general solution", """\
y'' = -w^2 y
y = A cos(w t) + B sin(w t)"""),
    ("separating variables, with limits", """\
m dv/dt = -b v
dv/v = -(b/m) dt
v(0) = u
∫_u^v dv/v = -∫_0^t (b/m) dt
ln(v/u) = -b t/m"""),
    ("an integral", """\
W = ∫_0^d k x dx
W = 1/2 k d^2"""),
    ("a small quantity", """\
L θ'' = -g sin θ
for small θ: sin θ ≈ θ
θ'' ≈ -(g/L) θ"""),
    ("vectors", """\
let r = (a, b)
|r|² = a² + b²
r·r = a² + b²"""),
    ("Lagrange's equation", """\
L = 1/2 m x'^2 - 1/2 k x^2
∂L/∂x' = m x'
∂L/∂x = -k x
d/dt(∂L/∂x') = m x''"""),
    ("inequalities, limiting cases", """\
a = m g/(m + M)
as M → ∞: a → 0"""),
    ("cases, another situation", """\
m a = m g - F
F = I a/R²
for I = m R²: a = g/2
in that case F = m g/2
with drag on the line: m a = m g - F - D
a = (m g - F - D)/m"""),
    ("numbers with units", """\
F = 1.2 kN
m = 400 kg
a = F/m = 3.0 m/s²"""),
)
