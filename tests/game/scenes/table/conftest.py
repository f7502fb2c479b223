"""A quiet table in the window, and a way to it."""

import pytest
from at_table import deal, routes_over
from harness import make_look
from table_kit import shown


@pytest.fixture(scope="module")
def look():
    """Fonts and pictures, shared by all tests here."""
    return make_look()


@pytest.fixture
def routes(look, tmp_path):
    """Routes over a store of the test's own."""
    routes = routes_over(look, tmp_path / "lone-east.sqlite")
    yield routes
    routes.desk.store.close()


@pytest.fixture
def table(routes):
    """The start of a deal, drawn once."""
    return shown(deal(routes))
