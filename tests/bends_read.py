"""A test bend of the invented Fernhollow brake, as a file and as the page's form, for tests."""

HERE = {"Origin": "http://localhost", "Sec-Fetch-Site": "same-origin"}
"""What a browser sends with a form of this very page."""

COMMON = {
    "material": "mild-steel", "stock": "3 mm", "thickness": "2.96 mm", "v_opening": "24 mm", "inside_radius": "3.9 mm",
    "bend_line": "65 mm", "cut": "150 mm", "date": "2026-03-14", "brake": "Fernhollow brake",
}  # fmt: skip
STRIPS = (
    {"note": "1", "flat": "150.04 mm", "leg_a": "67.84 mm", "leg_b": "87.85 mm", "between_deg": "90.25"},
    {"note": "2", "flat": "150.08 mm", "leg_a": "67.80 mm", "leg_b": "87.91 mm", "between_deg": "90"},
)


def tables(*strips, **common):
    """The tables of the file: the usual strips, each with what is given for it, and other entries of [bend].

    An entry of None is left out.
    """
    bend = {name: value for name, value in {**COMMON, **common}.items() if value is not None}
    changed = [*strips, *({},) * (len(STRIPS) - len(strips))]
    rows = [
        {name: value for name, value in {**usual, **own}.items() if value is not None}
        for usual, own in zip(STRIPS, changed, strict=True)
    ]
    return {"bend": bend, "strip": rows}


def toml(*strips, **common):
    """The same as the text of the file."""
    of = tables(*strips, **common)
    blocks = [("[bend]", of["bend"]), *(("[[strip]]", row) for row in of["strip"])]
    return "\n".join(
        "\n".join([head, *(f'{name} = "{value}"' for name, value in entries.items()), ""]) for head, entries in blocks
    )


def form(*strips, **common):
    """The same as the page's form, lengths bare in mm."""
    of = tables(*strips, **common)
    fields = {f"bend.{name}": text.removesuffix(" mm") for name, text in of["bend"].items()}
    for i, row in enumerate(of["strip"]):
        fields |= {f"{name}.{i}": text.removesuffix(" mm") for name, text in row.items()}
    return {"units": "mm", "do": "solve", **fields}
