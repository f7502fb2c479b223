"""Routes and a desk for tests: the calm screens stand on a real desk, but nothing is dealt."""

import tempfile
from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

from engine.rules.house import House
from engine.store.endings import GameEnd
from engine.store.store import Store
from engine.store.values import LineSummary
from game.play.desk import Desk
from game.scenes.choosing import ChooseScene
from game.scenes.house import HouseScene
from game.scenes.house_sets import HouseSetsScene
from game.scenes.intro import IntroScene
from game.scenes.settings import SettingsScene
from game.scenes.sheet.compare import CompareScene
from game.scenes.sheet.invent import InventScene
from game.scenes.sheet.scene import SheetScene
from game.scenes.sheet.study import StudyScene
from game.scenes.twists import TwistScene
from game.scenes.two.setup import TwoHandsSetup
from game.ui.scene import Scene


class Elsewhere(Scene):
    """Where a desk for tests leads: says where that would be."""

    def __init__(self, look, place):
        super().__init__(look)
        self.place = place

    def paint(self, ui):
        ui.header(self.place)


def summary(number=1, finished=False, **changes):
    """A line of play as the store would list it."""
    moment = datetime(2026, 3, 14, 19, 30, tzinfo=UTC)
    one = LineSummary(
        id=number,
        parent=None,
        forked_at=0,
        deal="K7Q2-M4X9-3TRB",
        sheet_name="Lantern Street",
        season="2026",
        fingerprint="0" * 16,
        chosen=None,
        house=House(),
        kind="game",
        advice_hidden=False,
        imported=False,
        started=moment,
        touched=moment,
        entries=18,
        notes=0,
        ending=GameEnd("wall", 40) if finished else None,
        set_aside=False,
        sequence=1,
    )
    return replace(one, **changes)


class BareDesk(Desk):
    """A real desk over an empty store, but for what was left unfinished and what is to be told: a test sets these."""

    unfinished = None
    told: Sequence[str] = ()

    def __init__(self, unfinished=None, told=()):
        self._folder = tempfile.TemporaryDirectory()
        super().__init__(None, Store(Path(self._folder.name) / "deals.sqlite"))
        self.unfinished = unfinished
        self.told = list(told)

    def heard(self):
        """The player has read what was told."""
        self.told = []


class BareRoutes:
    """Leads to the calm screens, and elsewhere by name only."""

    def __init__(self, look, unfinished=None, told=()):
        self.look = look
        self.desk = BareDesk(unfinished, told)
        self.desk.follow_settings(lambda settings: setattr(look, "scale", settings.scale))
        self.refused = None
        """A sentence with which every deal is refused."""

    def intro(self, back, first):
        return IntroScene(self, back, first)

    def settings(self, back):
        return SettingsScene(self, back)

    def house_rules(self, back):
        return HouseScene(self, back)

    def two_hands(self, back):
        return TwoHandsSetup(self, back)

    def new_two_hands(self, picks):
        return Elsewhere(self.look, f"two hands, {picks} picks")

    def house_sets(self, back):
        return HouseSetsScene(self, back)

    def twists(self, back):
        return TwistScene(self, back)

    def choosing(self, back):
        return ChooseScene(self, back)

    def sheet(self, sheet, back, marked=None, rack=()):
        return SheetScene(self, sheet, back, marked, rack)

    def invent(self, back):
        return InventScene(self, back)

    def study(self, sheet, back, rack=()):
        return StudyScene(self, sheet, back, rack)

    def compare(self, sheet, back, rack=()):
        return CompareScene(self, sheet, back, rack)

    def deal_near(self, sheet, hand):  # noqa: ARG002
        return Elsewhere(self.look, f"deal near {hand.name}")

    def rehearse_near(self, sheet, hand, setup):  # noqa: ARG002
        return Elsewhere(self.look, f"passes towards {hand.name}")

    def resume(self, line):
        return Elsewhere(self.look, f"line {line}")

    def new_deal(self, code=None):
        if self.refused:
            raise ValueError(self.refused)
        return Elsewhere(self.look, f"deal {code}")

    def past_deals(self, back):  # noqa: ARG002
        return Elsewhere(self.look, "past deals")

    def progress(self, back):  # noqa: ARG002
        return Elsewhere(self.look, "play over time")

    def calendar(self, back):  # noqa: ARG002
        return Elsewhere(self.look, "calendar")

    def rehearsal(self, back):  # noqa: ARG002
        return Elsewhere(self.look, "rehearsal")

    def practice(self, back):  # noqa: ARG002
        return Elsewhere(self.look, "practice")

    def match(self, back):  # noqa: ARG002
        return Elsewhere(self.look, "match")
