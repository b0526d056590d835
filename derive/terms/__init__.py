"""What the engine computes with: terms built once each, what typed expressions mean in them, and their numbers.

For meaning and arithmetic; not for what follows from what.
"""
