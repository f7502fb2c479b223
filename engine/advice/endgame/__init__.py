"""The last draws of a game, searched whole: exact odds and the best choice."""
