"""Pack: a part's files, its picture and a page of contents as one ZIP, the same bytes each time.

Files have no date but the earliest that a ZIP knows, and stand in the order in which a person needs them. What can't be
made, a solid where there is no modeller, is left out, and the contents say so.
"""

import io
import zipfile
from collections.abc import Collection, Iterator

from parts.errors import GeometryError, NotInstalled
from parts.export import FORMATS, SET_UP_FORMATS, SOLID, preview
from parts.packing.contents import page
from parts.packing.naming import file_name
from parts.part import COMPENSATED_FORMATS, Part
from parts.record import VERSION

CONTENTS, PREVIEW = "contents.html", "preview.jpg"
_PICTURE = "png"
_ORDER = ("pdf", "dxf", "svg", "step", "glb", "png", "json")
_EARLIEST = (1980, 1, 1, 0, 0, 0)
_READABLE = 0o644 << 16
_TOO_MUCH = "it takes more time or memory than there is here; ask for it by itself"
_TRUE_ALONE = "it shows the part as it shall be, and this one is made for one table"


def packed(part: Part, *, left_out: Collection[str] = ()) -> bytes:
    """Return the job pack of a part.

    Args:
        part: drawn and checked; its drawing, solids and picture are of the part as it shall be.
        left_out: formats that aren't to be made, as they would take too long here.
    """
    made: list[tuple[str, str, bytes]] = []
    missing: dict[str, str] = {}
    for name, kind, of in _wanted(part):
        if kind in left_out:
            missing[name] = _TOO_MUCH
        elif part.record.compensation is not None and kind not in COMPENSATED_FORMATS:
            missing[name] = _TRUE_ALONE
        else:
            try:
                made.append((name, kind, of.file(kind)))
            except (NotInstalled, GeometryError) as error:
                missing[name] = str(error)
    made[1:1] = _set_up(part)
    seen = () if _PICTURE in left_out else ((PREVIEW, preview(part.record)),)
    contents = page(part, [(name, kind) for name, kind, _ in made], missing, PREVIEW if seen else "")
    return _zipped([(CONTENTS, contents.encode("utf-8")), *((name, data) for name, _, data in made), *seen])


def _set_up(part: Part) -> Iterator[tuple[str, str, bytes]]:
    """Yield the name of each set-up sheet, what it is, and its bytes; none of a part that is made for one table."""
    if part.record.compensation is None:
        for kind in SET_UP_FORMATS:
            stem = file_name(part, kind).removesuffix(f".{kind}")
            yield f"{stem}_set-up.{kind}", f"set-up.{kind}", part.set_up(kind)


def _wanted(part: Part) -> Iterator[tuple[str, str, Part]]:
    """Yield the name of each file, its format, and the part in the form that it shows."""
    kinds = [*_ORDER, *(kind for kind in FORMATS if kind not in _ORDER)]
    for kind in kinds:
        yield file_name(part, kind), kind, part
        if kind == SOLID[0] and (part.record.is_folded or part.record.assembly):
            flat = part.flat()
            yield file_name(flat, kind), kind, flat


def _zipped(files: list[tuple[str, bytes]]) -> bytes:
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED, compresslevel=6) as archive:
        archive.comment = f"Platewright {VERSION} job pack".encode("ascii")
        for name, data in files:
            entry = zipfile.ZipInfo(name, _EARLIEST)
            entry.compress_type, entry.external_attr, entry.create_system = zipfile.ZIP_DEFLATED, _READABLE, 3
            archive.writestr(entry, data, compresslevel=6)
    return made.getvalue()
