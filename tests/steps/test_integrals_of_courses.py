"""An integral over the time of what moves, once its course is found."""

from derive.check import check_text
from derive.report.naming import standing_of

COASTING = """\
Symbols:
  m    : kg, positive
  b    : kg/s, positive
  u    : m/s, positive      -- speed at first
  t    : s, nonnegative
  v(t) : m/s, positive
  x(t) : m
  D    : m, positive        -- how far it gets in all
Given:
  (a)  m v' = -b v
  (b)  v(0) = u
  (c)  v = x'
  (d)  x(0) = 0
  (e)  as t → ∞: x → D
Working:
  v = u e^(-b t/m)
"""


def standings(*lines):
    return [standing_of(x).value for x in check_text(COASTING + "".join(f"  {line}\n" for line in lines)).lines][1:]


def test_a_course_is_put_into_the_integral_though_a_given_says_what_the_name_is():
    assert standings("x = ∫_0^t v dt", "∫_0^∞ v dt = m u/b") == ["follows", "follows"]
    assert standings("x = ∫_0^t v dt = (m u/b) (1 - e^(-b t/m))", "D = m u/b") == ["follows", "follows"]
    assert standings("x = ∫_0^t v dt = (m u/b) (1 + e^(-b t/m))") == ["does not follow"]
    assert standings("∫_0^∞ v dt = u b/m") == ["does not follow"]


def test_what_cannot_be_decided_falls_where_its_dimensions_do_not_fit():
    assert standings("D = m u b") == ["does not follow"]
    assert standings("D = m u/b")[0] != "does not follow"
