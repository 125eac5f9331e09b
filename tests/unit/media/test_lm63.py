"""Files after IES LM-63: what they say, and the ways in which they are written."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from evencast.media.distribution import candela, total_flux_lm
from evencast.media.lm63 import parse_lm63
from evencast.media.photometry import Opening, Photometry
from tests.photometric_files import Written, cosine, lm63, lopsided

SOUND = lm63(cosine())


def read(text: str | bytes) -> Photometry:
    return parse_lm63(text, where="lamp.ies")


def test_everything_that_a_file_says() -> None:
    """Lamps, lumens, watts, opening, keywords with those carried on, candelas."""
    written = replace(
        cosine(),
        keywords=("[MANUFAC] nobody", "[LUMINAIRE] shed", "[MORE]  lamp", "[_OWN] a", "[_OWN] b"),
        lamps=2,
    )
    light = read(lm63(written))
    assert light.standard == "IES LM-63-2002"
    assert light.name == "shed lamp"
    assert light.keywords == (
        ("MANUFAC", "nobody"),
        ("LUMINAIRE", "shed lamp"),
        ("_OWN", "a"),
        ("_OWN", "b"),
    )
    assert (light.lamps, light.lumens_per_lamp, light.lamp_lm) == (2, 1000.0, 2000.0)
    assert light.input_w == 100.0
    assert light.opening == Opening(0.2, 0.1, 0.0)
    assert light.opening.largest_m == pytest.approx(0.05**0.5)
    assert light.symmetry == "round"
    assert light.tilt is None
    assert light.remarks == ()
    np.testing.assert_array_equal(light.vertical_deg, written.vertical_deg)
    np.testing.assert_array_equal(light.candelas, written.candelas)


@pytest.mark.parametrize(
    "text",
    [
        SOUND.replace("\n", "\r\n"),
        SOUND.replace("\n", "\r"),
        "\n\n  \n" + SOUND,
        "\ufeff" + SOUND,
        SOUND + "\n\n\x1a\n",
        SOUND.replace("TILT=NONE", "  tilt = none  "),
        lm63(cosine(), per_line=1),
        lm63(cosine(), per_line=3),
        lm63(cosine(), per_line=1000),
        lm63(cosine(), separator=","),
        lm63(cosine(), separator=" ,\t "),
        SOUND.upper().replace("SHED LAMP", "shed lamp").replace("NOBODY", "nobody"),
        SOUND.replace("1000", "1.E+03").replace("100\n", "+100.\n"),
    ],
    ids=[
        *("CRLF", "CR", "blank lines first", "byte order mark", "end-of-file mark"),
        *("spaces and lower case", "one a line", "three a line", "all on a line"),
        *("commas", "commas and blanks", "upper case", "exponents and signs"),
    ],
)
def test_layouts_make_no_difference(text: str) -> None:
    """Line breaks anywhere, commas, endings, case: the same light as the plain file."""
    plain = read(SOUND)
    for content in (text, text.encode()):
        light = read(content)
        np.testing.assert_array_equal(light.candelas, plain.candelas)
        np.testing.assert_array_equal(light.vertical_deg, plain.vertical_deg)
        assert light.name == "shed lamp"
        assert light.opening == plain.opening
        assert light.input_w == plain.input_w
        assert light.remarks == ()


def test_bytes_that_are_no_utf_8_are_latin_1() -> None:
    """Names with accents, as older programs write them."""
    assert read(SOUND.replace("shed", "Röhre").encode("latin-1")).name == "Röhre lamp"


@pytest.mark.parametrize(
    ("first_line", "standard", "remarks"),
    [
        ("IESNA91", "IES LM-63-1991", ()),
        ("IESNA:LM-63-1986", "IES LM-63-1986", ()),
        ("IESNA:LM-63-1995", "IES LM-63-1995", ()),
        ("iesna:lm-63-2002", "IES LM-63-2002", ()),
        ("IES:LM-63-2019", "IES LM-63-2019", ("file generation type 1.00000",)),
        ("IES:LM-63-19", "IES LM-63-2019", ("file generation type 1.00000",)),
        (
            "IESNA:LM-63-2008",
            "IES LM-63-2002",
            ("names an edition of 2008, read after LM-63-2002",),
        ),
        (
            "A lamp of 1980",
            "IES LM-63-1986",
            ("no first line names the edition, read after LM-63-1986",),
        ),
    ],
)
def test_editions(first_line: str, standard: str, remarks: tuple[str, ...]) -> None:
    """Each by its first line; without one the oldest, whose lines are plain labels."""
    light = read(lm63(replace(cosine(), first_line=first_line, keywords=("of an old shed",))))
    assert light.standard == standard
    assert light.remarks == remarks
    assert light.name == (first_line if "1980" in first_line else "of an old shed")


@pytest.mark.parametrize(
    ("first_line", "expected", "remarks"),
    [
        ("IESNA91", 2 * 0.9 * 1.1, ()),
        (
            "IESNA:LM-63-1995",
            2 * 0.9,
            ("a factor of 1.1 stands where LM-63-1995 has none: left out",),
        ),
        (
            "IESNA:LM-63-2002",
            2 * 0.9,
            ("a factor of 1.1 stands where LM-63-2002 has none: left out",),
        ),
        ("IES:LM-63-2019", 2 * 0.9, ("file generation type 1.10000",)),
    ],
)
def test_multipliers(first_line: str, expected: float, remarks: tuple[str, ...]) -> None:
    """Candela multiplier and ballast factor always count, the second factor until 1991."""
    written = replace(cosine(), first_line=first_line, multiplier=2.0, factors=(0.9, 1.1))
    light = read(lm63(written))
    np.testing.assert_allclose(light.candelas, written.candelas * expected, rtol=1e-15)
    assert light.remarks == remarks


def test_feet_and_metres() -> None:
    """A foot is 0.3048 m exactly; candelas do not depend on the units."""
    feet = read(lm63(replace(cosine(), units=1, opening=(1.0, 2.0, 0.5))))
    metres = read(lm63(replace(cosine(), units=2, opening=(0.3048, 0.6096, 0.1524))))
    assert feet.opening.width_m == pytest.approx(metres.opening.width_m, rel=1e-12)
    assert feet.opening.length_m == pytest.approx(metres.opening.length_m, rel=1e-12)
    assert feet.opening.height_m == pytest.approx(metres.opening.height_m, rel=1e-12)
    np.testing.assert_array_equal(feet.candelas, metres.candelas)


def test_a_round_opening_has_sizes_below_0() -> None:
    """Its diameter is what near-field cautions go by."""
    light = read(lm63(replace(cosine(), opening=(-0.2, -0.2, 0.0))))
    assert light.opening == Opening(0.2, 0.2, 0.0, is_round=True)
    assert light.opening.largest_m == 0.2


def test_absolute_photometry() -> None:
    """-1 lumens: no rated flux; 0 is taken as not given."""
    light = read(lm63(replace(cosine(), lumens=-1.0)))
    assert (light.lumens_per_lamp, light.lamp_lm) == (None, None)
    assert light.remarks == ("absolute photometry",)
    assert total_flux_lm(light) == total_flux_lm(read(SOUND))
    nothing = read(lm63(replace(cosine(), lumens=0.0)))
    assert nothing.lumens_per_lamp is None
    assert nothing.remarks == ("lumens per lamp are 0, taken as not given",)


def test_watts_of_0_are_not_given() -> None:
    """None, not a light that draws nothing."""
    assert read(lm63(replace(cosine(), watts=0.0))).input_w is None


def test_a_tilt_table() -> None:
    """Kept beside the candelas, joined by straight lines, held beyond its ends."""
    light = read(lm63(replace(cosine(), tilt="TILT=INCLUDE\n2\n3\n0 45 90\n1.0 0.96 0.9")))
    assert light.tilt is not None
    assert light.tilt.lamp == 2
    for tilt_deg, factor in ((0.0, 1.0), (30.0, 0.9733333333), (90.0, 0.9), (120.0, 0.9)):
        assert light.tilt.factor(tilt_deg) == pytest.approx(factor, abs=1e-9)
    np.testing.assert_array_equal(light.candelas, read(SOUND).candelas)


FULL = lopsided(np.arange(0.0, 361.0, 15.0), turn_deg=0.0)
SIDEWAYS = lopsided(np.arange(0.0, 361.0, 15.0), turn_deg=90.0)


def part(whole: Written, low: float, high: float) -> str:
    keep = (whole.planes_deg >= low) & (whole.planes_deg <= high)
    return lm63(replace(whole, planes_deg=whole.planes_deg[keep], candelas=whole.candelas[keep]))


@pytest.mark.parametrize(
    ("whole", "low", "high", "symmetry"),
    [
        (FULL, 0, 180, "halves about 0-180"),
        (SIDEWAYS, 90, 270, "halves about 90-270"),
        (FULL, 0, 360, "none"),
    ],
)
def test_halves_make_the_whole(whole: Written, low: float, high: float, symmetry: str) -> None:
    """The mirrored planes are those of the full file."""
    light = read(part(whole, low, high))
    assert light.symmetry == symmetry
    np.testing.assert_array_equal(light.horizontal_deg, whole.planes_deg)
    np.testing.assert_allclose(light.candelas, whole.candelas, rtol=1e-12)


def test_quarters_make_the_whole() -> None:
    """0 to 90 mirrored about both planes."""
    across = np.cos(np.radians(FULL.planes_deg)) ** 2
    whole = replace(FULL, candelas=100 + across[:, None] * FULL.candelas[:1])
    light = read(part(whole, 0, 90))
    assert light.symmetry == "quarters"
    np.testing.assert_array_equal(light.horizontal_deg, whole.planes_deg)
    np.testing.assert_allclose(light.candelas, whole.candelas, rtol=1e-12)


def test_a_last_plane_left_out_is_the_first() -> None:
    """0 to 345 in steps of 15 closes at 360, and says so."""
    light = read(part(FULL, 0, 345))
    np.testing.assert_allclose(light.candelas, FULL.candelas, rtol=1e-12)
    assert light.remarks == ("the last plane is at 345; at 360 it is that of 0 again",)


def test_ends_of_the_round_a_hair_off() -> None:
    """A plane at -1e-9 is that of 0, one at 360 and a hair that of 360."""
    planes = np.array([-1e-9, 90.0, 200.0, 360.0 - 1e-9])
    light = read(lm63(replace(lopsided(planes), planes_deg=planes)))
    assert light.horizontal_deg.tolist() == [0.0, 90.0, 200.0, 360.0]


def test_one_plane_elsewhere_and_a_short_vertical() -> None:
    """Read, and said."""
    written = cosine(vertical_deg=np.arange(0.0, 46.0, 5.0))
    light = read(lm63(replace(written, planes_deg=np.array([45.0]))))
    assert light.remarks == (
        "the vertical angles end at 45, beyond which it is taken as dark",
        "one plane, at 45: taken as the same all round",
    )
    assert candela(light, 46.0, 0.0) == 0.0
    assert candela(light, 45.0, 123.0) == pytest.approx(1000 * 0.5**0.5)


def test_a_light_that_points_up() -> None:
    """90 to 180: dark below."""
    written = replace(cosine(), vertical_deg=cosine().vertical_deg + 90.0)
    light = read(lm63(written))
    assert candela(light, 89.0, 0.0) == 0.0
    assert candela(light, 90.0, 0.0) == 1000.0
