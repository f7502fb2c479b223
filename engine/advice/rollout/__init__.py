"""Rollouts: games played on from a moment by the fast policy, to tell close choices apart."""
