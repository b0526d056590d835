"""After a break: contexts in which the writer of the line may be looking at the page."""
