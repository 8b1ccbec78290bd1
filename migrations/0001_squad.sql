-- The squad: athletes, base weeks, races, entries, blocks with all their revisions, links.
--
-- Conventions of the file, for every table:
--   * STRICT, so that a column holds what it says.
--   * Instants are RFC 3339 text in UTC with six decimals, so that text order is time order.
--   * Days are ISO dates as text; `date(x) IS x` refuses 2027-02-30.
--   * `version` counts saves: a form saves with the version it was read at.
--   * Nothing is deleted: `removed_at`, `withdrawn_at` and `revoked_at` hide, and NULL brings back.
--   * CHECKs repeat the limits of the planning crate. They are the last net, not the first.

-- Tells our files from those of other programs, and new ones from old ones, by the first 100 bytes.
PRAGMA application_id = 1164075617; -- the bytes 'Ebba'
PRAGMA user_version = 1;

CREATE TABLE athlete (
    id INTEGER PRIMARY KEY,
    version INTEGER NOT NULL CHECK (version >= 1),
    name TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 80),
    -- Lower case and without marks, written by the program: SQLite folds ASCII only.
    name_key TEXT NOT NULL,
    units TEXT NOT NULL CHECK (units IN ('km', 'mi')),
    easy_pace_seconds INTEGER CHECK (easy_pace_seconds BETWEEN 120 AND 1200),
    easy_pace_per TEXT CHECK (easy_pace_per IN ('km', 'mi')),
    birth_year INTEGER CHECK (birth_year BETWEEN 1900 AND 2100),
    -- A JSON array of texts: read whole, written whole, never searched.
    cautions TEXT NOT NULL CHECK (json_valid(cautions) AND json_type(cautions) = 'array'),
    suits_days INTEGER CHECK (suits_days BETWEEN 4 AND 35),
    suits_day_before TEXT CHECK (suits_day_before IN ('auto', 'rest', 'shake-out')),
    suits_extra_rest TEXT CHECK (suits_extra_rest IN ('mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun')),
    -- `group` is a word of SQL.
    training_group TEXT NOT NULL,
    notes TEXT NOT NULL,
    made_at TEXT NOT NULL,
    saved_at TEXT NOT NULL,
    removed_at TEXT,
    CHECK ((easy_pace_seconds IS NULL) = (easy_pace_per IS NULL))
) STRICT;

CREATE INDEX athlete_by_name ON athlete (name_key, id) WHERE removed_at IS NULL;

-- The seven lines that the coach typed. They are kept as typed, so that the coach reads their own
-- words again; `units` says how a number without a unit was meant when it was typed.
CREATE TABLE base_week (
    athlete INTEGER PRIMARY KEY REFERENCES athlete (id),
    version INTEGER NOT NULL CHECK (version >= 1),
    units TEXT NOT NULL CHECK (units IN ('km', 'mi')),
    mon TEXT NOT NULL,
    tue TEXT NOT NULL,
    wed TEXT NOT NULL,
    thu TEXT NOT NULL,
    fri TEXT NOT NULL,
    sat TEXT NOT NULL,
    sun TEXT NOT NULL,
    -- The weekly range as typed, or empty.
    week_range TEXT NOT NULL,
    saved_at TEXT NOT NULL
) STRICT;

-- Races belong to the squad; what one means to an athlete stands in `entry`.
CREATE TABLE race (
    id INTEGER PRIMARY KEY,
    version INTEGER NOT NULL CHECK (version >= 1),
    name TEXT NOT NULL CHECK (length(name) <= 120),
    day TEXT NOT NULL CHECK (date(day) IS day),
    -- A standard distance by its code, or the coach's own in thousandths of the unit typed.
    distance TEXT CHECK (distance IN ('5k', '10k', '10mi', 'half', 'marathon')),
    own_distance INTEGER CHECK (own_distance > 0),
    own_unit TEXT CHECK (own_unit IN ('km', 'mi')),
    -- By the clocks of the place.
    start TEXT CHECK (start LIKE '__:__:__%'),
    zone TEXT,
    place TEXT NOT NULL,
    made_at TEXT NOT NULL,
    saved_at TEXT NOT NULL,
    removed_at TEXT,
    CHECK ((own_distance IS NULL) = (own_unit IS NULL)),
    CHECK ((distance IS NULL) <> (own_distance IS NULL))
) STRICT;

CREATE INDEX race_by_day ON race (day, id) WHERE removed_at IS NULL;

-- One athlete in one race, once: entering again changes the importance or brings the entry back.
CREATE TABLE entry (
    race INTEGER NOT NULL REFERENCES race (id),
    athlete INTEGER NOT NULL REFERENCES athlete (id),
    importance TEXT NOT NULL CHECK (importance IN ('goal', 'tune-up', 'training-through')),
    entered_at TEXT NOT NULL,
    withdrawn_at TEXT,
    PRIMARY KEY (race, athlete)
) STRICT, WITHOUT ROWID;

CREATE INDEX entry_by_athlete ON entry (athlete, race);

-- One block for one entry, for good: a block is seen exactly while its entry, its athlete and its
-- race are. The days stand in its revisions.
CREATE TABLE block (
    id INTEGER PRIMARY KEY,
    athlete INTEGER NOT NULL,
    race INTEGER NOT NULL,
    version INTEGER NOT NULL CHECK (version >= 1),
    -- The present revision.
    revision INTEGER NOT NULL CHECK (revision >= 1),
    made_at TEXT NOT NULL,
    UNIQUE (athlete, race),
    FOREIGN KEY (race, athlete) REFERENCES entry (race, athlete)
) STRICT;

-- Every state that the days of a block were in. Rows are written once and never changed, because an
-- athlete may still hold the sheet of an old one.
CREATE TABLE block_revision (
    id INTEGER PRIMARY KEY,
    block INTEGER NOT NULL REFERENCES block (id),
    number INTEGER NOT NULL CHECK (number >= 1),
    made_at TEXT NOT NULL,
    -- Why it was made, in the program's words.
    reason TEXT NOT NULL,
    -- What the coach set; NULL takes the default of the event and the athlete.
    days INTEGER CHECK (days BETWEEN 4 AND 35),
    curve REAL CHECK (curve BETWEEN 0.3 AND 4.0),
    floor REAL CHECK (floor BETWEEN 0.1 AND 0.9),
    shape TEXT NOT NULL CHECK (shape IN ('ebb', 'linear', 'step', 'exponential')),
    day_before TEXT NOT NULL CHECK (day_before IN ('auto', 'rest', 'shake-out')),
    extra_rest TEXT NOT NULL
        CHECK (extra_rest IN ('auto', 'none', 'mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun')),
    -- The base week as it was then: the week itself goes on changing.
    week_version INTEGER NOT NULL CHECK (week_version >= 0),
    week_units TEXT NOT NULL CHECK (week_units IN ('km', 'mi')),
    week_lines TEXT NOT NULL CHECK (json_valid(week_lines) AND json_array_length(week_lines) = 7),
    week_range TEXT NOT NULL,
    week_saved_at TEXT,
    -- Where the race was then; the race itself stands in the document.
    place TEXT NOT NULL,
    -- The block as a document: days are read and written whole, and never searched.
    document TEXT NOT NULL CHECK (json_valid(document)),
    UNIQUE (block, number)
) STRICT;

-- Goals and race strategy have a table of their own, so that making days anew cannot touch them.
CREATE TABLE goal_notes (
    block INTEGER PRIMARY KEY REFERENCES block (id),
    goal_a TEXT NOT NULL,
    goal_b TEXT NOT NULL,
    goal_c TEXT NOT NULL,
    belief TEXT NOT NULL,
    first_effort TEXT NOT NULL,
    first_focus TEXT NOT NULL,
    first_cue TEXT NOT NULL,
    middle_effort TEXT NOT NULL,
    middle_focus TEXT NOT NULL,
    middle_cue TEXT NOT NULL,
    last_effort TEXT NOT NULL,
    last_focus TEXT NOT NULL,
    last_cue TEXT NOT NULL,
    hard_moment TEXT NOT NULL,
    message TEXT NOT NULL,
    saved_at TEXT NOT NULL
) STRICT;

-- Links to athletes. The token stays readable, so that the coach can copy the address again; it is
-- looked up by its hash, so that the time an answer takes says nothing about near misses.
CREATE TABLE share (
    id INTEGER PRIMARY KEY,
    block INTEGER NOT NULL REFERENCES block (id),
    token TEXT NOT NULL UNIQUE,
    token_hash BLOB NOT NULL UNIQUE CHECK (length(token_hash) = 32),
    revision INTEGER NOT NULL CHECK (revision >= 1),
    handed_over_at TEXT NOT NULL,
    ends TEXT NOT NULL CHECK (date(ends) IS ends),
    shows_goals INTEGER NOT NULL CHECK (shows_goals IN (0, 1)),
    made_at TEXT NOT NULL,
    revoked_at TEXT,
    FOREIGN KEY (block, revision) REFERENCES block_revision (block, number)
) STRICT;

-- A block has one link that works, or none.
CREATE UNIQUE INDEX share_working ON share (block) WHERE revoked_at IS NULL;

-- What was handed over when: "replaces the sheet of 3 April" outlives the link it went out by.
CREATE TABLE hand_over (
    id INTEGER PRIMARY KEY,
    block INTEGER NOT NULL,
    revision INTEGER NOT NULL,
    share INTEGER NOT NULL REFERENCES share (id),
    at TEXT NOT NULL,
    FOREIGN KEY (block, revision) REFERENCES block_revision (block, number)
) STRICT;

CREATE INDEX hand_over_by_block ON hand_over (block, revision, at);

-- The coach's own settings: one row, always.
CREATE TABLE coach_settings (
    id INTEGER PRIMARY KEY CHECK (id = 1),
    version INTEGER NOT NULL CHECK (version >= 1),
    units TEXT NOT NULL CHECK (units IN ('km', 'mi')),
    week_start TEXT NOT NULL CHECK (week_start IN ('mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun')),
    paper TEXT NOT NULL CHECK (paper IN ('a4', 'letter')),
    coach_name TEXT NOT NULL,
    -- NULL until the coach saves for the first time.
    saved_at TEXT
) STRICT;

INSERT INTO coach_settings (id, version, units, week_start, paper, coach_name, saved_at)
VALUES (1, 1, 'km', 'mon', 'a4', '', NULL);

-- What a form's own key made: the same form sent twice makes one record.
CREATE TABLE once (
    form_key TEXT PRIMARY KEY,
    kind TEXT NOT NULL CHECK (kind IN ('athlete', 'race')),
    made INTEGER NOT NULL,
    at TEXT NOT NULL
) STRICT, WITHOUT ROWID;
