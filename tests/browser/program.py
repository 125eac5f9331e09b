"""The browser of the tests: found by `./check`, or named."""

from __future__ import annotations

import os
import shutil

import pytest

VARIABLE = "EVENCAST_CHROMIUM"

REMEDY = (
    "Chromium is missing: the pages of the app are tested in a real browser. `./check` finds or "
    f"installs it; or name the program in {VARIABLE}."
)


def chromium() -> str:
    """The program; the test fails with the remedy where there is none."""
    found = shutil.which(os.environ.get(VARIABLE, "") or "chromium")
    if found is None:
        pytest.fail(REMEDY, pytrace=False)
    return found
