"""Where the page of a part leads: to its files, to what else is made of it, to jobs, each by an address."""

from collections.abc import Iterator, Mapping
from urllib.parse import urlencode

from parts import store
from parts.errors import DataError
from parts.export import FORMATS, SET_UP_FORMATS, shows
from parts.facets import VIEWS
from parts.fasteners import Voids
from parts.part import COMPENSATED_FORMATS, Part, address
from parts.spec import Template
from webapp.forms import COMPENSATE, JOB_LINE, JobLine


def files(part: Part, table: str) -> Iterator[tuple[str, str]]:
    """Yield the formats and their addresses; for one table (`table` not "") those alone that say what is cut there."""
    for kind in COMPENSATED_FORMATS if table else FORMATS:
        yield kind, _for_table(_at(part, f".{kind}"), table)


def pack(part: Part, table: str) -> str:
    """Return the address of the job pack, for the table that the part is made for."""
    return _for_table(_at(part, "/pack.zip"), table)


def set_up(part: Part) -> Iterator[tuple[str, str]]:
    """Yield the forms of the set-up sheet and their addresses."""
    for kind in SET_UP_FORMATS:
        yield kind, _at(part, f"/setup.{kind}")


def in_space(part: Part) -> Iterator[tuple[str, str]]:
    """Yield the part in space, as facets and as a still picture, and their addresses."""
    for kind in VIEWS:
        yield kind, _at(part, f"/view.{kind}")


def on_paper(part: Part) -> Mapping[str, str]:
    """Return the addresses of the pattern, and of the dimensioned drawing by its format."""
    wanted = {"pattern": ("pdf", shows.PATTERN), "dxf": ("dxf", shows.DRAWING), "svg": ("svg", shows.DRAWING)}
    return {name: _with(_at(part, f".{kind}"), shows.SHOWS, word) for name, (kind, word) in wanted.items()}


def bolt_up(part: Part) -> str:
    """Return the address that asks whether the part bolts up; "" where it has no hole for a bolt."""
    if not any(each.bolt for each in Voids(part.profile).things):
        return ""
    return f"/boltup?{urlencode({'a': part.record.address.removeprefix('/parts/')})}"


def job(part: Part, args: Mapping[str, str]) -> str:
    """Return the address at which the part is put into a job, or back into the line that it was opened from."""
    slug = part.record.template.slug
    to = part.record.address.replace(f"/parts/{slug}", f"/jobs/add/{slug}", 1)
    opened = JobLine.read(args.get(JOB_LINE, ""))
    return _with(to, JOB_LINE, str(opened)) if opened else to


def saved(template: Template) -> Iterator[tuple[str, str]]:
    """Yield the saved parts of a template by name, and their addresses; none where the store is unusable."""
    try:
        found = store.saved_parts(template.slug)
    except DataError:
        return  # the pages of jobs say why
    for each in found:
        yield each.name, address(template.slug, dict(each.kept.values))


def test_bend(part: Part) -> str:
    """Return the query of the strips of this part's stock."""
    record = part.record
    of = {name: record.specs[name] for name in ("material", "thickness", "units")}
    names = [name for name, spec in of.items() if record.parameters[name] != spec.default_in(record.units)]
    stock = {name: record.specs[name].text(record.parameters[name], record.units) for name in names}
    return urlencode({"template": "gauge-test-bend", **stock})


def _at(part: Part, ending: str) -> str:
    """The address of a part with an ending after its slug."""
    slug = part.record.template.slug
    return part.record.address.replace(f"/parts/{slug}", f"/parts/{slug}{ending}", 1)


def _for_table(to: str, table: str) -> str:
    return _with(to, COMPENSATE, table) if table else to


def _with(to: str, name: str, value: str) -> str:
    return f"{to}{'&' if '?' in to else '?'}{name}={value}"
