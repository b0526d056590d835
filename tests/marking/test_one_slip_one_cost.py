"""A slip costs the point that it stands in, and neither the method before it nor the result that is carried from it."""

from derive.marking.working import Marker
from tests.marking.made import marks, shipped

SINKER = """\
Exercise: A crate dragged by a sinker

A crate of mass M stands on a level quay. A rope runs from it over a light pulley at the edge of the quay to a sinker
of mass m that hangs down. The coefficient of sliding friction is μ. Find the acceleration and the pull of the rope.

Symbols:
  M : kg, positive, about 40      -- mass of the crate
  m : kg, positive, about 25      -- mass of the sinker
  g : m/s^2, positive, about 9.81
  μ : 1, positive, about 0.3      -- coefficient of sliding friction
  N : N, positive                 -- push of the quay on the crate
  f : N, positive                 -- friction
  T : N, positive                 -- pull of the rope
  a : m/s^2, positive, about 2    -- acceleration of both

Given:
  (a)  M a = T - f                -- the crate
  (b)  m a = m g - T              -- the sinker
  (c)  N = M g
  (d)  f = μ N

Show:
  a = (m - μ M) g/(m + M)
  T = m M g (1 + μ)/(m + M)

Solution:
  (1)  f = μ M g                          [from (c) and (d)]
  (2)  (M + m) a = m g - f                [add (a) and (b)]
  (3)  (M + m) a = m g - μ M g            [(1) into (2)]
  (4)  a = (m - μ M) g/(m + M)
  (5)  T = m (g - a)                      [from (b)]
  (6)  T = m g (1 - (m - μ M)/(m + M))    [(4) into (5)]
  (7)  T = m M g (1 + μ)/(m + M)

Marks:
  (p1)  B1   f = μ M g
  (p2)  M2   (M + m) a = m g - f   or   M a = m (g - a) - f
  (p3)  A2   a = (m - μ M) g/(m + M)   ft      -- needs p2
  (p4)  M1   T = m (g - a)   or   T = M a + f
  (p5)  A2   T = m M g (1 + μ)/(m + M)   ft    -- needs p4
"""

FENDER = """\
Exercise: A barge runs into a spring fender

A barge of mass m drifts at speed v against a fender that acts as a spring of stiffness k. Find how far the fender is
pressed in, the largest force, and how long the barge pushes it in. Nothing is lost.

Symbols:
  m : kg, positive, about 2000
  v : m/s, positive, about 0.3      -- speed of the barge
  k : N/m, positive, about 80000    -- stiffness
  d : m, positive, about 0.05       -- largest compression
  F : N, positive, about 4000       -- largest force
  ω : rad/s, positive, about 6
  t : s
  x(t) : m                          -- compression
  τ : s, positive, about 0.25       -- time until it is pressed in most

Given:
  (a)  ½ m v² = ½ k d²
  (b)  F = k d
  (c)  m x'' = -k x
  (d)  x(0) = 0, x'(0) = v
  (e)  ω τ = π/2

Show:
  d = v √(m/k)
  F = v √(k m)
  τ = (π/2) √(m/k)

Solution:
  (1)  d² = m v²/k               [from (a)]
  (2)  d = v √(m/k)
  (3)  F = k d = v √(k m)        [from (b)]
  (4)  try x = A sin(ω t)
  (5)  x'' = -ω² A sin(ω t) = -ω² x
  (6)  so ω² = k/m               [from (c)]
  (7)  ω = √(k/m)
  (8)  τ = π/(2 ω) = (π/2) √(m/k)

Marks:
  (p1)  M1   d² = m v²/k
  (p2)  A1   d = v √(m/k)   ft      -- needs p1
  (p3)  A1   F = v √(k m)   ft
  (p4)  M1   x'' = -ω² x
  (p5)  A1   ω² = k/m  ft           -- needs p4
  (p6)  A2   τ = (π/2) √(m/k)   ft  -- needs p5
"""


def test_a_factor_lost_where_a_force_is_written_out_costs_the_result_and_not_the_equation_of_motion():
    found = marks("f = μ M g", "(m + M) a = m g - μ M", "a = (m g - μ M)/(m + M)", "T = m (g - a)", scheme=SINKER)
    assert found == (1, 2, 0, 1, 0)


def test_a_line_that_only_speaks_of_the_symbols_of_two_points_costs_the_first_and_leads_to_the_other():
    found = marks("m v² = ½ k d²", "d² = 2 m v²/k", "d = v √(2 m/k)", "F = k d = v √(2 k m)", scheme=FENDER)
    assert found == (0, 1, 1, 0, 0, 0)


def test_a_chain_that_comes_to_a_goal_over_another_way_of_writing_it_leads_to_it():
    assert marks("F = k v √(m/k) = v √(m k)", scheme=FENDER)[2] == 1
    assert marks("F = v √(k m)", scheme=FENDER)[2] == 0


def test_equations_added_under_a_word_of_the_writers_own_count_as_any_other():
    found = marks(
        "f = mu M g", "Ma = T - mu M g, ma = mg - T", "add: (M+m) a = mg - mu M g", "a = g(m - mu M)/(M+m)",
        "T = m(g-a) = mg (M + mu M)/(M+m) = mMg(1+mu)/(M+m)", scheme=SINKER)
    assert found == (1, 2, 2, 1, 2)


def test_a_trial_put_straight_into_the_equation_has_been_differentiated():
    found = marks(
        "d = sqrt(m v^2/k) = v sqrt(m/k)", "F = k d = v sqrt(k m)", "try x = A sin(ωt)",
        "-m A ω² sin(ωt) = -k A sin(ωt)", "ω² = k/m", "τ = π/2 sqrt(m/k)", scheme=FENDER)
    assert found == (1, 1, 1, 1, 1, 2)


def test_a_method_followed_through_is_kept_where_the_way_from_it_to_the_result_goes_wrong_once_more():
    lines = ("½ M R² α = F R", "F = M a", "m a = m g - M a", "(m - M) a = m g", "a = m g/(m - M)")
    found = Marker(shipped("capstan")).text("Working:\n" + "\n".join(lines) + "\n", "w")
    assert [p.marks for p in found.points] == [1, 0, 1, 0, 0]
