"""What advice says, as frozen values: the hands in reach, what each tile is worth keeping for, the draws that help."""

from __future__ import annotations

from dataclasses import dataclass

from engine.advice.rollout.race import Outlook, Tried
from engine.sheet.groups import Variant
from engine.sheet.model import Hand
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
    """How it stands to the tile to let go once both were played on; None while its cost is estimated."""


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
    """Draws looked ahead."""
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

    estimated: float
    """The same as `worth` while that is estimated, and so on one scale with the worths of `helps`."""
    outlook: Outlook | None = None
    """The chance of a hand as played on, or exact; None while advice is only estimated."""

    @property
    def let_go(self) -> Kind | None:
        """The tile to let go, or None for a rack of 13."""
        return self.keeps[-1].kind if self.keeps else None


@dataclass(frozen=True)
class PassChoice:
    """One choice of tiles to go."""

    kinds: tuple[Kind, ...]
    """Sorted."""
    worth: float
    """What the rack is then worth: the chance, averaged over the draws of play, that some hand of the sheet is made by
    then, the tiles that passes bring counted in. Worked out, not sampled: no error of chance is in it."""
    less: float
    """Worth lost against the best choice of as many tiles; 0 for that one and for those that are as good or, played
    on, can't be told apart from it."""
    because: str
    """One sentence, or two."""
    gives_up: tuple[int, ...]
    """Places in the advice's `hands` of those whose best variant, as shown there, loses a tile."""
    keeps: tuple[int, ...]
    """Places of the other hands."""
    tried: Tried | None = None
    """How it stands to the best choice once both were played on; None while that is estimated."""


@dataclass(frozen=True)
class PassAdvice:
    """Every choice of three tiles from the rack, weighed, and what to pass on unseen."""

    draws: int
    """Tiles to come that were looked ahead: those that passes bring, and the draws of play."""
    coming: int
    """How many of them passes bring; no jokers are among those."""
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
    blind_gain: float
    """Worth of the best choice with tiles passed on unseen less that of the best three from the rack; 0 where it isn't
    allowed."""
    blind_because: str
    """One sentence on passing on unseen tiles; empty where it isn't allowed."""
    outlook: Outlook | None = None
    """The chance of a hand after the best choice as played on; None while advice is only estimated."""


@dataclass(frozen=True)
class RoundAdvice:
    """Whether to play the second round of passes."""

    draws: int
    """Tiles to come if it is not played."""
    hands: tuple[HandReach, ...]
    """Hands in reach then, best odds first."""
    agree: bool
    gain: float
    """Worth of going on less that of stopping."""
    because: str
    """One sentence."""


@dataclass(frozen=True)
class CourtesyAdvice:
    """How many tiles to exchange across, and which."""

    draws: int
    """Tiles to come that were looked ahead: the draws of play and the tiles exchanged."""
    hands: tuple[HandReach, ...]
    """Hands in reach if none is exchanged, best odds first."""
    ask: int
    """How many to ask for; once a number is settled, that."""
    give: tuple[Kind, ...]
    """Which ones to give if so many are exchanged."""
    worths: tuple[float, ...]
    """What the rack is worth with none, one, two, three tiles exchanged, the best ones given each time."""
    choices: tuple[PassChoice, ...]
    """Every choice of so many tiles, best first."""
    because: str
    """One sentence, or two."""
