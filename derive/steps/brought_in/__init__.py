"""What a working brings in on the way: new names, laws, values, and what can be said of everything."""
