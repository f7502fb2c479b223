"""Sheets being written: kept on the disk as they are typed, and what is done with one, apart from any screen."""
