"""Drills in the window: what is due today, every drill to choose from, one question after another."""
