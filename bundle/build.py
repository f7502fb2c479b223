"""Builds the game as one folder that starts by a double click, on a machine without Python.

    pip install ".[bundle]"
    python bundle/build.py FOLDER

The folder gets `lone-east/` with the program, and on Linux a desktop entry. PyInstaller builds for the system it runs
on. Tried on Linux; the settings for Windows and macOS stand below and are untried.
"""

from __future__ import annotations

import argparse
import os
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

TOP = Path(__file__).resolve().parent.parent
NAME = "lone-east"
ICON = 256
"""Pixels of the icon's side."""
DATA = ("sheets", "assets", "fontpkg_atkinson_hyperlegible", "fontpkg", "reportlab")
"""Packages whose files that are no code are needed, too."""
LEFT_OUT = ("tkinter", "pytest", "hypothesis", "scipy", "ortools", "IPython", "matplotlib", "setuptools")
DESKTOP = """[Desktop Entry]
Type=Application
Name=Lone East
Comment=Practise American-style mahjong alone
Exec="{program}"
Icon={icon}
Categories=Game;BoardGame;
Terminal=false
"""


def draw_icon(file: Path) -> None:
    """The icon, drawn by the game's own code: a tile, the east wind."""
    os.environ["SDL_VIDEODRIVER"] = "dummy"
    import pygame

    from game.ui.look import Look
    from game.window.app import icon

    pygame.display.init()
    pygame.font.init()
    pygame.display.set_mode((1, 1))
    pygame.image.save(icon(Look.make(), ICON), file)
    pygame.quit()


def settings(work: Path, out: Path, icon: Path, system: str = sys.platform) -> list[str]:
    """PyInstaller's arguments. A system is named as in `sys.platform`."""
    from game.command_line import COMMANDS

    given = [
        str(TOP / "bundle" / "start.py"), "--name", NAME, "--onedir", "--noconfirm", "--log-level", "WARN",
        "--distpath", str(out), "--workpath", str(work / "build"), "--specpath", str(work), "--icon", str(icon),
        "--paths", str(TOP), "--copy-metadata", NAME,
    ]  # fmt: skip
    for package in DATA:
        given += ["--collect-data", package]
    for module in ("sheets", "assets", *(f"game.commands.{name}" for name in COMMANDS)):
        given += ["--hidden-import", module]
    for module in LEFT_OUT:
        given += ["--exclude-module", module]
    if system == "win32":  # untried: a console that is hidden where a double click opened it, so that commands print
        given += ["--console", "--hide-console", "hide-late"]
    if system == "darwin":  # untried: an application beside the folder
        given += ["--windowed", "--osx-bundle-identifier", "org.lone-east.game"]
    return given


def build(out: Path) -> Path:
    """Builds into a folder; gives the program."""
    import PyInstaller.__main__

    with tempfile.TemporaryDirectory() as folder:
        work = Path(folder)
        picture = work / "icon.png"
        draw_icon(picture)
        PyInstaller.__main__.run(settings(work, out, picture))
        shutil.copy(picture, out / NAME / "icon.png")
    program = out / NAME / (NAME + (".exe" if sys.platform == "win32" else ""))
    if sys.platform.startswith("linux"):
        entry = out / NAME / f"{NAME}.desktop"
        entry.write_text(DESKTOP.format(program=program, icon=out / NAME / "icon.png"), encoding="utf-8")
    return program


def bare() -> dict[str, str]:
    """An environment that shows the program nothing of this Python: only where the screen and the home folder are."""
    kept = ("DISPLAY", "WAYLAND_DISPLAY", "XDG_RUNTIME_DIR", "SYSTEMROOT", "TEMP")
    return {name: os.environ[name] for name in kept if name in os.environ} | {"PATH": "/usr/bin:/bin"}


def report(program: Path) -> None:
    """Prints the size, and how long the program takes to answer and to open its window."""
    files = [one for one in program.parent.rglob("*") if one.is_file()]
    print(f"{program.parent}: {sum(one.stat().st_size for one in files) / 1e6:.0f} MB in {len(files)} files")
    with tempfile.TemporaryDirectory() as home:
        environment = bare() | {"HOME": home, "LONE_EAST_DATA": home}
        for words in (["--version"], ["check", "first-steps"]):
            start = time.monotonic()
            done = subprocess.run([program, *words], env=environment, capture_output=True, encoding="utf-8", check=True)
            print(f"{NAME} {' '.join(words)}: {done.stdout.strip()} ({time.monotonic() - start:.2f} s)")
        if shutil.which("xdotool") and os.environ.get("DISPLAY"):
            start = time.monotonic()
            game = subprocess.Popen([program], env=environment, stderr=subprocess.PIPE)
            try:
                while game.poll() is None and not _shown():
                    time.sleep(0.02)
                if game.poll() is not None:
                    sys.exit(f"the window did not open: {game.stderr.read().decode() if game.stderr else ''}")
                print(f"the window: {time.monotonic() - start:.2f} s to open")
            finally:
                game.terminate()
                game.wait()


def _shown() -> bool:
    search = ["xdotool", "search", "--onlyvisible", "--name", "Lone East"]
    return subprocess.run(search, capture_output=True, check=False).returncode == 0


def main() -> int:
    """Build, then start what was built."""
    parser = argparse.ArgumentParser(description="Build the game as one folder that needs no Python.")
    parser.add_argument("folder", type=Path, help="where the built folder goes")
    out = parser.parse_args().folder.resolve()
    sys.path.insert(0, str(TOP))
    report(build(out))
    return 0


if __name__ == "__main__":
    sys.exit(main())
