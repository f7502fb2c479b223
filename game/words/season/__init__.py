"""What is said of the season: home, ledger, calendar, progress."""
