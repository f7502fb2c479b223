"""Reads a lesson's file: YAML text to a Lesson, or every fault with line, column and what to write instead."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from os import PathLike

from engine.drills.grades import Skill
from engine.drills.lesson.model import (
    MOST_CHOICES,
    MOST_STEPS,
    MOST_TIMES,
    USUAL_DRAWS,
    DealStep,
    DrillStep,
    Given,
    Lesson,
    PositionStep,
    ReadStep,
    Step,
)
from engine.drills.one_pass import WhichPass
from engine.rules.deal import DealCode, DealCodeError
from engine.rules.laid_out import PositionError, lay_out
from engine.sheet.faults import Fields, SheetReading
from engine.sheet.model import Sheet
from engine.sheet.plain_text import UnreadError, bytes_of, seen_text, text_of
from engine.sheet.reader import Fault
from engine.sheet.tree import Listing, Mapping, Node, Places, Refused, Scalar, tree
from engine.tiles import TileError, parse_tiles
from engine.words import in_words, listed, nearest, quoted

MOST_BYTES = 1 << 18
"""As for a sheet: a lesson of a hundred steps is a fifth of this."""
MOST_FAULTS = 200
OWN_WORDS = ("lesson", "maker", "position", "say", "ask")
"""Keys whose text the teacher words freely: a # in it is meant to be read."""
KEYS = ("lesson", "maker", "sheet", "season", "steps")
STEP_KEYS = (
    "say", "deal", "drill", "times", "hand", "moment", "seconds", "position", "rack", "shown", "exposed", "draws",
    "ask", "choices", "answer",
)  # fmt: skip
BELONGS = {
    "deal": ("deal", "say"),
    "drill": ("drill", "times", "hand", "moment", "seconds", "say"),
    "position": ("position", "rack", "shown", "exposed", "draws", "ask", "choices", "answer", "say"),
    "say": ("say",),
}
"""The kinds of step, by the key that makes one, with the keys that go with it."""
SKILLS = [skill.value for skill in Skill]
PLAYED = [Skill.LET_GO.value, Skill.FOLLOW.value, Skill.PASS.value]
"""The drills that are about no hand."""
OF_HANDS = [value for value in SKILLS if value not in PLAYED]
MOMENTS = [moment.value for moment in WhichPass]
EXAMPLES = {
    "lesson": "lesson: and the lesson's name",
    "maker": "maker: and who made it",
    "sheet": "sheet: and the sheet's name",
    "season": "season: and the sheet's year in digits",
    "steps": "steps: and below it a list, each item beginning with - say:, - drill:, - position: or - deal:",
    "say": "say: and what is to be read",
    "deal": "deal: and a deal's code",
    "drill": f"drill: and {listed(SKILLS, 'or')}",
    "times": "times: 5",
    "hand": "hand: and the hand's name",
    "moment": f"moment: and {listed(MOMENTS, 'or')}",
    "seconds": "seconds: 30",
    "position": "position: and its title",
    "rack": "rack: 2b 3b 3b 5c 5c 6c we we 7d 7d 7d fl jk 9d",
    "shown": "shown: we 3x1b",
    "exposed": "exposed: kong 5d; pung wn jokers 1",
    "draws": "draws: 20",
    "ask": "ask: and a question",
    "choices": "choices: and below it a list of answers",
    "answer": "answer: and the right answer",
}
"""What to write for each key."""


@dataclass(frozen=True)
class LessonReading:
    """The lesson of a file and its sheet, or its faults in the order of the file."""

    lesson: Lesson | None
    sheet: Sheet | None
    faults: tuple[Fault, ...]


def read_lesson_file(path: str | PathLike[str], sheets: Iterable[Sheet]) -> LessonReading:
    """Read a file. `sheets` are those that are here. A file that can't be read is a fault too."""
    try:
        return read_lesson(bytes_of(path, MOST_BYTES, "lesson"), sheets, str(path))
    except UnreadError as error:
        return LessonReading(None, None, (Fault(str(path), error.line, error.column, error.message),))


def read_lesson(content: str | bytes, sheets: Iterable[Sheet], source: str = "lesson") -> LessonReading:
    """Read a lesson from the text or the bytes of a YAML file; `source` names it in faults."""
    try:
        text = text_of(content, MOST_BYTES, "lesson")
    except UnreadError as error:
        return LessonReading(None, None, (Fault(source, error.line, error.column, error.message),))
    return _Reader(text, source, tuple(sheets)).reading()


def given(step: PositionStep) -> Given:
    """A position as it is asked. Raises PositionError, and TileError for an answer that is no tiles."""
    laid = lay_out(step.rack, step.shown, step.exposed, ("rack", "shown", "exposed"))
    right = tuple(parse_tiles(step.answer)) if step.answer and not step.choices else ()
    return Given(laid, right)


class _Reader:
    """Reads one text, gathering faults on the way."""

    def __init__(self, text: str, source: str, sheets: Sequence[Sheet]) -> None:
        self._source, self._sheets = source, sheets
        self._places = Places(text)
        self._found: list[tuple[int, str]] = []
        self._text = text
        self._sheet: Sheet | None = None
        self._reading = SheetReading(text, self._report, examples=EXAMPLES)

    def _report(self, offset: int, message: str) -> None:
        if len(self._found) < MOST_FAULTS:
            self._found.append((offset, message))

    def reading(self) -> LessonReading:
        """The whole text, judged."""
        text = seen_text(self._text, self._report, "lesson")
        lesson = None
        if text is not None:
            self._reading.text = text
            lesson = self._lesson(text)
        if self._found or lesson is None:
            faults = {Fault(self._source, *self._places.of(offset), said) for offset, said in self._found}
            return LessonReading(None, None, tuple(sorted(faults)))
        return LessonReading(lesson, self._sheet, ())

    def _lesson(self, text: str) -> Lesson | None:
        root = tree(text, self._report, "lesson")
        if root is None or (not isinstance(root, Mapping) and not isinstance(root, Refused)):
            self._report(0, f"the file holds no lesson; write {EXAMPLES['lesson']}, then sheet:, season: and steps:")
        if not isinstance(root, Mapping):
            return None
        found = self._reading.fields(root, KEYS, ("lesson", "sheet", "season", "steps"), "the lesson's file")
        name = self._name(found, "lesson")
        sheet, season = self._name(found, "sheet"), self._name(found, "season")
        if sheet and season:
            self._find(found, sheet, season)
        steps = self._steps(found["steps"]) if "steps" in found else ()
        if not (name and sheet and season):
            return None
        return Lesson(name, sheet, season, steps, self._name(found, "maker") or "")

    def _cut_short(self, node: Node) -> bool:
        """Whether a text without quotes ends at a # that was meant to be part of it; a fault says so."""
        if not isinstance(node, Scalar) or node.style is not None:
            return False
        rest = self._reading.text[node.end :].partition("\n")[0]
        if not rest.lstrip(" ").startswith("#"):
            return False
        at = node.end + rest.index("#")
        self._report(at, "what follows # is not read; put the whole text into quotes, or take out what follows")
        return True

    def _name(self, found: Fields, key: str) -> str | None:
        if key in OWN_WORDS and key in found and self._cut_short(found[key]):
            return None
        return self._reading.name(found[key], key) if key in found else None

    def _find(self, found: Fields, name: str, season: str) -> None:
        """The sheet that the lesson is for."""
        fits = [one for one in self._sheets if (one.name, one.season) == (name, season)]
        if fits:
            self._sheet = fits[0]
            return
        others = [one for one in self._sheets if one.name == name]
        guess = nearest(name, [one.name for one in self._sheets])
        if others:
            years = listed([one.season for one in others], "or")
            self._report(
                found["season"].start,
                f"{quoted(name)} is here for the season {years}; write season: {years}, or load the other one first",
            )
        else:
            hint = f"; did you mean {guess}?" if guess else "; load that sheet first, then open the lesson again"
            self._report(found["sheet"].start, f"there is no sheet {quoted(name)} here{hint}")

    def _steps(self, node: Node) -> tuple[Step, ...]:
        if isinstance(node, Refused):
            return ()
        if not isinstance(node, Listing) or (not node.items and node.complete):
            self._report(node.start, f"the lesson has no steps; write {EXAMPLES['steps']}")
            return ()
        if len(node.items) > MOST_STEPS:
            self._report(node.start, f"the lesson has {len(node.items):,} steps; write at most {MOST_STEPS}")
            return ()
        return tuple(step for item in node.items if (step := self._step(item)) is not None)

    def _step(self, node: Node) -> Step | None:
        if not isinstance(node, Mapping):
            if not isinstance(node, Refused):
                self._report(node.start, f"this is no step; {_BEGIN}")
            return None
        found = self._reading.fields(node, STEP_KEYS, (), "a step")
        kinds = [kind for kind in ("deal", "drill", "position") if kind in found]
        if len(kinds) > 1:
            self._report(node.start, f"a step is {listed(kinds, 'or')}, not both; make two steps of it")
            return None
        if not kinds and "say" not in found and node.complete:
            self._report(node.start, f"this step says nothing; {_BEGIN}")
            return None
        kind = kinds[0] if kinds else "say"
        for key in found:
            if key not in BELONGS[kind]:
                self._report(found[key].start, f"{key} does not go with {kind}; take it out")
        return {"deal": self._deal, "drill": self._drill, "position": self._position, "say": self._read}[kind](found)

    def _text_of(self, found: Fields, key: str) -> str:
        if key in OWN_WORDS and key in found and self._cut_short(found[key]):
            return ""
        scalar = self._reading.string(found[key], key) if key in found else None
        return "" if scalar is None else scalar.value.strip()

    def _number(self, found: Fields, key: str, low: int, high: int, usual: int) -> int:
        scalar = self._reading.string(found[key], key) if key in found else None
        if scalar is None:
            return usual
        text = scalar.value.strip()
        if not (text.isascii() and text.isdecimal()) or len(text) > 6 or not low <= int(text) <= high:
            self._report(scalar.start, f"{key} is {quoted(text)}; write a whole number from {low} to {high}")
            return usual
        return int(text)

    def _among(self, found: Fields, key: str, known: Sequence[str]) -> str:
        """One of the words that are known, or nothing."""
        scalar = self._reading.string(found[key], key) if key in found else None
        if scalar is None:
            return ""
        text = scalar.value.strip()
        if text in known:
            return text
        guess = nearest(text, known)
        cure = f"write {guess}" if guess else f"write {listed(list(known), 'or')}"
        self._report(scalar.start, f"{quoted(text)} is not known for {key}; {cure}")
        return ""

    def _read(self, found: Fields) -> Step:
        return ReadStep(self._text_of(found, "say"))

    def _deal(self, found: Fields) -> Step | None:
        text = self._text_of(found, "deal")
        try:
            code = DealCode.parse(text) if text else None
        except DealCodeError as error:
            self._report(found["deal"].start, f"{error}".rstrip("."))
            return None
        if code is not None and self._sheet is not None and not code.is_for(self._sheet):
            self._report(found["deal"].start, "this deal's code was made for another sheet, or another edition of it")
        return DealStep(text, self._text_of(found, "say"))

    def _drill(self, found: Fields) -> Step | None:
        skill = self._among(found, "drill", SKILLS)
        hand = self._text_of(found, "hand")
        if hand and self._sheet is not None and hand not in [one.name for one in self._sheet.hands]:
            guess = nearest(hand, [one.name for one in self._sheet.hands])
            cure = f"write {guess}" if guess else "write its name as it stands on the sheet"
            self._report(found["hand"].start, f"there is no hand {quoted(hand)} on {self._sheet.name}; {cure}")
        if hand and skill in PLAYED:
            self._report(found["hand"].start, f"hand goes with drill: {listed(OF_HANDS, 'or')} only; take it out")
        moment = self._among(found, "moment", MOMENTS)
        if moment and skill and skill != Skill.PASS.value:
            self._report(found["moment"].start, f"moment goes with drill: {Skill.PASS.value} only; take it out")
        times = self._number(found, "times", 1, MOST_TIMES, 3)
        seconds = self._number(found, "seconds", 5, 600, 0)
        if not skill:
            return None
        which = WhichPass(moment) if moment else None
        return DrillStep(Skill(skill), times, hand, which, float(seconds) or None, self._text_of(found, "say"))

    def _position(self, found: Fields) -> Step | None:
        title = self._name(found, "position") or ""
        rack = self._text_of(found, "rack")
        if "rack" not in found:
            self._report(found["position"].start, f"a position lacks its rack; write {EXAMPLES['rack']}")
        choices = self._choices(found)
        step = PositionStep(
            title, rack, self._text_of(found, "shown"), self._text_of(found, "exposed"),
            self._number(found, "draws", 0, 99, USUAL_DRAWS), self._text_of(found, "ask"), choices,
            self._text_of(found, "answer"), self._text_of(found, "say"),
        )  # fmt: skip
        if rack and ("choices" not in found or choices):
            self._judge(found, step)
        return step

    def _choices(self, found: Fields) -> tuple[str, ...]:
        node = found.get("choices")
        if node is None or isinstance(node, Refused):
            return ()
        items = node.items if isinstance(node, Listing) else ()
        if sum(self._cut_short(one) for one in items):
            return ()
        texts = [one.value.strip() for one in items if isinstance(one, Scalar)]
        plain = (
            len(texts) == len(items) and all(0 < len(text) <= 200 for text in texts) and len(set(texts)) == len(texts)
        )
        if not plain or not 2 <= len(texts) <= MOST_CHOICES:
            self._report(
                node.start,
                f"choices must be two to {in_words(MOST_CHOICES)} different short texts, each on a line after a -",
            )
            return ()
        return tuple(texts)

    def _judge(self, found: Fields, step: PositionStep) -> None:
        """What can't be laid, asked or answered."""
        try:
            asked = given(step)
        except PositionError as error:
            said = str(error).rstrip(".")
            about = next((key for key in ("shown", "exposed") if said.startswith(key) and key in found), "rack")
            self._report(found[about].start, said[0].lower() + said[1:])
            return
        except TileError as error:
            self._report(found["answer"].start, f"answer: {error}")
            return
        if step.draws > sum(asked.laid.unseen):
            self._report(found["draws"].start, f"only {sum(asked.laid.unseen)} tiles are unseen; write fewer draws")
        if step.choices and step.answer not in step.choices:
            self._report(found["choices"].start, "the answer must be one of the choices, written the same way")
        lying = sum(one.size for one in asked.laid.exposures)
        whole = sum(asked.laid.counts) + lying == 14
        if not step.choices and step.answer and not whole:
            self._report(found["answer"].start, "a rack of 13 tiles lets none go; write choices: and the right one")
        for kind in asked.right:
            if not asked.laid.counts[kind]:
                self._report(found["answer"].start, "the answer must be a tile of the rack, or several that are right")
                break


_BEGIN = "begin it with - say:, - drill:, - position: or - deal:"
