-- One more kind of form that counts once: a press that changes many athletes.

PRAGMA user_version = 10;

CREATE TABLE once_next (
    form_key TEXT PRIMARY KEY,
    kind TEXT NOT NULL CHECK (kind IN ('athlete', 'race', 'squad', 'step')),
    made INTEGER NOT NULL,
    at TEXT NOT NULL
) STRICT, WITHOUT ROWID;

INSERT INTO once_next (form_key, kind, made, at) SELECT form_key, kind, made, at FROM once;
DROP TABLE once;
ALTER TABLE once_next RENAME TO once;
