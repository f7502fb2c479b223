"""What is practised apart from games: matches, rehearsals of the passes, drills."""
