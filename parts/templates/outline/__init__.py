"""Outlines found by a name: countries and states, symbols."""
