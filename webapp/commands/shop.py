"""`platewright shop`: the shop's own numbers, where they are and what is set; or what is wrong with a file of them."""

import argparse
from pathlib import Path
from typing import Any

from parts import shop
from parts.shop import ShopData, parse, read
from parts.shop.editing import read_file, set_in
from parts.truing.bend import kept_bends
from webapp.commands.console import tell
from webapp.wording import bend_said


def declare(command: argparse.ArgumentParser) -> None:
    """Say what the command is given."""
    command.add_argument("--check", metavar="FILE", help="say what is wrong with a file of numbers, and change nothing")
    command.set_defaults(run=run)


def run(request: argparse.Namespace) -> int:
    """Print what is set, or what is wrong, and return the exit status."""
    if request.check is not None:
        return _check(request.check)
    file = read_file()
    own = parse(file.text, file.path)
    print(f"{file.path}{'' if file.is_there else ' (not there: every number is the built-in one)'}")
    for name, value in set_in(own):
        print(f"    {name} = {value}")
    for each in kept_bends(own):
        print(f"    {bend_said(each.material, each.bend, 'mm')}")
    return _tell_slips(file.path, own)


def _check(name: str) -> int:
    own = read(Path(name))
    wrong = _tell_slips(name, own)
    if not wrong:
        count = len(list(set_in(own)))
        print(f"{name}: in order; {count} entr{'y' if count == 1 else 'ies'} set.")
    return wrong


def _tell_slips(name: str, own: dict[str, Any]) -> int:
    found = shop.checked(own)
    slips = () if isinstance(found, ShopData) else found
    for slip in slips:
        tell(f"{name}: {slip.sentence}.")
    return 2 if slips else 0
