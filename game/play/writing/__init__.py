"""Sheets being written, kept on the disk as they are typed, or being invented; apart from any screen."""
