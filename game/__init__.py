"""The desktop game: its window, scenes and drawing, the text table, the command line."""
