"""`platewright draw --compensate FILE`: a part for one table, and its file named for it."""

from pathlib import Path

from parts.part import Part
from parts.truing import compensation
from webapp.commands.console import STANDARD_STREAM, tell, text_of


def compensated(part: Part, file: str, output: str) -> tuple[Part, str]:
    """Return the part compensated as a file asks for, and the name of the file to write, which says so.

    Raises:
        DataError: the file is no TOML.
        Refused: it can't be used.
    """
    made = compensation(text_of(file))
    drawn = part.compensated(made.errors, made.label)
    tell(f"{made.sentence}. Set its kerf at the machine.")
    named = output
    if output != STANDARD_STREAM:
        path, suffix = Path(output), f"_compensated-for-{made.slug}"
        if not path.stem.endswith(suffix):
            named = str(path.with_name(f"{path.stem}{suffix}{path.suffix}"))
            tell(f"written as {Path(named).name}")
    return drawn, named
