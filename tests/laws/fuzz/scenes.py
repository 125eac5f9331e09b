"""Random sound plans and kits: whole scenes with every key that a plan may have.

Sound means that every rule of the documents is kept; what is asked may still be absurd: aims that
nothing reaches, stocks of nothing, one light like another that is switched off.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from random import Random
from typing import Any

Entry = dict[str, Any]

LAMPS = (
    "tungsten 3200 K",
    "tungsten 2856 K",
    "filament bulb",
    "cool white tube FL2",
    "white high-CRI tube FL8",
    "three-band tube FL11",
    "LED phosphor 2700 K B1",
    "LED phosphor 5100 K B4",
    "two-colour LED panel",
    "daylight D55",
    "high-pressure sodium HP1",
    "low-pressure sodium",
)
SHEETS = (
    ("full CTB", "correction"),
    ("half CTB", "correction"),
    ("quarter CTB", "correction"),
    ("full CTO", "correction"),
    ("half CTO", "correction"),
    ("quarter CTO", "correction"),
    ("half plus green", "green"),
    ("half minus green", "green"),
    ("quarter minus green", "green"),
    ("ND 0.3", "ND"),
    ("ND 0.6", "ND"),
)
FROSTS = ("light frost", "heavy frost")
LOOKS = ("moonlight, discreet", "late sun", "a look of the plan's own")
ROLES = ("key", "fill", "background", "practical", "other")
MEASURED, GREEN = "lamp.csv", "green.csv"
"""A warm lamp, and one without a colour temperature."""
DAYLIGHT_KINDS = ("daylight D55",)


CSVS = {
    MEASURED: [(nm, (nm - 300) / 100) for nm in range(380, 785, 5)],
    GREEN: [(nm, 0.001 + (500 < nm < 560)) for nm in range(380, 785, 5)],
}


def write(folder: Path, plan: str, kit: str) -> Path:
    """Both documents and the measured lamp beside them."""
    (folder / "plan.toml").write_bytes(plan.encode("utf-8", "surrogatepass"))
    (folder / "kit.toml").write_bytes(kit.encode("utf-8", "surrogatepass"))
    for name, samples in CSVS.items():
        rows = "".join(f"{nm},{power}\n" for nm, power in samples)
        (folder / name).write_text(f"wavelength_nm,power\n{rows}", encoding="utf-8")
    return folder / "plan.toml"


def documents(seed: object) -> tuple[str, str]:
    """A plan and its kit as texts; the same ones for the same seed."""
    made = _Maker(Random(f"scene {seed}"))
    kit = made.kit()
    return toml(made.plan()), toml(kit)


def toml(table: Mapping[str, Any]) -> str:
    """A document whose tables stand on one line each."""
    return "".join(f"{key} = {_value(value)}\n" for key, value in table.items())


def _value(value: object) -> str:
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, int | float):
        return repr(value)
    if isinstance(value, str):
        return '"' + value.replace("\\", "\\\\").replace('"', '\\"') + '"'
    if isinstance(value, Mapping):
        return "{ " + ", ".join(f"{key} = {_value(each)}" for key, each in value.items()) + " }"
    assert isinstance(value, Sequence)
    return "[" + ", ".join(map(_value, value)) + "]"


class _Maker:
    """Draws one scene."""

    def __init__(self, draw: Random) -> None:
        self._draw = draw
        self._frosts: list[str] = []
        self._circuits: list[str] = []

    def _maybe(self, share: float) -> bool:
        return self._draw.random() < share

    def kit(self) -> Entry:
        draw = self._draw
        what = draw.choice(["some", "some", "some", "some", "few", "ND alone", "none", "effect"])
        sheets = draw.sample(SHEETS, {"some": draw.randint(3, 6), "few": 1}.get(what, 0))
        if what == "ND alone":
            sheets = [("ND 0.3", "ND")]
        stocked = draw.choice(["all", "all", "mixed", "none"])
        entries: list[Entry] = []
        for name, role in sheets:
            entry: Entry = {"name": name, "role": role} | self._known(name, role)
            if stocked == "all" or (stocked == "mixed" and self._maybe(0.5)):
                entry["stock"] = [self._stock() for _ in range(draw.choice([1, 1, 2]))]
            entries.append(entry)
        if what == "effect":
            entries.append({"name": "flame", "role": "effect", "generic": "full CTO"})
        self._frosts = draw.sample(FROSTS, draw.randint(0, 2))
        entries += [{"name": each, "role": "diffusion", "generic": each} for each in self._frosts]
        return {"format": 1, "name": "sheets at hand", "filter": entries}

    def _known(self, name: str, role: str) -> Entry:
        if role == "correction" and self._maybe(0.15):
            cooler = "CTB" in name
            ends = {"from_k": 3200, "to_k": 4300} if cooler else {"from_k": 5600, "to_k": 4000}
            return {"kelvin": ends | {"stops": 0.67}}
        return {"generic": name}

    def _stock(self) -> Entry:
        form, wide, long = self._draw.choice(
            [("sheet", 530, 1220), ("roll", 1220, 7600), ("offcut", 300, 400)]
        )
        count = self._draw.choice([0, 1, 1, 2, 4])
        return {"form": form, "width_mm": wide, "length_mm": long, "count": count}

    def plan(self) -> Entry:
        draw = self._draw
        self._circuits = ["ring", "ceiling"][: draw.randint(0, 2)]
        lights = self._lights()
        plan: Entry = {
            "format": 1,
            "name": "a scene",
            "kit": "kit.toml",
            "mains_hz": draw.choice([50, 60]),
            "camera": self._camera([each["name"] for each in lights]),
            "limits": self._limits(),
            "look": [{"name": LOOKS[2], "mired": -30, "duv": 0.002, "stops": -1}],
            "light": lights,
            "circuit": [{"name": each, "volts": 230, "breaker_a": 10} for each in self._circuits],
        }
        if self._maybe(0.4):
            plan["weights"] = self._numbers(["stops", "pieces", "square_metres", "minutes"])
        if self._maybe(0.3):
            plan["minutes"] = self._numbers(["filter", "dial", "swap", "switch_off", "scrim"])
        if self._maybe(0.2):
            plan["tolerance"] = {
                draw.choice(ROLES): draw.choice(
                    [{"mired": 0}, {"mired": [-0.0, 80]}, {"duv": 0}, {"stops": 0}, {"mired": 200}]
                )
            }
        if self._maybe(0.5):
            plan["spot"] = self._spots(lights)
        if self._maybe(0.3):
            plan["setup"] = [self._setup(lights)]
        return plan

    def _numbers(self, keys: list[str]) -> Entry:
        chosen = self._draw.sample(keys, self._draw.randint(0, len(keys)))
        return {each: self._draw.choice([0, 0, 0.01, 1, 7, 1000]) for each in chosen}

    def _limits(self) -> Entry:
        found: Entry = {"layers": self._draw.choice([1, 2, 2, 2, 3])}
        if self._maybe(0.3):
            found["loss_stops"] = self._draw.choice([0, 0.5, 1, 2, 8])
        return found

    def _camera(self, names: list[str]) -> Entry:
        draw = self._draw
        camera: Entry = {"balance": self._balance(names)}
        if "tint_steps" in camera["balance"] or self._maybe(0.2):
            camera["tint_step_duv"] = draw.choice([0.0005, 0.001, 0.02])
            camera["tint_direction"] = draw.choice(["green", "magenta"])
        if self._maybe(0.6):
            camera[draw.choice(["t_stop", "f_stop"])] = draw.choice([1.4, 2.8, 5.6, 16])
        if self._maybe(0.3):
            camera["exposure_index"] = draw.choice([50, 400, 3200])
        if self._maybe(0.2):
            camera["frames_per_s"] = draw.choice([24, 50, 120])
        return camera

    def _balance(self, names: list[str]) -> Entry:
        draw = self._draw
        form = draw.choice(["fixed", "range", "range", "list", "card"])
        if form == "fixed":
            found: Entry = {"fixed_k": draw.choice([1800, 2900, 3200, 4300, 5600, 12_000])}
            return found | ({"duv": draw.choice([-0.01, 0.005])} if self._maybe(0.3) else {})
        if form == "card":
            return {"from_card_under": draw.choice(names)}
        if form == "range":
            low = draw.choice([1500, 2500, 3200])
            found = {"low_k": low, "high_k": draw.choice([4000, 6500]), "step_k": 900}
        else:
            found = {"at_k": draw.sample([1200, 2900, 3200, 3700, 4300, 5600, 9000], 3)}
        if self._maybe(0.3):
            found["tint_steps"] = draw.choice([[0, 2], [-1, 0, 1], [3]])
        return found

    def _lights(self) -> list[Entry]:
        draw = self._draw
        names = [f"light {number}" for number in range(1, draw.choice([1, 2, 2, 3, 3, 4]) + 1)]
        lights = [self._light(name, names[:number]) for number, name in enumerate(names)]
        if self._maybe(0.3):
            lights.append(self._view(names))
            window = lights[-1].get("behind", names[0])
            if window != names[-1] and self._maybe(0.3):
                lights[len(names) - 1]["aim"] = {"like": "view"}
        return lights

    def _light(self, name: str, before: list[str]) -> Entry:
        draw = self._draw
        role = draw.choice(ROLES) if before or self._maybe(0.3) else "key"
        light: Entry = {"name": name, "role": role} | self._lamp()
        is_day = light.get("builtin") in DAYLIGHT_KINDS or light.get("kind") == "daylight"
        if is_day and self._maybe(0.7):
            light["fitting"] = "window"
        light |= {"moves": self._moves(is_day), "aim": self._aim(before)}
        light |= self._for_its_moves(light["moves"])
        light |= self._size(is_day)
        if self._maybe(0.2):
            light["minutes"] = self._numbers(["filter", "dial", "dim", "swap", "switch_off"])
        if self._maybe(0.7):
            light |= self._level(light)
        if self._circuits and self._maybe(0.5):
            light |= {"watts": 650, "circuit": draw.choice(self._circuits)}
        return light

    def _for_its_moves(self, moves: list[str]) -> Entry:
        found: Entry = {}
        if "dial" in moves and self._maybe(0.7):
            low_k = self._draw.choice([1500, 2700, 5000])
            found["adjustable"] = {"low_k": low_k, "high_k": self._draw.choice([6500, 20_000])}
        if "swap" in moves:
            found["swap"] = self._swaps()
        return found

    def _size(self, is_day: bool) -> Entry:
        draw, found = self._draw, Entry()
        if self._maybe(0.8):
            found["aperture"] = [self._aperture(is_day) for _ in range(draw.choice([1, 1, 2]))]
        if self._maybe(0.25):
            found["count"] = draw.choice([2, 3, 8])
        if self._frosts and self._maybe(0.3):
            found["frost"] = draw.sample(self._frosts, draw.randint(1, len(self._frosts)))
            found["frost_size_cm"] = 60
        if self._maybe(0.2):
            found["size_mm"] = draw.choice([80, 900])
        return found

    def _lamp(self) -> Entry:
        draw = self._draw
        how = draw.choice(["builtin"] * 5 + ["reading", "camera", "file"])
        if how == "builtin":
            return {"builtin": draw.choice(LAMPS)}
        if how == "file":
            return {"spectrum": draw.choice([MEASURED, GREEN])}
        kind = draw.choice(["tungsten", "daylight", "phosphor LED", "unknown"])
        every_k = [1700, 2900] if kind == "tungsten" else [1700, 2900, 4000, 5600, 7500]
        found: Entry = {"cct_k": draw.choice(every_k), "kind": kind}
        if how == "camera":
            return found | {"tint": draw.choice(["none", "3 toward magenta", "2 toward green"])}
        return found | ({"duv": draw.choice([-0.004, 0.003, 0.01])} if self._maybe(0.5) else {})

    def _moves(self, is_day: bool) -> list[str]:
        every = ["filter", "dial", "dim", "scrim", "swap", "switch off", "match the rest", "leave"]
        if is_day:
            every.remove("dim")
        chosen = self._draw.sample(every, self._draw.randint(0, len(every)))
        return list(dict.fromkeys(["filter", *chosen] if self._maybe(0.6) else chosen))

    def _aim(self, before: list[str]) -> Entry:
        draw = self._draw
        found: Entry = draw.choice(
            [
                {},
                {},
                {"mired": draw.choice([-150, -25, 30, 120])},
                {"duv": draw.choice([-0.01, 0.004, 0.045])},
                {"look": draw.choice(LOOKS)},
                {"like": draw.choice(before)} if before else {},
            ]
        )
        return found | ({"stops": draw.choice([-3, -1, 0, 1.5])} if self._maybe(0.4) else {})

    def _swaps(self) -> list[Entry]:
        draw = self._draw
        names = draw.sample(["bulb", "tube", "panel of ours"], draw.choice([1, 1, 2]))
        found = []
        for name in names:
            swap: Entry = {"name": name}
            swap |= draw.choice(
                [
                    {"builtin": draw.choice(LAMPS)},
                    {"cct_k": 5000, "kind": "phosphor LED"},
                    {"spectrum": MEASURED},
                ]
            )
            if self._maybe(0.6):
                swap["at_hand"] = draw.choice([0, 1, 2, 8])
            if self._maybe(0.4):
                swap["stops"] = draw.choice([-0.3, 1])
            found.append(swap)
        return found

    def _aperture(self, is_day: bool) -> Entry:
        wide, high = self._draw.choice([(170, 170), (350, 350), (102, 1200), (1100, 1500)])
        found: Entry = {"width_mm": wide, "height_mm": high}
        if is_day and self._maybe(0.2):
            found = {"width_m": 5, "height_m": 3}
        return found | ({"count": self._draw.choice([2, 4])} if self._maybe(0.3) else {})

    def _level(self, light: Entry) -> Entry:
        draw = self._draw
        is_tungsten = "tungsten" in light.get("builtin", "")
        forms: list[Entry] = [
            {"lux": draw.choice([3, 180, 900, 20_000])},
            {"fc": 75},
            {"ev": draw.choice([-2, 8])},
            {"f_stop": draw.choice([1.4, 4, 22])},
            {"f_stop": 4, "exposure_index": 400, "shutter_s": 0.01},
            {"cd": draw.choice([900, 90_000]), "distance_m": 3},
        ]
        forms += [{"watts": 650, "focus": "flood", "distance_m": 3}] if is_tungsten else []
        level = draw.choice(forms)
        if self._maybe(0.3):
            return {"level": level | {"distance_m": 3}, "distance_m": draw.choice([0.5, 2, 9])}
        return {"level": level}

    def _view(self, names: list[str]) -> Entry:
        draw = self._draw
        view: Entry = {"name": "view", "role": "view", "cct_k": 6500, "kind": "daylight"}
        view["moves"] = draw.choice([["leave"], ["filter", "leave"]])
        if self._maybe(0.7):
            view["behind"] = draw.choice(names)
        if self._maybe(0.8):
            view["level"] = draw.choice([{"ev": 12}, {"f_stop": 16}])
        aim = self._aim([] if self._maybe(0.5) else names)
        return view | ({"aim": aim} if aim else {})

    def _spots(self, lights: list[Entry]) -> list[Entry]:
        draw = self._draw
        found = []
        for number in range(draw.choice([1, 1, 2])):
            reached = [each for each in lights if each["role"] != "view" and self._maybe(0.7)]
            given = [
                {"name": each["name"]}
                | ({"stops": -1} if "level" in each and self._maybe(0.5) else {"lux": 90})
                for each in reached
            ]
            role = draw.choice(["key", "fill", "background"])
            found.append({"name": f"spot {number}", "role": role, "light": given})
        return found

    def _setup(self, lights: list[Entry]) -> Entry:
        light = self._draw.choice(lights)
        changed: Entry = {"name": light["name"]}
        changed |= self._draw.choice(
            [
                {"builtin": "cool white tube FL2", "moves": ["filter", "leave"]},
                {"moves": ["leave"]},
                {"count": 3},
                {"planned": {"filters": [], "dim_stops": 0.5}},
                {"rigged": {"note": "as it was"}, "read": {"cct_k": 4000}},
            ]
        )
        return {"name": "later", "light": [changed]}
