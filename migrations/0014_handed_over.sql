-- A message for the evening on which a block is handed over: the `CHECK`s know its moment.

PRAGMA user_version = 14;

CREATE TABLE message_text_new (
    moment TEXT PRIMARY KEY
        CHECK (moment IN ('hand-over', 'block-start', 'week-out', 'three-days-out', 'day-before', 'day-after')),
    version INTEGER NOT NULL CHECK (version >= 1),
    text TEXT NOT NULL,
    -- 0 where the coach went back to the program's words: these are kept, and can come back.
    in_use INTEGER NOT NULL CHECK (in_use IN (0, 1)),
    saved_at TEXT NOT NULL
) STRICT, WITHOUT ROWID;
INSERT INTO message_text_new (moment, version, text, in_use, saved_at)
SELECT moment, version, text, in_use, saved_at FROM message_text;
DROP TABLE message_text;
ALTER TABLE message_text_new RENAME TO message_text;

CREATE TABLE message_sent_new (
    block INTEGER NOT NULL REFERENCES block (id),
    moment TEXT NOT NULL
        CHECK (moment IN ('hand-over', 'block-start', 'week-out', 'three-days-out', 'day-before', 'day-after')),
    sent_at TEXT NOT NULL,
    withdrawn_at TEXT,
    PRIMARY KEY (block, moment)
) STRICT, WITHOUT ROWID;
INSERT INTO message_sent_new (block, moment, sent_at, withdrawn_at)
SELECT block, moment, sent_at, withdrawn_at FROM message_sent;
DROP TABLE message_sent;
ALTER TABLE message_sent_new RENAME TO message_sent;

-- A table made anew has its triggers made anew, see 0009.
CREATE TRIGGER board_message_sent_insert AFTER INSERT ON message_sent BEGIN
    INSERT INTO board_touch (athlete) SELECT athlete FROM block WHERE id = NEW.block;
END;
CREATE TRIGGER board_message_sent_update AFTER UPDATE ON message_sent BEGIN
    INSERT INTO board_touch (athlete) SELECT athlete FROM block WHERE id = NEW.block;
END;
CREATE TRIGGER board_message_sent_delete AFTER DELETE ON message_sent BEGIN
    INSERT INTO board_touch (athlete) SELECT athlete FROM block WHERE id = OLD.block;
END;
