"""What the documents show to be typed: their commands, blocks and addresses, in the order in which they stand."""

import re
import shlex
import shutil
import subprocess
from dataclasses import dataclass
from importlib.util import cache_from_source
from pathlib import Path

ROOT = Path(__file__).parents[1]
PAGES = [ROOT / "README.md", ROOT / "DEVELOPERS.md", *sorted((ROOT / "docs").glob("*.md"))]
COMMAND = re.compile(r"(?:\./)?platewright |python3? |\.venv/bin/|uv |pip |echo ")
"""What a line that is typed begins with."""
PLACEHOLDER = re.compile(r"(?:^| )[A-Z]+(?: |$)|\[|\.\.\.")


@dataclass(frozen=True)
class Block:
    """A fenced block and the language it is said to be in."""

    language: str
    text: str


@dataclass(frozen=True)
class Command:
    """A line to be typed, and what it is said to print, where that is shown."""

    line: str
    prints: str = ""

    @property
    def is_pattern(self) -> bool:
        """Whether it stands for many: `platewright draw SLUG [name=value ...]`."""
        return bool(PLACEHOLDER.search(self.line))

    @property
    def words(self) -> list[str]:
        """The words that a shell makes of it."""
        return shlex.split(self.line)


def blocks(page):
    """The fenced blocks of a page."""
    found = re.findall(r"^ *```(\w*)\n(.*?)^ *```$", page.read_text(encoding="utf-8"), flags=re.M | re.S)
    return [Block(language, text) for language, text in found]


def commands(page):
    """Every command of a page, of its blocks and within its sentences, in their order."""
    pattern = r"^ *```(\w*)\n(.*?)^ *```$|`([^`\n]+)`"
    for match in re.finditer(pattern, page.read_text(encoding="utf-8"), flags=re.M | re.S):
        language, block, span = match.groups()
        if span and COMMAND.match(span):
            yield Command(span)
        elif language == "sh":
            for line in block.splitlines():
                yield from (Command(one) for one in line.partition(" #")[0].strip().split(" && "))
        elif language == "console":
            typed, _, printed = block.partition("\n")
            yield Command(typed.removeprefix("$ "), printed)


def patterns(page):
    """What stands for many commands, of blocks of text: `platewright draw SLUG [name=value ...]`."""
    for block in blocks(page):
        joined = re.sub(r"\n {4,}", " ", block.text) if block.language == "text" else ""
        yield from (line for line in joined.splitlines() if line.startswith("platewright "))


def addresses(page):
    """Every address of the local page that a page names, in backquotes."""
    return re.findall(r"`(/[\w/{}.-]*(?:\?[^`]*)?)`", page.read_text(encoding="utf-8"))


def copied(target):
    """Copy the tree as it would be committed: what git knows of, as it now stands; all of it where there is no git.

    What is compiled of it comes along, so that not every process started in the copy compiles it anew.
    """
    if not (ROOT / ".git").exists():
        return shutil.copytree(ROOT, target, ignore=shutil.ignore_patterns(".venv", "__pycache__"))
    known = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, check=True, capture_output=True, text=True).stdout
    for name in filter(None, known.split("\0")):
        if (ROOT / name).exists():
            (target / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copy2(ROOT / name, target / name)  # with its time, by which Python knows what is compiled of it
            compiled = Path(cache_from_source(str(ROOT / name))) if name.endswith(".py") else None
            if compiled and compiled.exists():
                (target / name).parent.joinpath("__pycache__").mkdir(exist_ok=True)
                shutil.copy2(compiled, (target / name).parent / "__pycache__" / compiled.name)
    return target
