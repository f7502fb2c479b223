"""Reads the imports of the product and judges them against the house: layers, circles, sizes, names, dependencies.

Nothing is run: files are parsed. Imports inside functions and under TYPE_CHECKING count like all others.
"""

import ast
import re
import sys
import tomllib
from collections import Counter, defaultdict
from dataclasses import dataclass
from pathlib import Path

MOST_FILES, MOST_LINES = 18, 400

ADVICE = "engine engine/sheet engine/rules engine/rules/twists engine/advice"
ENGINE = (
    f"{ADVICE} engine/sheet/* engine/advice/* engine/seats engine/store engine/store/rescue engine/drills "
    "engine/drills/lesson engine/invent"
)
WORDS = "game/words game/words/*"
SCREENS = f"{ENGINE} game/play game/play/house game/play/practice game/play/writing {WORDS} game/draw game/ui"

LAYERS = {
    "engine": "",
    "engine/sheet": "engine",
    "engine/sheet/study": "engine engine/sheet",
    "engine/sheet/compare": "engine engine/sheet engine/sheet/study",
    "engine/sheet/writing": "engine engine/sheet",
    "engine/rules": "engine engine/sheet engine/rules/twists",
    "engine/rules/twists": "engine engine/sheet engine/rules",
    "engine/advice": "engine engine/sheet engine/rules engine/rules/twists",
    "engine/advice/odds": ADVICE,
    "engine/advice/worth": f"{ADVICE} engine/advice/odds",
    "engine/advice/endgame": f"{ADVICE} engine/advice/odds engine/advice/worth",
    "engine/advice/rollout": f"{ADVICE} engine/advice/odds engine/advice/worth engine/advice/endgame",
    "engine/advice/contest": f"{ADVICE} engine/advice/odds engine/advice/worth",
    "engine/advice/advise": f"{ADVICE} engine/advice/odds engine/advice/worth engine/advice/contest "
    "engine/advice/endgame engine/advice/rollout",
    "engine/advice/review": f"{ADVICE} engine/advice/odds engine/advice/worth engine/advice/contest "
    "engine/advice/endgame engine/advice/rollout engine/advice/advise",
    "engine/advice/simulation": f"{ADVICE} engine/advice/odds engine/advice/worth engine/advice/endgame "
    "engine/advice/rollout",
    "engine/seats": f"{ADVICE} engine/advice/*",
    "engine/invent": f"{ADVICE} engine/advice/simulation",
    "engine/store": "engine engine/sheet engine/rules engine/rules/twists engine/store/*",
    "engine/store/opening": "engine engine/sheet engine/rules engine/rules/twists engine/store engine/store/rescue",
    "engine/store/rescue": "engine engine/sheet engine/rules engine/rules/twists engine/store engine/store/opening",
    "engine/drills": f"{ADVICE} engine/advice/* engine/seats engine/store",
    "engine/drills/lesson": f"{ADVICE} engine/drills",
    "game/play": f"{ENGINE} game/play/practice",
    "game/play/practice": f"{ENGINE} game/play",
    "game/play/house": f"{ENGINE} game/play",
    "game/play/writing": f"{ENGINE} game/play",
    "game/words": f"{ENGINE} game/play game/play/practice game/play/writing {WORDS}",
    "game/words/compare": f"{ENGINE} game/words",
    "game/words/deal": f"{ENGINE} game/play game/words",
    "game/words/practice": f"{ENGINE} game/play game/play/practice game/words",
    "game/words/season": f"{ENGINE} game/play game/play/practice game/words game/words/practice",
    "game/text": f"{ENGINE} game/play game/play/practice {WORDS}",
    "game/draw": "engine",
    "game/ui": "engine game/draw",
    "game/scenes": f"{SCREENS} game/paper",
    "game/scenes/home": f"{SCREENS} game/scenes",
    "game/scenes/season": f"{SCREENS} game/scenes",
    "game/scenes/sheet": f"{SCREENS} game/scenes",
    "game/scenes/table": f"{SCREENS} game/scenes game/scenes/season",
    "game/scenes/match": f"{SCREENS} game/scenes game/scenes/season game/scenes/table",
    "game/scenes/drills": f"{SCREENS} game/scenes game/scenes/table",
    "game/scenes/editor": f"{SCREENS} game/scenes",
    "game/scenes/lessons": f"{SCREENS} game/scenes game/scenes/table game/scenes/drills",
    "game/scenes/two": f"{SCREENS} game/scenes game/scenes/table",
    "game/scenes/rehearse": f"{SCREENS} game/scenes game/scenes/table",
    "game/scenes/navigation.py": f"{SCREENS} game/scenes game/scenes/*",
    "game/window": f"{SCREENS} game/scenes game/scenes/*",
    "game/paper": f"{ENGINE} game/play game/play/practice {WORDS} game/draw",
    "game/commands": f"{ENGINE} game/play game/play/house game/play/practice {WORDS} game/text game/paper game/window "
    "game/commands/shared game/commands/shared/chart.py",
    "game/commands/shared": f"{ENGINE} game/play {WORDS} game/commands game/commands/shared/chart.py",
    "game/commands/shared/chart.py": f"{ENGINE} {WORDS} game/draw",
    "game": f"{ENGINE} game/words game/commands",
}
"""Every folder (and each file that stands apart from its folder), with the folders that it may use besides itself."""

PYGAME = {"game/draw", "game/ui", "game/scenes", "game/window", "game/commands/shared/chart.py"}
"""Who may import pygame: these and what lies in them."""
PURE = {"engine", "engine/sheet", "engine/sheet/study", "engine/sheet/compare", "engine/rules", "engine/rules/twists"}
"""Who uses nothing but the standard library and PyYAML."""
CALLED = {"pygame-ce": "pygame", "pyyaml": "yaml", "pytest-xdist": "xdist"}
"""What a distribution is called when it is imported, where that is not its own name."""
ON_THE_COMMAND_LINE = {"pytest-xdist": "spreads the tests over the cores when pytest gets -n"}
"""Dependencies that no file has to import, each with what it is there for. None of them may be imported."""


@dataclass(frozen=True)
class Module:
    """One file: where it lies, what it imports, and the classes it defines."""

    name: str
    path: str
    """From the top of the project, with slashes."""
    lines: int
    uses: tuple[str, ...]
    """Modules as they are written; `from a import b` gives both `a` and `a.b`."""
    classes: tuple[str, ...]


def read(roots):
    """Every module under the given folders, by name. The last part of each root is the package's name."""
    found = {}
    for root in roots:
        for file in sorted(root.rglob("*.py")):
            path = file.relative_to(root.parent)
            parts = [part for part in path.with_suffix("").parts if part != "__init__"]
            text = file.read_text(encoding="utf-8")
            tree = ast.parse(text)
            name = ".".join(parts)
            classes = tuple(node.name for node in tree.body if isinstance(node, ast.ClassDef))
            found[name] = Module(name, path.as_posix(), text.count("\n"), tuple(used_by(tree)), classes)
    return found


def used_by(tree):
    """Every module that a file imports, at any depth of its code. A relative import gives its dots."""
    for node in statements(tree):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            start = "." * node.level + (node.module or "")
            yield start
            yield from (f"{start}.{alias.name}" for alias in node.names)


def statements(node):
    """Every statement under a node, at any depth. Expressions are left out, which makes this ten times quicker."""
    for part in ("body", "orelse", "handlers", "cases", "finalbody"):
        found = getattr(node, part, None)
        for one in found if isinstance(found, list) else ():
            yield one
            yield from statements(one)


def layer_of(path, layers):
    """The row of the layer table for a file: its own, or that of its folder; None if there is none."""
    if path in layers:
        return path
    folder = path.rpartition("/")[0]
    return folder if folder in layers else None


def allowed(layer, layers):
    """The layers that a layer may use, itself included."""
    found = {layer}
    for word in layers[layer].split():
        found |= {one for one in layers if one.startswith(word[:-1])} if word.endswith("*") else {word}
    return found


def layer_faults(modules, layers=None):
    """Imports against the arrows, and folders that the table does not know."""
    layers = LAYERS if layers is None else layers
    for module in modules.values():
        here = layer_of(module.path, layers)
        if here is None:
            yield f"{module.path.rpartition('/')[0]} has no row in the table of layers"
            continue
        may = allowed(here, layers)
        for used in own(module, modules):
            there = layer_of(modules[used].path, layers)
            if there is not None and there not in may:
                yield f"{module.name} imports {used}, but {here} may not use {there}"
        for used in module.uses:
            if used.startswith("."):
                yield f"{module.name} imports relatively; write the full name"


def own(module, modules):
    """The modules of the project that a module imports."""
    return sorted({used for used in module.uses if used in modules and used != module.name and used.count(".")})


def outside_faults(modules):
    """Libraries used where they may not be."""
    for module in modules.values():
        folder = module.path.rpartition("/")[0]
        tops = {used.split(".")[0] for used in module.uses} - {"engine", "game", "sheets", "assets", ""}
        if (
            "pygame" in tops
            and module.path not in PYGAME
            and not any(folder == one or folder.startswith(f"{one}/") for one in PYGAME)
        ):
            yield f"{module.name} imports pygame"
        if folder in PURE:
            for top in sorted(tops - {"yaml"} - set(sys.stdlib_module_names)):
                yield f"{module.name} imports {top}, but {folder} uses the standard library and PyYAML only"


def circle_faults(modules):
    """One line for every file that stands in a circle of imports."""
    graph = {name: own(module, modules) for name, module in modules.items()}
    for name in graph:
        seen, todo = set(), list(graph[name])
        while todo:
            one = todo.pop()
            if one not in seen:
                seen.add(one)
                todo += graph[one]
        if name in seen:
            yield f"{name} stands in a circle of imports"


def size_faults(modules):
    """Folders with too many files, and files with too many lines."""
    folders = Counter(module.path.rpartition("/")[0] for module in modules.values())
    yield from (f"{folder} holds more than {MOST_FILES} files" for folder, n in folders.items() if n > MOST_FILES)
    yield from (
        f"{module.path} has more than {MOST_LINES} lines" for module in modules.values() if module.lines > MOST_LINES
    )


def name_faults(modules):
    """Public class names that stand for two things."""
    places = defaultdict(list)
    for module in modules.values():
        for name in module.classes:
            if not name.startswith("_"):
                places[name].append(module.name)
    for name, (first, *others) in sorted(places.items()):
        yield from (f"the class name {name} is used in {first} and in {other}" for other in others)


def dependency_faults(declared, imported):
    """Declared dependencies that nothing imports, and libraries that are imported but not declared.

    `declared`: names of distributions; `imported`: top names of all modules imported.
    """
    names = {one: CALLED.get(one, one.replace("-", "_")) for one in declared}
    for one, name in names.items():
        if one in ON_THE_COMMAND_LINE:
            if name in imported:
                yield f"{one} is imported: strike it from the list of what is used on the command line"
        elif name not in imported:
            yield f"{one} is declared but imported nowhere"
    known = set(names.values()) | set(sys.stdlib_module_names) | {"engine", "game", "sheets", "assets", ""}
    yield from (f"{name} is imported but not declared" for name in sorted(imported - known))


def declared_in(project, extras=()):
    """Names of the distributions that a pyproject.toml demands, lower case, with those of some extras."""
    table = tomllib.loads(project.read_text(encoding="utf-8"))["project"]
    wanted = [*table["dependencies"], *(one for extra in extras for one in table["optional-dependencies"][extra])]
    return [re.match(r"[\w.-]+", one).group().lower() for one in wanted]


def tops_of(folder):
    """Top names of every module that the files under a folder import."""
    found = set()
    for file in Path(folder).rglob("*.py"):
        found |= {used.split(".")[0] for used in used_by(ast.parse(file.read_text(encoding="utf-8")))}
    return found
