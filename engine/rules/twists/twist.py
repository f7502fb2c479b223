"""What a twist is: a sentence for the players, and the few places where it touches the rules."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from engine.sheet.groups import JOKERS_FROM, Variant

Rewrite = Callable[[Variant], Iterable[Variant]]
"""Other variants that a hand may be made of besides this one."""


@dataclass(frozen=True)
class Twist:
    """A small rule that changes one deal. All fields have the value that changes nothing, unless given."""

    name: str
    """As in `names.TWISTS`; empty for no twist at all."""
    title: str
    says: str
    """What it changes, in one sentence."""
    unweighed: str = ""
    """What the advice does not weigh, in one sentence. Empty where it weighs everything."""
    full_only: bool = False
    """Whether it means something only where four play."""

    # Which hands there are: `sheets.twisted` makes another sheet of these, so that matching, odds and advice follow.
    rewrite: Rewrite | None = None
    concealed: bool | None = None
    """Whether every hand is concealed, or none is; None leaves that to the sheet."""
    jokers_from: int = JOKERS_FROM
    """The smallest group in which a joker may stand."""
    rare_doubles: bool = False
    """Whether the section with the fewest variants has double points."""

    # The wall.
    aside: int = 0
    """How many tiles at the end of the wall are turned up before play and stay out of it."""

    # Calls and exchanges.
    least_called: int = 3
    """The smallest group that a discard may be called for."""
    first_called: int = 0
    """No exposure is called while fewer tiles than this have been let go."""
    from_left: bool = False
    """Whether only the seat just before the caller's, in turn order, may be called from for an exposure."""
    exchanges: bool = True
    """Whether jokers may be taken out of exposures."""

    # Points.
    flower_points: int = 0
    """Points that each flower of the hand adds."""
    quick: int = 0
    """A hand of a player who has let go no more tiles than this pays double; 0 for none."""

    def times(self, let_go: int) -> int:
        """What a hand's points are multiplied by, where the winner has let go so many tiles."""
        return 2 if self.quick and let_go <= self.quick else 1


NONE = Twist("", "No twist", "")
"""What a deal without a twist has."""
