"""Flanges with a bolt circle."""
