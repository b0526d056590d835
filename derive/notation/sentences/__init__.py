"""Trees to statements: which opening word says what of which relation."""
