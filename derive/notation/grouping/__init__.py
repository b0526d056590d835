"""Raw nodes to trees: how a row of factors is grouped, which letters behind a number are its unit."""
