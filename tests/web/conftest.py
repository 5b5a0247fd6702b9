"""A client of the application."""

import pytest

from webapp import create_app


@pytest.fixture(scope="session")
def client():
    return create_app({"TESTING": False}).test_client()
