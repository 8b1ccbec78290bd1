-- Base weeks as templates that several athletes run, each scaled to their own amount.

PRAGMA user_version = 11;

CREATE TABLE week_template (
    id INTEGER PRIMARY KEY,
    version INTEGER NOT NULL CHECK (version >= 1),
    name TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 80),
    name_key TEXT NOT NULL,
    -- The unit of a number without a unit in the lines.
    units TEXT NOT NULL CHECK (units IN ('km', 'mi')),
    mon TEXT NOT NULL,
    tue TEXT NOT NULL,
    wed TEXT NOT NULL,
    thu TEXT NOT NULL,
    fri TEXT NOT NULL,
    sat TEXT NOT NULL,
    sun TEXT NOT NULL,
    notes TEXT NOT NULL,
    made_at TEXT NOT NULL,
    saved_at TEXT NOT NULL,
    removed_at TEXT
) STRICT;

-- Whose base week came from which template, and how it was filled in then: a day that reads
-- otherwise today was changed for the athlete, and stays when the template is applied again.
CREATE TABLE week_from_template (
    athlete INTEGER PRIMARY KEY REFERENCES base_week (athlete),
    template INTEGER NOT NULL REFERENCES week_template (id),
    template_version INTEGER NOT NULL CHECK (template_version >= 1),
    -- The week's running for this athlete, in thousandths of its unit.
    amount INTEGER NOT NULL CHECK (amount > 0),
    amount_unit TEXT NOT NULL CHECK (amount_unit IN ('km', 'mi', 'min')),
    -- The seven lines that the template gave, and the unit of a number without a unit in them.
    given TEXT NOT NULL CHECK (json_valid(given) AND json_array_length(given) = 7),
    units TEXT NOT NULL CHECK (units IN ('km', 'mi')),
    saved_at TEXT NOT NULL
) STRICT;

CREATE INDEX week_from_template_by_template ON week_from_template (template, template_version);

-- One more kind of form that counts once.
CREATE TABLE once_next (
    form_key TEXT PRIMARY KEY,
    kind TEXT NOT NULL CHECK (kind IN ('athlete', 'race', 'squad', 'step', 'template')),
    made INTEGER NOT NULL,
    at TEXT NOT NULL
) STRICT, WITHOUT ROWID;

INSERT INTO once_next (form_key, kind, made, at) SELECT form_key, kind, made, at FROM once;
DROP TABLE once;
ALTER TABLE once_next RENAME TO once;
