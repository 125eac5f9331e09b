"""A spectrum as a small curve, to stand beside words: its shape alone, without axes."""

from __future__ import annotations

from collections.abc import Sequence

from evencast.handouts.charts.spectra import Curve

WIDTH, HEIGHT = 160.0, 48.0
_INSIDE = 2.0


def small_curve(curve: Curve) -> str:
    """A transmittance from 380 nm left to 780 nm right, 0 below to 1 above, its band behind it.

    Drawn in the colour of the words beside it, so that it stands on any ground.
    """
    line = f'<polyline points="{_points(curve.values)}" fill="none" stroke="currentColor" '
    line += 'stroke-width="1.6" vector-effect="non-scaling-stroke"/>'
    band = ""
    if curve.low is not None and curve.high is not None:
        around = f"{_points(curve.high)} {_points(curve.low, backwards=True)}"
        band = f'<polygon points="{around}" fill="currentColor" fill-opacity="0.25"/>'
    floor = f"{HEIGHT - _INSIDE:g}"
    base = f'<path d="M0 {floor}H{WIDTH:g}" stroke="currentColor" stroke-opacity="0.35"/>'
    return (
        f'<svg class="small-curve" viewBox="0 0 {WIDTH:g} {HEIGHT:g}" aria-hidden="true" '
        f'preserveAspectRatio="none">{band}{base}{line}</svg>'
    )


def _points(values: Sequence[float], *, backwards: bool = False) -> str:
    step = WIDTH / max(1, len(values) - 1)
    high = HEIGHT - 2 * _INSIDE
    points = [
        f"{number * step:.0f},{_INSIDE + (1.0 - min(1.0, max(0.0, each))) * high:.1f}"
        for number, each in enumerate(values)
    ]
    return " ".join(reversed(points) if backwards else points)
