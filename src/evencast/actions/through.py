"""`through`: what a stack of filters does to a light."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from evencast.actions import resolve
from evencast.actions.cautions import WHITE_ALONE, cautions
from evencast.actions.kit import load_kit
from evencast.actions.reading import reading, rounded
from evencast.colour import mired_duv, uv, white, xyz
from evencast.errors import EvencastError
from evencast.filters import Filter, stack
from evencast.filters.dyes import shift_mired
from evencast.lights import Light
from evencast.quantities import kelvin, say_stops, stops_of_ratio
from evencast.results import ThroughAnswer

MIRED_WORTH_SAYING = 5.0


def through(
    light_text: str, filter_texts: Sequence[str], *, kind: str | None, kit: Path | None
) -> ThroughAnswer:
    """The light a text names, through the filters that texts name, in any order."""
    loaded = load_kit(kit) if kit else None
    light = resolve.light(light_text, kind)
    filters = [resolve.filter_named(text, loaded) for text in filter_texts]
    together = stack(filters)
    if not xyz(light.power * together)[1] > 0:
        raise EvencastError(
            f"nothing of {light.name} passes",
            where=" + ".join(each.name for each in filters),
            remedy="Use sheets that pass some of the wavelengths this light has.",
        )
    bare_mired, bare_duv = mired_duv(uv(light.power))
    mired, duv = mired_duv(uv(light.power * together))
    loss_stops = stops_of_ratio(float(xyz(light.power * together)[1] / xyz(light.power)[1]))
    return ThroughAnswer(
        light=light.name,
        filters=[each.name for each in filters],
        bare=reading(light),
        filtered=reading(light, through=together),
        shift_mired=rounded(float(mired - bare_mired), 3),
        shift_duv=rounded(float(duv - bare_duv), 6),
        loss_stops=round(loss_stops, 4),
        nominal=not all(each.measured for each in filters),
        band=None,
        notes=_notes(light, filters)
        + _arithmetic(filters, mired=float(mired), bare=float(bare_mired)),
        cautions=cautions(light, filters, loss_stops),
    )


def _notes(light: Light, filters: Sequence[Filter]) -> list[str]:
    notes = []
    nominal = [each.name for each in filters if not each.measured]
    if nominal:
        notes.append(
            f"Nominal: {', '.join(dict.fromkeys(nominal))} "
            f"{'is' if len(set(nominal)) == 1 else 'are'} known by the series alone. A real "
            "sheet may differ by some 5 mired and 1/6 stop, more on tubes and discharge lamps."
        )
    notes += [
        f"{each.name} loses {say_stops(each.loss_range_stops[0])} to "
        f"{say_stops(each.loss_range_stops[1])}, by beam and distance: meter it."
        for each in filters
        if each.loss_range_stops
    ]
    if light.lacks_colours:
        notes.append(WHITE_ALONE)
    if light.assumed and light.note:
        notes.append(f"{light.name}: {light.note}.")
    return notes


def _arithmetic(filters: Sequence[Filter], *, mired: float, bare: float) -> list[str]:
    """What adding up the shifts the sheets are named for would have said, where it misleads."""
    by_name = sum(float(shift_mired(white(each.on_k), each.transmittance)) for each in filters)
    error = bare + by_name - mired
    if not (abs(error) >= MIRED_WORTH_SAYING and bare + by_name > 0):
        return []
    return [
        f"Mired arithmetic with the shifts the sheets are named for ({by_name:+.0f}) would say "
        f"{kelvin(bare + by_name):.0f} K, {abs(error):.0f} mired off: a shift belongs to a "
        "sheet in front of a lamp, not to the sheet."
    ]
