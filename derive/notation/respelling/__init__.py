"""What hurried writers leave out or say in words, set as signs before a line is read."""
