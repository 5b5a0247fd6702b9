"""Plates with holes: bases, covers, bearings, motors, washers."""
