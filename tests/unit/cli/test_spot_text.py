from __future__ import annotations

from dataclasses import replace

import pytest

from evencast.cli.spot_text import spots
from tests.spots import told, white_light

SHADOW = {
    "sun": white_light("key", 5500.0, 1600.0),
    "bounce": white_light("fill", 5500.0, 400.0),
    "bench lamp": white_light("practical", 2700.0, 100.0),
    "stair light": white_light("other", 4000.0, 8.0),
}


def lines(shot: float | None = None, **more: object) -> list[str]:
    return spots(list(told(SHADOW, shot=shot, **more).values()))  # type: ignore[arg-type]


def test_a_line_for_each_spot_and_one_for_each_odd_light() -> None:
    """The spot's line tells the light to blame and its cure, that light's own line the rest; a
    light that is white is not listed, and a note that holds for two spots stands once."""
    assert (
        "\n".join(lines(shot=5.6))
        == """
What each spot gets, by role:
  key side   reads 7 mired warm, a trace magenta: outside 5 mired and 0.0015
             Duv; bench lamp pulls it 7 mired warm, a trace magenta: 2/3 stop
             less of it would do; f/10 to f/11; 1 2/3 stop to 2 stops over what
             is set.
             - bench lamp: 5 % of the light, 189 mired warm, clearly magenta by
               itself.
             - stair light: under 1 % of the light, 68 mired warm, clearly
               magenta by itself, pulls it 0 mired: leave it.
  fill side  reads 33 mired warm, clearly magenta: outside 12 mired and 0.003
             Duv; bench lamp pulls it 31 mired warm, clearly magenta: 2 stops
             less of it would do; f/5 to f/5.6; 2 stops under the key side; up
             to 1/3 stop under what is set.
             - bench lamp: 20 % of the light, 189 mired warm, clearly magenta by
               itself.
             - stair light: 2 % of the light, 68 mired warm, clearly magenta by
               itself, pulls it 1 mired warm: leave it.

Know:
  - No spots are given, so they are assumed by role, each light at its level at
    the subject. Write a [[spot]] table for each place that counts, with what
    really falls there.
  - Ratio: 3.15 to 1 as key : fill side, 4.15 to 1 as (key + fill side) : fill
    side."""
    )


def test_a_plan_with_spots_of_its_own_is_not_said_to_be_assumed() -> None:
    """The title says by role only where it is."""
    own = {"name": "her cheek", "role": "fill", "light": [{"name": "bounce", "stops": 0.0}]}
    assert lines()[1] == "What each spot gets, by role:"
    assert lines(spot=[own]) == [
        "",
        "What each spot gets:",
        "  her cheek  reads 0 mired, neutral: inside 12 mired and 0.003 Duv; f/4.5 to",
        "             f/5.",
    ]


def test_no_spot_is_no_line() -> None:
    """Nothing to say."""
    assert spots([]) == []


def test_a_long_name_stands_by_itself() -> None:
    """So that the rest keeps its width."""
    name = "the far corner behind the guillotine"
    own = {"name": name, "role": "fill", "light": [{"name": "bounce", "lux": 400.0}]}
    assert lines(spot=[own])[2:] == [
        f"  {name}",
        f"{' ' * 24}reads 0 mired, neutral: inside 12 mired and 0.003 Duv;",
        f"{' ' * 24}f/4.5 to f/5.",
    ]


@pytest.mark.parametrize(
    ("f_stop", "said"),
    [
        (4.0, "f/4; as set."),
        (8.0, "f/8; 2 stops over what is set."),
        (2.8, "f/2.8; 1 stop under what is set."),
    ],
)
def test_a_stop_beside_the_one_that_is_set(f_stop: float, said: str) -> None:
    """In thirds."""
    own = {"name": "face", "role": "key", "light": [{"name": "sun", "f_stop": f_stop}]}
    assert " ".join(" ".join(lines(shot=4.0, spot=[own])).split()).endswith(said)


@pytest.mark.parametrize(
    ("over", "said"),
    [
        ((0.4, 1.1), "1/3 stop to 1 stop over what is set."),
        ((-1.1, -0.4), "1/3 stop to 1 stop under what is set."),
        ((-1.0, 0.4), "1 stop under to 1/3 stop over what is set."),
        ((0.1, 0.7), "up to 2/3 stop over what is set."),
        ((-0.7, -0.1), "up to 2/3 stop under what is set."),
        ((-0.1, 0.1), "as set."),
    ],
)
def test_a_range_beside_the_stop_that_is_set(over: tuple[float, float], said: str) -> None:
    """Both ends with their side."""
    answer = replace(told(SHADOW)["key side"], over_stops=over)
    text = " ".join(" ".join(spots([replace(answer, lights=[], notes=[])])).split())
    assert text.endswith(said)
