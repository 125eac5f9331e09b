"""Charts of invented numbers, for the tests: any number of lights, names of any kind."""

from __future__ import annotations

from hypothesis import strategies as st

from evencast.handouts.charts import (
    Chart,
    ColoursChart,
    LadderChart,
    LightsChart,
    LossesChart,
    ResidualsChart,
    SpectraChart,
)
from evencast.handouts.charts.colours import PlacedLight
from evencast.handouts.charts.ladder import Rung
from evencast.handouts.charts.losses import SheetPoint
from evencast.handouts.charts.moves import Colour, LightMove
from evencast.handouts.charts.residuals import Residual
from evencast.handouts.charts.spectra import Curve
from evencast.handouts.charts.values import Ends, Tolerance

DATA = "#c04a17"
"""The colour of all data in these charts: no grey of the frame."""

TOLERANCES = (
    Tolerance("key", -5.0, 5.0, 0.0015),
    Tolerance("fill", -12.0, 12.0, 0.003),
    Tolerance("view", -20.0, 20.0, 0.006),
    Tolerance("practical", 0.0, 60.0, 0.003),
)
names = st.one_of(
    st.text(max_size=30),
    st.sampled_from(
        (
            "key",
            "x" * 120,
            "a lamp in the far corner behind the curtain " * 3,
            "مصباح النافذة الكبيرة",
            "北側の大きな窓の光と蛍光灯",
            "שלום 5 lamp",
            "👩\u200d🎤 practical",
            'a & b <c> "d"',
            "\u202eturned\x07",
        )
    ),
)
mireds = st.floats(-600.0, 600.0)
duvs = st.floats(-0.05, 0.05)


def _maybe(values: st.SearchStrategy[float]) -> st.SearchStrategy[float | None]:
    return st.none() | values


def _bands(values: st.SearchStrategy[float]) -> st.SearchStrategy[Ends | None]:
    ends = st.tuples(values, values).map(lambda pair: (min(pair), max(pair)))
    return st.none() | ends | st.tuples(st.none(), st.none())


def _numbered(values: st.SearchStrategy, most: int) -> st.SearchStrategy:
    """A list of functions of a number, each called with its own."""
    return st.lists(values, max_size=most).map(
        lambda made: tuple(each(number) for number, each in enumerate(made, 1))
    )


_colours = st.builds(Colour, mired=_maybe(mireds), duv=_maybe(duvs), fill=st.just(DATA))
_tolerances = st.sampled_from(TOLERANCES)


@st.composite
def lights_charts(draw: st.DrawFn, most: int = 14) -> LightsChart:
    moves = st.builds(
        lambda **told: lambda number: LightMove(number=number, **told),
        name=names,
        bare=_colours,
        hung=st.none() | _colours,
        changed=st.booleans(),
        band_mired=_bands(mireds),
        band_duv=_bands(duvs),
        aim_mired=_maybe(mireds),
        aim_duv=duvs,
        tolerance=_tolerances,
        inside=st.booleans(),
    )
    lights = draw(_numbered(moves, most))
    return LightsChart(draw(names), "4300K", draw(st.floats(1500.0, 20000.0)), lights)


@st.composite
def residuals_charts(draw: st.DrawFn, most: int = 14) -> ResidualsChart:
    lights = st.builds(
        lambda **told: lambda number: Residual(number=number, fill=DATA, **told),
        name=names,
        mired=_maybe(mireds),
        duv=_maybe(duvs),
        band_mired=_bands(mireds),
        band_duv=_bands(duvs),
        tolerance=_tolerances,
        inside=st.booleans(),
        off=st.booleans(),
    )
    return ResidualsChart(draw(names), draw(_numbered(lights, most)))


@st.composite
def losses_charts(draw: st.DrawFn, most: int = 16) -> LossesChart:
    stops = st.floats(0.0, 12.0)
    sheets = st.builds(
        lambda **told: lambda number: SheetPoint(number=number, fill=DATA, **told),
        name=names,
        role=st.sampled_from(("correction", "green", "diffusion", "ND", "effect")),
        shift_mired=_maybe(mireds),
        shift_duv=_maybe(duvs),
        loss_stops=_maybe(stops),
        band_mired=_bands(mireds),
        band_stops=_bands(stops),
    )
    return LossesChart(draw(names), "In front of tungsten.", draw(_numbered(sheets, most)))


_pairs = st.tuples(st.floats(0.01, 0.62), st.floats(0.02, 0.59))


@st.composite
def colours_charts(draw: st.DrawFn, most: int = 14) -> ColoursChart:
    lights = st.builds(
        lambda **told: (
            lambda number: PlacedLight(
                number=number, bare_fill=DATA, fill=DATA, told="3200 K", **told
            )
        ),
        name=names,
        bare=st.none() | _pairs,
        hung=st.none() | _pairs,
    )
    aims = st.tuples(st.floats(30.0, 600.0), duvs, _tolerances)
    return ColoursChart(
        title=draw(names),
        lights=draw(_numbered(lights, most)),
        balance=draw(st.none() | _pairs),
        balance_told="4300 K",
        tolerances=tuple(draw(st.lists(aims, max_size=3))),
        window=draw(st.none() | st.just(((0.18, 0.25), (0.45, 0.52)))),
    )


@st.composite
def ladder_charts(draw: st.DrawFn, most: int = 50) -> LadderChart:
    stops = st.floats(-15.0, 15.0)
    three = st.lists(stops, min_size=3, max_size=3).map(lambda each: tuple(sorted(each)))
    two = st.lists(stops, min_size=2, max_size=2).map(lambda each: tuple(sorted(each)))
    rungs = st.builds(
        lambda **told: lambda number: Rung(number=number, fill=DATA, **told),
        name=names,
        kind=st.sampled_from(("light", "sum", "view")),
        over=three,
        f_number=st.none() | st.just((2.8, 4.0)),
        aim=st.none() | two,
        inside=st.none() | st.booleans(),
    )
    return LadderChart(
        title=draw(names),
        reference=draw(st.sampled_from(("the shot", "a lamp with a long name"))),
        f_number=draw(st.floats(1.0, 22.0)),
        rungs=draw(_numbered(rungs, most)),
        unknown=tuple(draw(st.lists(names, max_size=3))),
        notes=(),
    )


@st.composite
def spectra_charts(draw: st.DrawFn, most: int = 8) -> SpectraChart:
    values = st.lists(st.floats(0.0, 3.0), min_size=81, max_size=81).map(tuple)
    curves = st.builds(
        lambda name, middle, spread: Curve(
            name,
            middle,
            None if spread is None else tuple(each * spread for each in middle),
            None if spread is None else tuple(each / spread for each in middle),
            DATA,
        ),
        names,
        values,
        st.none() | st.floats(0.2, 1.0),
    )
    return SpectraChart(
        title=draw(names),
        quantity=draw(st.sampled_from(("power", "transmittance"))),
        wavelengths_nm=tuple(380.0 + 5.0 * place for place in range(81)),
        curves=tuple(draw(st.lists(curves, max_size=most))),
        scale="Each light bare is 1 at its peak.",
    )


def any_chart() -> st.SearchStrategy[Chart]:
    """A chart of any kind."""
    return st.one_of(
        lights_charts(),
        residuals_charts(),
        losses_charts(),
        colours_charts(),
        ladder_charts(),
        spectra_charts(),
    )
