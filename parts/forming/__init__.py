"""Bending: allowance, bend lines, the bend table, and what the press brake asks of a flat."""
