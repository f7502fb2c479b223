"""The start screen: what to do next, another deal, and where else to go."""
