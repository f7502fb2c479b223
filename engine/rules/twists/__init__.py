"""Twists: small rules of our own that change one deal."""
