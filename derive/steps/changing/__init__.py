"""How things change: rates, equations of motion, their courses, and what of them stays."""
