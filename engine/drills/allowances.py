"""Results of one kind of drill, those with the same time allowed together: tallies never mix them."""

from __future__ import annotations

from collections.abc import Iterable

from engine.store.values import Result


def by_allowance(results: Iterable[Result], kind: str) -> list[tuple[float | None, list[Result]]]:
    """The results of that kind, each allowance (seconds) with its own: the untimed ones first (None), then the longest
    allowance. Only what was played is in."""
    groups: dict[float | None, list[Result]] = {}
    for result in results:
        if result.kind == kind:
            groups.setdefault(result.allowance, []).append(result)
    return sorted(groups.items(), key=lambda group: (group[0] is not None, -(group[0] or 0.0)))
