"""Opening the store's file: whole, ours, up to date, and whether another program has it open too."""
