"""The kinds of step a working takes, one module each: a rule that says of a pair of sides whether it follows so.

For single rules; the order in which they are asked is `derive/verdicts/judge.py`'s.
"""
