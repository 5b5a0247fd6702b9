"""`platewright serve`: the web page, served by one process or several."""

from webapp.commands.serve.command import declare
from webapp.commands.serve.listening import LONGEST_SILENCE_S

__all__ = ["LONGEST_SILENCE_S", "declare"]
