"""What several commands use, and is no command itself."""
