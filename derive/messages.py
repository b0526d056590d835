"""Every sentence about a verdict or a problem that a person can meet, in one place.

The stages name a message by its code and hand over facts; the words are chosen here. No stage composes
sentences of its own, and nothing here decides anything. A code has one or more templates, the fullest
first: the first whose facts are all there is used, so that a stage which knows less still speaks plainly.

To change a wording, change it here and refresh the golden reports (DEVELOPERS.md says how).
"""

from __future__ import annotations

import string
from collections.abc import Iterable, Mapping

_REGISTRY: dict[str, tuple[str, ...]] = {
    # --- a line that does not follow -----------------------------------------------------------------
    "fails.state": (
        "There is a state in which everything before this line holds and this line does not.",
    ),
    "fails.contradicts": (
        "This line cannot be true together with what stands before it: no state fits both.",
    ),
    "fails.dimension": (
        "The dimensions do not fit: {term} is {found}, where {expected} is needed.",
        "The dimensions do not fit: {term} is {found}, which cannot stand beside the rest of the line.",
        "The dimensions of the two sides, or of two terms added together, do not fit.",
    ),
    "fails.number": (
        "The number does not come out: {written} is written, and the lines above give {exact}. {hint}",
        "The number does not come out: {written} is written, and the lines above give {exact}.",
        "The number does not come out as written.",
    ),
    "fails.constant_missing": (
        "An integral without limits brings a constant with it, and this line has none.",
    ),
    "fails.too_few_constants": (
        "This satisfies the equation but is not all of its solutions: it has {have} free constants, and an "
        "equation of this order needs {need}.",
        "This satisfies the equation but has too few free constants to be all of its solutions.",
    ),
    "fails.derivative": (
        "The two sides agree at this instant but do not change alike: differentiated in time, the left side "
        "gives {left} and the right side {right}.",
        "The two sides agree at this instant but do not change alike in time.",
    ),
    "fails.order": (
        "Terms of different smallness are mixed here: a term of the same size as {dropped} was kept in one "
        "place and dropped in another.",
        "Terms of different smallness are mixed here: what is dropped in one place must be dropped in all.",
    ),
    "fails.redefined": (
        "{name} already has a meaning, so this line cannot give it a new one. Choose a letter not yet in use.",
        "This name already has a meaning. Choose a letter not yet in use.",
    ),
    "fails.vector_scalar": (
        "One side is a vector and the other a plain number; they can never be equal. Take a component or a "
        "magnitude.",
    ),
    "fails.vector_product": (
        "Two vectors stand side by side without a dot or a cross. Write a·b or a × b.",
    ),
    "fails.vector_power": (
        "A vector has no powers. Write its magnitude, |v|², or the dot product, v·v.",
    ),
    "fails.derivative_variable": (
        "A derivative is by one quantity, such as t or x; {by} is not one.",
        "A derivative is by one quantity, such as t or x, and this one is not.",
    ),
    "fails.integral_variable": (
        "An integral is over one quantity, such as t or x; {by} is not one.",
        "An integral is over one quantity, such as t or x, and this one is not.",
    ),
    "fails.nothing_varies": (
        "Nothing here depends on what it is differentiated by. Declare what varies, for instance y(t).",
    ),
    "fails.start": (
        "This satisfies the equation, but {name} does not start as the lines above say.",
        "This satisfies the equation, but does not start as the lines above say.",
    ),
    "fails.limit": ("In this limit the two sides do not come together.",),
    "fails.proportion": ("The two sides are not in proportion: their ratio changes with what stands on the right.",),
    "fails.not_a_solution": (
        "Put into the equation, this does not satisfy it.",
    ),
    "fails.goal_not_reached": (
        "The working does not arrive at what was to be shown.",
    ),
    # --- a line that holds ---------------------------------------------------------------------------
    "follows.plain": ("This follows from what stands before it.",),
    "follows.general_solution": (
        "This is the general solution of the equation, with {constants} free to choose.",
        "This is the general solution of the equation.",
    ),
    "follows.constant": (
        "This follows, with {name} as a new constant.",
        "This follows, with a new constant.",
    ),
    "follows.limit": ("The left side goes to the right side in this limit.",),
    "follows.in_case": ("This holds in the case opened above: {case}.", "This holds in the case opened above."),
    "follows.at": ("This holds at the instant spoken of: {case}.", "This holds at the instant spoken of."),
    "follows.later_line": (
        "This rests on line {label}, which is shown only further down; it would read better above.",
        "This rests on a line shown only further down; it would read better above.",
    ),
    "follows.if": (
        "This holds only if {condition}, and nothing before it says so.",
        "This holds only under a condition that nothing before it states.",
    ),
    "follows.reason_differs": (
        "The line is right, but not for the reason given beside it.",
    ),
    "approximates.number": (
        "Right to the figures written; the lines above give {exact}.",
        "Right to the figures written.",
    ),
    "approximates.rounded": ("Right to the figures kept in the numbers above.",),
    "approximates.order": (
        "Right to the order kept here; what is dropped is of the size of {dropped}.",
        "Right to the order kept here.",
    ),
    # --- a line with nothing to show -------------------------------------------------------------------
    "taken.given": ("Given.",),
    "taken.definition": ("Introduces {name}.", "Introduces a name."),
    "taken.shorthand": (
        "{name} is not among the declared symbols; this line was taken to say what it stands for.",
        "A name that is not among the declared symbols; this line was taken to say what it stands for.",
    ),
    "taken.start": (
        "Says how {name} starts; nothing before it does.",
        "Says how things start; nothing before it does.",
    ),
    "taken.trial": ("A trial solution, taken to be tried out below.",),
    "taken.initial": ("Says how things stand at one instant.",),
    "taken.regime": ("Says which quantities are small from here on.",),
    "taken.case": ("Opens a case; what follows is said of that case.",),
    "taken.constant": ("Brings in the constant {name}.", "Brings in a constant of integration."),
    "carried.from": (
        "Follows from line {line}, which does not hold; the step itself is sound.",
        "Follows from an earlier line that does not hold; the step itself is sound.",
    ),
    # --- a line that needs a person ----------------------------------------------------------------------
    "undecided.budget": (
        "Neither shown nor refuted in the time allowed. A person should look at this line.",
    ),
    "undecided.proportion": (
        "Nothing before this line says what the left side is, so whether it is in proportion cannot be decided.",
    ),
    "unreadable.unit": ("{name} is not a unit that Thence knows.", "A unit here is not one that Thence knows."),
    "unreadable.arguments": (
        "A function is taken here at more, or at other, quantities than it was declared with.",
    ),
    "unreadable.line": (
        "Reading stopped at “{typed}”, where {expected} was expected. Did you mean {nearest}?",
        "Reading stopped at “{typed}”, where {expected} was expected.",
        "The line stops where {expected} was expected.",
        "Reading stopped here.",
    ),
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
    "title.readings": ("How it was read",),
    "title.proof": ("How {line} was proved",),
    "piece.at_line": ("In {line}: {said}",),
    "report.expected": (
        "“{piece}” was expected to follow from {premises}.",
        "“{piece}” was expected to follow from what stands before it.",
    ),
    "report.state": (
        "With {values}, the left side is {left} and the right side is {right}.",
        "There the left side is {left} and the right side is {right}.",
    ),
    "piece.lost_case": ("The case left out: {found}",),
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
    "brings.trial": ("Taken on trial: {lines}.",),
    "brings.initial": ("Conditions at an instant: {lines}.",),
    "brings.regime": ("Taken as small: {lines}.",),
    "brings.case": ("Cases opened: {lines}.",),
    "brings.constant": ("New constants: {lines}.",),
    "report.closing": (
        "Whether each line follows is all that is said here. What the working is worth is for its marker and "
        "the rules of the course, which stand above this report.",
    ),
    "goal.reached": ("“{goal}” is reached.",),
    "goal.reached_if": ("“{goal}” is reached if {condition}.", "“{goal}” is reached under a condition."),
    "goal.carried": ("“{goal}” is reached only by way of a line that does not hold.",),
    "goal.undecided": ("Whether “{goal}” is reached could not be decided; a person should look.",),
    "goal.unreadable": ("“{goal}” could not be read, so whether it is reached is for a person to see.",),
    "goal.missed": ("“{goal}” is not reached.",),
    # --- a file that cannot be had ----------------------------------------------------------------------
    "file.missing": ("There is no file {name} here. Check the name, and the folder it is in.",),
    "file.folder": ("{name} is a folder. Name the files in it, for instance {name}/*.txt.",),
    "file.denied": ("You may not read {name}. Ask for the right to, or copy its text to a file of your own.",),
    "file.failed": ("{name} could not be read ({why}). Check the name, or copy its text to a new file.",),
    "file.too_big": (
        "The file is larger than {limit}, which no working needs. Is it the right file?",
        "The file is larger than any working needs. Is it the right file?",
    ),
    "file.too_long": (
        "Only the first {limit} lines were read. Split the working into several files.",
        "Not all lines were read. Split the working into several files.",
    ),
    "file.binary": ("This is not a text file. Save the working as plain text (UTF-8) and name that file.",),
    "file.empty": ("There is nothing in this file. Type the working, one line under the other, and save it.",),
    "file.encoding": ("The letters of this file could not be made out. Save it as plain text in UTF-8.",),
    # --- a heading ----------------------------------------------------------------------------------------
    "heading.meant": (
        "“{typed}:” was taken as the heading {meant}. Write “{meant}:” alone on its line.",
    ),
    "heading.unknown": (
        "“{typed}:” is not a heading Thence knows, so the lines under it were not read. The headings are {headings}.",
        "This is not a heading Thence knows, so the lines under it were not read.",
    ),
    "exercise.unknown": (
        "No exercise called “{name}” was found beside the working or among those shipped. Nearest: {nearest}.",
        "No exercise called “{name}” was found beside the working or among those shipped. Give its file with "
        "--exercise FILE.",
    ),
    # --- the lines of a file ------------------------------------------------------------------------------
    "working.none": ("There is no working to check. Type “Working:” on a line of its own and the steps below it.",),
    "label.twice": ("The label ({label}) stands at two lines, and a reason names it. Give one of them another label.",),
    # --- the rows of a table of symbols ------------------------------------------------------------------
    "symbols.no_colon": ("“{typed}” declares nothing. Type the name, a colon and the unit, as in “m : kg, positive”.",),
    "symbols.no_name": ("“{typed}” is not a name. Type a letter, with a subscript if need be, as in “v_0 : m/s”.",),
    "symbols.twice": ("{name} is declared twice. Keep one of the two rows.",),
    "symbols.too_long": ("This row is longer than {limit} characters. Declare one name, and keep its note short.",),
    "symbols.unit": (
        "“{typed}” is not a unit. Did you mean {nearest}? Notes go after “--”.",
        "“{typed}” could not be read as a unit: {hint}.",
        "“{typed}” is neither a unit nor a word known here. Type a unit as in “kg/m^3”, and notes after “--”.",
    ),
    "symbols.two_units": ("{name} has a unit already, so “{typed}” is one too many. Keep one unit.",),
    "symbols.word": ("“{typed}” is not known here. Did you mean “{nearest}”?",),
    "symbols.number": (
        "“{typed}” gives {name} a value. Type “about …” for a typical value, or put it under “Given:”.",
    ),
    "symbols.bound": ("The range “{typed}” could not be read. Type it as in “0 < {name} < 1”.",),
    "symbols.about": ("“{typed}” could not be read. Type a number after “about”, as in “about 40”.",),
    "symbols.about_unit": (
        "“{typed}” is not in {unit}, the unit of {name}. Type the value in that unit.",
        "“{typed}” does not have the dimension of {name}. Type the value in the unit of {name}.",
    ),
    "symbols.small": (
        "{name} has a unit, so it is small only beside something. Say beside what, as in “{name} << L”.",
    ),
    # --- the rows of a mark scheme --------------------------------------------------------------------------
    "marks.no_label": ("A mark point begins with its label. Type it as in “(p1)  M2  F = m a”.",),
    "marks.no_kind": ("After the label comes the kind of mark and how many: type M1, A1 or B1.",),
    "marks.count": ("A point carries 1 to {most} marks. Type a number in that range.",),
    "marks.no_claim": ("This point says nothing that a line could meet. Type the relation after the marks.",),
    "marks.twice": ("The label ({label}) is used twice. Give each point its own label.",),
    "marks.needs_itself": ("Point ({label}) needs itself. Name the point that has to be met first, or leave it out.",),
    "marks.needs_unknown": (
        "There is no point ({need}). Did you mean ({nearest})?",
        "There is no point ({need}). Name one of the points above.",
    ),
    "marks.needs_later": ("Point ({label}) needs ({need}), which comes after it. Put ({need}) first.",),
    # --- a working and its exercise -------------------------------------------------------------------------
    "exercise.clash": (
        "{name} is declared in the exercise already ({unit}), which holds. Remove your row, or use another letter.",
    ),
    "exercise.given_added": (
        "The exercise does not give this, so it is not used. Move it into the working and show it there.",
    ),
    "exercise.show_added": (
        "What is to be shown is set by the exercise, so this is not used. Remove it, or move it into the working.",
    ),
    # --- the working as a whole ----------------------------------------------------------------------------
    "context.contradiction": (
        "The givens contradict each other: no state satisfies {lines} together, so nothing can be said to "
        "follow from them.",
        "The givens contradict each other: no state satisfies all of them, so nothing can be said to follow "
        "from them.",
    ),
    "note.plain_numbers": (
        "Plain numbers stand here without units; they were read as SI values.",
    ),
    "note.reading": ("“{typed}” was read as {taken}.",),
    "note.unknown_name": (
        "{name} is not among the declared symbols; it was taken as a quantity without a unit.",
        "A name here is not among the declared symbols; it was taken as a quantity without a unit.",
    ),
    # --- what the slip was: the second template of a kind is for slips whose place is not clear --------------
    "slip.place": ("Look again at “{term}”.", "Look again at this line."),
    "slip.several": ("More than one small change would mend this line, so which slip it was cannot be said.",),
    "slip.unclear": ("No single small slip explains this line. Go back to what it should follow from.",),
    "slip.edit": ("“{before}” should read {after}.", "It should read {after}."),
    "slip.sign": ("The sign of “{term}” does not fit.", "A sign in this line does not fit."),
    "slip.direction": ("The inequality “{term}” points the wrong way.", "An inequality here points the wrong way."),
    "slip.function": (
        "Another function is needed in “{term}”. Draw the angle and see which side it belongs to.",
        "Another function is needed somewhere in this line.",
    ),
    "slip.factor": (
        "A number in front is wrong, missing or too much in “{term}”.",
        "A number in front is wrong, missing or too much in this line.",
    ),
    "slip.exponent_sign": (
        "The sign of the exponent “{term}” does not fit: should this grow or die away?",
        "The sign of an exponent does not fit: should this grow or die away?",
    ),
    "slip.upside_down": (
        "Something in “{term}” is on the wrong side of a fraction line.",
        "Something in this line is on the wrong side of a fraction line.",
    ),
    "slip.power_of_sum": (
        "“{term}”: a power of a sum is not the sum of the powers.",
        "A power of a sum is not the sum of the powers.",
    ),
    "slip.function_of_sum": (
        "“{term}”: a root or a function of a sum is not the sum of the roots or functions.",
        "A root or a function of a sum is not the sum of the roots or functions.",
    ),
    "slip.fraction_of_sum": (
        "“{term}”: dividing by a sum is not the same as dividing by each part.",
        "Dividing by a sum is not the same as dividing by each part.",
    ),
    "slip.sum_of_powers": (
        "“{term}”: a sum of powers is not the power of the sum.",
        "A sum of powers is not the power of the sum.",
    ),
    "slip.sum_of_functions": (
        "“{term}”: a sum of roots or functions is not the root or function of the sum.",
        "A sum of roots or functions is not the root or function of the sum.",
    ),
    "slip.sum_of_fractions": (
        "“{term}”: every part has to be divided, and a sum below the line cannot be split.",
        "Every part has to be divided, and a sum below the line cannot be split.",
    ),
    "slip.limits": ("The limits do not fit in “{term}”.", "The limits of an integral do not fit."),
    "slip.degrees": (
        "“{term}”: degrees and radians have been mixed.",
        "Degrees and radians have been mixed.",
    ),
    "slip.root": ("A root is missing, or too much, at “{term}”.", "A root is missing, or too much."),
    "slip.power": ("The power in “{term}” does not fit.", "A power in this line does not fit."),
    "slip.root_reach": (
        "“{term}”: how far does the root, or the function, reach?",
        "How far does the root, or the function, reach?",
    ),
    "slip.bracket": ("A bracket is missing, or in the wrong place, in “{term}”.", "A bracket is missing or misplaced."),
    "slip.one_term_only": (
        "In “{term}” a factor was put to one term only; it belongs to every term.",
        "A factor was put to one term only; it belongs to every term.",
    ),
    "slip.power_of_ten": ("“{term}” is off by a power of ten.", "A number is off by a power of ten."),
    "slip.unit": (
        "“{term}” is off by what one unit is of another, as hours are of seconds.",
        "A number is off by what one unit is of another, as hours are of seconds.",
    ),
    "slip.circle": (
        "“{term}” is off by π, or by the 2π of a full turn.",
        "This line is off by π, or by the 2π of a full turn.",
    ),
    "slip.neighbour": ("“{term}” is not the quantity that belongs here.", "One quantity stands here for another."),
    "slip.inner_factor": (
        "“{term}”: what the inside brings when it is differentiated is missing, or there twice.",
        "What the inside of a function brings when it is differentiated is missing, or there twice.",
    ),
    "slip.derivative_order": (
        "“{term}” is differentiated once too often, or too seldom.",
        "Something is differentiated once too often, or too seldom.",
    ),
    "slip.product_part": (
        "“{term}”: a product has to be differentiated in each of its factors.",
        "A product has to be differentiated in each of its factors.",
    ),
    "slip.forgotten_factor": (
        "A quantity is missing from “{term}”, or too much in it.",
        "A quantity is missing from one term of this line, or too much in it.",
    ),
    "slip.extra_term": ("“{term}” is a term too many.", "There is a term too many."),
    "slip.doubled_term": ("“{term}” stands here twice.", "A term stands here twice."),
    "slip.dropped_term": ("A term is missing from “{term}”.", "A term is missing."),
    "slip.one_side_only": (
        "“{term}” was not multiplied or divided along with the other side.",
        "One side was multiplied or divided and the other was not.",
    ),
    "slip.number_in_front": ("The number “{term}” does not fit.", "A number in this line does not fit."),
    "slip.root_of_two": ("“{term}” is off by √2.", "This line is off by √2."),
    "slip.digits": ("Two digits of “{term}” seem to have changed places.", "Two digits seem to have changed places."),
    # --- the reason beside a line ----------------------------------------------------------------------------
    "reason.lines": (
        "The line is right, but does not come from {cited} alone.",
        "The line does not come from what is cited.",
    ),
    "reason.operation": (
        "The line is right, but “{reason}” is not what was done.",
        "The line is right, but the reason does not say what was done.",
    ),
    "reason.would_give": (
        "“{reason}” done to {label} gives {result}.",
        "“{reason}” gives {result}.",
        "The reason would give another line.",
    ),
    # --- simple cases of a final result ------------------------------------------------------------------------
    "sanity.dimension": ("{name} comes out as {dimension}, as it should.",),
    "sanity.sign": ("{name} comes out positive for all values allowed, as it should.",),
    "sanity.sign_broken": ("{name} should be positive, yet comes out negative for some values allowed.",),
    "sanity.sign_turns": ("{name} can come out with either sign, depending on the values.",),
    "sanity.no_friction": ("Without friction ({of} = 0) it becomes {name} = {becomes}.",),
    "sanity.zero_becomes": ("For {of} = 0 it becomes {name} = {becomes}.",),
    "sanity.zero_zero": ("As {of} goes to 0, so does {name}.",),
    "sanity.zero_unbounded": ("As {of} goes to 0, {name} grows without bound.",),
    "sanity.infinity_becomes": ("As {of} grows very large, {name} approaches {becomes}.",),
    "sanity.infinity_zero": ("As {of} grows very large, {name} goes to 0.",),
    "sanity.infinity_unbounded": ("As {of} grows very large, {name} grows without bound.",),
    "sanity.equal_zero": ("With {first} and {second} equal, {name} is 0.",),
    "sanity.equal_unbounded": (
        "As {first} and {second} become equal, {name} grows without bound. Is that what should happen?",
    ),
}

MESSAGES: Mapping[str, tuple[str, ...]] = _REGISTRY


def sentence(code: str, facts: Mapping[str, str] | Iterable[tuple[str, str]] = ()) -> str:
    """The sentence for a code: its fullest template whose facts are all known (empty facts count as unknown).

    A code that is not registered is a defect of ours, which a test looks for; a report met by it still
    has to be printed, so it says which code has no words.
    """
    known = {name: value for name, value in dict(facts).items() if value}
    templates = _REGISTRY.get(code)
    if templates is None:
        return f"(Thence has no sentence for “{code}”.)"
    for template in templates:
        if needed_facts(template) <= known.keys():
            return template.format_map(known)
    return templates[-1].format_map(dict.fromkeys(needed_facts(templates[-1]), "…") | known)


def needed_facts(template: str) -> frozenset[str]:
    """The names of the facts that a template speaks of."""
    return frozenset(name for _, name, _, _ in string.Formatter().parse(template) if name)
