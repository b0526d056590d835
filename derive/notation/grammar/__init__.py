"""The grammar at work: tokens to raw nodes, and words about what was expected where it stopped."""
