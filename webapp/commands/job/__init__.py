"""`platewright job`: the jobs of the same store as the page's, from a shell."""

from webapp.commands.job.command import declare

__all__ = ["declare"]
