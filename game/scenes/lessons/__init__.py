"""Lessons in the window: the list, one lesson step by step, making one, laying out a position, results side by side."""
