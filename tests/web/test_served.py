"""The page as it is served: drawings checked by workers, nobody kept waiting, nothing left running."""

import json
import os
import socket
import threading
import time
from contextlib import ExitStack, suppress
from http.client import HTTPException

import pytest

from parts.workers import Bounds, Pool
from tests.depth import several
from tests.files import hostile
from tests.web.refusals import assert_refusal
from tests.web.served import form, served, wait_for
from tests.web.test_check import PLATE, post
from webapp import create_app, workers

HALF_SENT = 200
LOAD_S = several(2, deep=60)
SLOWEST_S = 2.0
"""Of an answer beside the heaviest load: ten times what is aimed at, as tests may share their machine."""


@pytest.fixture(scope="module")
def page():
    with served() as started:
        yield started


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


def test_what_takes_too_much_is_said_at_the_file_and_nothing_is_lost():
    app, pool = app_with(processor_s=0.01)
    client = app.test_client()
    page = post(client, PLATE, thickness="6.5 mm", bed_x="900")
    assert page.status_code == 422
    assert "plate.dxf takes more time or memory to check than there is" in page.text
    assert 'value="6.5 mm"' in page.text
    assert 'value="900"' in page.text
    assert 'name="kept_name" value="plate.dxf"' in page.text
    assert_refusal(post(client, PLATE, address="/check.json", thickness="6"), 422, "file")
    pool.close()


def test_a_full_queue_is_a_sentence_and_when_to_come_again():
    app, pool = app_with()
    with pool.turn():
        for_people, for_programs = (post(app.test_client(), address=address) for address in ("/check", "/check.json"))
    pool.close()
    for answer in (for_people, for_programs):
        assert answer.status_code == 503
        assert answer.headers["Retry-After"] == "10"
        assert "Nothing is lost: go back, and send it again in a few seconds." in answer.text
    assert_refusal(for_programs, 503, "server")


def test_half_sent_requests_keep_nobody_waiting(page):
    with ExitStack() as open_ones:
        for number in range(HALF_SENT):
            half = open_ones.enter_context(socket.create_connection(("127.0.0.1", page.port)))
            half.sendall(
                b"GET / HT" if number % 2 else b"POST /check HTTP/1.1\r\nHost: localhost\r\nContent-Length: 99\r\n\r\nx"
            )
        start = time.monotonic()
        assert page.ask("GET", "/parts/gusset-triangle")[0] == 200
        assert time.monotonic() - start < SLOWEST_S


def test_while_the_heaviest_drawings_are_checked_others_are_answered(page):
    """Eight clients send them again and again, as soon as they are answered or told to come again."""
    until, statuses = time.monotonic() + LOAD_S, []
    forms = [form(hostile.HEAVY[name](), thickness="6", units="mm") for name in ("hatch", "circles in circles")]

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


def test_ctrl_c_ends_it_with_its_workers_even_amid_a_check():
    body, headers = form(hostile.HEAVY["hatch"](), thickness="6", units="mm")
    with served() as page:
        wait_for(page.workers)
        asking = threading.Thread(target=_asked_in_vain, args=(page, body, headers))
        asking.start()
        time.sleep(0.5)
        left = page.workers()
        assert page.end() == 0
        asking.join()
        wait_for(lambda: not any(_is_running(pid) for pid in left))


def test_killed_it_leaves_no_worker_behind():
    with served() as page:
        wait_for(page.workers)
        left = page.workers()
        page.process.kill()
        wait_for(lambda: not any(_is_running(pid) for pid in left))


def test_it_starts_without_its_file_of_numbers_and_lives_through_what_becomes_of_it(tmp_path):
    own = tmp_path / "shop.toml"
    with served(PLATEWRIGHT_SHOP=str(own)) as page:
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


def _asked_in_vain(page, body, headers):
    with suppress(OSError, HTTPException):
        page.ask("POST", "/check", body, headers)


def _is_running(pid):
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return False
    return True
