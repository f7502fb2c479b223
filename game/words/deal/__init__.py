"""What is special about one deal, in words: its twist."""
