"""Practice over the store: drills under way and the season's ledgers."""
