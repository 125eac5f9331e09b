"""Jobs to print: the demo, and a rough one with everything in it that is hard to print."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from evencast.actions.handouts.job import Job, Wishes, job
from evencast.handouts.typeset import Paper
from evencast.tables import demo_documents

ADDRESS = "https://set.example/bindery/pocket.html"
WISHES = Wishes("2031-05-04", "Ada Lindqvist", "a4", ADDRESS)

LONG = (
    "the very large key light with the long snout that stands behind the second door on the left "
    "of the stairs next to a well"
)
WORD = "n" * 120
ROUGH_NAMES = {
    "key Fresnel": LONG,
    "ceiling tubes": "天井の蛍光灯 左側 と 右側",
    "stair tubes": "מנורת מדרגות (3)",
    "bench lamp": "مصباح المنضدة 650 W",
    "yard lamp": "🎬 yard & <lamp> #1",
    "edge panel": WORD,
}
ROUGH_SETUP = "night, towards the door, the second half after he has come in with the parcel"
ROUGH_MORE = f"""
[[light]]
name = "view 2"
role = "view"
builtin = "daylight D65"
behind = "north window"

[[light]]
name = "spare lamps"
role = "other"
count = 3
builtin = "tungsten 3200 K"
moves = ["switch off"]

[[setup]]
name = "{ROUGH_SETUP}"
[[setup.light]]
name = "{LONG}"
planned = {{ filters = ["half CTB"], dim_stops = 1 }}
rigged = {{ filters = ["half CTB", "half CTB"], scrims = ["double"], focus = "spot", \
distance_m = 2.5, height_m = 2.4, note = "flag left; sandbag" }}
read = {{ cct_k = 4180, duv = 0.0021, f_stop = 4.5, time = "2031-05-04T16:20+02:00", \
sky = "thin cloud", frame = "A014_C003" }}
[[setup.light]]
name = "north window"
planned = {{ filters = ["half CTO"] }}
read = {{ cct_k = 4500, tint = "4 toward magenta", lux = 200 }}

[[setup]]
name = "day"
balance_k = 5600
[[setup.light]]
name = "{WORD}"
planned = {{ off = true }}
"""


def demo_job(folder: Path) -> Job:
    """The demo, solved."""
    return job(_written(folder, demo_documents()), WISHES, setup=None, progress=None)


def rough_job(folder: Path) -> Job:
    """The demo with names of every kind, set-ups, and something recorded in them."""
    documents = demo_documents()
    plan = documents["plan.toml"]
    for old, new in ROUGH_NAMES.items():
        plan = plan.replace(f'"{old}"', f'"{new}"')
    plan = plan.replace('frost = ["light frost"]', 'frost = ["light frost", "medium frost"]')
    plan = plan.replace("low_k = 2800, high_k = 6500, step_k = 100", "at_k = [4300, 5600]")
    return job(
        _written(folder, documents | {"plan.toml": plan + ROUGH_MORE}),
        WISHES,
        setup=None,
        progress=None,
    )


def on_paper(ready: Job, paper: Paper, *, address: str = ADDRESS) -> Job:
    """The same job on another paper, or with another address."""
    return replace(ready, wishes=replace(ready.wishes, paper=paper, address=address))


def _written(folder: Path, documents: dict[str, str]) -> Path:
    for name, text in documents.items():
        (folder / name).write_text(text, encoding="utf-8")
    return folder / "plan.toml"
