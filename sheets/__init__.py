"""The invented sheets that ship with Lone East, as YAML data."""
