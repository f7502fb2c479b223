"""Hand sheets: the notation, what it means, reading and writing it."""
