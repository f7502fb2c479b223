"""House rules for the next deal."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

from engine.rules.house import FULL, QUIET, SEATS
from game.draw.theme import BODY, SOFT
from game.scenes.routes import Routes
from game.ui.layout import Rect
from game.ui.scene import Scene
from game.ui.widgets import Ui
from game.words.house import house_words

WIDEST = 1100


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
        return ui.titled((left, y), width, "The passes", partial(self._passes, ui))

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
        yes_no = [(True, "Yes"), (False, "No")]
        y = ui.named(
            area, y, "Courtesy pass", "up to three tiles across, after the rounds",
            lambda at, width: ui.choice(
                at, width, "courtesy", yes_no, house.courtesy, lambda to: self.change(courtesy=to)
            ),
        )  # fmt: skip
        return ui.named(
            area, y, "Blind pass", "tiles coming in may be passed on unseen on the last pass of a round",
            lambda at, width: ui.choice(at, width, "blind", yes_no, house.blind, lambda to: self.change(blind=to)),
        )  # fmt: skip
