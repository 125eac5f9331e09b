"""Small scenes solved from documents, for tests of what is told of them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from evencast.actions.alternatives import alternatives
from evencast.actions.balances import candidates
from evencast.actions.doubt import Looks
from evencast.actions.hung import Hung, hung
from evencast.actions.levels import bare_levels
from evencast.actions.planned import load_plan
from evencast.actions.scene import StagedScene, staged_scene
from evencast.results.plan import Alternative
from evencast.solver.scene import Solved, Solver

ONE_SHEET = "stock = [{ form = 'sheet', width_mm = 530, length_mm = 1220 }]"
"""Of 0.53 by 1.22 m."""
NONE = "stock = [{ form = 'sheet', width_mm = 530, length_mm = 1220, count = 0 }]"
UNCOUNTED = ""
HALF_SHEET = "aperture = [{ width_mm = 500, height_mm = 600 }]"
"""An opening of which a sheet covers two."""


@dataclass(frozen=True)
class SolvedScene:
    """A plan, staged and solved."""

    path: Path
    staged: StagedScene
    solver: Solver
    solved: Solved

    @property
    def lights(self) -> Sequence[Hung]:
        """Every light as it hangs."""
        return hung(self.staged, self.solved.best)

    def light(self, name: str) -> Hung:
        """One of them."""
        return next(each for each in self.lights if each.staged.entry.name == name)

    @property
    def seen(self) -> dict[str, Looks]:
        """What each looks like."""
        return {each.staged.entry.name: each.looks() for each in self.lights}

    def alternatives(self) -> list[Alternative]:
        """Other ways."""
        return alternatives(self.staged, self.solver, self.solved)


def write_scene(
    folder: Path,
    lights: str,
    *,
    sheets: Mapping[str, str],
    balance: str = "{ fixed_k = 5600 }",
    camera: str = "",
    keys: str = "",
) -> Path:
    """A plan and its kit.

    sheets : by generic name, what the kit says of its stock
    camera, keys : further keys of the camera and of the plan, one to a line
    """
    entries = [
        f'[[filter]]\nname = "{name}"\nrole = "{_role(name)}"\ngeneric = "{name}"\n{stock}\n'
        for name, stock in sheets.items()
    ]
    kit = 'format = 1\nname = "sheets at hand"\n' + "".join(entries)
    (folder / "kit.toml").write_text(kit, encoding="utf-8")
    path = folder / "plan.toml"
    path.write_text(
        f'format = 1\nname = "scene"\nkit = "kit.toml"\nmains_hz = 50\n{keys}\n'
        f"[camera]\nbalance = {balance}\n{camera}\n{lights}",
        encoding="utf-8",
    )
    return path


def _role(name: str) -> str:
    for part, role in (("ND", "ND"), ("green", "green"), ("frost", "diffusion")):
        if part in name:
            return role
    return "correction"


def solved_scene(path: Path) -> SolvedScene:
    """A plan solved once."""
    loaded = load_plan(path)
    levels, problems = bare_levels(loaded, path.parent)
    balances, more = candidates(loaded)
    assert [*problems, *more] == []
    staged = staged_scene(loaded, levels, balances, folder=path.parent)
    solver = Solver(staged.scene)
    return SolvedScene(path, staged, solver, solver.solve())


def light(name: str, role: str, builtin: str, *keys: str) -> str:
    """One light of a plan."""
    return (
        f'[[light]]\nname = "{name}"\nrole = "{role}"\nbuiltin = "{builtin}"\n'
        + "\n".join(keys)
        + "\n"
    )
