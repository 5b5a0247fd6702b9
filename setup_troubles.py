"""Why an install failed, read from what pip said: one sentence for the person at the keyboard.

pip says of an index page that could not be had only in its log, and ends by "No matching distribution", as it does
where a package isn't offered for the machine. So the log is asked about the package that was missed. Wordings are
those of pip 23 to 26.
"""

import re


class Trouble(Exception):
    """Something the person at the keyboard has to put right; its text is one sentence, `reason` the heart of it."""

    def __init__(self, text: str, reason: str = "") -> None:
        super().__init__(text)
        self.reason = reason or text.rstrip(".")


class NotOffered(Trouble):
    """A package isn't there for this Python or this kind of machine: asking again is no use."""


CODES = {
    "401": "it asks for a name and a password",
    "403": "it, or a proxy on the way, refuses this machine",
    "404": "it has no such package; check which server pip is set to ask",
    "407": "the proxy on the way asks for a name and a password",
    "429": "it was asked too often; try again later",
    "503": "it is not available now; try again later",
}
_CODE = re.compile(r"\b([45]\d\d) (?:Client|Server) Error|(?:too many|HTTP error|connection failed:) ([45]\d\d)\b")
_SERVER = re.compile(r"https?://(?:[^/\s@]*@)?([^/\s'\"]+)/|host='([^']+)'")
_MISSED = re.compile(r"No matching distribution found for ([\w.-]+)")

_AGAIN = "check the network and start again"
# a pattern of the words of pip or the system -> the sentence; the first that fits
SENTENCES = (
    ("DO NOT MATCH THE HASHES", "a download is not the file it should be; try again, or on another network"),
    ("No space left on device|not enough space on the disk|Disk quota", "the disk is full"),
    ("Permission denied", "this folder can't be written to"),
    ("[Pp]roxyError|onnect to proxy", "the proxy set for this machine could not be reached; check its settings"),
    ("CERTIFICATE|certificate", "the package server's certificate is not trusted here; check the clock and any proxy"),
    ("SSL|TLS", "the package server could not be reached safely; check the network and any proxy"),
    ("timed out|respond within", f"the package server did not answer in time; {_AGAIN}"),
    (
        "ame or service not known|name resolution|NameResolution|getaddrinfo|nodename nor servname",
        f"the package server's name was not found; {_AGAIN}",
    ),
    ("IncompleteRead|incomplete-download|onnection broken", f"a download broke off; {_AGAIN}"),
    ("onnection", f"the package server could not be reached; {_AGAIN}"),
    ("not a trusted or secure host", "pip doesn't trust the package server it is set to ask, which has no https"),
)
_NOT_OFFERED = "a package is not offered for this Python or this kind of machine"


def cause(said: str, log: str, where: str) -> Trouble:
    """Give the trouble that a failed step of the install means, by its output and pip's log."""
    missed = _MISSED.search(said)
    if missed is None:
        told = why(last_error(said)) or ((said.strip().splitlines() or ["no reason was given"])[-1].rstrip("."))
        return Trouble(f"The install failed: {told}. {where}", told)
    asked = [line for line in log.splitlines() if "Could not fetch URL" in line and f"/{missed[1].lower()}/" in line]
    distrust = [line for line in said.splitlines() if "not a trusted or secure host" in line]
    lines = asked or distrust if "(from versions: none)" in said else []
    if told := why("\n".join(lines[-1:])):
        return Trouble(f"The install failed: {told}. {where}", told)
    return NotOffered(f"The install failed: {_NOT_OFFERED} ({missed[1]}). {where}", _NOT_OFFERED)


def why(text: str) -> str:
    """Say in words what an answer of a server or an error of the system means; nothing where that isn't known."""
    found = _CODE.search(text)
    if found and "DO NOT MATCH" not in text:
        code = next(filter(None, found.groups()))
        server = _SERVER.search(text)
        name = f" ({server[1] or server[2]})" if server else ""
        return f"the package server{name} answered {code}: {CODES.get(code, 'it could not give what was asked for')}"
    return next((sentence for pattern, sentence in SENTENCES if re.search(pattern, text)), "")


def last_error(said: str) -> str:
    """Take what pip says it failed of, without the warnings of what it tried again."""
    starts = [match.start() for match in re.finditer(r"^\s*(?:ERROR|error): ", said, re.MULTILINE)]
    return said[starts[0] :] if starts else said
