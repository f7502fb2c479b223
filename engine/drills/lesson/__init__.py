"""Lessons: deals, drills and positions in one order, in one small file; and what a player made of them."""
