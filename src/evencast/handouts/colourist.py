"""What the colourist's sheet says."""

from __future__ import annotations

from dataclasses import dataclass

LAYOUT = "colourist"

COLUMNS = (
    "plan",
    "setup",
    "date",
    "balance_k",
    "balance_duv",
    "exposure_index",
    "frames_per_s",
    "exposure_s",
    "stop_f_number",
    "light_number",
    "light",
    "role",
    "intended",
    "intended_offset_mired",
    "intended_offset_duv",
    "move",
    "filters",
    "frost",
    "scrims",
    "dial_k",
    "dim_stops",
    "swapped_for",
    "cct_k",
    "duv",
    "residual_mired",
    "residual_mired_low",
    "residual_mired_high",
    "residual_duv",
    "residual_duv_low",
    "residual_duv_high",
    "tolerance_mired_low",
    "tolerance_mired_high",
    "tolerance_duv",
    "within_tolerance",
    "harmless",
    "share_within",
    "loss_stops",
    "level_stops",
    "against_key_stops",
    "over_shot_stops",
    "camera_residual_rg_stops",
    "camera_residual_bg_stops",
    "rigged",
    "rigged_filters",
    "rigged_residual_mired",
    "rigged_residual_duv",
    "rigged_within_tolerance",
    "read",
    "read_cct_k",
    "read_duv",
    "read_residual_mired",
    "read_residual_duv",
    "read_time",
    "read_sky",
    "read_frame",
)
"""Of colourist.csv; `docs/hand-outs.md` says what is in each. New ones come at the end."""


@dataclass(frozen=True, slots=True)
class ColouristLight:
    """One light in one set-up.

    role   : what it does
    meant  : neutral, or the offset from the balance that is intended, in words
    offset : the same in mired and Duv; "" for neutral
    hangs  : what stands in front of it and how it is set
    left   : what it is off its aim with what hangs, in words, with its doubt; "" where not known
    camera : R/G and B/G of the plan's own camera, as planned; "" where they are not known
    inside : whether that is inside its tolerance, and how sure
    level  : against the key, in stops; "" where it is not known
    read   : what was read of it as it hung, and what that leaves; "" where nothing was
    """

    number: int
    name: str
    role: str
    meant: str
    offset: str
    hangs: str
    left: str
    camera: str
    inside: str
    level: str
    read: str


@dataclass(frozen=True, slots=True)
class ColouristFrame:
    """A frame with the card in it.

    frame : its name as noted
    light : number and name
    when  : time with its offset from UTC, and the sky
    """

    frame: str
    light: str
    when: str


@dataclass(frozen=True, slots=True)
class ColouristSetup:
    """One set-up.

    name    : of the set-up; "" for the plan itself
    facts   : names and what belongs to them: balance, exposure index, shutter, stop
    told    : that there is no light, in a sentence; "" where there is one
    spots   : name, and what falls there together
    views   : name, and how it is seen
    notes   : what to know of the numbers
    """

    name: str
    facts: list[tuple[str, str]]
    told: str
    lights: list[ColouristLight]
    spots: list[tuple[str, str]]
    views: list[tuple[str, str]]
    frames: list[ColouristFrame]
    notes: list[str]


@dataclass(frozen=True, slots=True)
class Colourist:
    """The sheet of a job."""

    plan: str
    setups: list[ColouristSetup]
