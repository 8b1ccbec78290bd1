-- One press that changes many athletes, and what it takes to take it back.

PRAGMA user_version = 8;

-- A block that was taken back: hidden, and brought back or made again as long as it is kept. Made again
-- it is the same block with a further revision, so that no number is given twice.
ALTER TABLE block ADD COLUMN removed_at TEXT;

-- One press.
CREATE TABLE squad_step (
    id INTEGER PRIMARY KEY,
    kind TEXT NOT NULL CHECK (kind IN ('enter', 'plan', 'hand-over', 'bring-in', 'template')),
    -- The race it was for, if it was for one.
    race INTEGER REFERENCES race (id),
    made_at TEXT NOT NULL,
    undone_at TEXT
) STRICT;

CREATE INDEX squad_step_by_race ON squad_step (race, id);

-- What it changed for one athlete. Both documents are of the kind of the step, each written by one
-- place, so that equal states are equal texts.
CREATE TABLE squad_step_item (
    step INTEGER NOT NULL REFERENCES squad_step (id),
    athlete INTEGER NOT NULL REFERENCES athlete (id),
    -- What stood before; NULL: nothing did.
    before TEXT CHECK (json_valid(before)),
    -- What the step left: where it is otherwise by now, somebody changed it since, and it stays.
    after TEXT NOT NULL CHECK (json_valid(after)),
    -- When what stood before was given back; NULL in a step that was undone: it was changed since.
    undone_at TEXT,
    PRIMARY KEY (step, athlete)
) STRICT, WITHOUT ROWID;

CREATE INDEX squad_step_item_by_athlete ON squad_step_item (athlete);
