"""Screens of the season: ledger, calendar, progress."""
