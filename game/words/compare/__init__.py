"""What is said of two sheets laid side by side."""
