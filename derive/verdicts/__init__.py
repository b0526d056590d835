"""Whole statements decided: taken apart into pairs, the rules asked in turn, what is left for the lines below.

The rooms, each looking only at those before it; on the floor is what a whole statement needs of them:

    pairs     a pair of sides: the rules asked in turn, what the states say of it, the state that shows a break
    claims    claims taken apart into pairs, alternatives, and what gives way to a supposition
    in_words  cases, sizes and small changes that words name without a sign
    cases     what is said where something else holds: at an instant, a place, in a limit, in another situation

For the order of asking and for roles (`let`, `try`, cases, goals); a single kind of step is a rule in `derive/steps`.
"""
