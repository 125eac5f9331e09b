from __future__ import annotations

import os
import re
import shlex
import signal
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner

from builders import band_picture
from builders.cli_reference import every_command
from evencast.cli import main
from evencast.web.interfaces import interfaces

ROOT = Path(__file__).resolve().parent.parent
PAGES = [ROOT / "README.md", *sorted((ROOT / "docs").glob("*.md"))]


LEFT_OUT = "[...]"
"""A line of a console block that stands for lines left out."""


PROMPT = "$ evencast "


def console_blocks() -> list[tuple[Path, str]]:
    """Page and text of every console block."""
    return [
        (page, block)
        for page in PAGES
        for block in re.findall(r"```console\n(.*?)```", page.read_text("utf-8"), re.DOTALL)
    ]


def commands_of(block: str) -> list[tuple[str, str]]:
    """What is typed in a block, one after the other, and what each prints."""
    assert block.startswith(PROMPT)
    typed = re.split(rf"^{re.escape(PROMPT)}", block, flags=re.MULTILINE)[1:]
    return [(first, printed) for first, _, printed in (each.partition("\n") for each in typed)]


def write_documents(page: Path, folder: Path) -> None:
    """Every TOML block of a page that begins with a remark that names its file."""
    named = r"```toml\n(# (\w+\.toml)\n.*?)```"
    for text, name in re.findall(named, page.read_text("utf-8"), re.DOTALL):
        (folder / name).write_text(text, "utf-8")


def shows(printed: str, shown: str) -> bool:
    """Whether what is shown is what is printed, but for what is left out."""
    parts = [re.escape(part) for part in f"\n{shown}".split(f"\n{LEFT_OUT}\n")]
    return re.fullmatch("\n(?:.*\n)*?".join(parts), f"\n{printed}") is not None


def printed_by(arguments: str, monkeypatch: pytest.MonkeyPatch, folder: Path) -> str:
    monkeypatch.chdir(folder)
    monkeypatch.setenv("EVENCAST_LIBRARY", "library")
    return CliRunner().invoke(main, shlex.split(arguments)).output


@pytest.mark.parametrize(
    ("page", "block"),
    console_blocks(),
    ids=lambda each: each.name if isinstance(each, Path) else each.removeprefix(PROMPT)[:40],
)
def test_what_a_page_shows_is_what_is_printed(
    page: Path, block: str, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """Every console block of the documentation runs, with the page's documents beside it, and
    prints just that; a line `[...]` stands for what is left out."""
    write_documents(page, tmp_path)
    for arguments, shown in commands_of(block):
        printed = printed_by(arguments, monkeypatch, tmp_path)
        if LEFT_OUT not in shown:
            assert printed == shown, page.name
        assert shows(printed, shown), printed


def test_what_is_shown_of_an_answer_is_held_line_by_line() -> None:
    """The head, the middle and the end, each where it stands; nothing changed and none swapped."""
    printed = "one\ntwo\nthree\nfour\n"
    for shown in (printed, "one\n[...]\n", "[...]\nfour\n", "one\n[...]\nthree\n[...]\n"):
        assert shows(printed, shown), shown
    for shown in (
        "one\n",
        "two\n[...]\n",
        "[...]\nthree\n",
        "[...]\nthree\n[...]\ntwo\n[...]\n",
        "one\n[...]\nfou\n",
    ):
        assert not shows(printed, shown), shown


def test_pages_show_something() -> None:
    """The README, the first steps and the questions each run commands."""
    assert {"README.md", "first-steps.md", "questions.md"} <= {
        page.name for page, _ in console_blocks()
    }


def test_the_readme_shows_how_the_demo_begins(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """The block after the two commands is the head of the demo's own output."""
    shown = re.search(r"```text\n(.*?)```", (ROOT / "README.md").read_text("utf-8"), re.DOTALL)
    assert shown is not None
    assert printed_by("demo", monkeypatch, tmp_path).startswith(shown[1])


def test_every_command_has_a_heading_and_an_example() -> None:
    """The command reference names every command; each help text ends with a runnable example."""
    page = (ROOT / "docs" / "cli-reference.md").read_text("utf-8")
    for name, command in every_command().items():
        assert f"\n## {name}\n" in page
        assert command.help is not None
        assert "Example:  evencast " + name in command.help


@pytest.mark.parametrize("name", [each for each in every_command() if each != "serve"])
def test_the_example_in_the_help_runs(
    name: str, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """What the help shows can be typed as it stands, once the demo has written its documents
    where the example looks for them, or a bundle is in the library."""
    text = every_command()[name].help or ""
    example = text.partition("Example:  evencast ")[2].strip()
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("EVENCAST_LIBRARY", "library")
    if "bindery/" in example:
        assert CliRunner().invoke(main, ["demo", "--to", "bindery"]).exit_code == 0
    elif name.startswith("library "):
        (tmp_path / "bindery").mkdir()
        (tmp_path / "bindery" / "kit.toml").write_text("format = 1\n", "utf-8")
        assert CliRunner().invoke(main, ["library", "import", "bindery"]).exit_code == 0
    ran = CliRunner().invoke(main, shlex.split(example))
    assert ran.exit_code == 0, ran.output


def test_the_example_of_serve_runs_until_it_is_interrupted(tmp_path: Path) -> None:
    """On a port that is free."""
    if not interfaces():
        pytest.skip("this machine is on no network")
    text = every_command()["serve"].help or ""
    example = shlex.split(text.partition("Example:  evencast ")[2])
    network = ["--interface", interfaces()[0].name]
    call = [sys.executable, "-m", "evencast", *example, *network, "--port", "0"]
    settings = os.environ | {"EVENCAST_LIBRARY": str(tmp_path / "library")}
    with subprocess.Popen(call, stdout=subprocess.PIPE, text=True, env=settings) as process:
        assert process.stdout is not None
        assert process.stdout.readline().startswith("This laptop:  http://127.0.0.1:")
        process.send_signal(signal.SIGINT)
        assert process.stdout.read().endswith("All that was saved is in the library.\n")
    assert process.returncode == 0


def test_the_command_reference_is_fresh() -> None:
    """Made from the help texts as they are now."""
    ran = subprocess.run(
        [sys.executable, "builders/cli_reference.py", "--check"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert ran.returncode == 0, ran.stderr


def test_the_picture_of_bands_is_fresh() -> None:
    """Drawn from the numbers as they are now."""
    assert band_picture.PICTURE.read_text("utf-8") == band_picture.picture()


def test_no_page_of_this_machine_and_no_registry_host() -> None:
    """Tracked files name neither a path of one machine nor a package registry's host."""
    listed = subprocess.run(
        ["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, text=True, check=True
    ).stdout.split("\0")
    pattern = re.compile(
        r"(?<![\w.])/(?:root|home)/\w|files[.]pythonhosted|pypi[.]org/simple|--index[-]url"
    )
    found = []
    for name in listed:
        path = ROOT / name
        if not name or not path.is_file():
            continue
        try:
            text = path.read_text("utf-8")
        except UnicodeDecodeError:
            continue
        found += [f"{name}: {hit[0]}" for hit in pattern.finditer(text)]
    assert found == []
