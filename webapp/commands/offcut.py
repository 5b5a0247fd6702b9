"""`platewright offcut`: what is left of sheets, kept with its outline, put into the store and taken out."""

import argparse
import json
import sys
from dataclasses import asdict
from pathlib import Path

from parts import store
from parts.store import OffCut
from parts.units import Units, format_both, format_rough, units_of
from webapp.commands.console import usual_values, whole_number
from webapp.commands.console.own_file import read

_DRAWINGS = (".dxf", ".svg")


def declare(command: argparse.ArgumentParser) -> None:
    """Say what the command is given."""
    command.epilog = "`nest --off-cuts` and `job sheets --off-cuts` lay parts on them before they take a sheet."
    acts = command.add_subparsers(required=True, metavar="ACT", dest="act")
    listed = acts.add_parser("list", help="the off-cuts that are there")
    listed.add_argument("--json", action="store_true", help="as JSON, with their outlines, lengths in mm")
    listed.set_defaults(run=_listed)
    add = acts.add_parser("add", help="an off-cut, by its size or the drawing of its outline")
    add.add_argument("outline", metavar="SIZE|FILE", help="such as 600x900, 2ftx3ft, or a DXF or SVG")
    add.add_argument("--thickness", required=True, metavar="T", help="of the plate, as of a part")
    add.add_argument("--material", default="mild-steel", metavar="M", help="mild-steel unless said")
    add.add_argument("--name", default="", help="what the shop calls it, such as rack 2")
    add.set_defaults(run=_add)
    take = acts.add_parser("take", help="an off-cut out of the store")
    take.add_argument("number", metavar="N", type=whole_number, help="its number, as `offcut list` has it")
    take.set_defaults(run=_take)


def _listed(request: argparse.Namespace) -> int:
    found = store.off_cuts()
    if request.json:
        sys.stdout.write(json.dumps([asdict(each) for each in found], ensure_ascii=False, indent=1) + "\n")
        return 0
    units = units_of(usual_values().get("units"))
    sys.stdout.writelines(f"{_said(each, units)}\n" for each in found)
    if not found:
        sys.stdout.write("no off-cut\n")
    return 0


def _add(request: argparse.Namespace) -> int:
    from parts.laying import drawn_as, measured  # noqa: PLC0415 - slow to load

    units = units_of(usual_values().get("units"))
    stock = {"thickness": request.thickness, "material": request.material}
    if Path(request.outline).suffix.lower() in _DRAWINGS:
        data, name = read(request.outline)
        found = drawn_as(data, name, units, request.name, **stock)
    else:
        found = measured(request.outline, units, request.name, **stock)
    sys.stdout.write(f"{_said(store.keep_off_cut(found), units)}\n")
    return 0


def _take(request: argparse.Namespace) -> int:
    store.take_off_cut(request.number)
    sys.stdout.write(f"off-cut {request.number} is taken out\n")
    return 0


def _said(off_cut: OffCut, units: Units) -> str:
    width, height = (format_rough(side, units) for side in off_cut.size)
    is_square = len(off_cut.outline) == 1 and len(off_cut.outline[0]) == 4
    of = f", of job {off_cut.of_job}" if off_cut.of_job else ""
    name = f", {off_cut.name}" if off_cut.name else ""
    within = "" if is_square else "within "
    return (
        f"off-cut {off_cut.number}: {off_cut.material} {format_both(off_cut.thickness_mm)}, "
        f"{within}{width} by {height}{of}{name}"
    )
