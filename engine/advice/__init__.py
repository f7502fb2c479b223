"""Advice from one seat's knowledge: tiles missing, exact odds, what to let go and why."""
