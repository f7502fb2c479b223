"""Drawing: colours, letters, tiles and shapes on a pygame surface. Knows nothing of rules or scenes."""
