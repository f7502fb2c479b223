"""The rules of play: wall, passes, turns, faults, outcomes, and what one seat may know."""
