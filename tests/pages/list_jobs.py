"""Invented plans for the pages: a rich one with set-ups, one with names of every kind, a large one,
and those with next to nothing in them."""

from __future__ import annotations

from pathlib import Path

from evencast.actions.handouts.job import Job, Wishes, job
from evencast.handouts.typeset import Paper

DATE = "2031-05-04"
LONG = "the tall window beside the stairs of the old chandlery, third from the left, "
LONG_NAME = (LONG * 2)[:120]
NAMES = (
    LONG_NAME,
    "W" * 120,
    "东边的高窗靠近楼梯",
    "نافذة عالية شرقية",
    "חלון גבוה במזרח",
    "🎬 lamp 🌙",
    "=1+1",
)

KIT = """format = 1
name = "the loft's drawers"

[[filter]]
name = "half CTO"
role = "correction"
generic = "half CTO"
stock = [{ id = "O3", form = "sheet", width_mm = 530, length_mm = 1220, count = 20 }]

[[filter]]
name = "quarter CTO"
role = "correction"
generic = "quarter CTO"
stock = [{ id = "O2", form = "roll", width_m = 1.22, length_m = 7.62, count = 1 }]

[[filter]]
name = "half CTB"
role = "correction"
generic = "half CTB"
stock = [
  { id = "B3", form = "sheet", width_mm = 530, length_mm = 1220, count = 1 },
  { id = "B3 rest", form = "offcut", width_mm = 300, length_mm = 400, count = 1 },
]

[[filter]]
name = "quarter CTB"
role = "correction"
generic = "quarter CTB"

[[filter]]
name = "eighth minus green"
role = "green"
generic = "eighth minus green"
stock = [{ form = "sheet", width_mm = 530, length_mm = 1220, count = 2 }]

[[filter]]
name = "light frost"
role = "diffusion"
generic = "light frost"
stock = [{ id = "F1", form = "sheet", width_mm = 530, length_mm = 1220, count = 0 }]
"""

RICH = """format = 1
name = "Rope loft, two evenings"
kit = "kit.toml"
mains_hz = 50

[camera]
balance = { fixed_k = 4300 }
sensitivity = "camera A"
exposure_index = 800
t_stop = 4

[[light]]
name = "loft windows"
role = "key"
builtin = "daylight D65"
aim = { mired = -20 }
moves = ["filter", "leave"]
aperture = [
  { width_m = 1.1, height_m = 1.5, count = 2 },
  { width_mm = 400, height_mm = 900, count = 5 },
]
level = { lux = 1500 }

[[light]]
name = "rope bench Fresnel"
role = "fill"
kind = "tungsten"
builtin = "tungsten 3200 K"
moves = ["filter", "scrim", "leave"]
aperture = [{ width_mm = 170, height_mm = 170 }]
frost = ["light frost"]
count = 2
level = { lux = 600, distance_m = 3 }
aim = { stops = -1 }

[[light]]
name = "hoist lamp"
role = "background"
builtin = "tungsten 3200 K"
kind = "tungsten"
level = { lux = 100 }

[[light]]
name = "store bulbs"
role = "practical"
builtin = "LED phosphor 2700 K B1"
moves = ["swap", "leave"]
swap = [{ name = "cool bulb", builtin = "LED phosphor 4100 K B3", at_hand = 3 }]
aperture = [{ width_mm = 120, height_mm = 120, count = 5 }]

[[setup]]
name = "first evening"
balance_k = 4300

  [[setup.light]]
  name = "rope bench Fresnel"
  read = { cct_k = 4250, duv = -0.0008, time = "16:40" }

  [[setup.light]]
  name = "loft windows"
  rigged = { filters = ["half CTO"] }
  [setup.light.read]
  cct_k = 4690
  duv = 0.001
  f_stop = 5.6
  time = "2031-05-04T16:20+02:00"
  sky = "thin cloud"
  frame = "A014_C003"

[[setup]]
name = "second evening"
light = [
  { name = "loft windows", aim = { mired = -40 } },
  { name = "rope bench Fresnel", aperture = [{ width_mm = 260, height_mm = 260 }] },
]
"""


def made_job(path: Path, *, paper: Paper = "a4", **wishes: object) -> Job:
    """A plan, solved."""
    asked = Wishes(DATE, author="Ada Beck", paper=paper, **wishes)  # type: ignore[arg-type]
    return job(path, asked, setup=None, progress=None)


def rich_plan(folder: Path) -> Path:
    """Two set-ups: panes in strips, two fixtures, an opening that is not known, a swap of which
    there are too few, frost of which there is none, sheets that nobody counts; rigged and read."""
    return _written(folder, RICH)


def named_plan(folder: Path) -> Path:
    """Lights and filters whose names are as long and as foreign as names may be."""
    filters = "".join(
        f'[[filter]]\nname = "{name} sheet"\nrole = "correction"\ngeneric = "half CTB"\n'
        for name in NAMES[:3]
    )
    lights = "".join(
        f'[[light]]\nname = "{name}"\nrole = "other"\nbuiltin = "tungsten 3200 K"\n'
        f'kind = "tungsten"\naperture = [{{ width_mm = 200, height_mm = 300, count = 2 }}]\n'
        for name in NAMES
    )
    plan = (
        f'format = 1\nname = "{NAMES[3]} {LONG_NAME}"\nkit = "kit.toml"\nmains_hz = 50\n'
        f"[camera]\nbalance = {{ fixed_k = 4300 }}\n{lights}"
    )
    return _written(folder, plan, kit=f'format = 1\nname = "{NAMES[2]}"\n{filters}')


def large_plan(folder: Path) -> Path:
    """Forty lights; one of them a front of two hundred panes."""
    lights = "".join(
        f'[[light]]\nname = "lamp {number}"\nrole = "other"\nbuiltin = "tungsten 3200 K"\n'
        f'kind = "tungsten"\nmoves = ["filter"]\n'
        f"aperture = [{{ width_mm = {150 + number}, height_mm = {200 + number} }}]\n"
        for number in range(1, 40)
    )
    lights += (
        '[[light]]\nname = "glass front"\nrole = "fill"\nbuiltin = "daylight D65"\n'
        'moves = ["filter"]\n'
        "aperture = [{ width_mm = 300, height_mm = 400, count = 200 }]\n"
    )
    plan = (
        'format = 1\nname = "Glass house"\nkit = "kit.toml"\nmains_hz = 50\n'
        "[camera]\nbalance = { fixed_k = 4300 }\n"
        f"[weights]\npieces = 0\nminutes = 0\nsquare_metres = 0\n{lights}"
    )
    names = ("half CTB", "quarter CTB", "half CTO", "quarter CTO")
    kit = 'format = 1\nname = "barn"\n' + "".join(
        f'[[filter]]\nname = "{name}"\nrole = "correction"\ngeneric = "{name}"\n'
        "stock = [{ form = 'roll', width_m = 1.22, length_m = 7.62, count = 8 }]\n"
        for name in names
    )
    return _written(folder, plan, kit=kit)


def bare_plan(folder: Path, *, lights: str = "") -> Path:
    """A plan without a light, or with those; a kit without a sheet."""
    plan = (
        'format = 1\nname = "Bare"\nkit = "kit.toml"\nmains_hz = 50\n'
        f"[camera]\nbalance = {{ fixed_k = 5600 }}\n{lights}"
    )
    return _written(folder, plan, kit='format = 1\nname = "nothing"\n')


def _written(folder: Path, plan: str, *, kit: str = KIT) -> Path:
    (folder / "kit.toml").write_text(kit, encoding="utf-8")
    path = folder / "plan.toml"
    path.write_text(plan, encoding="utf-8")
    return path
