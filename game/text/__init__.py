"""The text table: the same game in a terminal, in whole sentences."""
