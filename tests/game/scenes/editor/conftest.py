"""A way to the editor."""

import pytest
from at_table import routes_over
from harness import make_look


@pytest.fixture
def routes(tmp_path):
    """Routes over a store of its own."""
    made = routes_over(make_look(), tmp_path / "lone-east.sqlite")
    made.desk.explained()
    yield made
    made.desk.store.close()
