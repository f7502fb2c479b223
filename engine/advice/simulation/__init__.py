"""Many games at once, and how often each hand is made."""
