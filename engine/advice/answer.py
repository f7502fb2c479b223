"""What advice says, as frozen values: the hands in reach, what each tile is worth keeping for, the draws that help."""

from __future__ import annotations

from dataclasses import dataclass

from engine.advice.race import Tried
from engine.advice.student import half_width
from engine.sheet.model import Hand, Variant
from engine.tiles import Kind


@dataclass(frozen=True)
class Slot:
    """One of a variant's fourteen places."""

    kind: Kind
    """The tile that the place is for."""
    held: bool
    """Whether a tile for it is in the rack or lies exposed; else it is still to come."""
    joker: bool
    """Whether that tile is a joker."""


@dataclass(frozen=True)
class HandReach:
    """A hand that can still be made, by its best variant."""

    hand: Hand
    variant: Variant
    missing: int
    """The least number of tiles still to come for the variant."""
    odds: float
    """The exact probability that the draws bring them all when the player goes for that variant alone."""
    slots: tuple[tuple[Slot, ...], ...]
    """The places of each group, groups in the variant's order."""


@dataclass(frozen=True)
class Keep:
    """What it costs to let one tile of a kind go, and why."""

    kind: Kind
    cost: float
    """The worth lost against letting the best one go; 0 for that one, and where it can't be told apart from that."""
    because: str
    """One plain sentence."""
    serves: tuple[int, ...]
    """Places in `Advice.hands` of the hands whose best variant uses every tile of the kind that is held."""
    tried: Tried | None = None
    """How it stands to the tile to let go once both were played on; None while its cost is reckoned."""


@dataclass(frozen=True)
class Outlook:
    """What comes of the rack once the tile to let go has gone."""

    chance: float
    """That some hand is made by the last draw."""
    error: float
    """Standard error of the chance; 0 if it is exact."""
    games: int
    """Games played on; 0 if everything that may come was looked at."""

    @property
    def half(self) -> float:
        """Half of a 95% interval of the chance."""
        return half_width(self.error, self.games)

    @property
    def exact(self) -> bool:
        """Whether nothing is left to chance in it."""
        return self.games == 0


@dataclass(frozen=True)
class Help:
    """What the next draw would do if it were a tile of this kind."""

    kind: Kind
    unseen: int
    """Copies that may still come."""
    worth: float
    """What the rack is worth after it, having let the best tile go, with one draw fewer to come."""


@dataclass(frozen=True)
class Advice:
    """Advice for one rack of 13 or 14 tiles, exposed ones counted."""

    draws: int
    """Draws that were reckoned with."""
    worth: float
    """The chance, averaged over the draws to come, that some hand of the sheet is made by then; 1 for a finished hand.
    For a rack of 14 tiles, after letting the best one go."""
    hands: tuple[HandReach, ...]
    """Every hand that the draws can still finish, best odds first."""
    keeps: tuple[Keep, ...]
    """Every kind in a rack of 14, dearest first, the one to let go last; empty for a rack of 13."""
    helps: tuple[Help, ...]
    """The next draws that leave more than the least helpful one does, best first. For a rack of 14 tiles they are
    those after letting the best tile go."""

    reckoned: float
    """The same as `worth` while that is reckoned, and so on one scale with the worths of `helps`."""
    outlook: Outlook | None = None
    """The chance of a hand as played on, or exact; None while advice is only reckoned."""

    @property
    def let_go(self) -> Kind | None:
        """The tile to let go, or None for a rack of 13."""
        return self.keeps[-1].kind if self.keeps else None
