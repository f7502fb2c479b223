"""A match being played: its deals one after another, its clock, and how it or a game goes on after a break."""

from __future__ import annotations

import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from engine.drills.match import KIND, TIME, Match, MatchRules, deal_result
from engine.rules.deal import SEEDS, DealCode
from engine.rules.house import FULL, House
from engine.store.endings import GameEnd
from engine.store.values import Json, LineSummary, StoreError
from game.play.desk import Desk
from game.play.lines import line_of
from game.play.sitting import Sitting

KEPT = "match"
"""The setting that holds the match under way."""
RULES = "match rules"


class MatchPlay:
    """The match under way on a desk."""

    def __init__(self, desk: Desk, match: Match, line: int | None = None, spent: float = 0.0) -> None:
        self.desk = desk
        self.match = match
        self.line = line
        """The deal that is being played, if one has been dealt."""
        self.spent = spent
        """Seconds that it has taken."""
        self.now: Callable[[], float] = time.monotonic
        self._last: float | None = None

    # The clock.

    def tick(self) -> None:
        """Time goes on since the last tick; the first one after a pause starts it again."""
        now = self.now()
        if self._last is not None and self.line is not None:
            self.spent += max(now - self._last, 0.0)
        self._last = now

    def pause(self) -> None:
        """The clock stands still until the next tick, and what it shows is kept."""
        self._last = None
        self.keep()

    @property
    def left(self) -> float | None:
        """Seconds left for the deal; None without a clock."""
        allowance = self.match.rules.seconds
        return None if allowance is None else max(allowance - self.spent, 0.0)

    @property
    def time_is_up(self) -> bool:
        """Whether the deal's time is used up."""
        return self.left == 0.0

    # Deals.

    def sitting(self) -> Sitting:
        """The deal that is under way, or the next one."""
        if self.line is not None:
            return self.desk.sitting_of(self.line)
        whole, chosen = self.desk.current_sheet, self.desk.chosen
        sheet = whole.cut(chosen) if chosen else whole
        code = DealCode.of(sheet, match_house(self.desk.house, self.match.seat), self.desk.chance.randrange(SEEDS))
        sitting = self.desk.begin_sitting(sheet, code, KIND)
        self.line, self.spent, self._last = line_of(sitting), 0.0, None
        self.keep()
        return sitting

    def finish(self, sitting: Sitting) -> None:
        """Count the deal that has ended, or that the clock has ended; once."""
        line = line_of(sitting)
        if self.match.over or line != self.line:
            return
        outcome = sitting.states[-1].outcome
        self.match = self.match.after(deal_result(outcome, sitting.player, self.spent, line))
        self.line, self.spent = None, 0.0
        if self.match.over:
            self._quietly(lambda: self.desk.store.add_result(KIND, self.match.figures(), self.match.rules.seconds))
        self.keep()
        if outcome is None and line is not None:
            end = GameEnd(TIME, sitting.states[-1].picks)
            self._quietly(lambda: self.desk.store.finish(line, end))

    # Keeping.

    def keep(self) -> None:
        """Write down where the match stands; nothing once it is over."""
        value: Json = None
        if not self.match.over:
            value = {"match": self.match.to_json(), "line": self.line, "spent": round(self.spent, 1)}
        self._quietly(lambda: self.desk.store.set(KEPT, value))

    def give_up(self) -> None:
        """The match is not gone on with; its deals stay among the past deals."""
        self._quietly(lambda: self.desk.store.set(KEPT, None))

    def _quietly(self, write: Callable[[], object]) -> None:
        try:
            write()
        except StoreError as error:
            self.desk.tell(str(error))


def kept_match(desk: Desk) -> MatchPlay | None:
    """The match that was left before its end, if there is one."""
    kept = desk.store.get(KEPT)
    match = Match.from_json(kept.get("match")) if isinstance(kept, Mapping) else None
    if match is None or match.over or not isinstance(kept, Mapping):
        return None
    line, spent = kept.get("line"), kept.get("spent")
    if type(line) is int:
        try:
            desk.store.line(line)
        except StoreError:
            line = None
    seconds = float(spent) if isinstance(spent, int | float) and not isinstance(spent, bool) else 0.0
    return MatchPlay(desk, match, line if type(line) is int else None, max(seconds, 0.0))


def kept_rules(desk: Desk) -> MatchRules:
    """How the last match was set."""
    kept = desk.store.get(RULES)
    try:
        return MatchRules(**kept) if isinstance(kept, dict) else MatchRules()  # type: ignore[arg-type]
    except (TypeError, ValueError):
        return MatchRules()


def keep_rules(desk: Desk, rules: MatchRules) -> None:
    """Keep how the next match is set."""
    try:
        desk.store.set(RULES, {"deals": rules.deals, "minutes": rules.minutes})
    except StoreError as error:
        desk.tell(str(error))


def match_house(house: House, seat: int) -> House:
    """House rules of a match's deal: the player's, at a full table."""
    return replace(house, table=FULL, picks=0, seat=seat)


@dataclass(frozen=True)
class LeftOff:
    """What was left before its end."""

    game: LineSummary | None = None
    match: MatchPlay | None = None
    match_last: bool = False
    """Whether the match was played to after the game."""

    @property
    def nothing(self) -> bool:
        """Whether there is nothing to go on with."""
        return self.game is None and self.match is None


def left_off(desk: Desk) -> LeftOff:
    """What was left. It is so after the program was killed, too: every choice was kept as it was made."""
    game, match = desk.unfinished, kept_match(desk)
    last = match is not None and (game is None or _played_to(desk, match) > game.sequence)
    return LeftOff(game, match, last)


def _played_to(desk: Desk, play: MatchPlay) -> int:
    """The place in the order of play at which the match was played to; 0 where none of its deals is kept."""
    for line in (play.line, *(result.line for result in reversed(play.match.results))):
        if line is not None:
            try:
                return desk.store.line(line).sequence
            except StoreError:
                continue
    return 0
