"""The picture of docs/bands.md: one sheet on seven lights, every member and the band.

python -m builders.band_picture            write docs/bands.svg
python -m builders.band_picture --check    fail if it is not what would be written
"""

from __future__ import annotations

import sys
from pathlib import Path
from xml.sax.saxutils import escape

import numpy as np

from evencast.colour import low_middle_high, mired_duv, spread_of_power, uv, white
from evencast.filters import generic
from evencast.lights import light_of
from evencast.quantities import Floats

PICTURE = Path(__file__).parent.parent / "docs" / "bands.svg"
SHEET = "full CTO"
LAMPS = (
    ("5600K", "5600 K daylight, as declared"),
    ("D65", "window, overcast"),
    ("LED-B5", "white LED 6600 K"),
    ("FL11", "three-band tube 4000 K"),
    ("FL2", "old cool white tube"),
    ("FL4", "old warm white tube"),
    ("HP1", "sodium street lamp"),
)
LEFT, RIGHT, TOP, ROW, WIDTH = 220, 30, 70, 46, 760
LOWEST, HIGHEST, STEP = 20, 180, 20
FONT = 'font-family="system-ui, sans-serif" font-size="14"'


def main() -> None:
    """Write the picture, or check that it is fresh."""
    made = picture()
    if "--check" not in sys.argv:
        PICTURE.write_text(made, encoding="utf-8", newline="\n")
    elif PICTURE.read_text("utf-8") != made:
        sys.exit("docs/bands.svg is not fresh: run python -m builders.band_picture")


def picture() -> str:
    """The SVG text."""
    height = TOP + ROW * len(LAMPS) + 60
    light = white(5600)
    named = float(mired_duv(uv(light * generic(SHEET).transmittance))[0] - mired_duv(uv(light))[0])
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {height}" '
        f'width="{WIDTH}" height="{height}" role="img" {FONT}>',
        f"<title>What one {SHEET} does to seven lights</title>",
        f"<desc>{escape(described())}</desc>",
        f'<rect width="{WIDTH}" height="{height}" fill="#fff"/>',
        f'<text x="16" y="28" font-weight="600">One {SHEET}: what it warms, in mired</text>',
        f'<text x="{x_of(named):.1f}" y="52" text-anchor="middle" fill="#555">'
        f"what it is named for, {named:+.0f}</text>",
        f'<line x1="{x_of(named):.1f}" y1="58" x2="{x_of(named):.1f}" y2="{height - 50}" '
        'stroke="#555" stroke-dasharray="5 4"/>',
        *axis(height - 44),
    ]
    for row, (name, label) in enumerate(LAMPS):
        parts += lamp(label, shifts_of(name), TOP + ROW * row + ROW / 2)
    return "\n".join([*parts, "</svg>", ""])


def shifts_of(name: str) -> Floats:
    """Mired shift of every member on that light. [(MEMBERS,)]"""
    light = light_of(name)
    filtered = spread_of_power(light.members * generic(SHEET).members)
    return np.asarray(filtered.mired - spread_of_power(light.members).mired)


def described() -> str:
    """The picture in words."""
    rows = []
    for name, label in LAMPS:
        low, at, high = low_middle_high(shifts_of(name))
        rows.append(f"{label}: {low:+.0f} to {high:+.0f} mired, middle {at:+.0f}")
    return "; ".join(rows) + "."


def lamp(label: str, shifts: Floats, y: float) -> list[str]:
    """One row: members as fine strokes, the band as a bar, the middle as a dot."""
    low, at, high = (x_of(float(each)) for each in low_middle_high(shifts))
    strokes = " ".join(f"M{x_of(float(each)):.1f} {y - 9:.1f}v18" for each in np.sort(shifts))
    return [
        f'<text x="16" y="{y + 5:.1f}">{escape(label)}</text>',
        f'<path d="{strokes}" stroke="#000" stroke-opacity="0.14" fill="none"/>',
        f'<line x1="{low:.1f}" y1="{y + 14:.1f}" x2="{high:.1f}" y2="{y + 14:.1f}" '
        'stroke="#222" stroke-width="4"/>',
        f'<circle cx="{at:.1f}" cy="{y + 14:.1f}" r="5" fill="#fff" stroke="#222" '
        'stroke-width="2"/>',
    ]


def axis(y: float) -> list[str]:
    """Mireds along the foot."""
    marks = [f'<line x1="{LEFT}" y1="{y}" x2="{WIDTH - RIGHT}" y2="{y}" stroke="#222"/>']
    for value in range(LOWEST, HIGHEST + 1, STEP):
        x = x_of(value)
        marks.append(f'<line x1="{x:.1f}" y1="{y}" x2="{x:.1f}" y2="{y + 5}" stroke="#222"/>')
        marks.append(f'<text x="{x:.1f}" y="{y + 22}" text-anchor="middle">{value:+d}</text>')
    return marks


def x_of(mired: float) -> float:
    """Where a shift lies across the picture."""
    return LEFT + (mired - LOWEST) / (HIGHEST - LOWEST) * (WIDTH - LEFT - RIGHT)


if __name__ == "__main__":
    main()
