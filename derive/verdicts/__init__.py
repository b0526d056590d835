"""Whole statements decided: taken apart into pairs, the rules asked in turn, what is left for the lines below.

For the order of asking and for roles (`let`, `try`, cases, goals); a single kind of step is a rule in `derive/steps`.
"""
