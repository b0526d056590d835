"""What a name tells: what it was defined as, and what letters say of a motion where nobody has said more."""
