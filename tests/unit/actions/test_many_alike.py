"""A large scene on a short stock, with many lights that may stand for each other."""

from __future__ import annotations

from pathlib import Path

from evencast import tables
from evencast.actions.solve import solve

ROLES = ("key", "fill", "background")
LAMPS = ("tungsten 3200 K", "daylight D65", "cool white tube FL2", "white high-CRI tube FL8")


def test_thirty_lights_of_four_kinds_share_the_sheets_of_a_small_van(tmp_path: Path) -> None:
    """Of two sizes of pieces, many of each: were one set of lights after the other ruled out, it
    would never end."""
    for name, text in tables.demo_documents().items():
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text(text, "utf-8")
    lights = "".join(
        f'[[light]]\nname = "light {number}"\nrole = "{ROLES[number % 3]}"\n'
        f'builtin = "{LAMPS[number % 4]}"\nlevel = {{ lux = {400 + number} }}\n'
        "aperture = [{ width_mm = 300, height_mm = 300 }]\n"
        for number in range(30)
    )
    (tmp_path / "large.toml").write_text(
        'format = 1\nname = "large"\nkit = "kit.toml"\nmains_hz = 50\n[camera]\n'
        "balance = { low_k = 2800, high_k = 6500, step_k = 100 }\nt_stop = 4\n" + lights,
        "utf-8",
    )
    answer = solve(tmp_path / "large.toml")
    assert answer.proven.gap == 0.0
    assert len(answer.alternatives) >= 3
