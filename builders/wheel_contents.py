"""Fails unless a wheel holds exactly the package's files: every module, table and demo file."""

from __future__ import annotations

import subprocess
import sys
import zipfile
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent


def package_files() -> set[str]:
    """Every file of the package that is not ignored, as a wheel names it."""
    listed = subprocess.run(
        ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard", "src/evencast"],
        cwd=ROOT,
        check=True,
        capture_output=True,
        text=True,
    ).stdout
    names = [name for name in listed.split("\0") if name and (ROOT / name).exists()]
    return {name.removeprefix("src/") for name in names}


def wheel_files(wheel: Path) -> set[str]:
    """Every file in the wheel but its metadata."""
    with zipfile.ZipFile(wheel) as archive:
        return {name for name in archive.namelist() if ".dist-info/" not in name}


def main() -> None:
    """List what is missing or too many, and end with 1 if anything is."""
    wanted, found = package_files(), wheel_files(Path(sys.argv[1]))
    for name in sorted(wanted - found):
        print(f"missing from the wheel: {name}")
    for name in sorted(found - wanted):
        print(f"in the wheel, not in the package: {name}")
    if wanted != found:
        sys.exit(1)
    data = sum(name.startswith("evencast/data/") for name in found)
    print(f"wheel: {len(found)} files, {data} of them packaged data")


if __name__ == "__main__":
    main()
