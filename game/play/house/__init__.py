"""House rules as named sets: some that ship, and those that a player keeps, takes out to a file and brings in."""
