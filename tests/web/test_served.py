"""The page as it is served: drawings checked by workers, nobody kept waiting, nothing left running."""

import json
import os
import signal
import socket
import threading
import time
from contextlib import ExitStack, suppress
from http.client import HTTPException
from pathlib import Path

import pytest

from parts.workers import Bounds, Pool
from tests.depth import DEEP, several
from tests.files import hostile
from tests.web.refusals import assert_refusal
from tests.web.served import form, served, wait_for
from tests.web.test_check import PLATE, post
from webapp import create_app, workers
from webapp.commands.serve import LONGEST_SILENCE_S

HALF_SENT = 200
LOAD_S = 60
SLOWEST_S = 2.0
"""Of an answer beside the heaviest load: ten times what is aimed at, as tests may share their machine."""
HEAVIEST = ("hatch", "circles in circles")


@pytest.fixture(scope="module", params=["2", "1"] if DEEP else ["2"])
def started(tmp_path_factory, request):
    """A page for all tests here, started without its file of numbers, and where that would be; Ctrl-C ends it."""
    own = tmp_path_factory.mktemp("served") / "shop.toml"
    with served("--processes", request.param, "--proxy", "127.0.0.1", PLATEWRIGHT_SHOP=str(own)) as page:
        yield page, own
        assert_answers_and_ends_amid_checks(page)


@pytest.fixture
def page(started):
    """The same with an empty file of numbers."""
    started[1].write_text("")
    return started[0]


def app_with(**bounds):
    """An application whose checks are done by one worker within these bounds, none waiting."""
    usual = {"processor_s": 30.0, "wall_s": 60.0, "memory_mb": 400}
    pool = Pool(Bounds("webapp.workers.answering:answer", **(usual | bounds)), most=1, waiting=0)
    return create_app({workers.POOLS: {workers.CHECKS: pool}}), pool


def test_a_worker_answers_as_the_application_does(client, page):
    for path, fields in (
        ("/check", {}),
        ("/check.json", {}),
        ("/check", {"as": "dxf"}),
        ("/check.json", {"process": "saw"}),
    ):
        own = post(client, PLATE, address=path, thickness="6", **fields)
        body, headers = form(PLATE, thickness="6", **fields)
        status, _, found = page.ask("POST", path, body, headers)
        assert (status, found) == (own.status_code, own.data)


def test_a_solid_is_made_by_a_worker(client, page):
    status, headers, solid = page.ask("GET", "/parts/gusset-triangle.step")
    assert (status, headers["Content-Type"], solid[:12]) == (200, "model/step", b"ISO-10303-21")
    assert page.ask("GET", "/parts/gusset-triangle.step", headers={"If-None-Match": headers["ETag"]})[0] == 304
    assert page.ask("GET", "/parts/gusset-triangle.step?toe=900")[0] == 422


def test_what_takes_too_much_or_finds_a_full_queue_is_said_and_nothing_is_lost():
    app, pool = app_with(processor_s=0.01)
    client = app.test_client()
    with pool.turn():
        for_people, for_programs = (post(client, address=address) for address in ("/check", "/check.json"))
    for answer in (for_people, for_programs):
        assert answer.status_code == 503
        assert answer.headers["Retry-After"] == "10"
        assert "Nothing is lost: go back, and send it again in a few seconds." in answer.text
    assert_refusal(for_programs, 503, "server")
    page = post(client, PLATE, thickness="6.5 mm", bed_x="900")
    assert page.status_code == 422
    assert "plate.dxf takes more time or memory to check than there is" in page.text
    assert 'value="6.5 mm"' in page.text
    assert 'value="900"' in page.text
    assert 'name="kept_name" value="plate.dxf"' in page.text
    assert_refusal(post(client, PLATE, address="/check.json", thickness="6"), 422, "file")
    pool.close()


def test_what_one_process_is_told_no_other_has_to_know(page):
    """A file and a check carry all they need, whichever process is free to answer."""
    body, headers = form(PLATE, thickness="6")
    for asked in (("GET", "/parts/gusset-triangle.dxf?leg_a=120", None, None), ("POST", "/check.json", body, headers)):
        answers = {page.ask(*asked)[::2] for _ in range(several(5, 50))}
        assert [status for status, _ in answers] == [200]


def test_however_many_ask_at_once_there_are_no_more_workers_than_cores(page):
    body, headers = form(PLATE, thickness="6")
    statuses, most = [], []

    def ask():
        statuses.append(page.ask("POST", "/check.json", body, headers)[0])
        most.append(len(page.workers()))

    asking = [threading.Thread(target=ask) for _ in range(12)]
    for thread in asking:
        thread.start()
    for thread in asking:
        thread.join()
    assert {200} <= set(statuses) <= {200, 503}
    assert max(most) <= (os.cpu_count() or 1) + 1  # that of solids


def test_a_process_that_is_killed_is_started_again(page, request):
    """The one that lends workers, and those that answer."""
    if request.node.callspec.params.get("started") == "1":
        pytest.skip("there is but one")
    body, headers = form(PLATE, thickness="6")
    for which in range(several(2, 3)):
        before = children(page.process.pid)
        os.kill(before[which], signal.SIGKILL)
        wait_for(lambda before=before: len(set(children(page.process.pid)) - set(before)) == 1)
        with suppress(OSError, HTTPException):  # what had been taken by the one that is gone
            assert page.ask("POST", "/check.json", body, headers)[0] == 200
        assert page.ask("POST", "/check.json", body, headers)[0] == 200
        assert len(children(page.process.pid)) == 3


def test_a_proxy_is_believed_whom_it_asks_for(page, client):
    """What reaches the page by a proxy comes from other machines; without one, nobody's word is taken."""
    strange = {"X-Forwarded-Host": "strange.example"}
    assert page.ask("GET", "/parts/gusset-triangle", headers=strange)[0] == 403
    assert client.get("/parts/gusset-triangle", headers=strange).status_code == 200
    own = {"Origin": "https://localhost", "X-Forwarded-Proto": "https", "X-Forwarded-Host": "localhost"}
    status, _, said = page.ask("POST", "/shop", b"", own)
    assert (status, b"because the page is served to other machines too" in said) == (403, True)


def children(pid):
    return [int(one) for one in Path(f"/proc/{pid}/task/{pid}/children").read_text().split()]


def test_half_sent_requests_keep_nobody_waiting(page):
    with ExitStack() as open_ones:
        for number in range(HALF_SENT):
            half = open_ones.enter_context(socket.create_connection(("127.0.0.1", page.port)))
            half.sendall(
                b"GET / HT" if number % 2 else b"POST /check HTTP/1.1\r\nHost: localhost\r\nContent-Length: 99\r\n\r\nx"
            )
        start = time.monotonic()
        assert page.ask("GET", "/parts/gusset-triangle")[0] == 200
        assert time.monotonic() - start < LONGEST_SILENCE_S / 2, "it didn't wait until they were given up"


@pytest.mark.skipif(not DEEP, reason="takes a minute: for a deep run; in every run two drawings are checked meanwhile")
def test_while_the_heaviest_drawings_are_checked_others_are_answered(page):
    """Eight clients send them again and again, as soon as they are answered or told to come again."""
    assert page.ask("GET", "/parts/gusset-triangle")[0] == 200  # what the first page loads is there
    until, statuses = time.monotonic() + LOAD_S, []
    forms = [heavy(name) for name in HEAVIEST]

    def send(number):
        while time.monotonic() < until:
            statuses.append(page.ask("POST", "/check", *forms[number % 2])[0])
            time.sleep(0.5 if statuses[-1] == 503 else 0.0)

    sending = [threading.Thread(target=send, args=(number,)) for number in range(8)]
    for thread in sending:
        thread.start()
    taken = []
    while time.monotonic() < until:
        start = time.monotonic()
        assert page.ask("GET", f"/parts/gusset-triangle?leg_a={100 + len(taken)}")[0] == 200
        taken.append(time.monotonic() - start)
    for thread in sending:
        thread.join()
    assert max(taken) < SLOWEST_S
    assert set(statuses) <= {200, 422, 503}
    assert 503 in statuses


def test_killed_it_leaves_no_worker_behind():
    with served() as page:
        wait_for(page.workers)
        left = page.workers()
        page.process.kill()
        wait_for(lambda: not any(_is_running(pid) for pid in left))


def test_it_lives_without_its_file_of_numbers_and_through_what_becomes_of_it(started):
    page, own = started
    own.unlink(missing_ok=True)
    for written, bed in (("[bed]\nx_mm = 900\n", 900.0), ("[bed\n", None), (None, None)):
        assert b"shop.toml, which isn&#39;t there" in page.ask("GET", "/parts/gusset-triangle")[2] or own.exists()
        if written is None:
            own.unlink()
        else:
            own.write_text(written)
        found = json.loads(page.ask("GET", "/parts/gusset-triangle.json")[2])
        assert ("shop.toml" in found["cautions"][0]) == (bed is None)
        assert bed in (None, found["parameters"]["bed_x"])
        body, headers = form(PLATE, thickness="6")
        status, _, checked = page.ask("POST", "/check", body, headers)
        assert (status, b"shop.toml" in checked) == (200, bed is None)


def assert_answers_and_ends_amid_checks(page):
    """Amid checks others are answered first, and it ends with its workers.

    No limit of time: a check of these takes a hundred times as long as a page, however busy the machine is.
    """
    body, headers = form(PLATE, thickness="6")
    assert page.ask("POST", "/check", body, headers)[0] == 200  # its workers are there
    left, checked = page.workers(), []
    before = sum(map(_spent, left))
    names = HEAVIEST[: several(1, deep=2)]
    sent = [threading.Thread(target=_ask_in_vain, args=(page, heavy(name), checked)) for name in names]
    for thread in sent:
        thread.start()
    wait_for(lambda: sum(map(_spent, left)) > before)
    assert page.ask("GET", "/parts/gusset-triangle")[0] == 200
    assert checked == []
    left = page.workers()
    assert page.end() == 0
    for thread in sent:
        thread.join()
    wait_for(lambda: not any(_is_running(pid) for pid in left))


def heavy(name):
    """What takes a worker a second or more, as a body, and the header that says so."""
    return form(hostile.HEAVY[name](), thickness="6", units="mm")


def _spent(pid):
    """The processor time of a process, in ticks of the system."""
    return sum(map(int, Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()[11:13]))


def _ask_in_vain(page, asked, answers):
    with suppress(OSError, HTTPException):
        answers.append(page.ask("POST", "/check", *asked))


def _is_running(pid):
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return False
    return True
