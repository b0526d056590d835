"""Typed text to lexemes: look-alikes folded together, letters split into names, numbers and signs found."""
