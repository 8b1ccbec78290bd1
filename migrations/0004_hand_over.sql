-- What was handed over stays as it was, messages by date, and what athletes answered at the start of a block.

PRAGMA user_version = 4;

-- Goal notes as one text, in one order of its keys: taken when a block is handed over, and compared
-- with later to see whether they changed. Notes in which nothing is written are no row.
CREATE VIEW goal_document AS
SELECT block,
       json_object('a', goal_a, 'b', goal_b, 'c', goal_c, 'belief', belief,
                   'stretches', json_array(
                       json_object('effort', first_effort, 'focus', first_focus, 'cue', first_cue),
                       json_object('effort', middle_effort, 'focus', middle_focus, 'cue', middle_cue),
                       json_object('effort', last_effort, 'focus', last_focus, 'cue', last_cue)),
                   'hard_moment', hard_moment, 'message', message) AS document
FROM goal_notes
WHERE goal_a || goal_b || goal_c || belief || first_effort || first_focus || first_cue || middle_effort
      || middle_focus || middle_cue || last_effort || last_focus || last_cue || hard_moment || message <> '';

-- The goal notes of that day; NULL where nothing was written.
ALTER TABLE hand_over ADD COLUMN goals TEXT CHECK (json_valid(goals));
-- Until now the page showed the notes as they are: that is what those athletes hold.
UPDATE hand_over SET goals = (SELECT document FROM goal_document WHERE goal_document.block = hand_over.block);

-- Whether the three stretches of the race are shown; goals have a choice of their own.
ALTER TABLE share ADD COLUMN shows_stretches INTEGER NOT NULL DEFAULT 0 CHECK (shows_stretches IN (0, 1));
UPDATE share SET shows_stretches = shows_goals;

CREATE INDEX hand_over_by_share ON hand_over (share, id);

-- The squad's own words for a message; a moment without a row has the program's.
CREATE TABLE message_text (
    moment TEXT PRIMARY KEY
        CHECK (moment IN ('block-start', 'week-out', 'three-days-out', 'day-before', 'day-after')),
    version INTEGER NOT NULL CHECK (version >= 1),
    text TEXT NOT NULL,
    -- 0 where the coach went back to the program's words: these are kept, and can come back.
    in_use INTEGER NOT NULL CHECK (in_use IN (0, 1)),
    saved_at TEXT NOT NULL
) STRICT, WITHOUT ROWID;

-- Which messages of a block the coach says were sent; `withdrawn_at` takes that back.
CREATE TABLE message_sent (
    block INTEGER NOT NULL REFERENCES block (id),
    moment TEXT NOT NULL
        CHECK (moment IN ('block-start', 'week-out', 'three-days-out', 'day-before', 'day-after')),
    sent_at TEXT NOT NULL,
    withdrawn_at TEXT,
    PRIMARY KEY (block, moment)
) STRICT, WITHOUT ROWID;

-- What an athlete answered at the start of a block and has no field of its own among the goals. It is
-- the coach's: it never leaves on the athletes' door.
CREATE TABLE answers (
    block INTEGER PRIMARY KEY REFERENCES block (id),
    worry TEXT NOT NULL,
    last_taper TEXT NOT NULL,
    -- Lines that belong to no question.
    rest TEXT NOT NULL,
    -- Everything as it was pasted last.
    pasted TEXT NOT NULL,
    saved_at TEXT NOT NULL
) STRICT;
