"""Reading what can still be read of a damaged store."""
