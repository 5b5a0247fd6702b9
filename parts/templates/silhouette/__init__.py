"""Silhouettes for yard and wall."""
