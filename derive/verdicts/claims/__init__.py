"""Claims taken apart into pairs, alternatives, and what gives way to a supposition."""
