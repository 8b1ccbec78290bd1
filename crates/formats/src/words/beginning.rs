//! Where a block begins, in the words of everybody: the coach's page, messages, the file and the athlete's page.

use chrono::NaiveDate;
use planning::Beginning;

use super::dates::long_date;

/// The first day, and the day before it from which on something is other than usual: `Thursday 29 April, with changed
/// days from Sunday 25 April on`.
pub fn first_day(begins: &Beginning) -> String {
    let first = long_date(begins.first);
    if begins.is_changed_before() {
        format!("{first}, with changed days from {} on", long_date(begins.told_from))
    } else {
        first
    }
}

/// For the coach: the first day, and the first of them that holds less running than usual.
pub fn beginning(begins: &Beginning) -> String {
    let first = first_day(begins);
    match begins.less_from {
        Some(less) if less == begins.first => {
            format!("The block begins on {first}; its first day holds less running than usual already.")
        }
        Some(less) => {
            format!(
                "The block begins on {first}; the first of its days with less running than usual is {}.",
                long_date(less)
            )
        }
        None => format!("The block begins on {first}; none of its days holds less running than usual."),
    }
}

/// For the athlete who reads it on a day; nothing once the block has begun.
pub fn beginning_for_athlete(begins: &Beginning, today: NaiveDate) -> Option<String> {
    if today >= begins.first {
        return None;
    }
    let less = begins.less_from.filter(|less| *less > begins.first);
    let less = less.map(|less| format!(" The running comes down from {} on.", long_date(less))).unwrap_or_default();
    Some(if today < begins.told_from {
        let first = first_day(begins);
        format!(
            "Your block begins on {first}; until then everything is as usual, unless your coach told you otherwise.{less}"
        )
    } else {
        format!("Your block begins on {}; until then the days are as they stand here.{less}", long_date(begins.first))
    })
}

/// From which day on the running comes down, as a message of a day says it: `today`, or the day while it is to come.
pub fn comes_down(begins: &Beginning, day: NaiveDate) -> Option<String> {
    let less = begins.less_from.filter(|less| *less >= day)?;
    Some(if less == day { "today".to_owned() } else { long_date(less) })
}
