-- No version of a thing is given twice, even where the thing was taken away in between: whoever read the one that
-- is gone has not seen the one that came after it.

PRAGMA user_version = 17;

-- The last version of what was taken away; the next one goes on from there. No foreign key: the owner may go, too.
CREATE TABLE last_version (
    thing TEXT NOT NULL CHECK (thing IN ('course', 'week')),
    -- The race of a course, the athlete of a base week.
    owner INTEGER NOT NULL,
    version INTEGER NOT NULL CHECK (version >= 1),
    PRIMARY KEY (thing, owner)
) STRICT, WITHOUT ROWID;

-- A removal with an insertion in each, because how a statement meets a conflict passes on into the triggers that it
-- fires.
CREATE TRIGGER race_course_gone AFTER DELETE ON race_course BEGIN
    DELETE FROM last_version WHERE thing = 'course' AND owner = OLD.race;
    INSERT INTO last_version (thing, owner, version) VALUES ('course', OLD.race, OLD.version);
END;

CREATE TRIGGER base_week_gone AFTER DELETE ON base_week BEGIN
    DELETE FROM last_version WHERE thing = 'week' AND owner = OLD.athlete;
    INSERT INTO last_version (thing, owner, version) VALUES ('week', OLD.athlete, OLD.version);
END;

-- Base weeks that steps were undone with before this was written down: each undone step may have given one version.
INSERT INTO last_version (thing, owner, version)
SELECT 'week', item.athlete, count(*)
FROM squad_step_item AS item
JOIN squad_step ON squad_step.id = item.step
WHERE item.undone_at IS NOT NULL AND squad_step.kind IN ('bring-in', 'template')
      AND NOT EXISTS (SELECT 1 FROM base_week WHERE base_week.athlete = item.athlete)
GROUP BY item.athlete;
