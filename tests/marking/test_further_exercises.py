"""Four further exercises, each with workings whose worth was found by hand: numbers, what is to be solved, slopes."""

from functools import lru_cache

import pytest

from derive.marking.working import Marker
from derive.text.document import read_document

HAULED = """\
Exercise: A winch hauls a crate up a gangway

A crate of 80 kg is hauled at a steady 0.50 m/s up a gangway that slopes at 20° to the horizontal.
The coefficient of friction is 0.30. Find the pull of the rope and the power of the winch.

Symbols:
  m : kg, positive          -- mass of the crate
  g : m/s^2, positive
  θ : rad, 0 < θ < π/2
  μ : 1, positive
  N : N, positive           -- push of the gangway
  f : N, positive           -- friction
  T : N, positive           -- pull of the rope
  v : m/s, positive
  P : W, positive           -- power of the winch

Given:
  (a)  N = m g cos θ
  (b)  f = μ N
  (c)  T = m g sin θ + f
  (d)  P = T v
  (e)  m = 80 kg
  (f)  θ = 20°
  (g)  μ = 0.30
  (h)  v = 0.50 m/s
  (i)  g = 9.81 m/s²

Show:
  T ≈ 490 N
  P ≈ 245 W

Solution:
  (1)  N = m g cos θ = 737 N
  (2)  f = μ N = 221 N
  (3)  T = m g sin θ + μ m g cos θ
  (4)  T = 268 N + 221 N = 490 N
  (5)  P = T v = 245 W

Marks:
  (p1)  B1   N = 737 N
  (p2)  M1   T = m g sin θ + μ m g cos θ   ft
  (p3)  A1   T = 490 N   ft       -- needs p2
  (p4)  M1   P = T v
  (p5)  A1   P = 245 W   ft       -- needs p4
"""

COUPLED = """\
Exercise: Two barges couple

A barge of mass m drifts at speed u against a moored barge of mass M, whose lines have been cast
off, and the two stay coupled. Find their common speed, and the share of the kinetic energy that
is lost.

Symbols:
  m : kg, positive, about 20000
  M : kg, positive, about 30000
  u : m/s, positive, about 1
  v : m/s, positive, about 0.4     -- speed after they have coupled
  E : J, positive                  -- kinetic energy before
  K : J, positive                  -- kinetic energy after
  η : 1, positive                  -- share lost

Given:
  (a)  m u = (m + M) v             -- momentum
  (b)  E = ½ m u²
  (c)  K = ½ (m + M) v²
  (d)  η = (E - K)/E

Show:
  v = m u/(m + M)
  η = M/(m + M)

Solution:
  (1)  v = m u/(m + M)                          [from (a)]
  (2)  K = ½ (m + M) (m u/(m + M))² = m² u²/(2 (m + M))
  (3)  E - K = ½ m u² (1 - m/(m + M)) = ½ m M u²/(m + M)
  (4)  η = 1 - m/(m + M) = M/(m + M)

Marks:
  (p1)  A1   v = m u/(m + M)
  (p2)  M1   K = m² u²/(2 (m + M))   ft   or   K/E = m/(m + M)   ft
  (p3)  M1   E - K = ½ m M u²/(m + M)   ft   or   η = 1 - K/E
  (p4)  A2   η = M/(m + M)   ft                 -- needs p2
"""

FLARE = """\
Exercise: A signal flare

A flare is fired from the top of a lighthouse of height h with speed u at the angle α above the
horizontal. Air resistance is left out. Find the greatest height H above the sea, the time t_1 after
which the flare reaches the sea, and the speed w at which it does.

Symbols:
  h    : m, positive, about 25
  u    : m/s, positive, about 30
  α    : rad, 0 < α < π/2, about 0.8
  g    : m/s^2, positive, about 9.81
  t    : s, t ≥ 0
  x(t) : m
  y(t) : m
  H    : m, positive, about 50
  t_1  : s, positive, about 5
  w    : m/s, positive, about 38

Given:
  (a)  x'' = 0, y'' = -g
  (b)  x(0) = 0, y(0) = h
  (c)  x'(0) = u cos α, y'(0) = u sin α
  (d)  y(t_1) = 0
  (e)  w² = x'(t_1)² + y'(t_1)²
  (f)  y = H when y' = 0

Show:
  H = h + u² sin²α/(2 g)
  t_1 = (u sin α + √(u² sin²α + 2 g h))/g
  w = √(u² + 2 g h)

Solution:
  (1)  x' = u cos α
  (2)  y' = u sin α - g t
  (3)  y = h + u t sin α - ½ g t²
  (4)  at the top: y' = 0, so t = u sin α/g
  (5)  H = h + u² sin²α/g - u² sin²α/(2 g) = h + u² sin²α/(2 g)
  (6)  at t = t_1: 0 = h + u t_1 sin α - ½ g t_1²
  (7)  t_1 = (u sin α + √(u² sin²α + 2 g h))/g
  (8)  y'(t_1) = -√(u² sin²α + 2 g h)
  (9)  w² = u² cos²α + u² sin²α + 2 g h = u² + 2 g h
  (10) w = √(u² + 2 g h)

Marks:
  (p1)  M1   y = h + u t sin α - ½ g t²   or   y'² = u² sin²α - 2 g (y - h)
  (p2)  A1   H = h + u² sin²α/(2 g)   ft          -- needs p1
  (p3)  M1   0 = h + u t_1 sin α - ½ g t_1²   ft
  (p4)  A1   t_1 = (u sin α + √(u² sin²α + 2 g h))/g   ft     -- needs p3
  (p5)  M1   w² = u² + 2 g h   ft
  (p6)  A1   w = √(u² + 2 g h)   ft               -- needs p5
"""

FLOAT = """\
Exercise: A magnet floats above a pile

A float of mass m carries a magnet and is held at the distance r from a mooring pile by forces whose
potential energy is U(r) = A/r² - B/r. Find where it rests, and the angular frequency of small
oscillations about that place.

Symbols:
  m    : kg, positive, about 2
  A    : J m^2, positive, about 3
  B    : J m, positive, about 4
  r    : m, positive, about 1.5
  U(r) : J
  r_0  : m, positive, about 1.5     -- distance at rest
  k    : N/m, positive              -- stiffness
  ω    : rad/s, positive
  T    : s, positive                -- period

Given:
  (a)  U = A/r² - B/r
  (b)  U'(r_0) = 0
  (c)  k = U''(r_0)
  (d)  ω² = k/m
  (e)  T = 2π/ω

Show:
  r_0 = 2 A/B
  ω = B²/√(8 m A³)

Solution:
  (1)  dU/dr = -2 A/r³ + B/r²
  (2)  at r = r_0: -2 A/r_0³ + B/r_0² = 0
  (3)  r_0 = 2 A/B
  (4)  d²U/dr² = 6 A/r⁴ - 2 B/r³
  (5)  k = 6 A/r_0⁴ - 2 B/r_0³
  (6)  k = (3/8) B⁴/A³ - (1/4) B⁴/A³ = B⁴/(8 A³)
  (7)  ω = √(k/m) = B²/√(8 m A³)
  (8)  T = 2π √(8 m A³)/B²

Marks:
  (p1)  M1   dU/dr = -2 A/r³ + B/r²
  (p2)  A1   r_0 = 2 A/B   ft                 -- needs p1
  (p3)  M1   d²U/dr² = 6 A/r⁴ - 2 B/r³   or   k = 6 A/r_0⁴ - 2 B/r_0³
  (p4)  A1   k = B⁴/(8 A³)   ft               -- needs p3
  (p5)  A1   ω = B²/√(8 m A³)   ft            -- needs p4
  (p6)  B1   T = 2π √(8 m A³)/B²   ft
"""

CRANE = """\
Exercise: A load on a turning crane

A load of mass m hangs from the tip of a crane, a distance R from its axis, on a rope of length L.
When the crane turns steadily at angular speed ω, the rope makes the angle θ with the vertical.
Find ω and the pull T in the rope.

Symbols:
  m : kg, positive, about 500
  g : m/s^2, positive, about 9.81
  R : m, positive, about 12
  L : m, positive, about 8
  θ : rad, 0 < θ < π/2, about 0.4
  ω : rad/s, positive
  T : N, positive
  z : m, positive

Given:
  (a)  T cos θ = m g
  (b)  T sin θ = m ω² (R + L sin θ)
  (c)  z = L - L cos θ

Show:
  ω = √(g tan θ/(R + L sin θ))
  T = m g/cos θ
  z = L (1 - cos θ)

Solution:
  (1)  (b)/(a): tan θ = ω² (R + L sin θ)/g
  (2)  ω² = g tan θ/(R + L sin θ)
  (3)  ω = √(g tan θ/(R + L sin θ))
  (4)  T = m g/cos θ
  (5)  z = L (1 - cos θ)

Marks:
  (p1)  M2   tan θ = ω² (R + L sin θ)/g
  (p2)  A1   ω = √(g tan θ/(R + L sin θ))   ft    -- needs p1
  (p3)  A1   T = m g/cos θ
  (p4)  B1   z = L (1 - cos θ)
"""

WORKINGS = (
    (HAULED, "sine for cosine in what goes into the sum", """
        N = m g sin θ = 268 N
        f = μ N = 80.5 N
        T = m g sin θ + f = 349 N
        P = T v = 174 W""", "0 1 1 1 1"),
    (HAULED, "a sign wrong in the sum", """
        N = m g cos θ = 737 N
        f = 221 N
        T = m g sin θ - f = 47 N
        P = T v = 24 W""", "1 0 1 1 1"),
    (HAULED, "a slip in what goes into the sum, and one in the sum", """
        N = mg = 785 N
        f = 235 N
        T = mg sinθ - f = 33 N
        P = T v = 17 W""", "0 0 1 1 1"),
    (HAULED, "formulas first and the numbers last", """
        Normal: N - m g cosθ = 0
        along: T - m g sinθ - μ N = 0
        so T = m g (sinθ + μ cosθ)
        P = m g v (sinθ + μ cosθ)
        T = 490 N, P = 245 W
        N = 737 N""", "1 1 1 1 1"),
    (HAULED, "a sum that is right and comes out wrong", """
        N = mg cos θ = 737 N
        f = 221 N
        T = mg sin θ + f = 268 + 221 = 499 N
        P = T v = 499*0.5 = 249.5 W""", "1 1 0 1 1"),
    (HAULED, "divided where it should be multiplied", """
        N = 737 N
        f = 0.3*737 N = 221 N
        T = 268 N + 221 N = 489 N
        P = T/v = 979 W""", "1 1 1 0 0"),
    (COUPLED, "a given solved for a goal, and a slip at the end", """
        v = m u/(m+M)
        K = ½ m² u²/(m+M)
        E - K = ½ m u² (1 - m/(m+M))
        η = 1 - m/(m+M) = 1/(m+M)""", "1 1 1 0"),
    (COUPLED, "a square lost next below a given solved for a goal", """
        v = mu/(m+M)
        K = ½(m+M)v² = ½ m u²/(m+M)
        E - K = ½ m u² - ½ m u²/(m+M)
        η = 1 - 1/(m+M)""", "1 0 1 2"),
    (COUPLED, "nothing but the goals", """
        v = mu/(m+M)
        η = M/(m+M)""", "0 0 0 0"),
    (FLARE, "the whole of it", """
        y' = u sin α - g t
        y = h + u t sin α - ½ g t²
        y' = 0 at t = u sin α/g
        H = h + u² sin²α/g - ½ u² sin²α/g = h + u² sin²α/(2 g)
        y(t_1) = 0: h + u t_1 sin α - ½ g t_1² = 0
        t_1 = (u sin α + √(u² sin²α + 2 g h))/g
        x'(t_1) = u cos α
        y'(t_1) = u sin α - g t_1 = -√(u² sin²α + 2 g h)
        w² = u² cos²α + u² sin²α + 2 g h = u² + 2 g h
        w = √(u² + 2 g h)""", "1 1 1 1 1 1"),
    (FLARE, "by energy", """
        y'² = u² sin²α - 2g(y - h)
        at top y' = 0: 0 = u² sin²α - 2g(H - h)
        H = h + u² sin²α/(2g)
        at t = t_1: y'² = u² sin²α + 2 g h
        y' = u sinα - g t
        so -√(u² sin²α + 2gh) = u sinα - g t_1
        t_1 = (u sinα + √(u² sin²α + 2gh))/g
        w² = u² cos²α + u² sin²α + 2gh = u² + 2gh
        w = √(u²+2gh)""", "1 1 1 1 1 1"),
    (FLARE, "a factor lost at the start, in all that comes of it", """
        y = h + u t sin α - g t²
        y' = u sin α - 2 g t
        top: t = u sin α/(2g)
        H = h + u² sin²α/(4g)
        0 = h + u t_1 sin α - g t_1²
        t_1 = (u sin α + √(u² sin²α + 4 g h))/(2 g)
        y'(t_1) = -√(u² sin²α + 4 g h)
        w² = u² cos²α + u² sin²α + 4 g h = u² + 4 g h
        w = √(u² + 4 g h)""", "0 1 1 1 1 1"),
    (FLARE, "a term lost at the top", """
        y = h + u t sinα - ½ g t²
        y' = u sinα - g t
        t = u sinα/g at the top
        H = h + u² sin²α/g
        ½ g t_1² - u t_1 sinα - h = 0
        t_1 = (u sinα + √(u² sin²α + 2gh))/g
        w² = u² + 2gh
        w = √(u² + 2gh)""", "1 0 1 1 1 1"),
    (FLARE, "an equation that is still to be solved", """
        y' = u sinα - gt
        y = h + u t sinα - ½ g t²
        top: y' = 0, t = u sinα/g
        H = h + u² sin²α/(2g)
        y(t_1) = 0 gives 0 = h + u t_1 sinα - ½ g t_1²""", "1 1 1 0 0 0"),
    (FLOAT, "a slip in the first slope", """
        U' = -A/r³ + B/r²
        at r = r_0: A/r_0³ = B/r_0²
        r_0 = A/B
        U'' = 3A/r⁴ - 2B/r³
        k = 3A/r_0⁴ - 2B/r_0³ = B⁴/A³
        ω = √(k/m) = B²/√(m A³)
        T = 2π √(m A³)/B²""", "0 1 0 1 1 1"),
    (FLOAT, "a slip in the second slope", """
        U' = -2A/r³ + B/r²
        0 = -2A/r_0³ + B/r_0²
        r_0 = 2A/B
        U'' = 6A/r⁴ - B/r³
        k = 6A/r_0⁴ - B/r_0³ = (3/8 - 1/8) B⁴/A³ = B⁴/(4A³)
        ω = B²/√(4 m A³)
        T = 2π √(4 m A³)/B²""", "1 1 0 1 1 1"),
    (FLOAT, "the root upside down", """
        dU/dr = -2A/r³ + B/r²
        r_0 = 2A/B
        k = 6A/r_0⁴ - 2B/r_0³
        k = B⁴/(8A³)
        ω = √(k m) = B² √(m/(8A³))
        T = 2π/ω = (2π/B²) √(8A³/m)""", "1 1 1 1 0 1"),
    (CRANE, "a ratio upside down", """
        T cosθ = mg and T sinθ = m ω² (R + L sinθ)
        cot θ = ω² (R + L sinθ)/g
        ω = √(g cot θ/(R + L sinθ))
        T = mg/cosθ
        z = L(1-cosθ)""", "0 1 1 1"),
    (CRANE, "a term lost in a given, and with it a symbol of the method", """
        T sinθ = m ω² L sinθ
        T = m ω² L
        tan θ = ω² L sinθ/g
        ω = √(g tanθ/(L sinθ)) = √(g/(L cosθ))
        T = m g/cos θ
        z = L(1 - cosθ)""", "0 1 1 1"),
    (CRANE, "a root lost", """
        tanθ = ω²(R + L sinθ)/g
        ω = g tanθ/(R + L sinθ)
        T = m g/cosθ
        z = L - L cosθ = L (1 - cosθ)""", "2 0 1 1"),
    (HAULED, "formulas into which no value has been put", """
        f = μ m g cosθ
        T = m g (sin θ + μ cos θ)""", "0 1 0 0 0"),
    (COUPLED, "the loss without the letters of the energies", """
        Momentum before = momentum after: m u = (m + M) v
        so v = m u/(m + M)
        energy before ½ m u², after ½ (m + M) v²
        lost: ½ m u² - ½ (m + M) v² = ½ m u² - ½ m² u²/(m + M) = ½ m M u²/(m + M)
        fraction lost η = M/(m + M)""", "1 1 1 2"),
    (FLOAT, "the place of rest by the letter of any place", """
        U = A r^-2 - B r^-1
        U' = -2A r^-3 + B r^-2 = 0
        r = 2A/B
        U'' = 6A r^-4 - 2B r^-3
        at r = 2A/B: U'' = 6A B^4/(16A^4) - 2B B^3/(8A^3) = B^4/(8A^3)
        ω = sqrt(U''/m) = sqrt(B^4/(8mA^3))
        T = 2π/ω = 2π sqrt(8 m A^3)/B^2""", "1 ? 1 1 1 1"),
)  # fmt: skip


@lru_cache(maxsize=8)
def marker(exercise):
    return Marker(read_document(exercise, "exercise.txt"))


@pytest.mark.parametrize(("exercise", "what", "lines", "marks"), WORKINGS, ids=[w[1] for w in WORKINGS])
def test_a_working_of_a_further_exercise_has_the_marks_found_by_hand(exercise, what, lines, marks):
    result = marker(exercise).text(f"Working:\n{lines.strip()}\n", "w")
    assert ["?" if p.open else str(p.marks) for p in result.points] == marks.split()
