"""Marking a class: mark schemes met by workings, mark sheets, equal slips, vetting, the class as a whole.

Everything here judges with what the checker has found. It never decides whether a line follows, and what it
prints for a marker stands below the marker's own judgement and the rules of the course.
"""
