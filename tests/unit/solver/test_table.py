"""The rows of a scene's programme, held against what they mean for every single choice."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evencast.plan.tolerance import DEFAULT_ALLOWED
from evencast.quantities import Floats
from evencast.solver.left import NOTHING_LEFT
from evencast.solver.options import Options
from evencast.solver.prices import OFF_LEVEL_PER_STOP, TRIM, Weights
from evencast.solver.scene_light import LevelAim, SceneLight, Seen, Trim, Way
from evencast.solver.stacks import Evaluated
from evencast.solver.stock import Cut, Group, Limit
from evencast.solver.table import Table

LAMP: Floats = np.ones(81)
CLEAR = 9
WAYS = (
    Way("leave", LAMP, LAMP[None], 2),
    Way("switch off", LAMP, LAMP[None], 0),
    Way("swap", LAMP, LAMP[None], 2, "bulb", uses=("bulb", 2)),
)


def options(
    ways: Sequence[int],
    stacks: Sequence[tuple[int, ...]],
    losses: Sequence[float],
    views: int = 0,
) -> Options:
    """Options of which nothing counts but their way, stack and loss; each costs its place."""
    count = len(ways)
    members = np.array([[*stack, CLEAR, CLEAR][:2] for stack in stacks])
    none, loss = np.zeros(count), np.array(losses, dtype=float)
    found = Evaluated(
        members=members,
        layers=(members != CLEAR).sum(axis=1),
        miss_uv=none,
        residual_mired=none,
        residual_duv=none,
        loss_stops=loss,
        within=none == 0,
        edge=none,
        share_within=none,
        price_uv=none,
    )
    return Options(
        way=np.array(ways),
        found=found,
        colour=none,
        off=none,
        inside=none == 0,
        cost=np.arange(count, dtype=float),
        level_stops=-loss,
        view_loss_stops=np.tile(loss, (views, 1)),
        left=NOTHING_LEFT,
    )


def light(
    level: LevelAim | None = None, *, trims: int = 0, view: LevelAim | None = None
) -> SceneLight:
    """A light that may be left, switched off or swapped."""
    seen = Seen("view", LAMP, LAMP[None], DEFAULT_ALLOWED["view"], (), view)
    return SceneLight(
        "light",
        DEFAULT_ALLOWED["fill"],
        (),
        WAYS,
        (),
        level=level,
        trims=(Trim(), *(Trim("scrim", 0.5 * n, 2.0) for n in range(1, trims + 1))),
        views=() if view is None else (seen,),
    )


def least(table: Table, rows: Sequence[int], trims: Sequence[int]) -> float | None:
    """What a choice costs with its levels as near as they are; None where the rows forbid it."""
    from scipy.optimize import linprog

    values = np.zeros(len(table.cost))
    columns = table.one_each.toarray()
    for row, place in zip(columns, [*rows, *trims], strict=True):
        values[np.flatnonzero(row)[place]] = 1.0
    whole = np.array(table.whole)
    ends = table.ends()
    matrix = ends.matrix.toarray()
    chosen = columns.any(axis=0)  # the others say which group of a cut stays below its own
    bounds = [
        ((v, v) if c else (0, 1)) if w else (0, None)
        for v, w, c in zip(values, whole, chosen, strict=True)
    ]
    found = linprog(
        table.cost, A_ub=matrix, b_ub=ends.most, bounds=bounds, integrality=whole & ~chosen
    )
    if found.status == 2:
        return None
    read = table.read(found.x)
    assert [*read[0]] == [*rows]
    assert table.cost_of(*read, found.x) == pytest.approx(found.fun)
    return float(found.fun)


def beyond(stops: float, aim: LevelAim) -> float:
    """What a level costs that lies so far over what is wanted."""
    under = max(-stops - aim.allowed_stops, 0.0)
    over = 0.0 if aim.only_under else max(stops - aim.allowed_stops, 0.0)
    return OFF_LEVEL_PER_STOP * (under + over)


LEVELS = st.builds(
    LevelAim,
    over_stops=st.floats(-90, 90),
    wanted_stops=st.floats(-20, 20),
    allowed_stops=st.sampled_from([0.0, 0.25, 1.0]),
    against_key=st.booleans(),
    only_under=st.booleans(),
)
LOSSES = st.lists(st.floats(0, 30), min_size=3, max_size=3)


@settings(max_examples=20)
@given(key=LEVELS, other=LEVELS, view=LEVELS, losses=st.tuples(LOSSES, LOSSES))
def test_levels_cost_what_they_are_off(
    key: LevelAim, other: LevelAim, view: LevelAim, losses: tuple[list[float], list[float]]
) -> None:
    """Of the key, of a light set against it or not, and of the view through that; a light that is
    off, and what is seen through it, costs nothing, however far its level would be off."""
    lights = [light(key, trims=2), light(other, trims=1, view=view)]
    ways = [0, 1, 2]
    stacks: list[tuple[int, ...]] = [(), (), ()]
    every = [options(ways, stacks, losses[0]), options(ways, stacks, losses[1], views=1)]
    table = Table(lights, every, Weights(minutes=0.1), None)
    table.add_levels(0)
    for rows in itertools.product(range(3), repeat=2):
        for trims in itertools.product(range(3), range(2)):
            change = [-losses[n][rows[n]] - 0.5 * trims[n] for n in range(2)]
            expected = float(sum(rows))
            expected += sum((TRIM + 0.1 * 2.0) for trim in trims if trim)
            if rows[0] != 1:
                expected += beyond(key.over_stops + change[0] - key.wanted_stops, key)
            if rows[1] != 1:
                against = change[0] if other.against_key else 0.0
                stops = other.over_stops + change[1] - against - other.wanted_stops
                expected += beyond(stops, other)
                against = change[0] if view.against_key else 0.0
                through = -losses[1][rows[1]] - against
                expected += beyond(view.over_stops + through - view.wanted_stops, view)
            assert least(table, rows, trims) == pytest.approx(expected, abs=1e-5)


STACKS: list[tuple[int, ...]] = [(), (0,), (0, 0), (0, 1)]


def filtered(lights: int) -> Table:
    """Lights that may each take none, one or two of the first sheet, or one with another."""
    every = [options([0] * 4, STACKS, [0.0] * 4) for _ in range(lights)]
    return Table([light()] * lights, every, Weights(), None)


def allowed(table: Table, lights: int, stacks: int) -> set[tuple[int, ...]]:
    """The choices that the rows let stand."""
    every = itertools.product(range(stacks), repeat=lights)
    return {rows for rows in every if least(table, rows, ()) is not None}


def test_a_limit_adds_up_sheets_by_their_weight() -> None:
    """2 for a sheet before the first light, 1 before the second, 3 in all: counted by hand."""
    table = filtered(2)
    table.add_limits([Limit(0, (2.0, 1.0), 3.0)])
    counts = [0, 1, 2, 1]
    assert allowed(table, 2, 4) == {
        rows
        for rows in itertools.product(range(4), repeat=2)
        if 2 * counts[rows[0]] + counts[rows[1]] <= 3
    }


def test_a_cut_forbids_all_of_them_together() -> None:
    """Two sheets before the first light and one before the third; what hangs on the second is
    nothing to it."""
    table = filtered(3)
    table.add_cuts([Cut(0, (Group((0,), 2, 1), Group((2,), 1, 1)))])
    assert allowed(table, 3, 4) == {
        rows
        for rows in itertools.product(range(4), repeat=3)
        if not (STACKS[rows[0]].count(0) >= 2 and STACKS[rows[2]].count(0) >= 1)
    }


def test_a_cut_counts_lights_that_stand_for_each_other() -> None:
    """Not two sheets before one of the first two lights with one before both of the others."""
    table = filtered(4)
    table.add_cuts([Cut(0, (Group((0, 1), 2, 1), Group((2, 3), 1, 2)))])
    taken = [each.count(0) for each in STACKS]
    assert allowed(table, 4, 4) == {
        rows
        for rows in itertools.product(range(4), repeat=4)
        if not (
            max(taken[rows[0]], taken[rows[1]]) >= 2 and min(taken[rows[2]], taken[rows[3]]) >= 1
        )
    }


def test_a_cut_that_no_choice_can_meet_strikes_nothing_out() -> None:
    table = filtered(2)
    table.add_cuts([Cut(0, (Group((0, 1), 3, 1), Group((0, 1), 1, 1)))])
    assert len(allowed(table, 2, 4)) == 16


def test_no_more_is_swapped_in_than_is_at_hand() -> None:
    """Three bulbs serve one light of two lamps, and not two."""
    every = [options([0, 1, 2], [(), (), ()], [0.0] * 3) for _ in range(2)]
    table = Table([light()] * 2, every, Weights(), None)
    table.add_at_hand({"bulb": 3, "never used": 0})
    assert allowed(table, 2, 3) == set(itertools.product(range(3), repeat=2)) - {(2, 2)}


def test_what_is_struck_out_has_no_column() -> None:
    """The rows that are read back are those of all options."""
    every = [options([0] * 4, STACKS, [0.0] * 4)]
    useful = np.array([False, True, False, True])
    table = Table([light()], every, Weights(), [useful])
    assert table.cost == [1.0, 3.0]
    rows, trims = table.read(np.array([0.0, 1.0]))
    assert (rows.tolist(), trims.tolist()) == ([3], [0])
