"""A rack among four that race: tiles that others throw, the end that another may make, points."""
