"""The screens of the window, one module each."""
