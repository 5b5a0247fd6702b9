"""A part's facts are worded alike wherever a person reads them: page, PDF, and the command that reads its DXF."""

import io
import re

import pytest
from markupsafe import Markup
from pypdf import PdfReader

import parts
from parts.units import format_time
from tests.depth import one_in
from webapp.cli import main

CASES = [
    *((slug, "mm") for slug in parts.templates()),
    *((slug, "in") for slug in ("gusset-triangle", "bracket-bent-hat", "flange-round", "square-test")),
]


def facts_of(html: str) -> dict[str, str]:
    """What the title block of a page says, by name."""
    found = re.findall(r"<dt>(.*?)</dt><dd>(.*?)</dd>", html, re.S)
    return {Markup(name).unescape(): Markup(value).unescape() for name, value in found}


def read_by_command(capsys, part, path) -> str:
    """What `platewright check` prints of the part's own DXF."""
    path.write_bytes(part.to_dxf().encode())
    record = part.record
    stock = ["--thickness", f"{record.job.cut.thickness_mm!r}mm", "--material", record.job.cut.material]
    main(["check", str(path), *stock, "--process", record.job.cut.process])
    return capsys.readouterr().out


@pytest.mark.parametrize(("slug", "units"), one_in(6, CASES, first=3))
def test_page_pdf_and_command_say_the_same(client, capsys, tmp_path, slug, units):
    part = parts.draw(slug, units=units)
    facts = facts_of(client.get(f"/parts/{slug}?units={units}").text)
    pages = PdfReader(io.BytesIO(part.to_pdf())).pages
    sheet = " ".join(" ".join(page.extract_text() for page in pages).split())
    command = read_by_command(capsys, part, tmp_path / "part.dxf").splitlines()[0]
    for name in ("Weight", "Size", "Cut length"):
        assert facts[name] in sheet, name
        assert f"{facts[name]}," in f"{command},", name
    for name in ("Weight", "Size", "Cut length", "Thickness", "Material"):
        assert name in sheet
    assert facts["Thickness"] in sheet
    assert facts["Size to expect"] in sheet
    assert facts["Time"] == format_time(part.measures.cut_time_s)
    apart = facts["Time at the table, without loading, marks and drilling"]
    for name in ("cutting", "lead-ins", "pierces", "height probe"):
        assert f"{name} " in apart
    assert apart in sheet
