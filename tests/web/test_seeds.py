"""`nest --seeds`: the same layout from this process, several, and a cluster."""

import json

import pytest

from tests.depth import DEEP
from tests.web.test_cluster import cluster  # noqa: F401 - a fixture
from webapp.cli import main

TABLE = "part,quantity,thickness\ngusset-triangle,9,6\nplate-ring,3,6\nplate-motor,4,6\n"


def nested(folder, capsys, *words):
    table = folder / "t.csv"
    table.write_text(TABLE, encoding="utf-8")
    assert main(["nest", str(table), "--sheet", "600x700", "--json", *words]) == 0
    return json.loads(capsys.readouterr().out)["sheets"]


def test_by_seeds_a_layout_is_the_same_alone_and_by_several(tmp_path, capsys):
    alone = nested(tmp_path, capsys, "--seeds", "1")
    assert nested(tmp_path, capsys, "--seeds", "1", "--workers", "2") == alone
    first = nested(tmp_path, capsys, "--time", "0")
    assert len(alone) <= len(first)
    assert sum(len(sheet["placements"]) for sheet in alone) == 16


@pytest.mark.skipif(not DEEP, reason="a scheduler and workers are started: for a deep run")
def test_by_seeds_a_cluster_comes_to_the_same(cluster, tmp_path, capsys):  # noqa: F811
    alone = nested(tmp_path, capsys, "--seeds", "6")
    assert nested(tmp_path, capsys, "--seeds", "6", "--scheduler", cluster.address) == alone


@pytest.mark.parametrize(("words", "said"), [
    (["--seeds", "0"], "seeds: 0: must be 1 to 10,000"), (["--workers", "0"], "workers: 0: must be 1 to 256"),
    (["--scheduler", "nowhere"], "isn't the address of a scheduler"),
])  # fmt: skip
def test_what_cant_be_is_said(words, said, tmp_path, capsys):
    (tmp_path / "t.csv").write_text(TABLE, encoding="utf-8")
    assert main(["nest", str(tmp_path / "t.csv"), "--sheet", "600x700", "--json", *words]) == 2
    assert said in capsys.readouterr().err
