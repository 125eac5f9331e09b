"""The pool judged by all that sheets and light may be."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from evencast.actions.kit import LoadedKit
from evencast.actions.match import find
from evencast.colour import cie_1931_2deg, mired_duv, uv, uv_of_mired_duv, white_uv
from evencast.filters import Filter, generic, generic_names
from evencast.lights import builtin, builtin_names
from evencast.plan.tolerance import DEFAULT_ALLOWED
from evencast.solver import Evaluated, aim_at_uv, judge, search
from evencast.solver.doubt import Ensemble, judged
from evencast.spectra import MEMBERS, planckian

AIM = aim_at_uv("4300K", white_uv(4300))
ALLOWED = DEFAULT_ALLOWED["fill"]
SEARCHED = [name for name in generic_names() if generic(name).role in ("correction", "green")]


def pool(light: np.ndarray, filters: list[Filter]) -> Evaluated:
    sheets = np.array([each.transmittance for each in filters])
    return search(light, sheets, AIM, ALLOWED, layers=2).best


def test_known_spectra_leave_the_pool_as_it_is() -> None:
    filters = [replace(generic(name), possible=None) for name in ("full CTO", "half CTB")]
    best = pool(builtin("FL2").power, filters)
    light = builtin("FL2").members
    assert judge(best, light, [each.members for each in filters], AIM, ALLOWED) is best


SINGLE_UV, SINGLE_STOPS = 3e-7, 2e-6
"""What single precision may be off: a thousandth of a mired."""


def test_members_all_alike_judge_as_one() -> None:
    """An ensemble of one spectrum many times has the nominal numbers."""
    filters = [generic(name) for name in ("full CTO", "half CTB", "half plus green")]
    best = pool(builtin("FL2").power, filters)
    alike = [np.repeat(each.transmittance[None], MEMBERS, axis=0) for each in filters]
    judged = judge(best, builtin("FL2").members, alike, AIM, ALLOWED)
    np.testing.assert_allclose(judged.miss_uv, best.miss_uv, rtol=0, atol=SINGLE_UV)
    np.testing.assert_allclose(judged.loss_stops, best.loss_stops, rtol=0, atol=SINGLE_STOPS)
    np.testing.assert_array_equal(judged.within, best.within)
    np.testing.assert_array_equal(judged.share_within, best.share_within)
    np.testing.assert_array_equal(judged.order()[:5], best.order()[:5])


@given(
    lamp=st.sampled_from(builtin_names()),
    names=st.lists(st.sampled_from(SEARCHED), min_size=1, max_size=3, unique=True),
)
def test_what_is_told_of_a_stack_is_the_middle_and_mean_of_its_members(
    lamp: str, names: list[str]
) -> None:
    """Against members multiplied here one by one."""
    filters = [generic(name) for name in names]
    light = builtin(lamp).power
    judged = judge(
        pool(light, filters), light[None], [each.members for each in filters], AIM, ALLOWED
    )
    row = int(judged.order()[0])
    through = np.ones((MEMBERS, 81))
    for member in judged.members[row]:
        if member < len(filters):
            through = through * filters[member].members
    at = uv(light * through)
    miss = np.minimum(np.hypot(*(at - AIM.uv).T), 0.1)
    assert abs(judged.miss_uv[row] - miss.mean()) < SINGLE_UV
    luminous = cie_1931_2deg().cmf_grid[:, 1]
    loss = np.sort(-np.log2((light * through) @ luminous / (light @ luminous)))
    below, above = loss[MEMBERS // 2 - 1] - SINGLE_STOPS, loss[MEMBERS // 2] + SINGLE_STOPS
    assert below <= judged.loss_stops[row] <= above
    mired, duv = mired_duv(at)
    inside = ALLOWED.strain(mired - AIM.mired, duv - AIM.duv) <= 1.0
    assert abs(judged.share_within[row] - inside.mean()) <= 1 / MEMBERS


def test_of_two_sheets_alike_by_name_the_measured_one_is_hung() -> None:
    """Same nominal spectrum; of one only the grade is known."""
    known = replace(generic("half CTO"), name="measured", measured=True, possible=None)
    for filters in ((known, generic("half CTO")), (generic("half CTO"), known)):
        found = find(builtin("D65"), LoadedKit("two", filters), AIM, ALLOWED, layers=1)
        assert [each.name for each in found.stack(found.rows[0])] == ["measured"]


def test_a_light_in_doubt_spreads_even_behind_measured_sheets() -> None:
    """Half its members 40 mired warmer: then half of what it may be is inside."""
    sheet = replace(generic("half CTO"), possible=None)
    light = builtin("D65").power
    warmer = light * generic("quarter CTO").transmittance * generic("eighth CTO").transmittance
    members = np.where((np.arange(MEMBERS) % 2 == 0)[:, None], light, warmer)
    best = pool(light, [sheet])
    judged = judge(best, members, [sheet.members], AIM, ALLOWED)
    hung = int(np.flatnonzero(best.layers == 1)[0])
    assert best.within[hung]
    assert judged.share_within[hung] == 0.5


def test_a_side_that_allows_nothing_is_no_cliff() -> None:
    """A lamp in shot may be 0 mired cool: members that are a little cooler count as at the edge
    of the tolerance, not as many tolerances off, and one 15 mired cool as three sides of 5."""
    practical = DEFAULT_ALLOWED["practical"]
    power = planckian(2700.0)
    bare_mired = float(mired_duv(uv(power))[0])

    def edge(off_mired: float) -> float:
        aim = aim_at_uv(
            "a lamp in shot", uv_of_mired_duv(np.array(bare_mired - off_mired), np.zeros(()))
        )
        members = np.repeat(power[None], MEMBERS, axis=0)
        ensemble = Ensemble.of(members, [], np.zeros((1, 0), int))
        found = judged(ensemble, np.zeros((1, 0), int), np.zeros(1, int), aim, practical)
        assert bool(found.within[0]) == (off_mired >= 0)
        assert found.share_within[0] == float(off_mired >= 0)
        return float(found.edge[0])

    np.testing.assert_allclose([edge(30.0), edge(60.0 - 1e-3)], [0.25, 1.0], atol=1e-3)
    np.testing.assert_allclose([edge(-1.0), edge(-4.0), edge(-15.0)], [1.0, 1.0, 9.0], atol=0.02)
