"""Words around the verdicts: the outcome, headings, lists of lines, what was to be shown."""

from __future__ import annotations

REPORTS: dict[str, tuple[str, ...]] = {
    # --- what a report says around them: outcome, headings, lists of lines -------------------------------
    "outcome.unbroken": ("The working holds from its first line to its last.",),
    "outcome.broken": ("The working breaks first at {where}.", "The working breaks."),
    "outcome.unsure": ("No break was found, but a person has to look before this can be called unbroken.",),
    "outcome.unread": ("This could not be read.",),
    "title.problems": ("To mend in the file",),
    "title.broken": ("Why {line} does not follow",),
    "title.broken_too": ("A break of its own: {line}",),
    "title.after": ("After the break",),
    "title.unreadable": ("What could not be read in {line}",),
    "title.undecided": ("Undecided: {line}",),
    "title.conditions": ("Conditions",),
    "title.rests_on": ("What this rests on",),
    "title.remarks": ("Remarks",),
    "title.goal": ("What was to be shown",),
    "title.result": ("A look at the result in {line}", "A look at the result"),
    "title.readings": ("How it was read",),
    "title.proof": ("How “{piece}” in {line} was proved", "How {line} was proved"),
    "piece.at_line": ("In {line}: {said}",),
    "report.expected": (
        "“{piece}” was expected to follow from {premises}.",
        "“{piece}” was expected to follow from what stands before it.",
    ),
    "piece.state": (
        "with {values}, the left side is {left} and the right side is {right}",
        "the left side is {left} and the right side is {right}",
    ),
    "report.lost_case": ("In the case left out, {found}.",),
    "piece.state_opening": ("Everything before it holds, for instance, with",),
    "piece.state_turn": ("but there",),
    "piece.state_bare": ("Everything before it holds, and yet",),
    "piece.state_sign": ("where left {sign} right was claimed.",),
    "report.carried": (
        "{lines}: the step is sound, but rests on {origin}. That is the same slip, not a new one.",
        "{lines}: the step is sound, but rests on an earlier slip. That is no new one.",
    ),
    "report.still_holds": ("Not touched by the break: {lines}.",),
    "report.proved": ("Proved: {lines}.",),
    "report.tested": (
        "Tested in {points} states and right in all of them, though not proved: {lines}.",
        "Tested and never found wrong, though not proved: {lines}.",
    ),
    "report.used": ("Used besides the writer's own lines: {premises}.",),
    "brings.definition": ("Definitions: {lines}.",),
    "brings.shorthand": ("Taken to say what a new letter stands for: {lines}.",),
    "brings.trial": ("Taken on trial: {lines}.",),
    "brings.initial": ("Conditions at an instant: {lines}.",),
    "brings.regime": ("Taken as small: {lines}.",),
    "brings.case": ("Cases opened: {lines}.",),
    "brings.start": ("Taken as the way things start: {lines}.",),
    "report.closing": (
        "Whether each line follows is all that is said here. What the working is worth is for its marker and "
        "the rules of the course, which stand above this report.",
    ),
    "goal.reached": ("“{goal}” is reached in {where}.", "“{goal}” is reached."),
    "goal.reached_if": (
        "“{goal}” is reached in {where}, if {condition}.",
        "“{goal}” is reached if {condition}.",
        "“{goal}” is reached under a condition.",
    ),
    "goal.not_reached": ("No line arrives at “{goal}”.",),
    "goal.carried": ("“{goal}” is reached only by way of a line that does not hold.",),
    "goal.undecided": ("Whether “{goal}” is reached could not be decided; a person should look.",),
    "goal.unreadable": ("“{goal}” could not be read, so whether it is reached is for a person to see.",),
    "goal.missed": ("“{goal}” is not reached.",),
}
