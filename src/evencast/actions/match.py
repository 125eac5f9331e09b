"""`match`: the best stacks from a kit for one light."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from evencast.actions import resolve
from evencast.actions.cautions import WHITE_ALONE, cautions, look_cautions
from evencast.actions.doubt import Looks, light_notes, looks
from evencast.actions.kit import LoadedKit, every_generic, load_kit
from evencast.actions.reading import reading, rounded
from evencast.colour import xy_of_uv
from evencast.filters import Filter
from evencast.lights import Light
from evencast.plan.tolerance import DEFAULT_ALLOWED, Allowed, LightRole
from evencast.quantities import Floats, say_mired
from evencast.results.choice import AimAnswer, Choice, MatchAnswer, Proven, ToleranceAnswer
from evencast.results.light import Band
from evencast.solver import Aim, Evaluated, Search, judge, names_of, reason, search
from evencast.spectra import GRID_NM

if TYPE_CHECKING:  # few aims are looks
    from evencast.lights.looks import Look

DEARER_STOPS = 1.0
"""A next best that costs this much more light is no alternative worth naming."""

NEARER = 0.9
"""Nor is one that misses by more than this share of what the bare light misses by."""


@dataclass(frozen=True, slots=True, eq=False)
class Found:
    """A search with its best stacks in order.

    rows : rows of `search.best`, best first
    """

    search: Search
    rows: list[int]
    filters: list[Filter]
    reason: str

    @property
    def reached(self) -> bool:
        """Whether any stack, the bare light among them, is inside the tolerance."""
        return bool(self.search.best.within.any())

    def stack(self, row: int) -> list[Filter]:
        """The filters of one stack."""
        members = self.search.best.members[row]
        return [self.filters[member] for member in members if member < len(self.filters)]

    def bare_row(self) -> int:
        """The row of the bare light."""
        return _bare(self.search.best)


def match(
    light_text: str,
    *,
    kind: str | None,
    aim_text: str,
    balance: str | None,
    kit: Path | None,
    role: LightRole,
    layers: int,
    most: int,
) -> MatchAnswer:
    """The best `most` stacks of up to `layers` sheets that bring a light to an aim."""
    loaded = load_kit(kit) if kit else every_generic()
    light = resolve.light(light_text, kind)
    aim = resolve.aim(aim_text, balance=balance, kit=loaded if kit else None)
    wanted = resolve.look_in(aim_text)
    minded = look_cautions(wanted) if wanted else []
    allowed = DEFAULT_ALLOWED[role]
    found = find(light, loaded, aim, allowed, layers=layers)

    def told(row: int) -> Choice:
        told = choice(found, row, aim, looks(light, found.stack(row)))
        return replace(told, cautions=[*told.cautions, *minded])

    return MatchAnswer(
        light=light.name,
        kit=loaded.name,
        aim=aim_answer(aim),
        tolerance=tolerance_answer(role, allowed),
        bare=reading(light),
        reached=found.reached,
        choices=[told(row) for row in found.rows[:most]],
        no_filter=told(found.bare_row()),
        reason=found.reason,
        notes=light_notes(light, from_file=resolve.is_path(light_text))
        + _look_notes(wanted)
        + _like_notes(light, resolve.liked_in(aim_text)),
        proven=proven(found, layers),
        searched=found.search.searched,
        problems=list(loaded.problems),
    )


def find(
    light: Light,
    kit: LoadedKit,
    aim: Aim,
    allowed: Allowed,
    *,
    layers: int,
    most_loss_stops: float = np.inf,
) -> Found:
    """Search a kit for one light, with the reason for what comes out best."""
    filters = kit.searched()
    names = [each.name for each in filters]
    sheets = _sheets(filters)

    members = [each.members for each in filters]

    def best_of(depth: int) -> tuple[Search, list[int]]:
        result = search(
            light.power, sheets, aim, allowed, layers=depth, most_loss_stops=most_loss_stops
        )
        judged = judge(result.best, light.members, members, aim, allowed)
        return replace(result, best=judged), [int(row) for row in judged.order()]

    result, rows = best_of(layers)
    sheets_used = int(result.best.layers[rows[0]])
    plainer: tuple[Evaluated, int] | None = None
    if sheets_used > 0:
        others, other_rows = best_of(max(sheets_used - 1, 1))
        plainer = (others.best, other_rows[0] if sheets_used > 1 else _bare(others.best))
    after = following(result.best, rows, plainer, names)
    why = reason(
        result.best, rows[0], names=names, tolerance=allowed, plainer=plainer, following=after
    )
    if light.lacks_colours:
        why = f"{why} {WHITE_ALONE}"
    return Found(search=result, rows=rows, filters=filters, reason=why)


def choice(found: Found, row: int, aim: Aim, seen: Looks) -> Choice:
    """One row of a search as an answer; `seen` is what the light looks like through it."""
    best = found.search.best
    loss_stops = float(best.loss_stops[row])
    return Choice(
        filters=[each.name for each in seen.filters],
        filtered=seen.reading,
        miss_uv=round(float(best.miss_uv[row]), 6),
        residual_mired=rounded(float(best.residual_mired[row]), 3),
        residual_duv=rounded(float(best.residual_duv[row]), 6),
        loss_stops=round(loss_stops, 4) + 0.0,
        within_tolerance=bool(best.within[row]),
        share_within=round(float(best.share_within[row]), 3),
        band=residual_band(seen, aim),
        cautions=cautions(seen.light, seen.filters, loss_stops),
    )


def residual_band(seen: Looks, aim: Aim) -> Band | None:
    """The band against an aim; None where every spectrum is known."""
    if seen.is_known:
        return None
    (cool, warm), (magenta, green) = seen.colour_ends
    residuals: Band = {
        "residual_mired": (rounded(cool - aim.mired, 3), rounded(warm - aim.mired, 3)),
        "residual_duv": (rounded(magenta - aim.duv, 6), rounded(green - aim.duv, 6)),
    }
    return residuals | seen.band


def proven(found: Found, layers: int) -> Proven:
    """What the search proved: every stack was looked at by its nominal spectrum."""
    return Proven(
        objective=round(found.search.objective, 7),
        layers=layers,
        gap=0.0,
        pool=len(found.search.best.members),
    )


@lru_cache(64)
def aim_answer(aim: Aim) -> AimAnswer:
    """An aim as shown; most lights of a plan have the very same."""
    x, y = xy_of_uv(aim.uv)
    return AimAnswer(
        label=aim.label,
        cct_k=rounded(1e6 / aim.mired, 2),
        mired=rounded(aim.mired, 3),
        duv=round(aim.duv, 6),
        x=round(float(x), 6),
        y=round(float(y), 6),
        stops=aim.stops,
    )


def tolerance_answer(role: str, allowed: Allowed) -> ToleranceAnswer:
    """A tolerance as shown."""
    return ToleranceAnswer(role, allowed.mired_low, allowed.mired_high, allowed.duv)


def _look_notes(wanted: Look | None) -> list[str]:
    """What to know of the look that is aimed at."""
    if wanted is None:
        return []
    low, high = wanted.mired_ends
    return [
        f"{wanted.name} is anything from {say_mired(low)} to {say_mired(high)} of the balance "
        f"(common practice, no source); aimed at is the middle. Made by {wanted.how}.",
        *([wanted.note] if wanted.note else []),
    ]


def _like_notes(light: Light, like: Light | None) -> list[str]:
    """What to know where a light shall look like one that lacks colours it has itself."""
    if like is None or not like.lacks_colours or light.lacks_colours:
        return []
    return [
        f"Only the chroma of {like.name} is matched, never its spectrum: it lacks colours that "
        f"{light.name} has, so skin and clothes show more under this light than under that one."
    ]


def _sheets(filters: Sequence[Filter]) -> Floats:
    return np.array([each.transmittance for each in filters]).reshape(-1, len(GRID_NM))


def _bare(found: Evaluated) -> int:
    return int(np.flatnonzero(found.layers == 0)[0])


def following(
    found: Evaluated, rows: Sequence[int], plainer: tuple[Evaluated, int] | None, names: list[str]
) -> int | None:
    """The next best stack, unless it is the best with a sheet added, far dearer, hardly nearer
    than the bare light, or named."""
    best = Counter(names_of(found, rows[0], names))
    named = [] if plainer is None else names_of(plainer[0], plainer[1], names)
    bare_uv = float(found.miss_uv[_bare(found)])
    for row in rows[1:]:
        if found.layers[row] > 0 and found.miss_uv[row] > NEARER * bare_uv:
            continue
        stack = names_of(found, row, names)
        dearer = float(found.loss_stops[row] - found.loss_stops[rows[0]])
        if best - Counter(stack) and stack != named and dearer <= DEARER_STOPS:
            return row
    return None
