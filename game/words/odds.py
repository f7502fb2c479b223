"""What trying choices out has shown, as sentences for the window and the text table alike."""

from __future__ import annotations

from engine import words
from engine.advice.advise.answers import Keep, PassChoice
from engine.advice.rollout.race import Outlook


def outlook_words(outlook: Outlook, within: str, *, alone: bool = True) -> str:
    """How likely a hand is within so many draws, as they are called; not `alone` where four play."""
    within += "" if alone else ", counting your own draws only"
    if outlook.exact:
        little = 0 < outlook.chance < 0.0005
        return f"A hand within {within}: {'under 0.1' if little else f'exactly {100 * outlook.chance:.1f}'}%"
    about = f"{100 * outlook.half:.0f} points" if outlook.half >= 0.015 else "1 point"
    return f"A hand within {within}: {words.odds(outlook.chance)}, give or take {about}"


def draws_to_come(draws: int) -> str:
    """`the next draw`, `the five draws to come`."""
    return "the next draw" if draws == 1 else f"the {words.count(draws, 'draw')} to come"


def outlook_note(outlook: Outlook) -> str:
    """How that is known."""
    if outlook.exact:
        return "with the best play: everything that may come was looked at."
    return f"played on {outlook.games} times from here, as the advice would (95% interval)."


def tried_words(keep: Keep) -> str:
    """How another choice stands to the advised one, as a clause; only for one that was tried out."""
    tried = keep.tried
    assert tried is not None
    if not keep.cost:
        return "as good, as far as can be told" if tried.games else "just as good"
    if not tried.games:
        return f"worse by {words.points_of_odds(keep.cost)} points"
    return f"worse by {100 * tried.behind:.1f} points, give or take {words.give_or_take(tried.half)}"


def passed_words(choice: PassChoice) -> str:
    """How far a choice of tiles to pass is behind the best one, as a clause: `0.4 less`."""
    if choice.less <= 0:
        return "as good" if choice.tried is None else "as good, as far as can be told"
    if choice.tried is None:
        return f"{words.points_of_odds(choice.less)} less"
    return f"{100 * choice.less:.1f} less, give or take {words.give_or_take(choice.tried.half)}"
