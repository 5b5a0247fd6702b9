"""Truing: what a measured test piece says of the table that cut it, and what to change.

readings (`reading`, `file`) -> errors with their uncertainties (`model`, `solve`) -> what is missing
(`missing`) -> what to change (`corrections`).
"""
