"""Words about mark points, mark sheets and classes, as markers and students read them."""

from __future__ import annotations

MARKING: dict[str, tuple[str, ...]] = {
    # --- a mark scheme ------------------------------------------------------------------------------------
    "marks.none": ("This exercise has no mark scheme: write its points under “Marks:”.",),
    "marks.unreadable": (
        "This point's mathematics could not be read. Expected there: {expected}.",
        "This point's mathematics could not be read.",
    ),
    # --- why a point is met or not -------------------------------------------------------------------------
    "award.met": ("Met in {line}.", "Met."),
    "award.followed": (
        "Followed through in {line}: a sound step from an earlier slip.",
        "Followed through: a sound step from an earlier slip.",
    ),
    "award.implied": (
        "Not written down, but {line} has it put in.", "Not written down, but a further line has it put in.",
    ),
    "award.by_road": ("The working holds and arrives by another way, which does what this asks for.",),
    "award.not_met": ("No line says this.",),
    "award.slipped": ("{line} tries for this and goes wrong.", "A line tries for this and goes wrong."),
    "award.from_slip": (
        "{line} comes to this from an earlier slip; this point is not followed through.",
        "A line comes to this from an earlier slip; this point is not followed through.",
    ),
    "award.copied": ("Only the goal as the question gives it says this; no line leads to it.",),
    "award.spoiled": ("{line} goes wrong where it comes to this.", "The working goes wrong where it comes to this."),
    "award.slip_before": (
        "The slip in {line} is on the way to this, and costs it.", "A slip on the way to this costs it.",
    ),
    "award.need_not_met": (
        "Said in {line}, but {needed}, which it needs, is not met.",
        "Said, but {needed}, which it needs, is not met.",
        "Said, but a point that it needs is not met.",
    ),
    "award.need_open": (
        "Said in {line}; it needs {needed}, which is open.", "Said; it needs {needed}, which is open.",
        "Said; it needs a point that is open.",
    ),
    "award.doubtful": (
        "{line} says this, but was not found to follow; a person should look.",
        "A line says this, but was not found to follow; a person should look.",
    ),
    "award.nearly_followed": (
        "{line} gives this quantity from an earlier slip, in terms of fewer symbols; a person should look.",
        "A line gives this quantity from an earlier slip, in terms of fewer symbols; a person should look.",
    ),
    "award.undecided": (
        "{line} may say this and could not be decided.", "A line that could not be decided may say this.",
    ),
    "award.number_alone": (
        "{line} gives this number without saying what it is; a person should look.",
        "A line gives this number without saying what it is; a person should look.",
    ),
    "award.unreadable": (
        "{line} could not be read and may say this.", "A line that could not be read may say this.",
    ),
    "award.another_road": (
        "The working holds and arrives, by a way on which no line says this; a person should look.",
    ),
    "award.other_name": (
        "{line} gives this of another name; a person should look.",
        "A line gives this of another name; a person should look.",
    ),
    "award.point_unread": ("The point itself could not be read.",),
    "award.unmarked": ("The working could not be marked.",),
    # --- why a person should look ---------------------------------------------------------------------------
    "look.undecided": ("{line} could not be decided: “{text}”.",),
    "look.unreadable": ("{line} could not be read: “{text}”.",),
    "piece.look_point": ("Point {point}: {why}",),
    "look.other_exercise": ("The file says that it belongs to another exercise: “{name}”.",),
    "look.too_long": ("Marking took longer than {seconds} s and was stopped.",),
    "look.lost_worker": ("Marking this file ended the process that did it, twice.",),
    "look.too_much": ("Marking this file needs more memory than is allowed.",),
    "look.defect": ("Marking this file failed because of a defect in Thence ({kind}).",),
    "file.broken_link": ("“{name}” is a link to a file that is not there.",),
    "file.not_plain": ("“{name}” is not a plain file.",),
    # --- feedback -------------------------------------------------------------------------------------------
    "title.feedback": ("{title}: {name}",),
    "piece.marks": ("{marks} of {most} marks", ),
    "piece.marks_open": ("{marks} of {most} marks, and {open} more that a person has yet to decide",),
    "feedback.state": ("All that stands before it can be true and this false: {found}.",),
    "feedback.closing": (
        "These marks are a proposal made by a program. What the marker decides and the rules of the course stand "
        "above it; ask the marker where something looks wrong.",
    ),
    # --- decisions ------------------------------------------------------------------------------------------
    "piece.decided": ("Decided by the marker: {reason}",),
    "decision.note": ("{point} = {marks}: {reason}.",),
    "decision.no_reason": ("“{text}” gives no reason: write one after two dashes. It was not applied.",),
    "decision.unread": (
        "“{text}” could not be read as a decision, and was not applied. Write it as “working NAME: p2 = 1 -- reason” "
        "or “slip NAME: say WORDS -- reason”, with whole marks.",
    ),
    "decision.too_many": ("Only the first {limit} decisions were read.",),
    "decision.no_slip": (
        "No group of equal slips is called “{name}”, so this decision was not applied. Was “{near}” meant?",
        "No group of equal slips is called “{name}”, so this decision was not applied.",
    ),
    "decision.no_working": (
        "No working is called “{name}”, so this decision was not applied. Was “{near}” meant?",
        "No working is called “{name}”, so this decision was not applied.",
    ),
    "decision.no_point": (
        "The mark scheme has no point “{name}”, so this decision was not applied. Was “{near}” meant?",
        "The mark scheme has no point “{name}”, so this decision was not applied.",
    ),
    "decision.too_much": (
        "Point {point} is worth {most} at most, not {marks}, so this decision was not applied.",
        "The point is worth less than that, so this decision was not applied.",
    ),
    # --- the lists beside a mark sheet -----------------------------------------------------------------------
    "list.look_head": (
        "Workings that a person should look at. Marks marked “?” are open until somebody decides them in "
        "decisions.txt.",
    ),
    "list.look_none": ("Nobody needs a second look.",),
    "title.no_mark_lost": ("Broken, and yet no mark of the scheme is lost:",),
    "list.slips_head": (
        "Equal slips: lines that break and say the same, whichever way they are written. Decide about one in "
        "decisions.txt by its name.",
    ),
    "list.slips_none": ("No working breaks.",),
    "piece.members": ("in {count} workings:",),
    "piece.one_member": ("in one working:",),
    "title.same_workings": ("Workings that are the same but for spacing and names:",),
    "piece.none": ("none",),
    "change.gone": ("{name} is no longer in the folder.",),
    "change.new": ("{name} is new.",),
    "change.cells": ("{who}: {cells}.", "Some cells changed."),
    "piece.changed": ("{what} was {was}, is {now}",),
    # --- what a marker is told on the screen ----------------------------------------------------------------------
    "mark.done": ("Workings of “{title}” marked: {count}.",),
    "mark.mean": ("The mean is {mean} of {most} marks, open ones not counted.",),
    "mark.nothing": ("Nothing in the folder could be a working: it is empty, or holds hidden files only.",),
    "mark.resumed": ("Of these, kept from an earlier run: {count}.",),
    "mark.looks": ("For a person to look at: {count} (second_look.txt says why).",),
    "mark.sure": ("Every mark is sure.",),
    "title.shared_slips": ("Slips that several share (slips.txt has all):",),
    "mark.same": ("Sets of workings that are the same but for spacing and names: {count} (slips.txt lists them).",),
    "title.changed": ("Since the last run:",),
    "piece.decision_line": ("decisions.txt, line {line}",),
    "piece.exercise_line": ("The exercise, line {line}",),
    "piece.more_changes": ("and {count} more changes",),
    "mark.written": ("Written to {folder}: mark_sheet.csv, pages, second_look.txt, slips.txt, decisions.txt.",),
    "mark.closing": (
        "These marks are a proposal: the marker's judgement and the rules of the course stand above them.",
    ),
    "mark.not_written": (
        "Marking stopped, because “{name}” could not be read or written: {why}. What was marked so far is kept; "
        "start the same command again.",
        "Marking stopped: {why}. What was marked so far is kept; start the same command again.",
    ),
    # --- vetting an exercise ------------------------------------------------------------------------------------------
    "vet.part_missing": ("There is nothing under “{part}”.",),
    "vet.undeclared": ("“{name}” is used here and not declared under “Symbols:”.",),
    "vet.no_unit": ("“{name}” has no unit: write one, or 1 for a plain number.",),
    "vet.unused": ("“{name}” is declared and never used.",),
    "vet.dimensions": ("The dimensions do not fit in “{text}”.",),
    "vet.unreadable": ("This could not be read. Expected there: {expected}.", "This could not be read."),
    "vet.given_not_taken": ("“{text}” is not understood as a given, so that no line can rest on it.",),
    "vet.goal_in_a_given": ("“{text}” is to be shown, and is one of the givens in another arrangement.",),
    "vet.goal_given": ("“{text}” is to be shown, and a given or the declarations already say it.",),
    "vet.line_breaks": (
        "Line {line} of the solution does not follow.", "A line of the solution does not follow.",
    ),
    "vet.line_unsure": ("Line {line} of the solution could not be decided or read.",),
    "vet.line_condition": ("Line {line} of the solution holds only if {condition}.",
                           "Line {line} of the solution holds under a condition."),
    "vet.goal_not_reached": ("No line of the solution arrives at “{text}”.",),
    "vet.point_not_met": (
        "Point {point} is not met by the solution: no line of it says this.", "A point is not met by the solution.",
    ),
    "vet.points_alike": (
        "Points {point} and {other} say the same in another arrangement: a line that says one says both.",
    ),
    "vet.points_alike_solved": (
        "Points {point} and {other} say the same in another arrangement: who solves for {other} says both.",
    ),
    "vet.point_given": ("Point {point} is a given, or one in another arrangement: little has to be shown for it.",),
    "vet.total": ("The statement speaks of {said} marks, and the points add up to {total}.",),
    "vet.size": ("{symbols} symbols, {givens} givens, {lines} lines of solution; {points} points, {total} marks.",),
    "vet.faults": ("Not ready to go out: {count} to mend.",),
    "vet.clean": ("Nothing to mend.",),
    "vet.line_slips": ("{line}: {found} of {tried} slips on purpose are found; one there costs {costs}.",),
    "vet.line_slips_further": (
        "{line}: {found} of {tried} slips on purpose are found; one there costs {costs}, to which it leads.",
    ),
    "vet.line_slips_free": (
        "{line}: {found} of {tried} slips on purpose are found; one there costs no point.",
    ),
    "title.to_mend": ("To mend",),
    "title.to_know": ("To know",),
    "title.slips": ("Slips made on purpose in the solution",),
    "title.through": ("These would get through:",),
    "title.left_open": ("These would be left to a person:",),
    "piece.more": ("and {count} more",),
    # --- a sheet and a class ----------------------------------------------------------------------------------
    "title.exercise": ("Exercise: {title}",),
    "class.nobody": ("Nobody has marks on this sheet.",),
    "class.size": ("Workings with marks: {count}.",),
    "class.size_one": ("Workings with marks: 1, so there is no spread to speak of.",),
    "class.middle": (
        "Mean {mean}, median {median}, spread (standard deviation) {spread}, of {most} marks.",
        "Mean {mean}, median {median}, of {most} marks.", "The mean is not known.",
    ),
    "class.open": ("Of these, with points that a person has yet to decide: {count}. Open points count as none here.",),
    "class.unlike": (
        "Totals that are not the sum of their points, and were taken as they stand: {count} ({who}).",
        "Some totals are not the sum of their points, and were taken as they stand.",
    ),
    "piece.no_names": ("its first cell is not “{head}”",),
    "piece.no_total": ("it has no column “{head} (of …)”",),
    "class.below": (
        "Below the pass line of {pass} marks: {count}, which is {share} %, where {usual} % is usual.",
        "Below the pass line of {pass} marks: {count}, which is {share} %.",
        "How many are below the pass line is not known.",
    ),
    "class.absent": ("Without marks: {count} ({who}).", "Some are without marks."),
    "class.formulas": (
        "Facility: mean mark over most marks. Correlation: of the point's marks with the total of the other points "
        "(corrected item–total; point-biserial for points of one mark). Upper–lower: facility in the best 27 % less "
        "that in the last 27 % (Kelley 1939), from ten workings on. A dash: too little varies to say.",
    ),
    "class.histogram": (
        "Histogram: how many workings have each total. {counts}.",
        "Histogram: how many workings have each total.",
    ),
    "piece.have_total": ("{total} marks: {count}",),
    "class.breaks_where": ("In slips.txt, beside the mark sheet, each stands under the name in brackets.",),
    "class.not_a_sheet": ("{name} is not a mark sheet: {why}.", "This is not a mark sheet."),
    "title.totals": ("How many have each total",),
    "title.points": ("Points",),
    "title.first_breaks": ("First breaks",),
    "piece.pass_line": ("pass line",),
    "cluster.not_installed": ("To mark on a scheduler, install the extra: pip install 'thence[cluster]'.",),
    "cluster.not_reached": ("No scheduler answers at {address}.", "No scheduler answers."),
}
