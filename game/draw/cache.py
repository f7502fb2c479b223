"""Pictures kept for the next frame, up to a number of bytes; the ones unused for longest go first."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Hashable
from typing import Generic, TypeVar

Key = TypeVar("Key", bound=Hashable)
Value = TypeVar("Value")


class Cache(Generic[Key, Value]):
    """A dictionary that forgets. `budget` is in the same measure as the costs given with each value."""

    def __init__(self, budget: int) -> None:
        self.budget = budget
        self.cost = 0
        self._cached: OrderedDict[Key, tuple[Value, int]] = OrderedDict()

    def get(self, key: Key) -> Value | None:
        """The value, now the most recently used, or None."""
        found = self._cached.get(key)
        if found is None:
            return None
        self._cached.move_to_end(key)
        return found[0]

    def put(self, key: Key, value: Value, cost: int) -> Value:
        """Keeps a value and gives it back; older ones go until the budget holds, but never this one."""
        before = self._cached.pop(key, None)
        self.cost += cost - (before[1] if before else 0)
        self._cached[key] = (value, cost)
        while self.cost > self.budget and len(self._cached) > 1:
            _, (_, freed) = self._cached.popitem(last=False)
            self.cost -= freed
        return value

    def __contains__(self, key: object) -> bool:
        return key in self._cached

    def __len__(self) -> int:
        return len(self._cached)
