"""A client of the application, and pages it was asked for before."""

from functools import cache

import pytest

from tests.library import assert_no_own_numbers
from webapp import create_app


@pytest.fixture(scope="session")
def client():
    return create_app({"TESTING": False}).test_client(use_cookies=False)  # what one test keeps is no other's


@pytest.fixture(scope="session")
def asked_once(client):
    """The text of a page at an address, asked for once a run: for tests that only look at what is on it."""

    @cache
    def text_of(address):
        answer = client.get(address)
        assert answer.status_code == 200
        return answer.text

    def ask(address):
        assert_no_own_numbers()
        return text_of(address)

    return ask
