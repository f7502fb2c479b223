"""Every twist there is, by name."""

from __future__ import annotations

from engine.rules.house import FULL, House
from engine.rules.twists.rewrites import mirrored, stepped, turned, wandering, whitened
from engine.rules.twists.sheets import twisted
from engine.rules.twists.twist import NONE, Twist
from engine.sheet.model import Sheet

_CHANCES_ONLY = "The advice looks for the likeliest hand and does not weigh the extra points."
_OWN_DRAWS = "The advice counts tiles that you draw yourself and does not weigh which calls may come later."

_ALL = (
    Twist(
        "mirror",
        "Mirror",
        "Any hand may also be made with its numbers mirrored: 9 for 1, 8 for 2, and so on; 5 stays 5.",
        rewrite=mirrored,
    ),
    Twist("step", "One step up", "Any hand may also be made with every number one higher.", rewrite=stepped),
    Twist(
        "winds",
        "Turning winds",
        "Any hand may also be made with East and West changed about, and North and South too.",
        rewrite=turned,
    ),
    Twist(
        "dragons",
        "Wandering dragons",
        "Any hand may also be made with its dragons changed about, a white dragon that stands for zero too.",
        rewrite=wandering,
    ),
    Twist("petals", "White petals", "All flowers of a hand may be white dragons instead.", rewrite=whitened),
    Twist(
        "proud",
        "Proud jokers",
        "Jokers stand in groups of four or more only, so not in a pung.",
        jokers_from=4,
    ),
    Twist(
        "ten",
        "Ten away",
        "The last ten tiles of the wall are turned up before play and stay out of it.",
        aside=10,
    ),
    Twist(
        "rare",
        "Rare section",
        "The section that has the fewest ways to make its hands pays double.",
        _CHANCES_ONLY,
        rare_doubles=True,
    ),
    Twist(
        "flowers",
        "Flowers pay",
        "Each flower in the hand that wins adds two points.",
        _CHANCES_ONLY,
        flower_points=2,
    ),
    Twist(
        "quick",
        "Quick hand",
        "A hand pays double if its player has let go fifteen tiles or fewer.",
        _CHANCES_ONLY,
        quick=15,
    ),
    Twist(
        "open",
        "Open doors",
        "No hand is concealed: exposures are allowed for every hand.",
        full_only=True,
        concealed=False,
    ),
    Twist(
        "closed",
        "Closed doors",
        "Every hand is concealed: a discard is called for mahjong only.",
        full_only=True,
        concealed=True,
    ),
    Twist(
        "slow",
        "Slow start",
        "Until twelve tiles have been let go, a discard is called for mahjong only.",
        _OWN_DRAWS,
        full_only=True,
        first_called=12,
    ),
    Twist(
        "large",
        "Large calls",
        "Only groups of four or more are called for an exposure.",
        _OWN_DRAWS,
        full_only=True,
        least_called=4,
    ),
    Twist(
        "glue",
        "Jokers stay",
        "A joker in an exposure stays there: nobody may exchange it.",
        "The advice does not weigh that a joker laid in an exposure is safe there.",
        full_only=True,
        exchanges=False,
    ),
    Twist(
        "left",
        "From the left",
        "For an exposure only the player on the caller's left is called from; for mahjong anyone.",
        _OWN_DRAWS,
        full_only=True,
        from_left=True,
    ),
)
_BY_NAME = {twist.name: twist for twist in _ALL} | {"": NONE}


def twist_of(house: House) -> Twist:
    """The twist of a deal; NONE where it has none."""
    return _BY_NAME[house.twist]


def twist_named(name: str) -> Twist:
    """The twist of that name. Raises KeyError."""
    return _BY_NAME[name]


def twists_for(table: str) -> tuple[Twist, ...]:
    """Every twist that means something at the table, in a fixed order."""
    return tuple(twist for twist in _ALL if table == FULL or not twist.full_only)


def sheet_of_deal(sheet: Sheet, house: House) -> Sheet:
    """The sheet that a deal by these rules is played on, its twist included."""
    return twisted(sheet, twist_of(house))
