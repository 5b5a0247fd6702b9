"""A test bend written as the TOML file that `parts.truing.bend.file` reads."""

from collections.abc import Iterable, Mapping

from parts.truing.written import table_of


def write_bend(bend: Mapping[str, object], strips: Iterable[Mapping[str, object]], units: str = "") -> str:
    """Return the file's text: the units, what the strips have in common, a table of each strip."""
    blocks = [f'units = "{units}"\n'] if units else []
    return "\n".join([*blocks, table_of("[bend]", bend), *(table_of("[[strip]]", strip) for strip in strips)])
