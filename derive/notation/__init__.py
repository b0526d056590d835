"""Text of a line to trees, and trees back to text.

The face of this room: `names` (Scope, canonical), `reader` (read_line, read_claim, read_expression),
`printing` (as_text), `latex` (as_latex), `mathml` (as_mathml), `page` (notation_page). They are imported
from their own modules, because derive.records needs `tree` before anything else here exists.
"""
