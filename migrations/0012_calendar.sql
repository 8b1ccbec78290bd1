-- The squad's calendar shows forty athletes by group and name, however many there are.

PRAGMA user_version = 12;

-- A page of it is a look into this index, and so are the groups with their numbers of athletes. Without it every
-- look sorts the whole squad.
CREATE INDEX athlete_by_group ON athlete (training_group, name_key, id) WHERE removed_at IS NULL;
