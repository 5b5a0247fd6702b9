"""Files that are broken, endless, or meant to do harm, by name, with how they are refused; each made when asked for.

What is endless goes over its limit; in a deep run it is as large as a file may be.
"""

from collections.abc import Callable, Mapping

from tests.depth import several
from tests.files.foreign import block, circle, dxf, insert, line, svg


def _block_bomb() -> bytes:
    """Ten blocks in each of eleven, one in the other: 10^11 lines."""
    blocks = block("B0", line(0, 0, 1, 1))
    blocks += "".join(block(f"B{k}", insert(f"B{k - 1}") * 10) for k in range(1, 12))
    return dxf(insert("B11"), blocks)


def _use_bomb() -> bytes:
    groups = "".join(f'<g id="b{k}">{f"<use href=~#b{k - 1}~/>" * 10}</g>'.replace("~", '"') for k in range(1, 12))
    return svg(f'<defs><g id="b0"><path d="M0 0L1 1"/></g>{groups}</defs><use href="#b11"/>')


def _entity(declared: str) -> bytes:
    return f'<?xml version="1.0"?><!DOCTYPE svg [{declared}]><svg xmlns="http://www.w3.org/2000/svg">&b;</svg>'.encode()


BINARY = b"Any Binary DXF\r\n\x1a\x00"
ONE, HUGE = insert("A"), "41\n1e9\n42\n1e9\n"
REFUSED: Mapping[str, tuple[Callable[[], bytes], str]] = {
    "empty": (lambda: b"", "it is empty"),
    "blanks": (lambda: b" \n" * 9_000_000, "it is empty"),
    "zeros": (lambda: b"\0" * 1_000_000, "it is neither a DXF nor an SVG"),
    "100 MB": (lambda: b"0\n" * 50_000_000, "it has 100.0 MB and at most 20 MB are read"),
    "picture": (lambda: b"\x89PNG\r\n\x1a\n" + b"0" * 99, "it is a picture"),
    "binary dxf, nothing in it": (lambda: BINARY + b"\0" * 99, "it ends before its end mark"),
    "binary dxf, cut off": (lambda: BINARY + b"\0\0SECTION\0\2\0ENTI", "it ends within an entry"),
    "binary dxf, unknown code": (lambda: BINARY + b"\0\0LINE\0\xff\xff1\0", "by the code 65535, which binary DXF"),
    "binary dxf, endless": (lambda: BINARY + b"\0\0A\0" * several(410_000, 4_000_000), "more than 400,000 entities"),
    "no end": (lambda: dxf(circle(0, 0, 5))[:-6], "it ends before its end mark"),
    "half a line": (lambda: dxf("0\nLINE\n8\n0\n10\n1\n20\n1\n"), "a LINE in it lacks its group 11"),
    "no group code": (lambda: dxf("0\nLINE\nx\n0\n"), "line 17 should be a group code and is 'x'"),
    "no number": (lambda: dxf(line(0, "one", 1, 1)), "group 20 of a LINE should be a number and is 'one'"),
    **{
        f"coordinate {v}": (lambda v=v: dxf(line(0, 0, v, 1)), f"group 11 of a LINE is {v}, which is no place")
        for v in ("nan", "inf", "-inf", "1e300", "-1e10")
    },
    "svg coordinate": (lambda: svg('<circle r="1e400"/>'), "r of a circle is 1e400, which is no place"),
    "far apart": (lambda: dxf(circle(0, 0, 5) + circle(9e8, 0, 5)), "it is 900 km from end to end"),
    "800,000 lines": (lambda: dxf(line(0, 0, 1, 1) * several(51_000, 400_000)), "more than 50,000 lines and arcs"),
    "5 million records": (lambda: b"0\n0\n" * several(410_000, 4_900_000), "more than 400,000 entities"),
    "comments": (lambda: b"999\nx\n" * several(310_000, 3_300_000) + b"0\nEOF\n",
        "one COMMENT in it has more than 300,000"),
    "a million vertices": (lambda: dxf("0\nLWPOLYLINE\n8\n0\n" + "10\n1\n20\n2\n" * several(310_000, 1_000_000)),
        "more than 300,000"),
    "vertices of r12": (
        lambda: dxf("0\nPOLYLINE\n8\n0\n66\n1\n" + "0\nVERTEX\n8\n0\n10\n1\n20\n2\n" * several(51_000, 390_000)),
        "50,000 lines",
    ),
    "a block in itself": (lambda: dxf(ONE, block("A", ONE)), "placed in one another more than 16 deep, or in them"),
    "blocks in blocks": (_block_bomb, "it places blocks or symbols more than 20,000 times"),
    "rows and columns": (lambda: dxf(insert("A", "70\n30000\n71\n30000\n"), block("A", "")), "more than 20,000 times"),
    "scaled out": (lambda: dxf(insert("A", HUGE), block("A", insert("A", HUGE))), "1e\\+09 units away"),
    "entities": (lambda: _entity('<!ENTITY a "aaaa"><!ENTITY b "&a;&a;&a;&a;">'), "it declares XML entities"),
    "outside entity": (lambda: _entity('<!ENTITY b SYSTEM "file:///etc/hostname">'), "it declares XML entities"),
    "use of itself": (lambda: svg('<g id="a"><use href="#a"/></g>'), "placed in one another more than 16 deep"),
    "use of use": (_use_bomb, "it holds more than 50,000 lines and arcs|more than 20,000 times|more than 3.5 s"),
    "deep groups": (lambda: svg("<g>" * 100_000 + "</g>" * 100_000), "its elements lie more than 200 deep"),
    "5 million elements": (lambda: svg("<g/>" * several(210_000, 4_900_000)), "more than 200,000 elements"),
    "long path": (lambda: svg('<path d="M0 0' + " 1 2" * several(60_000, 4_000_000) + '"/>'),
        "more than 50,000 lines"),
    "long polygon": (lambda: svg('<polygon points="' + " 1 2" * several(60_000, 4_900_000) + '"/>'),
        "more than 100,000 numbers"),
    "long transform": (lambda: svg(f'<g transform="{"scale(1)" * several(100_000, 2_000_000)}"/>'),
        "more than 100 steps"),
    "long number": (lambda: svg('<path d="M0 0L' + "1" * several(1_000_000, 19_000_000) + ' 1"/>'),
        "which is no place on a drawing"),
    "broken xml": (lambda: svg("<g>"), "its XML is broken on line 1: mismatched tag"),
    "other xml": (lambda: b"<html><svg/></html>", "it is XML and not an SVG drawing"),
    "unknown encoding": (lambda: b'<?xml version="1.0" encoding="utf-7"?><svg/>', "it states an encoding"),
    "no transform": (lambda: svg('<g transform="twist(3)"/>'), "the transform 'twist\\(3\\)' isn't one of SVG's"),
    "clip path of itself": (
        lambda: svg('<clipPath id="c" clip-path="url(#c)"><rect width="9" height="9"/></clipPath>'
                    '<rect width="9" height="9" clip-path="url(#c)"/>'),
        "clip paths in it lie more than 16 deep",
    ),
    "brackets": (lambda: svg(f'<rect style="fill:{"(" * 15000}"/>'), "a style in it has brackets too deep"),
    "long style": (lambda: svg(f'<rect style="{"a:b;" * 9000}"/>'), "a style attribute in it is longer than"),
    "long sheet": (lambda: svg(f"<style>{'a{b:c}' * 90000}</style>"), "its style sheets are longer than"),
    "only text": (lambda: dxf("0\nTEXT\n8\n0\n10\n0\n20\n0\n40\n5\n1\nHI\n"), "no lines or arcs to cut, only text"),
    "only marks": (lambda: dxf(line(0, 0, 5, 5, "SCRIBE")), "it holds marks and no outline"),
    "only dimensions": (lambda: dxf(line(0, 0, 5, 5, "DIM")), "on layers for other things, or hidden"),
}  # fmt: skip
"""What can't be read, and how the sentence that says so goes on after `can't be read: `."""
