"""The one verdict of a moment at the table: what to do now, why, and the price of the other way."""

from __future__ import annotations

from dataclasses import dataclass, replace

from engine.advice.advise.answers import Advice, Keep, Known
from engine.advice.advise.calls import CallAdvice
from engine.advice.advise.defence import WORTH_A_WARNING, Defence
from engine.advice.advise.exchanges import ExchangeAdvice
from engine.rules.actions import Action, Call, Discard, Exchange, LetGo, Mahjong
from engine.rules.house import seat_name
from engine.sheet.groups import size_name
from engine.tiles import Kind, name
from engine.words import picks

PAYS_ALL = "Whoever lets the last tile go pays for all three here."
"""What is said beside a safer tile where the discarder pays for all. What tiles cost counts it."""


@dataclass(frozen=True)
class Verdict:
    """What to do now."""

    action: Action
    title: str
    """What to do, in a few words: `Let the flower go`."""
    because: str
    """Why, in three short sentences at most."""
    price: str = ""
    """What the other way would cost, in one sentence, where safety and speed differ."""

    @property
    def kind(self) -> Kind | None:
        """The tile that goes, if one does."""
        return self.action.kind if isinstance(self.action, Discard | Exchange) else None


def verdict_of(
    rack: Advice,
    call: CallAdvice | None = None,
    exchange: ExchangeAdvice | None = None,
    defence: Defence | None = None,
) -> Verdict | None:
    """The verdict from what is advised; None where there is nothing to do.

    A complete hand is shown. A discard gets the best answer. In a turn a good joker exchange comes first, then a
    discard.
    """
    if call is not None:
        return _answer(call)
    if rack.finished:
        return Verdict(Mahjong(), "Show it for mahjong", f"Your tiles make {rack.hands[0].hand.name}.")
    best = exchange.best if exchange is not None else None
    if best is not None:
        return Verdict(best.action, best.title, " ".join(part for part in (best.aim, best.because) if part))
    return discard_of(rack, defence)


def _answer(call: CallAdvice) -> Verdict:
    best = call.best
    match best.action:
        case Call(size, _):
            title = f"Call it for a {size_name(size)}"
        case LetGo():
            title = "Let it go"
        case _:
            title = "Call it for mahjong"
    return Verdict(best.action, title, best.because)


def discard_of(rack: Advice, defence: Defence | None = None) -> Verdict | None:
    """The verdict on the tile to let go; None where none is to go. What a tile may give to others is in its cost."""
    if rack.let_go is None or rack.finished:
        return None
    goes = rack.keeps[-1]
    said = Verdict(Discard(goes.kind), f"Let the {name(goes.kind)} go", rack.because)
    if defence is None:
        return said
    said = _in_spite_of(said, rack, defence)
    other = safer(rack, defence)
    if other is None:
        return said
    who = seat_name(defence.most_at_risk(goes.kind)).capitalize()
    cost = picks(_behind(other), turns=rack.turns)
    rough = "about " if (other.known is Known.ESTIMATED or not other.picks) and not cost.startswith("under") else ""
    price = (
        f"The {name(other.kind)} is safer, as {who} may be able to use the {name(goes.kind)}; it costs {rough}{cost}."
    )
    if defence.pays_all:
        price += f" {PAYS_ALL}"
    return replace(said, price=price)


def _in_spite_of(said: Verdict, rack: Advice, defence: Defence) -> Verdict:
    """The verdict, with the reason why a tile that one's own hand needs less stays, where others keep it back."""
    if rack.contested is None or rack.let_go is None:
        return said
    fastest = rack.contested.fastest
    if fastest == rack.let_go or defence.share(fastest) <= defence.share(rack.let_go):
        return said
    who = seat_name(defence.most_at_risk(fastest)).capitalize()
    why = f"Your hand needs the {name(fastest)} less, but {who} may be able to use it."
    if defence.pays_all:
        why += f" {PAYS_ALL}"
    return replace(said, because=f"{_aim(rack)} {why}")


def _aim(rack: Advice) -> str:
    """The sentence of the plan that says what to aim for."""
    return f"{rack.because.split('. ')[0].removesuffix('.')}."


def safer(rack: Advice, defence: Defence) -> Keep | None:
    """The cheapest tile that serves others less than half as much as the advised one, if that is worth a warning."""
    goes = rack.keeps[-1]
    here = defence.share(goes.kind)
    if here < WORTH_A_WARNING:
        return None
    found = [keep for keep in rack.keeps[:-1] if defence.share(keep.kind) < here / 2]
    return min(found, key=_behind, default=None)


def _behind(keep: Keep) -> float:
    """What a tile seems to cost in picks, told apart from none or not."""
    return max(keep.picks, keep.behind)
