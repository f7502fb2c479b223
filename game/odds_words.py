"""What trying choices out has shown, as sentences for the window and the text table alike."""

from __future__ import annotations

from engine.advice.answer import Keep, Outlook
from engine.advice.pass_answer import PassChoice
from game import words


def outlook_words(outlook: Outlook, within: str) -> str:
    """How likely a hand is within so many draws, as they are called."""
    if outlook.exact:
        return f"A hand within {within}: exactly {100 * outlook.chance:.1f}%"
    half = 100 * words.NINETY_FIVE * outlook.error
    about = f"{half:.0f}" if half >= 0.5 else "under 1"
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
        return f"worse by {words.points_of_odds(keep.cost)}"
    return f"worse by {100 * tried.behind:.1f}, give or take {words.give_or_take(tried.behind_error)}"


def passed_words(choice: PassChoice) -> str:
    """How far a choice of tiles to pass is behind the best one, as a clause: `0.4 less`."""
    if choice.less <= 0:
        return "as good" if choice.tried is None else "as good, as far as can be told"
    if choice.tried is None:
        return f"{words.points_of_odds(choice.less)} less"
    return f"{100 * choice.less:.1f} less, give or take {words.give_or_take(choice.tried.behind_error)}"
