//! What is written for one athlete's race day.

use askama::Template;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use axum_extra::extract::Form;
use chrono::NaiveTime;
use formats::words;
use formats::words::race_day::fuel::Reader;
use planning::notation::read_distance;
use planning::problem::Expected;
use planning::{DistanceUnit, Milli, ProblemKind, RaceDistance, RaceTime};
use serde::Deserialize;
use store::{BlockId, Borders, RaceSheet, StoreError, Version};

use super::body::{Body, Told};
use super::document;
use super::ground::{Ground, Opened};
use crate::conflict::{ConflictPage, Row};
use crate::error::AppError;
use crate::extract::Id;
use crate::form::{Problems, many_lines, one_line, read_time, read_version, whole_number};
use crate::notice::{self, Notice};
use crate::paths;
use crate::render::{self, Area, Layout, Page};
use crate::state::AppState;

/// The longest line, in characters.
const LINE_MOST: usize = 200;
/// The latest wave starts so long after the race itself.
const WAVE_MOST: chrono::TimeDelta = chrono::TimeDelta::hours(3);
/// The most lines of rules, worries and the like: more do not fit on the sheet.
const LINES_MOST: usize = 8;
/// The longest text of several lines, in characters.
const TEXT_MOST: usize = 1000;

/// The form of a race sheet.
#[derive(Template)]
#[template(path = "race_day/edit.html")]
pub(crate) struct EditPage {
    layout: Layout,
    id: BlockId,
    name: String,
    race: String,
    typed: Typed,
    problems: Problems,
}

/// The form as typed.
#[derive(Clone, Debug, Default, PartialEq, Deserialize)]
#[serde(default)]
pub(crate) struct Typed {
    version: String,
    change_rules: String,
    middle_from: String,
    last_from: String,
    worries: String,
    bib: String,
    pen: String,
    wave_start: String,
    gun: String,
    travel_minutes: String,
    eat_minutes: String,
    breakfast: String,
    fuel_piece: String,
    piece_grams: String,
    grams_an_hour: String,
    fuel_words: String,
    warm_up: String,
    kit: String,
    travel: String,
    morning: String,
    /// Sent by the box that brings the proposed texts back.
    propose: String,
}

/// Texts that the program proposes where the coach wrote none.
#[derive(Clone, Debug, Default)]
pub(super) struct Proposals {
    pub(super) change_rules: String,
    pub(super) warm_up: String,
    pub(super) kit: String,
    pub(super) travel: String,
}

impl Proposals {
    pub(super) fn of(ground: Ground<'_>) -> Self {
        let record = ground.record;
        let times = ground.all_times();
        let rules = document::proposed_rules(ground, &times, ground.athlete_units());
        // What would stand there without the coach's own texts.
        let mut plain = record.clone();
        (plain.race_sheet.warm_up, plain.race_sheet.kit, plain.race_sheet.travel) = (None, None, None);
        let ground = Ground { record: &plain, ..ground };
        let body = Body::of(&Told {
            ground,
            times: &times,
            today: record.race.race.date,
            units: ground.athlete_units(),
            reader: Reader::Coach,
        });
        Self {
            change_rules: rules.join("\n"),
            warm_up: body.warm_up,
            kit: body.kit.join("\n"),
            travel: body.travel.join("\n"),
        }
    }
}

/// A text as kept, or the proposal in its place.
fn text_of(kept: Option<&String>, proposal: &str) -> String {
    kept.map_or_else(|| proposal.to_owned(), Clone::clone)
}

/// A text as typed: the proposal left as it is stays a proposal.
fn kept_of(typed: &str, proposal: &str) -> Option<String> {
    let text = many_lines(typed);
    (text != many_lines(proposal)).then_some(text)
}

impl Typed {
    pub(super) fn of(sheet: &RaceSheet, proposals: &Proposals, version: Version) -> Self {
        let number = |number: Option<u16>| number.map_or(String::new(), |number| number.to_string());
        let border = |at: Option<(Milli, DistanceUnit)>| {
            at.map_or(String::new(), |(at, unit)| format!("{at} {}", unit.symbol()))
        };
        Self {
            version: version.to_string(),
            change_rules: text_of(sheet.change_rules.as_ref(), &proposals.change_rules),
            middle_from: border(sheet.borders.map(|borders| (borders.middle, borders.unit))),
            last_from: border(sheet.borders.map(|borders| (borders.last, borders.unit))),
            worries: sheet.worries.clone(),
            bib: sheet.bib.clone(),
            pen: sheet.pen.clone(),
            wave_start: sheet.wave_start.map_or(String::new(), |start| start.format("%H:%M").to_string()),
            gun: sheet.gun_seconds.map_or(String::new(), |seconds| RaceTime::seconds(u32::from(seconds)).to_string()),
            travel_minutes: number(sheet.travel_minutes),
            eat_minutes: number(sheet.eat_minutes),
            breakfast: sheet.breakfast.clone(),
            fuel_piece: sheet.fuel_piece.clone(),
            piece_grams: number(sheet.piece_grams),
            grams_an_hour: number(sheet.grams_an_hour),
            fuel_words: sheet.fuel_words.clone(),
            warm_up: text_of(sheet.warm_up.as_ref(), &proposals.warm_up),
            kit: text_of(sheet.kit.as_ref(), &proposals.kit),
            travel: text_of(sheet.travel.as_ref(), &proposals.travel),
            morning: sheet.morning.clone(),
            propose: String::new(),
        }
    }

    /// Every field: control, label, value, and the most characters that it takes.
    fn fields(&self) -> [(&'static str, &'static str, &str, usize); 19] {
        [
            ("change_rules", "When to change the goal", &self.change_rules, TEXT_MOST),
            ("middle_from", "Middle stretch begins", &self.middle_from, LINE_MOST),
            ("last_from", "Last stretch begins", &self.last_from, LINE_MOST),
            ("worries", "Worries and answers", &self.worries, TEXT_MOST),
            ("bib", "Number", &self.bib, 40),
            ("pen", "Pen or wave", &self.pen, 40),
            ("wave_start", "Wave starts", &self.wave_start, LINE_MOST),
            ("gun", "From the gun to the start line", &self.gun, LINE_MOST),
            ("travel_minutes", "Minutes on the way", &self.travel_minutes, LINE_MOST),
            ("eat_minutes", "Minutes from eating to the start", &self.eat_minutes, LINE_MOST),
            ("breakfast", "Breakfast", &self.breakfast, LINE_MOST),
            ("fuel_piece", "During the race", &self.fuel_piece, LINE_MOST),
            ("piece_grams", "Grams of carbohydrate in one", &self.piece_grams, LINE_MOST),
            ("grams_an_hour", "Grams an hour", &self.grams_an_hour, LINE_MOST),
            ("fuel_words", "Food and drink in your words", &self.fuel_words, TEXT_MOST),
            ("warm_up", "Warm-up", &self.warm_up, TEXT_MOST),
            ("kit", "To the start", &self.kit, TEXT_MOST),
            ("travel", "On the journey", &self.travel, TEXT_MOST),
            ("morning", "Anything else", &self.morning, TEXT_MOST),
        ]
    }

    /// Reads the form over what is kept.
    fn to_sheet(&self, ground: Ground<'_>, proposals: &Proposals) -> Result<RaceSheet, Problems> {
        let mut problems = Problems::default();
        for (control, label, value, most) in self.fields() {
            problems.check_length(control, label, &many_lines(value), most);
        }
        for (control, label, text) in [
            ("change_rules", "When to change the goal", &self.change_rules),
            ("worries", "Worries and answers", &self.worries),
            ("morning", "Anything else", &self.morning),
        ] {
            let count = document::written_lines(text).len();
            if count > LINES_MOST {
                problems
                    .add(control, format!("{label}: {count} lines are too many; up to {LINES_MOST} fit on the sheet."));
            }
        }
        let mut whole = |control: &str, label: &str, text: &str, (from, to): (u16, u16)| {
            whole_number(text, (from, to)).unwrap_or_else(|what| {
                problems.add(control, format!("{label}: {what}"));
                None
            })
        };
        let travel_minutes = whole("travel_minutes", "Minutes on the way", &self.travel_minutes, (0, 1440));
        let eat_minutes = whole("eat_minutes", "Minutes from eating to the start", &self.eat_minutes, (30, 360));
        let piece_grams = whole("piece_grams", "Grams of carbohydrate in one", &self.piece_grams, (1, 200));
        let grams_an_hour = whole("grams_an_hour", "Grams an hour", &self.grams_an_hour, (0, 120));
        let borders = self.borders(ground, &mut problems);
        let wave_start = self.wave(ground, &mut problems);
        let gun_seconds = self.gun(&mut problems);
        problems.sort_by_controls(&self.fields().map(|(control, ..)| control));
        if !problems.is_empty() {
            return Err(problems);
        }
        let own = |typed: &str, proposal: &str| if self.propose == "yes" { None } else { kept_of(typed, proposal) };
        Ok(RaceSheet {
            strategy: ground.record.race_sheet.strategy,
            borders,
            change_rules: own(&self.change_rules, &proposals.change_rules),
            bib: one_line(&self.bib),
            pen: one_line(&self.pen),
            wave_start,
            gun_seconds,
            travel_minutes,
            eat_minutes,
            breakfast: one_line(&self.breakfast),
            fuel_piece: one_line(&self.fuel_piece),
            piece_grams,
            grams_an_hour,
            fuel_words: many_lines(&self.fuel_words),
            warm_up: own(&self.warm_up, &proposals.warm_up),
            kit: own(&self.kit, &proposals.kit),
            travel: own(&self.travel, &proposals.travel),
            worries: many_lines(&self.worries),
            morning: many_lines(&self.morning),
        })
    }

    fn borders(&self, ground: Ground<'_>, problems: &mut Problems) -> Option<Borders> {
        if self.middle_from.trim().is_empty() && self.last_from.trim().is_empty() {
            return None;
        }
        if self.middle_from.trim().is_empty() || self.last_from.trim().is_empty() {
            let empty = if self.middle_from.trim().is_empty() { "middle_from" } else { "last_from" };
            problems
                .add(empty, "Give where both the middle and the last stretch begin, or leave both empty for thirds.");
            return None;
        }
        let units = ground.athlete_units();
        let mut read = |control: &str, label: &str, text: &str| {
            place(text, units).or_else(|| {
                let typed = words::quote(text.trim());
                problems.add(
                    control,
                    format!("{label}: \u{201c}{typed}\u{201d} is not a place on the course; write a distance such as 14 {}, or leave both empty for thirds.", units.symbol()),
                );
                None
            })
        };
        let middle = read("middle_from", "Middle stretch begins", &self.middle_from);
        let last = read("last_from", "Last stretch begins", &self.last_from);
        let (middle, last) = (middle?, last?);
        let length = ground.profile().length();
        let at = |milli: Milli| planning::Distance::from_milli(milli, units);
        if at(middle) >= at(last) || at(last) >= length || middle.0 <= 0 {
            problems.add(
                "last_from",
                format!(
                    "Last stretch begins: {last} must lie behind {middle} and before the finish at {}.",
                    words::place(length, units)
                ),
            );
            return None;
        }
        Some(Borders { middle, last, unit: units })
    }

    fn wave(&self, ground: Ground<'_>, problems: &mut Problems) -> Option<NaiveTime> {
        let text = self.wave_start.trim();
        if text.is_empty() {
            return None;
        }
        let Some(wave) = read_time(text) else {
            let kind = ProblemKind::Unreadable { text: text.to_owned(), expected: Expected::Time };
            problems.add("wave_start", format!("Wave starts: {}.", words::problem_kind(&kind)));
            return None;
        };
        if ground.record.race.race.start.is_some_and(|start| wave < start) {
            problems.add(
                "wave_start",
                format!("Wave starts: {text} is before the race starts; give the race's own start on its page."),
            );
            return None;
        }
        if ground.record.race.race.start.is_some_and(|start| wave - start > WAVE_MOST) {
            problems.add("wave_start", format!("Wave starts: {text} is more than three hours after the race itself; give the time at which this athlete's wave starts."));
            return None;
        }
        Some(wave)
    }

    fn gun(&self, problems: &mut Problems) -> Option<u16> {
        let text = self.gun.trim();
        if text.is_empty() {
            return None;
        }
        let parts: Option<Vec<u32>> = text.split(':').map(|part| part.parse().ok()).collect();
        let seconds = match parts.as_deref() {
            Some([minutes, seconds]) if *seconds < 60 && *minutes <= 120 => Some(minutes * 60 + seconds),
            _ => None,
        };
        let seconds = seconds.filter(|seconds| *seconds <= 7200).and_then(|seconds| u16::try_from(seconds).ok());
        if seconds.is_none() {
            let typed = words::quote(text);
            problems.add(
                "gun",
                format!("From the gun to the start line: \u{201c}{typed}\u{201d} is not minutes and seconds up to two hours; write 1:35, say."),
            );
        }
        seconds
    }
}

/// A place on the course in the athlete's unit, to the thousandth.
fn place(text: &str, units: DistanceUnit) -> Option<Milli> {
    let with_unit = text.trim().replace(',', ".");
    let with_unit = if with_unit.ends_with(|last: char| last.is_ascii_digit()) {
        format!("{with_unit} {}", units.symbol())
    } else {
        with_unit
    };
    let distance: RaceDistance = read_distance(&with_unit).ok()?;
    Some(distance.distance().in_unit(units))
}

impl EditPage {
    fn new(layout: Layout, ground: Ground<'_>, typed: Typed, problems: Problems) -> Self {
        let (name, race) = document::title(ground);
        Self { layout: layout.at(Area::Athletes), id: ground.record.id, name, race, typed, problems }
    }
}

impl Page for EditPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        use super::ground::sample;
        let page = |ground: Ground<'_>| {
            let typed = Typed::of(&ground.record.race_sheet, &Proposals::of(ground), ground.record.version);
            Self::new(Layout::plain(), ground, typed, Problems::default())
        };
        let (empty, full) = (sample::empty(), sample::full());
        let full = full.ground();
        let wrong = Typed {
            middle_from: "<b>".to_owned(),
            wave_start: "06:00".to_owned(),
            gun: "x".to_owned(),
            piece_grams: "many".to_owned(),
            bib: "9".repeat(41),
            ..Typed::default()
        };
        let problems = wrong.to_sheet(full, &Proposals::of(full)).err().unwrap_or_default();
        vec![page(empty.ground()), page(full), Self::new(Layout::plain(), full, wrong, problems)]
    }
}

/// `GET /blocks/{block}/race-day/edit`
pub(crate) async fn get(
    State(state): State<AppState>,
    Id(id): Id<BlockId>,
    layout: Layout,
) -> Result<Response, AppError> {
    let opened = Opened::read(&state, id).await?;
    let ground = opened.ground();
    let typed = Typed::of(&ground.record.race_sheet, &Proposals::of(ground), ground.record.version);
    render::page(StatusCode::OK, &EditPage::new(layout, ground, typed, Problems::default()))
}

/// `POST /blocks/{block}/race-day/edit`
pub(crate) async fn post(
    State(state): State<AppState>,
    Id(id): Id<BlockId>,
    layout: Layout,
    Form(typed): Form<Typed>,
) -> Result<Response, AppError> {
    let opened = Opened::read(&state, id).await?;
    let ground = opened.ground();
    let proposals = Proposals::of(ground);
    let sheet = match typed.to_sheet(ground, &proposals) {
        Ok(sheet) => sheet,
        Err(problems) => {
            let page = EditPage::new(layout, ground, typed, problems);
            return render::page(StatusCode::UNPROCESSABLE_ENTITY, &page);
        }
    };
    match state.store.save_race_sheet(id, read_version(&typed.version), &sheet, state.clock.now()).await {
        Ok(()) => Ok(notice::redirect(&paths::race_day(id), Notice::RaceSheetSaved)),
        Err(StoreError::Conflict) => conflict(layout, ground, &proposals, &typed),
        Err(error) => Err(error.into()),
    }
}

fn conflict(layout: Layout, ground: Ground<'_>, proposals: &Proposals, typed: &Typed) -> Result<Response, AppError> {
    let record = ground.record;
    let kept = Typed::of(&record.race_sheet, proposals, record.version);
    let page = ConflictPage {
        layout: layout.at(Area::Athletes),
        what: format!("The race sheet of {}", record.athlete.draft.athlete.name),
        rows: Row::of_fields(&kept.fields(), &typed.fields()),
        version: record.version.to_string(),
        action: paths::race_day_edit(record.id),
        back: paths::race_day(record.id),
    };
    page.answer()
}

#[cfg(test)]
mod tests {
    use super::super::ground::sample;
    use super::*;

    fn read(ground: Ground<'_>, typed: &Typed) -> Result<RaceSheet, Problems> {
        typed.to_sheet(ground, &Proposals::of(ground))
    }

    #[test]
    fn a_race_sheet_survives_its_form_and_a_proposal_stays_one() {
        for opened in [sample::empty(), sample::full()] {
            let ground = opened.ground();
            let sheet = &ground.record.race_sheet;
            let typed = Typed::of(sheet, &Proposals::of(ground), Version(1));
            assert_eq!(&read(ground, &typed).expect("what is kept reads well"), sheet);
        }
        let full = sample::full();
        let full = full.ground();
        let typed = Typed { change_rules: String::new(), ..Typed::default() };
        assert_eq!(read(full, &typed).expect("empty is meant").change_rules, Some(String::new()));
    }

    #[test]
    fn every_wrong_value_is_named_at_its_field() {
        let opened = sample::full();
        let ground = opened.ground();
        for (typed, control, value) in [
            (
                Typed { middle_from: "far".to_owned(), last_from: "14".to_owned(), ..Typed::default() },
                "middle_from",
                "far",
            ),
            (Typed { middle_from: "14".to_owned(), last_from: "7".to_owned(), ..Typed::default() }, "last_from", "7"),
            (Typed { middle_from: "7".to_owned(), last_from: "99".to_owned(), ..Typed::default() }, "last_from", "99"),
            (Typed { wave_start: "25:00".to_owned(), ..Typed::default() }, "wave_start", "25:00"),
            (Typed { wave_start: "06:00".to_owned(), ..Typed::default() }, "wave_start", "06:00"),
            (Typed { gun: "1:75".to_owned(), ..Typed::default() }, "gun", "1:75"),
            (Typed { eat_minutes: "10".to_owned(), ..Typed::default() }, "eat_minutes", "10"),
            (Typed { piece_grams: "2,5".to_owned(), ..Typed::default() }, "piece_grams", "2,5"),
            (Typed { morning: "x".repeat(1001), ..Typed::default() }, "morning", "1001"),
        ] {
            let problems = read(ground, &typed).expect_err(control);
            assert!(problems.of(control).iter().any(|said| said.contains(value)), "{control}: {problems:?}");
        }
    }
}
