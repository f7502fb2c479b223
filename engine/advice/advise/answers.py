"""What advice says, as frozen values: the hands in reach, what each tile is worth keeping for, the draws that help."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from engine.advice.advise.contested import Contested
from engine.advice.advise.hands import HandReach
from engine.advice.advise.plan import Plan
from engine.advice.rollout.race import Tried
from engine.advice.stats import half_width
from engine.tiles import Kind


class Known(Enum):
    """How a figure is known."""

    ESTIMATED = "estimated"
    PLAYED = "played out"
    EXACT = "exact"
    FORECAST = "forecast"
    """The chance to win a game among four, by what came of such racks in games of simulated players."""


@dataclass(frozen=True)
class Chance:
    """How likely a hand is by the last draw there may be."""

    share: float
    """0 to 1."""
    known: Known
    half: float = 0.0
    """Half of a 95% interval, where games were played out."""
    games: int = 0
    """How many."""

    @classmethod
    def played(cls, tried: Tried, least: float) -> Chance:
        """As tried out; never under `least`, the chance of the best hand alone."""
        share = min(max(tried.chance, least, 0.0), 1.0)
        if not tried.games:
            return cls(share, Known.EXACT)
        return cls(share, Known.PLAYED, half_width(tried.chance_error, tried.games), tried.games)


@dataclass(frozen=True, kw_only=True)
class Costed:
    """How the cost of a choice is known."""

    known: Known = Known.ESTIMATED
    half: float = 0.0
    """Half of a 95% interval of the difference in picks or turns, where games were played out."""
    games: int = 0
    """How many."""


@dataclass(frozen=True)
class Keep(Costed):
    """What it costs to let one tile of a kind go, and why."""

    kind: Kind
    picks: float
    """How many picks later a hand comes on average than after the best choice, a game without one counted as if it came
    at the pick after the last. 0 for the best one, and where no difference can be told."""
    because: str
    """One plain sentence."""
    serves: tuple[int, ...]
    """Places in `Advice.hands` of the hands whose best variant uses every tile of the kind that is held."""
    behind: float = 0.0
    """The difference in picks as it came out, before it was asked whether it can be told from none."""


@dataclass(frozen=True)
class Help:
    """What the next draw would do if it were a tile of this kind."""

    kind: Kind
    unseen: int
    """Copies that may still come."""
    picks: float
    """How many picks or turns sooner a hand comes than after the draw that helps least, estimated."""


@dataclass(frozen=True)
class Advice:
    """Advice for one rack of 13 or 14 tiles, exposed ones counted."""

    draws: int
    """Draws looked ahead."""
    chance: Chance
    """Of some hand of the sheet, with good play, and never under that of the best hand; in a game among four, to win
    this game (`Known.FORECAST`)."""
    plan: Plan
    """What to go for; with a rack of 14, once the best tile has gone."""
    because: str
    """The plan, the tile that serves it and what to watch: three short sentences at most."""
    hands: tuple[HandReach, ...]
    """Every hand that the draws can still finish, best odds first."""
    keeps: tuple[Keep, ...]
    """Every kind in a rack of 14, dearest first, the one to let go last; empty for a rack of 13."""
    helps: tuple[Help, ...]
    """The next draws that leave more than the least helpful one does, best first. For a rack of 14 tiles they are
    those after letting the best tile go."""
    needed: float = 0.0
    """How many picks a hand takes on average from here, as estimated: 0 for a finished hand, and a game without one
    counts as if it came at the pick after the last."""
    turns: bool = False
    """Whether costs count turns of a full table."""
    contested: Contested | None = None
    """What weighed the rack in a game among four; None where the player is weighed alone."""

    @property
    def let_go(self) -> Kind | None:
        """The tile to let go, or None for a rack of 13."""
        return self.keeps[-1].kind if self.keeps else None

    @property
    def finished(self) -> bool:
        """Whether the rack is a hand."""
        return bool(self.hands) and self.hands[0].missing == 0


@dataclass(frozen=True)
class PassChoice(Costed):
    """One choice of tiles to go."""

    kinds: tuple[Kind, ...]
    """Sorted."""
    picks: float
    """What it costs against the best choice of as many tiles; 0 for that one, and where no difference can be told."""
    because: str
    """One sentence, or two."""
    gives_up: tuple[int, ...]
    """Places in the advice's `hands` of those whose best variant, as shown there, loses a tile."""
    keeps: tuple[int, ...]
    """Places of the other hands."""
    behind: float = 0.0
    """The difference in picks as it came out, before it was asked whether it can be told from none."""


@dataclass(frozen=True)
class PassAdvice:
    """Every choice of three tiles from the rack, weighed, and what to pass on unseen."""

    draws: int
    """Tiles to come: those that passes bring, and the draws of play."""
    coming: int
    """How many of them passes bring; no jokers are among those."""
    chance: Chance
    """Of some hand of the sheet after the best choice. Never under that of the best hand then."""
    plan: Plan
    """What the rack is heading for after the best choice."""
    because: str
    """The plan, what the tiles that go serve, and what to look out for: three short sentences at most."""
    average: float
    """What a choice of three costs on average, against the best one."""
    hands: tuple[HandReach, ...]
    """Hands in reach of the whole rack and the tiles to come, best odds first."""
    after: tuple[HandReach, ...]
    """The same once the best three have gone."""
    choices: tuple[PassChoice, ...]
    """All of them, best first."""
    blind: int
    """How many tiles are best passed on unseen; 0 where that isn't allowed or gains too little to count on."""
    blind_kinds: tuple[Kind, ...]
    """What then goes from the rack; () when none is passed on unseen."""
    blind_picks: float
    """How many picks sooner a hand comes than after the best three from the rack; 0 where it isn't allowed."""
    blind_aim: str
    """What the rack is heading for then, in one sentence; empty when none is passed on unseen."""
    blind_because: str
    """One sentence on passing on unseen tiles; empty where it isn't allowed."""
    turns: bool = False
    """Whether costs count turns of a full table."""


@dataclass(frozen=True)
class RoundAdvice:
    """Whether to play the second round of passes."""

    draws: int
    """Tiles to come if it is not played."""
    hands: tuple[HandReach, ...]
    """Hands in reach then, best odds first."""
    agree: bool
    picks: float
    """How many picks sooner a hand comes by going on; negative where it comes later."""
    plan: Plan
    """What the rack is heading for now."""
    because: str
    """Three short sentences."""
    turns: bool = False


@dataclass(frozen=True)
class CourtesyAdvice:
    """How many tiles to exchange across, and which."""

    draws: int
    """Tiles to come: the draws of play and the tiles exchanged."""
    hands: tuple[HandReach, ...]
    """Hands in reach if none is exchanged, best odds first."""
    ask: int
    """How many to ask for; once a number is settled, that."""
    give: tuple[Kind, ...]
    """Which ones to give if so many are exchanged."""
    picks: tuple[float, ...]
    """What exchanging none, one, two, three tiles costs against the best number, the best ones given each time."""
    choices: tuple[PassChoice, ...]
    """Every choice of so many tiles, best first."""
    plan: Plan
    """What the rack is heading for once the tiles have gone."""
    because: str
    """What to ask for or the plan first, figures last: four short sentences at most."""
    turns: bool = False
