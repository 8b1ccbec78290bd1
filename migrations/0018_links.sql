-- Which links still work is asked by publishing, and how many by its page: nearly all of a squad's links are over, so those
-- that work are looked up by their ends.

PRAGMA user_version = 18;

CREATE INDEX share_by_end ON share (ends) WHERE revoked_at IS NULL;
