//! What happens on the way: illness, travel and the like, and what was really run.

use chrono::{Days, NaiveDate};

use crate::block::Block;
use crate::problem::{Field, Problem, ProblemKind};
use crate::race::is_believed;
use crate::session::Kind;
use crate::units::{Amount, Milli, Pace, Share, Totals};

/// Something in an athlete's life that changes what can be run.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct LifeEvent {
    /// What it is.
    pub kind: EventKind,
    /// Its first day.
    pub from: NaiveDate,
    /// Its last day; of a fever the last day with fever.
    pub to: NaiveDate,
    /// The day on which the coach learned of it: days before stay as they were, but for those of the
    /// event itself. With it, the same event gives the same plan on any later day.
    pub noted: NaiveDate,
    /// Whether nobody knows yet when it ends: its last day is then the last one so far, see [`Self::as_of`].
    pub open: bool,
}

/// Kinds of events.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum EventKind {
    /// Illness.
    Illness {
        /// With fever.
        fever: bool,
    },
    /// Injury: no running.
    Injury,
    /// Away from home, see [`LifeEvent::is_on_the_way`].
    Travel,
    /// No time to train.
    NoTime,
    /// Night shifts.
    NightShift,
    /// Low-energy days: hard sessions may change places, nothing is cut.
    LowEnergy,
}

impl EventKind {
    /// Every kind, in the order of menus.
    pub const ALL: [Self; 7] = [
        Self::Illness { fever: false },
        Self::Illness { fever: true },
        Self::Injury,
        Self::Travel,
        Self::NoTime,
        Self::NightShift,
        Self::LowEnergy,
    ];

    /// The name in files: `illness`, `no-time`. Fever is said beside it.
    pub const fn code(self) -> &'static str {
        match self {
            Self::Illness { .. } => "illness",
            Self::Injury => "injury",
            Self::Travel => "travel",
            Self::NoTime => "no-time",
            Self::NightShift => "night-shift",
            Self::LowEnergy => "low-energy",
        }
    }

    /// Whether it goes on until somebody says that it is over: nobody knows beforehand how long it lasts.
    pub const fn may_be_open(self) -> bool {
        matches!(self, Self::Illness { .. } | Self::Injury)
    }

    /// Whether it is an illness with fever.
    pub const fn has_fever(self) -> bool {
        matches!(self, Self::Illness { fever: true })
    }

    /// The kind with this code; fever belongs to illness alone.
    pub fn from_code(code: &str, fever: bool) -> Option<Self> {
        let found = Self::ALL.into_iter().find(|kind| kind.code() == code)?;
        Some(if matches!(found, Self::Illness { .. }) { Self::Illness { fever } } else { found })
    }
}

impl LifeEvent {
    /// A longer event is a slip of the pen.
    pub const MOST_DAYS: i64 = 400;

    /// The event as it stands on a day: one without an end has lasted until then, and counts as that. Each day
    /// that it goes on makes it a day longer, so what is planned around it is asked for anew.
    #[must_use]
    pub fn as_of(self, today: NaiveDate) -> Self {
        let most = self.from.checked_add_days(Days::new(Self::MOST_DAYS.unsigned_abs() - 1)).unwrap_or(self.to);
        let to = if self.open { self.to.max(today.min(most)) } else { self.to };
        Self { to, ..self }
    }

    /// Whether somebody is ill or injured on a day, as far as anybody knows on it.
    pub fn is_unwell_on(&self, today: NaiveDate) -> bool {
        self.kind.may_be_open() && self.as_of(today).covers(today)
    }

    /// How many days it lasts.
    pub fn days(&self) -> i64 {
        (self.to - self.from).num_days() + 1
    }

    /// Whether a day is one of its days.
    pub(crate) fn covers(&self, date: NaiveDate) -> bool {
        (self.from..=self.to).contains(&date)
    }

    /// Whether a day of travel is spent on the way: of three days or more the first and the last, as between them
    /// the athlete is there and can run; of fewer every one.
    ///
    /// # Source
    ///
    /// Common practice, no published source.
    pub fn is_on_the_way(&self, date: NaiveDate) -> bool {
        self.kind == EventKind::Travel && (date == self.from || date == self.to)
    }

    /// Whether it keeps from running on a day: each day of an illness or injury, and after a fever the day without it.
    ///
    /// # Source
    ///
    /// Common practice, no published source.
    pub fn keeps_from_running_on(&self, date: NaiveDate) -> bool {
        self.kind.may_be_open() && (self.covers(date) || (self.kind.has_fever() && date == self.after(1)))
    }

    /// So many days after its last one.
    pub(crate) fn after(&self, days: u64) -> NaiveDate {
        self.to.checked_add_days(Days::new(days)).unwrap_or(self.to)
    }

    /// Everything that is wrong with it as typed.
    pub fn problems(&self) -> Vec<Problem> {
        let mut found = Vec::new();
        for date in [self.from, self.to, self.noted].into_iter().filter(|date| !is_believed(*date)) {
            found.push(Problem::new(Field::EventDays(self.from), ProblemKind::DateOutOfRange { date }));
        }
        if !found.is_empty() {
            return found;
        }
        if self.from > self.to {
            found.push(Problem::new(
                Field::EventDays(self.from),
                ProblemKind::EndsBeforeItBegins { from: self.from, to: self.to },
            ));
        } else if self.days() > Self::MOST_DAYS {
            found.push(Problem::new(
                Field::EventDays(self.from),
                ProblemKind::EventTooLong { days: self.days(), most: Self::MOST_DAYS },
            ));
        }
        found
    }
}

/// What was run in a week, as the athlete or the coach says it in one line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum WeekRan {
    /// As planned.
    AsPlanned,
    /// Nothing at all.
    Nothing,
    /// More than planned, nobody knows how much.
    More,
    /// Less than planned, nobody knows how much.
    Less,
    /// About this share of the plan.
    Share(Share),
    /// About this much.
    About(Amount),
}

/// More than this over the plan is worth a word.
///
/// # Source
///
/// Common practice, no published source.
pub const OVER: f64 = 0.15;

/// Whether so much more was run than planned that it is worth a word. The hair above the limit is what
/// adding up fractions can make.
pub(crate) fn is_over(ran: Share) -> bool {
    ran.0 > 1.0 + OVER + 1e-9
}

/// Running beyond the plan that the coach wants back.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Excess {
    /// How much was run beyond the plan.
    pub amount: Amount,
    /// The day on which the coach decided so.
    pub noted: NaiveDate,
}

/// A session that was really run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct DoneSession {
    /// The day.
    pub date: NaiveDate,
    /// What it was.
    pub kind: Kind,
    /// How much.
    pub amount: Amount,
    /// How long it took, in minutes.
    pub minutes: Option<u16>,
    /// How hard it felt, 0 to 10. Changes no plan.
    pub effort: Option<u8>,
}

/// What was run in the seven days before a day, beside what was planned.
#[derive(Clone, Debug, PartialEq)]
pub struct Followed {
    /// Planned running of those days.
    pub planned: Totals,
    /// What was run.
    pub ran: Totals,
    /// What was run as a share of what was planned.
    pub share: Share,
}

/// Days that are looked back upon.
const LOOK_BACK: u64 = 7;

/// How the plan was followed in the seven days before a day: nothing where nobody said what was run,
/// for silence is unknown, and nothing where the block did not plan them.
pub fn followed(block: &Block, done: &[DoneSession], today: NaiveDate) -> Option<Followed> {
    let from = today - Days::new(LOOK_BACK);
    let within = |date: NaiveDate| date >= from && date < today;
    let days = || block.days.iter().filter(move |day| within(day.date) && day.to_race > 0);
    if days().count() < LOOK_BACK as usize {
        return None;
    }
    let runs = || done.iter().filter(move |done| within(done.date) && done.kind.is_running());
    runs().next()?;
    let planned: Totals = days().flat_map(|day| day.sessions.iter()).filter_map(|one| one.session.running()).collect();
    let ran: Totals = runs().map(|done| done.amount).collect();
    let pace = block.pace.unwrap_or(Pace::ASSUMED);
    let (ran_km, planned_km) = (ran.middle_km(pace), planned.middle_km(pace));
    (planned_km > 0.0).then(|| Followed { share: Share(ran_km / planned_km), planned, ran })
}

impl Followed {
    /// What was run beyond the plan, where that is worth a word.
    pub fn excess(&self, noted: NaiveDate, pace: Option<Pace>) -> Option<Excess> {
        if !is_over(self.share) {
            return None;
        }
        let unit = self.planned.parts().iter().max_by_key(|part| part.middle())?.unit();
        let pace = pace.unwrap_or(Pace::ASSUMED);
        let [ran, planned] = [&self.ran, &self.planned].map(|totals| totals.estimate(unit, pace).middle());
        let amount = Amount::exact((ran - planned).max(Milli::ZERO), unit);
        Some(Excess { amount, noted })
    }
}
