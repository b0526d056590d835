"""What a line is judged in: its context, the states that satisfy it, how they are found, and how one is shown.

For what holds at the states; not for what is concluded from it.
"""
