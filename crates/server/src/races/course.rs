//! The course of a race: from a file to heights and length, fitted to the official distance.

use askama::Template;
use axum::extract::multipart::Multipart;
use axum::extract::{FromRequest, Request, State};
use axum::http::StatusCode;
use axum::http::header::CONTENT_TYPE;
use axum::response::Response;
use axum_extra::extract::Form;
use formats::gpx::{self, GpxProblem, Line, Taken};
use formats::words;
use planning::pacing::{every, paper_step};
use planning::{Distance, DistanceUnit, LineShape, ProblemKind, Profile};
use serde::Deserialize;
use store::{Course, CourseRecord, RaceId, RaceRecord, StoreError, Version};

use crate::error::AppError;
use crate::extract::Id;
use crate::form::{Problems, one_line, read_version};
use crate::notice::{self, Notice};
use crate::race_day::fitted::{Fit, fitted};
use crate::race_day::profile_picture::{ProfileMark, ProfilePicture, describe};
use crate::render::{self, Area, Layout, Page};
use crate::state::AppState;
use crate::{paths, shown};

/// What the form may hold: the file and a little around it.
pub(crate) const BODY_MOST: usize = gpx::MOST_BYTES + 64 * 1024;

/// What a course is called that was pasted without a name of its own.
const PASTED: &str = "pasted text";

/// A race's course and the form for another.
#[derive(Template)]
#[template(path = "races/course.html")]
pub(crate) struct CoursePage {
    layout: Layout,
    id: RaceId,
    name: String,
    distance: String,
    kept: Option<Kept>,
    /// The version that the form is sent with.
    version: Version,
    /// What was pasted and not taken.
    text: String,
    /// What became of a course that was sent while another was saved.
    stale: Option<String>,
    problems: Problems,
}

/// A kept course as it is shown.
#[derive(Debug)]
struct Kept {
    /// Why it is not paced on, if it is not.
    told: Option<String>,
    sentences: Vec<String>,
    picture: Option<ProfilePicture>,
    rows: Vec<Row>,
}

/// One line of the table beside the picture.
#[derive(Debug)]
struct Row {
    at: String,
    height: String,
    /// Against the row before: `12 m up`.
    change: String,
}

impl Kept {
    fn of(course: &Course, official: Distance, units: DistanceUnit) -> Self {
        let (profile, ground) = fitted(Some(course), official);
        let mut sentences = vec![measured(course, official, &ground, units)];
        let told = match &ground {
            Fit::OfOtherLength(kind) => Some(format!(
                "{}. The file is kept, and the pace is planned as on the flat.",
                shown::capital(&words::problem_kind(kind))
            )),
            Fit::WithoutHeights => Some("The file has no heights: the pace is planned as on the flat.".to_owned()),
            Fit::Measured | Fit::Unknown => None,
        };
        if ground == Fit::Measured {
            sentences.push(describe(&profile, units));
        }
        if course.shape == LineShape::Route {
            sentences.push("A route holds turning points only: a bend between two of them is cut short.".to_owned());
        }
        let places = every(units, paper_step(units, official), official);
        let picture = ProfilePicture::of(&profile, units, &marks(&places, units));
        let rows = if picture.is_some() { rows(&profile, &places, units) } else { Vec::new() };
        Self { told, sentences, picture, rows }
    }
}

/// `Measured 21.15 km from the track in larkmere.gpx, shrunk by 0.2 % to the official 21.0975 km.`
fn measured(course: &Course, official: Distance, ground: &Fit, units: DistanceUnit) -> String {
    let length = words::measured(course.length(), units);
    let from = match course.file_name.as_str() {
        "" => format!("from a {}", words::line_shape(course.shape)),
        name => format!("from the {} in {name}", words::line_shape(course.shape)),
    };
    let per_cent = (official.as_km() / course.length().as_km() - 1.0) * 100.0;
    let fitted = match ground {
        Fit::OfOtherLength(_) | Fit::Unknown => String::new(),
        _ if per_cent.abs() < 0.05 => ", as long as the race".to_owned(),
        _ => {
            let how = if per_cent > 0.0 { "stretched" } else { "shrunk" };
            format!(", {how} by {:.1}% to the official {}", per_cent.abs(), words::official(official, units))
        }
    };
    format!("Measured {length} {from}{fitted}.")
}

/// The places below the picture: numbers alone, the end with its unit, nothing that would run into it.
fn marks(places: &[Distance], units: DistanceUnit) -> Vec<ProfileMark> {
    let end = places.last().copied().unwrap_or(Distance::metres(0));
    let label = |at: Distance| match at.as_km() / end.as_km() {
        share if share >= 1.0 => words::place(at, units),
        share if share > 0.9 => String::new(),
        _ => words::place(at, units).split(' ').next().unwrap_or_default().to_owned(),
    };
    places.iter().map(|at| ProfileMark { at: *at, label: label(*at) }).collect()
}

fn rows(profile: &Profile, places: &[Distance], units: DistanceUnit) -> Vec<Row> {
    let mut before: Option<f64> = None;
    std::iter::once(Distance::metres(0))
        .chain(places.iter().copied())
        .map(|at| {
            let height = profile.height_at(at);
            let change = before.replace(height).map_or_else(String::new, |before| change(height - before, units));
            let at = if at == Distance::metres(0) { "Start".to_owned() } else { words::place(at, units) };
            Row { at, height: words::height(height, units), change }
        })
        .collect()
}

fn change(metres: f64, units: DistanceUnit) -> String {
    let height = words::height(metres.abs(), units);
    match metres {
        _ if height.starts_with("0 ") => "level".to_owned(),
        up if up > 0.0 => format!("{height} up"),
        _ => format!("{height} down"),
    }
}

impl CoursePage {
    fn new(layout: Layout, race: &RaceRecord, course: Option<&CourseRecord>, units: DistanceUnit) -> Self {
        let official = race.race.distance.distance();
        Self {
            layout: layout.at(Area::Races),
            id: race.id,
            name: race.race.name.clone(),
            distance: shown::capital(&words::race_distance(race.race.distance)),
            kept: course.map(|record| Kept::of(&record.course, official, units)),
            version: course.map_or(Version(0), |record| record.version),
            text: String::new(),
            stale: None,
            problems: Problems::default(),
        }
    }

    async fn load(state: &AppState, layout: Layout, id: RaceId) -> Result<Self, AppError> {
        let race = state.store.race(id).await?.ok_or(AppError::NotFound)?;
        let course = state.store.course(id).await?;
        let units = state.store.settings().await?.units;
        Ok(Self::new(layout, &race, course.as_ref(), units))
    }
}

impl Page for CoursePage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        use planning::{MeasuredPoint, RaceDistance};

        use super::sample;
        let race = sample::race(RaceDistance::Half);
        let course = |metres: i64, heights: bool, shape| {
            let point = |along: i64, height| MeasuredPoint {
                along: Distance::metres(along),
                height: heights.then_some(height),
            };
            let points = vec![point(0, 12.0), point(metres / 3, 96.0), point(metres / 2, 31.0), point(metres, 20.0)];
            let course = Course { shape, file_name: "larkmere <b>.gpx".to_owned(), points };
            CourseRecord { version: Version(3), course }
        };
        let page = |course: Option<CourseRecord>, units| Self::new(Layout::plain(), &race, course.as_ref(), units);
        let mut problems = Problems::default();
        problems.add("gpx", words::gpx_problem(&GpxProblem::NotGpx { root: "<b>".to_owned() }));
        let km = DistanceUnit::Km;
        vec![
            page(None, km),
            Self { text: "<b>".to_owned(), problems, ..page(None, km) },
            page(Some(course(21_300, true, LineShape::Track)), DistanceUnit::Mi),
            page(Some(course(21_098, false, LineShape::Route)), km),
            Self { stale: Some("Meanwhile <b>".to_owned()), ..page(Some(course(42_000, true, LineShape::Track)), km) },
        ]
    }
}

/// `GET /races/{race}/course`
pub(crate) async fn get(
    State(state): State<AppState>,
    layout: Layout,
    Id(id): Id<RaceId>,
) -> Result<Response, AppError> {
    render::page(StatusCode::OK, &CoursePage::load(&state, layout, id).await?)
}

/// What was sent: the version that the form was read at, and a file, or its text.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
struct Typed {
    version: String,
    text: String,
    #[serde(skip)]
    file: Vec<u8>,
    #[serde(skip)]
    file_name: String,
}

/// `POST /races/{race}/course`
pub(crate) async fn post(
    State(state): State<AppState>,
    layout: Layout,
    Id(id): Id<RaceId>,
    request: Request,
) -> Result<Response, AppError> {
    let race = state.store.race(id).await?.ok_or(AppError::NotFound)?;
    let official = race.race.distance.distance();
    let (typed, sent) = read_form(request).await;
    let refuse = async |sentence: String| {
        let mut page = CoursePage::load(&state, layout, id).await?;
        let at = if typed.file.is_empty() && !typed.text.trim().is_empty() { "text" } else { "gpx" };
        page.problems.add(at, sentence);
        page.text.clone_from(&typed.text);
        render::page(StatusCode::UNPROCESSABLE_ENTITY, &page)
    };
    if let Err(sentence) = sent {
        return refuse(sentence).await;
    }
    let bytes = if typed.file.is_empty() { typed.text.clone().into_bytes() } else { typed.file.clone() };
    let read = tokio::task::spawn_blocking(move || gpx::read(&bytes)).await;
    let lines = match read.map_err(|error| AppError::Internal(error.to_string()))? {
        Ok(lines) => lines,
        Err(GpxProblem::Empty) if typed.file.is_empty() => {
            return refuse("Choose a GPX file, or paste its text, then save it.".to_owned()).await;
        }
        Err(problem) => return refuse(words::gpx_problem(&problem)).await,
    };
    let Some((line, taken)) = gpx::choose(lines, official) else {
        return refuse(words::gpx_problem(&GpxProblem::NoLine)).await;
    };
    let notice = notice_of(&line, taken);
    let course = Course { shape: line.shape, file_name: name_of(&typed, &line), points: line.points };
    if let (_, Fit::OfOtherLength(kind)) = fitted(Some(&course), official) {
        return refuse(refusal(&kind, taken)).await;
    }
    match state.store.save_course(id, read_version(&typed.version), &course, state.clock.now()).await {
        Ok(()) => Ok(notice::redirect(&paths::race_course(id), notice)),
        Err(StoreError::Conflict) => {
            let mut page = CoursePage::load(&state, layout, id).await?;
            page.stale = Some(format!(
                "Meanwhile the course was changed: what is kept now stands below. Yours, {}, is not saved. Choose the \
                 file again and save it to put it in its place.",
                course.file_name
            ));
            page.text = typed.text;
            render::page(StatusCode::CONFLICT, &page)
        }
        Err(error) => Err(error.into()),
    }
}

fn notice_of(line: &Line, taken: Taken) -> Notice {
    let count = |count: usize| u32::try_from(count).unwrap_or(u32::MAX);
    match taken {
        Taken::Nearest { of } => Notice::CourseOf(count(of)),
        Taken::All { count: all } => Notice::CourseOfAll(count(all)),
        Taken::TheOnly if line.gaps > 0 => Notice::CourseWithGaps(count(line.gaps)),
        Taken::TheOnly => Notice::CourseSaved,
    }
}

/// Both lengths, and that nothing else in the file fits.
fn refusal(kind: &ProblemKind, taken: Taken) -> String {
    let said = shown::capital(&words::problem_kind(kind));
    match taken {
        Taken::Nearest { of } => format!("{said}. Of the {of} lines in the file it comes nearest."),
        Taken::TheOnly | Taken::All { .. } => format!("{said}."),
    }
}

/// What the course is called: the file's name without its folders, else the line's own.
fn name_of(typed: &Typed, line: &Line) -> String {
    let file = typed.file_name.rsplit(['/', '\\']).next().unwrap_or_default();
    let named = [one_line(file), line.name.clone(), PASTED.to_owned()];
    let name = named.into_iter().find(|name| !name.is_empty()).unwrap_or_default();
    name.chars().take(Course::FILE_NAME_MOST).collect()
}

/// The form, with a file where it has one; or what went wrong on the way.
async fn read_form(request: Request) -> (Typed, Result<(), String>) {
    const BROKE_OFF: &str = "The form broke off on the way. Send it again.";
    let kind = request.headers().get(CONTENT_TYPE).and_then(|kind| kind.to_str().ok()).unwrap_or_default();
    if !kind.starts_with("multipart/form-data") {
        return match Form::<Typed>::from_request(request, &()).await {
            Ok(Form(typed)) => (typed, Ok(())),
            Err(_) => (Typed::default(), Err(BROKE_OFF.to_owned())),
        };
    }
    let mut typed = Typed::default();
    let read = async |typed: &mut Typed| -> Result<(), StatusCode> {
        let mut form = Multipart::from_request(request, &()).await.map_err(|error| error.status())?;
        while let Some(field) = form.next_field().await.map_err(|error| error.status())? {
            let name = field.name().unwrap_or_default().to_owned();
            let file_name = field.file_name().unwrap_or_default().to_owned();
            let bytes = field.bytes().await.map_err(|error| error.status())?;
            let text = || String::from_utf8_lossy(&bytes).into_owned();
            match name.as_str() {
                "version" => typed.version = text(),
                "text" => typed.text = text(),
                "gpx" => (typed.file, typed.file_name) = (bytes.to_vec(), file_name),
                _ => {}
            }
        }
        Ok(())
    };
    let sent = read(&mut typed).await.map_err(|status| match status {
        StatusCode::PAYLOAD_TOO_LARGE => words::gpx_problem(&GpxProblem::TooLarge),
        _ => BROKE_OFF.to_owned(),
    });
    (typed, sent)
}

/// The form that takes the course away.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Removal {
    version: String,
}

/// `POST /races/{race}/course/remove`
pub(crate) async fn remove(
    State(state): State<AppState>,
    layout: Layout,
    Id(id): Id<RaceId>,
    Form(typed): Form<Removal>,
) -> Result<Response, AppError> {
    match state.store.remove_course(id, read_version(&typed.version)).await {
        Ok(()) => Ok(notice::redirect(&paths::race_course(id), Notice::CourseRemoved)),
        Err(StoreError::Conflict) => {
            let mut page = CoursePage::load(&state, layout, id).await?;
            page.stale =
                Some("Meanwhile another course was saved: it stands below, and nothing was removed.".to_owned());
            render::page(StatusCode::CONFLICT, &page)
        }
        Err(error) => Err(error.into()),
    }
}
