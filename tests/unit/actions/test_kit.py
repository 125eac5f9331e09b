from __future__ import annotations

from pathlib import Path

from evencast.actions.kit import load_kit

KIT = """format = 1
name = "x"
[[filter]]
name = "bright double"
role = "correction"
kelvin = {{ from_k = 3200, to_k = 26000, stops = {stops} }}
"""


def test_a_sheet_darker_than_declared_is_told(tmp_path: Path) -> None:
    """2.33 stops are possible for an ideal sheet of that colour, not for plausible dyes."""
    path = tmp_path / "kit.toml"
    path.write_text(KIT.format(stops="2.33"), "utf-8")
    (problem,) = load_kit(path).problems
    assert (problem.severity, problem.where) == (
        "warning",
        'kit.toml, filter "bright double".kelvin',
    )
    assert problem.message == (
        "2.33 stop is brighter than plausible dyes of that colour can be, which lose 2.55"
    )


def test_a_sheet_as_declared_is_not(tmp_path: Path) -> None:
    """3.5 stops are met exactly."""
    path = tmp_path / "kit.toml"
    path.write_text(KIT.format(stops="3.5"), "utf-8")
    assert load_kit(path).problems == ()
