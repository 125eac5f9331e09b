from __future__ import annotations

import ast
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import pytest

PACKAGE = Path(__file__).resolve().parent.parent / "src" / "evencast"


def modules(package: Path) -> dict[str, Path]:
    """Every module by its full name."""
    found = {}
    for path in package.rglob("*.py"):
        parts = ("evencast", *path.relative_to(package).with_suffix("").parts)
        found[".".join(parts[:-1] if parts[-1] == "__init__" else parts)] = path
    return found


def imported(tree: ast.AST) -> set[str]:
    """Every full name that an import may bind, those inside functions too."""
    names = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            names |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            names |= {f"{node.module}.{alias.name}" for alias in node.names}
    return names


def graph(package: Path) -> dict[str, set[str]]:
    """Module to the modules it names: of `from a import b` the module b, or else a."""
    known = modules(package)
    edges = {}
    for name, path in known.items():
        wanted = imported(ast.parse(path.read_text("utf-8")))
        edges[name] = {
            full if full in known else full.rpartition(".")[0]
            for full in wanted
            if full in known or full.rpartition(".")[0] in known
        } - {"evencast"}
    return edges


def cycle(package: Path) -> list[str]:
    """One ring of imports, or none."""
    try:
        TopologicalSorter(graph(package)).prepare()
    except CycleError as error:
        return list(error.args[1])
    return []


def test_no_ring_of_imports() -> None:
    """Modules import each other one way, inside a part and inside functions too."""
    assert cycle(PACKAGE) == []


@pytest.mark.parametrize("late", ["import evencast.colour.a", "from evencast.colour import a"])
def test_the_check_sees_a_ring(tmp_path: Path, late: str) -> None:
    """A ring closed inside a function is found."""
    folder = tmp_path / "colour"
    folder.mkdir()
    (folder / "__init__.py").write_text("")
    (folder / "a.py").write_text("from evencast.colour.b import x\n")
    (folder / "b.py").write_text(f"def f():\n    {late}\n")
    assert set(cycle(tmp_path)) == {"evencast.colour.a", "evencast.colour.b"}
