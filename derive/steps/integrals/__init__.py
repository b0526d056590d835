"""Integrals: worked out in a bracket, between named ends, over a whole element or a whole way."""
