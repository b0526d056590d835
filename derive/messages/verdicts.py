"""Sentences about a line: that it holds and how, that it does not, that it needs a person."""

from __future__ import annotations

VERDICTS: dict[str, tuple[str, ...]] = {
    # --- a line that does not follow -----------------------------------------------------------------
    "fails.state": (
        "There are values for which everything before this line holds and this line does not.",
    ),
    "fails.alternatives": (
        "For the values below none of the cases named here holds; the sides are those of the first.",
    ),
    "fails.contradicts": (
        "No values were found for which this line is true together with what stands before it.",
    ),
    "fails.component": (
        "The {which} components of the two sides differ.",
        "Two components of the two sides differ.",
    ),
    "fails.dimension": (
        "The dimensions do not fit: “{term}” is {found}, where {expected} is needed.",
        "The dimensions do not fit: “{term}” is {found}, which cannot stand beside the rest of the line.",
        "The dimensions of the two sides, or of two terms added together, do not fit.",
    ),
    "fails.unit": (
        "The number is right, but the unit does not fit: “{term}” is {found}, where {expected} is needed.",
        "The number is right, but the unit of “{term}” does not fit.",
        "The number is right, but its unit does not fit.",
    ),
    "fails.number": (
        "The number does not come out: {written} is written, and the lines above give {exact}. They differ by a "
        "factor of {factor}.",
        "The number does not come out: {written} is written, and the lines above give {exact}.",
        "The number {written} does not come out. It is off by a factor of {factor}.",
        "The number {written} does not come out.",
        "The number does not come out as written.",
    ),
    "fails.constant_missing": (
        "An integral without limits brings a constant with it, and this line has none.",
    ),
    "fails.derivative": (
        "Differentiated, the left side gives {left} and the right side {right}. These differ, so a constant cannot "
        "mend the line. The values below are theirs.",
        "Differentiated, the two sides give different things, so a constant cannot mend the line.",
    ),
    "fails.no_extreme": (
        "With {case}, {name} still changes with {along}: its slope is not nothing there, so that it is larger to one "
        "side and smaller to the other. The values below are those of the slope.",
        "What is said to be greatest or least here still changes there.",
    ),
    "fails.other_extreme": (
        "With {case}, {name} does not change with {along}, but bends the other way: least and greatest are mistaken "
        "for each other. The values below are those of the second derivative.",
        "Least and greatest are mistaken for each other here.",
    ),
    "fails.antiderivative": (
        "Differentiated, the bracket gives {found}, but {wanted} is integrated. What it comes to at the limits proves "
        "nothing. The values below are those of the two.",
        "Differentiated, the bracket does not give what is integrated.",
    ),
    "fails.element": (
        "Along {along} the elements above come to {wanted} each, and those that are added up here to {found}. The "
        "values below are those of the two.",
        "What is added up here is not made of the elements above.",
    ),
    "fails.way": (
        "From {along} = 0 to {end} the integral without limits comes to {factor} times the right side.",
        "Over the whole way the integral without limits comes to another value.",
    ),
    "fails.not_a_solution": (
        "Put into {equation}, this does not satisfy it. The values below are those of its two sides.",
        "This does not satisfy the equation of motion.",
    ),
    "fails.too_few_constants": (
        "This satisfies the equation but is not all of its solutions: it has {have} free constants, and an "
        "equation of this order needs {need}.",
        "This satisfies the equation but has too few free constants to be all of its solutions.",
    ),
    "fails.restated": (
        "With {where} this is {label} again, but with another number before one of its terms.",
        "This is a line from above again, but with another number before one of its terms.",
    ),
    "fails.order": (
        "Terms of different smallness are mixed here: a term of the same size as {dropped} was kept in one "
        "place and dropped in another.",
        "Terms of different smallness are mixed here: what is dropped in one place must be dropped in all.",
    ),
    "fails.order_term": (
        "What stands here of the size of {dropped} is not what comes out.",
        "One of the small terms here is not what comes out.",
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
    "fails.finite": ("It stays finite there: {case}.", "It stays finite there."),
    "fails.limit": ("In this limit the two sides do not come together.",),
    "fails.scaled": ("With {case}, “{claim}” is not what comes out.", "This is not what comes out."),
    "fails.proportion": ("The two sides are not in proportion: their ratio changes with what stands on the right.",),
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
    "follows.way": (
        "This is what the integral without limits comes to over the whole way, up to {along} = {end}.",
        "This is what the integral without limits comes to over the whole way.",
    ),
    "follows.errors": ("The sizes of the errors add up so, whichever way each of them goes.",),
    "follows.limit": ("The left side goes to the right side in this limit.",),
    "follows.in_case": ("This holds in the case opened above: {case}.", "This holds in the case opened above."),
    "follows.bound_met": ("This is so where “{bound}” is just met.", "This is so where the bound above is just met."),
    "follows.at": ("This holds at the instant spoken of: {case}.", "This holds at the instant spoken of."),
    "follows.later_line": (
        "This rests on {label}, which is shown only further down; it would read better above.",
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
    "approximates.cut_off": (
        "Right but for the last figure, which is cut off where it rounds up; the lines above give {exact}.",
        "Right but for the last figure, which is cut off where it rounds up.",
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
        "Says how {name} goes or starts; nothing before it does.",
        "Says how things go or start; nothing before it does.",
    ),
    "taken.value": ("Gives {name} its value; nothing before it settles one.", "Gives a value."),
    "taken.put_in": (
        "Puts in values that nothing before it gives: {values}.", "Puts in values that nothing before it gives.",
    ),
    "taken.bound": ("Says where {name} lies; nothing before it does.", "Says where a quantity lies."),
    "taken.situation": (
        "Begins another situation, as the words say: of the lines above only values are kept.",
    ),
    "taken.beside": (
        "Said for a value of {name}, which nothing before it speaks of.", "Said for a value that is new.",
    ),
    "taken.law": ("Brings in a law or a link of its own; nothing before it says this.",),
    "taken.apart": (
        "A condition of the writer's own, {condition}: nothing before it says so, and what follows needs it.",
        "A condition of the writer's own; nothing before it says so.",
    ),
    "taken.trial": ("A trial solution, taken to be tried out below.",),
    "taken.initial": ("Says how things stand at one instant.",),
    "taken.regime": ("Says which quantities are small from here on.",),
    "taken.case": ("Opens a case; what follows is said of that case.",),
    "carried.from": (
        "Follows from line {line}, which does not hold; the step itself is sound.",
        "Follows from an earlier line that does not hold; the step itself is sound.",
    ),
    # --- a line that needs a person ----------------------------------------------------------------------
    "undecided.letter": (
        "“{name}” stands for an angle in this line and for something else in “{term}”. Give the angle a letter of its "
        "own, such as alpha or theta.",
        "“{name}” is read as what it mostly stands for, and that is no angle. Give the angle a letter of its own, such "
        "as alpha or theta.",
        "One letter stands for an angle in this line and for something else besides. Give the angle one of its own.",
    ),
    "undecided.parts": (
        "What the real part of “{term}” is cannot be told from what stands before it.",
    ),
    "undecided.condition": (
        "The condition “{term}” could not be made sense of here. A person should look at this line.",
    ),
    "undecided.budget": (
        "Neither shown nor refuted in the time allowed. A person should look at this line.",
    ),
    "undecided.no_value": (
        "What stands here is no number: a division by zero, a root or logarithm that there is not, an integral that "
        "grows without end, or something too large to work out. Nothing was taken from this line.",
    ),
    "undecided.page": (
        "The lines above took all the time a working is allowed, so this one was not looked at. Split the working "
        "into several files.",
    ),
    "undecided.defect": (
        "Thence itself failed at this line, which says nothing against the line. A person should look at it.",
    ),
    "unknown.name": (
        "{name} is not among the declared symbols, and nothing before this line says what it is. Did you mean "
        "{nearest}?",
        "{name} is not among the declared symbols, and nothing before this line says what it is. Declare it "
        "under “Symbols:”, or introduce it with “let”.",
        "A name here is not among the declared symbols, and nothing before this line says what it is.",
    ),
    "undecided.proportion": (
        "Nothing before this line says what the left side is, so whether it is in proportion cannot be decided.",
    ),
    "unreadable.unit": ("{name} is not a unit that Thence knows.", "A unit here is not one that Thence knows."),
    "unreadable.arguments": (
        "A function is taken here at more, or at other, quantities than it was declared with.",
    ),
    "unreadable.line": (
        "Reading stopped at “{typed}”. Expected there: {expected}. Did you mean {nearest}?",
        "Reading stopped at “{typed}”. Expected there: {expected}.",
        "Something is missing at the end. Expected there: {expected}.",
        "Reading stopped here.",
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
    "note.call": ("“{typed}” was read as the value of a function, not as a product.",),
    "note.argument": ("In “{typed}” the function was taken of {taken} alone.",),
}
