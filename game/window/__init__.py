"""The window: opening it, its loop, pictures of every screen."""
