-- Care of the data file: what was removed goes for good after its days, and whole squads are brought in.

PRAGMA user_version = 5;

-- What the program remembers from one round of care to the next: one row, always.
CREATE TABLE care (
    id INTEGER PRIMARY KEY CHECK (id = 1),
    -- When something removed was first seen to be past its days; NULL where nothing is. It goes only
    -- if it is still past them a day later: a clock that was ahead for an hour takes nothing away.
    overdue_seen_at TEXT
) STRICT;

INSERT INTO care (id, overdue_seen_at) VALUES (1, NULL);

-- One more kind of form that counts once: bringing in a whole squad.
CREATE TABLE once_next (
    form_key TEXT PRIMARY KEY,
    kind TEXT NOT NULL CHECK (kind IN ('athlete', 'race', 'squad')),
    made INTEGER NOT NULL,
    at TEXT NOT NULL
) STRICT, WITHOUT ROWID;

INSERT INTO once_next (form_key, kind, made, at) SELECT form_key, kind, made, at FROM once;
DROP TABLE once;
ALTER TABLE once_next RENAME TO once;
