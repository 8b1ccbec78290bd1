-- What happens on the way to a race: the log, events of life, races that are called off, base weeks
-- that take turns, and revisions of a block that can be undone.

PRAGMA user_version = 2;

-- Where the athlete's body clock is: a name of the zone data base; NULL where nobody said.
ALTER TABLE athlete ADD COLUMN home_zone TEXT;

-- Since when the athlete runs like this; NULL where nobody said.
ALTER TABLE base_week ADD COLUMN since TEXT CHECK (date(since) IS since);

-- A second week that takes turns with the first: a lighter one, for most. Lines as typed, in the
-- units of the base week beside it, saved with it in one step.
CREATE TABLE second_week (
    athlete INTEGER PRIMARY KEY REFERENCES base_week (athlete),
    mon TEXT NOT NULL,
    tue TEXT NOT NULL,
    wed TEXT NOT NULL,
    thu TEXT NOT NULL,
    fri TEXT NOT NULL,
    sat TEXT NOT NULL,
    sun TEXT NOT NULL,
    -- A Monday on which this week stands; every other week from there, both ways.
    stands_on TEXT NOT NULL CHECK (date(stands_on) IS stands_on)
) STRICT;

-- A race that is called off stays visible as that.
ALTER TABLE race ADD COLUMN called_off TEXT CHECK (date(called_off) IS called_off);

-- What of a race was really run, where it was less: in thousandths of the unit typed.
ALTER TABLE entry ADD COLUMN ran_distance INTEGER CHECK (ran_distance > 0);
ALTER TABLE entry ADD COLUMN ran_unit TEXT CHECK (ran_unit IN ('km', 'mi'));

-- The revision from which this one was made; NULL for the first. Undo goes there, redo comes back.
ALTER TABLE block_revision ADD COLUMN parent INTEGER CHECK (parent >= 1);
UPDATE block_revision SET parent = number - 1 WHERE number > 1;

-- The plan without what happened on the way, where this revision was re-planned around it: a document
-- like `document`. Taking an event back plans from here again.
ALTER TABLE block_revision ADD COLUMN before_events TEXT CHECK (json_valid(before_events));

-- The second week as it was then: seven lines and the Monday on which it stands.
ALTER TABLE block_revision ADD COLUMN second_week_lines TEXT
    CHECK (json_valid(second_week_lines) AND json_array_length(second_week_lines) = 7);
ALTER TABLE block_revision ADD COLUMN second_week_stands_on TEXT
    CHECK (date(second_week_stands_on) IS second_week_stands_on);

-- Since when the athlete ran like this, as the coach said it then.
ALTER TABLE block_revision ADD COLUMN week_since TEXT CHECK (date(week_since) IS week_since);

-- Illness and the like. What stands here is the coach's own: it never leaves on the athletes' door.
CREATE TABLE life_event (
    id INTEGER PRIMARY KEY,
    version INTEGER NOT NULL CHECK (version >= 1),
    athlete INTEGER NOT NULL REFERENCES athlete (id),
    kind TEXT NOT NULL
        CHECK (kind IN ('illness', 'injury', 'travel', 'no-time', 'night-shift', 'low-energy')),
    from_day TEXT NOT NULL CHECK (date(from_day) IS from_day),
    to_day TEXT NOT NULL CHECK (date(to_day) IS to_day),
    fever INTEGER NOT NULL CHECK (fever IN (0, 1)),
    note TEXT NOT NULL,
    -- The day on which the coach learned of it: what lay before is not planned again.
    noted TEXT NOT NULL CHECK (date(noted) IS noted),
    made_at TEXT NOT NULL,
    removed_at TEXT,
    CHECK (from_day <= to_day)
) STRICT;

CREATE INDEX life_event_by_athlete ON life_event (athlete, from_day) WHERE removed_at IS NULL;

-- One line for a week that was run, as typed: "as planned", "less, about 20 km", "60 %".
CREATE TABLE done_week (
    athlete INTEGER NOT NULL REFERENCES athlete (id),
    -- Its first day: seven days from here.
    first_day TEXT NOT NULL CHECK (date(first_day) IS first_day),
    version INTEGER NOT NULL CHECK (version >= 1),
    line TEXT NOT NULL,
    -- How a number without a unit was meant.
    units TEXT NOT NULL CHECK (units IN ('km', 'mi')),
    -- How it felt and what was said: changes no plan.
    note TEXT NOT NULL,
    noted TEXT NOT NULL CHECK (date(noted) IS noted),
    saved_at TEXT NOT NULL,
    PRIMARY KEY (athlete, first_day)
) STRICT, WITHOUT ROWID;

-- One session that was run, as a line of the notation, and how hard it felt (0 to 10).
CREATE TABLE done_session (
    id INTEGER PRIMARY KEY,
    version INTEGER NOT NULL CHECK (version >= 1),
    athlete INTEGER NOT NULL REFERENCES athlete (id),
    day TEXT NOT NULL CHECK (date(day) IS day),
    line TEXT NOT NULL,
    units TEXT NOT NULL CHECK (units IN ('km', 'mi')),
    minutes INTEGER CHECK (minutes BETWEEN 1 AND 4320),
    effort INTEGER CHECK (effort BETWEEN 0 AND 10),
    noted TEXT NOT NULL CHECK (date(noted) IS noted),
    made_at TEXT NOT NULL,
    removed_at TEXT
) STRICT;

CREATE INDEX done_session_by_athlete ON done_session (athlete, day) WHERE removed_at IS NULL;
