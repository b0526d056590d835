"""What was the slip? Small edits of a line that would have made it follow, and how much of that to tell.

This room never decides whether a line follows: it asks through callbacks that the caller hands in.
"""
