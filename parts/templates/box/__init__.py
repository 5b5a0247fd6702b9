"""Boxes of panels that lock together."""
