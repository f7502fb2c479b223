"""Icons, sounds and other data; README.md beside this file states where each comes from."""
