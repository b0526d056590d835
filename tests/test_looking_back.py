"""Lines that rest on something said after them are told so, and only where that is needed."""

from tests.workings import verdicts

BOAT = """
Symbols:
  m : kg, positive
  g : m/s^2, positive
  L : m, positive
  θ : rad, 0 < θ < π/2
  v : m/s, positive
Given:
  (a)  v² = 2 g L sin θ
Working:
"""


def codes(*typed: str) -> list[tuple[str, dict[str, str]]]:
    found = verdicts(BOAT + "\n".join(f"  {line}" for line in typed) + "\n")
    return [(line[0].code, dict(line[0].facts)) for line in found]


def test_what_a_lines_own_last_part_defines_is_nothing_further_down() -> None:
    first, _ = codes("½ m v² = m g h, h = L sin θ", "v² = 2 g h")

    assert first[0] == "follows.plain"


def test_a_line_rests_on_the_first_line_below_that_it_needs() -> None:
    first, *_ = codes("(1)  m v²/2 = m g y", "(2)  y = L sin θ", "(3)  w = 2 g y", "(4)  w = v²")

    assert first == ("follows.later_line", {"label": "(2)"})


def test_a_line_that_no_later_line_supports_stays_broken() -> None:
    first, *_ = codes("(1)  m v²/2 = 2 m g y", "(2)  y = L sin θ", "(3)  w = 2 g y")

    assert first[0].startswith("fails.")


def test_a_name_that_only_a_later_line_explains_is_said_to_rest_on_that_line() -> None:
    slowing = ["m dv/dt = -k v²", "(2)  v = u/(1 + k u t/m)", "x = (m/k) ln(1 + k u t/m)", "v = u e^(-k x/m)"]

    (first,), *_ = verdicts("\n".join(["Symbols:", "m : kg", "k : kg/m", "u : m/s", "Working:", *slowing]))

    assert (first.code, dict(first.facts)) == ("follows.later_line", {"label": "(2)"})
