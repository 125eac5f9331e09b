"""What a solved plan says of views: as it hangs first, then the ways there, each once."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.unit.cli.calling import ANSWERED, run

KIT = """format = 1
name = "nets"
[[filter]]
name = "half CTO"
role = "correction"
generic = "half CTO"
[[filter]]
name = "ND 0.6"
role = "ND"
generic = "ND 0.6"
"""
PLAN = """format = 1
name = "net loft"
kit = "kit.toml"
mains_hz = 50
[camera]
balance = { fixed_k = 4300 }
f_stop = 4
[limits]
layers = 1
[[light]]
name = "window"
role = "fill"
builtin = "daylight D65"
aperture = [{ width_m = 1, height_m = 1 }]
[[light]]
name = "slipway"
role = "view"
builtin = "daylight D65"
behind = "window"
aim = { stops = 2 }
"""


def views(folder: Path, f_stop: float) -> str:
    """The list of the views, on one line."""
    (folder / "kit.toml").write_text(KIT, "utf-8")
    path = folder / "plan.toml"
    path.write_text(f"{PLAN}level = {{ f_stop = {f_stop:g} }}\n", "utf-8")
    ran = run("solve", str(path))
    assert ran.code == ANSWERED, ran.err or ran.out
    told = ran.out.partition("Through the windows:\n")[2].partition("\n\n")[0]
    return " ".join(told.split())


@pytest.mark.parametrize(
    ("f_stop", "seen"),
    [
        (9.5, "2 stops over the shot, 12 mired cool; wanted 1 stop to 3 stops over, as it is."),
        (13.8, "3 stops over the shot, 12 mired cool; wanted 1 stop to 3 stops over, just missed."),
        (32, "5 1/3 stops over the shot, 12 mired cool; wanted 1 stop to 3 stops over, missed."),
    ],
)
def test_how_a_view_looks_as_the_plan_hangs_it(tmp_path: Path, f_stop: float, seen: str) -> None:
    """2 log2(f_stop / 4) over, less the half stop that half CTO takes of daylight."""
    told = views(tmp_path, f_stop)
    assert told.startswith(f"- slipway through half CTO: {seen}"), told
    assert ("to get there" in told) == ("missed" in seen)


def test_every_way_to_a_view_is_told_once(tmp_path: Path) -> None:
    told = views(tmp_path, 32)
    ways = [each.partition(": ")[2] for each in told.split("- slipway, ")[1:]]
    assert len(ways) == len(set(ways)) == 4
    assert sum("ND 0.6" in each for each in ways) == 2
