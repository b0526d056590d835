"""Limits: what runs where to, and what the two sides of a line come to."""
