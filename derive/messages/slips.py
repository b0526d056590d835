"""Sentences about what the slip was, about the reason beside a line, and about simple cases of a result."""

from __future__ import annotations

SLIPS: dict[str, tuple[str, ...]] = {
    # --- what the slip was: the second template of a kind is for slips whose place is not clear --------------
    "slip.place": ("Look again at “{term}”.", "Look again at this line."),
    "slip.several": ("More than one small change would mend this line, so which slip it was cannot be said.",),
    "slip.unclear": ("No single small slip explains this line. Go back to what it should follow from.",),
    "slip.assumed": (
        "Nothing before it says so. If it is a condition under which the rest is said, open it as a case: write "
        "“suppose” in front of it.",
    ),
    "slip.not_all_tried": (
        "What the slip was cannot be said: this line could be changed in more ways than were tried. Go back to what it "
        "should follow from.",
    ),
    "slip.edit": ("“{before}” should read {after}.", "It should read {after}."),
    "slip.edit_sign": ("“{term}” should have the other sign.", "A sign should be the other one."),
    "slip.sign": ("The sign of “{term}” does not fit.", "A sign in this line does not fit."),
    "slip.direction": ("The inequality “{term}” points the wrong way.", "An inequality here points the wrong way."),
    "slip.function": (
        "Another function is needed in “{term}”. Draw the angle and see which side it belongs to.",
        "Another function is needed somewhere in this line.",
    ),
    "slip.function_alone": (
        "Another function is needed in “{term}”.",
        "Another function is needed somewhere in this line.",
    ),
    "slip.logarithm": (
        "A logarithm is missing, or too much, at “{term}”.", "A logarithm is missing, or too much."),
    "slip.factor": (
        "A number in front is wrong, missing or too much in “{term}”.",
        "A number in front is wrong, missing or too much in this line.",
    ),
    "slip.exponent_sign": (
        "The sign of the exponent “{term}” does not fit: should this grow or die away?",
        "The sign of an exponent does not fit: should this grow or die away?",
    ),
    "slip.upside_down": (
        "“{term}”, or a part of it, is on the wrong side of a fraction line.",
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
    "slip.product_of_sums": (
        "“{term}”: every term of one bracket has to be multiplied by every term of the other.",
        "Every term of one bracket has to be multiplied by every term of the other.",
    ),
    "slip.common_denominator": (
        "“{term}”: fractions can be added only once they have the same denominator.",
        "Fractions can be added only once they have the same denominator.",
    ),
    "slip.cancelled": (
        "“{term}”: what is cancelled has to go from every term above and below the line.",
        "What is cancelled has to go from every term above and below a fraction line.",
    ),
    "slip.power_of_result": (
        "Was a square, a root or a “one over” forgotten on the way to “{term}”?",
        "Was a square, a root or a “one over” forgotten on the way to this number?",
    ),
    "slip.factor_of_result": (
        "“{term}” is off by a simple number, as when a 2, a ½ or a π was left out or used twice.",
        "The number is off by a simple one, as when a 2, a ½ or a π was left out or used twice.",
    ),
    "slip.number_unclear": ("No single small slip explains this number. Work it out once more, units and all.",),
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
    "slip.calculator": (
        "“{term}” is what comes out when a calculator takes degrees for radians.",
        "This number is what comes out when a calculator takes degrees for radians.",
    ),
    "slip.worked_sign": (
        "“{term}” is what comes out when one sign on the way to it is the other one.",
        "This number is what comes out when one sign on the way to it is the other one.",
    ),
    "slip.worked_way_up": (
        "“{term}” is what comes out when something is multiplied on the way to it that should divide, or the reverse.",
        "This number is what comes out when something is multiplied that should divide, or the reverse.",
    ),
    "slip.worked_power": (
        "“{term}” is what comes out when a power on the way to it is left out, or is another one.",
        "This number is what comes out when a power on the way to it is left out, or is another one.",
    ),
    "slip.worked_function": (
        "“{term}” is what comes out with another function of the angle, as a cosine for a sine.",
        "This number is what comes out with another function of the angle, as a cosine for a sine.",
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
    "slip.exchanged": (
        "Two quantities in “{term}” stand in each other's place.",
        "Two quantities in this line stand in each other's place.",
    ),
    "slip.added": (
        "“{term}”: something is added here that should be multiplied or divided.",
        "Something is added in this line that should be multiplied or divided.",
    ),
    "slip.multiplied": (
        "“{term}”: something is multiplied here that should be added or subtracted.",
        "Something is multiplied in this line that should be added or subtracted.",
    ),
    "slip.power_reach": (
        "“{term}”: how far does the power reach?",
        "How far does a power in this line reach?",
    ),
    "slip.power_rule": (
        "“{term}”: the power and the number in front do not go together. Differentiate it, and see what comes out.",
        "A power and the number in front of it do not go together. Differentiate, and see what comes out.",
    ),
    "slip.reversed_calculus": (
        "“{term}”: is something differentiated here that should be integrated, or the reverse?",
        "Is something differentiated in this line that should be integrated, or the reverse?",
    ),
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
    "slip.quotient_rule": (
        "“{term}”: the derivative of a fraction is (top' bottom - top bottom')/bottom².",
        "The derivative of a fraction is (top' bottom - top bottom')/bottom².",
    ),
    "slip.product_rule": (
        "“{term}”: the derivative of a product is first' second + first second'.",
        "The derivative of a product is first' second + first second'.",
    ),
    "slip.double_angle": (
        "“{term}”: the square of a sine, twice a sine and the sine of twice the angle are three different things.",
        "The square of a sine, twice a sine and the sine of twice the angle are three different things.",
    ),
    "slip.forgotten_factor": (
        "A quantity is missing from “{term}”, or too much in it.",
        "A quantity is missing from one term of this line, or too much in it.",
    ),
    "slip.extra_term": ("“{term}” is a term too many.", "There is a term too many."),
    "slip.doubled_term": ("“{term}” stands here twice.", "A term stands here twice."),
    "slip.dropped_term": ("A term is missing from “{term}”.", "A term is missing."),
    "slip.missing_term": ("A term is missing from “{term}”.", "A term is missing."),
    "slip.unusual_factor": (
        "A number in front is wrong, missing or too much in “{term}”.",
        "A number in front is wrong, missing or too much in this line.",
    ),
    "slip.one_side_only": (
        "“{term}” was not multiplied or divided along with the other side.",
        "One side was multiplied or divided and the other was not.",
    ),
    "slip.number_in_front": ("The number “{term}” does not fit.", "A number in this line does not fit."),
    "slip.root_of_two": ("“{term}” is off by √2.", "This line is off by √2."),
    "slip.digits": ("Two digits of “{term}” seem to have changed places.", "Two digits seem to have changed places."),
    # --- the reason beside a line ----------------------------------------------------------------------------
    "reason.lines": (
        "The line is right, but it comes from {found} rather than from {cited}.",
        "The line is right, but does not come from what is cited.",
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
    "sanity.sign": ("{name} comes out positive wherever it was tried, as it should.",),
    "sanity.sign_broken": (
        "{name} is declared positive, yet this comes out negative for some values allowed. When would that be?",
    ),
    "sanity.sign_some": ("{name} is positive, as declared, only for some values of the rest. Which are they?",),
    "sanity.no_value": ("For some values allowed there is no such {name} at all. When would that be?",),
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
