from __future__ import annotations

import os

import pytest
from hypothesis import settings

settings.register_profile("short", derandomize=True, deadline=None)
settings.register_profile("long", max_examples=2000, deadline=None)


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--long", action="store_true", help="run the tests marked long, with their full counts"
    )
    parser.addoption(
        "--keep", action="store_true", help="keep pictures of pages anew, to be looked at"
    )


def pytest_configure(config: pytest.Config) -> None:
    os.environ["EVENCAST_LIBRARY"] = "named-by-no-test"  # never the person's own
    settings.load_profile("long" if config.getoption("--long") else "short")


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    if config.getoption("--long"):
        return
    skip = pytest.mark.skip(reason="full count: runs with --long")
    for item in items:
        if "long" in item.keywords:
            item.add_marker(skip)
