"""Kits to print: small, odd, large, and with test frames."""

from __future__ import annotations

import io
from pathlib import Path

import numpy as np
from PIL import Image

ODD_NAMES = (
    "n" * 120,
    "a name of many words that goes on and on " * 3,
    "半蓝 色温 纸 灯光 滤色片",
    "نصف أزرق 50",
    "חצי כחול 3",
    "🎬 blue 🔥 half",
    "=1+1",
    "<b>&amp; #strong[x] $y$ \\u{41}",
)
"""Names that break layouts."""


def kit_text(*filters: str, name: str = "the van") -> str:
    """A kit document of filter tables."""
    return f'format = 1\nname = "{name}"\n\n' + "\n\n".join(filters)


def entry(name: str, role: str, how: str, *more: str) -> str:
    """One filter; `how` is its line of numbers."""
    quoted = name.replace("\\", "\\\\").replace('"', '\\"')
    return "\n".join([f'[[filter]]\nname = "{quoted}"\nrole = "{role}"\n{how}', *more])


def plain_kit() -> str:
    """One of every kind: blue, orange, measured, printed, green, ND, frost, effect."""
    return kit_text(
        entry("full CTB", "correction", 'generic = "full CTB"', 'series = "CTB"'),
        entry("half CTB", "correction", 'generic = "half CTB"', 'series = "CTB"'),
        entry("half CTO", "correction", 'generic = "half CTO"', 'series = "CTO"'),
        entry("old blue", "correction", 'spectrum = "old-blue.csv"', 'note = "faded"'),
        entry(
            "market orange",
            "correction",
            "kelvin = { from_k = 5600, to_k = 4000, stops = 0.5 }",
            '[[filter.evidence]]\ndate = 2031-04-02\nkind = "wrapper"\nfile = "wrapper.jpg"',
        ),
        entry("quarter minus green", "green", 'generic = "quarter minus green"'),
        entry("ND 0.6", "ND", 'generic = "ND 0.6"'),
        entry("medium frost", "diffusion", 'generic = "medium frost"'),
        entry("deep green", "effect", 'generic = "deep green"'),
    )


def odd_kit() -> str:
    """Names that break layouts, and a sheet that is nearly black."""
    odd = [entry(name, "correction", 'generic = "half CTB"') for name in ODD_NAMES]
    return kit_text(
        *odd,
        entry("nearly black", "ND", 'spectrum = "nearly-black.csv"', f'note = "{"w" * 300}"'),
        name="Käfig 🎬 " + "k" * 80,
    )


def large_kit(count: int) -> str:
    """So many filters, of every generic series."""
    from evencast.filters import generic, generic_names

    names = generic_names()
    rows = []
    for number in range(count):
        built = generic(names[number % len(names)])
        name = f"{built.name} {number // len(names) + 1}"
        rows.append(
            entry(name, built.role, f'generic = "{built.name}"', f'series = "{built.series}"')
        )
    return kit_text(*rows)


def write_kit(folder: Path, text: str) -> Path:
    """The kit, with the spectra that it may name, in a folder."""
    nm = np.arange(380, 781, 20)
    blue = 0.75 - 0.45 * (nm - 380) / 400
    for name, values in {
        "old-blue": blue,
        "nearly-black": np.full(nm.shape, 2.0**-12),
    }.items():
        rows = "".join(f"{at},{value:.6g}\n" for at, value in zip(nm, values, strict=True))
        (folder / f"{name}.csv").write_text(f"wavelength_nm,transmittance\n{rows}", "utf-8")
    path = folder / "kit.toml"
    path.write_text(text, "utf-8")
    return path


def frame_bytes(kind: str, size: tuple[int, int] = (600, 400)) -> bytes:
    """A photograph of nothing in particular: two halves that differ."""
    pixels = np.empty((size[1], size[0], 3), dtype=np.uint8)
    pixels[:, : size[0] // 2] = (150, 110, 70) if kind == "bare" else (110, 110, 110)
    pixels[:, size[0] // 2 :] = (210, 160, 110) if kind == "bare" else (170, 150, 140)
    made = io.BytesIO()
    Image.fromarray(pixels).save(made, "JPEG")
    return made.getvalue()


def framed_kit(folder: Path) -> Path:
    """A half CTB with four test frames, and a full one with frames that cannot be shown."""
    frames = folder / "frames"
    frames.mkdir()
    tables = []
    for state in ("bare", "filtered"):
        for balance_k in (3200, 5600):
            (frames / f"{state}-{balance_k}.jpg").write_bytes(frame_bytes(state))
            tables.append(
                f'[[filter.evidence]]\nkind = "frame"\ndate = 2031-05-02\nstate = "{state}"\n'
                f'balance_k = {balance_k}\nfile = "frames/{state}-{balance_k}.jpg"\n'
                'light = "the 650 W Fresnel"'
            )
    (frames / "broken.jpg").write_bytes(frame_bytes("bare")[:900])
    (frames / "note.txt").write_text("no picture", "utf-8")
    (frames / "small.png").write_bytes(frame_bytes("bare", (120, 90)))
    wrong = [
        ("bare", 3200, "frames/missing.jpg"),
        ("filtered", 3200, "frames/broken.jpg"),
        ("bare", 5600, "frames/note.txt"),
        ("filtered", 5600, "frames/small.png"),
        ("bare", 4300, "frames/bare-3200.jpg"),
    ]
    broken = [
        f'[[filter.evidence]]\nkind = "frame"\nstate = "{state}"\nbalance_k = {balance_k}\n'
        f'file = "{file}"'
        for state, balance_k, file in wrong
    ]
    text = kit_text(
        entry("half CTB", "correction", 'generic = "half CTB"', *tables),
        entry("full CTB", "correction", 'generic = "full CTB"', *broken),
    )
    return write_kit(folder, text)
