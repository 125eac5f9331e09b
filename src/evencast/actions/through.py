"""`through`: what a stack of filters does to a light."""

from __future__ import annotations

import math
from collections.abc import Sequence
from pathlib import Path

from evencast.actions import resolve
from evencast.actions.cautions import WHITE_ALONE, cautions
from evencast.actions.doubt import UNUSUAL_SHARE, Looks, ends, light_notes, looks, middle
from evencast.actions.export import write_stack
from evencast.actions.kit import load_kit
from evencast.actions.reading import reading, rounded
from evencast.colour import low_middle_high, white, xyz
from evencast.errors import EvencastError
from evencast.filters import Filter, stack
from evencast.filters.dyes import shift_mired
from evencast.lights import Light
from evencast.quantities import kelvin, say_stops
from evencast.results.light import Band
from evencast.results.through import ThroughAnswer
from evencast.spectra import MEMBERS

MIRED_WORTH_SAYING = 5.0


def through(
    light_text: str,
    filter_texts: Sequence[str],
    *,
    kind: str | None,
    kit: Path | None,
    write: Path | None = None,
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
    seen = looks(light, filters)
    loss_stops = middle(seen.loss_stops)
    return ThroughAnswer(
        light=light.name,
        filters=[each.name for each in filters],
        bare=reading(light),
        filtered=seen.reading,
        shift_mired=rounded(middle(seen.shift_mired), 3),
        shift_duv=rounded(middle(seen.shift_duv), 6),
        loss_stops=round(loss_stops, 4),
        nominal=not all(each.measured for each in filters),
        band=None if seen.is_known else shift_band(seen),
        notes=_notes(light, filters, seen, is_file=resolve.is_path(light_text))
        + _arithmetic(filters, seen),
        cautions=cautions(light, filters, loss_stops),
        written_to=write_stack(write, filters),
    )


def shift_band(seen: Looks) -> Band:
    """Ends of the shift, of the colour and of the loss."""
    shifts: Band = {
        "shift_mired": ends(seen.shift_mired, 3),
        "shift_duv": ends(seen.shift_duv, 6),
    }
    return shifts | seen.band


def _notes(light: Light, filters: Sequence[Filter], seen: Looks, *, is_file: bool) -> list[str]:
    notes = []
    unmeasured = list(dict.fromkeys(each.name for each in filters if not each.measured))
    if unmeasured:
        notes.append(
            f"The band: nine in ten of {MEMBERS} spectra that {' and '.join(unmeasured)} may "
            f"have by what is known of {'it' if len(unmeasured) == 1 else 'them'}. A measured "
            "spectrum or a metered loss narrows it."
        )
    notes += no_cct_note(seen)
    notes += [
        f"{each.name} loses {say_stops(each.loss_range_stops[0])} to "
        f"{say_stops(each.loss_range_stops[1])}, by beam and distance: meter it."
        for each in filters
        if each.loss_range_stops
    ]
    if light.lacks_colours:
        notes.append(WHITE_ALONE)
    notes += light_notes(light, from_file=is_file)
    notes += [f"{each.name}: {each.note}." for each in filters if each.measured and each.note]
    return notes


def no_cct_note(seen: Looks) -> list[str]:
    """What to say of members that have no colour temperature, where others do."""
    share = seen.share_without_cct
    if not UNUSUAL_SHARE <= share < 1.0:
        return []
    return [
        f"{share:.0%} of what it may look like has no colour temperature: counted in the band, "
        "whose end is then none."
    ]


def _arithmetic(filters: Sequence[Filter], seen: Looks) -> list[str]:
    """What adding up the shifts the sheets are named for would have said, where that lies
    outside the band."""
    if any(each.measured for each in filters):  # no number is printed on such a sheet
        return []
    low, at, high = (float(each) for each in low_middle_high(seen.filtered.mired))
    by_name = sum(float(shift_mired(white(each.on_k), each.transmittance)) for each in filters)
    added = middle(seen.bare.mired) + by_name
    error = abs(added - at)
    inside = low <= added <= high
    if not (MIRED_WORTH_SAYING <= error < math.inf and added > 0) or inside:
        return []
    return [
        f"Mired arithmetic with the shifts the sheets are named for ({by_name:+.0f}) would say "
        f"{kelvin(added):.0f} K, {error:.0f} mired off: a shift belongs to a "
        "sheet in front of a lamp, not to the sheet."
    ]
