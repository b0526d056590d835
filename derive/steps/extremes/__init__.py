"""The greatest and the least: as a condition, as a value, and of a throw."""
