//! The settings of a block: how the coach types them, and making the block anew with them.

use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use axum_extra::extract::Form;
use formats::words;
use planning::problem::Expected;
use planning::week::{WEEKDAYS, weekday_code};
use planning::{Curve, DayBefore, ExtraRest, Field, Problem, ProblemKind, Settings, Shape, Share};
use serde::Deserialize;
use store::{BlockId, StoreError};

use super::load::{Laid, Loaded};
use super::show::{self, ShowPage};
use crate::conflict::{ConflictPage, Row};
use crate::error::AppError;
use crate::extract::Id;
use crate::form::{Choice, Problems, read_version};
use crate::notice::{self, Notice};
use crate::paths;
use crate::render::{self, Area, Layout};
use crate::shown;
use crate::state::AppState;

/// The reason that a revision made here is kept with.
const REASON: &str = "made anew";

/// The form as typed. An empty number takes the event's and the athlete's default.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Typed {
    pub(crate) version: String,
    pub(crate) days: String,
    pub(crate) curve: String,
    /// In per cent.
    pub(crate) floor: String,
    pub(crate) shape: String,
    pub(crate) day_before: String,
    pub(crate) extra_rest: String,
    /// Sent by the button that shows without saving.
    pub(crate) preview: String,
}

impl Typed {
    /// What is kept, as it would be typed.
    pub(crate) fn of(settings: &Settings, version: store::Version) -> Self {
        let text = |number: Option<f64>| number.map_or(String::new(), |number| number.to_string());
        Self {
            version: version.to_string(),
            days: settings.days.map_or(String::new(), |days| days.to_string()),
            curve: text(settings.curve),
            floor: text(settings.floor.map(|floor| (floor * 1000.0).round() / 10.0)),
            shape: settings.shape.code().to_owned(),
            day_before: settings.day_before.code().to_owned(),
            extra_rest: extra_rest_code(settings.extra_rest).to_owned(),
            preview: String::new(),
        }
    }

    /// Whether the page is asked to show these settings without saving them.
    pub(crate) fn is_preview(&self) -> bool {
        !self.preview.is_empty()
    }

    /// Reads the form: every problem at its control.
    pub(crate) fn to_settings(&self) -> Result<Settings, Problems> {
        let mut problems = Problems::default();
        let settings = Settings {
            days: self.whole(&mut problems),
            curve: number(&self.curve, Field::Curve, &mut problems),
            floor: number(&self.floor, Field::Floor, &mut problems).map(|percent| percent / 100.0),
            shape: Shape::from_code(&self.shape).unwrap_or_default(),
            day_before: DayBefore::from_code(&self.day_before).unwrap_or_default(),
            extra_rest: read_extra_rest(&self.extra_rest),
        };
        if problems.is_empty() {
            add_problems(&settings.problems(), &mut problems);
        }
        if problems.is_empty() { Ok(settings) } else { Err(problems) }
    }

    fn whole(&self, problems: &mut Problems) -> Option<u8> {
        let number = number(&self.days, Field::BlockDays, problems)?;
        if number.fract() == 0.0 && (0.0..=255.0).contains(&number) {
            return Some(number as u8);
        }
        let (from, to) = (*planning::curve::LENGTHS.start(), *planning::curve::LENGTHS.end());
        let kind = ProblemKind::OutOfRange { value: number, from: f64::from(from), to: f64::from(to) };
        add_problems(&[Problem::new(Field::BlockDays, kind)], problems);
        None
    }

    pub(crate) fn shape_choices() -> Vec<Choice> {
        Shape::ALL.into_iter().map(|shape| Choice::new(shape.code(), shown::capital(words::shape(shape)))).collect()
    }

    pub(crate) fn day_before_choices() -> Vec<Choice> {
        let choice = |choice: DayBefore| Choice::new(choice.code(), shown::capital(words::day_before(choice)));
        DayBefore::ALL.into_iter().map(choice).collect()
    }

    pub(crate) fn extra_rest_choices() -> Vec<Choice> {
        let days = WEEKDAYS.into_iter().map(ExtraRest::On);
        [ExtraRest::Auto, ExtraRest::None]
            .into_iter()
            .chain(days)
            .map(|choice| Choice::new(extra_rest_code(choice), shown::capital(words::extra_rest(choice))))
            .collect()
    }
}

/// What stands in the hints: the numbers that an empty field takes.
pub(crate) fn hints(usual: Curve) -> (String, String, String) {
    let floor = Share(usual.floor).percent();
    (format!("Usual: {}", usual.length), format!("Usual: {}", usual.curvature), format!("Usual: {floor}"))
}

/// Puts problems of planning at the controls of the form.
pub(crate) fn add_problems(found: &[Problem], problems: &mut Problems) {
    for problem in found {
        let control = match problem.at {
            Field::BlockDays => "days",
            Field::Curve => "curve",
            Field::Floor => "floor",
            Field::ExtraRest => "extra_rest",
            _ => "settings",
        };
        problems.add(control, crate::words::problem(&in_per_cent(problem)));
    }
}

/// The form holds the floor in per cent, so its limits are told in per cent too.
fn in_per_cent(problem: &Problem) -> Problem {
    match (&problem.at, &problem.kind) {
        (Field::Floor, ProblemKind::OutOfRange { value, from, to }) => {
            let [value, from, to] = [value, from, to].map(|share| share * 100.0);
            Problem::new(Field::Floor, ProblemKind::OutOfRange { value, from, to })
        }
        _ => problem.clone(),
    }
}

/// A number as people type it: a comma or a point before the decimals.
fn number(text: &str, field: Field, problems: &mut Problems) -> Option<f64> {
    let text = text.trim();
    if text.is_empty() {
        return None;
    }
    let plain = text.replace(',', ".");
    let is_plain = plain.chars().all(|c| c.is_ascii_digit() || c == '.');
    match plain.parse::<f64>() {
        Ok(number) if is_plain && number.is_finite() => Some(number),
        _ => {
            let kind = ProblemKind::Unreadable { text: text.to_owned(), expected: Expected::Number };
            add_problems(&[Problem::new(field, kind)], problems);
            None
        }
    }
}

const fn extra_rest_code(rest: ExtraRest) -> &'static str {
    match rest {
        ExtraRest::Auto => "auto",
        ExtraRest::None => "none",
        ExtraRest::On(day) => weekday_code(day),
    }
}

fn read_extra_rest(code: &str) -> ExtraRest {
    match code {
        "none" => ExtraRest::None,
        code => WEEKDAYS.into_iter().find(|day| weekday_code(*day) == code).map_or(ExtraRest::Auto, ExtraRest::On),
    }
}

/// `POST /blocks/{block}/settings`: a new revision of the days; goal notes stay as they are.
pub(crate) async fn post(
    State(state): State<AppState>,
    Id(id): Id<BlockId>,
    layout: Layout,
    Form(typed): Form<Typed>,
) -> Result<Response, AppError> {
    let loaded = Loaded::read(&state, id).await?;
    let (settings, Laid { block, plan }) = match show::plan_typed(&loaded, &typed) {
        Ok(planned) => planned,
        Err(problems) => {
            let page = ShowPage::load(&state, layout, &loaded, show::Shown::Refused { typed, problems }).await?;
            return render::page(StatusCode::UNPROCESSABLE_ENTITY, &page);
        }
    };
    let read_at = read_version(&typed.version);
    let now = state.clock.now();
    match state.store.replan_block(id, read_at, &settings, &loaded.week, &block, &plan, REASON, now).await {
        Ok(_) => Ok(notice::redirect(&paths::block(id), Notice::BlockSaved)),
        Err(StoreError::Conflict) => conflict(layout, &loaded, &typed),
        Err(error) => Err(error.into()),
    }
}

fn conflict(layout: Layout, loaded: &Loaded, typed: &Typed) -> Result<Response, AppError> {
    let kept = Typed::of(&loaded.record.settings, loaded.record.version);
    let page = ConflictPage {
        layout: layout.at(Area::Athletes),
        what: format!("{}'s block", loaded.record.athlete.draft.athlete.name),
        rows: vec![
            Row::new("days", "Length in days", &kept.days, &typed.days),
            Row::new("curve", "Curvature", &kept.curve, &typed.curve),
            Row::new("floor", "Left at the end, in %", &kept.floor, &typed.floor),
            Row::menu("shape", "Shape", &kept.shape, &typed.shape, Typed::shape_choices()),
            Row::menu(
                "day_before",
                "Day before the race",
                &kept.day_before,
                &typed.day_before,
                Typed::day_before_choices(),
            ),
            Row::menu("extra_rest", "Extra rest day", &kept.extra_rest, &typed.extra_rest, Typed::extra_rest_choices()),
        ],
        version: kept.version,
        action: paths::block_settings(loaded.record.id),
        back: paths::block(loaded.record.id),
    };
    render::page(StatusCode::CONFLICT, &page)
}

#[cfg(test)]
mod tests {
    use super::*;
    use store::Version;

    #[test]
    fn settings_survive_their_form() {
        let all = [
            Settings::default(),
            Settings {
                days: Some(12),
                curve: Some(1.25),
                floor: Some(0.375),
                shape: Shape::Exponential,
                day_before: DayBefore::ShakeOut,
                extra_rest: ExtraRest::On(chrono::Weekday::Fri),
            },
            Settings {
                extra_rest: ExtraRest::None,
                shape: Shape::Step,
                day_before: DayBefore::Rest,
                ..Settings::default()
            },
        ];
        for settings in all {
            let read = Typed::of(&settings, Version(1)).to_settings().expect("what is kept reads well");
            assert_eq!(read, settings);
        }
    }

    #[test]
    fn a_comma_is_a_decimal_point() {
        let typed = Typed { curve: "1,5".to_owned(), floor: " 40 ".to_owned(), ..Typed::default() };
        let settings = typed.to_settings().expect("reads");
        assert_eq!((settings.curve, settings.floor), (Some(1.5), Some(0.4)));
    }

    #[test]
    fn every_wrong_number_is_told_at_its_control() {
        let typed = Typed { days: "1e1".to_owned(), curve: "9".to_owned(), floor: "-5".to_owned(), ..Typed::default() };
        let problems = typed.to_settings().expect_err("nothing here is right");
        assert!(problems.at("days") && problems.at("floor"));
        let typed = Typed { days: "10.5".to_owned(), ..Typed::default() };
        assert!(typed.to_settings().expect_err("half a day").at("days"));
        let typed = Typed { curve: "9".to_owned(), floor: "95".to_owned(), ..Typed::default() };
        let problems = typed.to_settings().expect_err("out of range");
        assert!(problems.at("curve"));
        assert_eq!(problems.of("floor"), ["Left at the end: 95 is too much; a number from 10 to 90."]);
    }
}
