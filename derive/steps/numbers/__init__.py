"""Lines with numbers: figures and units, the g near the ground, right but for a number."""
