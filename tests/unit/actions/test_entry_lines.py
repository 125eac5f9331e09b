"""What is said on a set, typed: the line, the name it gets and the keys, in the demo's plan."""

from __future__ import annotations

from typing import Any

import pytest

from evencast import tables
from evencast.actions.editing.lights import add_light
from evencast.actions.entry import typed_light

PLAN = tables.demo_documents()["plan.toml"]

LINES: list[tuple[str, str, dict[str, Any]]] = [
    (
        "tungsten 650, 3 m, flood",
        "tungsten 650",
        {
            "role": "other",
            "builtin": "tungsten 3200 K",
            "level": {"watts": 650, "focus": "flood", "distance_m": 3},
            "watts": 650,
        },
    ),
    (
        "650 tungsten flood 3m",
        "tungsten 650",
        {
            "role": "other",
            "builtin": "tungsten 3200 K",
            "level": {"watts": 650, "focus": "flood", "distance_m": 3},
            "watts": 650,
        },
    ),
    (
        "Tungsten 650W at 10 ft spot key",
        "Tungsten 650",
        {
            "role": "key",
            "builtin": "tungsten 3200 K",
            "level": {"watts": 650, "focus": "spot", "distance_ft": 10},
            "watts": 650,
        },
    ),
    (
        "north window 3 panes 1.1 x 1.5 m fill 240 lux",
        "north window 2",
        {
            "role": "fill",
            "builtin": "daylight 5600 K",
            "aperture": [{"width_m": 1.1, "height_m": 1.5, "count": 3}],
            "level": {"lux": 240},
        },
    ),
    (
        "panel 2700-6500 2 m background f/2.8",
        "panel",
        {
            "role": "background",
            "builtin": "two-colour LED panel",
            "adjustable": {"low_k": 2700, "high_k": 6500},
            "level": {"f_stop": 2.8, "distance_m": 2},
        },
    ),
    (
        "FL2 tubes x4 1200 mm practical",
        "FL2 tubes",
        {
            "role": "practical",
            "builtin": "cool white tube FL2",
            "aperture": [{"width_mm": 102, "height_mm": 1200, "count": 4}],
        },
    ),
    (
        "5400K+0.0065 LED key 1400 lx at 3 m",
        "LED 5400",
        {
            "role": "key",
            "kind": "phosphor LED",
            "cct_k": 5400,
            "duv": 0.0065,
            "level": {"lux": 1400, "distance_m": 3},
        },
    ),
    (
        "bulb 2700 practical -2 to key",
        "bulb 2700",
        {"role": "practical", "cct_k": 2700, "fitting": "household", "aim": {"stops": -2}},
    ),
    (
        "hmi 1200w 5 m spot 5600",
        "hmi 1200",
        {
            "role": "other",
            "kind": "HMI",
            "cct_k": 5600,
            "fitting": "fixture",
            "distance_m": 5,
            "watts": 1200,
        },
    ),
    (
        "2 x 650 tungsten 12' flood fill",
        "tungsten 650",
        {
            "role": "fill",
            "builtin": "tungsten 3200 K",
            "count": 2,
            "level": {"watts": 650, "focus": "flood", "distance_ft": 12},
            "watts": 650,
        },
    ),
    (
        "2x1kW tungsten fill 4 m",
        "tungsten 1000",
        {
            "role": "fill",
            "builtin": "tungsten 3200 K",
            "count": 2,
            "level": {"watts": 1000, "distance_m": 4},
            "watts": 1000,
        },
    ),
    (
        "a pair of LED panels 5600K 75 fc at 8 ft background",
        "LED panels 5600",
        {
            "role": "background",
            "kind": "phosphor LED",
            "cct_k": 5600,
            "fitting": "panel",
            "count": 2,
            "level": {"fc": 75, "distance_ft": 8},
        },
    ),
    (
        "tungsten 1k key 10'6\"",
        "tungsten 1000",
        {
            "role": "key",
            "builtin": "tungsten 3200 K",
            "level": {"watts": 1000, "distance_ft": 10.5},
            "watts": 1000,
        },
    ),
    (
        "tungsten 300 rim 2,5 m spot",
        "tungsten 300",
        {
            "role": "other",
            "builtin": "tungsten 3200 K",
            "level": {"watts": 300, "focus": "spot", "distance_m": 2.5},
            "watts": 300,
        },
    ),
    (
        "tungsten 2k, 6 m, flood, 1/2 stop under key",
        "tungsten 2000",
        {
            "role": "other",
            "builtin": "tungsten 3200 K",
            "aim": {"stops": -0.5},
            "level": {"watts": 2000, "focus": "flood", "distance_m": 6},
            "watts": 2000,
        },
    ),
    (
        "kitchen: tungsten 650 key 3 m",
        "kitchen",
        {
            "role": "key",
            "builtin": "tungsten 3200 K",
            "level": {"watts": 650, "distance_m": 3},
            "watts": 650,
        },
    ),
    (
        '"his desk" bulb 60W practical 45 lux',
        "his desk",
        {"role": "practical", "builtin": "filament bulb", "level": {"lux": 45}, "watts": 60},
    ),
    (
        "desk lamp, LED bulb 2700K practical 12 lux",
        "desk lamp",
        {
            "role": "practical",
            "kind": "phosphor LED",
            "cct_k": 2700,
            "fitting": "household",
            "level": {"lux": 12},
        },
    ),
    (
        "window D65 fill 240 lux -10 mired, 1 stop under",
        "window D65",
        {
            "role": "fill",
            "builtin": "daylight D65",
            "aim": {"mired": -10, "stops": -1},
            "level": {"lux": 240},
        },
    ),
    (
        "south window 5200K fill f/5.6 and a third",
        "south window",
        {
            "role": "fill",
            "kind": "daylight",
            "cct_k": 5200,
            "fitting": "window",
            "level": {"f_stop": 6.3},
        },
    ),
    (
        "big window daylight fill 1.1 m x 1.5 m",
        "big window",
        {
            "role": "fill",
            "builtin": "daylight 5600 K",
            "aperture": [{"width_m": 1.1, "height_m": 1.5}],
        },
    ),
    (
        "window 2 panes 40 x 60 in fill 20 fc",
        "window",
        {
            "role": "fill",
            "builtin": "daylight 5600 K",
            "aperture": [{"width_in": 40, "height_in": 60, "count": 2}],
            "level": {"fc": 20},
        },
    ),
    (
        "window camera 5200K 4 toward magenta fill 300 lux",
        "window 5200",
        {
            "role": "fill",
            "kind": "daylight",
            "cct_k": 5200,
            "tint": "4 toward magenta",
            "fitting": "window",
            "level": {"lux": 300},
        },
    ),
    (
        "garden view daylight f/11 behind north window",
        "garden view",
        {
            "role": "view",
            "builtin": "daylight 5600 K",
            "level": {"f_stop": 11},
            "behind": "north window",
        },
    ),
    ("view D65 EV 12", "D65", {"role": "view", "builtin": "daylight D65", "level": {"ev": 12}}),
    (
        "ceiling tubes FL2 x4 1200 mm background 90 lux",
        "ceiling tubes 2",
        {
            "role": "background",
            "builtin": "cool white tube FL2",
            "aperture": [{"width_mm": 102, "height_mm": 1200, "count": 4}],
            "level": {"lux": 90},
        },
    ),
    (
        "T5 tubes 4000K 60 cm background",
        "tubes 4000",
        {
            "role": "background",
            "kind": "tube",
            "cct_k": 4000,
            "fitting": "tube",
            "aperture": [{"width_mm": 70, "height_mm": 600}],
        },
    ),
    (
        "four T12 tubes FL11 1200 mm 90 lx background",
        "tubes FL11",
        {
            "role": "background",
            "builtin": "three-band tube FL11",
            "aperture": [{"width_mm": 140, "height_mm": 1200, "count": 4}],
            "level": {"lux": 90},
        },
    ),
    (
        "tube three-band 4000K+0.004 background 60 lux",
        "tube three-band 4000",
        {
            "role": "background",
            "kind": "three-band tube",
            "cct_k": 4000,
            "duv": 0.004,
            "fitting": "tube",
            "level": {"lux": 60},
        },
    ),
    (
        "fluorescent tubes 4100K background 60 lux leave",
        "fluorescent tubes 4100",
        {
            "role": "background",
            "kind": "tube",
            "cct_k": 4100,
            "fitting": "tube",
            "moves": ["leave"],
            "level": {"lux": 60},
        },
    ),
    (
        "sodium street lamp other 3 lux leave",
        "sodium street lamp",
        {
            "role": "other",
            "builtin": "high-pressure sodium HP1",
            "moves": ["leave"],
            "level": {"lux": 3},
        },
    ),
    (
        "mercury other 2 lux not ours",
        "mercury",
        {"role": "other", "builtin": "mercury clear", "moves": ["leave"], "level": {"lux": 2}},
    ),
    (
        "metal halide background 40 lux",
        "metal halide",
        {"role": "background", "builtin": "metal halide 4150 K", "level": {"lux": 40}},
    ),
    ("xenon key 5 m", "xenon", {"role": "key", "builtin": "xenon projector", "distance_m": 5}),
    (
        "led 3200 key f/2.8 at 2 m",
        "led 3200",
        {
            "role": "key",
            "kind": "phosphor LED",
            "cct_k": 3200,
            "level": {"f_stop": 2.8, "distance_m": 2},
        },
    ),
    (
        "LED fresnel 5600 key f/4 at 3 m",
        "LED fresnel 5600",
        {
            "role": "key",
            "kind": "phosphor LED",
            "cct_k": 5600,
            "fitting": "fixture",
            "level": {"f_stop": 4, "distance_m": 3},
        },
    ),
    (
        "RGB LED 4300K background 100 lux",
        "RGB LED 4300",
        {"role": "background", "kind": "RGB LED", "cct_k": 4300, "level": {"lux": 100}},
    ),
    (
        "bi-colour panel 2700 to 6500 K key 500 lux at 2 m dimmable",
        "bi-colour panel",
        {
            "role": "key",
            "builtin": "two-colour LED panel",
            "adjustable": {"low_k": 2700, "high_k": 6500},
            "moves": ["filter", "dial", "dim", "leave"],
            "level": {"lux": 500, "distance_m": 2},
        },
    ),
    (
        "panel 3200-5600 fill +20 mired",
        "panel",
        {
            "role": "fill",
            "builtin": "two-colour LED panel",
            "adjustable": {"low_k": 3200, "high_k": 5600},
            "aim": {"mired": 20},
        },
    ),
    (
        "panel 2700-6500 fill 20 mired cooler",
        "panel",
        {
            "role": "fill",
            "builtin": "two-colour LED panel",
            "adjustable": {"low_k": 2700, "high_k": 6500},
            "aim": {"mired": -20},
        },
    ),
    (
        "panel 2700-6500 like north window fill",
        "panel",
        {
            "role": "fill",
            "builtin": "two-colour LED panel",
            "adjustable": {"low_k": 2700, "high_k": 6500},
            "aim": {"like": "north window"},
        },
    ),
    (
        "panel 2700-6500 look moonlight discreet background",
        "panel",
        {
            "role": "background",
            "builtin": "two-colour LED panel",
            "adjustable": {"low_k": 2700, "high_k": 6500},
            "aim": {"look": "moonlight, discreet"},
        },
    ),
    (
        "panel 350 x 350 mm 2700-6500 key",
        "panel",
        {
            "role": "key",
            "builtin": "two-colour LED panel",
            "adjustable": {"low_k": 2700, "high_k": 6500},
            "aperture": [{"width_mm": 350, "height_mm": 350}],
        },
    ),
    (
        "panel 30 cm wide 2700-6500 key 2 m",
        "panel",
        {
            "role": "key",
            "builtin": "two-colour LED panel",
            "adjustable": {"low_k": 2700, "high_k": 6500},
            "distance_m": 2,
            "size_cm": 30,
        },
    ),
    (
        "HMI 575 5600K fill 20 ft",
        "HMI 575",
        {
            "role": "fill",
            "kind": "HMI",
            "cct_k": 5600,
            "fitting": "fixture",
            "distance_ft": 20,
            "watts": 575,
        },
    ),
    (
        "hmi 4k 5600 key 8 m",
        "hmi 4000",
        {
            "role": "key",
            "kind": "HMI",
            "cct_k": 5600,
            "fitting": "fixture",
            "distance_m": 8,
            "watts": 4000,
        },
    ),
    (
        "HMI 6000K 1.8 kW key 800 lux at 6 m",
        "HMI 1800",
        {
            "role": "key",
            "kind": "HMI",
            "cct_k": 6000,
            "fitting": "fixture",
            "level": {"lux": 800, "distance_m": 6},
            "watts": 1800,
        },
    ),
    (
        "tungsten 650 3 m flood dimmable scrims key",
        "tungsten 650",
        {
            "role": "key",
            "builtin": "tungsten 3200 K",
            "moves": ["filter", "dim", "scrim", "leave"],
            "level": {"watts": 650, "focus": "flood", "distance_m": 3},
            "watts": 650,
        },
    ),
    (
        "tungsten 650 key same as key",
        "tungsten 650",
        {"role": "key", "builtin": "tungsten 3200 K", "aim": {"stops": 0}, "watts": 650},
    ),
    (
        "tungsten 500 fill two thirds under key 2 m",
        "tungsten 500",
        {
            "role": "fill",
            "builtin": "tungsten 3200 K",
            "aim": {"stops": -0.67},
            "level": {"watts": 500, "distance_m": 2},
            "watts": 500,
        },
    ),
    (
        "tungsten 650 background + a third",
        "tungsten 650",
        {"role": "background", "builtin": "tungsten 3200 K", "aim": {"stops": 0.33}, "watts": 650},
    ),
    (
        "tungsten 650 on bench sockets 3 m key",
        "tungsten 650",
        {
            "role": "key",
            "builtin": "tungsten 3200 K",
            "level": {"watts": 650, "distance_m": 3},
            "watts": 650,
            "circuit": "bench sockets",
        },
    ),
    (
        "tungsten 3200K key 1400 lux at 3 m flood",
        "tungsten 3200K",
        {
            "role": "key",
            "builtin": "tungsten 3200 K",
            "level": {"lux": 1400, "focus": "flood", "distance_m": 3},
        },
    ),
    (
        "tungsten 2900K practical",
        "tungsten 2900",
        {"role": "practical", "kind": "tungsten", "cct_k": 2900},
    ),
    (
        "filament bulb practical 10 lux",
        "filament bulb",
        {"role": "practical", "builtin": "filament bulb", "level": {"lux": 10}},
    ),
    (
        "neodymium bulb practical",
        "neodymium bulb",
        {"role": "practical", "builtin": "filament bulb neodymium glass"},
    ),
    (
        "candle 1900K practical 2 lux",
        "candle",
        {"role": "practical", "cct_k": 1900, "level": {"lux": 2}},
    ),
    (
        "lamp.csv key 500 lux at 2 m",
        "lamp",
        {"role": "key", "spectrum": "lamp.csv", "level": {"lux": 500, "distance_m": 2}},
    ),
    (
        "LED 5600K panel.ies key 3 m",
        "LED 5600",
        {
            "role": "key",
            "kind": "phosphor LED",
            "cct_k": 5600,
            "level": {"photometry": "panel.ies", "distance_m": 3},
        },
    ),
    (
        "led 5600 0.5 stop over key fill 3 m",
        "led 5600",
        {
            "role": "fill",
            "kind": "phosphor LED",
            "cct_k": 5600,
            "aim": {"stops": 0.5},
            "distance_m": 3,
        },
    ),
    (
        "spot tungsten 1000 background 5m 3/4 stop under",
        "tungsten 1000",
        {
            "role": "background",
            "builtin": "tungsten 3200 K",
            "aim": {"stops": -0.75},
            "level": {"watts": 1000, "focus": "spot", "distance_m": 5},
            "watts": 1000,
        },
    ),
    (
        "stair tubes FL5 2 x 600 mm background",
        "stair tubes 2",
        {
            "role": "background",
            "builtin": "daylight tube FL5",
            "aperture": [{"width_mm": 102, "height_mm": 600, "count": 2}],
        },
    ),
    ("sun f/16 key", "sun", {"role": "key", "builtin": "daylight 5600 K", "level": {"f_stop": 16}}),
    (
        "LED-B3 fill 200 lux",
        "LED-B3",
        {"role": "fill", "builtin": "LED phosphor 4100 K B3", "level": {"lux": 200}},
    ),
    (
        "key light tungsten 650 3 m",
        "tungsten 650",
        {
            "role": "key",
            "builtin": "tungsten 3200 K",
            "level": {"watts": 650, "distance_m": 3},
            "watts": 650,
        },
    ),
    (
        "two 650W tungsten fixtures 3 m flood fill",
        "tungsten fixtures 650",
        {
            "role": "fill",
            "builtin": "tungsten 3200 K",
            "count": 2,
            "level": {"watts": 650, "focus": "flood", "distance_m": 3},
            "watts": 650,
        },
    ),
    (
        "LED tubes 5600 x4 4 ft long fill",
        "LED tubes 5600",
        {
            "role": "fill",
            "kind": "phosphor LED",
            "cct_k": 5600,
            "fitting": "tube",
            "aperture": [{"width_mm": 102, "height_mm": 1219.2, "count": 4}],
        },
    ),
    (
        "tungsten 650, fill, 80 lux, -1 stop",
        "tungsten 650",
        {
            "role": "fill",
            "builtin": "tungsten 3200 K",
            "aim": {"stops": -1},
            "level": {"lux": 80},
            "watts": 650,
        },
    ),
    (
        "door practical LED bulb 3000K +0.003 6 lux",
        "door practical",
        {
            "role": "practical",
            "kind": "phosphor LED",
            "cct_k": 3000,
            "duv": 0.003,
            "fitting": "household",
            "level": {"lux": 6},
        },
    ),
    (
        "daylight 5600K fill 900 lux",
        "daylight 5600K",
        {"role": "fill", "builtin": "daylight 5600 K", "level": {"lux": 900}},
    ),
    (
        "window left 2 panes 1 x 2 m fill",
        "window left",
        {
            "role": "fill",
            "builtin": "daylight 5600 K",
            "aperture": [{"width_m": 1, "height_m": 2, "count": 2}],
        },
    ),
    (
        "edge LED panel 2700-6500 background",
        "edge LED panel",
        {
            "role": "background",
            "builtin": "two-colour LED panel",
            "adjustable": {"low_k": 2700, "high_k": 6500},
        },
    ),
    (
        "3x HMI 1.2 kW 5600K key 6 m",
        "HMI 1200",
        {
            "role": "key",
            "kind": "HMI",
            "cct_k": 5600,
            "fitting": "fixture",
            "count": 3,
            "distance_m": 6,
            "watts": 1200,
        },
    ),
    ("bulb", "bulb", {"role": "other", "builtin": "filament bulb"}),
    (
        "tungsten 60W bulb practical",
        "tungsten bulb 60",
        {"role": "practical", "builtin": "filament bulb", "watts": 60},
    ),
]


@pytest.mark.parametrize(("line", "name", "keys"), LINES, ids=[each[0] for each in LINES])
def test_a_line_becomes_the_keys_of_a_light(line: str, name: str, keys: dict[str, Any]) -> None:
    """Nothing of it is left over, nothing is asked, and the plan takes the light."""
    entry = typed_light(line, plan=PLAN)
    assert (entry.name, entry.keys) == (name, keys)
    assert (entry.not_understood, entry.asks) == ([], [])
    edited = add_light(PLAN, entry)
    assert f'name = "{name}"' in edited.text
    assert edited.said.startswith(f"{name} added: ")


def test_the_table_is_long_enough_to_mean_something() -> None:
    """Sixty lines and more, each another."""
    assert len({line for line, _, _ in LINES}) == len(LINES) >= 60
