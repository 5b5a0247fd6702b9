"""Gussets: plates that stiffen a corner."""
