-- Which revision of a block was the present one, again and again: undone, redone and restored too.

PRAGMA user_version = 3;

-- A calendar file can be taken from every one of these states, and the number of a change in it must
-- never fall: revisions alone do not tell that one was left and came back.
CREATE TABLE block_present (
    id INTEGER PRIMARY KEY,
    block INTEGER NOT NULL,
    revision INTEGER NOT NULL,
    FOREIGN KEY (block, revision) REFERENCES block_revision (block, number)
) STRICT;

CREATE INDEX block_present_by_block ON block_present (block, id);

INSERT INTO block_present (block, revision) SELECT block, number FROM block_revision ORDER BY block, number;
INSERT INTO block_present (block, revision)
SELECT id, revision FROM block
WHERE revision <> (SELECT max(number) FROM block_revision WHERE block_revision.block = block.id)
ORDER BY id;
