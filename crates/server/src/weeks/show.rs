//! The base week, a line a day with its reading beside it.

use std::collections::HashMap;

use askama::Template;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use axum_extra::extract::Form;
use chrono::{Datelike, Days, NaiveDate, Weekday};
use formats::words;
use planning::notation::{read_date, read_kept_day, write_day};
use planning::week::{SevenDays, WEEKDAYS};
use planning::{Amount, Athlete, BaseWeek};
use store::{AthleteId, AthleteRecord, BlockId, Entry, RaceId, Store, StoreError, TemplateId, TemplateUse, WeekRecord};

use super::offered::{Answer, Offered, Taken};
use super::reading::{Lines, Reading, refused, second_control, weekdays};
use crate::blocks::lines;
use crate::conflict::{ConflictPage, Row};
use crate::error::AppError;
use crate::extract::Id;
use crate::form::{Choice, Problems, one_line, read_version};
use crate::notice::{self, Notice};
use crate::paths;
use crate::render::{self, Area, Layout, Page};
use crate::state::AppState;

/// The longest line of a day, in characters.
pub(crate) const LINE_MOST: usize = 500;

/// Lines, what they say, and how to write them.
#[derive(Template)]
#[template(path = "weeks/show.html")]
pub(crate) struct ShowPage {
    layout: Layout,
    id: AthleteId,
    name: String,
    unit: &'static str,
    version: String,
    lines: Lines,
    reading: Reading,
    today: NaiveDate,
    /// What was done to the lines, where they are not as typed.
    pub(super) done: String,
    /// The days that were just saved otherwise than they were typed, see [`Reading::settled`].
    settled: u32,
    /// The template that the week came from, and how far it is still by it.
    from: Option<From>,
    /// What comes next after a save.
    next: Option<Next>,
    /// Whether nobody else is there whose week could be taken.
    is_alone: bool,
}

/// What a saved week is good for.
enum Next {
    /// Nothing to plan for yet: the athlete runs no coming race, though others may be known.
    Race { are_others: bool },
    /// The first race without a block.
    Block(RaceId, String),
    /// All have one; the first, made from the week as it was.
    Kept(BlockId, String),
}

impl Next {
    /// By the coming races of the athlete, in the order of their days.
    async fn of(store: &Store, athlete: AthleteId, today: NaiveDate) -> Result<Self, StoreError> {
        let entries = store.entries_of(athlete).await?;
        let coming = entries.iter().filter(|(_, race)| race.race.date >= today && race.called_off.is_none());
        let mut planned: Vec<_> = coming.filter(|(entry, _)| entry.block.is_some() || entry.lacks_block()).collect();
        planned.sort_by_key(|(entry, race)| (entry.block.is_some(), race.race.date));
        Ok(match planned.first() {
            None => Self::Race { are_others: !store.races_from(today).await?.is_empty() },
            Some((Entry { block: Some(block), .. }, race)) => Self::Kept(*block, lines::race_name(&race.race)),
            Some((entry, race)) => Self::Block(entry.race, lines::race_name(&race.race)),
        })
    }
}

/// The template of a week.
struct From {
    id: TemplateId,
    name: String,
    /// `2 days changed`.
    changed: String,
}

impl From {
    fn of((used, name): (TemplateUse, String), week: &WeekRecord) -> Self {
        let given = |at: usize| read_kept_day(&used.given[at], used.units).ok();
        let changed = WEEKDAYS.iter().enumerate();
        let changed = changed.filter(|(at, day)| given(*at).as_deref() != Some(week.week.day(**day))).count();
        let changed = match changed {
            0 => "no day changed since".to_owned(),
            days => format!("{} changed since", words::plural(days, "day")),
        };
        Self { id: used.template, name, changed }
    }
}

/// What the form holds, as typed: the version it was read at, and the lines.
pub(super) fn typed(fields: &HashMap<String, String>) -> (String, Lines) {
    let text = |name: &str| one_line(fields.get(name).map_or("", String::as_str));
    let days = weekdays().map(|(code, _)| text(code));
    let second = weekdays().map(|(code, _)| text(&second_control(code)));
    let (range, since, stands_on, recent) = (text("range"), text("since"), text("stands_on"), text("recent"));
    let (borrow_from, borrow_total) = (text("borrow_from"), text("borrow_total"));
    let mut lines = Lines { days, range, since, second, stands_on, recent, borrow_from, borrow_total };
    Taken::of(fields).put(lines.by_control());
    (text("version"), lines)
}

/// One day on the page.
struct Day<'a> {
    /// The control and the place of what is wrong with it.
    code: String,
    name: &'static str,
    line: &'a str,
    reading: &'a str,
    remark: &'static str,
    offered: &'a [Offered],
    /// What the line is kept as, where that is not as it was typed.
    kept_as: &'a str,
    /// Whether it was just saved so.
    is_settled: bool,
}

impl ShowPage {
    /// Whether something else than saving is what comes next.
    const fn leads_on(&self) -> bool {
        matches!(self.next, Some(Next::Race { .. } | Next::Block(..)))
    }

    pub(super) fn new(
        layout: Layout,
        id: AthleteId,
        athlete: &Athlete,
        version: String,
        mut lines: Lines,
        today: NaiveDate,
    ) -> Self {
        let mut reading = Reading::of(&lines, athlete, today);
        for ((code, name), (line, second)) in weekdays().into_iter().zip(lines.days.iter().zip(&lines.second)) {
            reading.problems.check_length(code, name, line, LINE_MOST);
            let label = format!("Second week, {name}");
            reading.problems.check_length(&second_control(code), &label, second, LINE_MOST);
        }
        reading.problems.check_length("recent", "Totals of the last weeks", &lines.recent, LINE_MOST);
        sort(&mut reading.problems);
        lines.stands_on = offered(&lines.stands_on, today);
        Self {
            layout: layout.at(Area::Athletes),
            id,
            name: athlete.name.clone(),
            unit: words::distance_unit(athlete.units),
            version,
            lines,
            reading,
            today,
            done: String::new(),
            settled: 0,
            from: None,
            next: None,
            is_alone: false,
        }
    }

    /// The two Mondays that say which week stands now.
    fn mondays(&self) -> Vec<Choice> {
        let [now, next] = mondays(self.today);
        let choice = |when: &str, monday: NaiveDate| {
            Choice::new(monday.to_string(), format!("{when}, from {}", words::long_date(monday)))
        };
        vec![choice("In this calendar week", now), choice("In the next one", next)]
    }

    /// Whether the second week is shown open: where there is one, or something is wrong with it.
    fn shows_second(&self) -> bool {
        let wrong = |day: &str| self.problems().at(&second_control(day));
        self.lines.has_second() || self.problems().at("stands_on") || weekdays().iter().any(|(day, _)| wrong(day))
    }

    /// A date field shows dates only: what is none stays readable in a field for text.
    fn since_kind(&self) -> &'static str {
        let since = &self.lines.since;
        if since.is_empty() || since.parse::<NaiveDate>().is_ok() { "date" } else { "short" }
    }

    /// The button that fits the week: what it fits to.
    fn fits(&self) -> Option<String> {
        self.reading.fits.map(words::amount)
    }

    /// Where something is wrong with the lines as typed, it is not asked whose week to take instead.
    pub(super) fn with_problems(mut self, problems: Problems) -> Self {
        self.reading.problems = problems;
        self
    }

    /// Whether the fields that take another week stand open: on an empty week, or where they are filled in.
    fn shows_borrow(&self) -> bool {
        let asked = [&self.lines.borrow_from, &self.lines.borrow_total].iter().any(|text| !text.is_empty());
        asked || self.lines.days.iter().all(String::is_empty)
    }

    fn problems(&self) -> &Problems {
        &self.reading.problems
    }

    fn days(&self) -> Vec<Day<'_>> {
        let reading = &self.reading;
        let lines =
            Shown { lines: &self.lines.days, says: &reading.days, remarks: &reading.remarks, settled: self.settled };
        lines.days(&reading.answers, str::to_owned)
    }

    fn second_days(&self) -> Vec<Day<'_>> {
        let reading = &self.reading;
        let (says, remarks) = (&reading.second_days, &reading.second_remarks);
        let lines = Shown { lines: &self.lines.second, says, remarks, settled: self.settled >> 7 };
        lines.days(&reading.second_answers, second_control)
    }

    /// Which days are kept otherwise than they were typed, in a sentence behind another; empty for none.
    fn settled_days(&self) -> String {
        let named = |second: &'static str, days: u32| {
            let days = weekdays().into_iter().enumerate().filter(move |(at, _)| days >> at & 1 == 1);
            days.map(move |(_, (_, name))| format!("{name}{second}"))
        };
        let days: Vec<String> =
            named("", self.settled).chain(named(" of the second week", self.settled >> 7)).collect();
        match days.as_slice() {
            [] => String::new(),
            [one] => format!(" {one} is kept as it was read: look at it."),
            several => format!(" {} are kept as they were read: look at them.", words::list(several)),
        }
    }
}

/// The seven lines of a week with what is said of them.
struct Shown<'a> {
    lines: &'a [String; 7],
    says: &'a [String; 7],
    remarks: &'a [&'static str; 7],
    /// Which of them were just saved otherwise than they were typed, a bit each.
    settled: u32,
}

impl<'a> Shown<'a> {
    fn days(self, answers: &'a [Answer; 7], control: impl Fn(&str) -> String) -> Vec<Day<'a>> {
        let day = |(at, (code, name)): (usize, (&str, &'static str))| Day {
            code: control(code),
            name,
            line: &self.lines[at],
            reading: &self.says[at],
            remark: self.remarks[at],
            offered: answers[at].asked(),
            kept_as: answers[at].kept().map_or("", |kept| kept.says.as_str()),
            is_settled: self.settled >> at & 1 == 1,
        };
        weekdays().into_iter().enumerate().map(day).collect()
    }
}

impl Page for ShowPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        let athlete = Athlete { name: "Ana <b>".to_owned(), ..Athlete::default() };
        let today = NaiveDate::from_ymd_opt(2027, 5, 5).unwrap_or_default();
        let own = |days: [&str; 7]| days.map(str::to_owned);
        let page = |lines: Lines| Self::new(Layout::plain(), AthleteId(4), &athlete, "3".to_owned(), lines, today);
        let usual = ["", "6 x 800 m, 10 (<b>)", "7-9", "tempo or hills 9", "strength 30", "5 + 4", "long 16"];
        let wrong = ["7 furlongs <b>", "9 x", "-", "tempo 5 km, hard 9", "8-3", "", "\"<b>"];
        let mut fitted = page(Lines { days: own(usual), ..Lines::default() });
        fitted.done =
            words::fitted(planning::Amount::exact(planning::Milli::whole(60), planning::Unit::Km), athlete.units);
        vec![
            page(Lines::default()),
            {
                let mut nobody = Problems::default();
                nobody.add("borrow_from", "No athlete is called \u{201c}<b>\u{201d}.");
                nobody.add("borrow_total", "Not so: <b>.");
                page(Lines::default()).with_problems(nobody)
            },
            page(Lines {
                days: own(usual),
                range: "50-56".to_owned(),
                since: "2027-03-01".to_owned(),
                second: own(["", "8", "7", "", "", "5", "long 12 (<b>)"]),
                stands_on: "2026-05-04".to_owned(),
                recent: "58, 62, 47, 68, 60, 61".to_owned(),
                borrow_from: "Rui <b>".to_owned(),
                borrow_total: "50".to_owned(),
            }),
            page(Lines {
                days: own(wrong),
                range: "lots".to_owned(),
                since: "spring <b>".to_owned(),
                second: own(wrong),
                stands_on: "<b>".to_owned(),
                recent: "<b>".to_owned(),
                borrow_from: "<b>".to_owned(),
                borrow_total: "<b>".to_owned(),
            }),
            fitted,
            ShowPage { next: Some(Next::Race { are_others: true }), ..page(Lines::default()) },
            ShowPage { next: Some(Next::Block(RaceId(2), "River Ten <b>".to_owned())), ..page(Lines::default()) },
            ShowPage { next: Some(Next::Kept(BlockId(3), "River Ten <b>".to_owned())), ..page(Lines::default()) },
            ShowPage {
                from: Some(From {
                    id: TemplateId(2),
                    name: "Five <b>".to_owned(),
                    changed: "2 days changed".to_owned(),
                }),
                ..page(Lines::default())
            },
        ]
    }
}

/// The Monday of a day's calendar week, and the next one.
fn mondays(today: NaiveDate) -> [NaiveDate; 2] {
    let now = today.week(Weekday::Mon).first_day();
    [now, now + Days::new(7)]
}

/// The one of the two Mondays that says the same as a kept one; the next one where nothing was said, and
/// what was typed where that is no Monday.
fn offered(stands_on: &str, today: NaiveDate) -> String {
    let [now, next] = mondays(today);
    if stands_on.is_empty() {
        return next.to_string();
    }
    let Some(kept) = read_date(stands_on).ok().filter(|date| date.weekday() == Weekday::Mon) else {
        return stands_on.to_owned();
    };
    let same = (now - kept).num_days() % 14 == 0;
    if same { now.to_string() } else { next.to_string() }
}

/// Problems in the order of the page.
fn sort(problems: &mut Problems) {
    let mut controls: Vec<String> = weekdays().iter().map(|(code, _)| (*code).to_owned()).collect();
    controls.extend(weekdays().iter().map(|(code, _)| second_control(code)));
    controls.extend(["stands_on", "borrow_from", "borrow_total", "recent", "since", "range"].map(str::to_owned));
    let controls: Vec<&str> = controls.iter().map(String::as_str).collect();
    problems.sort_by_controls(&controls);
}

/// `GET /athletes/{athlete}/week`
pub(crate) async fn get(
    State(state): State<AppState>,
    layout: Layout,
    Id(id): Id<AthleteId>,
) -> Result<Response, AppError> {
    let (record, week) = load(&state, id).await?;
    let from = match state.store.template_of(id).await? {
        // A template that was removed has no page to lead to.
        Some(from) if state.store.template(from.0.template).await?.is_some() => Some(From::of(from, &week)),
        _ => None,
    };
    let today = state.clock.today();
    let next = match layout.notice {
        Some(Notice::WeekSaved(_)) if week.week.running_days() > 0 => Some(Next::of(&state.store, id, today).await?),
        _ => None,
    };
    let settled = if let Some(Notice::WeekSaved(settled)) = layout.notice { settled } else { 0 };
    let (version, lines) = kept(week);
    let page = ShowPage::new(layout, id, &record.draft.athlete, version, lines, today);
    let is_alone = state.store.board(today).await?.len() < 2;
    render::page(StatusCode::OK, &ShowPage { settled, from, next, is_alone, ..page })
}

/// `POST /athletes/{athlete}/week/preview`: reads the lines, saves nothing.
pub(crate) async fn preview(
    State(state): State<AppState>,
    layout: Layout,
    Id(id): Id<AthleteId>,
    Form(fields): Form<HashMap<String, String>>,
) -> Result<Response, AppError> {
    let (record, _) = load(&state, id).await?;
    let (version, lines) = typed(&fields);
    let (today, athlete) = (state.clock.today(), &record.draft.athlete);
    let mut page = ShowPage::new(layout, id, athlete, version, lines, today);
    if Taken::of(&fields).0.is_some() {
        "Taken as offered. Nothing is saved yet: look the week over, change what you like, then save."
            .clone_into(&mut page.done);
    }
    render::page(StatusCode::OK, &page)
}

/// `POST /athletes/{athlete}/week/fit`: scales the lines to the typical total of recent weeks, saves nothing.
pub(crate) async fn fit(
    State(state): State<AppState>,
    layout: Layout,
    Id(id): Id<AthleteId>,
    Form(fields): Form<HashMap<String, String>>,
) -> Result<Response, AppError> {
    let (record, _) = load(&state, id).await?;
    let (version, lines) = typed(&fields);
    let (athlete, today) = (&record.draft.athlete, state.clock.today());
    let page = ShowPage::new(layout, id, athlete, version, lines, today);
    if !page.problems().is_empty() {
        return render::page(StatusCode::UNPROCESSABLE_ENTITY, &page);
    }
    let Some(total) = page.reading.fits else { return render::page(StatusCode::OK, &page) };
    let lines = fitted(&page.reading.kept, &page.reading.week, total, athlete);
    let mut page = ShowPage::new(layout, id, athlete, page.version, lines, today);
    page.done = words::fitted(total, athlete.units);
    render::page(StatusCode::OK, &page)
}

/// The lines scaled to a total; a day that stays the same keeps its words.
fn fitted(lines: &Lines, week: &BaseWeek, total: Amount, athlete: &Athlete) -> Lines {
    let scaled = planning::fit::scaled_to(week, total, athlete.easy_pace);
    let rewrite = |lines: &mut [String; 7], before: &SevenDays, after: &SevenDays| {
        for (line, weekday) in lines.iter_mut().zip(WEEKDAYS) {
            if before.day(weekday) != after.day(weekday) {
                *line = write_day(after.day(weekday));
            }
        }
    };
    let mut fitted = lines.clone();
    rewrite(&mut fitted.days, week.first(), scaled.first());
    if let (Some(before), Some(after)) = (week.turns(), scaled.turns()) {
        rewrite(&mut fitted.second, &before.week, &after.week);
    }
    if let Some(range) = scaled.range().filter(|range| week.range() != Some(*range)) {
        fitted.range = range.to_string();
    }
    fitted
}

/// `POST /athletes/{athlete}/week`
pub(crate) async fn post(
    State(state): State<AppState>,
    layout: Layout,
    Id(id): Id<AthleteId>,
    Form(fields): Form<HashMap<String, String>>,
) -> Result<Response, AppError> {
    let (record, _) = load(&state, id).await?;
    let (version, lines) = typed(&fields);
    let mut page = ShowPage::new(layout, id, &record.draft.athlete, version, lines, state.clock.today());
    if !page.problems().is_empty() {
        return render::page(StatusCode::UNPROCESSABLE_ENTITY, &page);
    }
    let settled = page.reading.settled();
    match save(&state, layout, &record, &page.version, &page.reading.kept, settled).await? {
        Saved::Answered(response) => Ok(response),
        Saved::Refused(problems) => {
            page.reading.problems = problems;
            render::page(StatusCode::UNPROCESSABLE_ENTITY, &page)
        }
    }
}

/// What came of a save.
pub(super) enum Saved {
    /// Saved, or in conflict with another save: here is the answer.
    Answered(Response),
    /// The store found something wrong after all.
    Refused(Problems),
}

/// Saves lines that were read without a problem; a stale save shows both versions. `settled` says which of them are kept
/// otherwise than they were typed, see [`Reading::settled`].
pub(super) async fn save(
    state: &AppState,
    layout: Layout,
    athlete: &AthleteRecord,
    version: &str,
    lines: &Lines,
    settled: u32,
) -> Result<Saved, AppError> {
    let id = athlete.id;
    match state.store.save_week(id, read_version(version), &lines.draft(), state.clock.now()).await {
        Ok(()) => Ok(Saved::Answered(notice::redirect(&paths::week(id), Notice::WeekSaved(settled)))),
        Err(StoreError::Conflict) => {
            let (_, week) = load(state, id).await?;
            Ok(Saved::Answered(conflict(layout, athlete, kept(week), lines).answer()?))
        }
        Err(StoreError::Refused(found)) => Ok(Saved::Refused(refused(&found))),
        Err(error) => Err(error.into()),
    }
}

/// The athlete and the base week.
pub(super) async fn load(state: &AppState, id: AthleteId) -> Result<(AthleteRecord, WeekRecord), AppError> {
    let record = state.store.athlete(id).await?.ok_or(AppError::NotFound)?;
    let week = state.store.week(id).await?.ok_or(AppError::NotFound)?;
    Ok((record, week))
}

fn kept(week: WeekRecord) -> (String, Lines) {
    (week.version.to_string(), Lines::kept(week))
}

fn conflict(layout: Layout, athlete: &AthleteRecord, (version, kept): (String, Lines), typed: &Lines) -> ConflictPage {
    let pairs = |kept: &[String; 7], typed: &[String; 7]| -> Vec<_> {
        weekdays().into_iter().zip(kept.clone().into_iter().zip(typed.clone())).collect()
    };
    let mut rows: Vec<Row> = pairs(&kept.days, &typed.days)
        .iter()
        .map(|((code, name), (kept, typed))| Row::new(code, name, kept, typed))
        .collect();
    rows.push(Row::new("range", "Range of the week", &kept.range, &typed.range));
    rows.push(Row::new("since", "Runs like this since", &kept.since, &typed.since));
    if kept.has_second() || typed.has_second() {
        for ((code, name), (kept, typed)) in pairs(&kept.second, &typed.second) {
            rows.push(Row::new(&second_control(code), &format!("Second week, {name}"), &kept, &typed));
        }
        rows.push(Row::new("stands_on", "A Monday of the second week", &kept.stands_on, &typed.stands_on));
    }
    if !typed.recent.is_empty() {
        rows.push(Row::new("recent", "Totals of the last weeks, never kept", "", &typed.recent));
    }
    ConflictPage {
        layout: layout.at(Area::Athletes),
        what: format!("The base week of {}", athlete.draft.athlete.name),
        rows,
        version,
        action: paths::week(athlete.id),
        back: paths::week(athlete.id),
    }
}
