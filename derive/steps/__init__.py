"""The kinds of step a working takes, one module each: a rule that says of a pair of sides whether it follows so.

The rooms, each looking only at those before it:

    changing    how things change: rates, equations of motion, their courses, and what of them stays
    numbers     lines with numbers: figures and units, the g near the ground, right but for a number
    letters     what a name tells: what it was defined as, and what letters say of a motion where nobody has said more
    brought_in  what a working brings in on the way: new names, laws, values, and what can be said of everything
    customs     what goes without saying: positive sizes, g near the ground, no division by nothing, what rolls
    limiting    limits: what runs where to, and what the two sides of a line come to
    integrals   integrals: worked out in a bracket, between named ends, over a whole element or a whole way
    small       approximations: what is small, to which order, and small swings
    compared    quantities compared: proportions, one replaced by a multiple, two of a kind
    extremes    the greatest and the least: as a condition, as a value, and of a throw
    cases       lost and extra cases: under which condition a line holds
    breaks      after a break: contexts in which the writer of the line may be looking at the page

For single rules; the order in which they are asked is `derive/verdicts/pairs/judge.py`'s.
"""
