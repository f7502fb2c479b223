"""Tiles missing and exact odds of drawing them."""
