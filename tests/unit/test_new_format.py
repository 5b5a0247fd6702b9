"""A file format is a module and a row in the table: in a copy of the tree with both, it is found everywhere."""

import json
import subprocess
import sys

from tests.documents import copied

WRITER = '''"""A part as a list of its holes, one a line."""

from parts.record import Record


def write(record: Record) -> str:
    """Return the list; nothing of a part without holes."""
    return "".join(f"{opening.name}\\n" for opening in record.profile.inside)
'''
ROWS = (
    '    Format("holes", "text/x-holes", "parts.export.hole_list"),\n'
    '    Format("openings", "text/x-openings", "parts.export.hole_list", compensable=True),\n'
)
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

described = client.get("/openapi.json").json
every_part = described["components"]["schemas"]["EveryPart"]["properties"]
page = client.get("/parts/gusset-triangle?holes_a=1&bolt=M8").text

def told_of(name):
    file = client.get(f"/parts/gusset-triangle.{name.upper()}?holes_a=1&bolt=M8")
    return {
    "file": why(lambda: part.file(name)),
    "empty": why(lambda: plain.file(name)),
    "compensated": why(lambda: part.compensated(Errors(scale_x=0.001), "Fernhollow table").file(name)),
    "download": [file.status_code, file.mimetype, file.text, file.headers["Content-Disposition"]],
    "refused": [client.get(f"/parts/gusset-triangle.{name}").status_code],
    "page": f"/parts/gusset-triangle.{name}?" in page,
    "described": name in described["components"]["parameters"]["format"]["schema"]["enum"],
    "types": f"text/x-{name}" in described["components"]["responses"]["File"]["content"],
    "compensable": name in every_part["compensate"]["description"],
    "drawings": name in OF_DRAWINGS,
    "command": cli.main(["draw", "gusset-triangle", "holes_a=1", "bolt=M8", "-o", f"out.{name}"]),
    "nothing": cli.main(["draw", "gusset-triangle", "-o", f"none.{name}"]),
}

print(json.dumps({name: told_of(name) for name in ("holes", "openings")}))
"""
NOTHING = "format: has nothing to say of this part, so no file is made."
AS_IT_SHALL_BE = (
    "format: isn't written compensated, since it shows the part as it shall be; take one of dxf, svg, json, openings."
)


def test_a_row_and_a_module_are_enough(tmp_path):
    """Of a format that is written compensated, and of one that isn't."""
    tree = copied(tmp_path / "platewright")
    (tree / "parts/export/hole_list.py").write_text(WRITER, encoding="utf-8")
    table = tree / "parts/export/formats.py"
    before, closing, after = table.read_text(encoding="utf-8").partition(")\nFORMATS")
    table.write_text(before + ROWS + closing + after, encoding="utf-8")
    run = subprocess.run([sys.executable, "-c", ASK], cwd=tree, capture_output=True, text=True, check=False)
    assert run.returncode == 0, run.stderr
    told = json.loads(run.stdout)
    for name, compensated in (("holes", AS_IT_SHALL_BE), ("openings", "hole in leg A\n")):
        assert told[name] == {
            "file": "hole in leg A\n",
            "empty": NOTHING,
            "compensated": compensated,
            "download": [
                200, f"text/x-{name}", "hole in leg A\n",
                f'attachment; filename="gusset-triangle_100x100_6mm.{name}"',
            ],
            "refused": [422],
            "page": True,
            "described": True,
            "types": True,
            "compensable": name == "openings",
            "drawings": True,
            "command": 0,
            "nothing": 2,
        }  # fmt: skip
        assert (tree / f"out.{name}").read_text(encoding="utf-8") == "hole in leg A\n"
        assert not (tree / f"none.{name}").exists()
