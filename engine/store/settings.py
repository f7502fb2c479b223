"""Settings: any value that JSON has a form for, by its name."""

from __future__ import annotations

import sqlite3

from engine.store.connection import StorePart
from engine.store.rows import clean, from_json, to_json
from engine.store.values import Json, StoreError, UnsoundRowError


class SettingsPart(StorePart):
    """The settings in an open store. Every method may raise StoreError."""

    def get(self, key: str, default: Json = None) -> Json:
        """A setting's value, or the default where it was never set (or its text is damaged)."""
        row = self._connection.read(
            lambda db: db.execute("SELECT value FROM settings WHERE key = ?", (key,)).fetchone()
        )
        try:
            value: Json = default if row is None else from_json(row["value"])
        except UnsoundRowError:
            value = default
        return value

    def set(self, key: str, value: Json) -> None:
        """Store a setting: any value that JSON has a form for."""
        text = to_json(value, f"setting “{key}”")
        name = clean(key)
        if name != key or not name:
            raise StoreError("a setting's name is plain text; choose other letters")

        def stored(db: sqlite3.Connection) -> bool:
            row = db.execute("SELECT value FROM settings WHERE key = ?", (name,)).fetchone()
            return row is not None and row["value"] == text

        def work(db: sqlite3.Connection) -> None:
            db.execute(
                "INSERT INTO settings (key, value) VALUES (?, ?) "
                "ON CONFLICT (key) DO UPDATE SET value = excluded.value",
                (name, text),
            )

        if not self._connection.read(stored):  # a setting that stays as it is costs no writing
            self._connection.write(work)

    def settings(self) -> dict[str, Json]:
        """All settings by key."""
        rows = self._connection.read(lambda db: db.execute("SELECT key FROM settings ORDER BY key").fetchall())
        return {row["key"]: self.get(row["key"]) for row in rows}
