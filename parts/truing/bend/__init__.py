"""A test bend: what strips measured before and after bending say of a press brake."""
