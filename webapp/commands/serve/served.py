"""The page as it is to be served."""

import socket
from dataclasses import dataclass
from typing import TYPE_CHECKING

from webapp.commands.serve.listening import answer, keep_loaded

if TYPE_CHECKING:
    from flask import Flask

FIRST_PART = "/parts/gusset-triangle?holes_a=1&hole=5mm"
"""A part with a finding: whoever opens the first part would wait half a second longer, for what all pages share."""


@dataclass(frozen=True, slots=True)
class Served:
    """The application, the socket that it answers, its address for who is on this machine, the proxy before it."""

    app: "Flask"
    listening: socket.socket
    address: str
    proxy: str

    def answer(self) -> None:
        """Answer what is asked until interrupted."""
        keep_loaded()
        answer(self.app, self.listening, self.proxy)

    def load(self) -> None:
        """Have what all pages share made while nobody waits beside it: pictures take most of a second."""
        self.app.test_client().get("/", base_url=self.address)

    def load_first_part(self) -> None:
        """Have made what all parts share."""
        self.app.test_client().get(FIRST_PART, base_url=self.address)
