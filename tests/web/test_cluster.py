"""`platewright batch --scheduler`: the same files from a cluster, whatever ends in it; every row there, once."""

import json
import os
import re
import signal
import subprocess
import sys
from collections import Counter

import pytest

import parts
from tests.depth import DEEP, several
from tests.web.served import ROOT, wait_for
from webapp.cli import main

TABLE = """part,leg_a,name,thickness
gusset-triangle,80..89 step 1,,6
plate-base,,stops,16
their.dxf,,theirs,6
gusset-triangle,5O,wrong,6
"""
ROWS = 600


@pytest.fixture(scope="module")
def cluster(tmp_path_factory):
    """A scheduler and a worker, in a deep run two, as a person starts them."""
    with Cluster(tmp_path_factory.mktemp("cluster")) as made:
        yield made


class Cluster:
    def __init__(self, folder):
        self.folder = folder
        self.workers = []
        self.started = []

    def __enter__(self):
        self.begin()
        return self

    def __exit__(self, *_):
        for process in self.started:
            process.kill()
            process.wait()

    def begin(self):
        """Start a scheduler, at an address of its own, and its workers."""
        place = self.folder / f"scheduler-{len(self.started)}.json"
        self.scheduler = self.dask("scheduler", "--port", "0", "--no-dashboard", "--scheduler-file", str(place))
        wait_for(lambda: place.exists() and place.read_text().endswith("}"))
        self.address = json.loads(place.read_text())["address"]
        self.workers = [self.worker() for _ in range(several(1, 2))]

    def dask(self, *words):
        environment = {**os.environ, "PYTHONPATH": str(ROOT), "PLATEWRIGHT_SHOP": ""}  # none of the numbers are there
        made = subprocess.Popen(
            [sys.executable, "-m", "dask", *words], env=environment, cwd=self.folder,
            stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
        )  # fmt: skip
        self.started.append(made)
        return made

    def worker(self):
        return self.dask("worker", self.address, "--nthreads", "1", "--no-dashboard", "--no-nanny")


def without_progress(told):
    return [line for line in told.splitlines() if not re.match(r"\d+ of 13 parts", line)]


def files(folder):
    return {path.name: path.read_bytes() for path in folder.iterdir()}


def test_the_files_are_those_of_one_process(cluster, tmp_path, capsys, monkeypatch):
    """Of templates, of a drawing that the workers don't have, by numbers that they don't have, refused and stopped."""
    monkeypatch.setenv("PLATEWRIGHT_SHOP", str(tmp_path / "shop.toml"))
    (tmp_path / "shop.toml").write_text('[bed]\nx_mm = 987\n[usual]\nmaterial = "stainless-steel"\n', encoding="utf-8")
    (tmp_path / "t.csv").write_text(TABLE, encoding="utf-8")
    (tmp_path / "their.dxf").write_bytes(parts.draw("plate-washer").file("dxf"))
    words = ["batch", str(tmp_path / "t.csv"), "--format", "dxf,json", "-o"]
    statuses = [main([*words, str(tmp_path / "alone")])]
    told = capsys.readouterr()
    statuses.append(main([*words, str(tmp_path / "many"), "--scheduler", cluster.address]))
    also_told = capsys.readouterr()
    assert statuses == [2, 2]
    assert without_progress(also_told.err) == without_progress(told.err)
    assert files(tmp_path / "many") == files(tmp_path / "alone")
    assert b"987" in files(tmp_path / "many")["theirs.json"]


@pytest.mark.parametrize(
    ("scheduler", "said"),
    [
        ("", "scheduler: isn't the address of a scheduler, such as tcp://127.0.0.1:8786."),
        ("nobody", "scheduler: nobody: isn't the address of a scheduler"),
        ("http://127.0.0.1:1", "isn't the address of a scheduler"),
    ],
)
def test_what_is_no_address_is_said_in_a_sentence(scheduler, said, tmp_path, capsys):
    (tmp_path / "t.csv").write_text("part\nplate-washer\n", encoding="utf-8")
    assert main(["batch", str(tmp_path / "t.csv"), "-o", str(tmp_path / "out"), "--scheduler", scheduler]) == 2
    assert said in capsys.readouterr().err


def start(table, out, address):
    return subprocess.Popen(
        [sys.executable, "-m", "webapp", "batch", str(table), "-o", str(out), "--scheduler", address],
        cwd=ROOT, stderr=subprocess.PIPE, stdout=subprocess.PIPE, text=True,
    )  # fmt: skip


@pytest.fixture
def long_table(tmp_path):
    rows = "".join(f"gusset-triangle,{60 + 0.1 * i:.1f},g{i:04d}\n" for i in range(ROWS))
    (tmp_path / "t.csv").write_text("part,leg_a,name\n" + rows, encoding="utf-8")
    return tmp_path / "t.csv"


def assert_all_there_once(out):
    rows = json.loads((out / "report.json").read_text("utf-8"))["rows"]
    assert Counter(row["row"] for row in rows) == dict.fromkeys(range(1, ROWS + 1), 1)
    assert all(row["status"] == "written" for row in rows)
    assert set(files(out)) == {f"g{i:04d}.dxf" for i in range(ROWS)} | {"report.csv", "report.json"}


def has_begun(out):
    return lambda: len(list(out.glob("g*.dxf"))) > 30


@pytest.mark.skipif(not DEEP, reason="takes a minute: for a deep run; in every run a cluster makes the same files")
@pytest.mark.parametrize("killed", ["a worker", "every worker", "the scheduler", "the run"])
def test_what_is_killed_loses_nothing(killed, long_table, tmp_path):
    out = tmp_path / "out"
    with Cluster(tmp_path) as cluster:
        run = start(long_table, out, cluster.address)
        wait_for(has_begun(out))
        if killed == "a worker":
            cluster.workers[0].kill()
        if killed == "every worker":
            for worker in cluster.workers:
                worker.kill()
            cluster.worker()
        if killed == "the scheduler":
            cluster.scheduler.kill()
            _, err = run.communicate(timeout=300)
            assert run.returncode == 2
            said = f"scheduler: {cluster.address}: is gone amid the work. Give the command again, and it goes on from"
            assert said in err
            cluster.begin()
            run = start(long_table, out, cluster.address)
        if killed == "the run":
            run.send_signal(signal.SIGKILL)
            run.communicate()
            run = start(long_table, out, cluster.address)
        told = run.communicate(timeout=600)
        assert run.returncode == 0, told
        if killed in ("the scheduler", "the run"):
            assert int(re.search(r", (\d+) parts made before", told[0])[1]) > 0
        assert_all_there_once(out)


@pytest.mark.skipif(not DEEP, reason="waits a minute: for a deep run")
def test_nobody_there_is_said_in_a_sentence(long_table, tmp_path, capsys):
    words = ["batch", str(long_table), "-o", str(tmp_path / "out"), "--scheduler"]
    assert main([*words, "tcp://127.0.0.1:9"]) == 2
    assert "scheduler: tcp://127.0.0.1:9: doesn't answer: is a scheduler running there" in capsys.readouterr().err
    with Cluster(tmp_path) as cluster:
        for worker in cluster.workers:
            worker.kill()
            worker.wait()
        assert main([*words, cluster.address]) == 2
    assert "has no workers: start one on each machine" in capsys.readouterr().err
