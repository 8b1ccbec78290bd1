//! The settings page.

use askama::Template;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use axum_extra::extract::Form;
use chrono::Weekday;
use formats::words;
use planning::DistanceUnit;
use planning::week::weekday_code;
use serde::Deserialize;
use store::{CoachSettings, DailyBackup, Paper, StoreError};

use crate::conflict::{ConflictPage, Row};
use crate::error::AppError;
use crate::form::{Choice, Problems, one_line, read_version, unit_choices};
use crate::notice::{self, Notice};
use crate::paths;
use crate::render::{self, Area, Layout, Page};
use crate::state::{AppState, ShareDoor};

/// The longest name of a coach, in characters.
const NAME_MOST: usize = 80;

/// The days on which a calendar week may start.
const WEEK_STARTS: [Weekday; 2] = [Weekday::Mon, Weekday::Sun];

/// The settings, where the data lie, and where athletes look.
#[derive(Template)]
#[template(path = "settings/show.html")]
pub(crate) struct ShowPage {
    layout: Layout,
    typed: Typed,
    problems: Problems,
    data: String,
    /// Where the daily backups lie.
    folder: String,
    backups: Vec<Backup>,
    warnings: Vec<String>,
    share: ShareDoor,
}

/// One daily backup.
struct Backup {
    day: String,
    size: String,
    file: String,
}

impl Backup {
    fn of(backup: &DailyBackup) -> Self {
        let name = backup.path.file_name().unwrap_or_default();
        Self { day: words::full_date(backup.day), size: size(backup.bytes), file: name.to_string_lossy().into_owned() }
    }
}

/// A size as people read it.
fn size(bytes: u64) -> String {
    match bytes {
        0..1_000_000 => format!("{} kB", bytes.div_ceil(1_000)),
        _ => format!("{:.1} MB", bytes as f64 / 1e6),
    }
}

/// The form as typed.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Typed {
    version: String,
    units: String,
    week_start: String,
    paper: String,
    coach_name: String,
}

impl Typed {
    fn of(settings: &CoachSettings) -> Self {
        Self {
            version: settings.version.to_string(),
            units: settings.units.symbol().to_owned(),
            week_start: weekday_code(settings.week_start).to_owned(),
            paper: settings.paper.code().to_owned(),
            coach_name: settings.coach_name.clone(),
        }
    }

    fn to_settings(&self) -> Result<CoachSettings, Problems> {
        let mut problems = Problems::default();
        let units = match self.units.as_str() {
            "mi" => DistanceUnit::Mi,
            "km" => DistanceUnit::Km,
            _ => {
                problems.add("units", "Choose kilometres or miles.");
                DistanceUnit::Km
            }
        };
        let week_start =
            WEEK_STARTS.into_iter().find(|day| weekday_code(*day) == self.week_start).unwrap_or_else(|| {
                problems.add("week_start", "Choose Monday or Sunday.");
                Weekday::Mon
            });
        let paper = Paper::from_code(&self.paper).unwrap_or_else(|| {
            problems.add("paper", "Choose A4 or Letter.");
            Paper::A4
        });
        let coach_name = one_line(&self.coach_name);
        problems.check_length("coach_name", "Your name", &coach_name, NAME_MOST);
        if problems.is_empty() {
            Ok(CoachSettings { version: read_version(&self.version), units, week_start, paper, coach_name })
        } else {
            Err(problems)
        }
    }
}

impl ShowPage {
    fn new(layout: Layout, state: &AppState, typed: Typed, problems: Problems) -> Self {
        Self {
            layout: layout.at(Area::Settings),
            typed,
            problems,
            data: state.data.display().to_string(),
            folder: state.store.backup_folder().display().to_string(),
            // A folder that cannot be read is told by the round of care that could not write to it.
            backups: state.store.daily_backups().unwrap_or_default().iter().map(Backup::of).collect(),
            warnings: state.care.warnings(),
            share: state.share.now(),
        }
    }

    fn week_start_choices() -> Vec<Choice> {
        WEEK_STARTS.into_iter().map(|day| Choice::new(weekday_code(day), words::weekday(day))).collect()
    }

    fn paper_choices() -> Vec<Choice> {
        let label = |paper| match paper {
            Paper::A4 => "A4, 210 x 297 mm",
            Paper::Letter => "Letter, 8.5 x 11 in",
        };
        Paper::ALL.into_iter().map(|paper| Choice::new(paper.code(), label(paper))).collect()
    }
}

impl Page for ShowPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        let page = |typed: Typed, share| Self {
            layout: Layout { area: Area::Settings, notice: Some(Notice::SettingsSaved) },
            problems: typed.to_settings().err().unwrap_or_default(),
            typed,
            data: "/home/ana/ebbline.db".to_owned(),
            folder: "/home/ana/ebbline.db-backups".to_owned(),
            backups: if matches!(share, ShareDoor::Off) {
                Vec::new()
            } else {
                let day = "Tuesday 20 April 2027".to_owned();
                vec![Backup { day, size: size(250_001), file: "2027-04-20.db".to_owned() }]
            },
            warnings: vec!["Beside the data file lies <b>".to_owned()],
            share,
        };
        let good = Typed {
            version: "1".to_owned(),
            units: "km".to_owned(),
            week_start: "mon".to_owned(),
            paper: "a4".to_owned(),
            coach_name: "Ana <b>".to_owned(),
        };
        let address = std::net::SocketAddr::from(([192, 168, 1, 20], 4651));
        vec![
            page(good.clone(), ShareDoor::Off),
            page(good.clone(), ShareDoor::Open { address, base: "http://192.168.1.20:4651".into() }),
            page(good, ShareDoor::Taken { address }),
            page(Typed { coach_name: "x".repeat(200), ..Typed::default() }, ShareDoor::Off),
        ]
    }
}

/// `GET /settings`
pub(crate) async fn get(State(state): State<AppState>, layout: Layout) -> Result<Response, AppError> {
    let settings = state.store.settings().await?;
    render::page(StatusCode::OK, &ShowPage::new(layout, &state, Typed::of(&settings), Problems::default()))
}

/// `POST /settings`
pub(crate) async fn post(
    State(state): State<AppState>,
    layout: Layout,
    Form(typed): Form<Typed>,
) -> Result<Response, AppError> {
    let settings = match typed.to_settings() {
        Ok(settings) => settings,
        Err(problems) => {
            let page = ShowPage::new(layout, &state, typed, problems);
            return render::page(StatusCode::UNPROCESSABLE_ENTITY, &page);
        }
    };
    match state.store.save_settings(&settings, state.clock.now()).await {
        Ok(()) => Ok(notice::redirect(paths::SETTINGS, Notice::SettingsSaved)),
        Err(StoreError::Conflict) => conflict(&state, layout, typed).await,
        Err(error) => Err(error.into()),
    }
}

async fn conflict(state: &AppState, layout: Layout, typed: Typed) -> Result<Response, AppError> {
    let kept = Typed::of(&state.store.settings().await?);
    let page = ConflictPage {
        layout: layout.at(Area::Settings),
        what: "The settings".to_owned(),
        rows: vec![
            Row::menu("units", "Units", &kept.units, &typed.units, unit_choices()),
            Row::menu(
                "week_start",
                "Week starts on",
                &kept.week_start,
                &typed.week_start,
                ShowPage::week_start_choices(),
            ),
            Row::menu("paper", "Paper", &kept.paper, &typed.paper, ShowPage::paper_choices()),
            Row::new("coach_name", "Your name", &kept.coach_name, &typed.coach_name),
        ],
        version: kept.version,
        action: paths::SETTINGS.to_owned(),
        back: paths::SETTINGS.to_owned(),
    };
    page.answer()
}
