//! What an athlete ran as a table: one row a run, and one for each week that was told in a line.
//!
//! Written as [every table](crate::table) is. What happened on the way, illness and the like, is not in it.

use chrono::NaiveDate;
use planning::DoneSession;

use crate::{table, words};

/// The first row.
const HEADER: [&str; 10] = ["date", "what", "kind", "low", "high", "unit", "minutes", "effort", "line", "note"];

/// One thing that was noted.
#[derive(Clone, Copy, Debug)]
pub enum Row<'a> {
    /// A run.
    Session {
        /// What was run.
        done: &'a DoneSession,
        /// The line as typed.
        line: &'a str,
    },
    /// A week in one line, by its first day.
    Week {
        /// The first of its seven days.
        first: NaiveDate,
        /// The line as typed.
        line: &'a str,
        /// How it felt and what was said.
        note: &'a str,
    },
}

/// Writes the table, rows in the order in which they come.
pub fn write(rows: &[Row<'_>]) -> String {
    table::write(&HEADER, rows.iter().map(cells))
}

fn cells(row: &Row<'_>) -> Vec<String> {
    match row {
        Row::Week { first, line, note } => {
            let begin = [first.to_string(), "week".to_owned()];
            let nothing = std::iter::repeat_n(String::new(), 6);
            let typed = [(*line).to_owned(), (*note).to_owned()];
            begin.into_iter().chain(nothing).chain(typed).collect()
        }
        Row::Session { done, line } => [
            done.date.to_string(),
            "session".to_owned(),
            done.kind.code().to_owned(),
            words::number(done.amount.low()),
            words::number(done.amount.high()),
            done.amount.unit().symbol().to_owned(),
            done.minutes.map(|minutes| minutes.to_string()).unwrap_or_default(),
            done.effort.map(|effort| effort.to_string()).unwrap_or_default(),
            (*line).to_owned(),
            String::new(),
        ]
        .into(),
    }
}

#[cfg(test)]
mod tests {
    use planning::{Amount, Kind, Milli, Unit};

    use super::*;

    fn table(line: &str, note: &str) -> String {
        let first = "2027-04-26".parse().unwrap();
        let done = DoneSession {
            date: "2027-04-29".parse().unwrap(),
            kind: Kind::Tempo,
            amount: Amount::exact(Milli(9_500), Unit::Km),
            minutes: Some(46),
            effort: Some(7),
        };
        write(&[Row::Week { first, line, note }, Row::Session { done: &done, line: "tempo 9.5" }])
    }

    #[test]
    fn numbers_stay_numbers_and_lines_stay_as_typed() {
        assert_eq!(
            table("less, about 20 km", "a \"long\" week"),
            "date,what,kind,low,high,unit,minutes,effort,line,note\r\n\
             2027-04-26,week,,,,,,,\"less, about 20 km\",\"a \"\"long\"\" week\"\r\n\
             2027-04-29,session,tempo,9.5,9.5,km,46,7,tempo 9.5,\r\n"
        );
    }

    #[test]
    fn no_cell_is_a_formula() {
        for start in ["=", "+", "-", "@", "\t", "\r", "\n", "\u{ff1d}"] {
            let typed = format!("{start}HYPERLINK(\"x\")");
            let table = table(&typed, &typed);
            let mut rows = csv::Reader::from_reader(table.as_bytes());
            let row = rows.records().next().unwrap().unwrap();
            assert_eq!((&row[8], &row[9]), (format!("'{typed}").as_str(), format!("'{typed}").as_str()));
        }
    }

    #[test]
    fn no_cell_is_a_formula_where_a_spreadsheet_parts_at_semicolons_or_tabs() {
        let table = table("x;=1+1", "x\t=1+1");
        assert!(table.contains(",\"x;'=1+1\",\"x\t'=1+1\"\r\n"), "{table}");
    }
}
