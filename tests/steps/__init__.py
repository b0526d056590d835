"""Workings of every kind of step of a first mechanics course, with labels shown right by numbers."""
