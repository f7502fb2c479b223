"""The simulated players: each is a function from an Observation to an action."""
