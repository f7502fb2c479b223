"""The house stands as it is drawn: arrows one way, no circles, small files, one name for one thing, nothing idle."""

import importlib.util
import textwrap
from pathlib import Path

import imports
import pytest

HERE = Path(__file__).parent
KNOWN: set[str] = set()
"""Faults that are still to be mended. One that is mended must be struck out here."""


def faults():
    """Every fault of the product as it is installed, one sentence each."""
    modules = imports.read([Path(importlib.util.find_spec(top).origin).parent for top in ("engine", "game")])
    assert len(modules) > 100, "the walk found next to nothing"
    product = {used.split(".")[0] for module in modules.values() for used in module.uses}
    helpers = {file.stem for file in HERE.rglob("*.py")} | {file.parent.name for file in HERE.rglob("*.py")} | {"tests"}
    project = HERE.parent / "pyproject.toml"
    yield from imports.layer_faults(modules)
    yield from imports.outside_faults(modules)
    yield from imports.circle_faults(modules)
    yield from imports.size_faults(modules)
    yield from imports.name_faults(modules)
    yield from imports.dependency_faults(imports.declared_in(project), product)
    everything = product | imports.tops_of(HERE) - helpers
    yield from imports.dependency_faults(imports.declared_in(project, ["test"]), everything)


@pytest.mark.slow
def test_the_house_stands():
    """No fault but those that are known, and none of those is mended yet still listed."""
    found = set(faults())
    said = [*sorted(found - KNOWN), *(f"mended, so strike it from KNOWN: {one}" for one in sorted(KNOWN - found))]
    assert not said, "\n" + "\n".join(said)


def write(folder, files):
    """Writes files (path to source) and gives the modules read from them."""
    for path, source in files.items():
        file = folder / path
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(textwrap.dedent(source), encoding="utf-8")
    return imports.read([folder / "engine", folder / "game"])


def test_every_kind_of_fault_is_seen(tmp_path):
    """A small house with one of each: late and type-checking imports count like any other."""
    modules = write(tmp_path, {
        "engine/tiles.py": "import numpy\n",
        "engine/rules/play.py": "def late():\n    from engine.advice.table import SheetTable\n",
        "engine/advice/table.py": "from engine import tiles\nimport numpy\nclass Judge: ...\n",
        "engine/advice/stats.py": (
            "from typing import TYPE_CHECKING\nif TYPE_CHECKING:\n    from engine.advice import means\n"
        ),
        "engine/advice/means.py": "from engine.advice.stats import t\nclass Judge: ...\nclass _Own: ...\n",
        "engine/cellar/wine.py": "class _Own: ...\n",
        "game/play/desk.py": "import pygame\nfrom . import sitting\n",
        "game/ui/pen.py": "import pygame\n" + "\n" * 400,
        **{f"game/draw/picture{number}.py": "" for number in range(19)},
    })  # fmt: skip
    assert set(imports.layer_faults(modules)) == {
        "engine.rules.play imports engine.advice.table, but engine/rules may not use engine/advice",
        "engine/cellar has no row in the table of layers",
        "game.play.desk imports relatively; write the full name",
    }
    assert set(imports.outside_faults(modules)) == {
        "engine.tiles imports numpy, but engine uses the standard library and PyYAML only",
        "game.play.desk imports pygame",
    }
    assert set(imports.circle_faults(modules)) == {
        "engine.advice.stats stands in a circle of imports",
        "engine.advice.means stands in a circle of imports",
    }
    assert set(imports.size_faults(modules)) == {
        "game/draw holds more than 18 files",
        "game/ui/pen.py has more than 400 lines",
    }
    assert list(imports.name_faults(modules)) == [
        "the class name Judge is used in engine.advice.means and in engine.advice.table"
    ]


def test_idle_and_undeclared_dependencies_are_seen():
    """A dependency is imported somewhere, what is imported is declared, and the exceptions are still exceptions."""
    declared = ["pygame-ce", "numpy", "pytest-xdist"]
    assert list(imports.dependency_faults(declared, {"pygame", "numpy", "json"})) == []
    assert list(imports.dependency_faults(declared, {"pygame", "requests"})) == [
        "numpy is declared but imported nowhere",
        "requests is imported but not declared",
    ]
    assert list(imports.dependency_faults(declared, {"pygame", "numpy", "xdist"})) == [
        "pytest-xdist is imported: strike it from the list of what is used on the command line"
    ]
