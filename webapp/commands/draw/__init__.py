"""`platewright draw`: one part as a file, with remedies taken and for one table where asked."""

from webapp.commands.draw.command import declare, run

__all__ = ["declare", "run"]
