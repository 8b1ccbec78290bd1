-- A race that is called off asks for a word about each of its athletes, until it is said that this is settled.

PRAGMA user_version = 16;

-- When the coach said so: the board asks no more, and entry and block stay. NULL while it is open. It counts only while
-- the race is called off, and is forgotten when the race takes place after all.
ALTER TABLE entry ADD COLUMN settled_at TEXT;
