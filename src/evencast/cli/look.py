"""`look`: what the camera would see, and charts, computed from spectra."""

from __future__ import annotations

import click


@click.group()
def look() -> None:
    """Say and draw what the camera would see.

    Example:  evencast look light tungsten "half CTB" --balance 5600K
    """
