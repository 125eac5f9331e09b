"""Laws of keeping: only `planned` and the balance change, and once is enough."""

from __future__ import annotations

import tempfile
import tomllib
from pathlib import Path
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from evencast.actions.keep import keep
from evencast.plan.setup import Planned
from tests.plans import write_kit

LIGHTS = {
    "lamp": 'role = "key"\nbuiltin = "tungsten 3200 K"',
    "window": 'role = "fill"\nbuiltin = "daylight D65"\nmoves = ["leave"]',
}
SETUPS = ("night", "Dusk, on the stairs")
SAID = (
    "rigged = { filters = ['half CTB'], dim_stops = 0.50 }   # by hand",
    'read = { cct_k = 4_100, duv = -0.0, sky = "thin"}',
    "weather = nan   # no key of ours",
    "distance_m = 2.50",
)
PLANNED = ('filters = ["full CTB"]', "off = true", "dial_k = 4_300", 'odd = """a\n[b]"""')
BALANCES: tuple[list[str], ...] = ([], ["balance_k = 3200"], ["balance_k = 4300"])
REMARKS = st.sampled_from(["", "# ---- a remark ----", "\t# [[setup]]", "  #"])


@st.composite
def documents(draw: st.DrawFn) -> tuple[str, str, list[str]]:
    """A plan in any layout, the name to keep it under, and its lines that must stay."""
    blocks = [_light(draw, name) for name in LIGHTS]
    names = draw(st.lists(st.sampled_from(SETUPS), unique=True, max_size=2))
    blocks += [_setup(draw, name) for name in names]
    if draw(st.booleans()):  # headings of one list need not stand together
        blocks.insert(1, blocks.pop())
    head = ["format = 1", 'name = "shed"', "kit = 'kit.toml'", "mains_hz = 50"]
    head += ["[camera]", "balance = { fixed_k = 4300.0 }   # as ever"]
    lines = [line for block in (head, *blocks) for line in (*block, draw(REMARKS), "")]
    ending = draw(st.sampled_from(["\n", "\r\n"]))
    text = "\n".join(lines).rstrip("\n").replace("\n", ending)
    text = draw(st.sampled_from(["", "\ufeff"])) + text + draw(st.sampled_from(["", ending * 2]))
    stay = [line for line in text.split(ending) if line.strip() and not _may_change(line)]
    return text, draw(st.sampled_from((*SETUPS, "night ", "NIGHT"))), stay


def _light(draw: st.DrawFn, name: str) -> list[str]:
    return ["[[light]]", f'name = "{name}"', *LIGHTS[name].split("\n")]


def _setup(draw: st.DrawFn, name: str) -> list[str]:
    gap = draw(st.sampled_from(["", "  ", "\t"]))
    lights = draw(st.lists(st.sampled_from(["lamp", "Window"]), unique=True, max_size=2))
    balance = draw(st.sampled_from(BALANCES))
    lines = ["[[setup]]", f'name = "{name}"   # {name}', *balance]
    if draw(st.booleans()) and lights:
        inside = [f"{gap}{{ name = '{each}', {_planned(draw)}}}," for each in lights]
        return [*lines, "light = [", *inside, "]"]
    for each in lights:
        said = draw(st.lists(st.sampled_from(SAID), unique=True))
        lines += ["", f"{gap}[[setup.light]]  # {each}", f'{gap}name = "{each}"']
        lines += [gap + line for line in said]
        form = draw(st.sampled_from(["none", "braces", "heading"]))
        if form == "braces":
            lines.append(gap + _planned(draw))
        if form == "heading":
            keys = draw(st.lists(st.sampled_from(PLANNED), unique=True))
            lines += [f"{gap}  [setup.light.planned]   # planned", *keys]
    return lines


def _planned(draw: st.DrawFn) -> str:
    keys = draw(st.lists(st.sampled_from(PLANNED[:3]), unique=True))
    return f"planned = {{ {', '.join(keys)} }}"


def _may_change(line: str) -> bool:
    """Whether a line holds what was planned or the balance of a set-up."""
    words = ("planned = ", "balance_k", *(key for key in PLANNED if "\n" not in key))
    return any(word in line for word in words)


def _without(text: str) -> dict[str, Any]:
    """What a document says but for what was planned, set-ups' balances and empty entries."""
    document = tomllib.loads(text.removeprefix("\ufeff"), parse_float=str)
    for setup in document.setdefault("setup", []):
        for key in ("balance_k", "balance_duv", "planned_for"):
            setup.pop(key, None)
        for light in setup.setdefault("light", []):
            planned = light.pop("planned", {})
            odd = {key: each for key, each in planned.items() if key not in Planned.model_fields}
            light |= {"planned": odd} if odd else {}
        setup["light"] = [light for light in setup["light"] if set(light) != {"name"}]
    document["setup"] = [each for each in document["setup"] if each["light"]]
    return document


@settings(max_examples=40, deadline=None)
@given(made=documents())
def test_keeping_touches_what_was_planned_for_what_and_the_balance_alone(
    made: tuple[str, str, list[str]],
) -> None:
    """Every other line is there in its order, every other value is as it was, each light of the
    set-up has what was planned, and to keep it again changes no byte."""
    text, setup, stay = made
    with tempfile.TemporaryDirectory() as folder:
        write_kit(Path(folder))
        path = Path(folder) / "plan.toml"
        path.write_bytes(text.encode())
        answer = keep(path, setup=setup)
        kept = path.read_bytes().decode()
        keep(path, setup=setup)
        assert path.read_bytes().decode() == kept
    ending = "\r\n" if "\r\n" in text else "\n"
    lines = iter(kept.split(ending))
    assert [line for line in stay if line not in lines] == []
    assert ("\r\n" in kept.replace(ending, "")) is False
    assert _without(kept) == _without(text)
    (found,) = (
        each
        for each in tomllib.loads(kept.removeprefix("\ufeff"))["setup"]
        if each["name"].casefold() == (answer.setup or "").casefold()
    )
    assert found["balance_k"] == 4300
    planned = {each["name"].casefold(): each["planned"] for each in found["light"]}
    assert planned["lamp"]["filters"] == answer.lights[0].filters == ["half CTB"]
    assert set(planned["window"]) <= {"odd"}
