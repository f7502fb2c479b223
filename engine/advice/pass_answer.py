"""What advice before play says, as frozen values: for a pass, for the second round, for the courtesy pass."""

from __future__ import annotations

from dataclasses import dataclass

from engine.advice.answer import HandReach, Outlook
from engine.advice.race import Tried
from engine.tiles import Kind


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
    """How it stands to the best choice once both were played on; None while that is reckoned."""


@dataclass(frozen=True)
class PassAdvice:
    """Every choice of three tiles from the rack, weighed, and what to pass on unseen."""

    draws: int
    """Tiles to come that were reckoned with: those that passes bring, and the draws of play."""
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
    """The chance of a hand after the best choice as played on; None while advice is only reckoned."""


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
    """Tiles to come that were reckoned with: the draws of play and the tiles exchanged."""
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
