//! The form of an athlete, new or known.

use askama::Template;
use axum::extract::{Query, State};
use axum::http::StatusCode;
use axum::response::Response;
use axum_extra::extract::Form;
use chrono::NaiveDate;
use formats::zones;
use planning::curve::LENGTHS;
use planning::notation::{read_pace, read_weight, with_years};
use planning::problem::Expected;
use planning::week::{WEEKDAYS, weekday_code, weekday_from_code};
use planning::{Athlete, DayBefore, DistanceUnit, Field, Problem, ProblemKind, Suits, WeightUnit};
use serde::Deserialize;
use store::{AthleteDraft, AthleteId, StoreError};

use crate::conflict::{ConflictPage, Row};
use crate::error::AppError;
use crate::extract::Id;
use crate::form::{Choice, Problems, many_lines, new_once, one_line, read_once, read_units, read_version};
use crate::notice::{self, Notice};
use crate::render::{self, Area, Layout, Page};
use crate::state::AppState;
use crate::{paths, words};

/// The longest name of a group, in characters.
pub(super) const GROUP_MOST: usize = 60;
/// The longest phone number, in characters.
pub(super) const PHONE_MOST: usize = 40;
/// What a ticked box sends.
const YES: &str = "yes";
/// The most cautions.
pub(super) const CAUTIONS_MOST: usize = 20;
/// The longest notes, and the longest list of results, in characters.
pub(super) const NOTES_MOST: usize = 5000;

/// The controls that may be wrong, in the order of the page.
const CONTROLS: [&str; 12] = [
    "name",
    "group",
    "units",
    "easy_pace",
    "recent_results",
    "birth_year",
    "cautions",
    "phone",
    "home_zone",
    "suits_days",
    "weight",
    "notes",
];

/// Those that a first block does without: they stand folded away on the form of a new athlete.
const MORE: &[&str] = CONTROLS.as_slice().split_at(7).1;

/// An athlete's form.
#[derive(Template)]
#[template(path = "athletes/edit.html")]
pub(crate) struct EditPage {
    layout: Layout,
    /// The athlete; nothing for a new one.
    known: Option<(AthleteId, String)>,
    typed: Typed,
    problems: Problems,
    /// Groups that the squad has already.
    groups: Vec<String>,
}

/// The form as typed.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Typed {
    version: String,
    once: String,
    name: String,
    group: String,
    units: String,
    easy_pace: String,
    birth_year: String,
    home_zone: String,
    cautions: String,
    recent_results: String,
    phone: String,
    suits_days: String,
    suits_day_before: String,
    suits_extra_rest: String,
    weight: String,
    fuel_referred: String,
    notes: String,
}

impl Typed {
    fn new(units: DistanceUnit) -> Self {
        Self { once: new_once(), units: units.symbol().to_owned(), ..Self::default() }
    }

    fn of(draft: &AthleteDraft, version: &str) -> Self {
        let Athlete { name, units, easy_pace, birth_year, home_zone, cautions, suits } = &draft.athlete;
        Self {
            version: version.to_owned(),
            once: String::new(),
            name: name.clone(),
            group: draft.group.clone(),
            units: units.symbol().to_owned(),
            easy_pace: easy_pace.map_or_else(String::new, |pace| {
                if pace.per() == *units { pace.to_string() } else { format!("{pace}/{}", pace.per().symbol()) }
            }),
            birth_year: birth_year.map_or_else(String::new, |year| year.to_string()),
            home_zone: home_zone.clone().unwrap_or_default(),
            cautions: cautions.join("\n"),
            recent_results: draft.recent_results.clone(),
            suits_days: suits.days.map_or_else(String::new, |days| days.to_string()),
            suits_day_before: suits.day_before.map_or("", DayBefore::code).to_owned(),
            suits_extra_rest: suits.extra_rest.map_or("", weekday_code).to_owned(),
            // With its unit, so that it stays what it is where the units are changed in the same form.
            weight: draft.weight.map(|weight| words::weight(weight, *units)).unwrap_or_default(),
            fuel_referred: if draft.fuel_referred { YES.to_owned() } else { String::new() },
            notes: draft.notes.clone(),
            phone: draft.phone.clone(),
        }
    }

    /// What the form says, or everything that is wrong with it.
    fn to_draft(&self, today: NaiveDate) -> Result<AthleteDraft, Problems> {
        let mut found = Vec::new();
        let mut problems = Problems::default();
        let units = read_units(&self.units);
        let athlete = Athlete {
            name: one_line(&self.name),
            units,
            easy_pace: optional(&self.easy_pace, &mut found, Field::EasyPace, |text| read_pace(text, units)),
            birth_year: optional(&self.birth_year, &mut found, Field::BirthYear, |text| number(text, Expected::Year)),
            home_zone: optional(&self.home_zone, &mut found, Field::HomeZone, |text| {
                let unknown = || ProblemKind::Unreadable { text: text.to_owned(), expected: Expected::Zone };
                zones::read(text).map(str::to_owned).ok_or_else(unknown)
            }),
            cautions: many_lines(&self.cautions).lines().map(one_line).filter(|line| !line.is_empty()).collect(),
            suits: Suits {
                days: optional(&self.suits_days, &mut found, Field::SuitsDays, days),
                day_before: DayBefore::from_code(&self.suits_day_before),
                extra_rest: weekday_from_code(&self.suits_extra_rest),
            },
        };
        let draft = AthleteDraft {
            athlete,
            group: one_line(&self.group),
            notes: many_lines(&self.notes),
            weight: optional(&self.weight, &mut found, Field::Weight, |text| {
                read_weight(text, WeightUnit::beside(units))
            }),
            fuel_referred: self.fuel_referred == YES,
            recent_results: with_years(&many_lines(&self.recent_results), today, units),
            phone: one_line(&self.phone),
        };
        found.extend(draft.problems());
        for problem in &found {
            problems.add(control(&problem.at), words::problem(problem));
        }
        problems.check_length("group", "Group", &draft.group, GROUP_MOST);
        problems.check_length("phone", "Phone", &draft.phone, PHONE_MOST);
        problems.check_length("notes", "Notes", &draft.notes, NOTES_MOST);
        problems.check_length("recent_results", "Recent results", &draft.recent_results, NOTES_MOST);
        let cautions = &draft.athlete.cautions;
        if cautions.len() > CAUTIONS_MOST {
            problems.add("cautions", words::too_many("Cautions", cautions.len(), CAUTIONS_MOST));
        }
        if let Some(longest) = cautions.iter().max_by_key(|caution| caution.chars().count()) {
            problems.check_length("cautions", "The longest caution", longest, Athlete::CAUTION_MOST);
        }
        problems.sort_by_controls(&CONTROLS);
        if problems.is_empty() { Ok(draft) } else { Err(problems) }
    }
}

/// Nothing where nothing was typed; what cannot be read is kept as a problem.
fn optional<T>(
    text: &str,
    found: &mut Vec<Problem>,
    at: Field,
    read: impl Fn(&str) -> Result<T, ProblemKind>,
) -> Option<T> {
    let text = text.trim();
    if text.is_empty() {
        return None;
    }
    read(text).map_err(|kind| found.push(Problem::new(at, kind))).ok()
}

fn number<T: std::str::FromStr>(text: &str, expected: Expected) -> Result<T, ProblemKind> {
    text.parse().map_err(|_| ProblemKind::Unreadable { text: text.to_owned(), expected })
}

/// A number of days. One that fits no block at all is told with the lengths that do.
fn days(text: &str) -> Result<u8, ProblemKind> {
    let days: u32 = number(text, Expected::Number)?;
    let (from, to) = (f64::from(*LENGTHS.start()), f64::from(*LENGTHS.end()));
    u8::try_from(days).map_err(|_| ProblemKind::OutOfRange { value: f64::from(days), from, to })
}

/// The control of a field of planning.
const fn control(at: &Field) -> &'static str {
    match at {
        Field::EasyPace => "easy_pace",
        Field::BirthYear => "birth_year",
        Field::HomeZone => "home_zone",
        Field::SuitsDays => "suits_days",
        Field::Weight => "weight",
        Field::RecentResult(..) => "recent_results",
        Field::Units => "units",
        Field::ExtraRest => "suits_extra_rest",
        _ => "name",
    }
}

impl EditPage {
    fn action(&self) -> String {
        self.known.as_ref().map_or_else(|| paths::ATHLETES.to_owned(), |(id, _)| paths::athlete(id))
    }

    fn back(&self) -> String {
        self.action()
    }

    /// Whether all of the form is to be seen: that of a known athlete, one with something wrong among what is folded away,
    /// and one where something was typed there.
    fn is_more_open(&self) -> bool {
        let Typed { phone, home_zone, suits_days, suits_day_before, suits_extra_rest, .. } = &self.typed;
        let Typed { weight, fuel_referred, notes, .. } = &self.typed;
        let typed = [phone, home_zone, suits_days, suits_day_before, suits_extra_rest, weight, fuel_referred, notes];
        self.known.is_some()
            || typed.into_iter().any(|text| !text.trim().is_empty())
            || MORE.iter().any(|control| self.problems.at(control))
    }

    fn zones() -> Vec<&'static str> {
        zones::of_places().collect()
    }

    /// How long the list of results is to be seen at once.
    fn result_rows(&self) -> usize {
        self.typed.recent_results.lines().count().clamp(2, 10)
    }

    fn day_before_choices() -> Vec<Choice> {
        vec![
            Choice::new("", "As the rules say"),
            Choice::new("rest", "Rest"),
            Choice::new("shake-out", "Shake-out run"),
        ]
    }

    fn extra_rest_choices() -> Vec<Choice> {
        let days = WEEKDAYS.into_iter().map(|day| Choice::new(weekday_code(day), formats::words::weekday(day)));
        std::iter::once(Choice::new("", "As the rules say")).chain(days).collect()
    }
}

impl Page for EditPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        let page = |known, typed: Typed| Self {
            layout: Layout::plain().at(Area::Athletes),
            known,
            problems: if typed.name.is_empty() && typed.version.is_empty() {
                Problems::default()
            } else {
                typed.to_draft(NaiveDate::MAX).err().unwrap_or_default()
            },
            typed,
            groups: vec!["Track".to_owned(), "<b>Road</b>".to_owned()],
        };
        let wrong = Typed {
            version: "3".to_owned(),
            name: " ".to_owned(),
            easy_pace: "quick".to_owned(),
            birth_year: "88".to_owned(),
            home_zone: "Mars/<b>".to_owned(),
            suits_days: "90".to_owned(),
            group: "x".repeat(99),
            cautions: "<b>knee</b>".to_owned(),
            recent_results: "2027-03-14 10k 42:10 (<b>)\n10k <b>soon".to_owned(),
            weight: "9 <b>".to_owned(),
            fuel_referred: YES.to_owned(),
            ..Typed::default()
        };
        let good = Typed { name: "Ana <b>".to_owned(), units: "mi".to_owned(), ..wrong.clone() };
        vec![
            page(None, Typed::new(DistanceUnit::Km)),
            page(Some((AthleteId(4), "Ana".to_owned())), wrong),
            page(Some((AthleteId(4), "<b>Ana".to_owned())), good),
        ]
    }
}

/// `GET /athletes/new`
pub(crate) async fn get_new(State(state): State<AppState>, layout: Layout) -> Result<Response, AppError> {
    let typed = Typed::new(state.store.settings().await?.units);
    show(&state, layout, StatusCode::OK, None, typed, Problems::default()).await
}

/// What the form begins with where nothing is noted.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Offered {
    easy_pace: String,
}

/// `GET /athletes/{athlete}/edit`
pub(crate) async fn get(
    State(state): State<AppState>,
    layout: Layout,
    Id(id): Id<AthleteId>,
    Query(offered): Query<Offered>,
) -> Result<Response, AppError> {
    let record = state.store.athlete(id).await?.ok_or(AppError::NotFound)?;
    let mut typed = Typed::of(&record.draft, &record.version.to_string());
    if typed.easy_pace.is_empty() {
        typed.easy_pace = offered.easy_pace;
    }
    let known = Some((id, record.draft.athlete.name));
    show(&state, layout, StatusCode::OK, known, typed, Problems::default()).await
}

/// `POST /athletes`
pub(crate) async fn add(
    State(state): State<AppState>,
    layout: Layout,
    Form(typed): Form<Typed>,
) -> Result<Response, AppError> {
    match typed.to_draft(state.clock.today()) {
        Ok(draft) => {
            let read_in = state.store.settings().await?.units;
            let id = state.store.add_athlete(&draft, read_once(&typed.once), state.clock.now()).await?;
            let is_read_as_before = state.store.settings().await?.units == read_in;
            match state.store.athlete(id).await? {
                // The form was sent before, then changed by way of the back button.
                Some(kept) if kept.draft != draft => {
                    conflict(layout, id, &Typed::of(&kept.draft, &kept.version.to_string()), &typed).answer()
                }
                _ if is_read_as_before => Ok(notice::redirect(&paths::athlete(id), Notice::AthleteAdded)),
                _ => Ok(notice::redirect(&paths::athlete(id), Notice::FirstAthleteAdded)),
            }
        }
        Err(problems) => show(&state, layout, StatusCode::UNPROCESSABLE_ENTITY, None, typed, problems).await,
    }
}

/// `POST /athletes/{athlete}`
pub(crate) async fn save(
    State(state): State<AppState>,
    layout: Layout,
    Id(id): Id<AthleteId>,
    Form(typed): Form<Typed>,
) -> Result<Response, AppError> {
    let kept = state.store.athlete(id).await?.ok_or(AppError::NotFound)?;
    let draft = match typed.to_draft(state.clock.today()) {
        Ok(draft) => draft,
        Err(problems) => {
            let known = Some((id, kept.draft.athlete.name));
            return show(&state, layout, StatusCode::UNPROCESSABLE_ENTITY, known, typed, problems).await;
        }
    };
    match state.store.save_athlete(id, read_version(&typed.version), &draft, state.clock.now()).await {
        Ok(()) => Ok(notice::redirect(&paths::athlete(id), Notice::AthleteSaved)),
        Err(StoreError::Conflict) => {
            let kept = state.store.athlete(id).await?.ok_or(AppError::NotFound)?;
            conflict(layout, id, &Typed::of(&kept.draft, &kept.version.to_string()), &typed).answer()
        }
        Err(error) => Err(error.into()),
    }
}

async fn show(
    state: &AppState,
    layout: Layout,
    status: StatusCode,
    known: Option<(AthleteId, String)>,
    typed: Typed,
    problems: Problems,
) -> Result<Response, AppError> {
    let groups = state.store.groups().await?;
    render::page(status, &EditPage { layout: layout.at(Area::Athletes), known, typed, problems, groups })
}

fn conflict(layout: Layout, id: AthleteId, kept: &Typed, typed: &Typed) -> ConflictPage {
    let rows = [
        ("name", "Name", &kept.name, &typed.name),
        ("group", "Group", &kept.group, &typed.group),
        ("phone", "Phone", &kept.phone, &typed.phone),
        ("units", "Units", &kept.units, &typed.units),
        ("easy_pace", "Easy pace", &kept.easy_pace, &typed.easy_pace),
        ("birth_year", "Year of birth", &kept.birth_year, &typed.birth_year),
        ("home_zone", "Time zone at home", &kept.home_zone, &typed.home_zone),
        ("cautions", "Cautions", &kept.cautions, &typed.cautions),
        ("recent_results", "Recent results", &kept.recent_results, &typed.recent_results),
        ("suits_days", "Length of block that suits", &kept.suits_days, &typed.suits_days),
        ("suits_day_before", "Day before the race", &kept.suits_day_before, &typed.suits_day_before),
        ("suits_extra_rest", "Extra rest day", &kept.suits_extra_rest, &typed.suits_extra_rest),
        ("weight", "Weight", &kept.weight, &typed.weight),
        ("notes", "Notes", &kept.notes, &typed.notes),
    ];
    let mut rows: Vec<Row> =
        rows.into_iter().map(|(name, label, kept, typed)| Row::new(name, label, kept, typed)).collect();
    let choices = vec![Choice::new("", "With me"), Choice::new(YES, "With a professional")];
    rows.push(Row::menu("fuel_referred", "Food and drink", &kept.fuel_referred, &typed.fuel_referred, choices));
    ConflictPage {
        layout: layout.at(Area::Athletes),
        what: kept.name.clone(),
        rows,
        version: kept.version.clone(),
        action: paths::athlete(id),
        back: paths::athlete(id),
    }
}
