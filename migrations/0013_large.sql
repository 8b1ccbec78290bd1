-- What a squad of thousands needs: questions over everybody are answered from an index.

PRAGMA user_version = 13;

-- Few: what is taken away from counts over everybody.
CREATE INDEX athlete_removed ON athlete (removed_at) WHERE removed_at IS NOT NULL;

-- The newest save of all, asked at each start: the greatest of each.
CREATE INDEX athlete_saved ON athlete (saved_at);
CREATE INDEX base_week_saved ON base_week (saved_at);
CREATE INDEX block_revision_made ON block_revision (made_at);
CREATE INDEX result_saved ON result (saved_at);
CREATE INDEX done_week_saved ON done_week (saved_at);
CREATE INDEX done_session_made ON done_session (made_at);
CREATE INDEX hand_over_at ON hand_over (at);
