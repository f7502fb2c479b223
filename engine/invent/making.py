"""A fresh sheet from a seed: planned, thrown, named, balanced by play and written out."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from engine.advice.moment import StoppedError
from engine.invent.balance import DEALS, Shares, Told, balance, price
from engine.invent.dice import Dice
from engine.invent.draft import Draft, plan
from engine.invent.like import plan_like
from engine.invent.scenes import Scenery, scene
from engine.sheet.model import Sheet
from engine.sheet.reader import read, sheet_of
from engine.sheet.writer import scalar

MAKER = "invented for practice"
HANDS = 60
KEPT = 40
"""The share of hands that the next season of a sheet keeps if nothing is said, in percent."""
SEASON = "2027"
"""The season of a fresh sheet if nothing is said: never the calendar's, as the same seed must give the same sheet."""
_ANY_POINTS = 10
"""What a hand scores while a sheet is being balanced."""


@dataclass(frozen=True)
class Wish:
    """What sheet is wanted."""

    seed: int
    hands: int = HANDS
    season: str = SEASON
    """Four digits."""
    like: Sheet | None = None
    """The sheet of which it is the next season; the number of hands is then that sheet's."""
    kept: int = KEPT
    """The share of its hands that is kept, in percent."""


@dataclass(frozen=True)
class Invented:
    """A sheet, and how it was made."""

    sheet: Sheet
    text: str
    """The file: the sheet, with remarks that say what each section is about."""
    shares: Shares
    themes: tuple[str, ...]
    """What each section is about, in a sentence."""


def invent(
    wish: Wish,
    *,
    workers: int | None = None,
    told: Told = lambda _, __, ___: None,
    stopped: Callable[[], bool] = lambda: False,
    deals: int = DEALS,
    breathe: Callable[[], None] = lambda: None,
) -> Invented:
    """The sheet that is wished for; the same wish gives the same sheet everywhere.

    `deals` are the deals of a whole look. `breathe` is called every few milliseconds while hands are thrown, and may
    wait. Raises ValueError for a wish out of range
    and `balance.UnbalancedError` where no balance is found, StoppedError once `stopped` says so.
    """

    def pause() -> None:
        breathe()
        if stopped():
            raise StoppedError

    dice, names, like = Dice(wish.seed), scene(wish.seed), wish.like
    draft, title = _filled(wish, dice, names, pause)

    def build(draft: Draft) -> Sheet:
        return _built(draft, title, names)

    shares = balance(draft, dice, build, workers=workers, told=told, stopped=stopped, deals=deals)
    price(draft, shares)
    how = f"invented from seed {wish.seed}"
    if like is not None:
        how = f"the season after {like.season}, from seed {wish.seed}"
    text = f"# {title}, season {wish.season}: {how}, balanced over {shares.deals:,} deals.\n" + _written(draft, title)
    return Invented(sheet_of(read(text, title)), text, shares, tuple(part.theme.sentence for part in draft.parts))


def drafted(wish: Wish) -> Sheet:
    """The sheet as it is before any game is played to balance it. Raises ValueError for a wish out of range."""
    names = scene(wish.seed)
    draft, title = _filled(wish, Dice(wish.seed), names)
    return _built(draft, title, names)


def _filled(wish: Wish, dice: Dice, names: Scenery, pause: Callable[[], None] = lambda: None) -> tuple[Draft, str]:
    """A draft with a hand in every slot, and the sheet's title."""
    if not (len(wish.season) == 4 and wish.season.isascii() and wish.season.isdigit()):
        raise ValueError(f"the season is “{wish.season}”; write four digits, such as {SEASON}")
    like = wish.like
    draft = plan(dice, wish.hands, wish.season) if like is None else plan_like(dice, like, wish.season, wish.kept)
    draft.pause = pause
    for slot in draft.slots:
        if not slot.fixed:
            draft.fill(slot, dice)
    for part, place in zip(draft.parts, names.places, strict=False):
        part.name = part.name or place
    return draft, names.title if like is None else like.name


def _built(draft: Draft, title: str, names: Scenery) -> Sheet:
    """The sheet of a draft, with a name for every hand."""
    _give_names(draft, names)
    return sheet_of(read(_written(draft, title), title))


def _give_names(draft: Draft, names: Scenery) -> None:
    """Name the hands that have none yet."""
    taken = {slot.name.casefold() for slot in draft.slots}
    free = (name for name in names.names if name.casefold() not in taken)
    for slot in draft.slots:
        slot.name = slot.name or next(free)


def _written(draft: Draft, title: str) -> str:
    """The file of a draft whose slots are all filled and named."""
    rows = [f"sheet: {scalar(title)}", f"season: {scalar(draft.season)}", f"maker: {MAKER}", "sections:"]
    for number, part in enumerate(draft.parts):
        rows += [""] * (number > 0)
        rows += [f"  # {part.theme.sentence}", f"  - section: {scalar(part.name)}", "    hands:"]
        for slot in part.slots:
            if slot.idea is None:
                raise RuntimeError(f"the slot of {slot.name} is empty")
            rows.append(f"      - hand: {scalar(slot.name)}")
            rows += [f"        {row}" for row in slot.idea.rows()]
            rows.append(f"        points: {slot.points or _ANY_POINTS}")
    return "\n".join(rows) + "\n"
