"""Pictures of the screens: `python -m game.window.shots OUTDIR [SCENE...]`, without a display."""

from __future__ import annotations

import argparse
import os
import random
import tempfile
import time
from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from functools import partial
from pathlib import Path

import pygame

from engine.advice.advise.two_hands import advise_two
from engine.drills.grades import Skill
from engine.drills.lesson.model import DealStep, DrillStep, Lesson, LessonResults, PositionStep, ReadStep, StepResult
from engine.drills.lesson.writer import fingerprint
from engine.rules.deal import DealCode
from engine.sheet.study.finding import Finding
from engine.sheet.writing.document import Place
from engine.sheet.writing.look import look_at
from engine.store.store import Store
from engine.tiles import parse_tiles, write_tiles
from game.play.defaults import TWO_HANDS, USUAL_GAME
from game.play.desk import Desk
from game.play.practice.laying_out import RACK
from game.play.settings import ALWAYS
from game.play.worker import Worker
from game.scenes.drills.ask import AskScene
from game.scenes.drills.film import FilmScene
from game.scenes.drills.menu import WhichPassScene
from game.scenes.editor.scene import EditorScene
from game.scenes.editor.start import WriteScene
from game.scenes.gallery import Gallery
from game.scenes.lessons.beside import BesideScene
from game.scenes.lessons.list import LessonsScene
from game.scenes.lessons.make import MakeScene
from game.scenes.lessons.position import PositionScene
from game.scenes.lessons.run import LessonScene
from game.scenes.navigation import Navigation
from game.scenes.season.export import ExportPopup
from game.scenes.sheet.compare import CHANGED, PRACTISE, UNLEARN, CompareScene
from game.scenes.sheet.find import FindPopup
from game.scenes.sheet.hand_page import HandScene
from game.scenes.sheet.scene import SheetScene
from game.scenes.sheet.study import COUNTS, SAID, SECTIONS, SHAPES, TILES, StudyScene
from game.scenes.twists import TwistPopup
from game.scenes.two.scene import TwoHandsScene
from game.ui.look import Look
from game.ui.popups import KeyHelp
from game.ui.scene import Scene
from game.window.app import prepare
from game.window.demo import season

SIZES = ("1024x640", "1440x900", "1920x1080")
SCALES = ("1", "2")


LESSONS = ("list", "run", "make", "question", "position", "advised", "beside")
SEED = 2026
SOME_RACK = parse_tiles("5d 5d 5d 6d 6d 7d 7d 2b 3b 3b fl fl jk we")
ADVICE_WAIT = 20.0
"""Seconds after which a picture is taken even if the advice is not there yet."""


def scenes(routes: Navigation) -> dict[str, Callable[[], Scene]]:
    """The scenes that can be pictured, by name."""

    desk = routes.desk

    def table() -> Scene:
        sheet = desk.current_sheet
        return routes.deal_of(sheet, DealCode.of(sheet, USUAL_GAME, SEED))

    def two_hands(turns: int) -> Scene:
        sheet = desk.current_sheet
        scene = routes.deal_of(sheet, DealCode.of(sheet, TWO_HANDS, SEED))
        assert isinstance(scene, TwoHandsScene)
        while turns > 0 and not scene.finished:
            turns -= 1
            scene.act(advise_two(scene.table, scene.sitting.observation).action)
        return scene

    def twisted(name: str) -> Scene:
        sheet, house = desk.current_sheet, replace(USUAL_GAME, passes=0, courtesy=False, twist=name)
        return routes.deal_of(sheet, DealCode.of(sheet, house, SEED))

    def twisted_table(name: str) -> Scene:
        told = twisted(name)
        assert isinstance(told, TwistPopup)
        assert isinstance(told.parent, Scene)
        return told.parent

    def keys() -> Scene:
        under = routes.home()
        picture(under, (1440, 900))
        return KeyHelp(under)

    def after(days: int, games: int) -> Navigation:
        """The program of somebody who has played so many games since so many days ago."""
        now = [datetime.now(UTC) - timedelta(days=days)]
        store = Store(desk.store.path.with_name(f"demo-{games}.sqlite"), lambda: now[0])
        if not store.reviews():
            season(
                store,
                desk.current_sheet,
                games,
                lambda moment: now.__setitem__(0, moment),
                now[0],
                timedelta(days=days) / games,
            )
        now[0] = datetime.now(UTC)
        played = Navigation(Desk(desk.worker, store), routes.look)
        played.desk.save_settings(desk.settings)
        return played

    def ten_days() -> Navigation:
        return after(10, 9)

    def whole_season() -> Navigation:
        return after(150, 118)

    def drill(skill: Skill) -> AskScene:
        drilling = desk.drilling()
        drilling.chance = random.Random(4)
        return AskScene(routes, drilling, routes.home(), skill=skill)

    def told() -> Scene:
        scene = drill(Skill.WHICH)
        scene.give_up()
        return scene

    def film() -> Scene:
        drilling = desk.drilling()
        drilling.chance = random.Random(4)
        scene = FilmScene(routes, drilling, routes.home())
        scene.run()
        while not (scene.frame and scene.frame.because):
            scene.update(0.1)
            picture(scene, (1440, 900), desk.worker)
            scene.step(True)
        return scene

    def find() -> Scene:
        under = routes.sheet(desk.current_sheet, routes.home(), rack=SOME_RACK)
        assert isinstance(under, SheetScene)
        picture(under, (1440, 900))
        under.hands.finding = Finding(kind=SOME_RACK[0])
        return FindPopup(under, under.hands)

    def hand() -> Scene:
        under = routes.sheet(desk.current_sheet, routes.home())
        assert isinstance(under, SheetScene)
        page = under.open(desk.current_sheet.hands[3])
        assert isinstance(page, HandScene)
        page.turn(1)
        return page

    def study(shown: str) -> Scene:
        scene = StudyScene(routes, desk.current_sheet, routes.home())
        scene.show(shown)
        if shown == TILES:
            picture(scene, (1440, 900), desk.worker)  # the counts are made in the background
            scene.ask("tile 5 dot", "Hands that want the 5 dot", scene.study.wanting(SOME_RACK[0]))
        return scene

    def compare(part: str) -> Scene:
        scene = CompareScene(routes, desk.current_sheet, routes.home())
        scene.show(part)
        scene.answered = True
        return scene

    def editor(place: Place) -> EditorScene:
        start = routes.writing(routes.home())
        assert isinstance(start, WriteScene)
        scene = start.copy(desk.current_sheet)
        assert isinstance(scene, EditorScene)
        for text in scene.writing.unread():
            scene.writing.learn(text, scene.writing.season, look_at(text, scene.writing.season))
        scene.go(place)
        return scene

    def begun() -> EditorScene:
        scene = editor(Place(1, 2))
        scene.new_hand()
        scene.writing.put("hand", "Wet pier")
        scene.to_field("groups 0")
        scene.typed("groups", 0, "quint a.n, kong b.n+2, pung c.n+5, pa")
        return scene

    def lessons(shown: str) -> Scene:
        sheet = desk.current_sheet
        listed = LessonsScene(routes, routes.home())
        code = DealCode.of(sheet, USUAL_GAME, SEED)
        steps = (
            ReadStep("Three racks that look alike. Ask yourself each time which hand is nearest."),
            DrillStep(Skill.LAY, 3, sheet.hands[2].name),
            PositionStep("Two pairs too many", write_tiles(SOME_RACK), "we 2x1b", ask="Which one goes?",
                         say="Say of every tile which hand it serves."),
            DealStep(str(code), "Play it to its end."),
        )  # fmt: skip
        lesson = Lesson("Nearest first", sheet.name, sheet.season, steps, "the Thursday table")
        listed.lessons.keep(lesson)
        listed.enter()
        run = LessonScene(routes, listed.lessons, lesson, sheet, listed)
        listed.lessons.record(lesson, StepResult(1))
        run.enter()
        position = PositionScene(routes, sheet, listed)

        def beside() -> BesideScene:
            scene = BesideScene(routes, lesson, run)
            made = {"Ana": (3, 1), "Kim": (2, 0), "Lee": (1, 1)}
            scene.results = [
                LessonResults(lesson.name, fingerprint(lesson), player, "2026-11-02", (
                    StepResult(1), StepResult(2, 3, lay, 3 - lay, 64.0), StepResult(3, 1, tile, 0, 12.0, "2 bam"),
                ))
                for player, (lay, tile) in made.items()
            ]  # fmt: skip
            return scene

        position.layout.type(RACK, write_tiles(SOME_RACK))
        found: dict[str, Callable[[], object]] = {
            "list": lambda: listed, "run": lambda: run, "make": lambda: MakeScene(routes, listed, lesson),
            "question": lambda: run.begin(3), "position": lambda: position, "advised": position.ask,
            "beside": beside,
        }  # fmt: skip
        scene = found[shown]()
        return scene if isinstance(scene, Scene) else listed

    return {
        "write": lambda: routes.writing(routes.home()),
        "editor": lambda: editor(Place(1, 2)),
        "editor-begun": begun,
        "editor-sheet": lambda: editor(Place()),
        **{f"lesson-{one}": partial(lessons, one) for one in LESSONS},
        "gallery": lambda: Gallery(routes.look),
        "first": lambda: routes.intro(routes.home(), first=True),
        "home": lambda: routes.home(),
        "table": table,
        "home-again": lambda: routes.home(),
        "sheet": lambda: routes.sheet(desk.current_sheet, routes.home()),
        "find": find,
        "hand": hand,
        "study": lambda: study(SAID),
        "study-tiles": lambda: study(TILES),
        "study-sections": lambda: study(SECTIONS),
        "study-shapes": lambda: study(SHAPES),
        "study-counts": lambda: study(COUNTS),
        "compare": lambda: compare(UNLEARN),
        "compare-changed": lambda: compare(CHANGED),
        "compare-practise": lambda: compare(PRACTISE),
        "invent": lambda: routes.invent(routes.home()),
        "choosing": lambda: routes.choosing(routes.home()),
        "house": lambda: routes.house_rules(routes.home()),
        "two-setup": lambda: routes.two_hands(routes.home()),
        "two-place": lambda: two_hands(0),
        "two-turn": lambda: two_hands(40),
        "two-end": lambda: two_hands(170),
        "twists": lambda: routes.twists(routes.home()),
        "twist-told": lambda: twisted("ten"),
        "table-twist": lambda: twisted_table("mirror"),
        "settings": lambda: routes.settings(routes.home()),
        "ledger": lambda: routes.ledger(routes.home()),
        "practice": lambda: routes.practice(routes.home()),
        "drill-lay": lambda: drill(Skill.LAY),
        "drill-recall": lambda: drill(Skill.RECALL),
        "drill-which": lambda: drill(Skill.WHICH),
        "drill-may-i": lambda: drill(Skill.MAY_I),
        "drill-let-go": lambda: drill(Skill.LET_GO),
        "drill-pass": lambda: drill(Skill.PASS),
        "drill-follow": lambda: drill(Skill.FOLLOW),
        "film": film,
        "which-pass": lambda: WhichPassScene(routes, desk.drilling(), routes.home(), None),
        "drill-told": told,
        "rehearse": lambda: routes.rehearsal(routes.home()),
        "deals": lambda: routes.past_deals(routes.home()),
        "play-none": lambda: routes.progress(routes.home()),
        "play": lambda: whole_season().progress(routes.home()),
        "home-ten-days": lambda: ten_days().home(),
        "home-season": lambda: whole_season().home(),
        "calendar": lambda: routes.calendar(routes.home()),
        "calendar-season": lambda: whole_season().calendar(routes.home()),
        "export": lambda: ExportPopup(whole_season().progress(routes.home()), desk),
        "ledger-season": lambda: whole_season().ledger(routes.home()),
        "how": lambda: routes.intro(routes.home(), first=False),
        "keys": keys,
    }


def picture(scene: Scene, size: tuple[int, int], worker: Worker | None = None) -> pygame.Surface:
    """The scene at rest in a window of that size, with the advice that it waits for."""
    surface = pygame.Surface(size)
    until = time.monotonic() + ADVICE_WAIT
    for _ in range(20):
        scene.draw(surface)
        while worker is not None and worker.busy and time.monotonic() < until:
            if worker.poll():
                scene.dirty = True
                break
            time.sleep(0.01)
        if not scene.dirty:
            break
        scene.update(0.5)
    return surface


def main(argv: Sequence[str] | None = None) -> int:
    """Writes a PNG for every scene, size and scale asked for."""
    parser = argparse.ArgumentParser(prog="python -m game.window.shots", description="Writes pictures of the screens.")
    parser.add_argument("folder", type=Path)
    parser.add_argument("scene", nargs="*", help="the scenes to picture, by name; all if none is named")
    parser.add_argument("--size", action="append", help="such as 1440x900; may be given more than once")
    parser.add_argument("--scale", action="append", help="such as 1 or 2.5; may be given more than once")
    args = parser.parse_args(argv)
    prepare()
    os.environ["SDL_VIDEODRIVER"] = "dummy"
    pygame.display.init()
    pygame.display.set_mode((1, 1))
    args.folder.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as folder, Store(Path(folder) / "deals.sqlite") as store:
        worker = Worker()
        desk = Desk(worker, store)
        known = scenes(Navigation(desk, Look.make()))
        unknown = [name for name in args.scene if name not in known]
        if unknown:
            parser.error(f"there is no scene “{unknown[0]}”; choose from: {', '.join(known)}")
        for scale in args.scale or SCALES:
            desk.save_settings(replace(desk.settings, scale=float(scale), advice=ALWAYS, motion=False))
            for name in args.scene or known:
                scene = known[name]()
                for size in args.size or SIZES:
                    wide, high = (int(part) for part in size.split("x"))
                    path = args.folder / f"{name}-{size}-{round(float(scale) * 100)}.png"
                    pygame.image.save(picture(scene, (wide, high), worker), path)
                    print(path)
        worker.close()
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
