//! The sheet: a block on one side of paper, in the athlete's units, with nothing on it that only
//! the coach should see. The printed sheet, the file and the athlete's page are made from it.

use askama::Template;
use chrono::{DateTime, NaiveDate, Utc};
use formats::words;
use planning::{Block, Race};
use store::{BlockRecord, GoalNotes, Paper, SharedBlock, Shown};

use super::fit::{self, Code, Size};
use super::hand_over::{NoCode, proposed};
use super::lines;
#[cfg(test)]
use super::load::Loaded;
use super::picture::Picture;
use super::view::{self, DayView, Reader, WeekView};
#[cfg(test)]
use super::withheld::before_print;
use crate::clock::Clock;
use crate::qr::QrCode;
use crate::race_day::RaceDay;
use crate::render::Page;

/// Everything that an athlete is shown of a block, wherever it is shown.
///
/// It is built field by field from what is meant for the athlete: no caution, note, review or other
/// athlete can slip in.
pub(crate) struct Sheet {
    pub(crate) name: String,
    pub(crate) race: String,
    pub(crate) date: String,
    /// Empty where the race has no name and is called by its distance.
    pub(crate) distance: String,
    pub(crate) start: Option<String>,
    pub(crate) place: String,
    /// As the race stands now, whatever was handed over: then that comes first, and the days are no
    /// longer what counts.
    pub(crate) called_off: bool,
    /// From the first day that an athlete is told of, [`planning::Beginning::told_from`]; before it everything is as
    /// usual.
    pub(crate) weeks: Vec<WeekView>,
    /// Where the block begins, in a sentence, while that is to come.
    pub(crate) begins: Option<String>,
    pub(crate) goals: Option<GoalsView>,
    /// The race sheet, where it goes with this one: then the goals stand there.
    pub(crate) race_day: Option<RaceDay>,
    /// Whether it comes before the days, because the race is that near.
    pub(crate) race_comes_first: bool,
    pub(crate) version: String,
    /// `version 1 of 18 April` where an older sheet may still hang on a fridge.
    pub(crate) replaces: Option<String>,
    pub(crate) coach: String,
}

/// Goals as the athlete reads them; only what is written.
pub(crate) struct GoalsView {
    /// Letter and goal.
    pub(crate) goals: Vec<(&'static str, String)>,
    pub(crate) belief: String,
    /// Name, effort, focus, cue word.
    pub(crate) stretches: Vec<StretchView>,
    pub(crate) hard_moment: String,
    /// The message, a paragraph each.
    pub(crate) message: Vec<String>,
}

/// One third of the race.
pub(crate) struct StretchView {
    pub(crate) name: &'static str,
    pub(crate) effort: String,
    pub(crate) focus: String,
    pub(crate) cue: String,
}

impl GoalsView {
    /// Nothing where nothing is written.
    fn of(notes: &GoalNotes) -> Option<Self> {
        if *notes == GoalNotes::default() {
            return None;
        }
        let names = ["First third", "Middle third", "Last third"];
        let stretches =
            names.into_iter().zip(&notes.stretches).filter(|(_, stretch)| **stretch != store::Stretch::default());
        Some(Self {
            goals: lines::written_goals(notes),
            belief: notes.belief.clone(),
            stretches: stretches
                .map(|(name, stretch)| StretchView {
                    name,
                    effort: stretch.effort.clone(),
                    focus: stretch.focus.clone(),
                    cue: stretch.cue.clone(),
                })
                .collect(),
            hard_moment: notes.hard_moment.clone(),
            message: notes.message.lines().filter(|line| !line.trim().is_empty()).map(str::to_owned).collect(),
        })
    }
}

impl GoalsView {
    /// What does not stand on a race sheet: why to believe it, and the message.
    fn words_alone(self) -> Option<Self> {
        let Self { belief, message, .. } = self;
        let left = Self { goals: Vec::new(), belief, stretches: Vec::new(), hard_moment: String::new(), message };
        (!left.belief.is_empty() || !left.message.is_empty()).then_some(left)
    }

    /// Whether nothing but the coach's message is there.
    pub(crate) fn has_only_words(&self) -> bool {
        self.goals.is_empty() && self.belief.is_empty() && self.stretches.is_empty() && self.hard_moment.is_empty()
    }
}

/// Which version a sheet is.
pub(crate) struct Edition {
    pub(crate) revision: u32,
    pub(crate) of: DateTime<Utc>,
    pub(crate) replaces: Option<Shown>,
    pub(crate) coach: String,
}

impl Sheet {
    fn build(
        (name, race, place): (&str, &Race, &str),
        called_off: Option<NaiveDate>,
        block: &Block,
        goals: Option<GoalsView>,
        edition: Edition,
        (reader, clock): (Reader, Clock),
    ) -> Self {
        let begins = block.beginning();
        let mut weeks = view::weeks_from(block, begins.told_from, reader);
        for day in weeks.iter_mut().flat_map(|week| &mut week.days) {
            day.forget_fixing();
            day.fold_left_out();
        }
        Self {
            name: name.to_owned(),
            race: lines::race_name(race),
            date: words::full_date(race.date),
            distance: lines::distance_beside_name(race),
            start: lines::start(race),
            place: place.to_owned(),
            called_off: called_off.is_some(),
            weeks,
            begins: words::beginning_for_athlete(&begins, clock.today()),
            goals,
            race_day: None,
            race_comes_first: false,
            version: format!("Version {} of {}", edition.revision, words::full_date(clock.day_of(edition.of))),
            replaces: edition.replaces.map(|replaced| replaced_words(replaced, edition.revision, clock)),
            coach: edition.coach,
        }
    }

    /// The sheet that the coach prints or sends. Of the goals it shows what the coach chose when the
    /// block was handed over, and everything before that.
    pub(crate) fn of_record(record: &BlockRecord, coach: &str, reader: Reader, clock: Clock) -> Self {
        let replaces = record.share.as_ref().and_then(|share| {
            let is_same = share.revision == record.revision && share.goals == record.goals;
            let held = Shown { revision: share.revision, at: share.handed_over };
            if is_same { share.replaces } else { Some(held) }
        });
        let edition = Edition { revision: record.revision, of: record.made, replaces, coach: coach.to_owned() };
        Self::build(
            (&record.athlete.draft.athlete.name, &record.block.race, &record.race.place),
            record.race.called_off,
            &record.block.public(),
            GoalsView::of(&proposed(record).of(&record.goals)),
            edition,
            (reader, clock),
        )
    }

    /// The sheet of the athletes' door.
    pub(crate) fn of_shared(shared: &SharedBlock, reader: Reader, clock: Clock) -> Self {
        let edition = Edition {
            revision: shared.revision,
            of: shared.handed_over,
            replaces: shared.replaces,
            coach: String::new(),
        };
        Self::build(
            (&shared.name, &shared.race, &shared.place),
            shared.called_off,
            &shared.block,
            GoalsView::of(&shared.goals),
            edition,
            (reader, clock),
        )
        .with_race_day(RaceDay::of_document(shared.race_day.as_deref()))
    }

    /// The same with the race sheet: what stands on it is not said twice.
    pub(crate) fn with_race_day(mut self, race_day: Option<RaceDay>) -> Self {
        if race_day.is_some() && !self.called_off {
            self.goals = self.goals.and_then(GoalsView::words_alone);
            self.race_day = race_day;
        }
        self
    }

    /// Whether a changed day has no reason because the coach fixed it.
    pub(crate) fn holds_fixed_days(&self) -> bool {
        let mut lines = self.weeks.iter().flat_map(|week| &week.days).flat_map(|day| &day.lines);
        lines.any(|line| line.is_only_fixed && line.changed)
    }

    /// The days after today; all of them where the reader's day is not known.
    pub(crate) fn coming(&self) -> Vec<WeekView> {
        self.days_that(|day| !day.past && !day.today)
    }

    /// The days before today.
    pub(crate) fn past(&self) -> Vec<WeekView> {
        self.days_that(|day| day.past)
    }

    fn days_that(&self, is_shown: impl Fn(&DayView) -> bool) -> Vec<WeekView> {
        let mut weeks = self.weeks.clone();
        for week in &mut weeks {
            week.days.retain(&is_shown);
        }
        weeks.retain(|week| !week.days.is_empty());
        weeks
    }

    /// The picture that goes with the sheet.
    pub(crate) fn picture(&self, block: &Block, reader: Reader) -> Picture {
        let weeks = view::weeks(block, reader);
        let title = format!("Usual and planned running of {}, day by day, down to the race", self.name);
        view::picture(block, &weeks, reader, title)
    }
}

/// The sheet that is replaced, by its number: there may be several of one day.
fn replaced_words(replaced: Shown, by: u32, clock: Clock) -> String {
    let day = lines::day_month(clock.day_of(replaced.at));
    let other = if replaced.revision == by { ", whose goals or words were others" } else { "" };
    format!("version {} of {day}{other}", replaced.revision)
}

/// The printed sheet: one side of A4 or Letter.
#[derive(Template)]
#[template(path = "blocks/sheet.html")]
pub(crate) struct SheetPage {
    pub(crate) sheet: Sheet,
    pub(crate) paper: Paper,
    /// The page that the reader comes from.
    pub(crate) back: String,
    /// The code that leads to the athlete's page, where there is one.
    pub(crate) qr: Option<QrCode>,
    /// Why there is none, for the coach, who can do something about it.
    pub(crate) no_code: Option<NoCode>,
    /// What the coach should know before it goes out.
    pub(crate) look_first: Option<String>,
}

/// The style sheet that sets the size of the paper.
pub(crate) const fn paper_style(paper: Paper) -> &'static str {
    match paper {
        Paper::A4 => "css/paper-a4.css",
        Paper::Letter => "css/paper-letter.css",
    }
}

impl SheetPage {
    fn paper_style(&self) -> &'static str {
        paper_style(self.paper)
    }

    fn code(&self) -> Code {
        if self.qr.is_some() { Code::Shown } else { Code::None }
    }

    /// The code of the link, where there is one.
    pub(crate) const fn code_shown(&self) -> Option<&QrCode> {
        self.qr.as_ref()
    }

    pub(crate) fn size(&self) -> Size {
        fit::size_for(&self.sheet, self.paper, self.code())
    }
}

impl Page for SheetPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        use super::sample;
        let clock = Clock::fixed("2027-05-04T08:00:00Z".parse().expect("an instant"));
        let page = |record: BlockRecord, paper, link: Option<&str>| {
            let athlete = &record.athlete.draft.athlete;
            let reader = Reader { units: athlete.units, today: None, pace: None };
            Self {
                sheet: Sheet::of_record(&record, "Rui <b>", reader, clock),
                paper,
                back: crate::paths::block(record.id),
                qr: link.and_then(QrCode::of),
                no_code: link.is_none().then_some(NoCode::NoPhone),
                look_first: before_print(&Loaded::sample(record.clone(), clock)),
            }
        };
        vec![
            page(sample::record(&sample::ten_k()), Paper::A4, None),
            page(sample::handed_over(&sample::marathon()), Paper::Letter, Some("https://runs.example/p/3f1c")),
            page(sample::handed_over(&sample::timed_half()), Paper::A4, None),
            page(sample::called_off(&sample::ten_k()), Paper::A4, None),
            page(sample::goal_inside(&sample::ten_k()), Paper::A4, None),
        ]
    }
}
