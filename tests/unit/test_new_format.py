"""A file format is a module and a row in the table: in a copy of the tree with both, it is found everywhere."""

import json
import subprocess
import sys

import pytest

from tests.documents import copied

WRITER = '''"""A part as a list of its holes, one a line."""

from parts.record import Record


def write(record: Record) -> str:
    """Return the list; nothing of a part without holes."""
    return "".join(f"{opening.name}\\n" for opening in record.profile.inside)
'''
ROW = '    Format("holes", "text/x-holes", "parts.export.hole_list"{more}),\n'
ASK = """
import json, sys
import parts
from parts.checking.checked import FORMATS as OF_DRAWINGS
from parts.truing import Errors
from webapp import cli, create_app

holed = {"holes_a": "1", "bolt": "M8"}
client = create_app().test_client()
part, plain = parts.draw("gusset-triangle", **holed), parts.draw("gusset-triangle")

def why(make):
    try:
        return make().decode()
    except parts.Refused as refused:
        return str(refused)

file = client.get("/parts/gusset-triangle.HOLES?holes_a=1&bolt=M8")
described = client.get("/openapi.json").json
every_part = described["components"]["schemas"]["EveryPart"]["properties"]
print(json.dumps({
    "file": why(lambda: part.file("holes")),
    "empty": why(lambda: plain.file("holes")),
    "compensated": why(lambda: part.compensated(Errors(scale_x=0.001), "Fernhollow table").file("holes")),
    "download": [file.status_code, file.mimetype, file.text, file.headers["Content-Disposition"]],
    "refused": [client.get("/parts/gusset-triangle.holes").status_code],
    "page": "/parts/gusset-triangle.holes?" in client.get("/parts/gusset-triangle?holes_a=1&bolt=M8").text,
    "described": "holes" in described["components"]["parameters"]["format"]["schema"]["enum"],
    "types": "text/x-holes" in described["components"]["responses"]["File"]["content"],
    "compensable": "holes" in every_part["compensate"]["description"],
    "drawings": "holes" in OF_DRAWINGS,
    "command": cli.main(["draw", "gusset-triangle", "holes_a=1", "bolt=M8", "-o", "out.holes"]),
    "nothing": cli.main(["draw", "gusset-triangle", "-o", "none.holes"]),
}))
"""
NOTHING = "format: has nothing to say of this part, so no file is made."
AS_IT_SHALL_BE = (
    "format: isn't written compensated, since it shows the part as it shall be; take one of dxf, svg, json."
)


@pytest.mark.parametrize(("more", "compensated"), [("", AS_IT_SHALL_BE), (", compensable=True", "hole in leg A\n")])
def test_a_row_and_a_module_are_enough(more, compensated, tmp_path):
    tree = copied(tmp_path / "platewright")
    (tree / "parts/export/hole_list.py").write_text(WRITER, encoding="utf-8")
    table = tree / "parts/export/formats.py"
    before, closing, after = table.read_text(encoding="utf-8").partition(")\nFORMATS")
    table.write_text(before + ROW.format(more=more) + closing + after, encoding="utf-8")
    told = subprocess.run([sys.executable, "-c", ASK], cwd=tree, capture_output=True, text=True, check=False)
    assert told.returncode == 0, told.stderr
    name = 'attachment; filename="gusset-triangle_100x100_6mm.holes"'
    assert json.loads(told.stdout) == {
        "file": "hole in leg A\n",
        "empty": NOTHING,
        "compensated": compensated,
        "download": [200, "text/x-holes", "hole in leg A\n", name],
        "refused": [422],
        "page": True,
        "described": True,
        "types": True,
        "compensable": bool(more),
        "drawings": True,
        "command": 0,
        "nothing": 2,
    }
    assert (tree / "out.holes").read_text(encoding="utf-8") == "hole in leg A\n"
    assert not (tree / "none.holes").exists()
