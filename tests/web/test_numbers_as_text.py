"""What is a number to Python and none on a drawing or a sheet, `1_000` or other alphabets' digits, is one nowhere."""

import argparse
import ast
from pathlib import Path

import pytest

import parts
from parts.errors import PartsError
from parts.read import read_drawing
from parts.shop import numbers as shop
from parts.truing.file import read
from parts.units import parse_angle, parse_count, parse_length, parse_number, parse_thickness
from tests.files.foreign import circle, dxf, line, svg
from tests.web.true_forms import filled
from webapp.commands.console import whole_number

ROOT = Path(__file__).parents[2]
NO_NUMBERS = ["1_000", "1_0.5", "\uff11\uff12", "\u0661\u0662", "\u00b2", "nan", "inf", "-Infinity", "0x10", "1e999"]
PATTERNS_THAT_READ_NO_VALUE = {
    "parts/catalogue/designation.py",
    "parts/finding.py",
    "webapp/cli.py",
    "webapp/pages/check.py",
}


def drawing(data: bytes):
    return read_drawing(data, "theirs", "mm")


def shop_file(text: str):
    path = Path(shop.path())
    path.write_text(text, encoding="utf-8")
    try:
        return shop.load(shop.edition())
    finally:
        path.write_text("")


def bent(more: str, before: str = "") -> bytes:
    return dxf(circle(0, 0, 50) + f"0\nLWPOLYLINE\n8\nSCRIBE\n{before}10\n0\n20\n0\n{more}10\n9\n20\n0\n")


def truing(machine: str = "", direction: str = "0", measured: str = "3"):
    way = f'direction_deg = "{direction}"' if direction != "0" else ""
    reading = f'[[reading]]\nkind="centres"\nnominal="3"\n{way}\nmeasured="{measured}"\n'
    return read(f"[machine]\n{machine}\n{reading}")


READERS = {
    "length": parse_length, "thickness": parse_thickness, "angle": parse_angle, "count": parse_count,
    "number": parse_number, "port": whole_number,
    "parameter": lambda text: parts.draw("gusset-triangle", snipe=text),
    "count of holes": lambda text: parts.draw("gusset-triangle", leg_a=900, holes_a=text),
    "thickness to check": lambda text: parts.check(dxf(circle(0, 0, 50)), "p.dxf", thickness=text),
    "dxf coordinate": lambda text: drawing(dxf(circle(0, 0, 50) + line(0, 0, text, 1, "SCRIBE"))),
    "dxf bulge": lambda text: drawing(bent(f"42\n{text}\n")),
    "dxf flags": lambda text: drawing(bent("", f"70\n{text}\n")),
    "dxf code": lambda text: drawing(bent(f"{text}\n0\n")),
    "svg path": lambda text: drawing(svg(f'<path d="M0 0H{text}V9Z"/>')),
    "svg points": lambda text: drawing(svg(f'<polygon points="0,0 {text},0 9,9"/>')),
    "svg length": lambda text: drawing(svg(f'<rect width="{text}" height="5"/>')),
    "svg transform": lambda text: drawing(svg(f'<rect width="9" height="5" transform="scale({text})"/>')),
    "measured": lambda text: truing(measured=text),
    "steps": lambda text: truing(machine=f'steps_per_mm_x = "{text}"'),
    "direction": lambda text: truing(direction=text),
    "shop's length": lambda text: shop_file(f'[machine]\nslat_pitch = "{text}"\n'),
    "shop's number": lambda text: shop_file(f'[machine]\nacceleration_mm_s2 = "{text}"\n'),
}  # fmt: skip
QUOTED_NUMBERS_REFUSED = {"shop's number"}


@pytest.mark.parametrize("text", NO_NUMBERS)
@pytest.mark.parametrize("reader", READERS)
def test_it_is_refused_in_a_sentence(reader, text):
    with pytest.raises((PartsError, argparse.ArgumentTypeError)) as refused:
        READERS[reader](text)
    assert str(refused.value).strip()


@pytest.mark.parametrize("reader", sorted(set(READERS) - QUOTED_NUMBERS_REFUSED))
def test_a_number_is_taken(reader):
    """By the same calls, so that it is the number that is refused above."""
    READERS[reader]("30" if reader == "shop's length" else "3")


@pytest.mark.parametrize("text", NO_NUMBERS)
def test_forms_refuse_it_beside_the_field(client, text):
    answer = client.post("/true", data=filled(measured__1=text))
    assert answer.status_code == 422
    assert text in answer.text
    assert client.get("/parts/gusset-triangle", query_string={"leg_a": text}).status_code == 422


def test_no_other_reader_knows_other_digits():
    r"""`\d` in a pattern over text matches every alphabet's digits, which Python's float takes: `[0-9]` doesn't."""
    found = {
        str(path.relative_to(ROOT))
        for folder in ("parts", "webapp")
        for path in (ROOT / folder).rglob("*.py")
        if r"\d" in (text := path.read_text(encoding="utf-8"))
        for node in ast.walk(ast.parse(text))
        if isinstance(node, ast.Call) and ast.unparse(node.func) in ("re.compile", "re.fullmatch", "re.match", "re.sub")
        if any(isinstance(part, ast.Constant) and isinstance(part.value, str) and r"\d" in part.value
               for part in ast.walk(node.args[0]))
    }  # fmt: skip
    assert found <= PATTERNS_THAT_READ_NO_VALUE
