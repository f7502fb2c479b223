"""Every screen of practice and of how the player plays, by name: drills, ledger, calendar, film, seasons."""

import random

from engine.drills.grades import Skill
from engine.store.store import Store
from game.play.desk import Desk
from game.play.practice.drilling import ASKED
from game.scenes.drills.ask import AskScene
from game.scenes.drills.film import FilmScene
from game.scenes.drills.menu import WhichPassScene
from game.scenes.navigation import Navigation
from game.scenes.season.export import ExportPopup
from game.window.demo import season


def drill_screens(routes):
    """Practice: what is due, each kind of question, an answer, the end."""
    home = routes.home()
    screens = {"practice": routes.practice(home), "ledger": routes.ledger(home), "calendar": routes.calendar(home)}
    screens["calendar, with a fault"] = routes.calendar(home)
    screens["calendar, with a fault"].begins = "some day"
    screens["calendar, with a fault"].keep()
    screens["everything to files"] = ExportPopup(screens["calendar"], routes.desk)
    screens["everything to files, there already"] = ExportPopup(screens["calendar"], routes.desk)
    screens["everything to files, there already"].there = ("games.csv",)
    screens["everything to files, there already"].said = "There are files of these names already: games.csv. " * 2
    screens["ledger, one hand"] = screens["ledger"].open(screens["ledger"].ledger.records[0])
    for skill in ASKED:
        drilling = routes.desk.drilling()
        drilling.chance = random.Random(4)
        scene = AskScene(routes, drilling, home, skill=skill, seconds=60.0, now=lambda: 0.0)
        screens[f"drill, {skill.value}"] = scene
        told = AskScene(routes, drilling, home, skill=skill)
        told.give_up()
        screens[f"drill, {skill.value}, told"] = told
    film = FilmScene(routes, drilling, home)
    while not (film.frame and film.frame.because):
        film.update(0.1)
        film.step(True)
    screens |= {"film": film, "which pass": WhichPassScene(routes, drilling, home, None)}
    laid = AskScene(routes, drilling, home, skill=Skill.LAY)
    for _ in range(9):
        laid.answer.take(laid.answer.pool[0][0])
    laid.check()
    screens["drill, what is off"] = laid
    done = AskScene(routes, drilling, home, due=routes.desk.drilling().session())
    while done.question is not None:
        done.give_up()
        done.go_on()
    screens["drill, done"] = done
    return screens


def play_screens(routes, sheet):
    """How the player plays: after no game, few, some, a long season, and with games that wait."""
    screens = {}
    for games in (0, 5, 14, 90, 400):
        now = []
        store = Store(routes.desk.store.path.with_name(f"season-{games}.sqlite"), lambda now=now: now[-1])
        apart = Navigation(Desk(routes.desk.worker, store), routes.look)
        apart.desk.save_settings(routes.desk.settings)
        season(store, sheet, games, now.append)
        screens[f"home after {games} games"] = apart.home()
        screens[f"progress after {games} games"] = apart.progress(routes.home())
    waits = apart.progress(routes.home())
    waits.waiting = [1, 2, 3]
    screens["play, games wait"] = waits
    looks = apart.progress(routes.home())
    looks.waiting, looks.looking, looks.done = [2, 3], True, 1
    screens["play, games are looked through"] = looks
    return screens
