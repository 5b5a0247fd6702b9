"""A piece of what is drawn in several: as a part of its own, at its address, from the command."""

import json

import pytest

import parts
from parts.errors import Refused
from webapp.cli import main

SLUGS = {"box-closed": {"names": 8}, "box-tray": {}, "box-fire-pit": {}}


@pytest.mark.parametrize("slug", SLUGS)
def test_the_pieces_are_the_whole(slug):
    """Areas, cut lengths, pierces, openings and marks of the pieces come to those of all; each has a file."""
    whole = parts.draw(slug, **SLUGS[slug])
    names = whole.pieces
    alone = [whole.piece(name) for name in names]
    for one in ("area_mm2", "cut_length_mm", "pierces", "mass_kg"):
        total = sum(getattr(part.measures, one) for part in alone)
        assert total == pytest.approx(getattr(whole.measures, one), rel=1e-9), one
    assert sum(len(part.profile.inside) for part in alone) == len(whole.profile.inside)
    assert sum(len(part.profile.marks) for part in alone) == len(whole.profile.marks)
    for name, part in zip(names, alone, strict=True):
        said = json.loads(part.to_json())
        assert said["title"] == f"{whole.record.template.title}: {name}"
        assert [loop["side"] for loop in said["loops"]].count("outside") == 1
        assert part.record.address == whole.record.address
    assert sum(len(part.profile.dimensions) for part in alone) > 0


def test_a_box_too_large_for_the_bed_goes_on_it_piece_by_piece():
    box = parts.draw("box-closed", length=900, width=600, height=400)
    assert "bed-fit" in {finding.rule for finding in box.findings}
    assert not any(finding.rule == "bed-fit" for name in box.pieces for finding in box.piece(name).findings)


def test_a_piece_by_address_and_command(client, tmp_path, capsys):
    page = client.get("/parts/box-closed?length=250").get_data(as_text=True)
    assert 'href="/parts/box-closed.dxf?length=250mm&amp;piece=left%20side"' in page
    sent = client.get("/parts/box-closed.dxf?length=250&piece=left%20side")
    assert "box-closed_left-side_" in sent.headers["Content-Disposition"]
    assert sent.get_data(as_text=True) == parts.draw("box-closed", length=250).piece("left side").to_dxf()
    assert main(["draw", "box-closed", "length=250", "--piece", "all", "-o", str(tmp_path / "b.dxf")]) == 0
    assert sorted(each.name for each in tmp_path.iterdir()) == [
        f"b_{name}.dxf" for name in ("back", "base", "front", "left-side", "lid", "right-side")
    ]
    assert client.get("/parts/box-closed.dxf?piece=roof").status_code == 422
    assert main(["draw", "gusset-triangle", "--piece", "left", "-o", str(tmp_path / "g.dxf")]) == 2
    assert "piece: left: is asked of one whole piece." in capsys.readouterr().err
    with pytest.raises(Refused, match="is none of its pieces: base, front, back"):
        parts.draw("box-closed").piece("roof")


def test_a_table_orders_a_set_piece_by_piece(tmp_path):
    """Each piece is an item of its own, a companion by its own template; what is whole is ordered as ever."""
    table = tmp_path / "order.csv"
    table.write_text("part,piece,tow\nbumper-set,left tow tab,tow-hooks\nbox-tray,all,\nplate-base,all,\n")
    assert main(["batch", str(table), "-o", str(tmp_path / "made"), "--format", "dxf"]) == 0
    made = sorted(each.name for each in (tmp_path / "made").glob("*.dxf"))
    assert len(made) == 1 + 5 + 1
    tray = [name for name in made if "box-tray" in name]
    assert all(any(piece in name.replace("_", " ") for name in tray) for piece in parts.draw("box-tray").pieces)


def test_the_pieces_of_a_set_are_listed_with_their_number(client):
    """Wings, mounts and gussets in one row of two, the tow tabs with a page of their own."""
    page = client.get("/parts/bumper-set?tow=tow-hooks").get_data(as_text=True)
    assert "10 pieces, each with its own files" in page
    assert "2 \u00d7 <strong>left gusset, right gusset</strong>" in page
    assert 'href="/parts/bumper-set.step?tow=tow-hooks&amp;piece=left%20gusset"' in page
    assert 'href="/parts/bumper-tow-tab?' in page
    assert client.get("/parts/bumper-set.dxf?tow=tow-hooks&piece=left%20tow%20tab").status_code == 200
