"""Brackets: flat, bent, and with ears or leaves."""
