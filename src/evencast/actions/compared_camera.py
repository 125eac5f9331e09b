"""What differs between two plans in the camera, the kit and the place."""

from __future__ import annotations

import math
from collections.abc import Iterator

from evencast.actions.compared_words import both, more_or_less, plain
from evencast.actions.flicker import say_time
from evencast.actions.stage import Stage
from evencast.actions.standing import MET_STOPS
from evencast.actions.taking import Taking
from evencast.plan.plan import Balance, Camera
from evencast.quantities import mired, say_mired
from evencast.results.compare import Difference


def of_camera(old: Stage, new: Stage) -> Iterator[Difference]:
    """What differs in the camera, the kit and the place."""
    was, now = old.loaded.plan, new.loaded.plan
    yield from _balance(_stands_at(old), _stands_at(new))
    yield from _exposure(old, new)
    yield from plain("frames", _frames(old.camera), _frames(new.camera), "set {}")
    yield from plain("sensitivity", was.camera.sensitivity, now.camera.sensitivity, "take {}")
    yield from plain("kit", old.loaded.kit.name, new.loaded.kit.name, "take {}")
    yield from plain("mains", f"{was.mains_hz} Hz", f"{now.mains_hz} Hz", None)


def _balance(old: Balance, new: Balance) -> Iterator[Difference]:
    was, now = _balance_words(old), _balance_words(new)
    if was == now:
        return
    by = (
        None
        if old.fixed_k is None or new.fixed_k is None
        else mired(new.fixed_k) - mired(old.fixed_k)
    )
    told = "" if by is None or round(by) == 0 else f"the picture {say_mired(-by)}er"
    by_duv = None if old.duv is None or new.duv is None else round(new.duv - old.duv, 6)
    yield Difference(
        "balance",
        was,
        now,
        told,
        mired=None if by is None else round(by, 3),
        duv=by_duv,
        back=f"balance at {was}",
    )


def _stands_at(stage: Stage) -> Balance:
    """The balance in its set-up, else the plan's."""
    setup = stage.setup
    if setup is None or setup.balance_k is None:
        return stage.loaded.plan.camera.balance
    return Balance(fixed_k=setup.balance_k, duv=setup.balance_duv)


def _balance_words(balance: Balance) -> str:
    if balance.from_card_under is not None:
        return f"a card under {balance.from_card_under}"
    if balance.fixed_k is not None:
        duv = "" if balance.duv is None else f", Duv {balance.duv:+.4f}"
        return f"{balance.fixed_k:g} K{duv}"
    if balance.low_k is not None and balance.high_k is not None:
        return f"{balance.low_k:g} to {balance.high_k:g} K"
    return f"{', '.join(f'{each:g}' for each in balance.at_k or ())} K"


def _exposure(old: Stage, new: Stage) -> Iterator[Difference]:
    """Index, shutter and stop, each in stops of exposure, and all together where they add up."""
    was, now = old.loaded.plan.camera, new.loaded.plan.camera
    parts = [
        (
            "index",
            f"{was.exposure_index:g}",
            f"{now.exposure_index:g}",
            math.log2(now.exposure_index / was.exposure_index),
        ),
        (
            "shutter",
            say_time(old.camera.time_s),
            say_time(new.camera.time_s),
            math.log2(new.camera.time_s / old.camera.time_s),
        ),
        ("stop", _stop(was), _stop(now), _by_stop(was, now)),
    ]
    differing = [each for each in parts if each[1] != each[2]]
    for what, before, after, by in differing:
        yield Difference(
            what,
            before,
            after,
            "" if by is None else _exposed(by),
            stops=both(by),
            back=None if before is None else f"set {before}",
        )
    amounts = [by for _, _, _, by in differing]
    if len(amounts) > 1 and all(by is not None for by in amounts):
        total = sum(by for by in amounts if by is not None)
        yield Difference("in all", None, None, _exposed(total), stops=both(total))


def _exposed(stops: float) -> str:
    """More or less exposure, in words."""
    if abs(stops) < MET_STOPS / 2:
        return "the same exposure"
    return f"{more_or_less((stops, stops))} exposure"


def _stop(camera: Camera) -> str | None:
    if camera.t_stop is not None:
        return f"T{camera.t_stop:g}"
    return None if camera.f_stop is None else f"f/{camera.f_stop:g}"


def _by_stop(old: Camera, new: Camera) -> float | None:
    """New minus old; None between a T-stop and an f-stop, which the lens alone could tell."""
    for was, now in ((old.t_stop, new.t_stop), (old.f_stop, new.f_stop)):
        if was is not None and now is not None:
            return -2.0 * math.log2(now / was)
    return None


def _frames(camera: Taking) -> str:
    return f"{camera.frames_per_s:g} a second"
