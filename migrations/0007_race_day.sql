-- Race day and after: the course and the facts of a race, the race sheet of a block, what came out.

PRAGMA user_version = 7;

-- Optional, for amounts of food per kilogram; it never leaves on the athletes' door.
ALTER TABLE athlete ADD COLUMN weight_grams INTEGER CHECK (weight_grams BETWEEN 25000 AND 250000);
-- 1 where food and drink are for a professional to plan: no figures are given then.
ALTER TABLE athlete ADD COLUMN fuel_referred INTEGER NOT NULL DEFAULT 0 CHECK (fuel_referred IN (0, 1));
-- Recent races and time trials, one a line as typed: `2027-03-14 10k 42:10`.
ALTER TABLE athlete ADD COLUMN recent_results TEXT NOT NULL DEFAULT '';

-- How the coach reaches the athlete at the race; on the coach's card and nowhere else.
ALTER TABLE athlete ADD COLUMN phone TEXT NOT NULL DEFAULT '' CHECK (length(phone) <= 40);

-- The course of a race as it was measured, not yet fitted to the official distance.
CREATE TABLE race_course (
    race INTEGER PRIMARY KEY REFERENCES race (id),
    version INTEGER NOT NULL CHECK (version >= 1),
    -- Whether somebody ran it or planned it.
    shape TEXT NOT NULL CHECK (shape IN ('track', 'route')),
    file_name TEXT NOT NULL CHECK (length(file_name) <= 200),
    -- A JSON array of points, each [millimetres along the course, millimetres of height or null].
    points TEXT NOT NULL CHECK (json_valid(points) AND json_type(points) = 'array'),
    saved_at TEXT NOT NULL
) STRICT;

-- What everybody who runs a race has to know on the day. Texts as typed.
CREATE TABLE race_facts (
    race INTEGER PRIMARY KEY REFERENCES race (id),
    version INTEGER NOT NULL CHECK (version >= 1),
    -- Aid stations and cut-offs, one a line: `12.5 km Mill: water, gels; cut-off 2:10`.
    stations TEXT NOT NULL,
    -- Where the coach stands, one a line: `8 km bridge`.
    stands TEXT NOT NULL,
    -- How a number without a unit was meant in both.
    units TEXT NOT NULL CHECK (units IN ('km', 'mi')),
    -- By the clocks of the place.
    pens_close TEXT CHECK (pens_close LIKE '__:__:__%'),
    bags_close TEXT CHECK (bags_close LIKE '__:__:__%'),
    bags TEXT NOT NULL,
    toilets TEXT NOT NULL,
    meeting TEXT NOT NULL,
    contact TEXT NOT NULL,
    afterwards TEXT NOT NULL,
    -- What the weather is expected to be, in tenths of a degree Celsius.
    air_tenths INTEGER CHECK (air_tenths BETWEEN -300 AND 500),
    wbgt_tenths INTEGER CHECK (wbgt_tenths BETWEEN -300 AND 450),
    saved_at TEXT NOT NULL
) STRICT;

-- What is set and written for one athlete's race. A text that is NULL is not the coach's yet: the
-- program proposes one; an empty one is meant to be empty.
CREATE TABLE race_sheet (
    block INTEGER PRIMARY KEY REFERENCES block (id),
    -- By how much the second half is slower, on equal terms: tenths of a per cent, negative for faster.
    split_tenths INTEGER NOT NULL CHECK (split_tenths BETWEEN -100 AND 100),
    -- How much of what a descent saves is counted on, in per cent.
    descent_percent INTEGER NOT NULL CHECK (descent_percent BETWEEN 0 AND 100),
    -- By how much the first kilometres are at least easier than the average: tenths of a per cent.
    first_easier_tenths INTEGER NOT NULL CHECK (first_easier_tenths BETWEEN 0 AND 100),
    -- Where the middle and the last stretch begin, in thousandths of the unit; NULL for thirds.
    middle_from INTEGER CHECK (middle_from > 0),
    last_from INTEGER CHECK (last_from > 0),
    border_unit TEXT CHECK (border_unit IN ('km', 'mi')),
    change_rules TEXT,
    bib TEXT NOT NULL,
    pen TEXT NOT NULL,
    -- Where the athlete's wave starts after the race itself, by the clocks of the place.
    wave_start TEXT CHECK (wave_start LIKE '__:__:__%'),
    -- Seconds from the gun until the start line is crossed, where the clock on the course counts from the gun.
    gun_seconds INTEGER CHECK (gun_seconds BETWEEN 0 AND 7200),
    travel_minutes INTEGER CHECK (travel_minutes BETWEEN 0 AND 1440),
    -- Minutes before the start at which the athlete eats.
    eat_minutes INTEGER CHECK (eat_minutes BETWEEN 30 AND 360),
    breakfast TEXT NOT NULL,
    -- What the athlete takes during the race, and the grams of carbohydrate in one.
    fuel_piece TEXT NOT NULL,
    piece_grams INTEGER CHECK (piece_grams BETWEEN 1 AND 200),
    grams_an_hour INTEGER CHECK (grams_an_hour BETWEEN 0 AND 120),
    -- In the coach's own words: food and drink, and caffeine as rehearsed.
    fuel_words TEXT NOT NULL,
    warm_up TEXT,
    kit TEXT,
    travel TEXT,
    worries TEXT NOT NULL,
    morning TEXT NOT NULL,
    saved_at TEXT NOT NULL,
    CHECK ((middle_from IS NULL) = (last_from IS NULL)),
    CHECK ((middle_from IS NULL) = (border_unit IS NULL)),
    CHECK (middle_from < last_from)
) STRICT;

-- Whether the race sheet is shown, and the sheet as it was when it was handed over.
ALTER TABLE share ADD COLUMN shows_race_day INTEGER NOT NULL DEFAULT 0 CHECK (shows_race_day IN (0, 1));
ALTER TABLE hand_over ADD COLUMN race_day TEXT CHECK (json_valid(race_day));

-- What came out of a race for one athlete. How far it was really run stands in `entry`.
CREATE TABLE result (
    race INTEGER NOT NULL,
    athlete INTEGER NOT NULL,
    version INTEGER NOT NULL CHECK (version >= 1),
    outcome TEXT NOT NULL CHECK (outcome IN ('finished', 'did-not-finish', 'did-not-start')),
    time_seconds INTEGER CHECK (time_seconds BETWEEN 1 AND 864000),
    place TEXT NOT NULL,
    -- 0 to 10: how rested at the start, how it felt.
    rested INTEGER CHECK (rested BETWEEN 0 AND 10),
    feeling INTEGER CHECK (feeling BETWEEN 0 AND 10),
    conditions TEXT NOT NULL,
    splits TEXT NOT NULL,
    -- In the athlete's own words, and what to change next time.
    words TEXT NOT NULL,
    next_time TEXT NOT NULL,
    saved_at TEXT NOT NULL,
    PRIMARY KEY (race, athlete),
    FOREIGN KEY (race, athlete) REFERENCES entry (race, athlete)
) STRICT, WITHOUT ROWID;

CREATE INDEX result_by_athlete ON result (athlete, race);
