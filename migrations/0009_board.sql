-- Which athletes' rows of the squad board are older than the file: the board keeps its rows in memory and
-- reads again only those that something was written for, whichever program wrote it.

PRAGMA user_version = 9;

-- The last change of each athlete, in the order of changes. A number is never given twice, so whoever knows
-- one finds everything that came after it. No foreign key: the change by which an athlete goes for good is
-- told, too.
CREATE TABLE board_change (
    seq INTEGER PRIMARY KEY AUTOINCREMENT,
    athlete INTEGER NOT NULL UNIQUE
) STRICT;

-- Writing an athlete in here makes the row older than everything else. A view, so that each trigger below
-- says but whose row it is; and a removal with an insertion, because how a statement meets a conflict
-- passes on into the triggers that it fires.
CREATE VIEW board_touch AS SELECT athlete FROM board_change;

CREATE TRIGGER board_touched INSTEAD OF INSERT ON board_touch BEGIN
    DELETE FROM board_change WHERE athlete = NEW.athlete;
    INSERT INTO board_change (athlete) VALUES (NEW.athlete);
END;

-- Every table that tells of an athlete, of a block or of a race has three triggers; a test finds one that has not.

CREATE TRIGGER board_athlete_insert AFTER INSERT ON athlete BEGIN
    INSERT INTO board_touch (athlete) VALUES (NEW.id);
END;
CREATE TRIGGER board_athlete_update AFTER UPDATE ON athlete BEGIN
    INSERT INTO board_touch (athlete) VALUES (NEW.id);
END;
CREATE TRIGGER board_athlete_delete AFTER DELETE ON athlete BEGIN
    INSERT INTO board_touch (athlete) VALUES (OLD.id);
END;

CREATE TRIGGER board_base_week_insert AFTER INSERT ON base_week BEGIN
    INSERT INTO board_touch (athlete) VALUES (NEW.athlete);
END;
CREATE TRIGGER board_base_week_update AFTER UPDATE ON base_week BEGIN
    INSERT INTO board_touch (athlete) VALUES (NEW.athlete);
END;
CREATE TRIGGER board_base_week_delete AFTER DELETE ON base_week BEGIN
    INSERT INTO board_touch (athlete) VALUES (OLD.athlete);
END;

CREATE TRIGGER board_second_week_insert AFTER INSERT ON second_week BEGIN
    INSERT INTO board_touch (athlete) VALUES (NEW.athlete);
END;
CREATE TRIGGER board_second_week_update AFTER UPDATE ON second_week BEGIN
    INSERT INTO board_touch (athlete) VALUES (NEW.athlete);
END;
CREATE TRIGGER board_second_week_delete AFTER DELETE ON second_week BEGIN
    INSERT INTO board_touch (athlete) VALUES (OLD.athlete);
END;

CREATE TRIGGER board_entry_insert AFTER INSERT ON entry BEGIN
    INSERT INTO board_touch (athlete) VALUES (NEW.athlete);
END;
CREATE TRIGGER board_entry_update AFTER UPDATE ON entry BEGIN
    INSERT INTO board_touch (athlete) VALUES (NEW.athlete);
END;
CREATE TRIGGER board_entry_delete AFTER DELETE ON entry BEGIN
    INSERT INTO board_touch (athlete) VALUES (OLD.athlete);
END;

CREATE TRIGGER board_block_insert AFTER INSERT ON block BEGIN
    INSERT INTO board_touch (athlete) VALUES (NEW.athlete);
END;
CREATE TRIGGER board_block_update AFTER UPDATE ON block BEGIN
    INSERT INTO board_touch (athlete) VALUES (NEW.athlete);
END;
CREATE TRIGGER board_block_delete AFTER DELETE ON block BEGIN
    INSERT INTO board_touch (athlete) VALUES (OLD.athlete);
END;

CREATE TRIGGER board_result_insert AFTER INSERT ON result BEGIN
    INSERT INTO board_touch (athlete) VALUES (NEW.athlete);
END;
CREATE TRIGGER board_result_update AFTER UPDATE ON result BEGIN
    INSERT INTO board_touch (athlete) VALUES (NEW.athlete);
END;
CREATE TRIGGER board_result_delete AFTER DELETE ON result BEGIN
    INSERT INTO board_touch (athlete) VALUES (OLD.athlete);
END;

CREATE TRIGGER board_life_event_insert AFTER INSERT ON life_event BEGIN
    INSERT INTO board_touch (athlete) VALUES (NEW.athlete);
END;
CREATE TRIGGER board_life_event_update AFTER UPDATE ON life_event BEGIN
    INSERT INTO board_touch (athlete) VALUES (NEW.athlete);
END;
CREATE TRIGGER board_life_event_delete AFTER DELETE ON life_event BEGIN
    INSERT INTO board_touch (athlete) VALUES (OLD.athlete);
END;

CREATE TRIGGER board_done_week_insert AFTER INSERT ON done_week BEGIN
    INSERT INTO board_touch (athlete) VALUES (NEW.athlete);
END;
CREATE TRIGGER board_done_week_update AFTER UPDATE ON done_week BEGIN
    INSERT INTO board_touch (athlete) VALUES (NEW.athlete);
END;
CREATE TRIGGER board_done_week_delete AFTER DELETE ON done_week BEGIN
    INSERT INTO board_touch (athlete) VALUES (OLD.athlete);
END;

CREATE TRIGGER board_done_session_insert AFTER INSERT ON done_session BEGIN
    INSERT INTO board_touch (athlete) VALUES (NEW.athlete);
END;
CREATE TRIGGER board_done_session_update AFTER UPDATE ON done_session BEGIN
    INSERT INTO board_touch (athlete) VALUES (NEW.athlete);
END;
CREATE TRIGGER board_done_session_delete AFTER DELETE ON done_session BEGIN
    INSERT INTO board_touch (athlete) VALUES (OLD.athlete);
END;

CREATE TRIGGER board_block_revision_insert AFTER INSERT ON block_revision BEGIN
    INSERT INTO board_touch (athlete) SELECT athlete FROM block WHERE id = NEW.block;
END;
CREATE TRIGGER board_block_revision_update AFTER UPDATE ON block_revision BEGIN
    INSERT INTO board_touch (athlete) SELECT athlete FROM block WHERE id = NEW.block;
END;
CREATE TRIGGER board_block_revision_delete AFTER DELETE ON block_revision BEGIN
    INSERT INTO board_touch (athlete) SELECT athlete FROM block WHERE id = OLD.block;
END;

CREATE TRIGGER board_block_present_insert AFTER INSERT ON block_present BEGIN
    INSERT INTO board_touch (athlete) SELECT athlete FROM block WHERE id = NEW.block;
END;
CREATE TRIGGER board_block_present_update AFTER UPDATE ON block_present BEGIN
    INSERT INTO board_touch (athlete) SELECT athlete FROM block WHERE id = NEW.block;
END;
CREATE TRIGGER board_block_present_delete AFTER DELETE ON block_present BEGIN
    INSERT INTO board_touch (athlete) SELECT athlete FROM block WHERE id = OLD.block;
END;

CREATE TRIGGER board_goal_notes_insert AFTER INSERT ON goal_notes BEGIN
    INSERT INTO board_touch (athlete) SELECT athlete FROM block WHERE id = NEW.block;
END;
CREATE TRIGGER board_goal_notes_update AFTER UPDATE ON goal_notes BEGIN
    INSERT INTO board_touch (athlete) SELECT athlete FROM block WHERE id = NEW.block;
END;
CREATE TRIGGER board_goal_notes_delete AFTER DELETE ON goal_notes BEGIN
    INSERT INTO board_touch (athlete) SELECT athlete FROM block WHERE id = OLD.block;
END;

CREATE TRIGGER board_race_sheet_insert AFTER INSERT ON race_sheet BEGIN
    INSERT INTO board_touch (athlete) SELECT athlete FROM block WHERE id = NEW.block;
END;
CREATE TRIGGER board_race_sheet_update AFTER UPDATE ON race_sheet BEGIN
    INSERT INTO board_touch (athlete) SELECT athlete FROM block WHERE id = NEW.block;
END;
CREATE TRIGGER board_race_sheet_delete AFTER DELETE ON race_sheet BEGIN
    INSERT INTO board_touch (athlete) SELECT athlete FROM block WHERE id = OLD.block;
END;

CREATE TRIGGER board_answers_insert AFTER INSERT ON answers BEGIN
    INSERT INTO board_touch (athlete) SELECT athlete FROM block WHERE id = NEW.block;
END;
CREATE TRIGGER board_answers_update AFTER UPDATE ON answers BEGIN
    INSERT INTO board_touch (athlete) SELECT athlete FROM block WHERE id = NEW.block;
END;
CREATE TRIGGER board_answers_delete AFTER DELETE ON answers BEGIN
    INSERT INTO board_touch (athlete) SELECT athlete FROM block WHERE id = OLD.block;
END;

CREATE TRIGGER board_share_insert AFTER INSERT ON share BEGIN
    INSERT INTO board_touch (athlete) SELECT athlete FROM block WHERE id = NEW.block;
END;
CREATE TRIGGER board_share_update AFTER UPDATE ON share BEGIN
    INSERT INTO board_touch (athlete) SELECT athlete FROM block WHERE id = NEW.block;
END;
CREATE TRIGGER board_share_delete AFTER DELETE ON share BEGIN
    INSERT INTO board_touch (athlete) SELECT athlete FROM block WHERE id = OLD.block;
END;

CREATE TRIGGER board_hand_over_insert AFTER INSERT ON hand_over BEGIN
    INSERT INTO board_touch (athlete) SELECT athlete FROM block WHERE id = NEW.block;
END;
CREATE TRIGGER board_hand_over_update AFTER UPDATE ON hand_over BEGIN
    INSERT INTO board_touch (athlete) SELECT athlete FROM block WHERE id = NEW.block;
END;
CREATE TRIGGER board_hand_over_delete AFTER DELETE ON hand_over BEGIN
    INSERT INTO board_touch (athlete) SELECT athlete FROM block WHERE id = OLD.block;
END;

CREATE TRIGGER board_message_sent_insert AFTER INSERT ON message_sent BEGIN
    INSERT INTO board_touch (athlete) SELECT athlete FROM block WHERE id = NEW.block;
END;
CREATE TRIGGER board_message_sent_update AFTER UPDATE ON message_sent BEGIN
    INSERT INTO board_touch (athlete) SELECT athlete FROM block WHERE id = NEW.block;
END;
CREATE TRIGGER board_message_sent_delete AFTER DELETE ON message_sent BEGIN
    INSERT INTO board_touch (athlete) SELECT athlete FROM block WHERE id = OLD.block;
END;

CREATE TRIGGER board_race_insert AFTER INSERT ON race BEGIN
    INSERT INTO board_touch (athlete) SELECT athlete FROM entry WHERE race = NEW.id;
END;
CREATE TRIGGER board_race_update AFTER UPDATE ON race BEGIN
    INSERT INTO board_touch (athlete) SELECT athlete FROM entry WHERE race = NEW.id;
END;
CREATE TRIGGER board_race_delete AFTER DELETE ON race BEGIN
    INSERT INTO board_touch (athlete) SELECT athlete FROM entry WHERE race = OLD.id;
END;

CREATE TRIGGER board_race_facts_insert AFTER INSERT ON race_facts BEGIN
    INSERT INTO board_touch (athlete) SELECT athlete FROM entry WHERE race = NEW.race;
END;
CREATE TRIGGER board_race_facts_update AFTER UPDATE ON race_facts BEGIN
    INSERT INTO board_touch (athlete) SELECT athlete FROM entry WHERE race = NEW.race;
END;
CREATE TRIGGER board_race_facts_delete AFTER DELETE ON race_facts BEGIN
    INSERT INTO board_touch (athlete) SELECT athlete FROM entry WHERE race = OLD.race;
END;

CREATE TRIGGER board_race_course_insert AFTER INSERT ON race_course BEGIN
    INSERT INTO board_touch (athlete) SELECT athlete FROM entry WHERE race = NEW.race;
END;
CREATE TRIGGER board_race_course_update AFTER UPDATE ON race_course BEGIN
    INSERT INTO board_touch (athlete) SELECT athlete FROM entry WHERE race = NEW.race;
END;
CREATE TRIGGER board_race_course_delete AFTER DELETE ON race_course BEGIN
    INSERT INTO board_touch (athlete) SELECT athlete FROM entry WHERE race = OLD.race;
END;
