"""Which points a working meets: in any arrangement, through own definitions, followed through, none lost in silence."""

from tests.marking.made import WINCH, marked, marks

RIGHT = ("a = R w'", "F = m (a + g)", "F = m (R w' + g)", "P = m (R w' + g) R w")


def test_the_lines_of_the_scheme_themselves_earn_every_mark():
    assert marks(*RIGHT) == (1, 1, 1, 2)


def test_a_point_is_met_in_any_arrangement():
    assert marks("a/R = w'", "m g = F - m a", "F/m - g = R w'", "P/(R w) - m g = m R w'") == (1, 1, 1, 2)


def test_a_definition_of_the_writers_own_is_seen_through():
    assert marks("let c = R w'", "so a = c", "F = m (c + g)", "let u = R w", "P = m (c + g) u") == (1, 1, 1, 2)


def test_a_quantity_that_a_given_names_may_be_written_out():
    assert marks("a = R w'", "F = m (R w' + g)", "F v = m (R w' + g) R w")[3] == 2


def test_a_point_that_a_chain_says_from_end_to_end_is_met():
    assert marks("a = v' = R w'", "F = m a + m g = m (a + g)")[:2] == (1, 1)


def test_an_alternative_after_or_is_enough():
    assert marks("F - m a = m g")[1] == 1


def test_writing_down_a_given_earns_no_point_that_says_more():
    assert marks("v = R w", "a = v'", "P = F v") == (0, 0, 0, 0)


def test_an_accuracy_mark_is_not_given_without_the_method_it_needs():
    scheme = WINCH.replace("F = m (a + g)   or   F - m a = m g", "P = m (a + g) v")
    scheme = scheme.replace("-- needs p1", "-- needs p2")
    result = marked("F = m (R w' + g)", scheme=scheme)
    assert [p.marks for p in result.points][2] == 0
    assert result.points[2].found == "not without what it needs"


def test_a_slip_costs_the_points_it_spoils_and_later_ones_are_followed_through():
    result = marked("a = 2 R w'", "F = m (2 R w' + g)", "P = m (2 R w' + g) R w")
    assert [p.marks for p in result.points] == [0, 0, 1, 2]
    assert [p.found for p in result.points][2:] == ["followed through"] * 2
    assert not result.flagged


def test_a_carried_line_about_another_quantity_or_other_symbols_is_not_followed_through():
    result = marked("a = 2 R w'", "F/m = 2 R w' + g", "P = 2 m R w' R w + m g R w")
    assert [p.found for p in result.points][2] != "met"
    assert marked("a = 2 R w'", "m a = 2 m R w'").points[2].found == "not met"


def test_a_point_without_ft_is_not_followed_through():
    scheme = WINCH.replace("(R w' + g)   ft        -- needs p1", "(R w' + g)             -- needs p1")
    point = marked("a = 2 R w'", "F = m (2 R w' + g)", scheme=scheme).points[2]
    assert (point.marks, point.place) == (0, "line 3")
    assert "from an earlier slip" in point.why


def test_a_goal_is_not_met_inside_a_line_that_gives_another_quantity():
    scheme = WINCH.replace("Show:\n", "Show:\n  F = m (R w' + g)\n")
    result = marked("P = F v", "P = (m a + m g) v", "P = m (R w' + g) R w", scheme=scheme)
    assert [p.marks for p in result.points[2:]] == [0, 2]


def test_a_line_that_tries_for_a_point_and_slips_is_told_apart_from_no_line():
    tried = marked("a = R w'", "F = m (R w' - g)").points[2]
    assert (tried.marks, tried.place) == (0, "line 3")
    assert "wrong" in tried.why
    assert marked("a = R w'", "F = m (a + g)").points[3].why == "No line says this."


def test_a_line_that_cannot_be_read_leaves_open_what_it_may_have_said():
    result = marked("a = R w'", "F = = m (")
    assert [p.found for p in result.points] == ["met", "second look", "second look", "second look"]
    assert result.flagged


def test_a_working_with_a_slip_and_every_line_read_leaves_nothing_open():
    result = marked("a = R w'", "F = m (a - g)")
    assert [p.found for p in result.points] == ["met", "not met", "not met", "not met"]
    assert not result.flagged


def test_a_right_working_by_a_road_the_scheme_does_not_know_has_every_mark():
    result = marked("P = (m a + m g) v", "P = m (v' + g) v", "P = m (R w' + g) R w")
    assert [p.marks for p in result.points] == [1, 1, 1, 2]
    assert not result.flagged


def test_a_working_that_stops_early_has_the_marks_of_what_stands_there_and_is_sure():
    result = marked("a = R w'")
    assert [p.marks for p in result.points] == [1, 0, 0, 0]
    assert not result.flagged


def test_the_slip_of_the_first_break_is_named_where_it_stands():
    slip = marked("(1) a = R w'", "(2) F = a m - 2 m g").slip
    assert slip is not None
    assert (slip.place, slip.text) == ("(2)", "F = a m - 2 m g")
    assert slip.claim == "F = a m - 2·m g"


def test_an_integral_left_to_be_worked_out_is_no_arrangement_of_its_value():
    from derive.marking.working import Marker
    from tests.marking.made import shipped

    result = Marker(shipped("lockgate")).text("Working:\nF = ρ g b ∫_0^h z dz\n", "w")
    assert [p.marks for p in result.points][:2] == [1, 0]


def test_integrals_on_both_sides_say_what_was_separated():
    from derive.marking.working import Marker
    from tests.marking.made import shipped

    slip = Marker(shipped("barge")).text("Working:\n∫ dv/v = -(b/m) ∫ dt\nv = e^(-b t/m)\n", "w")
    assert slip.points[0].marks == 1
    other = Marker(shipped("barge")).text("Working:\n∫ v dv = -(b/m) ∫ dt\n", "w")
    assert other.points[0].marks == 0
