"""House rules for the next deal."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import partial

from engine.rules.house import FULL, QUIET, SEATS, STRENGTHS
from engine.words import sentence
from game.draw.theme import BODY, SOFT
from game.scenes.routes import Routes
from game.ui.layout import Rect
from game.ui.scene import Scene
from game.ui.widgets import Ui
from game.words.house import SIDES, house_words

WIDEST = 1100
NO_BLIND = -1
YES_NO = ((True, "Yes"), (False, "No"))
VOTES = ((True, "If all agree"), (False, "Always"))
BLIND = ((0, "Both rounds"), (1, "First round only"), (2, "Second round only"), (NO_BLIND, "None"))
DISCARDERS = ((False, "Pays double"), (True, "Pays for all"))
SELF_DRAWN = ((True, "All pay double"), (False, "All pay single"))
JOKERLESS = ((True, "Doubles"), (False, "Does not double"))
EAST = ((False, "Passes on"), (True, "Stays East"))
LAST_TILES = (8, 16, 24)
BONUSES = (5, 10, 20)
LIMITS = (100, 200, 300, 500)
MISTAKES = (10, 25, 50)


class HouseScene(Scene):
    """What a group plays its own way; every change is kept for the next deal."""

    def __init__(self, routes: Routes, back: Scene) -> None:
        super().__init__(routes.look)
        self.routes, self.desk = routes, routes.desk
        self._back = back

    def back(self) -> Scene | None:
        """Where the player came from."""
        return self._back

    def change(self, **what: object) -> None:
        """Keeps the house rules with some of them changed."""
        self.desk.save_house(replace(self.desk.house, **what))  # type: ignore[arg-type]

    def paint(self, ui: Ui) -> None:
        """One scrolled panel."""
        rest = ui.header("House rules", "", self.back)
        ui.scroll("house", rest, lambda area: self._all(ui, area))

    def _all(self, ui: Ui, area: Rect) -> int:
        width = min(area.width, ui.u(WIDEST))
        left = area.centerx - width // 2
        text = f"Your next deal: {house_words(self.desk.house)}."
        y = ui.paragraph(text, (left, area.top), width, BODY, SOFT) + ui.u(10)
        y = ui.titled((left, y), width, "The table", partial(self._table, ui))
        y = ui.titled((left, y), width, "The passes", partial(self._passes, ui))
        y = ui.titled((left, y), width, "Calls and points", partial(self._points, ui))
        return ui.titled((left, y), width, "The others", partial(self._others, ui))

    def _table(self, ui: Ui, area: Rect) -> int:
        house = self.desk.house
        tables = [(QUIET, "Quiet: you alone"), (FULL, "Full: four play")]
        y = ui.named(
            area, area.top, "Table", "quiet: the others pass with you, then only you draw",
            lambda at, width: ui.choice(at, width, "table", tables, house.table, lambda to: self.change(table=to)),
        )  # fmt: skip
        seats = [(index, seat.capitalize()) for index, seat in enumerate(SEATS)]
        y = ui.named(
            area, y, "Your seat", "East begins with 14 tiles, the others with 13",
            lambda at, width: ui.choice(at, width, "seat", seats, house.seat, lambda to: self.change(seat=to)),
        )  # fmt: skip
        y = ui.named(
            area, y, "Jokers", "in the whole set",
            lambda at, _: ui.stepper(at, "jokers", house.jokers, 0, 10, lambda to: self.change(jokers=to)).bottom,
        )  # fmt: skip
        if house.table == QUIET:
            picks = [(0, "All of the wall"), *((number, f"{number} picks") for number in (20, 30, 40, 60))]
            if house.picks not in dict(picks):
                picks.append((house.picks, f"{house.picks} picks"))
            y = ui.named(
                area, y, "Picks", "how many tiles you may draw",
                lambda at, width: ui.choice(at, width, "picks", picks, house.picks, lambda to: self.change(picks=to)),
            )  # fmt: skip
        slips = [(False, "Are refused, with the reason"), (True, "Happen, and are explained after")]
        return ui.named(
            area, y, "Slips", "a wrong mahjong, or an exposure that fits no hand",
            lambda at, width: ui.choice(
                at, width, "slips", slips, house.slips, lambda to: self.change(slips=to)
            ),
        )  # fmt: skip

    def _passes(self, ui: Ui, area: Rect) -> int:
        house = self.desk.house
        rounds = [(0, "None"), (3, "One round"), (6, "Two rounds")]
        if house.passes not in dict(rounds):
            rounds.append((house.passes, f"{house.passes} passes"))
        y = ui.named(
            area, area.top, "Rounds", "right, across, left; then left, across, right",
            lambda at, width: ui.choice(at, width, "rounds", rounds, house.passes, lambda to: self.change(passes=to)),
        )  # fmt: skip
        if not house.passes:
            return y
        if house.passes > 3:
            y = self._choose(ui, area, y, "Second round", "after the first three passes", "vote", VOTES)
        y = self._choose(ui, area, y, "Courtesy pass", "up to three tiles across, after the rounds", "courtesy", YES_NO)
        blind = house.blind_round if house.blind else NO_BLIND
        return ui.named(
            area, y, "Blind pass", "tiles coming in passed on unseen, on the last pass of a round",
            lambda at, width: ui.choice(at, width, "blind", BLIND, blind, self._set_blind),
        )  # fmt: skip

    def _set_blind(self, to: int) -> None:
        self.change(blind=to != NO_BLIND, blind_round=0 if to == NO_BLIND else to)

    def _points(self, ui: Ui, area: Rect) -> int:
        y = self._choose(
            ui, area, area.top, "Last tiles of the wall", "in which no discard is called: mahjong is self-drawn",
            "last_tiles", self._numbers(LAST_TILES, "last_tiles", "None", "{} tiles"),
        )  # fmt: skip
        y = self._choose(ui, area, y, "Won by a discard", "by whoever let it go", "discarder_pays_all", DISCARDERS)
        y = self._choose(ui, area, y, "Self-drawn", "the winner draws the last tile", "self_drawn_doubles", SELF_DRAWN)
        y = self._choose(ui, area, y, "Without a joker", "except singles and pairs", "jokerless_doubles", JOKERLESS)
        y = self._choose(
            ui, area, y, "Concealed", "more points for a hand with nothing exposed", "concealed_bonus",
            self._numbers(BONUSES, "concealed_bonus", "No more", "{} points"),
        )  # fmt: skip
        y = self._choose(
            ui, area, y, "Limit of loss", "the most a seat may lose, in a match over all its deals", "loss_limit",
            self._numbers(LIMITS, "loss_limit", "No limit", "{} points"),
        )  # fmt: skip
        y = self._choose(
            ui, area, y, "Mistaken mahjong", "paid to each other seat, where slips may happen", "mistake_pays",
            self._numbers(MISTAKES, "mistake_pays", "Costs nothing", "{} points"),
        )  # fmt: skip
        return self._choose(ui, area, y, "East wins", "in a match of several deals", "east_stays", EAST)

    def _others(self, ui: Ui, area: Rect) -> int:
        house = self.desk.house
        alike = [(True, "All alike, as in the settings"), (False, "Each its own")]
        first = " ".join(["steady"] * len(SIDES))
        y = ui.named(
            area, area.top, "Strength", "how well the three others play",
            lambda at, width: ui.choice(
                at, width, "alike", alike, not house.others, lambda to: self.change(others="" if to else first)
            ),
        )  # fmt: skip
        strengths = [(one, one.capitalize()) for one in STRENGTHS]
        for place, side in enumerate(SIDES if house.others else ()):
            y = ui.named(area, y, sentence(side), "", partial(self._strength, ui, place, strengths))
        return y

    def _strength(self, ui: Ui, place: int, strengths: list[tuple[str, str]], at: tuple[int, int], width: int) -> int:
        now = self.desk.house.strengths

        def choose(to: str) -> None:
            self.change(others=" ".join([*now[:place], to, *now[place + 1 :]]))

        return ui.choice(at, width, f"strength {place}", strengths, now[place], choose)

    def _choose(
        self, ui: Ui, area: Rect, y: int, title: str, note: str, rule: str, options: Sequence[tuple[int, str]]
    ) -> int:
        """One rule, with what it may be; gives the y under it."""
        now: int = getattr(self.desk.house, rule)
        return ui.named(
            area, y, title, note,
            lambda at, width: ui.choice(at, width, rule, options, now, lambda to: self.change(**{rule: to})),
        )  # fmt: skip

    def _numbers(self, usual: Sequence[int], rule: str, none: str, some: str) -> list[tuple[int, str]]:
        """Numbers to choose from, the present one among them."""
        now: int = getattr(self.desk.house, rule)
        return [(number, some.format(number) if number else none) for number in sorted({0, *usual, now})]
