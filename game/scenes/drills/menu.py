"""Where practice begins: what is due today and why, the day to be ready for, and every drill with its results."""

from __future__ import annotations

from datetime import date, timedelta
from functools import partial

from engine.drills.grades import Skill
from engine.drills.one_pass import WhichPass
from engine.drills.schedule import Due
from engine.words import count
from game.draw.theme import BODY, BODY_BOLD, SMALL, SOFT, TEAL
from game.play.practice.drilling import ASKED, Drilling
from game.scenes.drills.ask import AskScene
from game.scenes.drills.film import FilmScene
from game.scenes.routes import Routes
from game.ui.buttons import Press
from game.ui.column import Column, scrolled
from game.ui.scene import Scene
from game.ui.widgets import Ui
from game.words.drills import ABOUT, SKILLS, due_words, ready_words, results_words
from game.words.practice.moments import MOMENTS

WIDEST = 1240
TWO_COLUMNS = 820
BESIDE = 560
"""Units of width from which the film and the lessons stand beside each other."""
MOST_SHOWN = 6
"""Items of today that are listed."""
CLOCKS = ((None, "no clock"), (60.0, "one minute"), (30.0, "30 seconds"), (15.0, "15 seconds"))
MOMENTS_CHOSEN = ((None, "Any of them, another each time"), *MOMENTS.items())
READY = ((None, "no day"), (7, "in a week"), (14, "in two weeks"), (30, "in a month"))
KEYS = "lmwrgpo"


class PracticeScene(Scene):
    """What to practise now, and how it goes."""

    def __init__(self, routes: Routes, drilling: Drilling, back: Scene) -> None:
        super().__init__(routes.look)
        self.routes, self.drilling = routes, drilling
        self._back = back
        self._seconds: float | None = None
        self._due: tuple[Due, ...] = ()
        self.enter()

    def enter(self) -> None:
        """A drill may have been done meanwhile."""
        self._due = self.drilling.session()
        self.dirty = True

    def back(self) -> Scene | None:
        """Where the player came from."""
        return self._back

    # What can be done.

    def today(self) -> Scene | None:
        """Practise what is due."""
        self.drilling.pass_moment = None
        return AskScene(self.routes, self.drilling, self, due=self._due, seconds=self._seconds)

    def drill(self, skill: Skill) -> Scene | None:
        """Practise one skill, hand after hand. For passes the moment is chosen first."""
        if skill is Skill.PASS:
            return WhichPassScene(self.routes, self.drilling, self, self._seconds)
        return AskScene(self.routes, self.drilling, self, skill=skill, seconds=self._seconds)

    def film(self) -> Scene | None:
        """Watch a strong player without questions."""
        return FilmScene(self.routes, self.drilling, self)

    def allow(self, seconds: float | None) -> Scene | None:
        """Answer by the clock, or without one."""
        self._seconds = seconds
        return None

    def ready(self, days: int | None) -> Scene | None:
        """Be ready for a day so many days from now."""
        self.drilling.be_ready(None if days is None else date.today() + timedelta(days=days))
        self.enter()
        return None

    # What is on it.

    def paint(self, ui: Ui) -> None:
        """Today at the left, the drills at the right."""
        sheet = self.drilling.sheet
        rest = ui.header("Practice", f"{sheet.name} {sheet.season}", self.back)
        scrolled(ui, "practice", rest, self._fill, widest=WIDEST)

    def _fill(self, page: Column) -> None:
        with page.beside([1, 1.15], least=TWO_COLUMNS) as (left, right):
            self._today(left)
            self._drills(right)

    def _today(self, page: Column) -> None:
        with page.panel("Today") as inside:
            if not self._due:
                inside.text("Nothing is due now. A drill of your choice never hurts.", BODY, SOFT)
            else:
                inside.text(f"{count(len(self._due), 'question').capitalize()}, about ten minutes at most.", BODY, SOFT)
                inside.gap(10)
                inside.points([due_words(due, self.drilling.now()) for due in self._due[:MOST_SHOWN]])
                inside.gap(14)
                inside.buttons([Press("Begin", self.today, "return", main=True)])
        page.gap(14)
        with page.panel("The day to be ready for") as inside:
            inside.text(ready_words(self.drilling.schedule.ready, date.today()), BODY, SOFT)
            inside.gap(8)
            chosen = next((days for days, _ in READY if self._is_ready(days)), -1)
            inside.add(lambda at, width: inside.ui.choice(at, width, "ready", READY, chosen, self.ready))
        page.gap(14)
        with page.panel("By the clock") as inside:
            inside.text("Answers against a clock are counted apart from those without one.", BODY, SOFT)
            inside.gap(8)
            inside.add(lambda at, width: inside.ui.choice(at, width, "clock", CLOCKS, self._seconds, self.allow))

    def _is_ready(self, days: int | None) -> bool:
        ready = self.drilling.schedule.ready
        return ready is None if days is None else ready == date.today() + timedelta(days=days)

    def _drills(self, page: Column) -> None:
        for place, (skill, key) in enumerate(zip(ASKED, KEYS, strict=True)):
            page.gap(8 if place else 0)
            with page.card(f"drill {skill.value}", partial(self.drill, skill), says=SKILLS[skill], key=key) as inside:
                inside.text(SKILLS[skill], BODY_BOLD, TEAL)
                inside.text(ABOUT[skill], BODY)
                tallies = [(self.drilling.tally(skill, timed=timed), timed) for timed in (False, True)]
                done = [results_words(tally, timed) for tally, timed in tallies if tally.answers]
                if done:
                    inside.text(" ".join(done), SMALL, SOFT)
        page.gap(8)
        with page.beside([1, 1], gap=8, least=BESIDE) as (left, right):
            with left.card("film", self.film, says="Watch a strong player", key="v") as inside:
                inside.text("Watch a strong player", BODY_BOLD, TEAL)
                inside.text("Each choice, and why.", BODY)
            lessons = partial(self.routes.lessons, self)
            with right.card("lessons", lessons, says="Lessons and positions", key="t") as inside:
                inside.text("Lessons and positions", BODY_BOLD, TEAL)
                inside.text("From a teacher, or your own.", BODY)


class WhichPassScene(Scene):
    """Which moment of the passes to practise."""

    def __init__(self, routes: Routes, drilling: Drilling, back: Scene, seconds: float | None) -> None:
        super().__init__(routes.look)
        self.routes, self.drilling = routes, drilling
        self._back, self._seconds = back, seconds

    def back(self) -> Scene | None:
        """To where drills are chosen."""
        return self._back

    def begin(self, moment: WhichPass | None) -> Scene | None:
        """Practise that moment; None for another one each time."""
        self.drilling.pass_moment = moment
        return AskScene(self.routes, self.drilling, self._back, skill=Skill.PASS, seconds=self._seconds)

    def paint(self, ui: Ui) -> None:
        """One card for each moment."""
        rest = ui.header(SKILLS[Skill.PASS], "which moment?", self.back)
        scrolled(ui, "moments", rest, self._fill, widest=WIDEST, roomy=True)

    def _fill(self, page: Column) -> None:
        page.text("The same moment of the passes comes again and again, each time with another rack.", BODY, SOFT)
        page.gap(12)
        with page.grid(360, 12) as cell:
            for place, (moment, says) in enumerate(MOMENTS_CHOSEN, 1):
                one = cell()
                with one.card(f"moment {place}", partial(self.begin, moment), says=says, key=str(place)) as inside:
                    inside.text(says, BODY_BOLD, TEAL)
