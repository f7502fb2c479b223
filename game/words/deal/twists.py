"""A deal's twist in words: what it changes, what the advice leaves out, and what it did to the hand that was made."""

from __future__ import annotations

from engine import words
from engine.rules.house import House
from engine.rules.matching import match
from engine.rules.state import State
from engine.rules.twists.known import twist_named, twist_of, twists_for
from engine.rules.twists.sheets import rare_section
from engine.rules.twists.twist import Twist
from engine.tiles import FLOWER, counts_of, say_tiles
from game.play.desk import Desk
from game.play.twisting import SURPRISE, kept_twist


def twist_sentence(house: House) -> str:
    """`Twist of this deal: Mirror. Any hand may …`; empty where there is none."""
    twist = twist_of(house)
    return f"Twist of this deal: {twist.title}. {twist.says}" if house.twist else ""


def twist_sentences(state: State) -> list[str]:
    """All that a player should know of the deal's twist; none where there is none."""
    twist = twist_of(state.house)
    if not state.house.twist:
        return []
    said = [f"{twist.title}. {twist.says}"]
    if twist.rare_doubles:
        said.append(f"In this deal that is {rare_section(state.sheet.plain)}.")
    if state.aside:
        said.append(f"Out of play are {say_tiles(sorted(state.aside))}.")
    said.append(advice_sentence(twist))
    return said


def twist_choice_words(choice: str, table: str) -> str:
    """What the player has chosen for the next deals, in one or two sentences."""
    if not choice:
        return "The next deals have no twist. A twist is a small rule that changes one deal."
    if choice == SURPRISE:
        return "Each deal has another twist, drawn at random."
    twist = twist_named(choice)
    if twist not in twists_for(table):
        return f"{twist.title} is for tables where four play, so the next deals have no twist."
    return f"{twist.title}. {twist.says}"


def twist_clause(desk: Desk) -> str:
    """A clause behind the rules of the next deal; empty where it has no twist."""
    choice = kept_twist(desk.store)
    if choice == SURPRISE:
        return ", a surprise twist"
    fits = choice and twist_named(choice) in twists_for(desk.house.table)
    return f", the twist {twist_named(choice).title}" if fits else ""


def advice_sentence(twist: Twist) -> str:
    """What the advice makes of it."""
    return twist.unweighed or "The advice weighs it."


def twist_effect(state: State) -> str:
    """What the twist did to the hand that was made, in one sentence; empty where it did nothing to it."""
    end, twist = state.outcome, twist_of(state.house)
    if end is None or end.winner is None or end.hand is None or end.variant is None:
        return ""
    laid = state.exposures[end.winner]
    if twist.rare_doubles and end.hand.section == rare_section(state.sheet.plain):
        return f"By the twist, {end.hand.section} pays double."
    flowers = end.variant.total[FLOWER]
    if twist.flower_points and flowers:
        added = words.count(flowers * twist.flower_points, "point")
        return f"By the twist, {words.count(flowers, 'flower')} in the hand add{'s' if flowers == 1 else ''} {added}."
    let_go = sum(one.seat == end.winner for one in state.discards)
    if twist.times(let_go) > 1:
        return f"By the twist it pays double: only {words.count(let_go, 'tile')} had been let go."
    if state.sheet.twist and match(state.sheet.plain, counts_of(end.tiles), laid, state.house) is None:
        return f"Without the twist, {twist.title}, these tiles would have been no hand."
    return ""
