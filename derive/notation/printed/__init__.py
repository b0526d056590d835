"""Trees printed: as plain text that reads back, as LaTeX, as MathML."""
