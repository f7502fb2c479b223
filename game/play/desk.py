"""The player's desk: settings, sheets and deals, kept in the store. It knows no screen."""

from __future__ import annotations

import random
from collections.abc import Callable, Sequence
from dataclasses import asdict, dataclass, replace
from pathlib import Path

from engine import words
from engine.advice.moment import EFFORT
from engine.drills.rehearsal import KIND, pace_of
from engine.drills.wanted import wanted_deal
from engine.rules.deal import SEEDS, DealCode, DealCodeError
from engine.rules.house import TWO, House
from engine.seats.character import Strength
from engine.sheet.model import Hand, Sheet
from engine.sheet.shelf import EARLIER, find, of_today, shipped
from engine.store.store import GAME, Store
from engine.store.values import DeletedDeal, LineSummary, PastDeal, StoreError
from game.play.advisor import Advisor
from game.play.defaults import FIRST_SHEET, kept_clock, kept_house, kept_sections
from game.play.lines import begin, damaged, line_of, others_of, resume
from game.play.practice.drilling import Drilling, season_before
from game.play.practice.ledgers import NEAR, Ledgers, note_read, want
from game.play.rehearsing import rehearsal_house
from game.play.settings import HIDDEN, Settings
from game.play.sitting import SeatPlayer, Sitting
from game.play.twisting import kept_twist, with_twist
from game.play.worker import Worker

AWAY = "sheets put away"
"""The setting that names them."""


@dataclass(frozen=True)
class AskedDeal:
    """A deal that was asked for by a code, a sheet or sections."""

    whole: Sheet
    """The whole sheet."""
    sheet: Sheet
    """What is played of it."""
    code: DealCode


class Desk:
    """What the player has set and played, over one store. Screens and tables of text stand on it alike."""

    def __init__(self, worker: Worker, store: Store) -> None:
        self.worker = worker
        self.store = store
        self.chance: random.Random = random.SystemRandom()
        """Where the seeds of new deals come from."""
        self._settings, self._lost = Settings.from_json(store.get("settings"))
        self._told = [*filter(None, (store.trouble, store.also_open))]
        self.effort = EFFORT
        """How much is played on to deepen advice; 0 for none."""
        self._advisors: dict[tuple[str, tuple[str, ...] | None, str, int], Advisor] = {}
        self._sheets: dict[str, Sheet] | None = None
        self._deleted: list[DeletedDeal] = []
        self._follow: Callable[[Settings], None] = lambda _: None

    # Settings.

    @property
    def settings(self) -> Settings:
        """As the player has set things."""
        return self._settings

    def follow_settings(self, follow: Callable[[Settings], None]) -> None:
        """Call `follow` with the settings now, and again with every change of them."""
        self._follow = follow
        follow(self._settings)

    def save_settings(self, settings: Settings) -> None:
        """Keep the settings, and let whoever follows them know."""
        self._settings = settings
        self._follow(settings)
        self._quietly(lambda: self.store.set("settings", settings.to_json()))  # type: ignore[arg-type]

    def rescaled(self, scale: float) -> None:
        """The scale was changed by a key: keep it."""
        self.save_settings(replace(self._settings, scale=scale))

    @property
    def window(self) -> tuple[int, int] | None:
        """The size in pixels that the window last had; None where none is kept."""
        kept = self.store.get("window")
        if isinstance(kept, list) and len(kept) == 2 and all(type(one) is int and 0 < one < 100_000 for one in kept):
            return kept[0], kept[1]  # type: ignore[return-value]
        return None

    def save_window(self, size: tuple[int, int]) -> None:
        """Keep the window's size for the next start."""
        self._quietly(lambda: self.store.set("window", list(size)))

    @property
    def house(self) -> House:
        """House rules of the next deal."""
        return kept_house(self.store)

    def save_house(self, house: House) -> None:
        """Keep the house rules for the next deal."""
        self._quietly(lambda: self.store.set("house", asdict(house)))

    # Sheets.

    def sheets(self) -> Sequence[Sheet]:
        """Every whole sheet to choose from: shipped ones first, then those that were loaded and not put away."""
        away = {*self._away(), *EARLIER}
        return tuple(sheet for sheet in self.every_sheet() if sheet.fingerprint not in away)

    def _away(self) -> list[str]:
        """Fingerprints of loaded sheets that were put away. Their deals can still be opened."""
        kept = self.store.get(AWAY)
        return [one for one in kept if isinstance(one, str)] if isinstance(kept, list) else []

    def is_shipped(self, sheet: Sheet) -> bool:
        """Whether a sheet comes with the game."""
        return any(find(stem).fingerprint == sheet.fingerprint for stem in shipped())

    def put_away(self, sheet: Sheet) -> None:
        """A loaded sheet leaves the list; its deals stay, and loading it again brings it back."""
        self._quietly(lambda: self.store.set(AWAY, [*self._away(), sheet.fingerprint]))

    def every_sheet(self) -> Sequence[Sheet]:
        """Those that were put away too, and earlier editions of those that ship: whatever a deal may be of."""
        if self._sheets is None:
            found = [find(FIRST_SHEET), *(find(stem) for stem in shipped() if stem != FIRST_SHEET)]
            for kept in self.store.sheets():
                if all(sheet.fingerprint != kept.fingerprint for sheet in found):
                    try:
                        found.append(self.store.sheet(kept.fingerprint))
                    except StoreError as error:
                        self.tell(str(error))
            self._sheets = {sheet.fingerprint: sheet for sheet in found}
        return tuple(self._sheets.values())

    @property
    def current_sheet(self) -> Sheet:
        """The whole sheet of the next deal."""
        wanted = of_today(self.store.get("sheet"))
        sheets = self.sheets()
        return next((sheet for sheet in sheets if sheet.fingerprint == wanted), sheets[0])

    @property
    def chosen(self) -> tuple[str, ...] | None:
        """Names of the sections that the next deal is played with; None for all."""
        return kept_sections(self.store, self.current_sheet)

    def choose_sheet(self, sheet: Sheet, chosen: tuple[str, ...] | None) -> None:
        """Keep the sheet and sections for the next deal."""

        def keep() -> None:
            self.store.add_sheet(sheet)
            self.store.set("sheet", sheet.fingerprint)
            self.store.set("sections", None if chosen is None else list(chosen))

        self._quietly(keep)

    def load_sheet(self, path: Path) -> Sheet:
        """Read a sheet's file and keep it among the sheets. Raises SheetFaults with every fault."""
        sheet = find(str(path))
        self.add_sheet(sheet)
        return sheet

    def add_sheet(self, whole: Sheet) -> None:
        """Keep a whole sheet among the sheets. An earlier edition of it, loaded under the same name, is put away."""
        self._quietly(lambda: self.store.add_sheet(whole))
        for one in self.sheets():
            same = (one.name, one.season) == (whole.name, whole.season) and one.fingerprint != whole.fingerprint
            if same and not self.is_shipped(one):
                self.put_away(one)
        self._quietly(lambda: self.store.set(AWAY, [one for one in self._away() if one != whole.fingerprint]))
        if self._sheets is not None:
            self._sheets.setdefault(whole.fingerprint, whole)

    def opened(self, sheet: Sheet) -> None:
        """A sheet is opened to read."""
        self._quietly(lambda: note_read(self.store, sheet))

    # Deals.

    @property
    def unfinished(self) -> LineSummary | None:
        """The deal that was left before its end, if there is one."""
        lines = [self.store.line(line) for kind in (GAME, NEAR) if (line := self.store.last_line(kind)) is not None]
        return max(lines, key=lambda line: line.sequence, default=None)

    def past_games(self) -> tuple[PastDeal, ...]:
        """Deals of games and matches with their forks, the one played to last first."""
        return tuple(deal for deal in self.store.deals() if deal.lines[0].kind != KIND)

    def past_rehearsals(self) -> tuple[PastDeal, ...]:
        """Deals on which the passes were rehearsed, the latest first."""
        return self.store.deals(kinds=(KIND,))

    @property
    def deleted(self) -> int:
        """How many deals were deleted since the program started, and can be brought back."""
        return len(self._deleted)

    def delete_deal(self, deal: PastDeal) -> None:
        """Delete a deal with all its lines. Raises StoreError."""
        self._deleted.append(self.store.delete_deal(deal.latest.id))

    def restore_deal(self) -> None:
        """Put the deal back that was deleted last. Raises StoreError, and keeps it, where that can't be done."""
        if self._deleted:
            self.store.restore_deal(self._deleted[-1])
            self._deleted.pop()

    def others(self, sheet: Sheet, house: House) -> SeatPlayer | None:
        """The simulated players of the other seats; None where the player is alone from the first tile."""
        strength = Strength(self._settings.others)
        return others_of(sheet, self.whole(sheet), house, lambda one: self.advisor(one, house.jokers).table, strength)

    def sitting_of(self, line: int) -> Sitting:
        """That deal as it was left."""
        sheet, house = self.store.sheet_of(line), self.store.line(line).house
        sitting = resume(self.store, line, others=self.others(sheet, house))
        if damaged(sitting):
            self.tell(f"a part of deal {self.code_of(sitting) or line} is damaged; it goes on from before that part")
        return sitting

    def new_deal(self, code: str | None = None) -> Sitting:
        """A new deal as the player has set it, or the one that a code names.

        Raises DealCodeError, with a sentence for the player, for a code that can't be dealt here.
        """
        whole = self.current_sheet
        if code is None:
            return self.deal(whole, self.chosen, self._twisted(self.house))
        found = DealCode.parse(code)
        for sheet in (whole, *self.every_sheet()):
            if found.is_for(sheet):
                cut = self.chosen if sheet is whole else None
                return self.begin_sitting(sheet.cut(cut) if cut else sheet, found)
        raise DealCodeError(
            f"the code {found} was made for a sheet, or an edition of one, that isn't here; load that sheet first"
        )

    def deal_asked(self, asked: AskedDeal) -> Sitting:
        """The deal that was asked for; its sheet is among the sheets from now on."""
        self.add_sheet(asked.whole)
        return self.begin_sitting(asked.sheet, asked.code)

    def deal(self, sheet: Sheet, chosen: tuple[str, ...] | None, house: House, kind: str = GAME) -> Sitting:
        """A new deal of these sections of a sheet by these house rules."""
        cut = sheet.cut(chosen) if chosen else sheet
        code = DealCode.of(sheet, house, self.chance.randrange(SEEDS))
        return self.begin_sitting(cut, code, kind)

    def deal_like(self, sitting: Sitting) -> Sitting:
        """Another deal of the same sheet, sections and house rules as the one played."""
        state = sitting.state
        return self.deal(self.whole(state.sheet), state.sheet.chosen, self._twisted(state.house))

    def deal_two_hands(self, picks: int) -> Sitting:
        """A new two-hand game of the sections chosen, with so many picks."""
        house = House(table=TWO, jokers=self.house.jokers, picks=picks)
        return self.deal(self.current_sheet, self.chosen, self._twisted(house))

    def _twisted(self, house: House) -> House:
        """The rules of one deal, with a twist if the player wants one."""
        return with_twist(house, kept_twist(self.store), self.chance)

    def deal_rehearsal(self) -> Sitting:
        """A new deal to rehearse the passes on."""
        return self.deal(self.current_sheet, self.chosen, rehearsal_house(self.house), KIND)

    def deal_near(self, sheet: Sheet, hand: Hand) -> Sitting:
        """A new deal of the whole sheet in which the hand is within reach of the first rack: counted apart."""
        return self._near(sheet, hand, self.house, NEAR)

    def rehearse_near(self, sheet: Sheet, hand: Hand) -> Sitting:
        """Such a deal, to rehearse the passes on."""
        return self._near(sheet, hand, rehearsal_house(self.house), KIND)

    def _near(self, sheet: Sheet, hand: Hand, house: House, kind: str) -> Sitting:
        whole = self.whole(sheet)
        found = wanted_deal(self.advisor(whole, house.jokers).table, hand.name, house, self.chance)
        sitting = self.begin_sitting(whole, DealCode.of(whole, house, found.seed), kind)
        line = line_of(sitting)
        if line is not None:
            self._quietly(lambda: want(self.store, line, hand.name))
        return sitting

    def fork(self, sitting: Sitting, at: int, sections: tuple[str, ...] | None) -> Sitting:
        """A fork of the same deal from one of its moments, played towards other sections of the sheet.

        Raises StoreError where the deal isn't kept.
        """
        line = line_of(sitting)
        if line is None:
            raise StoreError("this deal isn't kept, so it can't be forked")
        return self.sitting_of(self.store.fork(line, at, sections=sections))

    def begin_sitting(self, sheet: Sheet, code: DealCode, kind: str = GAME) -> Sitting:
        """A new deal, kept from its first entry on."""
        hidden = self._settings.advice == HIDDEN
        return begin(self.store, sheet, code, others=self.others(sheet, code.house), kind=kind, advice_hidden=hidden)

    def whole(self, sheet: Sheet) -> Sheet:
        """The whole sheet that a cut one was cut from."""
        if sheet.chosen is None:
            return sheet.plain
        for whole in self.every_sheet():
            if whole.fingerprint == sheet.fingerprint:
                return whole
        return self.store.sheet(sheet.fingerprint)

    def code_of(self, sitting: Sitting) -> str:
        """The deal code of what is played, as text."""
        line = line_of(sitting)
        return self.store.line(line).deal if line is not None else ""

    def advisor(self, sheet: Sheet, jokers: int) -> Advisor:
        """The advisor for a sheet, made once."""
        key = (sheet.fingerprint, sheet.chosen, sheet.twist, jokers)
        if key not in self._advisors:
            self._advisors[key] = Advisor(sheet, jokers, self.effort, self.worker.helpers)
        return self._advisors[key]

    def ledgers(self) -> Ledgers:
        """The season's ledger of the current sheet."""
        return Ledgers(self.store, self.current_sheet, lambda sheet, jokers: self.advisor(sheet, jokers).table)

    def drilling(self) -> Drilling:
        """Drills on the current sheet."""
        sheet = self.current_sheet
        last = season_before(sheet, self.sheets())
        return Drilling(self.store, sheet, last=last, jokers=self.house.jokers, effort=self.effort)

    # Several ways from one deal.

    def ways(self, line: int) -> list[tuple[LineSummary, Sitting]]:
        """Every line of the same deal, the first one first, each at its end; damaged ones are left out."""
        found = []
        for one in self.store.branches(line):
            try:
                found.append((one, self.sitting_of(one.id)))
            except (StoreError, ValueError):
                continue
        return found

    # Rehearsing the passes.

    @property
    def rehearsal_clock(self) -> float | str | None:
        """What sets the clock: PACE for the player's own pace, fixed seconds, or None for no clock."""
        return kept_clock(self.store)

    def save_rehearsal_clock(self, clock: float | str | None) -> None:
        """Keep what sets the clock of the next rehearsal."""
        self._quietly(lambda: self.store.set("rehearsal allowance", clock))

    @property
    def rehearsal_allowance(self) -> float | None:
        """Seconds for the passes of one deal; None without a clock, and while too few show the player's pace."""
        clock = self.rehearsal_clock
        return pace_of(self.store.results(KIND)).allowance if isinstance(clock, str) else clock

    # Starting.

    @property
    def told(self) -> Sequence[str]:
        """Sentences that the player should read once at the start."""
        return tuple(self._told)

    def tell(self, text: str) -> None:
        """One more sentence to be read once."""
        self._told.append(words.sentence(f"{text.rstrip('.')}."))

    @property
    def lost_settings(self) -> Sequence[str]:
        """What could not be read of the settings, to be told once; `Settings.from_json` says what stands here."""
        return self._lost

    def heard(self) -> None:
        """The player has read all of it."""
        self._told.clear()
        self._lost = ()

    @property
    def first_start(self) -> bool:
        """Whether the explanation of the first start has not been seen yet."""
        return self.store.get("explained") is not True

    def explained(self) -> None:
        """The explanation has been seen."""
        self._quietly(lambda: self.store.set("explained", True))

    def _quietly(self, write: Callable[[], object]) -> None:
        """Write a setting; where the file refuses, the store's `trouble` says so at the table."""
        try:
            write()
        except StoreError as error:
            self.tell(str(error))
