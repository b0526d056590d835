"""A pair of sides: the rules asked in turn, what the states say of it, the state that shows a break."""
