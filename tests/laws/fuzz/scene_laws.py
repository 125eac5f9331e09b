"""What must hold of every solved scene, worked out again from the plan and the kit alone."""

from __future__ import annotations

import json
import math
import re
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from rich.cells import cell_len

from evencast.actions.planned import LoadedPlan
from evencast.cli import as_json, plan_text
from evencast.cutting.count import Piece, fits
from evencast.cutting.pieces import area_m2, pieces_of
from evencast.cutting.stock import stock_of
from evencast.plan.checks.moves import NO_SCRIM
from evencast.plan.light import Light
from evencast.plan.place import folded
from evencast.plan.plan import Plan
from evencast.results.plan import PlannedLight, SolveAnswer

WORST_DUV = 0.03
"""Further off the locus a mired more or less is nothing, and single precision shows."""


@dataclass(frozen=True)
class SolvedPlan:
    """A plan as it was read, and its answer."""

    loaded: LoadedPlan
    answer: SolveAnswer

    def lights(self) -> Iterator[tuple[Light, PlannedLight]]:
        """Every light of the answer beside what the plan says of it."""
        for each in self.answer.lights:
            entry = self.loaded.plan.light_named(each.name)
            assert entry is not None
            yield entry, each

    def pieces(self, entry: Light) -> list[Piece]:
        """One for every opening."""
        return pieces_of(entry, self.loaded.lights[entry.name].fitting)

    @property
    def is_proven(self) -> bool:
        """Whether nothing can be cheaper."""
        return self.answer.proven.gap == 0


def tells_all_in_80_columns(solved: SolvedPlan) -> None:
    """The text fits, and says nothing that no person would say."""
    text = plan_text.solve(solved.answer)
    assert [line for line in text.splitlines() if cell_len(line) > 80] == []
    assert re.findall(r"(?<![\w.])(?:nan|inf|None|-0)(?![\w.])|\[\]", text) == []


def is_json(solved: SolvedPlan) -> None:
    """One object, every number finite, and every word a string."""
    assert json.loads(as_json.dump(solved.answer), parse_constant=_refused)["plan"] == "a scene"


def _refused(constant: str) -> None:
    raise AssertionError(constant)


def is_bounded(solved: SolvedPlan) -> None:
    """The bound is a bound, and what the plan costs is what its parts cost."""
    proven, best = solved.answer.proven, solved.answer.alternatives[0]
    assert proven.bound <= proven.objective + 1e-6
    assert best.name.startswith("best")
    assert best.balance == solved.answer.balance
    assert math.isclose(best.cost, proven.objective, rel_tol=1e-5, abs_tol=2e-3)


def is_cheapest(solved: SolvedPlan) -> None:
    """No other way at a balance that is to choose from costs less."""
    best, *others = solved.answer.alternatives
    least = best.cost * (1 - solved.answer.proven.gap) - 2e-3
    for each in others:
        names = each.name.split(", ")
        compared = all(name.endswith("K") for name in names)
        if not compared or each.balance.label in _free_labels(solved.loaded.plan):
            assert each.cost >= least, each


def _free_labels(plan: Plan) -> set[str]:
    """The balances to choose from without tint."""
    free = plan.camera.balance
    if free.tint_steps and 0 not in free.tint_steps:
        return set()
    ends = (free.low_k, free.high_k) if free.low_k else ()
    between = []
    if free.low_k and free.high_k and free.step_k:
        steps = int((free.high_k - free.low_k) / free.step_k)
        between = [free.low_k + free.step_k * number for number in range(steps + 1)]
    return {f"{k:g}K" for k in (*(free.at_k or ()), free.fixed_k, *ends, *between) if k}


def keeps_to_the_stock(solved: SolvedPlan) -> None:
    """All pieces of every filter that is counted can be cut from what there is."""
    kit = solved.loaded.kit.document
    for sheet in kit.filter if kit else ():
        stock = stock_of(sheet)
        pieces = [
            piece
            for entry, each in solved.lights()
            for piece in solved.pieces(entry) * each.filters.count(sheet.name)
        ]
        assert stock is None or fits(pieces, stock), sheet.name


def counts_what_hangs(solved: SolvedPlan) -> None:
    """Pieces and area, by light and in all."""
    for entry, each in solved.lights():
        pieces = solved.pieces(entry)
        assert each.pieces == len(each.filters) * (len(pieces) or entry.count)
        assert math.isclose(each.area_m2, len(each.filters) * area_m2(pieces), abs_tol=1e-4)
        assert len(each.filters) <= solved.loaded.plan.limits.layers
    answer = solved.answer
    assert answer.pieces == sum(each.pieces for each in answer.lights)
    assert math.isclose(answer.minutes, sum(e.minutes for e in answer.lights), abs_tol=0.06)
    assert answer.alternatives[0].pieces == answer.pieces


def swaps_only_what_is_at_hand(solved: SolvedPlan) -> None:
    """No more bulbs are put in than any of the lights says there are."""
    used: Counter[str] = Counter()
    for entry, each in solved.lights():
        if each.swapped_for is not None:
            used[folded(each.swapped_for)] += max(entry.count, len(solved.pieces(entry)))
    for entry, _ in solved.lights():
        for swap in entry.swap:
            if swap.at_hand is not None:
                assert used[folded(swap.name)] <= swap.at_hand


def does_only_what_is_allowed(solved: SolvedPlan) -> None:
    """Every move is one of the light's, and one that such a light can make."""
    for entry, each in solved.lights():
        made = set(each.move.split(" and ")) - {"leave", "nothing reaches it"}
        assert made <= set(entry.moves), (each.name, each.move)
        if "switch off" in made:
            assert entry.role not in ("key", "view")
        if "scrim" in made:
            assert solved.loaded.lights[entry.name].fitting not in NO_SCRIM
        assert bool(each.filters) == ("filter" in made)
        assert bool(each.scrims) == ("scrim" in made)
        assert (each.dim_stops > 0) == ("dim" in made)
        assert (each.swapped_for is not None) == ("swap" in made)
        if each.dial_k is not None and entry.adjustable is not None:
            assert entry.adjustable.low_k <= each.dial_k <= entry.adjustable.high_k


def looks_as_it_says(solved: SolvedPlan) -> None:
    """The colour that each light has through its sheets lies from its aim as told, and inside is
    inside."""
    for _, each in solved.lights():
        if each.move == "switch off" or each.aim.mired is None:
            continue
        seen = each.filtered
        if seen.duv is not None and abs(seen.duv) > WORST_DUV:
            continue
        if each.residual_mired is None or seen.mired is None or seen.duv is None:
            assert not each.within_tolerance
            continue
        assert each.residual_duv is not None
        assert math.isclose(seen.mired - each.aim.mired, each.residual_mired, abs_tol=0.02)
        assert math.isclose(seen.duv - each.aim.duv, each.residual_duv, abs_tol=2e-5)
        allowed = each.tolerance
        inside = allowed.mired_low - 0.01 <= each.residual_mired <= allowed.mired_high + 0.01
        inside &= abs(each.residual_duv) <= allowed.duv + 1e-6
        assert inside or not each.within_tolerance, each.name
        if inside and each.level_stops is None and not _on_the_edge(each):
            assert each.within_tolerance, each.name


def _on_the_edge(each: PlannedLight) -> bool:
    mired, duv, allowed = each.residual_mired or 0.0, each.residual_duv or 0.0, each.tolerance
    ends = (mired - allowed.mired_low, mired - allowed.mired_high)
    return min(map(abs, ends)) < 0.02 or abs(abs(duv) - allowed.duv) < 2e-6


def tells_of_what_is_off(solved: SolvedPlan) -> None:
    """Every light outside has a warning, none inside has one, and the comparison says the same."""
    best, said = solved.answer.alternatives[0], solved.answer.problems
    lights = solved.answer.lights
    names = {each.name for each in lights}
    off = {each.name for each in lights if not each.within_tolerance and not each.harmless}
    harmless = {each.name for each in lights if each.harmless}
    warned = {
        each.where.partition('light "')[2].rstrip('"')
        for each in said
        if each.message == "the best plan leaves it outside its tolerance"
    }
    assert warned == (set(best.off_colour) | set(best.off_level)) & names
    assert off == warned - harmless
    assert not harmless & set(best.off_colour)
    assert all(each.reason.strip() for each in lights)


def is_like_what_it_shall_be_like(solved: SolvedPlan) -> None:
    """A light inside its tolerance of another looks like it, or it is told that it does not."""
    lights = {folded(each.name): each for each in solved.answer.lights}
    for entry, each in solved.lights():
        other = lights.get(folded(entry.aim.like or ""))
        told = [note for note in each.notes if "atched to" in note]
        if other is None or not each.within_tolerance or each.move == "switch off":
            continue
        if other.move == "switch off":
            assert len(told) == 1
            continue
        ours, theirs = each.filtered, other.filtered
        if ours.mired is None or theirs.mired is None or ours.duv is None or theirs.duv is None:
            continue
        allowed = solved.loaded.plan.allowed(entry.role)
        off_mired, off_duv = ours.mired - theirs.mired, ours.duv - theirs.duv
        like = 1.3 * allowed.mired_low - 0.5 <= off_mired <= 1.3 * allowed.mired_high + 0.5
        like &= abs(off_duv) <= 1.3 * allowed.duv + 2e-4
        assert like or told, each.name


LAWS: tuple[Callable[[SolvedPlan], None], ...] = (
    tells_all_in_80_columns,
    is_json,
    is_bounded,
    is_cheapest,
    keeps_to_the_stock,
    counts_what_hangs,
    swaps_only_what_is_at_hand,
    does_only_what_is_allowed,
    looks_as_it_says,
    tells_of_what_is_off,
    is_like_what_it_shall_be_like,
)
