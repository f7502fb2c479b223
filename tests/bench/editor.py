"""Prints what writing a sheet costs: keys and presses per hand, and whether each sheet comes out as it was; spoils
sheets by chance and counts those that crash the editor or its reader, hang them, or lose text.

    python tests/bench/editor.py [--sheet STEM] [--spoilt N] [--seed S] [--plain]
"""

import argparse
import os
import sys
import tempfile
import time
from pathlib import Path
from random import Random
from statistics import mean, median

from engine.sheet.shelf import find, shipped

TESTS = Path(__file__).parents[1]
HELPERS = ("", "game", "game/scenes", "game/scenes/editor", "engine/sheet", "engine/sheet/writing")
LONG = 2.0
"""Seconds from which a spoilt sheet is printed as one that takes long."""


def costs(stem):
    """Types a sheet, then builds it by presses; prints what each hand took and whether it is the same."""
    from at_table import routes_over
    from harness import make_look
    from typist import Typist

    sheet = find(stem)
    with tempfile.TemporaryDirectory() as folder:
        routes = routes_over(make_look(), Path(folder) / "lone-east.sqlite")
        start = routes.writing(routes.home())
        scene = start.empty()
        scene.enter()
        typist = Typist(scene)
        typist.write_sheet(sheet)
        same = scene.writing.document.text == sheet.canonical
        report(f"{stem}, typed", "keys", typist.hands, same, len(sheet.hands))
        scene = start.empty()
        scene.enter()
        typist = Typist(scene)
        typist.begin_building(sheet.season)
        same = True
        for hand in sheet.hands:
            typist.build_hand(hand)
            scene.enter()
            typist.show()
            made = scene.writing.hand(scene.writing.place)
            alike = made is not None and (made.variants, made.points, made.concealed) == (
                hand.variants, hand.points, hand.concealed
            )  # fmt: skip
            if not alike:
                print(f"  {hand.name} came out otherwise: {scene.writing.piece}")
            same = same and alike
            scene.new_hand()
            typist.show()
        report(f"{stem}, pressed (names typed)", "presses", typist.hands, same, len(sheet.hands))
        routes.desk.store.close()


def report(title, what, hands, same, of):
    """One line."""
    counts = sorted(hands.values())
    print(
        f"{title}: {of} hands, {what} a hand: mean {mean(counts):.1f}, median {median(counts):g}, "
        f"{counts[0]} to {counts[-1]}; {'the same sheet' if same else 'ANOTHER SHEET'}",
        flush=True,
    )


def spoil(number, seed, stems):
    """Spoils the sheets in turn, each time in another way, and prints what became of them."""
    from spoiling import LostError, judge, spoilt

    texts = [find(stem).canonical for stem in stems]
    chance = Random(seed)
    faults, slow, longest = [], 0, 0.0
    readable = 0
    for index in range(number):
        text = spoilt(texts[index % len(texts)], chance)
        begun = time.perf_counter()
        try:
            readable += judge(text, chance)
        except LostError as error:
            faults.append(f"{index}: lost text: {error}")
        except Exception as error:  # whatever it is, it is what is looked for
            faults.append(f"{index}: {error!r}")
        took = time.perf_counter() - begun
        longest = max(longest, took)
        slow += took > LONG
        if (index + 1) % 1000 == 0:
            print(f"  {index + 1:,} sheets, {len(faults)} faults", flush=True)
    print(
        f"{number:,} spoilt sheets, {readable:,} of them still whole: {len(faults)} crashed or lost text, "
        f"{slow} took over {LONG:g} s, the longest {longest:.2f} s"
    )
    for fault in faults[:20]:
        print(f"  {fault}")


def main():
    """Runs what is asked for."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n\n")[0])
    parser.add_argument("--sheet", action="append", help="a shipped sheet to write and to spoil; all if none is named")
    parser.add_argument("--spoilt", type=int, default=1000, help="how many spoilt sheets (default: 1,000)")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--plain", action="store_true", help="write no sheet, only spoil")
    args = parser.parse_args()
    os.environ |= {"SDL_VIDEODRIVER": "dummy", "SDL_AUDIODRIVER": "dummy"}
    sys.path[:0] = [str(TESTS / folder) for folder in HELPERS]
    for stem in () if args.plain else args.sheet or shipped():
        costs(stem)
    if args.spoilt:
        spoil(args.spoilt, args.seed, args.sheet or shipped())


if __name__ == "__main__":
    main()
