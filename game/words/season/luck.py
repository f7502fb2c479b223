"""What luck, the others and the player's choices did in a game: as steps that add up, and as sentences."""

from __future__ import annotations

from dataclasses import dataclass, replace

from engine import words
from engine.advice.review.full import FullReview, PointsParts
from engine.advice.review.review import Review
from engine.advice.review.values import CENTS
from engine.words import points_text
from game.words.season.progress import MINUS

NO_CHOICE = "none of which cost anything that shows"


@dataclass(frozen=True)
class LuckStep:
    """One part of what a game came to."""

    name: str
    """What did it, in two or three words."""
    amount: int
    """Points, or tenths of a percent of the chance of a hand."""
    said: str
    """The amount as it is shown."""


@dataclass(frozen=True)
class LuckSteps:
    """Steps from where a game began, in the eyes of an average player, to what came of it."""

    start: LuckStep | None
    """What an average player begins with; None for nothing."""
    steps: tuple[LuckStep, ...]
    """With the start they add up to the result."""
    result: LuckStep
    headline: str
    """What luck did and what choices did, in one sentence."""
    note: str
    """What the figures are."""


def luck_steps(found: Review) -> LuckSteps:
    """A game at the quiet table, in tenths of a percent of the chance of a hand."""
    deal, passes, draws, choices, rest = _rounded(found)
    average, result = round(1000 * found.average.value), round(1000 * found.result)
    parts = [("Luck of the deal", deal), *([("The passes", passes)] if _passed(found) else [])]
    parts += [("Luck of the draws", draws), ("Your choices", choices)]
    parts += [("Off by", rest)] if rest else []
    luck = deal + passes + draws
    ends = "The hand was made" if found.result == 1 else "No hand was made"
    return LuckSteps(
        LuckStep("The average deal", average, f"{_tenths(average)}%"),
        tuple(LuckStep(name, part, _percent(part)) for name, part in parts),
        LuckStep(ends, result, f"{result // 10}%"),
        f"Luck {_did(luck, _size(luck))}, your choices {_did(choices, _size(choices))}.",
        "Percent are the chance of a hand by the last pick, as estimated. Each bar begins where the one before it "
        "ends. “Off by” is how far the estimates were wrong.",
    )


def luck_lines(found: Review | None) -> list[str]:
    """Luck of the deal and of the draws, the player's choices, and the sum that shows how they add up; nothing where
    there was no review.

    Parts are percent of the chance of a hand, each rounded to tenths and the rest made to fit.
    """
    if found is None:
        return []
    deal, passes, draws, choices, rest = _rounded(found)
    average, result = round(1000 * found.average.value), round(1000 * found.result)
    passed = _passed(found)
    lines = [
        f"Luck of the deal: {_percent(deal)}, against the average deal, which good play finishes "
        f"{_tenths(average)} times in 100."
    ]
    if passed:
        lines.append(
            f"The passes: {_percent(passes)}, what good passes bring on average, and the luck of what came in."
        )
    number = len(found.unforced)
    mattered = f"{words.count(number, 'choice')} that mattered" if number else "none of which mattered"
    lines += [
        f"Luck of the draws: {_percent(draws)}, against the average of all tiles that might have come.",
        f"Your choices: {_percent(choices)}, against the advised ones; {mattered}.",
    ]
    parts = [deal, *([passes] if passed else []), draws, choices]
    total = " ".join([_tenths(average), *(f"{MINUS if part < 0 else '+'} {_tenths(abs(part))}" for part in parts)])
    ends = "a hand was made" if found.result == 1 else "no hand was made"
    off = f" {MINUS if rest < 0 else '+'} {_tenths(abs(rest))} by which the estimates were off" if rest else ""
    lines.append(
        f"Together: {total}{off} = {result // 10}%: {ends}. All figures are percent of the chance of a hand by "
        "the last pick, estimated and not measured by playing games out."
    )
    return lines


def _rounded(found: Review) -> tuple[int, int, int, int, int]:
    """Deal, passes, draws, choices and the rest, in tenths of a percent, so that they add up."""
    deal, passes, draws, choices = (
        round(1000 * part) for part in (found.deal, found.arrived + found.passing, found.draws, found.choices)
    )
    average, result = round(1000 * found.average.value), round(1000 * found.result)
    return deal, passes, draws, choices, result - average - deal - passes - draws - choices


def _passed(found: Review) -> bool:
    return any(decision.passing for decision in found.decisions)


# A game among four, in points.


def whole_points(found: PointsParts) -> dict[str, int]:
    """The parts in whole points. What the others did closes the sum, so that it is just what was won or paid."""
    whole = {name: round(part / CENTS) for name, part in found.parts.items()}
    whole["others"] = round(found.result / CENTS) - sum(part for name, part in whole.items() if name != "others")
    return whole


def points_steps(found: PointsParts, result: str = "") -> LuckSteps:
    """A game at the full table, or several of them together, in points. `result` is what the last line is called."""
    whole = whole_points(found)
    total = round(found.result / CENTS)
    names = _named(found)
    luck = sum(whole[name] for name in ("deal", "passes", "draws", "thrown"))
    others, choices = whole["others"], whole["choices"]
    return LuckSteps(
        None,
        tuple(LuckStep(said, whole[name], points_text(whole[name])) for name, said in names.items()),
        LuckStep(
            result or ("You won" if total > 0 else "You paid" if total else "Nothing was paid"),
            total,
            f"{points_text(total)} points",
        ),
        f"Luck {_did(luck, points(luck))}, what the others did {_did(others, points(others))}, "
        f"your choices {_did(choices, points(choices))}.",
        "Points are what you would win or pay on average from there on, as estimated; four who play alike begin at 0. "
        "Each bar begins where the one before it ends. What the others did also takes up what the estimates were off.",
    )


def match_steps(found: PointsParts, total: int) -> LuckSteps:
    """All deals of a match together. `total` are the player's points in it: fewer may be lost than the deals come to,
    where the house limits that."""
    steps = points_steps(found, "In the match")
    spared = total - steps.result.amount
    if not spared:
        return steps
    limit = LuckStep("The limit of losses", spared, points_text(spared))
    return replace(
        steps,
        steps=(*steps.steps, limit),
        result=replace(steps.result, amount=total, said=f"{points_text(total)} points"),
    )


NAMES = {
    "deal": "Luck of the deal",
    "passes": "What came in the passes",
    "draws": "Luck of your draws",
    "thrown": "What others let go",
    "others": "What the others did",
    "choices": "Your choices",
    "clock": "What the clock ended",
}
"""The parts of a game among four, in the order in which they are shown."""


def points_lines(found: FullReview | None) -> list[str]:
    """The same in sentences, with the sum; nothing where there was no review."""
    if found is None:
        return []
    whole = whole_points(found)
    cost = sum(one.cost >= 0.5 for one in found.decisions)
    dear = f"{words.count(cost, 'choice')} of {len(found.decisions)} cost half a point or more" if cost else NO_CHOICE
    about = {
        "deal": "against an average deal, with which four who play alike win nothing",
        "passes": "by the tiles that came in",
        "draws": "against the average of all tiles that might have come",
        "thrown": "tiles that you could call, and tiles that went past you",
        "others": "what they exposed and won, the rounds that went by, and what the estimates were off",
        "clock": "what there was still to win or to lose",
        "choices": f"against the advised ones; {dear}",
    }
    shown = _named(found)
    lines = [f"{said}: {_signed_points(whole[name])}, {about[name]}." for name, said in shown.items()]
    parts = [whole[name] for name in shown]
    first = f"{MINUS if parts[0] < 0 else ''}{abs(parts[0])}"
    total = " ".join([first, *(f"{MINUS if part < 0 else '+'} {abs(part)}" for part in parts[1:])])
    result = round(found.result / CENTS)
    ends = f"you won {points(result)}" if result > 0 else f"you paid {points(result)}" if result else "nothing was paid"
    lines.append(f"Together: {total} = {points_text(result)}: {ends}. The parts are estimated, the sum is not.")
    return lines


def _named(found: PointsParts) -> dict[str, str]:
    """The parts that are shown, and what they are called."""
    left_out = {"passes": not found.passed, "clock": not found.clock}
    return {name: said for name, said in NAMES.items() if not left_out.get(name)}


def points(amount: int) -> str:
    """`1 point`, `25 points`, without a sign."""
    return words.counted(abs(amount), "point")


def _signed_points(amount: int) -> str:
    return f"{points_text(amount)} {'point' if abs(amount) == 1 else 'points'}"


def _did(amount: int, said: str) -> str:
    """`brought 12 points`, `cost 4 points`, `changed nothing`."""
    return f"brought {said}" if amount > 0 else f"cost {said}" if amount < 0 else "changed nothing"


def _percent(tenths: int) -> str:
    sign = "" if not tenths else MINUS if tenths < 0 else "+"
    return f"{sign}{_tenths(abs(tenths))}%"


def _size(tenths: int) -> str:
    return f"{_tenths(abs(tenths))}%"


def _tenths(tenths: int) -> str:
    return f"{tenths // 10}.{tenths % 10}"
