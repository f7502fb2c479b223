"""Routes and a desk for tests: they keep what scenes give them in their own fields, and deal nothing."""

from dataclasses import replace
from datetime import UTC, datetime

from engine.rules.house import House
from engine.sheet.reader import SheetFaults, read_file
from engine.sheet.shelf import find, shipped
from engine.store.endings import GameEnd
from engine.store.values import LineSummary
from game.play.settings import Settings
from game.scenes.choosing import ChooseScene
from game.scenes.house import HouseScene
from game.scenes.intro import IntroScene
from game.scenes.settings import SettingsScene
from game.scenes.sheet.compare import CompareScene
from game.scenes.sheet.scene import SheetScene
from game.scenes.sheet.study import StudyScene
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


class NothingKept:
    """A store in which nothing was ever set."""

    def get(self, name, usual=None):  # noqa: ARG002
        return usual


class BareDesk:
    """Everything a scene may ask, answered from fields that a test can set and read."""

    def __init__(self, look, unfinished=None, told=()):
        self.look = look
        self.worker = None
        self.store = NothingKept()
        self.settings = Settings()
        self.house = House()
        self.shelf = [find(name) for name in shipped()]
        self.current_sheet = self.shelf[-1]
        self.chosen = None
        self.unfinished = unfinished
        self.told = list(told)
        self.first_start = True

    def save_settings(self, settings):
        self.settings = settings
        self.look.scale = settings.scale

    def save_house(self, house):
        self.house = house

    def sheets(self):
        return self.shelf

    def choose_sheet(self, sheet, chosen):
        self.current_sheet, self.chosen = sheet, chosen

    def load_sheet(self, path):
        reading = read_file(path)
        if reading.sheet is None:
            raise SheetFaults(reading.faults)
        self.shelf.append(reading.sheet)
        return reading.sheet

    def heard(self):
        self.told = []

    def explained(self):
        self.first_start = False


class BareRoutes:
    """Leads to the calm screens, and elsewhere by name only."""

    def __init__(self, look, unfinished=None, told=()):
        self.look = look
        self.desk = BareDesk(look, unfinished, told)
        self.refused = None
        """A sentence with which every deal is refused."""

    def intro(self, back, first):
        return IntroScene(self, back, first)

    def settings(self, back):
        return SettingsScene(self, back)

    def house_rules(self, back):
        return HouseScene(self, back)

    def choosing(self, back):
        return ChooseScene(self, back)

    def sheet(self, sheet, back, marked=None, rack=()):
        return SheetScene(self, sheet, back, marked, rack)

    def study(self, sheet, back):
        return StudyScene(self, sheet, back)

    def compare(self, sheet, back):
        return CompareScene(self, sheet, back)

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

    def play_over_time(self, back):  # noqa: ARG002
        return Elsewhere(self.look, "play over time")

    def rehearsal(self, back):  # noqa: ARG002
        return Elsewhere(self.look, "rehearsal")

    def match(self, back):  # noqa: ARG002
        return Elsewhere(self.look, "match")
