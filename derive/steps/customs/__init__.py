"""What goes without saying: positive sizes, g near the ground, no division by nothing, what rolls."""
