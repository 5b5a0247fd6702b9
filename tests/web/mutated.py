"""Mutated uploads and requests, sent one after the other in a process of its own; prints what came of them as JSON.

    python -m tests.web.mutated uploads|requests COUNT [SEED]

Every upload is of a kind that some address takes, taken apart as in `tests.property.read_fuzz`; every request is to one
of all addresses, with values that are right, wrong, doubled, misspelt or of another field. None may end in a status of
500 or more, take more processor time than LONGEST_S, or leave the process with more memory than LARGEST_MB.
"""

import base64
import io
import json
import os
import random
import sys
import tempfile
import zlib
from collections import Counter
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path
from typing import Any

import parts
from parts.shop import VARIABLE as SHOP
from parts.truing import history
from tests.files import foreign
from tests.files.hostile import peak_mb, spent_s
from tests.property import read_fuzz
from tests.property.read_fuzz import mutated
from webapp import create_app

OWN = {"Sec-Fetch-Site": "same-origin"}
VALUES = (
    "", " ", "0", "-1", "1", "6", "25", "100", "3/16", "1-1/2 in", "2ft 3in", "16 ga", "1e9", "1e999", "nan",
    "1/0", "0/0", "on", "off", "yes", "M8", "M999", "mm", "in", "furlong", "R12", "laser", "air-plasma", "oxy-fuel",
    "aluminium", "a" * 201, "é", "\uff11", "\x00", "\n", "%", "&", "<b>", "'", '"', "\u202e", "9" * 60, "1 mm 2",
    "0.1 + 0.2", "1_000", "0x10", "1,5", "--1", "steel", "drill", "1/64", "359.99", "90", "inf", "-0", "½ in",
)  # fmt: skip
SHOP_FILE = """
[bed]
x = "52 in"
y = "98 in"
[machine]
acceleration_mm_s2 = 500
slat_pitch_mm = 75.0
[materials.tread]
title = "Tread plate"
density_kg_per_m3 = 7850
group = "steel"
gauge = "msg"
[processes.air-plasma.smallest_hole]
ratio = 1.2
[[processes.air-plasma.kerf.any.rows]]
thickness_mm = 1
kerf_mm = 1.1
[[processes.air-plasma.kerf.any.rows]]
thickness_mm = 20
kerf_mm = 2.0
"""
READINGS = """
[[reading]]
kind = "centres"
direction_deg = 0
nominal = "300 mm"
measured = "300.12 mm"
u = "0.02 mm"
[[reading]]
kind = "outside"
direction_deg = 90
nominal = "350 mm"
measured = "350.3 mm"
instrument = "caliper"
"""
MEASUREMENTS = f"""
[machine]
name = "Fernhollow table"
travel_x = "52 in"
travel_y = "98 in"
gantry_rail_spacing = "1500 mm"
steps_per_mm_x = 100.0
{READINGS}[[reading]]
kind = "reversal"
direction_deg = 90
nominal = "400 mm"
measured = "0.3 mm"
"""


def drawing(rng: random.Random) -> bytes:
    """A drawing of any kind that is read; or one whose layers say of each outline which side it is."""
    return made(rng.choice((*SEEDS, *sides())))


@cache
def made(make: Callable[[], bytes]) -> bytes:
    """A drawing as it is made."""
    return make()


@cache
def sides() -> tuple[Callable[[], bytes], ...]:
    """A plate whose layers are exchanged, and two circles on the layers of the wrong sides."""
    plate = parts.draw("gusset-triangle", holes_a=2).to_dxf().encode()
    swapped = plate.replace(b"\nOUTSIDE\n", b"\n~\n").replace(b"\nINSIDE\n", b"\nOUTSIDE\n").replace(b"~", b"INSIDE")
    layered = foreign.dxf(
        foreign.circle(0, 0, 30).replace("8\n0\n", "8\nINSIDE\n")
        + foreign.circle(9, 0, 5).replace("8\n0\n", "8\nOUTSIDE\n")
    )
    return (lambda: swapped), (lambda: layered)


@cache
def entries() -> bytes:
    """A history's entries as CSV."""
    history.keep("Fernhollow table", MEASUREMENTS, None)
    return history.write_csv(history.entries()).encode()


def in_json(text: str) -> bytes:
    """The tables of a TOML text as JSON."""
    import tomllib

    return json.dumps(tomllib.loads(text)).encode()


def upload(rng: random.Random) -> dict[str, Any]:
    """One upload as the client takes it."""
    kind = rng.choice((*[_drawing] * 6, _carried, _shop_file, _measurements, _body, _history, _shop_form))
    return {"headers": OWN, "method": "POST", **kind(rng)}


def _values(rng: random.Random) -> dict[str, str]:
    asked = read_fuzz.asked(rng)
    some = {"small_holes": "drill", "bed_x": rng.choice(VALUES), "dxf_version": "R12", "take": rng.choice(VALUES)}
    chosen = {name: some[name] for name in some if rng.random() < 0.1}
    return {name: str(value) for name, value in (asked | chosen).items() if value is not None}


def _drawing(rng: random.Random) -> dict[str, Any]:
    form = _values(rng) | {"file": (io.BytesIO(mutated(drawing(rng), rng)), "theirs.dxf")}
    if rng.random() < 0.2:
        form["as"] = rng.choice(("dxf", "svg", "pdf", "json", "step", "no"))
    return {"path": rng.choice(("/check", "/check.json")), "data": form}


def _carried(rng: random.Random) -> dict[str, Any]:
    packed = zlib.compress(mutated(drawing(rng), rng))
    kept = base64.b64encode(packed if rng.random() < 0.7 else mutated(packed, rng))
    form = _values(rng) | {"kept": kept if rng.random() < 0.7 else mutated(kept, rng), "kept_name": rng.choice(VALUES)}
    return {"path": "/check", "data": form}


def _file(rng: random.Random, data: bytes, name: str) -> tuple[io.BytesIO, str]:
    return io.BytesIO(mutated(data, rng)), name


def _shop_file(rng: random.Random) -> dict[str, Any]:
    return {"path": "/shop/file", "data": {"file": _file(rng, SHOP_FILE.encode(), "shop.toml"), "stamp": ""}}


def _shop_form(rng: random.Random) -> dict[str, Any]:
    was = mutated(b'{"bed.x_mm": "1250", "source": "the shop"}', rng)
    fields = {name: rng.choice(VALUES) for name in ("bed.x_mm", "machine.slat_pitch_mm", "back", "source", "stamp")}
    return {"path": rng.choice(("/shop", "/shop/air-plasma", "/shop/laser")), "data": fields | {"was": was}}


def _measurements(rng: random.Random) -> dict[str, Any]:
    form = {"file": _file(rng, MEASUREMENTS.encode(), "m.toml"), "do": rng.choice(("file", "also"))}
    return {"path": "/true", "data": form}


def _body(rng: random.Random) -> dict[str, Any]:
    data = rng.choice((MEASUREMENTS.encode(), in_json(MEASUREMENTS)))
    return {"path": "/true.json", "data": mutated(data, rng)}


def _history(rng: random.Random) -> dict[str, Any]:
    return {"path": "/true/history/load", "data": {"file": _file(rng, entries(), "history.csv")}}


SLUGS = sorted(parts.templates())
SEEDS = read_fuzz.seeds()
ENDINGS = ("", "", "", "/remedies", "/remedies.json", ".dxf", ".svg", ".pdf", ".json", ".DXF", ".step", ".dwg")
OTHERS = (
    "/", "/healthz", "/openapi.json", "/check", "/check.json", "/shop", "/shop/air-plasma", "/shop/none", "/shop/file",
    "/shop/file.toml", "/true", "/true.json", "/true/sheet", "/true/sheet.pdf", "/true/sheet.toml", "/true/history",
    "/true/history/1", "/true/history/99999999999999999999", "/true/history.csv", "/true/keep", "/true/history/accept",
    "/true/history/load", "/static/sheet.css", "/static/../app.py", "/nowhere", "/parts/", "//", "/%00",
)  # fmt: skip
TRUE_FIELDS = ("kind", "direction_deg", "nominal", "measured", "u", "instrument", "name")


def request(rng: random.Random) -> dict[str, Any]:
    """One request as the client takes it."""
    headers = dict(OWN) if rng.random() < 0.8 else {}
    if rng.random() < 0.05:
        headers |= {rng.choice(("Host", "If-None-Match", "Origin", "Range", "Accept", "Content-Type")): _ascii(rng)}
    if rng.random() < 0.75:
        slug = rng.choice(SLUGS) if rng.random() < 0.98 else _text(rng)
        return {
            "method": "GET" if rng.random() < 0.97 else rng.choice(("HEAD", "POST", "PUT", "OPTIONS", "DELETE")),
            "path": f"/parts/{slug}{rng.choice(ENDINGS) if rng.random() < 0.985 else rng.choice(VALUES)}",
            "query_string": list(_asked(rng, slug)),
            "headers": headers,
        }
    return {"headers": headers, **_of_others(rng)}


def _asked(rng: random.Random, slug: str) -> Iterator[tuple[str, str]]:
    """Values of a template's parameters: right ones, wrong ones, and those of pages."""
    template = parts.templates().get(slug)
    specs = template.parameters.specs() if template else {}
    for name in rng.sample(sorted(specs), min(len(specs), rng.randint(0, 5))):
        spec = specs[name]
        near = [spec.text(spec.default), *map(str, spec.choices), *(str(v) for v in (spec.minimum, spec.maximum) if v)]
        given = [rng.choice(near) if rng.random() < 0.6 else _text(rng)]
        if rng.random() < 0.08:
            given.append(_text(rng))
        yield from ((name, each) for each in given)
    for name in ("was", "compensate", "typed_in", "units", "template", "q", "nonsense", ""):
        if rng.random() < 0.06:
            yield name, f"{rng.choice(sorted(specs) or [''])}:{_text(rng)}" if name == "was" else _text(rng)


def _of_others(rng: random.Random) -> dict[str, Any]:
    path = rng.choice(OTHERS)
    names = ("units", "group", "q", "machine", "template", "entry", "kept", "taken", "saved", "process", *TRUE_FIELDS)
    asked = [(rng.choice(names), _text(rng)) for _ in range(rng.randint(0, 3))]
    if rng.random() < 0.2:
        asked += _asked(rng, "square-test")
    sent: dict[str, Any] = {"method": rng.choice(("GET", "GET", "POST", "HEAD")), "path": path, "query_string": asked}
    if sent["method"] == "POST":
        fields = {f"{rng.choice(TRUE_FIELDS)}{rng.choice(('', '.0', '.1', '-1', '_2'))}": _text(rng) for _ in range(6)}
        fields |= {"do": rng.choice(("", "more", "mm", "in", "piece", "file", "also", "tape", "toml"))}
        fields |= {
            name: _text(rng) for name in ("piece", "entry", "replaces", "tape", "was", "rows") if rng.random() < 0.3
        }
        sent["data"] = fields if rng.random() < 0.8 else mutated(b"kind=centres&nominal=300&do=more&\xff%ff", rng)
    return sent


def _text(rng: random.Random) -> str:
    return rng.choice(VALUES)


def _ascii(rng: random.Random) -> str:
    return "".join(
        c for c in rng.choice((*VALUES, "evil.example", "[::1", "localhost:99999", "bytes=0-")) if " " <= c < "\x7f"
    )


KINDS: dict[str, Callable[[random.Random], dict[str, Any]]] = {"uploads": upload, "requests": request}


def fuzz(kind: str, count: int, seed: int) -> dict[str, Any]:
    """Send `count` of a kind, each made from its own number; return how they were answered, and what went wrong."""
    client = create_app({"TESTING": False}).test_client()
    tally: Counter[int] = Counter()
    worst, slowest, wrong = 0.0, {}, []
    with tempfile.TemporaryDirectory() as folder:
        own = Path(folder) / "shop.toml"
        os.environ |= {SHOP: str(own), history.VARIABLE: str(Path(folder) / "history.sqlite")}
        own.touch()
        for number in range(seed, seed + count):
            asked = KINDS[kind](random.Random(number))
            start = spent_s()
            answer = client.open(**asked)
            spent = spent_s() - start
            tally[answer.status_code] += 1
            if answer.status_code >= 500 and not (answer.status_code == 503 and "Retry-After" in answer.headers):
                wrong.append(f"{number}: {answer.status_code} {asked['method']} {asked['path']} {answer.text[-300:]}")
            answer.close()
            if spent > worst:
                worst, slowest = spent, {"number": number, "path": asked["path"]}
            if own.stat().st_size:
                own.write_text("")
    return {
        "runs": count,
        "statuses": dict(sorted(tally.items())),
        "worst_s": round(worst, 3),
        "slowest": slowest,
        "peak_mb": round(peak_mb()),
        "wrong": wrong[:20],
        "wrong_count": len(wrong),
    }


if __name__ == "__main__":
    kind, count, *seed = sys.argv[1:]
    sys.stdout.write(json.dumps(fuzz(kind, int(count), int(seed[0]) if seed else 1)) + "\n")
