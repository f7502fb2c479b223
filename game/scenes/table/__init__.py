"""The table: one scene for every kind of game."""
