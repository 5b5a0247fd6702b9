"""Names of files that are the same on every system: none that another takes for a folder, a device or another name."""

import re
import unicodedata
from collections.abc import Mapping

LONGEST = 120
REPORT = "report"
"""What the report is called, which no part may be."""
_FORBIDDEN = re.compile(r'[<>:"/\\|?*\x00-\x1f\x7f]')
_DEVICES = re.compile(r"(con|prn|aux|nul|com[0-9]|lpt[0-9]|conin\$|conout\$)(\..*)?", re.IGNORECASE)
_KEPT = re.compile(r"[^\w.+-]+")


def name_fault(name: str) -> str:
    """Return why a file can't be called so on every system; nothing where it can."""
    if wrong := _FORBIDDEN.search(name):
        shown = wrong[0] if wrong[0].isprintable() else "an end of line or another sign that isn't seen"
        return f"has {shown} in it, which no file's name can have; leave it out."
    if ".." in name or name[0] in ".-~ " or name[-1] in ". ":
        return "can't be a file's name: it has two dots together, or begins or ends with a dot, a blank or a hyphen."
    if _DEVICES.fullmatch(name) or name.casefold() == REPORT:
        return "is the name of a device, or of the report; take another."
    if len(name) > LONGEST:
        return f"is {len(name)} characters long; a file's name here may have {LONGEST}."
    if not name.isprintable():
        return "has a sign in it that isn't seen; type it again."
    return ""


def file_name(row: int, part: str, called: str, changed: Mapping[str, str]) -> str:
    """Return what the files of a part are called, without their ending.

    Args:
        row: of the table.
        part: slug or stem, which an unnamed row is called by, with its number.
        called: what the row says.
        changed: the values that tell parts of a series apart.
    """
    stem = called or f"{row:03d}-{part}"
    each = [f"{name}-{_KEPT.sub('_', text.replace('/', '_'))}" for name, text in changed.items()]
    return unicodedata.normalize("NFC", "-".join((stem, *each)))
