-- An illness or injury that is not over yet: nobody knows its end until it is noted.

PRAGMA user_version = 15;

-- 1 while it goes on: `to_day` is then not its end, only a day on which it was known to last. NULL or 0 where the end
-- is known, as with everything that was noted before.
ALTER TABLE life_event ADD COLUMN no_end INTEGER CHECK (no_end IN (0, 1));

-- Who is ill or injured now, or was lately: the board asks that of everybody.
CREATE INDEX life_event_by_end ON life_event (to_day) WHERE removed_at IS NULL;
CREATE INDEX life_event_open ON life_event (athlete) WHERE no_end = 1 AND removed_at IS NULL;
