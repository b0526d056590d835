"""Goals that a working leads to, though no line on the way is one of the scheme's: they count as the writer's own."""

from tests.marking.made import marked, marks

BUMP = """\
Exercise: A barge nudges a moored one

A barge of mass m1 drifting at u bumps a free barge of mass m2 at rest. They part with the fraction e of the speed
of approach. Find both speeds and the energy lost.

Symbols:
  m1 : kg, positive, about 2000
  m2 : kg, positive, about 3000
  u : m/s, positive, about 1.5
  e : 1, 0 < e < 1
  v1 : m/s
  v2 : m/s
  Q : J

Given:
  (a) m1 u = m1 v1 + m2 v2
  (b) v2 - v1 = e u
  (c) Q = ½ m1 u² - ½ m1 v1² - ½ m2 v2²

Show:
  v2 = (1 + e) m1 u/(m1 + m2)
  v1 = (m1 - e m2) u/(m1 + m2)
  Q = ½ m1 m2 (1 - e²) u²/(m1 + m2)

Solution:
  (1) v2 = v1 + e u
  (2) m1 u = m1 v1 + m2 (v1 + e u)
  (3) v1 = (m1 - e m2) u/(m1 + m2)
  (4) v2 = v1 + e u = (1 + e) m1 u/(m1 + m2)
  (5) Q = ½ m1 m2 (1 - e²) u²/(m1 + m2)

Marks:
  (p1) M1 m1 u = m1 v1 + m2 (v1 + e u) or m1 u = m1 (v2 - e u) + m2 v2
  (p2) A1 v1 = (m1 - e m2) u/(m1 + m2) ft -- needs p1
  (p3) A1 v2 = (1 + e) m1 u/(m1 + m2) ft -- needs p1
  (p4) A2 Q = ½ m1 m2 (1 - e²) u²/(m1 + m2) ft -- needs p2, p3
"""

GANGWAY = """\
Exercise: A gangway held by a rope

A uniform gangway of length L and weight W is hinged at the quay and held level by a rope from its outer end, which
makes the angle β with the gangway. A docker of weight P stands x from the hinge. Find the pull in the rope and the
hinge's force.

Symbols:
  L : m, positive, about 6
  W : N, positive, about 900
  P : N, positive, about 750
  x : m, 0 < x < 6, about 4
  β : rad, 0 < β < π/2
  T : N, positive
  X : N
  Y : N

Given:
  (a) X = T cos β
  (b) Y + T sin β = W + P
  (c) T L sin β = W L/2 + P x

Show:
  T = (½ W + P x/L)/sin β
  X = (½ W + P x/L) cot β
  Y = ½ W + P (1 - x/L)

Solution:
  (1) T sin β = ½ W + P x/L
  (2) T = (½ W + P x/L)/sin β
  (3) X = (½ W + P x/L) cos β/sin β
  (4) Y = W + P - T sin β
  (5) Y = ½ W + P (1 - x/L)

Marks:
  (p1) M1 T sin β = ½ W + P x/L
  (p2) A1 T = (½ W + P x/L)/sin β ft -- needs p1
  (p3) A1 X = (½ W + P x/L) cot β ft -- needs p2
  (p4) M1 Y = W + P - T sin β
  (p5) A1 Y = ½ W + P (1 - x/L) ft -- needs p4
"""

HUMP = """\
Exercise: A trolley over a hump

A trolley of mass m is let go on a curved track at the height H and runs without friction over a hump, whose crown
has the height h and the radius of curvature r. Find the force of the track at the crown and how high it may start
without taking off.

Symbols:
  m : kg, positive, about 200
  g : m/s^2, positive, about 9.81
  H : m, positive, about 3
  h : m, positive, about 2
  r : m, positive, about 4
  v : m/s, positive, about 4
  N : N, N ≥ 0, about 500

Given:
  (a) m g H = m g h + ½ m v²
  (b) m v²/r = m g - N

Show:
  N = m g (1 - 2 (H - h)/r)
  H ≤ h + r/2

Solution:
  (1) v² = 2 g (H - h)
  (2) N = m g - m v²/r
  (3) N = m g - 2 m g (H - h)/r = m g (1 - 2 (H - h)/r)
  (4) N ≥ 0, so 2 (H - h)/r ≤ 1
  (5) H ≤ h + r/2

Marks:
  (p1) M1 v² = 2 g (H - h)
  (p2) B1 N = m g - m v²/r
  (p3) A2 N = m g (1 - 2 (H - h)/r) ft -- needs p1, p2
  (p4) M1 2 (H - h)/r ≤ 1 ft
  (p5) A1 H ≤ h + r/2 ft -- needs p4
"""

RAMP = """\
Exercise: A chest hauled up a ramp

A chest of 40 kg is hauled from rest 5.0 m up a ramp of 25° by a rope pulling along it with 300 N. The coefficient
of sliding friction is 0.30.

Symbols:
  m : kg, positive, about 40
  g : m/s^2, positive, about 9.81
  θ : rad, 0 < θ < π/2
  μ : 1, positive, about 0.3
  F : N, positive, about 300
  N : N, positive
  f : N, positive
  a : m/s^2
  d : m, positive, about 5
  v : m/s, positive

Given:
  (a) m a = F - f - m g sin θ
  (b) f = μ N
  (c) N = m g cos θ
  (d) v² = 2 a d
  (e) m = 40 kg, g = 9.81 m/s², θ = 25°, μ = 0.30, F = 300 N, d = 5.0 m

Show:
  a = F/m - g (sin θ + μ cos θ)
  a = 0.69 m/s²
  v = 2.6 m/s

Solution:
  (1) f = μ m g cos θ
  (2) m a = F - μ m g cos θ - m g sin θ
  (3) a = F/m - g (sin θ + μ cos θ)
  (4) f = 107 N
  (5) a = 0.69 m/s²
  (6) v = √(2 a d) = 2.6 m/s

Marks:
  (p1) M1 f = μ m g cos θ or f = 107 N
  (p2) M1 m a = F - μ m g cos θ - m g sin θ ft
  (p3) A1 a = F/m - g (sin θ + μ cos θ) ft -- needs p2
  (p4) A1 a = 0.69 m/s² ft -- needs p2
  (p5) A1 v = 2.6 m/s ft
"""


def test_a_given_put_down_and_solved_for_the_goal_leads_to_it():
    found = marks("T L sin β = W L/2 + P x, so T = (W L/2 + P x)/(L sin β)", "Y = W + P - T sin β", scheme=GANGWAY)
    assert found == (1, 1, 0, 1, 0)
    assert marks("T = (W L/2 + P x)/(L sin β)", scheme=GANGWAY)[1] == 0


def test_a_goal_worked_out_over_two_lines_is_led_to_as_by_the_chain_of_both():
    above = ("let q = x/L", "T sin β = W/2 + P q", "T = (W/2 + q P)/sin β", "X = T cos β = (W/2 + q P) cot β")
    two = marks(*above, "Y = W + P - (W/2 + q P)", "Y = W/2 + P (1 - q)", scheme=GANGWAY)
    one = marks(*above, "Y = W + P - (W/2 + q P) = W/2 + P (1 - q)", scheme=GANGWAY)
    assert two == one == (1, 1, 1, 1, 1)


def test_a_right_working_by_the_common_motion_has_every_mark():
    found = marks(
        "V = m1 u/(m1 + m2)", "m1 v1 + m2 v2 = (m1 + m2) V", "v1 = V - e m2 u/(m1 + m2)", "v2 = V + e m1 u/(m1 + m2)",
        "v1 = (m1 - e m2) u/(m1 + m2)", "v2 = (1 + e) m1 u/(m1 + m2)", "Q = ½ (m1 m2/(m1+m2)) u² (1 - e²)", scheme=BUMP)
    assert found == (1, 1, 1, 2)


def test_a_given_with_a_slip_in_it_costs_the_method_and_the_rest_is_followed_through_to_a_goal_it_does_not_change():
    found = marks(
        "v1 - v2 = e u", "m1 u = m1 v1 + m2 (v1 - e u)", "v1 = (m1 + e m2) u/(m1 + m2)",
        "v2 = v1 - e u = (1 - e) m1 u/(m1 + m2)", "Q = ½ m1 m2 (1 - e²) u²/(m1 + m2)", scheme=BUMP)
    assert found == (0, 1, 1, 2)


def test_a_symbol_that_a_slip_has_left_out_may_be_missing_from_all_that_follows_it_through():
    result = marked(
        "v² = 2 g H", "N = m g - m v²/r", "N = m g (1 - 2 H/r)", "N ≥ 0, so 2 H/r ≤ 1", "H ≤ r/2", scheme=HUMP)
    assert [p.marks for p in result.points] == [0, 1, 2, 1, 1]
    assert not result.flagged


def test_a_quantity_that_lacks_a_symbol_which_no_slip_has_left_out_is_for_a_person():
    found = marks(
        "T L sin β = W L + P x", "T = (W + P x/L)/sin β", "X = (W + P x/L) cot β", "Y = W + P - T sin β",
        "Y = P (1 - x/L)", scheme=GANGWAY)
    assert found == (0, 1, 1, 1, "?")


def test_a_formula_is_led_to_by_a_formula_above_though_a_line_full_of_numbers_stands_between():
    found = marks(
        "f = μ m g cosθ", "m a = F - f - m g sinθ = 300 N - 107 N - 166 N = 27 N", "a = F/m - g(sin θ + μ cos θ)",
        "a = 6.9 m/s²", scheme=RAMP)
    assert found == (1, 1, 1, 0, 0)
