from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

PACKAGE = Path(__file__).resolve().parent.parent / "src" / "evencast"

LAYERS = (
    {"cli"},
    {"web"},
    {"actions", "results"},
    {"store", "media"},
    {"handouts"},
    {"measuring", "cutting"},
    {"solver"},
    {"plan"},
    {"filters", "lights", "camera"},
    {"colour"},
    {"spectra"},
    {"tables", "cores"},
    {"quantities"},
    {"errors", "itself"},
)
"""Imports point down this list only; parts on one line never import each other, but for the
results that actions return."""

HEIGHT = {part: -place for place, layer in enumerate(LAYERS) for part in layer}
ROOT_FILES = {"__init__", "__main__"}
MAY_READ_DATA = {"tables.py"}
IN_MEMORY = {"media/archive.py", "media/frames.py"}
"""Open what they are handed as bytes: members of an archive; a photograph, which its decoder
reads from a temporary folder alone."""
OPENS_A_DOCUMENT = {"Library.open", "desk.open", "self.desk.open", "asking.desk.open"}
"""Calls of that name which open the library or a document in it."""
FILE_CALLS = {"open", "read_text", "read_bytes", "write_text", "write_bytes", "mkdir", "unlink"}
LONGEST_FILE, LONGEST_FUNCTION = 400, 60


def sources(package: Path) -> list[Path]:
    return sorted(package.rglob("*.py"))


def part_of(path: Path, package: Path) -> str:
    first = path.relative_to(package).parts[0]
    return first.removesuffix(".py")


def imported_parts(tree: ast.AST) -> Iterator[tuple[int, str]]:
    """Line and part of the package for every import, those inside functions too."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom) and node.module == "evencast":
            names = [f"evencast.{alias.name}" for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            names = [node.module or ""]
        else:
            continue
        for name in names:
            pieces = name.split(".")
            if pieces[0] == "evencast" and len(pieces) > 1:
                yield node.lineno, pieces[1]


def faults(package: Path) -> list[str]:
    """Imports that point up or sideways, and parts that the list does not know."""
    found = []
    for path in sources(package):
        own = part_of(path, package)
        if own in ROOT_FILES:
            continue
        if own not in HEIGHT:
            found.append(f"{path.relative_to(package)}: {own} is not in the list of layers")
            continue
        for line, other in imported_parts(ast.parse(path.read_text("utf-8"))):
            if other == own or other in ROOT_FILES or other == "__version__":
                continue
            down = other in HEIGHT and HEIGHT[other] < HEIGHT[own]
            if not down and (own, other) != ("actions", "results"):
                found.append(f"{path.relative_to(package)}:{line}: {own} imports {other}")
    return found


def test_imports_point_down() -> None:
    """No part of the package imports one above or beside it."""
    assert faults(PACKAGE) == []


@pytest.mark.parametrize(
    ("path", "text", "fault"),
    [
        (
            "colour/a.py",
            "from evencast.solver import search\n",
            "colour/a.py:1: colour imports solver",
        ),
        (
            "filters/a.py",
            "def late():\n    import evencast.lights\n",
            "filters/a.py:2: filters imports lights",
        ),
        ("colour/a.py", "from evencast import plan\n", "colour/a.py:1: colour imports plan"),
        ("gadgets/a.py", "", "gadgets/a.py: gadgets is not in the list of layers"),
    ],
)
def test_the_check_sees_a_wrong_import(tmp_path: Path, path: str, text: str, fault: str) -> None:
    """An import up, sideways, inside a function or from an unknown part is found."""
    file = tmp_path / path
    file.parent.mkdir()
    file.write_text(text)
    assert faults(tmp_path) == [fault]


def test_only_tables_and_store_touch_files() -> None:
    """Packaged data is read by tables.py, the person's files by store/, nothing else."""
    found = []
    for path in sources(PACKAGE):
        inside = path.relative_to(PACKAGE)
        if inside.as_posix() in MAY_READ_DATA | IN_MEMORY or inside.parts[0] == "store":
            continue
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Call):
                called = node.func
                name = called.attr if isinstance(called, ast.Attribute) else None
                name = called.id if isinstance(called, ast.Name) else name
                if name in FILE_CALLS and not _from_store(path, name) and not _is_library(called):
                    found.append(f"{inside}:{node.lineno}: {name}")
    assert found == []


def _is_library(called: ast.expr) -> bool:
    """Whether it opens the library, or a document of it: the store reads then."""
    return ast.unparse(called) in OPENS_A_DOCUMENT


def _from_store(path: Path, name: str) -> bool:
    """Whether the file imports that function from the store."""
    return any(
        isinstance(node, ast.ImportFrom)
        and node.module == "evencast.store.files"
        and name in {alias.name for alias in node.names}
        for node in ast.walk(ast.parse(path.read_text("utf-8")))
    )


def test_files_and_functions_are_small() -> None:
    """A file stays under 400 lines, a function under 60."""
    found = []
    for path in sources(PACKAGE):
        text = path.read_text("utf-8")
        if len(text.splitlines()) > LONGEST_FILE:
            found.append(f"{path.name}: {len(text.splitlines())} lines")
        for node in ast.walk(ast.parse(text)):
            if isinstance(node, ast.FunctionDef) and node.end_lineno is not None:
                length = node.end_lineno - node.lineno + 1
                if length > LONGEST_FUNCTION:
                    found.append(f"{path.name}:{node.lineno}: {node.name} has {length} lines")
    assert found == []
