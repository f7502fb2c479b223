"""A finished game looked at again: luck, what choices cost, and skill over many games."""
