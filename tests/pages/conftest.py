from __future__ import annotations

import pytest


@pytest.fixture
def keep(request: pytest.FixtureRequest) -> bool:
    """Whether pictures of pages are kept anew instead of compared."""
    return bool(request.config.getoption("--keep"))
