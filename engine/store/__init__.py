"""The store: every deal, setting and sheet, in one SQLite file."""
