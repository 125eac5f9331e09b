"""Files after IES LM-63 that lie, break off or hold what no light has: whole texts."""

from __future__ import annotations

import time
import tracemalloc
from dataclasses import replace

import numpy as np
import pytest

from evencast.errors import EvencastError
from evencast.media.lm63 import parse_lm63
from tests.photometric_files import Written, cosine, lm63

SMALL = Written(
    np.array([0.0, 45.0, 90.0]),
    np.array([0.0, 90.0]),
    np.array([[9.0, 5.0, 0.5], [9.0, 4.0, 0.25]]),
)
SOUND = lm63(SMALL)
EXPORT = "Export the file again from where it came."
CUT = "Get the whole file again: it is cut short, or its counts are wrong."
FACTOR = "Give a factor above 0; 1 leaves the candelas as they are."


def refusal(text: str | bytes) -> tuple[str, str, str]:
    with pytest.raises(EvencastError) as caught:
        parse_lm63(text, where="lamp.ies")
    return caught.value.what, caught.value.where, caught.value.remedy


def changed(line: int, text: str) -> str:
    """The sound file with one line replaced, counted from 1."""
    lines = SOUND.split("\n")
    lines[line - 1] = text
    return "\n".join(lines)


def test_the_sound_file_is_read_and_its_lines_are_these() -> None:
    """What the changes below change."""
    assert parse_lm63(SOUND, where="lamp.ies").candelas.shape == (5, 3)
    assert SOUND.split("\n")[4:] == [
        "TILT=NONE",
        "1 1000 1 3 2 1 2 0.2 0.1 0",
        "1 1 100",
        "0 45 90",
        "0 90",
        "9 5 0.5",
        "9 4 0.25",
        "",
    ]


LAMP = "1 1000 1 3 2 1 2 0.2 0.1 0"
REFUSED = {
    "nothing": (
        "",
        "has no line TILT=NONE or TILT=INCLUDE: is no photometric file after IES LM-63",
        "lamp.ies",
        "Give a file in IES LM-63 (.ies).",
    ),
    "tilt in a file": (
        changed(5, "TILT=lamp.tlt"),
        'the tilt table is in another file, "lamp.tlt", which is not read',
        "lamp.ies, line 5",
        "Put the table in after TILT=INCLUDE, or write TILT=NONE if the lamp gives the same light "
        "at any tilt.",
    ),
    "lamp position": (
        changed(5, "TILT=INCLUDE\n7\n1\n0\n1"),
        '"7" is no lamp position',
        "lamp.ies, line 6",
        "Give 1 (upright), 2 (level) or 3 (level, tilting along).",
    ),
    "tilt factor": (
        changed(5, "TILT=INCLUDE\n1\n2\n0 90\n1 -0.5"),
        "-0.5 is no tilt factor",
        "lamp.ies, line 9",
        "Give the light at that tilt as a share of the light at 0, such as 0.95.",
    ),
    "tilt angles": (
        changed(5, "TILT=INCLUDE\n1\n2\n90 0\n1 0.5"),
        "the tilt angles do not rise: 0 after 90",
        "lamp.ies, line 8",
        f"Each must be 0.0001 degrees above the one before, or more. {EXPORT}",
    ),
    "tilt cut short": (
        "TILT=INCLUDE\n1\n5\n0 90",
        "the file ends too soon: 5 tilt angles belong here, 2 numbers are left",
        "lamp.ies, line 4",
        CUT,
    ),
    "no lamps": (
        changed(6, LAMP.replace("1 1000", "0 1000")),
        '"0" is no count of lamps',
        "lamp.ies, line 6",
        f"A whole number, 1 or more, belongs here. {EXPORT}",
    ),
    "half a lamp": (
        changed(6, LAMP.replace("1 1000", "1.5 1000")),
        '"1.5" is no count of lamps',
        "lamp.ies, line 6",
        f"A whole number, 1 or more, belongs here. {EXPORT}",
    ),
    "lumens": (
        changed(6, LAMP.replace("1000", "-1000")),
        "-1000 lumens per lamp are less than none",
        "lamp.ies, line 6",
        "Give the lumens of one lamp, or -1 for absolute photometry.",
    ),
    "multiplier": (
        changed(6, LAMP.replace("1000 1 ", "1000 0 ")),
        "0 is none of the candela multipliers",
        "lamp.ies, line 6",
        FACTOR,
    ),
    "ballast": (
        changed(7, "-1 1 100"),
        "-1 is none of the ballast factors",
        "lamp.ies, line 7",
        FACTOR,
    ),
    "watts": (
        changed(7, "1 1 -5"),
        "-5 W is less than none",
        "lamp.ies, line 7",
        "Give the watts that the light draws, or 0 where they are not known.",
    ),
    "one vertical angle": (
        changed(6, LAMP.replace(" 3 2 ", " 1 2 ")),
        '"1" is no count of vertical angles',
        "lamp.ies, line 6",
        f"A whole number, 2 or more, belongs here. {EXPORT}",
    ),
    "type B": (
        changed(6, LAMP.replace(" 3 2 1 ", " 3 2 2 ")),
        "its angles are of type B, and only type C is read",
        "lamp.ies, line 6",
        "Ask for the file in type C, or convert it.",
    ),
    "type A": (
        changed(6, LAMP.replace(" 3 2 1 ", " 3 2 3 ")),
        "its angles are of type A, and only type C is read",
        "lamp.ies, line 6",
        "Ask for the file in type C, or convert it.",
    ),
    "type 9": (
        changed(6, LAMP.replace(" 3 2 1 ", " 3 2 9 ")),
        '"9" is no photometric type',
        "lamp.ies, line 6",
        f"1 (type C) belongs here. {EXPORT}",
    ),
    "units": (
        changed(6, LAMP.replace(" 2 0.2", " 3 0.2")),
        '"3" is no kind of units',
        "lamp.ies, line 6",
        "Give 1 for feet or 2 for metres.",
    ),
    "opening": (
        changed(6, LAMP.replace("0.1", "-5000")),
        "an opening of 5000 m is larger than any light",
        "lamp.ies, line 6",
        "Give its width, length and height in feet (units 1) or metres (units 2).",
    ),
    "more vertical angles than there are": (
        changed(6, LAMP.replace(" 3 2 ", " 4 2 ")),
        "the file ends too soon: 4 vertical and 2 horizontal angles and their candelas make 14 "
        "numbers, 11 are left",
        "lamp.ies, line 11",
        CUT,
    ),
    "fewer planes than there are": (
        changed(6, LAMP.replace(" 3 2 ", " 3 1 ")),
        '"0.5" and 3 more stand after the last candela',
        "lamp.ies, line 10",
        "The counts of angles do not fit the file, or a decimal comma split numbers in two. "
        f"{EXPORT}",
    ),
    "cut short": (
        SOUND[: SOUND.index("9 4")],
        "the file ends too soon: 3 vertical and 2 horizontal angles and their candelas make 11 "
        "numbers, 8 are left",
        "lamp.ies, line 10",
        CUT,
    ),
    "cut in the lamp": (
        SOUND[: SOUND.index("0.2 0.1")],
        "the file ends too soon: 3 sizes of the opening belong here, 0 numbers are left",
        "lamp.ies, line 6",
        CUT,
    ),
    "ends at the tilt": (
        SOUND[: SOUND.index("1 1000")],
        "the file ends too soon: 1 lamps belong here, 0 numbers are left",
        "lamp.ies, line 6",
        CUT,
    ),
    "vertical angles fall": (
        changed(8, "0 90 45"),
        "the vertical angles do not rise: 45 after 90",
        "lamp.ies, line 8",
        f"Each must be 0.0001 degrees above the one before, or more. {EXPORT}",
    ),
    "vertical angles stand still": (
        changed(8, "0 90 90"),
        "the vertical angles do not rise: 90 after 90",
        "lamp.ies, line 8",
        f"Each must be 0.0001 degrees above the one before, or more. {EXPORT}",
    ),
    "planes a hair apart": (
        changed(9, "0 2e-8"),
        "the horizontal angles do not rise: 2e-08 after 0",
        "lamp.ies, line 9",
        f"Each must be 0.0001 degrees above the one before, or more. {EXPORT}",
    ),
    "vertical angles begin elsewhere": (
        changed(8, "5 45 90"),
        "the vertical angles begin at 5",
        "lamp.ies, line 8",
        f"In type C they begin at 0 (straight down) or at 90. {EXPORT}",
    ),
    "vertical angles go too far": (
        changed(8, "0 45 190"),
        "the vertical angles go to 190",
        "lamp.ies, line 8",
        f"In type C they end at 180 (straight up) at the latest. {EXPORT}",
    ),
    "an angle of no circle": (
        changed(8, "0 45 1e9"),
        "1e+09 among the vertical angles is beyond 360 degrees",
        "lamp.ies, line 8",
        EXPORT,
    ),
    "planes": (
        changed(9, "0 45"),
        "the horizontal angles run from 0 to 45",
        "lamp.ies, line 9",
        f"In type C they run from 0 to 0, 90, 180 or 360, or from 90 to 270. {EXPORT}",
    ),
    "negative": (
        changed(11, "9 -4 0.25"),
        "-4 cd is negative",
        "lamp.ies",
        "Export the file again: a light cannot give less than none.",
    ),
    "dark": (
        changed(10, "0 0 0").replace("9 4 0.25", "0 0 0"),
        "all candelas are 0: there is no light in it",
        "lamp.ies",
        "Export the file again, with the candelas of the light.",
    ),
    "too bright": (
        changed(10, "9e200 5 0.5"),
        "9e+200 cd is more than any light gives",
        "lamp.ies",
        "Check the multipliers: at most 1e+12 cd is read.",
    ),
    "so bright that it overflows": (
        changed(10, "9e307 5 0.5").replace("1 1000 1 ", "1 1000 100 "),
        "inf cd is more than any light gives",
        "lamp.ies",
        "Check the multipliers: at most 1e+12 cd is read.",
    ),
    "nan": (
        changed(11, "9 nan 0.25"),
        '"nan" is no number; it stands among the candelas',
        "lamp.ies, line 11",
        f"Numbers with a decimal point belong here. {EXPORT}",
    ),
    "infinity": (
        changed(11, "9 1e999 0.25"),
        '"1e999" is no number; it stands among the candelas',
        "lamp.ies, line 11",
        f"Numbers with a decimal point belong here. {EXPORT}",
    ),
    "a word": (
        changed(6, LAMP.replace("1000", "many")),
        '"many" is no number; it stands among the lumens per lamp',
        "lamp.ies, line 6",
        f"Numbers with a decimal point belong here. {EXPORT}",
    ),
    "decimal commas": (
        changed(11, "9 4 0,25"),
        '"25" and 0 more stand after the last candela',
        "lamp.ies, line 11",
        "The counts of angles do not fit the file, or a decimal comma split numbers in two. "
        f"{EXPORT}",
    ),
}


@pytest.mark.parametrize("name", REFUSED)
def test_refused_in_words(name: str) -> None:
    """What, where and remedy, the line included."""
    text, *said = REFUSED[name]
    assert refusal(text) == tuple(said)


@pytest.mark.parametrize("counts", ["1000000000 1000000000", "3 1e9", "1e300 2"])
def test_huge_counts_are_refused_without_room_for_them(counts: str) -> None:
    """A billion angles: nothing of that size is ever made."""
    tracemalloc.start()
    started = time.perf_counter()
    what, where, remedy = refusal(changed(6, LAMP.replace("3 2", counts)))
    _, most = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    vertical, horizontal = (float(each) for each in counts.split())
    assert what == (
        f"the file ends too soon: {vertical:.10g} vertical and {horizontal:.10g} horizontal angles "
        f"and their candelas make {vertical + horizontal + vertical * horizontal:.10g} numbers, "
        "11 are left"
    )
    assert (where, remedy) == ("lamp.ies, line 11", CUT)
    assert time.perf_counter() - started < 1.0
    assert most < 1_000_000


def test_a_huge_file_is_refused_before_it_is_read() -> None:
    """Larger than any photometric file."""
    assert refusal(b" " * 16_000_001) == (
        "is larger than 16 MB",
        "lamp.ies",
        "Photometric files are far smaller: check that this is the right file.",
    )


def test_a_large_file_takes_little_time() -> None:
    """361 planes of 181 angles: 65 000 candelas."""
    planes, vertical = np.arange(361.0), np.arange(181.0)
    text = lm63(
        replace(cosine(), vertical_deg=vertical, planes_deg=planes, candelas=np.ones((361, 181)))
    )
    started = time.process_time()
    assert parse_lm63(text, where="lamp.ies").candelas.sum() == 361 * 181
    assert time.process_time() - started < 1.0
