"""Imports run one way: game -> drills -> store -> seats, advice -> rules -> sheet -> tiles."""

import ast
import importlib.util
from pathlib import Path

import pytest

FLOORS = (
    ("engine.tiles",),
    ("engine.words",),
    ("engine.sheet",),
    ("engine.rules",),
    ("engine.advice",),
    ("engine.seats",),
    ("engine.store",),
    ("engine.drills",),
    ("game",),
)
"""From the ground up; a part may use its own and those below."""
MAY_USE = {
    part: {below for floor in FLOORS[:height] for below in floor}
    for height, floor in enumerate(FLOORS)
    for part in floor
}
PURE = ("engine.tiles", "engine.words", "engine.sheet", "engine.rules")
STANDARD_AND_YAML = {"yaml"}


def part_of(module):
    """The part of the house that a module belongs to, or None for one from outside."""
    for part in MAY_USE:
        if module == part or module.startswith(part + "."):
            return part
    return None


def packages():
    """(dotted name, file) of every module of engine and game as installed."""
    for top in ("engine", "game"):
        root = Path(importlib.util.find_spec(top).origin).parent
        for file in sorted(root.rglob("*.py")):
            parts = (top, *file.relative_to(root).with_suffix("").parts)
            yield ".".join(part for part in parts if part != "__init__"), file


def imports_of(file):
    """Every module that a file imports, at any depth of its code."""
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{file} imports relatively; write the full name"
            yield node.module
            yield from (f"{node.module}.{alias.name}" for alias in node.names if part_of(f"{node.module}.{alias.name}"))


MODULES = list(packages())


@pytest.mark.parametrize(("module", "file"), MODULES, ids=[name for name, _ in MODULES])
def test_imports_follow_the_arrows(module, file):
    """A module imports only from parts below its own; numpy starts at advice, pygame at game."""
    here = part_of(module)
    for used in imports_of(file):
        there = part_of(used)
        if there is not None and here is not None:
            assert there == here or there in MAY_USE[here], f"{module} imports {used}"
        top = used.split(".")[0]
        if top == "pygame":
            assert here == "game", f"{module} imports pygame"
        if top == "numpy":
            assert here not in PURE, f"{module} imports numpy"
        if here in PURE and there is None and top != "engine":
            assert top in STANDARD_AND_YAML or top in __import__("sys").stdlib_module_names, f"{module} imports {used}"


def test_the_walk_sees_the_modules():
    """The check would be empty if the walk found nothing."""
    names = {name for name, _ in MODULES}
    assert {"engine.tiles", "engine.sheet.model", "engine.rules.actions", "game"} <= names
