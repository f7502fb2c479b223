"""House rules for the next deal: one row a rule, drawn from a list that says what may be chosen."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import partial

from engine.rules.house import FULL, QUIET, SEATS, STRENGTHS, House
from engine.words import count, sentence
from game.draw.theme import BODY, SOFT
from game.play.twisting import kept_twist
from game.scenes.routes import Routes
from game.ui.buttons import Press
from game.ui.column import Column, scrolled
from game.ui.scene import Scene
from game.ui.widgets import Ui
from game.words.deal.twists import twist_choice_words
from game.words.house import SIDES, house_words

WIDEST = 1100
MOST_JOKERS = 10
NO_BLIND = -1
YES_NO = ((True, "Yes"), (False, "No"))
Options = Sequence[tuple[object, str]]


def always(_: House) -> bool:
    """The rule means something at every table."""
    return True


def quiet(house: House) -> bool:
    """At a quiet table only."""
    return house.table == QUIET


def passed(house: House) -> bool:
    """Where there are passes."""
    return bool(house.passes)


@dataclass(frozen=True)
class HouseRow:
    """A house rule as it is offered."""

    field: str
    """The field of `House`."""
    name: str
    note: str
    options: Options
    """Values to choose from, each with what it is called. None of them: a number to be stepped up and down."""
    other: Callable[[int], str] = str
    """What a number that is not among the options is called."""
    fits: Callable[[House], bool] = always
    """Whether the rule means anything beside the other ones."""
    target: str = ""
    """What its control is called, where that is not its name."""


def some(numbers: Sequence[int], none: str, noun: str) -> Options:
    """No limit or bonus at all, or one of the usual numbers."""
    return ((0, none), *((number, f"{number} {noun}") for number in numbers))


TABLE = (
    HouseRow("table", "Table", "quiet: the others pass with you, then only you draw",
         ((QUIET, "Quiet: you alone"), (FULL, "Full: four play"))),
    HouseRow("seat", "Your seat", "East begins with 14 tiles, the others with 13",
         tuple((index, seat.capitalize()) for index, seat in enumerate(SEATS))),
    HouseRow("jokers", "Jokers", "in the whole set", ()),
    HouseRow("picks", "Picks", "how many tiles you may draw", some((20, 30, 40, 60), "All of the wall", "picks"),
         lambda number: count(number, "pick"), quiet),
    HouseRow("slips", "Slips", "a wrong mahjong, or an exposure that fits no hand",
         ((False, "Are refused, with the reason"), (True, "Happen, and are explained after"))),
)  # fmt: skip
PASSES = (
    HouseRow("passes", "Rounds", "right, across, left; then left, across, right",
         ((0, "None"), (3, "One round"), (6, "Two rounds")), lambda number: count(number, "pass", "passes")),
    HouseRow("vote", "Second round", "after the first three passes", ((True, "If all agree"), (False, "Always")),
         fits=lambda house: house.passes > 3, target="vote"),
    HouseRow("courtesy", "Courtesy pass", "up to three tiles across, after the rounds", YES_NO, fits=passed,
         target="courtesy"),
)  # fmt: skip
BLIND = ((0, "Both rounds"), (1, "First round only"), (2, "Second round only"), (NO_BLIND, "None"))
POINTS = (
    HouseRow("last_tiles", "Last tiles of the wall", "in which no discard is called: mahjong is self-drawn",
         some((8, 16, 24), "None", "tiles")),
    HouseRow("discarder_pays_all", "Won by a discard", "by whoever let it go",
         ((False, "Pays double"), (True, "Pays for all"))),
    HouseRow("self_drawn_doubles", "Self-drawn", "the winner draws the last tile",
         ((True, "All pay double"), (False, "All pay single"))),
    HouseRow("jokerless_doubles", "Without a joker", "except singles and pairs",
         ((True, "Doubles"), (False, "Does not double"))),
    HouseRow("concealed_bonus", "Concealed", "more points for a hand with nothing exposed",
         some((5, 10, 20), "No more", "points"), lambda number: count(number, "point")),
    HouseRow("loss_limit", "Limit of loss", "the most a seat may lose, in a match over all its deals",
         some((100, 200, 300, 500), "No limit", "points"), lambda number: count(number, "point")),
    HouseRow("mistake_pays", "Mistaken mahjong", "paid to each other seat, where slips may happen",
         some((10, 25, 50), "Costs nothing", "points"), lambda number: count(number, "point")),
    HouseRow("east_stays", "East wins", "in a match of several deals", ((False, "Passes on"), (True, "Stays East"))),
)  # fmt: skip


class HouseScene(Scene):
    """What a group plays its own way; every change is kept for the next deal."""

    def __init__(self, routes: Routes, back: Scene) -> None:
        super().__init__(routes.look)
        self.routes = routes
        self.desk = routes.desk
        self._back = back

    def back(self) -> Scene | None:
        """Where the player came from."""
        return self._back

    def change(self, **what: object) -> None:
        """Keeps the house rules with some of them changed."""
        self.desk.save_house(replace(self.desk.house, **what))  # type: ignore[arg-type]

    def paint(self, ui: Ui) -> None:
        """One scrolled page."""
        rest = ui.header("House rules", "", self.back)
        scrolled(ui, "house", rest, self._fill, widest=WIDEST, gap=16, roomy=True)

    def _fill(self, page: Column) -> None:
        page.text(f"Your next deal: {house_words(self.desk.house)}.", BODY, SOFT)
        page.buttons([Press("Named sets of rules", lambda: self.routes.house_sets(self), "n")])
        page.gap(10)
        with page.panel("The table") as inside:
            self._rules(inside, TABLE)
        with page.panel("A twist") as inside:
            inside.text(twist_choice_words(kept_twist(self.desk.store), self.desk.house.table))
            inside.gap(10)
            inside.buttons([Press("Twists", lambda: self.routes.twists(self), "t")])
        with page.panel("The passes") as inside:
            self._rules(inside, PASSES)
            self._blind(inside)
        with page.panel("Calls and points") as inside:
            self._rules(inside, POINTS, by_field=True)
        with page.panel("The others") as inside:
            self._others(inside)

    def _rules(self, inside: Column, rules: Sequence[HouseRow], by_field: bool = False) -> None:
        for rule in rules:
            if rule.fits(self.desk.house):
                target = rule.field if by_field else rule.target or rule.name.lower()
                inside.setting(rule.name, rule.note, partial(self._control, inside.ui, rule, target))

    def _control(self, ui: Ui, rule: HouseRow, target: str, at: tuple[int, int], width: int) -> int:
        value = getattr(self.desk.house, rule.field)

        def pick(to: object) -> None:
            self.change(**{rule.field: to})

        if not rule.options:
            return ui.stepper(at, target, value, 0, MOST_JOKERS, pick).bottom
        options = list(rule.options)
        if value not in dict(options):
            options.append((value, rule.other(value)))
        return ui.choice(at, width, target, options, value, pick)

    def _blind(self, inside: Column) -> None:
        """One row for two fields: whether tiles may be passed on unseen, and in which round."""
        ui, house = inside.ui, self.desk.house
        if not house.passes:
            return
        now = house.blind_round if house.blind else NO_BLIND

        def pick(to: int) -> None:
            self.change(blind=to != NO_BLIND, blind_round=0 if to == NO_BLIND else to)

        note = "tiles coming in passed on unseen, on the last pass of a round"
        inside.setting("Blind pass", note, lambda at, width: ui.choice(at, width, "blind", BLIND, now, pick))

    def _others(self, inside: Column) -> None:
        ui, house = inside.ui, self.desk.house
        alike = [(True, "All alike, as in the settings"), (False, "Each its own")]
        first = " ".join(["steady"] * len(SIDES))

        def pick(to: bool) -> None:
            self.change(others="" if to else first)

        inside.setting(
            "Strength", "how well the three others play",
            lambda at, width: ui.choice(at, width, "alike", alike, not house.others, pick),
        )  # fmt: skip
        for place, side in enumerate(SIDES if house.others else ()):
            inside.setting(sentence(side), "", partial(self._strength, ui, place))

    def _strength(self, ui: Ui, place: int, at: tuple[int, int], width: int) -> int:
        now = self.desk.house.strengths

        def pick(to: str) -> None:
            self.change(others=" ".join([*now[:place], to, *now[place + 1 :]]))

        options = [(one, one.capitalize()) for one in STRENGTHS]
        return ui.choice(at, width, f"strength {place}", options, now[place], pick)
