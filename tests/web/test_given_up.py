"""What nobody waits for any more is given up between two steps of the work; what someone waits for never is."""

import itertools
import math

import pytest

from parts.wanted import Unwanted, step, until_gone
from webapp import create_app

WORK = ["/parts/gusset-triangle?leg_a=123", "/parts/gusset-triangle/remedies.json?holes_a=1&hole=5mm&thickness=12"]


def asked_of(calls, last=math.inf):
    """A browser that is gone once the server has asked after it so many times; every asking is counted."""
    return {"waitress.client_disconnected": lambda: next(calls) >= last}


@pytest.mark.parametrize("address", WORK)
def test_work_ends_at_the_first_step_after_whoever_asked_is_gone(address):
    client, calls = create_app({}).test_client(), itertools.count()
    whole = client.get(address, environ_overrides=asked_of(calls))
    steps = next(calls)
    assert whole.status_code == 200
    assert steps > 20  # every rule is one
    for last in (0, steps // 2):
        calls = itertools.count()
        answer = client.get(address, environ_overrides=asked_of(calls, last))
        assert (answer.status_code, answer.data) == (408, b"")
        assert next(calls) == last + 1
    assert client.get(address).data == whole.data


def test_without_anyone_to_ask_all_is_wanted():
    step()
    with pytest.raises(Unwanted), until_gone(lambda: True):
        step()
    step()
