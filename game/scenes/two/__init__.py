"""The two-hand game in the window."""
