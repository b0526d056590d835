"""What is said where something else holds: at an instant, a place, in a limit, in another situation."""
