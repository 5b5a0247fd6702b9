"""Exact lines and circular arcs in the plane; knows nothing of metal."""
