"""Certificates: the prover that looks for them, what they say in words, and the re-checker that trusts neither.

For turning "tested at states" into "proved"; not for deciding whether a line holds.
"""
