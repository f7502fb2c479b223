"""Two sheets side by side: hands kept, changed, new and gone, and what a player of the old sheet must unlearn."""
