"""Naming: what a part's file is called."""

from parts.export import FORMATS, SOLID, shows
from parts.part import Part
from parts.units import Units, length_in_name, number_in_name


def file_name(part: Part, kind: str) -> str:
    """Return a name that says what is in the file: template, size, thickness; of a DXF its units too.

    R12 is in the name because it has no other place that every reader looks at for its units; the table that a part
    is compensated for, because on any other the part comes out wrong.
    """
    record, measures = part.record, part.measures
    units: Units = record.units
    width, height = number_in_name(measures.width_mm, units), number_in_name(measures.height_mm, units)
    pieces = record.profile.pieces
    piece = f"_{pieces[0].replace(' ', '-')}" if len(pieces) == 1 else ""
    name = f"{record.template.slug}{piece}_{width}x{height}_{length_in_name(record.job.cut.thickness_mm, units)}"
    if kind == "dxf":
        name += f"_R12_{units}" if record.dxf_version == "R12" else f"_{units}"
    if kind in SOLID and (record.bends or record.template.assembly) and record.is_flat:
        name += "_flat"
    name += shows.named(kind, record.shows) if kind in FORMATS else ""
    if record.compensation is not None:
        name += f"_compensated-for-{record.compensation.slug}"
    return f"{name}.{kind}"
