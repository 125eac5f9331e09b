"""Files in EULUMDAT: against their LM-63 twins, against a library, and refused in words."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from pyldt import Ldt, LdtHeader, LdtReader, LdtWriter

from evencast.errors import EvencastError
from evencast.media.distribution import candela, peak, spread, total_flux_lm
from evencast.media.eulumdat import parse_eulumdat
from evencast.media.lm63 import parse_lm63
from evencast.media.photometry import Opening, Photometry
from tests.photometric_files import ALL_DEG, Written, WrittenLdt, eulumdat, lm63, lopsided

PLANES = np.arange(0.0, 360.0, 15.0)
CLOSED = np.append(PLANES, 360.0)
LUMENS = 2500.0
CUT = "Get the whole file again: it is cut short."
EXPORT = "Export the file again from where it came."


def read(text: str | bytes) -> Photometry:
    return parse_eulumdat(text, where="lamp.ldt")


def evenly(planes_deg: np.ndarray, vertical_deg: np.ndarray) -> Written:
    """Alike in all four quarters."""
    whole = lopsided(planes_deg, vertical_deg=vertical_deg)
    across = np.cos(np.radians(planes_deg)) ** 2
    one = lopsided(np.zeros(1), vertical_deg=vertical_deg).candelas
    return replace(whole, candelas=100 + across[:, None] * one)


def round_light(planes_deg: np.ndarray, vertical_deg: np.ndarray) -> Written:
    """Alike all round."""
    one = lopsided(np.zeros(1), vertical_deg=vertical_deg)
    return replace(
        one, planes_deg=planes_deg, candelas=np.repeat(one.candelas, len(planes_deg), axis=0)
    )


def whole_light(
    symmetry: int, planes_deg: np.ndarray, vertical_deg: np.ndarray = ALL_DEG
) -> Written:
    """An invented light of each symmetry, all its planes."""
    if symmetry in (1, 4):
        return (round_light if symmetry == 1 else evenly)(planes_deg, vertical_deg)
    turn_deg = {0: 30.0, 2: 0.0, 3: 90.0}[symmetry]
    return lopsided(planes_deg, vertical_deg=vertical_deg, turn_deg=turn_deg)


def held(symmetry: int) -> np.ndarray:
    """The planes that EULUMDAT stores, as it orders them."""
    quarter = len(PLANES) // 4
    return {
        0: PLANES,
        1: PLANES[:1],
        2: PLANES[: 2 * quarter + 1],
        3: np.append(PLANES[3 * quarter :], PLANES[: quarter + 1]),
        4: PLANES[: quarter + 1],
    }[symmetry]


def twin(symmetry: int, **changes: object) -> tuple[WrittenLdt, Written]:
    """One light twice: per 1000 lumens in EULUMDAT, candelas in LM-63."""
    whole = whole_light(symmetry, CLOSED)
    values = whole_light(symmetry, held(symmetry)).candelas * (1000 / LUMENS)
    ldt = WrittenLdt(whole.vertical_deg, PLANES, values, symmetry=symmetry, lumens=LUMENS)
    return replace(ldt, **changes), replace(whole, lumens=LUMENS)  # type: ignore[arg-type]


@pytest.mark.parametrize("symmetry", range(5))
def test_twins_agree(symmetry: int) -> None:
    """Flux and every candela within 0.5 percent, in between too; beams within 0.1 degrees."""
    ldt, ies = twin(symmetry)
    ours, other = read(eulumdat(ldt)), parse_lm63(lm63(ies), where="lamp.ies")
    assert total_flux_lm(ours) == pytest.approx(total_flux_lm(other), rel=0.005)
    vertical, round_ = np.meshgrid(np.arange(0.0, 180.5, 2.5), np.arange(0.0, 360.0, 7.5))
    np.testing.assert_allclose(
        candela(ours, vertical, round_), candela(other, vertical, round_), rtol=0.005
    )
    for share in (0.5, 0.1):
        found, expected = spread(ours, share=share), spread(other, share=share)
        assert found.along_deg == pytest.approx(expected.along_deg, abs=0.1)
        assert found.across_deg == pytest.approx(expected.across_deg, abs=0.1)
    assert peak(ours).candela == pytest.approx(peak(other).candela, rel=0.005)
    assert ours.lumens_per_lamp == other.lumens_per_lamp == LUMENS
    assert ours.input_w == other.input_w == 100.0
    assert ours.opening.largest_m == pytest.approx(other.opening.largest_m, rel=0.005)


@pytest.mark.parametrize("symmetry", range(5))
def test_twins_on_other_angles_agree_in_flux(symmetry: int) -> None:
    """Planes every 15 degrees and steps of 5 here, 5 and 1 there: within 0.5 percent."""
    ours = read(eulumdat(twin(symmetry)[0]))
    finer = whole_light(symmetry, np.arange(0.0, 361.0, 5.0), np.arange(181.0))
    other = total_flux_lm(parse_lm63(lm63(finer), where="lamp.ies"))
    print(f"flux against the finer twin: {total_flux_lm(ours) / other - 1:+.2e}")
    assert total_flux_lm(ours) == pytest.approx(other, rel=0.005)


@pytest.mark.parametrize("symmetry", range(5))
def test_a_library_reads_the_same(symmetry: int, tmp_path: Path) -> None:
    """Every value of every plane as eulumdat-py expands them."""
    text = eulumdat(twin(symmetry)[0])
    path = tmp_path / "lamp.ldt"
    path.write_bytes(text.encode())
    library = LdtReader.read(path)
    ours = read(text)
    expected = np.array(library.intensities) * (LUMENS / 1000)
    found = candela(ours, np.array(library.header.g_angles), PLANES[:, None])
    np.testing.assert_allclose(found, expected, rtol=1e-12)


@pytest.mark.parametrize("symmetry", range(5))
def test_what_a_library_writes_is_read(symmetry: int, tmp_path: Path) -> None:
    """A file by eulumdat-py, six decimals to each number."""
    whole = whole_light(symmetry, PLANES)
    header = LdtHeader(
        luminaire_name="shed lamp",
        isym=symmetry,
        mc=len(PLANES),
        dc=15.0,
        ng=len(whole.vertical_deg),
        dg=5.0,
        n_sets=1,
        num_lamps=[2],
        lamp_types=["bulb"],
        lamp_flux=[LUMENS],
        lamp_cct=["3200"],
        lamp_cri=["1A"],
        lamp_watt=[1000.0],
        c_angles=PLANES.tolist(),
        g_angles=whole.vertical_deg.tolist(),
        length_lum_area=80.0,
    )
    path = LdtWriter.write(Ldt(header, whole.candelas.tolist()), tmp_path / "lamp.ldt")
    light = read(path.read_bytes())
    assert light.name == "shed lamp"
    assert (light.lamps, light.lumens_per_lamp, light.input_w) == (2, LUMENS / 2, 1000.0)
    assert light.opening == Opening(0.08, 0.08, 0.0, is_round=True)
    found = candela(light, whole.vertical_deg, PLANES[:, None])
    np.testing.assert_allclose(found, whole.candelas * (LUMENS / 1000), rtol=0, atol=2e-6)


def test_layouts_make_no_difference() -> None:
    """Decimal commas, any line ending, a byte order mark, several numbers to a line."""
    ldt, _ = twin(4)
    plain = read(eulumdat(ldt))
    packed = eulumdat(ldt, end="\n").split("\n")
    table = [*packed[:32], " ".join(packed[32:50]), *packed[50:]]
    for text in (
        eulumdat(ldt, mark=","),
        eulumdat(ldt, end="\n"),
        eulumdat(ldt, end="\r"),
        "\ufeff" + eulumdat(ldt) + "\r\n\r\n\x1a",
        "\n".join(table),
    ):
        light = read(text)
        np.testing.assert_array_equal(light.candelas, plain.candelas)
        assert light.opening == plain.opening
        assert light.remarks == ()


def test_factor_sets_and_absolute_photometry() -> None:
    """The conversion factor counts; the first set of several; lamps below 0 are absolute."""
    plain = read(eulumdat(twin(1)[0]))
    doubled = read(eulumdat(twin(1, factor=2.0)[0]))
    np.testing.assert_allclose(doubled.candelas, 2 * plain.candelas, rtol=1e-15)
    sets = read(eulumdat(twin(1, sets=3, lamps=-1)[0]))
    np.testing.assert_array_equal(sets.candelas, plain.candelas)
    assert (sets.lamps, sets.lumens_per_lamp, sets.lamp_lm) == (1, None, None)
    assert sets.remarks == ("3 sets of lamps, the first one taken", "absolute photometry")


SMALL = WrittenLdt(
    np.array([0.0, 45.0, 90.0]), np.array([0.0]), np.array([[9.0, 5.0, 0.5]]), symmetry=1
)
SOUND = eulumdat(SMALL, end="\n")


def changed(line: int, text: str) -> str:
    lines = SOUND.split("\n")
    lines[line - 1] = text
    return "\n".join(lines)


REFUSED = {
    "nothing": (
        "",
        "the file ends too soon: line 3, the symmetry, is missing",
        "lamp.ldt, line 1",
        CUT,
    ),
    "symmetry": (
        changed(3, "5"),
        '"5" is no symmetry',
        "lamp.ldt, line 3",
        f"A number from 0 to 4 belongs here. {EXPORT}",
    ),
    "half a plane": (
        changed(4, "1.5"),
        '"1.5" is no number of C planes',
        "lamp.ldt, line 4",
        f"A whole number from 1 to 10000 belongs here. {EXPORT}",
    ),
    "a billion planes": (
        changed(4, "1e9"),
        '"1e9" is no number of C planes',
        "lamp.ldt, line 4",
        f"A number from 1 to 10000 belongs here. {EXPORT}",
    ),
    "more planes than there are": (
        changed(4, "9000"),
        "the file ends too soon: 9000 C planes belong here, 7 numbers are left",
        "lamp.ldt, line 49",
        "Get the whole file again: it is cut short, or its counts are wrong.",
    ),
    "no lamps": (
        changed(27, "0"),
        "there are 0 lamps in the first set",
        "lamp.ldt, line 27",
        "Give the number of lamps, below 0 for absolute photometry.",
    ),
    "no flux": (
        changed(29, ""),
        '"" is no flux of the lamps',
        "lamp.ldt, line 29",
        f"A number from 1e-06 to 1e+09 belongs here. {EXPORT}",
    ),
    "factor": (
        changed(24, "-1"),
        '"-1" is no conversion factor',
        "lamp.ldt, line 24",
        f"A number from 1e-09 to 1e+09 belongs here. {EXPORT}",
    ),
    "cut in the head": (
        "\n".join(SOUND.split("\n")[:20]),
        "the file ends too soon: line 24, the conversion factor, is missing",
        "lamp.ldt, line 20",
        CUT,
    ),
    "cut in the values": (
        SOUND[: SOUND.rindex("5\n0.5")],
        "the file ends too soon: 3 luminous intensities belong here, 1 numbers are left",
        "lamp.ldt, line 47",
        "Get the whole file again: it is cut short, or its counts are wrong.",
    ),
    "too many values": (
        SOUND + "7\n",
        '"7" and 0 more stand after the last candela',
        "lamp.ldt, line 50",
        f"The counts of angles do not fit the file, or a decimal comma split numbers in two. "
        f"{EXPORT}",
    ),
    "angles fall": (
        changed(45, "95"),
        "the angles in a plane do not rise: 90 after 95",
        "lamp.ldt, line 46",
        f"Each must be 0.0001 degrees above the one before, or more. {EXPORT}",
    ),
    "angles begin elsewhere": (
        changed(44, "5"),
        "the angles in a plane run from 5 to 90",
        "lamp.ldt, line 44",
        f"They begin at 0 (straight down) or 90 and end at 180 at the latest. {EXPORT}",
    ),
    "planes that do not fit the symmetry": (
        changed(3, "2"),
        "the C planes run from 0 to 0, which does not fit the symmetry",
        "lamp.ldt, line 43",
        "All C planes from 0 to 360 are listed, also where only a part of their values follows, "
        f"and 0, 90, 180 and 270 among them as the symmetry needs. {EXPORT}",
    ),
    "nan": (
        changed(48, "nan"),
        '"nan" is no number; it stands among the luminous intensities',
        "lamp.ldt, line 48",
        f"Numbers with a decimal point belong here. {EXPORT}",
    ),
    "zero bytes inside": (
        changed(48, "\0\0\n5"),
        '"\ufffd\ufffd" is no number; it stands among the luminous intensities',
        "lamp.ldt, line 48",
        f"Numbers with a decimal point belong here. {EXPORT}",
    ),
    "negative": (
        changed(48, "-5"),
        "-5 cd is negative",
        "lamp.ldt",
        "Export the file again: a light cannot give less than none.",
    ),
}


@pytest.mark.parametrize("name", REFUSED)
def test_refused_in_words(name: str) -> None:
    """What, where and remedy, the line included."""
    text, *said = REFUSED[name]
    with pytest.raises(EvencastError) as caught:
        read(text)
    assert [caught.value.what, caught.value.where, caught.value.remedy] == said


def test_what_the_library_lets_pass(tmp_path: Path) -> None:
    """Why the library is not the reader: a file cut short, nan and less than no light come
    through as they stand, and the conversion factor is left out."""
    path = tmp_path / "lamp.ldt"
    passed = {
        "cut in the values": [9.0],
        "negative": [9.0, -5.0, 0.5],
        "factor": [9.0, 5.0, 0.5],
    }
    for name, row in passed.items():
        path.write_text(REFUSED[name][0], "utf-8")
        assert LdtReader.read(path).intensities == [row]
