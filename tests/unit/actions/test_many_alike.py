"""A large scene on a short stock, with many lights that may stand for each other."""

from __future__ import annotations

from pathlib import Path

from benchmarks.load import LIGHTS, large_plan
from evencast.actions.solve import solve


def test_thirty_lights_of_four_kinds_share_the_sheets_of_a_small_van(tmp_path: Path) -> None:
    """Of two sizes of pieces, many of each: were one set of lights after the other ruled out, it
    would never end."""
    for name, content in large_plan().items():
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_bytes(content)
    answer = solve(tmp_path / "plan.toml")
    assert len(answer.lights) == LIGHTS
    assert answer.proven.gap == 0.0
    assert len(answer.alternatives) >= 3
