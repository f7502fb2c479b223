"""Drills in the terminal, in whole sentences: a question, an answer that is typed, and what there is to say of it."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterable
from typing import TextIO

from engine.drills.follow import FollowTask, judge_follow
from engine.drills.grades import Grade, Skill
from engine.drills.laying import LayTask, judge
from engine.drills.let_one_go import LetGoTask, judge_let_go
from engine.drills.may_i import MayTask, judge_answer
from engine.drills.one_pass import PassAnswer, PassTask, WhichPass, judge_pass
from engine.drills.schedule import Item
from engine.drills.which_hands import WhichTask, judge_named
from engine.rules.actions import Action, Discard
from engine.sheet.groups import SIZES
from engine.sheet.model import Sheet
from engine.tiles import Kind, TileError, kind_of, parse_tiles
from engine.words import count, listed, nearest, quoted, sentence
from game.play.practice.drilling import Drilling, DrillQuestion
from game.text.typed import NotUnderstoodError
from game.words.drills import (
    lay_asked,
    lay_told,
    may_asked,
    may_told,
    which_asked,
    which_told,
    why_words,
)
from game.words.practice.moments import (
    action_words,
    follow_asked,
    follow_seen,
    let_go_asked,
    let_go_shown,
    let_go_told,
    pass_asked,
    pass_shown,
    pass_told,
)
from game.words.practice.shoulder import follow_told

LEAVE = ("quit", "q", "leave")
SHOW = ("show", "?")
HOW = {
    Skill.LAY: "Type its groups with commas between them, such as “pung 5d, pair fl” or “5d 5d jk, fl fl”.",
    Skill.RECALL: "Type its groups with commas between them, such as “pung 5d, pair fl” or “5d 5d jk, fl fl”.",
    Skill.WHICH: "Type their names with commas between them.",
    Skill.MAY_I: "Type “yes” or “no”.",
    Skill.LET_GO: "Type a tile of the rack, such as “5d”.",
    Skill.PASS: "Type three tiles of the rack, such as “5d 3c we”.",
    Skill.FOLLOW: "Type a tile of the rack, such as “5d”.",
}
COURTESY = "Type up to three tiles of the rack, such as “5d we”, or “none”."
NOTHING_DUE = "Nothing is due now. Type a drill's name after “lone-east drill” to practise all the same."
HELP = ("help", "h")
END = "Type “show” to see the answer, “quit” to leave."


class TextDrill:
    """Asks questions at the terminal until the player leaves or no more are due.

    `clock` gives seconds from any fixed moment; `seconds` is the time allowed for an answer, None without a clock.
    """

    def __init__(
        self,
        drilling: Drilling,
        typed: TextIO,
        say: Callable[[str], None],
        *,
        seconds: float | None = None,
        clock: Callable[[], float] = time.monotonic,
    ) -> None:
        self.drilling = drilling
        self.typed = typed
        self.say = say
        self.seconds = seconds
        self.clock = clock
        self.grades: list[Grade] = []

    def today(self) -> None:
        """What is due today, item by item, each with the reason why it comes up."""
        session = self.drilling.session()
        for due in session:
            self.say(why_words(due, self.drilling.now()))
            if not self.ask(self.drilling.question(due.item, due.why)):
                break
        self._close(asked=bool(session))

    def one_skill(self, skill: Skill, most: int | None = None) -> None:
        """One drill, hand after hand, until the player leaves or `most` have been asked."""
        asked: list[str] = []
        while most is None or len(asked) < most:
            item: Item = self.drilling.next_of(skill, asked)
            if not self.ask(self.drilling.question(item)):
                break
            asked.append(item.hand)
        self._close(asked=True)

    def ask(self, question: DrillQuestion) -> bool:
        """One question; whether to go on."""
        if isinstance(question.task, FollowTask):
            for one in follow_seen(question.task, self.drilling.shoulder().sitting):
                self.say(one)
        how = f"{_how(question)} {END}"
        time_left = "" if self.seconds is None else f" You have {count(round(self.seconds), 'second')}."
        self.say(f"{_asked(question)} {how}{time_left}")
        begun = self.clock()
        while True:
            line = self.typed.readline()
            if not line or line.strip().lower() in LEAVE:
                return False
            text, spent = line.strip(), self.clock() - begun
            if not text:
                continue
            if text.lower() in HELP:
                self.say(how)
                continue
            try:
                grade, told = (
                    (Grade.WRONG, _shown(self.drilling, question))
                    if text.lower() in SHOW
                    else _judged(self.drilling, question, text)
                )
            except NotUnderstoodError as error:
                self.say(str(error))
                continue
            if self.seconds is not None and spent > self.seconds and grade is Grade.RIGHT:
                grade = Grade.NEAR
                told = ["Right, though over the time allowed.", *told[1:]]
            for one in told:
                self.say(one)
            self.grades.append(grade)
            self.drilling.answered(question, grade, spent, self.seconds)
            return True

    def _close(self, asked: bool) -> None:
        """The last word; `asked` says whether there was a question at all."""
        number = len(self.grades)
        if not number:
            self.say("Nothing was answered, so nothing changes." if asked else NOTHING_DUE)
            return
        right = sum(grade is Grade.RIGHT for grade in self.grades)
        self.say(f"{right} right of {count(number, 'question')}. It is kept.")


def _asked(question: DrillQuestion) -> str:
    task = question.task
    if isinstance(task, LayTask):
        return lay_asked(task)
    if isinstance(task, LetGoTask):
        return let_go_asked(task)
    if isinstance(task, PassTask):
        return pass_asked(task)
    if isinstance(task, FollowTask):
        return follow_asked(task)
    return which_asked(task) if isinstance(task, WhichTask) else may_asked(task)


def _how(question: DrillQuestion) -> str:
    """How to type the answer."""
    task = question.task
    if isinstance(task, PassTask) and task.moment is WhichPass.SECOND_ROUND:
        return HOW[Skill.MAY_I]
    if isinstance(task, PassTask) and task.moment is WhichPass.COURTESY:
        return COURTESY
    if isinstance(task, FollowTask) and task.call is not None:
        rows = [f"{place} for “{action_words(one)}”" for place, one in enumerate(task.choices, 1)]
        return f"Type {listed(rows, 'or')}."
    return HOW[question.skill]


def _shown(drilling: Drilling, question: DrillQuestion) -> list[str]:
    """The answer, for a player who asks to see it."""
    task = question.task
    if isinstance(task, LetGoTask):
        return let_go_shown(judge_let_go(task, task.best, drilling.work))
    if isinstance(task, PassTask):
        return pass_shown(judge_pass(task, drilling.table, task.best(drilling.table), drilling.work))
    if isinstance(task, FollowTask):
        return follow_told(task, judge_follow(task, drilling.table, task.does, drilling.work))[1:]
    if isinstance(task, LayTask):
        return [f"It is {' '.join(lay_told(task, judge(task, []))[-1:])}"]
    if isinstance(task, WhichTask):
        return which_told(task, judge_named(task, [reach.hand.name for reach in task.hands[:2]]))[1:]
    return may_told(task, Grade.RIGHT)[1:]


def _judged(drilling: Drilling, question: DrillQuestion, text: str) -> tuple[Grade, list[str]]:
    """The grade of what was typed, and what there is to say. Raises NotUnderstoodError."""
    task = question.task
    if isinstance(task, LayTask):
        judged = judge(task, groups_typed(text))
        if not judged.off:
            drilling.laid(question, judged.nearest)
        return judged.grade, lay_told(task, judged)
    if isinstance(task, WhichTask):
        try:
            named = judge_named(task, hands_typed(text, drilling.sheet))
        except NotUnderstoodError:
            raise
        except ValueError as error:
            raise NotUnderstoodError(sentence(f"{error}.")) from error
        return named.grade, which_told(task, named)
    if isinstance(task, MayTask):
        grade = judge_answer(task, yes_typed(text))
        return grade, may_told(task, grade)
    try:
        return _judged_play(drilling, task, text)
    except NotUnderstoodError:
        raise
    except ValueError as error:
        raise NotUnderstoodError(sentence(f"{error}.")) from error


def _judged_play(drilling: Drilling, task: LetGoTask | PassTask | FollowTask, text: str) -> tuple[Grade, list[str]]:
    """The same for a moment of play. Raises ValueError for what is no answer."""
    if isinstance(task, LetGoTask):
        let_go = judge_let_go(task, _one_tile(text), drilling.work)
        return let_go.price.grade, let_go_told(let_go)
    if isinstance(task, PassTask):
        passed = judge_pass(task, drilling.table, _pass_typed(task, text), drilling.work)
        return passed.price.grade, pass_told(passed)
    followed = judge_follow(task, drilling.table, _action_typed(task, text), drilling.work)
    return followed.grade, follow_told(task, followed)


def _one_tile(text: str) -> Kind:
    tiles = _tiles_typed(text)
    if len(tiles) != 1:
        raise NotUnderstoodError(HOW[Skill.LET_GO])
    return tiles[0]


def _tiles_typed(text: str) -> tuple[Kind, ...]:
    try:
        return tuple(parse_tiles(text))
    except TileError as error:
        raise NotUnderstoodError(sentence(f"{error}.")) from error


def _pass_typed(task: PassTask, text: str) -> PassAnswer:
    if task.moment is WhichPass.SECOND_ROUND:
        return PassAnswer(agree=yes_typed(text))
    none = task.moment is WhichPass.COURTESY and text.lower() == "none"
    return PassAnswer(() if none else _tiles_typed(text))


def _action_typed(task: FollowTask, text: str) -> Action:
    if task.call is None:
        return Discard(_one_tile(text))
    places = [str(place) for place in range(1, len(task.choices) + 1)]
    if text not in places:
        raise NotUnderstoodError(f"Type {listed(places, 'or')}.")
    return task.choices[int(text) - 1]


def groups_typed(text: str) -> list[tuple[Kind, ...]]:
    """`pung 5d, fl fl` as tiles laid in groups. Raises NotUnderstoodError."""
    groups = []
    for part in text.split(","):
        said = part.split()
        try:
            if len(said) == 2 and said[0].lower() in SIZES:
                groups.append((kind_of(said[1]),) * (SIZES.index(said[0].lower()) + 1))
            else:
                groups.append(parse_tiles(part))
        except TileError as error:
            raise NotUnderstoodError(sentence(f"{error}.")) from error
    groups = [group for group in groups if group]
    if not groups:
        raise NotUnderstoodError(HOW[Skill.LAY])
    return groups


def hands_typed(text: str, sheet: Sheet) -> list[str]:
    """Names of hands, whole or as far as they are unlike others. Raises NotUnderstoodError."""
    return [_hand_typed(part.strip(), [hand.name for hand in sheet.hands]) for part in text.split(",") if part.strip()]


def _hand_typed(text: str, names: Iterable[str]) -> str:
    known = list(names)
    whole = [name for name in known if name.lower() == text.lower()]
    begins = whole or [name for name in known if name.lower().startswith(text.lower())]
    if len(begins) == 1:
        return begins[0]
    if begins:
        raise NotUnderstoodError(f"{quoted(text)} may be {listed(begins[:4], 'or')}; type more of the name.")
    guess = nearest(text, known)
    hint = f"; did you mean {guess}?" if guess else ". Type a hand's name as it stands on the sheet."
    raise NotUnderstoodError(f"There is no hand {quoted(text)} on this sheet{hint}")


def yes_typed(text: str) -> bool:
    """Yes or no. Raises NotUnderstoodError."""
    word = text.strip().lower()
    if word in ("yes", "y", "no", "n"):
        return word.startswith("y")
    raise NotUnderstoodError(HOW[Skill.MAY_I])
