"""Squares that prove a table."""
