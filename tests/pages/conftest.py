from __future__ import annotations

import pytest

from evencast.actions.handouts.job import Job
from tests.pages.jobs import demo_job, rough_job


@pytest.fixture
def keep(request: pytest.FixtureRequest) -> bool:
    """Whether pictures of pages are kept anew instead of compared."""
    return bool(request.config.getoption("--keep"))


@pytest.fixture(scope="session")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Job:
    return demo_job(tmp_path_factory.mktemp("demo"))


@pytest.fixture(scope="session")
def rough(tmp_path_factory: pytest.TempPathFactory) -> Job:
    return rough_job(tmp_path_factory.mktemp("rough"))
