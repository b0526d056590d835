"""Quantities compared: proportions, one replaced by a multiple, two of a kind."""
