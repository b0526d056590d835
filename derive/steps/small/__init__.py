"""Approximations: what is small, to which order, and small swings."""
