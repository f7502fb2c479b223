"""Practice: saved deals, drills, the season's ledger."""
