"""The command `platewright`: the same calls as the page, from a shell.

Exit status: 0 done, 1 a `stop` finding, 2 the request is wrong. What is asked for goes to standard output;
findings, cautions and refusals go to standard error.
"""

import argparse
import os
import re
import sys
from collections.abc import Iterator, Sequence
from typing import NoReturn

import parts
from parts.errors import did_you_mean, nearest
from parts.shop import usual
from parts.templates import FORMER
from webapp.commands import COMMANDS, declare, tell

_OPTION, _MINUS = re.compile(r"--(?!tape)[a-z][a-z-]*"), re.compile(r"-[\d.]")  # a tape has several lengths
_CHOICE = re.compile(r"argument (\S+): invalid choice: '(.*)' \(choose from (.*)\)", re.DOTALL)
_WANTING = re.compile(r"argument (?:.*/)?(-\S+): expected (?:at least )?one argument")


class _Parser(argparse.ArgumentParser):
    """Says what is wrong with a request in one sentence, without the whole usage."""

    def error(self, message: str) -> NoReturn:
        if wanting := _WANTING.fullmatch(message):
            message = f"{wanting[1]} wants a value after it, and none that begins with a minus."
        elif wrong := _CHOICE.fullmatch(message):
            message = _no_choice(*wrong.groups())
        ended = message if message.endswith(("?", ".")) else f"{message}."
        self.exit(2, f"{self.prog}: {ended} See {self.prog} --help.\n")

    def not_understood(self, words: Sequence[str]) -> NoReturn:
        """Refuse words that mean nothing here, with the option that was probably meant by one of them."""
        asked = (word.partition("=")[0] for word in words if word.startswith("-"))
        meant = next(filter(None, (nearest(word, self._option_string_actions) for word in asked)), "")
        self.error(f"{' '.join(words)} isn't understood here{f'; did you mean {meant}?' if meant else ''}")


def _no_choice(of: str, given: str, choices: str) -> str:
    known = re.findall(r"[\w-]+", choices)
    subject = f"there is no command {given}" if of == "COMMAND" else f"{of} can't be {given}"
    near = did_you_mean(given, known)
    return f"{subject}{near}" if near != "." else f"{subject}; there are {', '.join(known)}"


STOPPED = 130
"""Exit status of a command that was stopped by Ctrl-C: 128 and the signal's number, as shells have it."""


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command and return its exit status."""
    try:
        return _run(list(_joined(sys.argv[1:] if argv is None else argv)))
    except (parts.Refused, parts.UnknownTemplate) as refused:
        for problem in refused.problems:
            tell(": ".join(filter(None, (problem.parameter, problem.value, problem.message))))
    except parts.PartsError as error:
        tell(str(error))
    except BrokenPipeError:  # whoever read the output has had enough, as `head` has
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    except KeyboardInterrupt:
        tell("stopped; what was being made isn't written.")
        return STOPPED
    except OSError as error:
        tell(f"{error.filename or 'output'}: can't be written: {error.strerror or error}.")
    return 2


def _run(words: list[str]) -> int:
    parser, command = _parsers(words)
    request, rest = parser.parse_known_args(words)
    late = [word for word in rest if "=" in word and not word.startswith("-")]
    if "values" not in request or len(late) < len(rest):
        wrong = [word for word in rest if word not in late or "values" not in request]
        if wrong:
            command.not_understood(wrong)
    else:
        request.values = [*request.values, *late]  # values may stand after the options too
    _as_now(request)
    status = int(request.run(request))
    sys.stdout.flush()
    return status


def _as_now(request: argparse.Namespace) -> None:
    """Turn the slug of a former template into what it is of now, and say so."""
    if now := FORMER.get(getattr(request, "slug", "")):
        tell(f"{request.slug} is {now.said} now.")
        request.slug = now.slug
        given = dict(value.split("=", 1) for value in request.values if "=" in value)
        asked = {"units": usual().units or "mm", **given}
        request.values = [*(f"{name}={value}" for name, value in now.ahead(asked).items()), *request.values]


def _joined(words: Sequence[str]) -> Iterator[str]:
    """Yield the words with a value such as -1/4 joined to its option, which would be taken for an option itself."""
    waiting = ""
    for word in words:
        if waiting and _MINUS.match(word):
            yield f"{waiting}={word}"
            waiting = ""
            continue
        if waiting:
            yield waiting
        waiting = word if _OPTION.fullmatch(word) else ""
        if not waiting:
            yield word
    if waiting:
        yield waiting


def _parsers(words: Sequence[str]) -> tuple[_Parser, _Parser]:
    """What understands every command's name, and what understands the one that is asked for, where there is one."""
    parser = _Parser(prog="platewright", description="Sheet and plate parts, drawn exactly and checked before cutting.")
    parser.add_argument("--version", action="version", version=f"platewright {parts.VERSION}")
    commands = parser.add_subparsers(required=True, metavar="COMMAND", dest="command")
    asked, understands = next((word for word in words if not word.startswith("-")), ""), parser
    for name, summary in COMMANDS.items():
        command = commands.add_parser(name, help=summary)
        if name == asked:
            declare(name, command)
            understands = command
    return parser, understands
