"""The one file that knows every scene: it makes the scene that another one asks for."""

from __future__ import annotations

from pathlib import Path

from engine.drills.lesson.model import Lesson
from engine.rules.deal import DealCode
from engine.sheet.model import Hand, Sheet
from engine.tiles import Kind
from game.play.desk import Desk
from game.play.matches import MatchPlay, kept_match, left_off
from game.play.settings import Settings
from game.play.sitting import Sitting
from game.play.writing.drafts import Drafts
from game.play.writing.starting import go_on, open_file
from game.scenes.choosing import ChooseScene
from game.scenes.deals import PastDeals
from game.scenes.drills.menu import PracticeScene
from game.scenes.editor.scene import EditorScene
from game.scenes.editor.start import WriteScene
from game.scenes.home.scene import HomeScene
from game.scenes.house import HouseScene
from game.scenes.house_sets import HouseSetsScene
from game.scenes.intro import IntroScene
from game.scenes.lessons.list import LessonsScene
from game.scenes.lessons.make import MakeScene
from game.scenes.match.play import MatchPolicy
from game.scenes.match.result import ResultSheet
from game.scenes.match.setup import MatchScene
from game.scenes.rehearse.passes import RehearsalPolicy
from game.scenes.rehearse.result import RehearsedScene
from game.scenes.rehearse.setup import RehearseScene
from game.scenes.season.calendar import CalendarScene
from game.scenes.season.ledger import LedgerScene
from game.scenes.season.progress import ProgressScene
from game.scenes.settings import SettingsScene
from game.scenes.sheet.compare import CompareScene
from game.scenes.sheet.invent import InventScene
from game.scenes.sheet.scene import SheetScene
from game.scenes.sheet.study import StudyScene
from game.scenes.table.moment import SeatMoment
from game.scenes.table.scene import table_scene
from game.scenes.table.ways import WaysScene
from game.scenes.twists import TwistScene, announced
from game.scenes.two.scene import TwoHandsScene
from game.scenes.two.setup import TwoHandsSetup
from game.ui.look import Look
from game.ui.scene import Scene


class Navigation:
    """Implements `game.scenes.routes.Routes` over a desk; the look follows the desk's settings."""

    def __init__(self, desk: Desk, look: Look) -> None:
        self.desk = desk
        self.look = look
        desk.follow_settings(self._follow)

    def _follow(self, settings: Settings) -> None:
        self.look.scale = settings.scale
        self.look.motion = settings.motion
        self.look.sounds.on = settings.sound

    # Screens.

    def home(self) -> Scene:
        """The home screen."""
        return HomeScene(self)

    def intro(self, back: Scene, first: bool) -> Scene:
        """How it plays."""
        return IntroScene(self, back, first)

    def settings(self, back: Scene) -> Scene:
        """The settings."""
        return SettingsScene(self, back)

    def house_rules(self, back: Scene) -> Scene:
        """House rules of the next deal."""
        return HouseScene(self, back)

    def two_hands(self, back: Scene) -> Scene:
        """Where a two-hand game is begun."""
        return TwoHandsSetup(self, back)

    def new_two_hands(self, picks: int) -> Scene:
        """A new two-hand game with so many picks."""
        return self._begun(self.desk.deal_two_hands(picks))

    def house_sets(self, back: Scene) -> Scene:
        """Named sets of house rules."""
        return HouseSetsScene(self, back)

    def twists(self, back: Scene) -> Scene:
        """The twist of the next deals."""
        return TwistScene(self, back)

    def choosing(self, back: Scene) -> Scene:
        """Sheet and sections of the next deal."""
        return ChooseScene(self, back)

    def sheet(
        self, sheet: Sheet, back: Scene, marked: tuple[str, ...] | None = None, rack: tuple[Kind, ...] = ()
    ) -> Scene:
        """A sheet, to read."""
        self.desk.opened(sheet)
        return SheetScene(self, sheet, back, marked, rack)

    def writing(self, back: Scene) -> Scene:
        """Sheets being written, and ways to begin one."""
        return WriteScene(self, back)

    def write_on(self, draft: str, back: Scene) -> Scene:
        """A sheet being written, as it was left."""
        return EditorScene(self, go_on(Drafts.beside(self.desk.store.path), draft), back)

    def write_file(self, file: Path, back: Scene) -> Scene:
        """A sheet's file to be written on, at its first fault."""
        writing, faults = open_file(Drafts.beside(self.desk.store.path), file)
        return EditorScene(self, writing, back, faults)

    def invent(self, back: Scene) -> Scene:
        """Where a sheet is invented."""
        return InventScene(self, back)

    def study(self, sheet: Sheet, back: Scene, rack: tuple[Kind, ...] = ()) -> Scene:
        """What a sheet leans on."""
        return StudyScene(self, sheet, back, rack)

    def compare(self, sheet: Sheet, back: Scene, rack: tuple[Kind, ...] = ()) -> Scene:
        """A sheet beside an older one."""
        return CompareScene(self, sheet, back, rack)

    def deal_near(self, sheet: Sheet, hand: Hand) -> Scene:
        """A deal in which the hand is within reach of the first rack."""
        return self.at_table(self.desk.deal_near(sheet, hand))

    def rehearse_near(self, sheet: Sheet, hand: Hand, setup: Scene) -> Scene:
        """The passes of such a deal."""
        policy = RehearsalPolicy(self, setup, None)
        return table_scene(self, self.desk.rehearse_near(sheet, hand), policy)

    def past_deals(self, back: Scene) -> Scene:
        """The list of past deals."""
        return PastDeals(self, back)

    def progress(self, back: Scene) -> Scene:
        """How well the player plays over time."""
        return ProgressScene(self, back)

    def practice(self, back: Scene) -> Scene:
        """What to practise today, and every drill."""
        return PracticeScene(self, self.desk.drilling(), back)

    def ledger(self, back: Scene) -> Scene:
        """The season's ledger of the current sheet."""
        return LedgerScene(self, self.desk.ledgers(), back)

    def calendar(self, back: Scene) -> Scene:
        """The season's calendar of the current sheet."""
        return CalendarScene(self, back)

    def lessons(self, back: Scene) -> Scene:
        """Lessons: to go through, to make, to bring in."""
        return LessonsScene(self, back)

    def make_lesson(self, back: Scene, lesson: Lesson | None = None) -> Scene:
        """Make a lesson, or change one."""
        return MakeScene(self, back, lesson)

    # The table.

    def at_table(self, sitting: Sitting) -> Scene:
        """The scene for the kind of moment at which a deal stands."""
        return TwoHandsScene(self, sitting) if sitting.state.two is not None else table_scene(self, sitting)

    def new_deal(self, code: str | None = None) -> Scene:
        """A new deal as the player has set it, or the one that a code names."""
        return self._begun(self.desk.new_deal(code))

    def wanted_deal(self, hand: str) -> Scene:
        """A new deal of the current sheet in which that hand is within reach."""
        sheet = self.desk.current_sheet
        return self.at_table(self.desk.deal_near(sheet, sheet.hand(hand)))

    def deal_of(self, sheet: Sheet, code: DealCode) -> Scene:
        """The deal that a code names, on this sheet."""
        return self._begun(self.desk.begin_sitting(sheet, code))

    def deal_like(self, sitting: Sitting) -> Scene:
        """Another deal of the same sheet, sections and house rules as the one played."""
        return self._begun(self.desk.deal_like(sitting))

    def _begun(self, sitting: Sitting) -> Scene:
        """The table of a new deal, its twist announced."""
        return announced(self.at_table(sitting), sitting)

    def resume(self, line: int) -> Scene:
        """A kept deal as it was left; the match's own table where it is the deal of the match under way."""
        match = kept_match(self.desk)
        if match is not None and match.line == line:
            return self.match_deal(match)
        heard = len(self.desk.told)
        scene = self.at_table(self.desk.sitting_of(line))
        news = self.desk.told[heard:]
        if news and isinstance(scene, SeatMoment):
            scene.trouble = news[-1]  # said here, too: a part of the deal is damaged
        return scene

    def left_off(self) -> Scene | None:
        """The sheet that was being written when the program ended; else what was played to last and is not at its end,
        a game or a match; None where there is nothing."""
        draft = Drafts.beside(self.desk.store.path).left_open()
        if draft is not None:
            return self.write_on(draft.id, self.home())
        left = left_off(self.desk)
        if left.match is not None and left.match_last:
            return self.match_deal(left.match)
        return self.resume(left.game.id) if left.game is not None else None

    def look_back(self, line: int) -> Scene:
        """A kept deal at its first choice."""
        sitting = self.desk.sitting_of(line)
        sitting.go_to(sitting.first_choice)
        return self.at_table(sitting)

    def another_way(self, sitting: Sitting, at: int, sections: tuple[str, ...] | None) -> Scene:
        """A fork of the same deal from one of its moments, played towards other sections."""
        return self.at_table(self.desk.fork(sitting, at, sections))

    def ways(self, sitting: Sitting, back: Scene) -> Scene:
        """The lines of one deal side by side."""
        return WaysScene(self, sitting, back)

    # Rehearsing the passes.

    def rehearsal(self, back: Scene) -> Scene:
        """Where a rehearsal of the passes is set up."""
        return RehearseScene(self, back)

    def rehearse(self, setup: Scene) -> Scene:
        """The passes of a new deal."""
        policy = RehearsalPolicy(self, setup, self.desk.rehearsal_allowance)
        return table_scene(self, self.desk.deal_rehearsal(), policy)

    def rehearsed(self, sitting: Sitting, setup: Scene, allowance: float | None, spent: float) -> Scene:
        """What a rehearsal came to."""
        return RehearsedScene(self, sitting, setup, allowance, spent)

    # Matches.

    def match(self, back: Scene) -> Scene:
        """Where a match is set up, or gone on with."""
        return MatchScene(self, back)

    def match_deal(self, play: MatchPlay) -> Scene:
        """The deal of a match that is under way, or its next one."""
        return self.match_moment(play, play.sitting())

    def match_moment(self, play: MatchPlay, sitting: Sitting) -> Scene:
        """The scene for the kind of moment at which a match's deal stands."""
        return table_scene(self, sitting, MatchPolicy(self, play))

    def match_result(self, play: MatchPlay) -> Scene:
        """The result sheet of a match."""
        return ResultSheet(self, play)
