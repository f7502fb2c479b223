"""The simulated players as they were when advice for the full table was first measured: a reference that stays.

They are a copy of `engine/seats` that nobody mends or tunes, so that figures measured against them can be compared from
one version to the next.
"""
