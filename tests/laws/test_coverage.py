"""Does the band hold the truth? Sheets of other families, known by rounded numbers alone.

Nine in ten is what a band of 5 to 95 percent promises. Measured: how often it holds the
shift, the green and the loss of the true sheet on lamps other than the one it is declared
on, and how wide it is. The few settings of the ensemble were chosen with other seeds.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache

import numpy as np
import pytest

from evencast.colour import low_middle_high, mired_duv, spread_of_power, uv
from evencast.filters.declared import KelvinDeclaration, from_kelvin
from evencast.lights import light_of
from evencast.quantities import Floats
from tests.sheets import FAMILIES, Sheet, sheets

LAMPS = {
    "Planckian and daylight": ("2800K", "3000K", "3200K", "3400K", "D55", "D65"),
    "LED": ("LED-B1", "LED-B3", "LED-B5", "LED-V1"),
    "fluorescent": ("FL2", "FL4", "FL11"),
    "high-pressure": ("HP1", "HP3"),
}
QUANTITIES = ("mired", "duv", "stops", "uv")
SAME_LIGHT_MIRED = 3.0

WIDEST_HALF = {
    "mired": (7.5, 9.9, 12.15, 11.7),
    "duv": (0.0027, 0.0027, 0.0032, 0.0020),
    "stops": (0.165, 0.165, 0.165, 0.173),
}
"""Half the 5 to 95 percent width, by class of lamp, that a band may have in the median. Mired
and Duv: half as wide again as 300 spectra of dyes were in an experiment where the sheet is
known to 50 K, 0.002 Duv and 1/6 stop. Loss: the rounding alone leaves 0.150, to which a
tenth may be added."""


@dataclass
class Tally:
    """Whether the truth was inside, and how wide the band was, by (family, class, quantity)."""

    inside: dict[tuple[str, str, str], list[bool]] = field(
        default_factory=lambda: defaultdict(list)
    )
    half_width: dict[tuple[str, str], list[float]] = field(
        default_factory=lambda: defaultdict(list)
    )

    def share(
        self, quantity: str, *, lamps: str | None = None, families: tuple[str, ...] = FAMILIES
    ) -> float:
        """Share of cells inside the band."""
        cells = [
            hit
            for (family, of_lamps, of), hits in self.inside.items()
            if of == quantity and family in families and lamps in (None, of_lamps)
            for hit in hits
        ]
        return float(np.mean(cells))


@cache
def members_of(declared: KelvinDeclaration) -> Floats:
    """The spectra that fit the declaration; the key knows nothing of the truth."""
    return from_kelvin(declared, key=str(declared), where="kelvin").possible


def tally(truths: list[Sheet]) -> Tally:
    """Every true sheet on every lamp but its reference light."""
    counted = Tally()
    for sheet in truths:
        reference = 1e6 / sheet.declared.from_k
        for lamps, power in every_lamp():
            if abs(float(mired_duv(uv(power))[0]) - reference) < SAME_LIGHT_MIRED and lamps in (
                "Planckian and daylight",
            ):
                continue
            count_cell(counted, sheet, lamps, power)
    return counted


@cache
def lamp(name: str) -> Floats:
    return light_of(name).power


def every_lamp() -> Iterator[tuple[str, Floats]]:
    for lamps, names in LAMPS.items():
        for name in names:
            yield lamps, lamp(name)


def count_cell(counted: Tally, sheet: Sheet, lamps: str, power: Floats) -> None:
    """One sheet on one lamp: each quantity inside or not; without a CCT the place in u, v."""
    bare = spread_of_power(power[None])
    true = spread_of_power((power * sheet.transmittance)[None])
    may = spread_of_power(power * members_of(sheet.declared))

    def inside(quantity: str, hit: bool) -> None:
        counted.inside[sheet.family, lamps, quantity].append(hit)

    cells = {
        "stops": (-np.log2(true.luminous / bare.luminous), -np.log2(may.luminous / bare.luminous)),
    }
    has_cct = np.isfinite(true.mired).all() and np.isfinite(low_middle_high(may.mired)).all()
    if has_cct:
        cells["mired"] = (true.mired - bare.mired, may.mired - bare.mired)
        cells["duv"] = (true.duv - bare.duv, may.duv - bare.duv)
    else:
        centre = may.uv.mean(axis=0)
        away = np.hypot(*(may.uv - centre).T)
        inside("uv", bool(np.hypot(*(true.uv[0] - centre)) <= np.sort(away)[int(0.9 * len(away))]))
    for quantity, (truth, values) in cells.items():
        low, _, high = low_middle_high(values)
        inside(quantity, bool(low <= truth[0] <= high))
        if sheet.grade.name != "double CTB":
            counted.half_width[lamps, quantity].append(float(high - low) / 2.0)


@pytest.fixture(scope="module", params=[3, pytest.param(25, marks=pytest.mark.long)])
def counted(request: pytest.FixtureRequest) -> Tally:
    found = tally(sheets(each=request.param, seed=20261125))
    for quantity in QUANTITIES:
        told = [
            f"{lamps} {found.share(quantity, lamps=lamps):.1%}"
            for lamps in LAMPS
            if quantity != "uv"
        ]
        print(f"{quantity}: inside {found.share(quantity):.1%}; {', '.join(told)}")
    for quantity in WIDEST_HALF:
        told = [f"{lamps} {np.median(found.half_width[lamps, quantity]):.4g}" for lamps in LAMPS]
        print(f"{quantity}: median half-width {', '.join(told)}")
    return found


@pytest.mark.parametrize("quantity", QUANTITIES)
def test_the_band_holds_the_truth_about_nine_times_in_ten(counted: Tally, quantity: str) -> None:
    """Pooled over families and lamps: 88 to 99 %. Cells without a CCT are few and far out."""
    share = counted.share(quantity)
    assert 0.88 <= share <= (1.0 if quantity == "uv" else 0.99), f"{quantity} {share:.3f}"


@pytest.mark.parametrize("lamps", LAMPS)
@pytest.mark.parametrize("quantity", ["mired", "duv", "stops"])
def test_no_class_of_lamp_is_let_down(counted: Tally, quantity: str, lamps: str) -> None:
    share = counted.share(quantity, lamps=lamps)
    assert share >= 0.80, f"{quantity} on {lamps} {share:.3f}"


@pytest.mark.parametrize("quantity", WIDEST_HALF)
def test_the_band_is_no_wider_than_it_must_be(counted: Tally, quantity: str) -> None:
    for lamps, widest in zip(LAMPS, WIDEST_HALF[quantity], strict=True):
        median = float(np.median(counted.half_width[lamps, quantity]))
        assert median <= widest, f"{quantity} on {lamps} {median:.4f}"


@pytest.mark.parametrize("quantity", ["mired", "duv", "stops"])
def test_a_rougher_family_is_let_down_a_little(quantity: str) -> None:
    """Dyes with long tails at random places, some but 60 nm wide: such a sheet is inside in
    five of six cells, not in nine of ten. The ranges of the ensemble's own dyes were widened
    once after a look at this family, with another seed."""
    apart = tally(sheets(each=4, seed=12, families=("tails",)))
    share = apart.share(quantity, families=("tails",))
    print(f"{quantity}: inside {share:.1%}")
    assert share >= 0.80, f"{quantity} {share:.3f}"


def test_ideal_mired_filters_are_of_another_kind() -> None:
    """Wien shapes do not keep green as dyes do and are no sheet that can be bought: reported
    apart. Their mired shift is inside in three of four cells at least."""
    apart = tally(sheets(each=3, seed=7, families=("Wien",)))
    share = apart.share("mired", families=("Wien",))
    print(f"mired: inside {share:.1%}")
    assert share >= 0.75, f"{share:.3f}"
