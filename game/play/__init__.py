"""A game under way, without a window and without sentences."""
