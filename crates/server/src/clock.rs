//! The only clock of the program: everything below takes the instant and the day as arguments.

use chrono::{DateTime, Local, NaiveDate, NaiveDateTime, Utc};

/// Tells the instant and the day: the machine's, or one that a test has set.
#[derive(Clone, Copy, Debug)]
pub struct Clock {
    fixed: Option<DateTime<Utc>>,
}

impl Clock {
    /// The machine's clock and time zone.
    pub const fn system() -> Self {
        Self { fixed: None }
    }

    /// A clock that stands still; its days are those of UTC, so that a test is the same everywhere.
    pub const fn fixed(now: DateTime<Utc>) -> Self {
        Self { fixed: Some(now) }
    }

    /// The present instant.
    #[expect(clippy::disallowed_methods, reason = "this is the one place that asks the machine")]
    pub fn now(&self) -> DateTime<Utc> {
        self.fixed.unwrap_or_else(Utc::now)
    }

    /// The present day where the coach is.
    pub fn today(&self) -> NaiveDate {
        self.day_of(self.now())
    }

    /// The day on which an instant fell where the coach is.
    pub fn day_of(&self, instant: DateTime<Utc>) -> NaiveDate {
        self.moment_of(instant).date()
    }

    /// An instant by the clocks where the coach is.
    pub fn moment_of(&self, instant: DateTime<Utc>) -> NaiveDateTime {
        if self.fixed.is_some() { instant.naive_utc() } else { instant.with_timezone(&Local).naive_local() }
    }
}
