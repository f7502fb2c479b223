"""What players read, at any table."""
