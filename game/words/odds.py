"""Chances and costs as sentences, for the window and the text table alike: each with its unit and how it is known."""

from __future__ import annotations

from engine import words
from engine.advice.advise.answers import Chance, Keep, Known, PassAdvice, PassChoice
from engine.advice.advise.hands import HandReach

ROUGH = (
    (0.03, "hardly a chance"),
    (0.15, "a slim chance"),
    (0.4, "a fair chance"),
    (0.65, "about an even chance"),
    (0.85, "a good chance"),
    (1.1, "a very good chance"),
)
"""What an estimate is called below each share. Its number is said once it was played out."""


def chance_words(chance: Chance, within: str, *, alone: bool = True) -> str:
    """How likely a hand is within so many draws, as they are called; not `alone` where four play."""
    within += "" if alone else ", counting your own draws only"
    start = f"A hand within {within}"
    match chance.known:
        case Known.ESTIMATED:
            return f"{start}: {rough(chance.share)}"
        case Known.FORECAST:
            return f"Your chance to win this game: {words.odds(chance.share)}"
        case Known.EXACT:
            figure = words.exact_odds(chance.share)
            return f"{start}: {figure if figure[0].isalpha() else f'exactly {figure}'}"
    return f"{start}: {_with_range(chance.share, chance.half)}"


def _with_range(share: float, half: float) -> str:
    """A chance that was played out, with its interval: `46%, give or take 8%`; `94% or more` where all were won."""
    if share > ALL:
        return f"{share - half:.0%} or more" if half > 1 - ALL else "over 99%"
    if share < 1 - ALL:
        return f"{share + half:.0%} or less" if half > 1 - ALL else "under 1%"
    return f"{words.odds(share)}, give or take {max(half, 0.01):.0%}"


def hand_chance(share: float, draws: int, *, alone: bool = True) -> str:
    """The chance of one hand, as a clause; not `alone` where four play: `a chance of 12% within five draws, going for
    it alone`."""
    said = f"a chance of {words.odds(share)} within {words.count(draws, 'draw')}, going for it alone"
    return said if alone else f"{said} and undisturbed"


def rough(share: float) -> str:
    """An estimate in words: `about an even chance`."""
    return next(said for limit, said in ROUGH if share < limit)


ALL = 0.99
"""From this share of games on, or down to what is left of 1, a range has one end only."""
LIKELY = ((0.05, "hardly likely"), (0.15, "less likely"), (0.4, "likely"), (1.1, "most likely"))
"""What a hand of another seat is called below each share of all that its exposures and the tiles left allow."""


def how_likely(share: float) -> str:
    """How far a hand of another seat is to be feared. It is no chance to make it, so it has no percentage."""
    return next(said for limit, said in LIKELY if share < limit)


SURE = 0.995
"""From this chance on it is said in picks how soon a hand comes, for a percentage would tell nothing."""


def before_and_after(before: HandReach, after: HandReach | None, coming: int, *, turns: bool = False) -> str:
    """A hand before and after tiles go: `46%, then 27%`; where both are all but sure, `about 12, then 14 picks`.

    `coming` tiles of the draws that both count are brought by passes and are no picks.
    """
    if after is None or min(before.odds, after.odds) <= SURE:
        return f"{words.odds(before.odds)}, then {words.odds(after.odds if after is not None else 0.0)}"
    first, then = (max(round(one.picks - coming), 1) for one in (before, after))
    return f"about {first}, then {words.picks(then, turns=turns)}"


def change(before: HandReach, after: HandReach | None) -> int:
    """Whether a hand comes worse (-1) or better (1) after tiles go, by what `before_and_after` shows; 0 for alike."""
    if after is None or min(before.odds, after.odds) <= SURE:
        odds = 0.0 if after is None else after.odds
        return (odds > before.odds + 0.005) - (odds < before.odds - 0.005)
    return (after.picks < before.picks - 0.5) - (after.picks > before.picks + 0.5)


def draws_to_come(draws: int) -> str:
    """`the next draw`, `the five draws to come`."""
    return "the next draw" if draws == 1 else f"the {words.count(draws, 'draw')} to come"


def chance_note(chance: Chance) -> str:
    """How that is known."""
    match chance.known:
        case Known.ESTIMATED:
            return "a rough estimate, until the close choices are tried out."
        case Known.EXACT:
            return "with the best play: everything that may come was looked at."
        case Known.FORECAST:
            return "estimated: so often such racks won in games of simulated players."
    return f"played out {chance.games} times from here, as the advice would (95% interval)."


def cost_words(keep: Keep, *, turns: bool = False) -> str:
    """How another choice stands to the advised one, as a clause; only for one that was tried out."""
    if not keep.picks:
        return f"no difference showed in {keep.games} games" if keep.games else "just as good"
    return f"costs {words.picks(keep.picks, turns=turns)}{_give_or_take(keep.half)}"


def passed_words(choice: PassChoice, *, turns: bool = False) -> str:
    """What a choice of tiles to pass costs against the best one, as a clause: `costs 0.4 picks`."""
    if choice.picks <= 0:
        return f"no difference showed in {choice.games} games" if choice.games else "just as good"
    rough = "about " if choice.known is Known.ESTIMATED and choice.picks >= words.TRIFLE else ""
    return f"costs {rough}{words.picks(choice.picks, turns=turns)}{_give_or_take(choice.half)}"


def average_words(advice: PassAdvice) -> str:
    """What a choice of three costs on average, against the best one."""
    return f"An average choice of three costs {words.about_picks(advice.average, turns=advice.turns)}."


def _give_or_take(half: float) -> str:
    return f", give or take {words.picks_figure(half)}" if half else ""
