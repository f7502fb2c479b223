"""Advice for one moment: hands in reach, what to let go, pass, call or exchange, and why."""
