"""Contents: the page of a job pack that a person opens first: what the part is, what to mind, what each file is for.

One file of HTML that needs nothing else but the preview beside it, and prints on a sheet or two.
"""

from collections.abc import Iterator, Mapping, Sequence
from html import escape

from parts.export import bend_notes, bend_rows, page_drawing
from parts.finding import verdict
from parts.part import Part
from parts.record import VERSION
from parts.units import format_mass, format_rough, format_short_time

_FOR = {
    "pdf": "The dimensioned drawing, to print",
    "dxf": "The outline for the toolpath program",
    "svg": "The outline at true size, for programs that take no DXF",
    "step": "The solid, for design programs",
    "glb": "The solid as a mesh, to look at; metres",
    "png": "The finished piece as it will look",
    "json": "All that is known of the part, for other programs",
    "set-up.pdf": "The set-up sheet, for whoever stands at the table",
    "set-up.json": "The same for other programs",
}
_FLAT = "The solid of the flat, before it is bent"
_BENDS = ("Bend", "Way and angle", "Inside radius", "K", "Allowance", "Deduction", "Line from the end")
_STYLE = (
    "body{font:16px/1.45 system-ui,sans-serif;color:#1a1814;max-width:52rem;margin:2rem auto;padding:0 1rem}"
    "h1{margin:0}h2{font-size:1.1rem;margin:1.75rem 0 .25rem;border-bottom:1px solid}"
    "table{display:block;overflow-x:auto;border-collapse:collapse}a,li{overflow-wrap:anywhere}"
    "td,th{text-align:left;padding:.125rem .75rem .125rem 0;vertical-align:top}svg,img{max-width:100%;height:auto}"
    "a{display:inline-block;max-width:100%;min-height:1.75rem}"
    "@media(max-width:34rem){body{margin:1rem auto}.files :is(tr,td){display:block}.files tr{padding:.375rem 0}}"
    ".stop{font-weight:700}.verdict{border:2px solid;padding:.5rem .75rem;font-weight:700}"
    "@media print{body{margin:0;font-size:11pt}h2{break-after:avoid}tr,li,svg{break-inside:avoid}}"
)


def page(part: Part, files: Sequence[tuple[str, str]], missing: Mapping[str, str], preview: str) -> str:
    """Return the page as HTML.

    Args:
        part: drawn and checked.
        files: name and format of each file in the pack.
        missing: why a file isn't in it, by its name.
        preview: the name of the picture, "" where there is none.
    """
    title = escape(part.record.template.title)
    body = "\n".join(_body(part, files, missing, preview))
    return (
        '<!doctype html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{title}: job pack</title>\n<style>{_STYLE}</style>\n</head>\n<body>\n{body}\n</body>\n</html>\n"
    )


def _body(part: Part, files: Sequence[tuple[str, str]], missing: Mapping[str, str], preview: str) -> Iterator[str]:
    record = part.record
    said = verdict(record.rows)
    yield f"<h1>{escape(record.template.title)}</h1>"
    if record.compensation is not None:
        yield f'<p class="stop">{escape(record.compensation.sentence)}.</p>'
    yield f'<p class="verdict">{escape(said.line)}</p>'
    yield _table(_facts(part))
    yield page_drawing(record)
    yield "<h2>Findings</h2>"
    yield _list(
        f"<b>{row.first.severity}</b> {escape(f'{row.first.message} {row.first.remedy} {row.rest}'.strip())}"
        for row in record.rows
    )
    yield _list(escape(f"{finding.message} {finding.remedy}") for finding in part.routine) if part.routine else ""
    yield "<h2>Before you cut or use it</h2>"
    yield _list(escape(caution) for caution in part.cautions)
    if bends := list(bend_rows(record)):
        yield f"<h2>Bends, lengths in {record.units}</h2>"
        yield _table(bends, _BENDS)
        yield _list(escape(note) for note in bend_notes(record))
    yield "<h2>Files</h2>"
    rows = ((_link(name), escape(_FLAT if "_flat." in name else _FOR[kind])) for name, kind in files)
    yield f'<div class="files">{_table(rows)}</div>'
    if missing:
        yield "<p>Not in this pack:</p>"
        yield _list(f"{escape(name)}: {escape(why.rstrip('.'))}." for name, why in missing.items())
    yield "<h2>Values</h2>"
    yield _table(_values(part))
    again = f"<code>{escape(record.address)}</code> on your page, or open any of these files there."
    yield f"<p>To draw it again: {again}</p>"
    if preview:
        yield f'<p><img src="{preview}" alt="The finished piece as it will look"></p>'
    yield f"<p>Platewright {VERSION}</p>"


def _facts(part: Part) -> Iterator[tuple[str, str]]:
    record, m = part.record, part.measures
    yield "Size", escape(record.size)
    yield "Stock", escape(f"{record.material_title}, {record.job.say(record.job.cut.thickness_mm)} thick")
    yield "Process", escape(record.job.cut.title)
    yield "Mass", escape(format_mass(m.mass_kg, record.units))
    yield "Cut length, pierces", escape(f"{format_rough(m.cut_length_mm, record.units)}, {m.pierces}")
    if m.cut_time_s:
        yield "Time at the table", escape(format_short_time(m.cut_time_s))


def _values(part: Part) -> Iterator[tuple[str, str]]:
    record = part.record
    for name, value in record.told.items():
        spec = record.specs[name]
        yield escape(spec.label), escape(spec.text(value, record.units))


def _link(name: str) -> str:
    return f'<a href="{escape(name)}">{escape(name)}</a>'


def _list(items: Iterator[str]) -> str:
    rows = "".join(f"<li>{item}</li>" for item in items)
    return f"<ul>{rows}</ul>" if rows else "<p>None.</p>"


def _table(rows: "Iterator[tuple[str, ...]] | Sequence[tuple[str, ...]]", heads: Sequence[str] = ()) -> str:
    head = f"<tr>{''.join(f'<th>{each}</th>' for each in heads)}</tr>" if heads else ""
    return f"<table>{head}{''.join(f'<tr>{_cells(row)}</tr>' for row in rows)}</table>"


def _cells(row: Sequence[str]) -> str:
    return "".join(f"<td>{cell}</td>" for cell in row)
