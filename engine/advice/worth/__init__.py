"""What a rack is worth, before and after a change."""
