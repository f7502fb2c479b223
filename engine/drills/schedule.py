"""When to practise which hand again: one card for each hand and skill, spaced out by the `fsrs` library.

The player never rates themselves. A card is rated from the grade of the answer and its pace. The library's fuzz is
switched off, since it uses the global random generator: the same answers at the same times give the same schedule.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import UTC, date, datetime, time, timedelta
from enum import Enum

from fsrs import Card, Rating, Scheduler

from engine.drills.grades import Answered, Grade, Pace, Skill
from engine.store.values import Json

RETENTION = 0.9
"""The share of cards that should still be known when they come up."""
RETENTION_BEFORE_A_DATE = 0.95
"""The same in the last days before the date to be ready for."""
LAST_DAYS = 14
"""Days before that date in which more is asked for."""
FEW_NEW = 3
"""New cards a day where no date presses."""
MOST_NEW = 8
"""New cards a day however near the date is."""
MOST_ITEMS = 12
"""Items of one session at most: about ten minutes. What does not fit waits, and is never counted up."""
AFTER_A_BREAK = 6
"""Items of the first session after a break."""
BREAK = 3
"""Days without practice that make a break."""
HALF_A_DAY = timedelta(hours=12)
"""What lies within it counts as the same day, in any time zone."""


class Why(Enum):
    """Why an item comes up."""

    NEW = "new"
    """Not practised yet."""
    FADING = "fading"
    """Known once, and by now likely to fade."""
    MISSED = "missed"
    """Answered wrongly the last time."""
    READY = "ready"
    """Would fade before the date to be ready for."""


@dataclass(frozen=True, order=True)
class Item:
    """What a card is about: a hand of the sheet, by name, and a skill, by its value."""

    hand: str
    skill: str


@dataclass(frozen=True)
class Due:
    """One item of a session, and why it comes up."""

    item: Item
    why: Why
    known: float
    """The chance, 0 to 1, that it is still known; 0 for a new one."""
    last: datetime | None
    """When it was practised last."""


@dataclass(frozen=True)
class Memory:
    """One card: what the library knows of it, and how the last answer was."""

    card: Card
    grade: Grade
    """Of the last answer."""
    begun: datetime
    """When it was practised first, in UTC."""

    def to_json(self) -> Json:
        """As plain values for the store."""
        return {"card": self.card.to_json(), "grade": self.grade.value, "begun": self.begun.isoformat()}

    @classmethod
    def from_json(cls, value: object) -> Memory:
        """What `to_json` gave. Raises ValueError for anything else."""
        if not isinstance(value, Mapping) or not isinstance(value.get("card"), str):
            raise ValueError("this is no card of the schedule")
        try:
            begun = datetime.fromisoformat(value["begun"]).astimezone(UTC)
            return cls(Card.from_json(value["card"]), Grade(value.get("grade")), begun)
        except (KeyError, TypeError, AttributeError) as error:
            raise ValueError("this card of the schedule can't be read") from error


def rating_of(grade: Grade, pace: Pace) -> Rating:
    """The library's rating for an answer: wrong is Again, near or slow is Hard, quick is Easy, all else is Good."""
    if grade is Grade.WRONG:
        return Rating.Again
    if grade is Grade.NEAR or pace is Pace.SLOW:
        return Rating.Hard
    return Rating.Easy if pace is Pace.QUICK else Rating.Good


@dataclass(frozen=True)
class Schedule:
    """All cards of one sheet, and the date to be ready for. A frozen value: every answer gives the next one."""

    memories: Mapping[Item, Memory] = field(default_factory=dict)
    ready: date | None = None
    """The next club evening or the season's end; None where no date presses."""

    def answered(self, answer: Answered, pace: Pace, now: datetime) -> Schedule:
        """The schedule after an answer. `now` is in UTC."""
        item = Item(answer.hand, answer.skill.value)
        before = self.memories.get(item)
        card = before.card if before is not None else Card(card_id=1, due=now)
        if card.last_review is not None and now < card.last_review:  # the clock was set back
            now = card.last_review
        card, _ = self._scheduler(now).review_card(card, rating_of(answer.grade, pace), now)
        begun = before.begun if before is not None else now
        return replace(self, memories={**self.memories, item: Memory(card, answer.grade, begun)})

    def known(self, item: Item, now: datetime) -> float:
        """The chance that an item is still known; 0 for a new one."""
        memory = self.memories.get(item)
        if memory is None or memory.card.last_review is None:
            return 0.0
        return float(self._scheduler(now).get_card_retrievability(memory.card, max(now, memory.card.last_review)))

    def session(self, items: Iterable[Item], now: datetime, most: int = MOST_ITEMS) -> tuple[Due, ...]:
        """What to practise now, the most useful first: missed items, fading ones, then a few new ones.

        `items` are all that the sheet offers, in the order in which new ones should come up. After a break the
        session is short. What does not fit comes up another day; nothing is counted as owed.
        """
        offered = list(dict.fromkeys(items))
        if self._days_since_practice(now) >= BREAK:
            most = min(most, AFTER_A_BREAK)
        old = [due for item in offered if (due := self._due(item, now)) is not None]
        old.sort(key=lambda due: (due.why is not Why.MISSED, due.known, due.item))
        new = [Due(item, Why.NEW, 0.0, None) for item in offered if item not in self.memories]
        room = max(most - len(old), min(len(new), 1) if most > 1 else 0)
        begun = self._begun_today(now)
        fresh = new[: max(min(room, self._new_a_day(len(new), now) - begun), 0)]
        return (*old[: most - len(fresh)], *fresh)

    def _due(self, item: Item, now: datetime) -> Due | None:
        """An item that was practised before, if it comes up now."""
        memory = self.memories.get(item)
        if memory is None:
            return None
        known, last = self.known(item, now), memory.card.last_review
        if memory.card.due <= now:
            why = Why.MISSED if memory.grade is Grade.WRONG else Why.FADING
            return Due(item, why, known, last)
        if self._days_left(now) in range(LAST_DAYS + 1) and not self._practised_today(memory, now):
            then = datetime.combine(self.ready or _day(now), time()).astimezone(UTC)
            if self.known(item, max(then, now)) < RETENTION_BEFORE_A_DATE and known < RETENTION_BEFORE_A_DATE:
                return Due(item, Why.READY, known, last)
        return None

    def _new_a_day(self, left: int, now: datetime) -> int:
        """How many new cards a day: enough to have met all of them a week before the date."""
        days = self._days_left(now)
        if days < 0:
            return FEW_NEW
        return min(max(-(-left // max(days - 7, 1)), FEW_NEW), MOST_NEW)

    def _days_left(self, now: datetime) -> int:
        """Days to the date to be ready for; -1 where there is none, or it is over."""
        return -1 if self.ready is None else max((self.ready - _day(now)).days, -1)

    def _days_since_practice(self, now: datetime) -> int:
        last = [memory.card.last_review for memory in self.memories.values() if memory.card.last_review is not None]
        return (now - max(last)).days if last else 0

    def _begun_today(self, now: datetime) -> int:
        """Cards that were practised for the first time in the last half day."""
        return sum(now - memory.begun < HALF_A_DAY for memory in self.memories.values())

    @staticmethod
    def _practised_today(memory: Memory, now: datetime) -> bool:
        return memory.card.last_review is not None and now - memory.card.last_review < HALF_A_DAY

    def _scheduler(self, now: datetime) -> Scheduler:
        """The library's scheduler, without learning steps and without fuzz; longest interval: up to the date."""
        days = self._days_left(now)
        pressed = 0 <= days <= LAST_DAYS
        return Scheduler(
            desired_retention=RETENTION_BEFORE_A_DATE if pressed else RETENTION,
            learning_steps=(),
            relearning_steps=(),
            maximum_interval=max(days, 1) if days >= 0 else 365,
            enable_fuzzing=False,
        )

    def to_json(self) -> Json:
        """As plain values for the store."""
        cards: list[Json] = [
            [item.hand, item.skill, memory.to_json()] for item, memory in sorted(self.memories.items())
        ]
        return {"ready": self.ready.isoformat() if self.ready else None, "cards": cards}

    @classmethod
    def from_json(cls, value: object) -> tuple[Schedule, int]:
        """What `to_json` gave, and how many cards could not be read: they begin anew."""
        if not isinstance(value, Mapping):
            return cls(), 0
        try:
            ready = date.fromisoformat(value["ready"]) if isinstance(value.get("ready"), str) else None
        except ValueError:
            ready = None
        memories, lost = {}, 0
        cards = value.get("cards")
        for row in cards if isinstance(cards, Sequence) and not isinstance(cards, str) else ():
            try:
                hand, skill, memory = row
                memories[Item(str(hand), Skill(skill).value)] = Memory.from_json(memory)
            except (TypeError, ValueError):
                lost += 1
        return cls(memories, ready), lost


def _day(now: datetime) -> date:
    """The day by the player's own calendar."""
    return now.astimezone().date()
