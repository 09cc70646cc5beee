"""Settings of the test tools."""

import os

import pytest
from hypothesis import settings

# A busy machine is slow; benchmarks measure, tests do not time.
settings.register_profile("whole", deadline=None)
settings.register_profile("quick", deadline=None, max_examples=20)
settings.load_profile(os.environ.get("SCREEDBOOK_TESTS", "whole"))

_NEEDS_DATABASE = {"db", "transactional_db", "django_db_setup", "live_server", "client", "admin_client"}


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """On PostgreSQL run only what uses the database: the rest was the same on SQLite."""
    if not os.environ.get("DATABASE_URL"):
        return
    left = [item for item in items if not _uses_database(item)]
    config.hook.pytest_deselected(items=left)
    items[:] = [item for item in items if _uses_database(item)]


def _uses_database(item: pytest.Item) -> bool:
    fixtures = getattr(item, "fixturenames", ())
    return item.get_closest_marker("django_db") is not None or bool(_NEEDS_DATABASE.intersection(fixtures))
