"""`platewright true`: what a measured piece says of the table, or measured strips of the press brake."""

from webapp.commands.true.command import declare, lines, run

__all__ = ["declare", "lines", "run"]
