//! Which tables and columns leave with an export, in the order in which they come back.

/// What a cell holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    /// A whole number.
    Whole,
    /// Any number.
    Real,
    /// Text as it was typed.
    Text,
    /// A name: text of one line without marks that turn its direction.
    Name,
    /// Yes or no.
    Flag,
    /// A day.
    Day,
    /// An instant.
    Instant,
    /// A list or an object.
    Json,
    /// Not in the file: what the name in the same row is found and sorted by.
    Key,
}

/// One column.
#[derive(Clone, Copy, Debug)]
pub(super) struct Column {
    pub(super) name: &'static str,
    pub(super) kind: Kind,
    /// Whether it may hold nothing; it may then be missing from a file too.
    pub(super) optional: bool,
}

impl Column {
    /// Whether the file has it.
    pub(super) fn is_told(&self) -> bool {
        self.kind != Kind::Key
    }
}

/// One table. Its rows are in the order of its first two columns.
#[derive(Clone, Copy, Debug)]
pub(super) struct Table {
    /// Its name in the data file.
    pub(super) name: &'static str,
    /// Its name in an export.
    pub(super) file: &'static str,
    pub(super) columns: &'static [Column],
    pub(super) rows: Rows,
}

/// How rows come into a table.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Rows {
    /// Each is new.
    Many,
    /// There is one row, always: it takes the values, and counts that as a save.
    One,
}

const fn must(name: &'static str, kind: Kind) -> Column {
    Column { name, kind, optional: false }
}

const fn may(name: &'static str, kind: Kind) -> Column {
    Column { name, kind, optional: true }
}

use Kind::{Day, Flag, Instant, Json, Key, Name, Real, Text, Whole};

/// Every table that leaves; what a row points at comes before it.
pub(super) const TABLES: &[Table] = &[
    Table {
        name: "coach_settings",
        file: "settings",
        rows: Rows::One,
        columns: &[
            must("units", Text),
            must("week_start", Text),
            must("paper", Text),
            must("coach_name", Name),
            may("saved_at", Instant),
        ],
    },
    Table {
        name: "athlete",
        file: "athletes",
        rows: Rows::Many,
        columns: &[
            must("id", Whole),
            must("version", Whole),
            must("name", Name),
            must("name_key", Key),
            must("units", Text),
            may("easy_pace_seconds", Whole),
            may("easy_pace_per", Text),
            may("birth_year", Whole),
            may("home_zone", Text),
            may("weight_grams", Whole),
            must("fuel_referred", Flag),
            must("recent_results", Text),
            must("phone", Text),
            must("cautions", Json),
            may("suits_days", Whole),
            may("suits_day_before", Text),
            may("suits_extra_rest", Text),
            must("training_group", Name),
            must("notes", Text),
            must("made_at", Instant),
            must("saved_at", Instant),
            may("removed_at", Instant),
        ],
    },
    Table {
        name: "base_week",
        file: "base_weeks",
        rows: Rows::Many,
        columns: &[
            must("athlete", Whole),
            must("version", Whole),
            must("units", Text),
            must("mon", Text),
            must("tue", Text),
            must("wed", Text),
            must("thu", Text),
            must("fri", Text),
            must("sat", Text),
            must("sun", Text),
            must("week_range", Text),
            may("since", Day),
            must("saved_at", Instant),
        ],
    },
    Table {
        name: "second_week",
        file: "second_weeks",
        rows: Rows::Many,
        columns: &[
            must("athlete", Whole),
            must("mon", Text),
            must("tue", Text),
            must("wed", Text),
            must("thu", Text),
            must("fri", Text),
            must("sat", Text),
            must("sun", Text),
            must("stands_on", Day),
        ],
    },
    Table {
        name: "week_template",
        file: "week_templates",
        rows: Rows::Many,
        columns: &[
            must("id", Whole),
            must("version", Whole),
            must("name", Name),
            must("name_key", Key),
            must("units", Text),
            must("mon", Text),
            must("tue", Text),
            must("wed", Text),
            must("thu", Text),
            must("fri", Text),
            must("sat", Text),
            must("sun", Text),
            must("notes", Text),
            must("made_at", Instant),
            must("saved_at", Instant),
            may("removed_at", Instant),
        ],
    },
    Table {
        name: "week_from_template",
        file: "weeks_from_templates",
        rows: Rows::Many,
        columns: &[
            must("athlete", Whole),
            must("template", Whole),
            must("template_version", Whole),
            must("amount", Whole),
            must("amount_unit", Text),
            must("given", Json),
            must("units", Text),
            must("saved_at", Instant),
        ],
    },
    Table {
        name: "race",
        file: "races",
        rows: Rows::Many,
        columns: &[
            must("id", Whole),
            must("version", Whole),
            must("name", Name),
            must("day", Day),
            may("distance", Text),
            may("own_distance", Whole),
            may("own_unit", Text),
            may("start", Text),
            may("zone", Text),
            must("place", Name),
            may("called_off", Day),
            must("made_at", Instant),
            must("saved_at", Instant),
            may("removed_at", Instant),
        ],
    },
    Table {
        name: "race_course",
        file: "race_courses",
        rows: Rows::Many,
        columns: &[
            must("race", Whole),
            must("version", Whole),
            must("shape", Text),
            must("file_name", Name),
            must("points", Json),
            must("saved_at", Instant),
        ],
    },
    Table {
        name: "race_facts",
        file: "race_facts",
        rows: Rows::Many,
        columns: &[
            must("race", Whole),
            must("version", Whole),
            must("stations", Text),
            must("stands", Text),
            must("units", Text),
            may("pens_close", Text),
            may("bags_close", Text),
            must("bags", Text),
            must("toilets", Text),
            must("meeting", Text),
            must("contact", Text),
            must("afterwards", Text),
            may("air_tenths", Whole),
            may("wbgt_tenths", Whole),
            must("saved_at", Instant),
        ],
    },
    Table {
        name: "entry",
        file: "entries",
        rows: Rows::Many,
        columns: &[
            must("race", Whole),
            must("athlete", Whole),
            must("importance", Text),
            must("entered_at", Instant),
            may("withdrawn_at", Instant),
            may("ran_distance", Whole),
            may("ran_unit", Text),
            may("settled_at", Instant),
        ],
    },
    Table {
        name: "result",
        file: "results",
        rows: Rows::Many,
        columns: &[
            must("race", Whole),
            must("athlete", Whole),
            must("version", Whole),
            must("outcome", Text),
            may("time_seconds", Whole),
            must("place", Text),
            may("rested", Whole),
            may("feeling", Whole),
            must("conditions", Text),
            must("splits", Text),
            must("words", Text),
            must("next_time", Text),
            must("saved_at", Instant),
        ],
    },
    Table {
        name: "block",
        file: "blocks",
        rows: Rows::Many,
        columns: &[
            must("id", Whole),
            must("athlete", Whole),
            must("race", Whole),
            must("version", Whole),
            must("revision", Whole),
            must("made_at", Instant),
            may("removed_at", Instant),
        ],
    },
    Table {
        name: "block_revision",
        file: "block_versions",
        rows: Rows::Many,
        columns: &[
            must("id", Whole),
            must("block", Whole),
            must("number", Whole),
            may("parent", Whole),
            must("made_at", Instant),
            must("reason", Text),
            may("days", Whole),
            may("curve", Real),
            may("floor", Real),
            must("shape", Text),
            must("day_before", Text),
            must("extra_rest", Text),
            must("week_version", Whole),
            must("week_units", Text),
            must("week_lines", Json),
            must("week_range", Text),
            may("week_since", Day),
            may("second_week_lines", Json),
            may("second_week_stands_on", Day),
            may("week_saved_at", Instant),
            must("place", Name),
            must("document", Json),
            may("before_events", Json),
        ],
    },
    Table {
        name: "block_present",
        file: "block_present",
        rows: Rows::Many,
        columns: &[must("id", Whole), must("block", Whole), must("revision", Whole)],
    },
    Table {
        name: "goal_notes",
        file: "goals",
        rows: Rows::Many,
        columns: &[
            must("block", Whole),
            must("goal_a", Text),
            must("goal_b", Text),
            must("goal_c", Text),
            must("belief", Text),
            must("first_effort", Text),
            must("first_focus", Text),
            must("first_cue", Text),
            must("middle_effort", Text),
            must("middle_focus", Text),
            must("middle_cue", Text),
            must("last_effort", Text),
            must("last_focus", Text),
            must("last_cue", Text),
            must("hard_moment", Text),
            must("message", Text),
            must("saved_at", Instant),
        ],
    },
    Table {
        name: "race_sheet",
        file: "race_sheets",
        rows: Rows::Many,
        columns: &[
            must("block", Whole),
            must("split_tenths", Whole),
            must("descent_percent", Whole),
            must("first_easier_tenths", Whole),
            may("middle_from", Whole),
            may("last_from", Whole),
            may("border_unit", Text),
            may("change_rules", Text),
            must("bib", Text),
            must("pen", Text),
            may("wave_start", Text),
            may("gun_seconds", Whole),
            may("travel_minutes", Whole),
            may("eat_minutes", Whole),
            must("breakfast", Text),
            must("fuel_piece", Text),
            may("piece_grams", Whole),
            may("grams_an_hour", Whole),
            must("fuel_words", Text),
            may("warm_up", Text),
            may("kit", Text),
            may("travel", Text),
            must("worries", Text),
            must("morning", Text),
            must("saved_at", Instant),
        ],
    },
    Table {
        name: "message_text",
        file: "message_texts",
        rows: Rows::Many,
        columns: &[
            must("moment", Text),
            must("version", Whole),
            must("text", Text),
            must("in_use", Flag),
            must("saved_at", Instant),
        ],
    },
    Table {
        name: "message_sent",
        file: "messages_sent",
        rows: Rows::Many,
        columns: &[must("block", Whole), must("moment", Text), must("sent_at", Instant), may("withdrawn_at", Instant)],
    },
    Table {
        name: "answers",
        file: "answers",
        rows: Rows::Many,
        columns: &[
            must("block", Whole),
            must("worry", Text),
            must("last_taper", Text),
            must("rest", Text),
            must("pasted", Text),
            must("saved_at", Instant),
        ],
    },
    Table {
        name: "life_event",
        file: "events",
        rows: Rows::Many,
        columns: &[
            must("id", Whole),
            must("version", Whole),
            must("athlete", Whole),
            must("kind", Text),
            must("from_day", Day),
            must("to_day", Day),
            must("fever", Flag),
            must("note", Text),
            must("noted", Day),
            must("made_at", Instant),
            may("removed_at", Instant),
            may("no_end", Flag),
        ],
    },
    Table {
        name: "done_week",
        file: "log_weeks",
        rows: Rows::Many,
        columns: &[
            must("athlete", Whole),
            must("first_day", Day),
            must("version", Whole),
            must("line", Text),
            must("units", Text),
            must("note", Text),
            must("noted", Day),
            must("saved_at", Instant),
        ],
    },
    Table {
        name: "done_session",
        file: "log_sessions",
        rows: Rows::Many,
        columns: &[
            must("id", Whole),
            must("version", Whole),
            must("athlete", Whole),
            must("day", Day),
            must("line", Text),
            must("units", Text),
            may("minutes", Whole),
            may("effort", Whole),
            must("noted", Day),
            must("made_at", Instant),
            may("removed_at", Instant),
        ],
    },
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::open;

    /// What stays in the data file, and why.
    const KEPT_BACK: &[(&str, &str)] = &[
        ("_sqlx_migrations", "of the file, not of the squad"),
        ("care", "of the file, not of the squad"),
        ("doors", "of the machine, and its pass phrase is a secret"),
        ("sign_in", "of the browsers that are signed in now"),
        ("once", "keys of forms that are open now"),
        ("last_version", "of forms that are open now"),
        ("board_change", "of the file, not of the squad"),
        ("share", "whoever holds a token reads a block: links are secrets and are made anew"),
        ("hand_over", "goes with the links"),
        ("squad_step", "is undone in the file in which it was made"),
        ("squad_step_item", "goes with the steps"),
    ];

    /// Columns that stay although their table leaves.
    const COLUMNS_KEPT_BACK: &[(&str, &str)] =
        &[("coach_settings.id", "there is one row"), ("coach_settings.version", "counts the saves of this file")];

    #[tokio::test]
    async fn every_table_and_column_leaves_or_is_kept_back_for_a_reason() {
        let store = open().await;
        let found: Vec<(String, String, bool)> = sqlx::query_as(
            "SELECT tables.name, columns.name, columns.\"notnull\" OR columns.pk > 0
             FROM sqlite_schema AS tables, pragma_table_info(tables.name) AS columns
             WHERE tables.type = 'table' AND tables.name NOT LIKE 'sqlite\\_%' ESCAPE '\\'",
        )
        .fetch_all(&mut store.stray().await)
        .await
        .unwrap();
        let mut told = 0;
        for (table, name, must) in found {
            let full = format!("{table}.{name}");
            if KEPT_BACK.iter().any(|(kept, _)| *kept == table)
                || COLUMNS_KEPT_BACK.iter().any(|(kept, _)| *kept == full)
            {
                continue;
            }
            let known = TABLES.iter().find(|one| one.name == table);
            let column = known.and_then(|table| table.columns.iter().find(|column| column.name == name));
            let Some(column) = column else {
                panic!("{full} is new: give it a line in TABLES, or keep it back and say why");
            };
            assert_eq!(column.optional, !must, "{full}");
            told += 1;
        }
        assert_eq!(told, TABLES.iter().map(|table| table.columns.len()).sum::<usize>(), "a column that is no more");
    }
}
