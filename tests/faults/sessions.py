"""Sessions that end at the portal, and begin again, behind the back of a phone."""

import sqlite3


def stop_session(scene, key: str) -> tuple:
    """End a session at the portal, and give its row."""
    with sqlite3.connect(scene.portal.data / "kitchen-counter.sqlite3", timeout=20) as database:
        query = "SELECT * FROM django_session WHERE session_key = ?"
        row = database.execute(query, (key,)).fetchone()
        database.execute("DELETE FROM django_session WHERE session_key = ?", (key,))
    return row


def begin_session(scene, row: tuple) -> None:
    """Put a session back, as signing in does."""
    with sqlite3.connect(scene.portal.data / "kitchen-counter.sqlite3", timeout=20) as database:
        database.execute("INSERT INTO django_session VALUES (?, ?, ?)", row)
