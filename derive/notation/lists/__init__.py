"""Lists of words and units, sorted by what they do. No behaviour beyond looking up."""
