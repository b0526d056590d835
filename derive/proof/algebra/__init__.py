"""The prover's algebra: terms as quotients of polynomials in atoms, and the search for a chain of identities."""
