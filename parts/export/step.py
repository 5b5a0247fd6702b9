"""STEP: the part as solids by AP214, arcs as true arcs and round holes as true cylinders; a bent part is folded.

A set is an assembly: a product for each of its pieces, in its place.

The header says what the part is, and nothing of when or where the file was written.
"""

import io
import re
from typing import TYPE_CHECKING

from parts.errors import GeometryError
from parts.export.about import facts, form_fact, parameter_texts
from parts.export.solid import NO_SOLID, shape
from parts.export.step_assembly import writer_of
from parts.record import Record

if TYPE_CHECKING:
    from OCP.STEPControl import STEPControl_Writer
    from OCP.TCollection import TCollection_HAsciiString
    from OCP.TopoDS import TopoDS_Shape

_NO_TIME = "1970-01-01T00:00:00"
_NOTHING = re.compile(rb"(?<=[(,])-(?:0\.(?=[,)])|\d\.\d+E-1[3-9])|(?<=[(,])\d\.\d+E-1[3-9]")
"""Rounding left over, 1e-13 mm and less, and a negative nothing: the modeller's vary from one time to the next."""


def write(record: Record) -> bytes:
    """Return the part as STEP bytes, mm; the first call loads the solid modeller, which takes a second.

    Raises:
        GeometryError: if the solid modeller can't write the part, or it can't be folded.
        NotInstalled: if there is no solid modeller.
    """
    made = shape(record, "step")
    from OCP.IFSelect import IFSelect_RetDone
    from OCP.Standard import Standard_Failure

    stream = io.BytesIO()
    try:
        writer = _holding(record, made)
        _name(writer, record)
        _head(writer, record)
        done = writer.WriteStream(stream) == IFSelect_RetDone
    except (Standard_Failure, ValueError) as error:
        raise GeometryError(NO_SOLID) from error
    if not done:
        raise GeometryError(NO_SOLID)
    return _NOTHING.sub(b"0.", stream.getvalue())


def _holding(record: Record, made: "TopoDS_Shape") -> "STEPControl_Writer":
    """A writer that holds the part, or the assembly of a set.

    Raises:
        ValueError: the modeller can't take it.
    """
    from OCP.IFSelect import IFSelect_RetDone
    from OCP.STEPControl import STEPControl_AsIs, STEPControl_Writer

    if record.assembly:
        return writer_of(record, made).ChangeWriter()
    writer = STEPControl_Writer()
    if writer.Transfer(made, STEPControl_AsIs) != IFSelect_RetDone:
        raise ValueError
    return writer


def _name(writer: "STEPControl_Writer", record: Record) -> None:
    """Name the product; by the writer's own setting it would carry the number of the file since the start.

    The pieces of an assembly have their names, and numbers of their own.
    """
    from OCP.StepBasic import StepBasic_Product
    from OCP.StepRepr import StepRepr_NextAssemblyUsageOccurrence

    model, pieces, number = writer.Model(False), {piece.name for piece in record.assembly}, 0
    for i in range(1, model.NbEntities() + 1):
        entity = model.Value(i)
        if isinstance(entity, StepRepr_NextAssemblyUsageOccurrence):
            number += 1
            entity.SetId(_string(str(number)))
        if isinstance(entity, StepBasic_Product) and entity.Name().ToCString() not in pieces:
            entity.SetId(_string(record.template.slug))
            entity.SetName(_string(record.template.title))
            entity.SetDescription(_string(record.address))


def _head(writer: "STEPControl_Writer", record: Record) -> None:
    """Describe the part in the header as `name: value` lines; leave out time, author and machine."""
    from OCP.APIHeaderSection import APIHeaderSection_MakeHeader
    from OCP.Interface import Interface_HArray1OfHAsciiString

    known = {**facts(record), **form_fact(record)}
    parameters = {f"parameter {name}": text for name, text in parameter_texts(record).items()}
    lines = [f"{name}: {text}" for name, text in {**known, **parameters}.items()]
    description = Interface_HArray1OfHAsciiString(1, len(lines))
    for i, line in enumerate(lines, start=1):
        description.SetValue(i, _string(line))
    header = APIHeaderSection_MakeHeader(writer.Model(False))
    header.SetDescription(description)
    header.SetName(_string(f"{record.template.slug}.step"))
    header.SetTimeStamp(_string(_NO_TIME))
    header.SetAuthorValue(1, _string(""))
    header.SetOrganizationValue(1, _string(""))
    header.SetOriginatingSystem(_string(f"platewright {known['platewright_version']}"))


def _string(text: str) -> "TCollection_HAsciiString":
    from OCP.TCollection import TCollection_HAsciiString

    return TCollection_HAsciiString(step_text(text))


def step_text(text: str) -> str:
    r"""Return the text as a STEP string holds it, by ISO 10303-21: `\X2\00E9\X0\` for an accented e.

    The backslash is written so too, lest it be taken for such an escape; the writer doubles apostrophes.
    """
    return "".join(
        character if " " <= character <= "~" and character != "\\" else _escaped(character) for character in text
    )


def _escaped(character: str) -> str:
    code = f"{ord(character):04X}"
    return f"\\X2\\{code}\\X0\\" if len(code) == 4 else f"\\X4\\{ord(character):08X}\\X0\\"
