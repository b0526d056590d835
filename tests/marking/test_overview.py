"""A class as a whole: its figures against hand calculation, and sense made of odd classes."""

import pytest

from derive.marking.mark_sheet import NotASheet, read_sheet
from derive.marking.overview import overview
from derive.marking.overview_report import Usual, bars, class_page, figures, say_class

HEAD = "working,p1 (M1),p2 (A2 ft),total (of 3),open,first break,slip,equal slip,second look,decided\n"


def sheet(*rows):
    return read_sheet(HEAD + "\n".join(rows) + "\n")


def said(o, usual=None):
    out = []
    say_class(o, usual or Usual(), "a class", out.append)
    return "\n".join(out)


FOUR = ("a,1,2,3,0,,,,,", "b,1,0,1,0,(2),sign,ab12cd,,", "c,0,0,0,0,line 3,sign,ab12cd,,", "d,1,2,3,0,,,,,")


def test_mean_median_spread_and_counts_are_those_found_by_hand():
    o = overview(sheet(*FOUR))
    assert (o.mean, o.median, o.counts) == (1.75, 2.0, (1, 1, 0, 2))
    assert o.spread == pytest.approx(1.299038)


def test_facility_is_the_mean_mark_over_the_most():
    assert [p.facility for p in overview(sheet(*FOUR)).points] == [0.75, 0.5]


def test_discrimination_is_the_correlation_with_the_rest_of_the_total():
    # p1 = 1 1 0 1 beside p2 = 2 0 0 2: covariance 0.25, spreads √0.1875 and 1.
    assert overview(sheet(*FOUR)).points[0].correlation == pytest.approx(0.25 / 0.1875**0.5)


def test_the_upper_lower_index_compares_the_outer_27_per_cent():
    rows = [f"w{k:02d},{int(k >= 5)},{2 * (k >= 8)},{int(k >= 5) + 2 * (k >= 8)},0,,,,," for k in range(11)]
    o = overview(sheet(*rows))
    assert o.points[0].upper_lower == 1.0
    assert o.points[1].upper_lower == 1.0
    assert overview(sheet(*FOUR)).points[0].upper_lower is None


def test_the_share_below_the_pass_line_stands_beside_what_is_usual():
    o = overview(sheet(*FOUR), passing=2)
    assert (o.below, o.share_below) == (2, 0.5)
    assert "Below the pass line of 2 marks: 2, which is 50 %, where 20 % is usual." in said(o, Usual(0.2))


def test_the_commonest_first_breaks_are_told_with_who():
    (broken,) = overview(sheet(*FOUR)).breaks
    assert broken.who == ("b", "c")
    assert "sign" in broken.what


@pytest.mark.parametrize("rows", [(), ("a,1,2,3,0,,,,,",), ("a,0,0,0,0,,,,,", "b,0,0,0,0,,,,,"),
                                  ("a,1,1,2,0,,,,,",) * 5, ("a,,,,,,,,,",), ("a,?,?,0,3,,,,unread,",)])
def test_odd_classes_make_sense(rows):
    o = overview(sheet(*rows), passing=1)
    assert "nan" not in said(o, Usual(0.1)).lower()
    assert "<svg" in class_page(o, Usual(), "odd")
    assert len(bars(o)) == 4
    assert figures(o, Usual())


def test_where_nothing_varies_nothing_is_said_of_discrimination():
    o = overview(sheet(*("a,1,1,2,0,,,,,",) * 12))
    assert [p.correlation for p in o.points] == [None, None]


def test_an_absent_student_is_counted_apart():
    o = overview(sheet(*FOUR, "e,,,,,,,,,"))
    assert (o.present, o.absent) == (4, ("e",))
    assert "Without marks: 1 (e)." in said(o)


def test_a_sheet_that_a_spreadsheet_saved_with_semicolons_is_read_too():
    text = ("\ufeff" + HEAD + "'=a,1,2,3,0,,,,,\n").replace(",", ";")
    assert [r.name for r in read_sheet(text).rows] == ["=a"]


@pytest.mark.parametrize("encoding", ["utf-8-sig", "utf-16", "cp1252"])
def test_a_sheet_is_read_in_whichever_encoding_a_spreadsheet_left_it(encoding):
    text = 'sep=;\r\n' + HEAD.replace(",", ";") + "Jørgen;1;2;3;0;;;;;\r\n;;;;;;;;;\r\n"
    assert [r.name for r in read_sheet(text.encode(encoding)).rows] == ["Jørgen"]


def test_half_marks_count_as_halves_whichever_sign_stands_before_them():
    text = HEAD.replace(",", ";") + "a;1;1,5;2,5;0;;;;;\nb;0.5;1;1.5;0;;;;;\n"
    o = overview(read_sheet(text), passing=2)
    assert (o.mean, o.below, o.counts, o.unlike) == (2.0, 1, (0, 1, 1, 0), ())


def test_a_total_that_somebody_forgot_to_change_is_told():
    o = overview(sheet("a,1,2,1,0,,,,,", "b,1,0,1,0,,,,,"))
    assert o.unlike == ("a",)
    assert "were taken as they stand: 1 (a)." in " ".join(said(o).split())


@pytest.mark.parametrize("text", ["", "x,y\n1,2\n", "working,p1 (M1)\na,1\n"])
def test_another_file_is_refused_in_words(text):
    with pytest.raises(NotASheet):
        read_sheet(text)


def test_names_on_the_page_are_text_and_nothing_else():
    o = overview(sheet('"<script>x</script>",1,2,3,0,(1),"<b>sign",,,'))
    page = class_page(o, Usual(), "<i>title")
    assert "<script" not in page
    assert "<b>" not in page
    assert "<i>" not in page


def test_who_cannot_see_the_histogram_is_told_its_counts_and_who_can_is_told_the_pass_line():
    page = class_page(overview(sheet(*FOUR), passing=2), Usual(), "a class")
    assert 'aria-label="Histogram: how many workings have each total. 0 marks: 1, 1 marks: 1, 3 marks: 2."' in page
    assert ">pass line</text>" in page
