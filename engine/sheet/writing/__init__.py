"""Writing a sheet piece by piece: its text cut into hands, changed by spans, read hand by hand while one types."""
