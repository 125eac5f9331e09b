"""The commands of the day: what they print, and how they fail."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.unit.actions.test_compare import write
from tests.unit.actions.test_trim import HALF, planned
from tests.unit.cli.calling import ANSWERED, BAD_CALL, ERRORS_IN_DOCUMENT, run

LONG = "a very long name of a lamp behind the third window on the left side of the upper gallery"


def test_a_trim_as_text_answers_first(tmp_path: Path) -> None:
    """The change, what hangs and reads, what is left before and after, and why."""
    ran = run("trim", str(planned(tmp_path, hung=HALF)), "lamp", "--read", "3900K+0.001")
    assert ran.code == ANSWERED
    lines = ran.out.splitlines()
    assert lines[0] == "Lamp: add eighth CTB."
    assert '  hangs       half CTB, as rigged in "desk"' in lines
    assert "  reads       3900 K, Duv +0.0010, by the meter" in lines
    assert any(each.startswith("  now         11 mired warm") for each in lines)
    assert "  then hangs  half CTB + eighth CTB" in lines
    assert any(each.startswith("  then        6 mired cool") for each in lines)
    assert any(each.startswith("  - Heat: ") for each in lines)


@pytest.mark.parametrize(
    "options",
    [
        ("--read", "3900K+0.001"),
        ("--camera", "3900K 4 toward magenta", "--stop", "f/2.8 at 400 1/50"),
        ("--lux", "200"),
        ("--fc", "20"),
        ("--ev", "7"),
    ],
)
def test_no_line_is_wider_than_80_columns(tmp_path: Path, options: tuple[str, ...]) -> None:
    """Whatever the names are."""
    hung = 'rigged = { filters = ["half CTB", "eighth CTB", "light frost"], scrims = ["single"] }'
    path = planned(tmp_path, hung=hung, camera="t_stop = 2.8")
    path.write_text(path.read_text("utf-8").replace('"desk"', f'"{LONG}"'), "utf-8")
    ran = run("trim", str(path), "lamp", *options)
    assert ran.code == ANSWERED, ran.err
    assert max(map(len, ran.out.splitlines())) <= 80


def test_a_comparison_as_text(tmp_path: Path) -> None:
    """A verdict, the camera, each light that differs, and those that are as they were."""
    old = write(tmp_path, "old.toml", 'rigged = { filters = ["half CTB"] }')
    new = write(
        tmp_path,
        "new.toml",
        'rigged = { filters = ["half CTB", "eighth CTB"] }',
        camera="balance = { fixed_k = 5600 }\nshutter_s = 0.02\n",
    )
    ran = run("compare", str(old), str(new))
    assert ran.code == ANSWERED
    lines = ran.out.splitlines()
    assert lines[0] == 'New.toml, "desk" against old.toml, "desk": 1 of 1 lights differs, and the'
    assert lines[1] == "camera."
    assert "key" in lines[lines.index("lamp (key):")]
    assert any("half CTB -> half CTB + eighth CTB. Back: take out eighth" in each for each in lines)
    assert max(map(len, lines)) <= 80
    same = run("compare", str(old), str(old))
    assert (
        same.out.splitlines()[0] == 'Old.toml, "desk" against old.toml, "desk": no light differs.'
    )
    assert "As it was: lamp." in same.out


def test_json_is_one_object(tmp_path: Path) -> None:
    """With the fields of the results, none of them nan."""
    path = str(planned(tmp_path, hung=HALF, camera="f_stop = 4"))
    answer = run("trim", path, "lamp", "--read", "4200K", "--stop", "f/4", "--json").answer
    assert (answer["light"], answer["move"]) == ("lamp", "leave")
    assert answer["before"]["over_stops"] == [0.0, 0.0]
    answer = run("compare", path, path, "--json").answer
    assert [each["state"] for each in answer["lights"]] == ["same"]


def test_failures_leave_with_the_contracts_code(tmp_path: Path) -> None:
    """2 for a bad call, 1 for errors in a document, and never a traceback."""
    path = str(planned(tmp_path, hung=HALF))
    for call in (
        ("trim", path, "lamp"),
        ("trim", path, "moon", "--read", "4000K"),
        ("trim", path, "lamp", "--read", "warm"),
        ("trim", path, "lamp", "--setup", "roof", "--read", "4000K"),
        ("trim", str(tmp_path / "none.toml"), "lamp", "--read", "4000K"),
        ("compare", path),
        ("compare", path, path, "--setup", "roof"),
        ("compare", path, str(tmp_path / "none.toml")),
    ):
        ran = run(*call, "--json")
        assert ran.code == BAD_CALL, call
        assert ran.error["remedy"]
    broken = tmp_path / "broken.toml"
    broken.write_text('format = 1\nname = "x"\n', "utf-8")
    for call in (("trim", str(broken), "lamp"), ("compare", path, str(broken))):
        assert run(*call, "--json").code == ERRORS_IN_DOCUMENT
