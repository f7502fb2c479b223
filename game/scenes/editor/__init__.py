"""Writing a sheet in the window: hand by hand, typed or built by presses, kept as it is typed."""
