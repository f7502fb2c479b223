"""A drill under way: which question comes next, how an answer is graded, and what is kept of it.

The window and the terminal ask the same questions through this. It makes no sentences.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime
from itertools import zip_longest
from typing import TypeAlias

from engine.advice.moment import Work
from engine.advice.review.costs import EFFORT
from engine.advice.table import SheetTable
from engine.drills.follow import FollowTask
from engine.drills.grades import Answered, Grade, Skill, pace_of
from engine.drills.laying import LayTask, Stage, lay_task
from engine.drills.let_one_go import LetGoTask, let_go_task
from engine.drills.may_i import MayTask, may_task
from engine.drills.one_pass import PassTask, WhichPass, pass_task
from engine.drills.racks import pick
from engine.drills.schedule import HALF_A_DAY, Due, Item, Schedule, Why
from engine.drills.which_hands import WhichTask, which_task
from engine.seats.players import SeatPlayer, player
from engine.sheet.groups import Variant
from engine.sheet.model import Sheet
from engine.store.store import Store
from engine.store.values import Json
from game.play.advisor import Advisor
from game.play.practice.following import STRONGEST, Shoulder

Task: TypeAlias = "LayTask | WhichTask | MayTask | LetGoTask | PassTask | FollowTask"
OF_A_HAND = (Skill.LAY, Skill.MAY_I, Skill.WHICH, Skill.RECALL)
"""The skills that have a card for each hand, in the order in which a new hand meets them."""
OF_PLAY = (Skill.LET_GO, Skill.PASS, Skill.FOLLOW)
"""The skills that have one card each, in the order in which they are met."""
ASKED = (*OF_A_HAND, *OF_PLAY)
"""Every drill."""
HANDS_BEFORE_PLAY = 3
"""Hands that were begun half a day ago or longer before the first skill of play comes up by itself."""
REMEMBERED = 30
"""Earlier answers of a skill, with a clock or all without one, that tell the player's usual time."""


def kind_of(skill: Skill) -> str:
    """The kind of a skill's results in the store."""
    return f"drill {skill.value}"


def key_of(sheet: Sheet) -> str:
    """The store's key of a sheet's schedule."""
    return f"schedule {sheet.fingerprint}"


OF_PLAY_ITEMS = tuple(Item("", skill.value) for skill in OF_PLAY)
"""Their cards."""


@dataclass(frozen=True)
class DrillQuestion:
    """One question, and why it comes up."""

    item: Item
    task: Task
    why: Why | None = None
    """None where the player asked for this drill."""

    @property
    def skill(self) -> Skill:
        """What it trains."""
        return Skill(self.item.skill)


@dataclass(frozen=True)
class DrillTally:
    """How answers in one skill went."""

    answers: int
    right: int
    near: int


class Drilling:
    """Drills on one whole sheet. `last` is the sheet of the season before, `chance` where fresh racks come from."""

    def __init__(
        self,
        store: Store,
        sheet: Sheet,
        *,
        last: Sheet | None = None,
        jokers: int = 8,
        effort: int = EFFORT,
        chance: random.Random | None = None,
        now: Callable[[], datetime] = lambda: datetime.now(UTC),
    ) -> None:
        self.store = store
        self.sheet = sheet
        self.last = last
        self.jokers = jokers
        self.work = Work(min(effort, EFFORT))
        """How much may be tried out to grade a choice: as much as a review takes. No effort leaves it estimated."""
        self.chance = chance or random.SystemRandom()
        self.now = now
        self.schedule, self.lost = Schedule.from_json(store.get(key_of(sheet)))
        """`lost`: cards that could not be read."""
        self._laid: dict[str, list[Variant]] = {}
        self._advisor: Advisor | None = None
        self._strongest: SeatPlayer | None = None
        self._shoulder: Shoulder | None = None
        self._followed: FollowTask | None = None
        """The choice that was asked about last."""
        self.pass_moment: WhichPass | None = None
        """The moment of the passes to practise; None for another one each time."""

    @property
    def advisor(self) -> Advisor:
        """Advice on the sheet, made when first asked for."""
        if self._advisor is None:
            self._advisor = Advisor(self.sheet, self.jokers, self.work.effort)
        return self._advisor

    @property
    def table(self) -> SheetTable:
        """The sheet compiled for odds."""
        return self.advisor.table

    def shoulder(self, anew: bool = False) -> Shoulder:
        """The game at a full table that is looked at over the shoulder; a new one where the last is over."""
        if self._strongest is None:
            self._strongest = player(STRONGEST, self.table)
        if anew or self._shoulder is None or self._shoulder.over:
            self._shoulder = Shoulder(self.advisor, self._strongest, self.chance)
        return self._shoulder

    def items(self, skills: Sequence[Skill] = OF_A_HAND) -> list[Item]:
        """What can be practised now: all that was practised before, and for each hand the next skill.

        Hands that are new altogether and new skills of older hands take turns, in the order of the sheet. A hand meets
        its next skill half a day after the one before, at the earliest. So do skills of play, which come up once a few
        hands are under way.
        """
        now, known = self.now(), self.schedule.memories
        old: list[Item] = []
        fresh: list[Item] = []
        deeper: list[Item] = []
        for hand in self.sheet.hands:
            items = [Item(hand.name, skill.value) for skill in skills]
            begun = [item for item in items if item in known]
            old += begun
            rest = [item for item in items if item not in known]
            if rest and not begun:
                fresh.append(rest[0])
            elif rest and all(now - known[item].begun >= HALF_A_DAY for item in begun):
                deeper.append(rest[0])
        old += [item for item in OF_PLAY_ITEMS if item in known]
        deeper = [*self._next_of_play(now), *deeper]
        turns = [item for pair in zip_longest(fresh, deeper) for item in pair if item is not None]
        return [*old, *turns]

    def _next_of_play(self, now: datetime) -> list[Item]:
        """The next skill of play to be met, if its time has come."""
        known = self.schedule.memories
        hands = {item.hand for item, memory in known.items() if item.hand and now - memory.begun >= HALF_A_DAY}
        rested = all(now - known[item].begun >= HALF_A_DAY for item in OF_PLAY_ITEMS if item in known)
        new = [item for item in OF_PLAY_ITEMS if item not in known]
        return new[:1] if len(hands) >= HANDS_BEFORE_PLAY and rested else []

    def session(self, most: int | None = None) -> tuple[Due, ...]:
        """What to practise today, most useful first."""
        items = self.items()
        return (
            self.schedule.session(items, self.now()) if most is None else self.schedule.session(items, self.now(), most)
        )

    def next_of(self, skill: Skill, done: Iterable[str] = ()) -> Item:
        """The next hand for a drill of one skill: what is due, else what is known least; `done` were asked just now."""
        if skill in OF_PLAY:
            return Item("", skill.value)
        asked = set(done)
        every = [Item(hand.name, skill.value) for hand in self.sheet.hands]
        items = [item for item in every if item.hand not in asked] or every
        due = self.schedule.session(items, self.now(), 1)
        return due[0].item if due else min(items, key=lambda item: (self.schedule.known(item, self.now()), item))

    def question(self, item: Item, why: Why | None = None) -> DrillQuestion:
        """A fresh question about a hand, or about a moment of play. Raises KeyError for a hand that is not on the
        sheet. A moment of play may take some seconds to find."""
        skill = Skill(item.skill)
        if skill in OF_PLAY:
            return DrillQuestion(item, self._of_play(skill), why)
        hand = self.sheet.hand(item.hand)
        task: Task
        if skill is Skill.WHICH:
            task = which_task(self.table, hand, self.chance, self.jokers)
        elif skill is Skill.MAY_I:
            task = may_task(self.sheet, hand, self.chance, self.last)
        elif skill is Skill.RECALL:
            task = lay_task(hand, Stage.MEMORY, self.chance)
        else:
            laid = self._laid.get(hand.name, [])
            stage = (Stage.LOOSE, Stage.ANOTHER, Stage.FORCED)[min(len(laid), 2)]
            task = lay_task(hand, stage, self.chance, laid)
        return DrillQuestion(item, task, why)

    def _of_play(self, skill: Skill) -> Task:
        """A moment of play."""
        if skill is Skill.LET_GO:
            return let_go_task(self.table, self.chance)
        if skill is Skill.PASS:
            moments = list(WhichPass)
            return pass_task(self.table, self.pass_moment or moments[pick(self.chance, len(moments))], self.chance)
        while True:
            shoulder = self.shoulder()
            if self._followed is not None and shoulder.choice() is self._followed:
                shoulder.play()
            task = shoulder.play_on()
            if task is not None:
                self._followed = task
                return task

    def be_ready(self, day: date | None) -> None:
        """Keep the day to be ready for."""
        self.schedule = replace(self.schedule, ready=day)
        self.store.set(key_of(self.sheet), self.schedule.to_json())

    def tally(self, skill: Skill, timed: bool) -> DrillTally:
        """How answers of a skill went on this sheet, with a clock or without one."""
        grades = [
            result.figures.get("grade")
            for result in self.store.results(kind_of(skill), timed=timed)
            if result.figures.get("sheet") == self.sheet.fingerprint
        ]
        return DrillTally(len(grades), grades.count(Grade.RIGHT.value), grades.count(Grade.NEAR.value))

    def laid(self, question: DrillQuestion, variant: Variant) -> None:
        """A variant was laid rightly: the next task of that hand asks for another one."""
        self._laid.setdefault(question.item.hand, []).append(variant)

    def answered(self, question: DrillQuestion, grade: Grade, seconds: float, allowance: float | None = None) -> None:
        """Keep an answer: its result, and when the hand comes up again.

        Timed and untimed answers are kept apart by their allowance, in seconds.
        """
        skill = question.skill
        usual = [
            float(time)
            for result in self.store.results(kind_of(skill), limit=REMEMBERED, timed=allowance is not None)
            if result.figures.get("grade") == Grade.RIGHT.value
            and isinstance(time := result.figures.get("seconds"), int | float)
        ]
        answer = Answered(skill, question.item.hand, grade, seconds, allowance)
        self.schedule = self.schedule.answered(answer, pace_of(seconds, usual), self.now())
        figures: dict[str, Json] = {
            "sheet": self.sheet.fingerprint,
            "section": self.sheet.hand(question.item.hand).section if question.item.hand else "",
            "hand": question.item.hand,
            "grade": grade.value,
            "seconds": round(seconds, 2),
        }
        self.store.add_result(kind_of(skill), figures, allowance)
        self.store.set(key_of(self.sheet), self.schedule.to_json())


def season_before(sheet: Sheet, sheets: Iterable[Sheet]) -> Sheet | None:
    """The latest earlier season of the same sheet among these, or None."""
    earlier = [one for one in sheets if one.name == sheet.name and one.season < sheet.season]
    return max(earlier, key=lambda one: one.season, default=None)
