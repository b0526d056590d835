"""Thence checks derivations of a first mechanics course, line by line."""
