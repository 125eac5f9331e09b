"""What the scripts find or say on other machines, as far as it can be tried on this one."""

from __future__ import annotations

import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent


def in_shell(script: str, **variables: str) -> subprocess.CompletedProcess[str]:
    """A script after builders/environment.sh, with these variables and a bare PATH."""
    return subprocess.run(
        ["sh", "-c", f". builders/environment.sh\n{script}"],
        cwd=ROOT,
        env={"PATH": "/usr/bin:/bin"} | variables,
        capture_output=True,
        text=True,
        check=False,
    )


def programs_in(folder: Path) -> Path:
    folder.mkdir(parents=True)
    for name in ("initdb", "postgres"):
        (folder / name).write_text("#!/bin/sh\n")
        (folder / name).chmod(0o755)
    return folder


SAY_WHERE = 'ensure_postgresql && echo "$EVENCAST_POSTGRESQL"'


def test_postgresql_is_taken_where_it_is_named(tmp_path: Path) -> None:
    """Before what the PATH has."""
    named = programs_in(tmp_path / "named")
    on_path = programs_in(tmp_path / "path")
    found = in_shell(SAY_WHERE, EVENCAST_POSTGRESQL=str(named), PATH=f"{on_path}:/usr/bin:/bin")
    assert found.stdout == f"{named}\n"
    assert found.stderr == ""


def test_postgresql_is_taken_from_the_path(tmp_path: Path) -> None:
    """By the folder that its own programs are in, where the PATH has a link; also where what was
    named is not there."""
    real = programs_in(tmp_path / "lib" / "bin")
    links = tmp_path / "links"
    links.mkdir()
    (links / "initdb").symlink_to(real / "initdb")
    path = f"{links}:/usr/bin:/bin"
    for named in ("", str(tmp_path / "nowhere")):
        assert in_shell(SAY_WHERE, EVENCAST_POSTGRESQL=named, PATH=path).stdout == f"{real}\n"


def test_where_postgresql_cannot_be_had_the_remedy_is_said() -> None:
    """Somebody who may not install is told what to type."""
    ran = in_shell("find_postgresql() { return 1; }; id() { echo 1000; }; ensure_postgresql")
    assert ran.returncode == 1
    assert "apt install postgresql" in ran.stderr
    assert "EVENCAST_POSTGRESQL" in ran.stderr


@pytest.mark.skipif(not Path("/usr/bin/apt-get").exists(), reason="as on Debian and Ubuntu")
@pytest.mark.parametrize(("user", "ends_with"), [(0, 0), (1000, 1)])
def test_postgresql_is_installed_by_root_alone(tmp_path: Path, user: int, ends_with: int) -> None:
    """And looked for again afterwards."""
    script = f"""
    find_postgresql() {{ [ -f {tmp_path}/installed ]; }}
    install_postgresql() {{ : >{tmp_path}/installed; }}
    id() {{ echo {user}; }}
    ensure_postgresql
    """
    assert in_shell(script).returncode == ends_with
    assert (tmp_path / "installed").exists() == (user == 0)


SAY_BROWSER = 'ensure_chromium && echo "$EVENCAST_CHROMIUM"'


def browser_in(folder: Path, name: str = "chromium", *, works: bool = True) -> Path:
    folder.mkdir(parents=True, exist_ok=True)
    found = folder / name
    found.write_text(f"#!/bin/sh\nexit {0 if works else 1}\n")
    found.chmod(0o755)
    return found


def test_chromium_is_taken_where_it_is_named(tmp_path: Path) -> None:
    """Before what the PATH has, also with a space in its path."""
    named = browser_in(tmp_path / "a browser", "own")
    browser_in(tmp_path / "path")
    path = f"{tmp_path}/path:/usr/bin:/bin"
    found = in_shell(SAY_BROWSER, EVENCAST_CHROMIUM=str(named), PATH=path)
    assert (found.stdout, found.stderr) == (f"{named}\n", "")


@pytest.mark.parametrize("name", ["chromium", "chromium-browser", "google-chrome"])
def test_chromium_is_taken_from_the_path(tmp_path: Path, name: str) -> None:
    """Under any of its names, where what was named is not there or does not run."""
    real = browser_in(tmp_path / "path", name)
    broken = browser_in(tmp_path / "broken", "named", works=False)
    for named in ("", str(tmp_path / "nowhere"), str(broken)):
        found = in_shell(
            f"id() {{ echo 1000; }}; PATH={tmp_path}/path; {SAY_BROWSER}", EVENCAST_CHROMIUM=named
        )
        assert found.stdout == f"{real}\n"


def test_a_chromium_that_does_not_run_is_passed_over(tmp_path: Path) -> None:
    """As the empty package that some systems have under its name."""
    browser_in(tmp_path / "path", "chromium", works=False)
    real = browser_in(tmp_path / "path", "google-chrome")
    found = in_shell(f"PATH={tmp_path}/path; {SAY_BROWSER}")
    assert found.stdout == f"{real}\n"


def test_where_chromium_cannot_be_had_the_remedy_is_said() -> None:
    """Somebody who may not install is told what to type."""
    ran = in_shell("find_chromium() { return 1; }; id() { echo 1000; }; ensure_chromium")
    assert ran.returncode == 1
    assert "apt install chromium" in ran.stderr
    assert "EVENCAST_CHROMIUM" in ran.stderr


@pytest.mark.skipif(not Path("/usr/bin/apt-get").exists(), reason="as on Debian and Ubuntu")
@pytest.mark.parametrize(("user", "ends_with"), [(0, 0), (1000, 1)])
def test_chromium_is_installed_by_root_alone(tmp_path: Path, user: int, ends_with: int) -> None:
    """And looked for again afterwards."""
    script = f"""
    find_chromium() {{ [ -f {tmp_path}/installed ]; }}
    install_chromium() {{ : >{tmp_path}/installed; }}
    id() {{ echo {user}; }}
    ensure_chromium
    """
    assert in_shell(script).returncode == ends_with
    assert (tmp_path / "installed").exists() == (user == 0)
