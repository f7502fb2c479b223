"""What just happened, how it ended and what it cost, as sentences for the window and the text table alike."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from engine import words
from engine.rules.actions import Action, Call, Discard, Exchange, Mahjong
from engine.rules.house import QUIET, TWO, House
from engine.rules.scoring import Payments
from engine.rules.state import Exposure, Outcome, Phase, State
from engine.sheet.groups import size_name
from engine.store.endings import GameEnd
from engine.store.values import LineSummary
from engine.tiles import Kind, name, say_tiles
from game.play.ended import NearMiss
from game.play.sitting import Sitting
from game.words.actions import say_seat
from game.words.deal.twists import twist_effect, twist_sentence
from game.words.deal.two_hands import two_hands_ended

NAMED = 3
"""So many missing tiles or fewer are named."""


def situation(sitting: Sitting) -> str:
    """One sentence for where the player stands and what is asked of them."""
    state = sitting.state
    if state.phase is Phase.OVER:
        return "The game is over."
    if state.phase is Phase.TURN and state.to_act == sitting.player:
        if state.drawn is None:
            return "You start: let one tile go." if not state.discards else f"{_arrived(state)}. Let one tile go."
        return f"Pick {state.picks}: you drew the {name(state.drawn)}. {_left(state)} Let one tile go."
    return f"It is {say_seat(max(state.to_act, 0))}'s turn."


def prompt(sitting: Sitting) -> str:
    """What happened and what is asked, shorter: where the pick and the wall are shown beside it.

    Looking back it says what was chosen at that moment.
    """
    state = sitting.state
    if state.phase is Phase.OVER:
        return "The game is over."
    if state.to_act != sitting.player:
        return f"It is {say_seat(max(state.turn, 0))}'s turn."
    if not sitting.at_end:
        return _chose(sitting.entries[sitting.cursor].action, state)
    if state.phase is Phase.CALLING:
        last = state.discards[-1]
        went = f"{say_seat(last.seat)} let the {name(last.kind)} go"
        return f"{went}: it finishes your hand." if sitting.wins else f"{went}. Call it, or let it go?"
    first = not state.discards and state.drawn is None
    if sitting.wins:
        return f"{'You were dealt a whole hand' if first else _arrived(state)}: your hand is complete."
    return "You start: let one tile go." if first else f"{_arrived(state)}. Let one tile go."


def _left(state: State) -> str:
    return f"{words.sentence(words.count(len(state.wall), 'tile'))} left in the wall."


def headline(outcome: Outcome, player: int) -> str:
    """How the game ended, in a few words."""
    if outcome.kind == "mahjong":
        return "Mahjong!" if outcome.winner == player else f"{say_seat(outcome.winner or 0)} made mahjong"
    return {"wall": "Wall game", "picks": "Out of picks", "dead": "Dead hand"}[outcome.kind]


def outcome_sentences(state: State, paid: Payments | None = None) -> list[str]:
    """How a finished game ended: what was made, how, and what it pays. `paid` is what each seat really won or lost,
    where a match has limited it."""
    if state.outcome is None:
        return []
    end = GameEnd.of(state)
    if paid is not None and end.winner is not None:
        missing = end.payments[end.winner] - paid[end.winner]
        end = replace(end, points=end.points - missing, payments=paid)
    effect = twist_effect(state)
    return [*ending_sentences(end, state.house), *([effect] if effect else [])]


def ending_sentences(end: GameEnd, house: House) -> list[str]:
    """The same of a game that is stored."""
    if end.said:
        return [end.said]
    twist = [twist_sentence(house)] if house.twist else []
    if house.table == TWO:
        return [*two_hands_ended(end, house), *twist]
    if end.winner is None:
        scores = "only the mistaken mahjong is paid for" if any(end.payments) else "nobody scores"
        reason = {
            "wall": f"The wall is used up and nobody has made a hand: a wall game, and {scores}.",
            "picks": f"{_all_picks(house.picks)} used and no hand was made.",
            "dead": "Your hand is dead, and the game ends here.",
            "time": "Time was up: nobody scores.",
        }
        return [reason.get(end.kind, "Finished."), *twist]
    mine = end.winner == house.seat
    who = "You" if mine else say_seat(end.winner)
    how = "drawing the last tile" if end.self_drawn else "calling the last tile"
    said = [f"{who} made {end.hand}, in {end.section}, by {how}" + (f", at pick {end.picks}." if mine else ".")]
    counts = f"The hand counts {end.worth} points{_counted_so(end, house)}"
    if house.table == QUIET:
        said.append(f"{counts}; at a full table you would collect {end.points}.")
    else:
        collects = "you collect" if mine else f"{who} collects"
        said.append(f"{counts}; {collects} {end.points}.")
    if end.self_drawn and not house.self_drawn_doubles:
        said.append("By your house rules a self-drawn hand is paid single.")
    return said + twist


def _counted_so(end: GameEnd, house: House) -> str:
    """What changes the points of a hand that was made, as clauses behind them."""
    said = ""
    if end.bonus:
        said += f" and {end.bonus} more for nothing exposed"
    if end.jokerless:
        said += ", made without a joker"
        said += "" if house.jokerless_doubles else ", which does not double it here"
    return said


def _all_picks(picks: int) -> str:
    return "The one pick is" if picks == 1 else f"All {picks} picks are"


PLACES = {1: "to your right", 2: "across", 3: "to your left"}
"""Where the seat so many turns later sits."""


def place_words(seat: int, player: int) -> str:
    """Where a seat is, from the player's: `to your right`."""
    return PLACES[(seat - player) % 4]


def seat_words(seat: int, player: int) -> str:
    """`You`, or the seat's name."""
    return "You" if seat == player else say_seat(seat)


def _arrived(state: State) -> str:
    """How the fourteenth tile came to the seat in turn, the player's, as a clause."""
    if state.drawn is not None:
        return f"You drew the {name(state.drawn)}"
    if not state.discards:
        return "You started"
    last = state.discards[-1]
    if last.called:
        laid = state.exposures[state.turn][-1]
        return f"You called the {name(last.kind)} for a {size_name(laid.size)}"
    return "You exchanged a joker"


def _chose(action: Action, state: State) -> str:
    if state.phase is Phase.CALLING:
        last = state.discards[-1]
        start = f"{say_seat(last.seat)} let the {name(last.kind)} go, and you "
        match action:
            case Call(size, _):
                return f"{start}called it for a {size_name(size)}."
            case Mahjong():
                return f"{start}called it for mahjong."
        return f"{start}let it go."
    start = f"{_arrived(state)} and "
    match action:
        case Discard(kind):
            return f"{start}let the {name(kind)} go."
        case Exchange(_, _, kind):
            return f"{start}put the {name(kind)} in for a joker."
    return f"{start}showed mahjong."


def call_words(action: Action) -> str:
    """What a button or a line says for a choice about a discard."""
    match action:
        case Call(size, jokers):
            filled = f" with {words.count(jokers, 'joker')}" if jokers else ""
            return f"Call {size_name(size)}{filled}"
        case Mahjong():
            return "Mahjong"
    return "Let it go"


def exchange_words(action: Exchange, player: int) -> str:
    """`Take South's joker for the 5 dot`."""
    whose = "your own" if action.seat == player else f"{say_seat(action.seat)}'s"
    return f"Take {whose} joker for the {name(action.kind)}"


@dataclass(frozen=True)
class Paid:
    """What one seat won or lost."""

    seat: int
    points: int
    sentence: str


def payments(state: State, really: Payments | None = None) -> tuple[Paid, ...]:
    """What each seat won or lost with the end of the game, East first. `really` is that, where a match has limited
    it."""
    outcome, player = state.outcome, state.house.seat
    if outcome is None:
        return ()
    paid = []
    for seat, points in enumerate(outcome.payments if really is None else really):
        who, s = seat_words(seat, player), "" if seat == player else "s"
        if points == 0:
            said = f"{who} pay{s} nothing"
        elif points > 0:
            said = f"{who} collect{s} {words.counted(points, 'point')}"
        else:
            said = f"{who} pay{s} {words.counted(-points, 'point')}"
        reasons = [*_why_so(outcome, state.house, seat), *_mistakes(state, seat)]
        if points > outcome.payments[seat]:
            reasons.append("all that was left to lose in this match")
        paid.append(Paid(seat, points, f"{said}{''.join(f', {reason}' for reason in reasons)}."))
    return tuple(paid)


def _why_so(outcome: Outcome, house: House, seat: int) -> list[str]:
    """Why a seat pays the winner more or less than single."""
    if outcome.winner in (None, seat):
        return []
    said = []
    if outcome.self_drawn and house.self_drawn_doubles:
        said.append("double since the last tile was self-drawn")
    elif seat == outcome.discarder:
        said.append(f"{'for all three' if house.discarder_pays_all else 'double'} for letting the last tile go")
    if _at_limit(house, outcome, seat):
        said.append("the most that a seat may lose here")
    return said


def payment_note(state: State, really: Payments | None = None) -> str:
    """Why the seats pay what they do, for where the figures stand beside it."""
    outcome, house, player = state.outcome, state.house, state.house.seat
    if outcome is None:
        return ""
    said = []
    if outcome.discarder is not None:
        who = seat_words(outcome.discarder, player)
        much = "for all three" if house.discarder_pays_all else "double"
        said.append(f"{who} let the last tile go and {'pay' if who == 'You' else 'pays'} {much}.")
    elif outcome.winner is not None:
        much = "double" if house.self_drawn_doubles else "single"
        said.append(f"The last tile was self-drawn, so all three pay {much}.")
    paid = outcome.payments if really is None else really
    capped = [seat for seat in range(4) if _at_limit(house, outcome, seat)]
    short = [seat for seat in range(4) if paid[seat] > outcome.payments[seat]]
    if short:
        said.append(f"{_who(short, player)} had no more to lose in this match.")
    elif capped:
        said.append(f"{_who(capped, player)} can lose no more than {house.loss_limit} here.")
    if house.mistake_pays and any(_mistakes(state, seat) for seat in range(4)):
        said.append(f"A mistaken mahjong cost {house.mistake_pays} to each other seat.")
    return " ".join(said)


def _who(seats: Sequence[int], player: int) -> str:
    return words.listed([seat_words(seat, player) for seat in seats])


def _at_limit(house: House, outcome: Outcome, seat: int) -> bool:
    return house.loss_limit > 0 and -outcome.payments[seat] == house.loss_limit


def _mistakes(state: State, seat: int) -> list[str]:
    """What mistaken mahjongs have to do with what a seat pays or gets."""
    if not state.house.mistake_pays or state.house.table == QUIET:
        return []
    mistaken = [other for other, died in enumerate(state.died) if died is not None and died.exposure is None]
    if seat in mistaken:
        return ["with what a mistaken mahjong costs"]
    return ["with what it gets for a mistaken mahjong"] if mistaken else []


def kinds_shown(exposure: Exposure) -> tuple[tuple[Kind, bool], ...]:
    """The tiles of an exposure in order, and whether each is a joker: real ones first."""
    return tuple((exposure.kind, place >= exposure.real) for place in range(exposure.size))


def about_deal(line: LineSummary) -> str:
    """`deal K7Q2-M4X9-3TRB`; by its number where it has no code."""
    return f"deal {line.deal or line.id}"


def how_it_ended(line: LineSummary) -> str:
    """How the line ended, or that it has not."""
    return "Not finished." if line.ending is None else " ".join(ending_sentences(line.ending, line.house))


def near_sentence(miss: NearMiss, player: int) -> str:
    """`You were one tile from Moth: the 5 dot.`"""
    who = "You were" if miss.seat == player else f"{say_seat(miss.seat)} was"
    said = f"{who} {words.count(miss.missing, 'tile')} from {miss.hand.name}"
    if miss.missing > NAMED:
        return f"{said}."
    lacking = [slot.kind for group in miss.slots for slot in group if not slot.held]
    return f"{said}: {f'the {name(lacking[0])}' if len(lacking) == 1 else say_tiles(lacking)}."
