//! Goals and race strategy of a block, written while there is time.

use askama::Template;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use axum_extra::extract::Form;
use formats::words;
use planning::{Distance, GoalFinding, GoalLetter, GoalTimes};
use serde::Deserialize;
use store::{Answers, BlockId, BlockRecord, GoalNotes, StoreError, Stretch, WrittenStretches};

use super::lines;
use crate::conflict::{ConflictPage, Row};
use crate::error::AppError;
use crate::extract::Id;
use crate::form::{Choice, Problems, many_lines, one_line, read_version};
use crate::notice::{self, Notice};
use crate::paths;
use crate::race_day::EstimatesView;
use crate::render::{self, Area, Layout, Page};
use crate::shown;
use crate::state::AppState;

/// The longest cue word, in characters: it must be readable at a glance.
const CUE_MOST: usize = 30;
/// The longest goal or line, in characters: more does not fit on the sheet.
const LINE_MOST: usize = 200;
/// The longest message to the athlete, in characters.
const MESSAGE_MOST: usize = 1000;

/// The form of the goals.
#[derive(Template)]
#[template(path = "blocks/goals.html")]
pub(crate) struct GoalsPage {
    layout: Layout,
    id: BlockId,
    name: String,
    race: String,
    distance: String,
    date: String,
    typed: Typed,
    /// What was taken over, to be looked at before it is saved; empty where nothing was.
    told: String,
    /// Whose stretches may be taken over.
    elsewhere: Vec<Choice>,
    /// What the athlete answered beside them.
    answers: Answers,
    estimates: EstimatesView,
    problems: Problems,
}

/// The form as typed.
#[derive(Clone, Debug, Default, PartialEq, Deserialize)]
#[serde(default)]
pub(crate) struct Typed {
    version: String,
    a: String,
    b: String,
    c: String,
    belief: String,
    first_effort: String,
    first_focus: String,
    first_cue: String,
    middle_effort: String,
    middle_focus: String,
    middle_cue: String,
    last_effort: String,
    last_focus: String,
    last_cue: String,
    hard_moment: String,
    message: String,
    /// The block whose stretches are taken over, and the button that does it.
    like: String,
    take: String,
}

impl Typed {
    /// Fills what is still empty of the stretches and the sentence for the hard moment; what is typed stays.
    fn take_over(&mut self, notes: &GoalNotes) {
        let [first, middle, last] = &notes.stretches;
        for (typed, written) in [
            (&mut self.first_effort, &first.effort),
            (&mut self.first_focus, &first.focus),
            (&mut self.first_cue, &first.cue),
            (&mut self.middle_effort, &middle.effort),
            (&mut self.middle_focus, &middle.focus),
            (&mut self.middle_cue, &middle.cue),
            (&mut self.last_effort, &last.effort),
            (&mut self.last_focus, &last.focus),
            (&mut self.last_cue, &last.cue),
            (&mut self.hard_moment, &notes.hard_moment),
        ] {
            if typed.trim().is_empty() {
                typed.clone_from(written);
            }
        }
    }

    fn of(goals: &GoalNotes, version: store::Version) -> Self {
        let [first, middle, last] = goals.stretches.clone();
        let goals = goals.clone();
        Self {
            version: version.to_string(),
            a: goals.a,
            b: goals.b,
            c: goals.c,
            belief: goals.belief,
            first_effort: first.effort,
            first_focus: first.focus,
            first_cue: first.cue,
            middle_effort: middle.effort,
            middle_focus: middle.focus,
            middle_cue: middle.cue,
            last_effort: last.effort,
            last_focus: last.focus,
            last_cue: last.cue,
            hard_moment: goals.hard_moment,
            message: goals.message,
            ..Self::default()
        }
    }

    /// The three stretches: name on the page, prefix of the controls, and their values.
    fn stretches(&self) -> [StretchTyped<'_>; 3] {
        let stretch = |title, prefix, effort, focus, cue| StretchTyped { title, prefix, effort, focus, cue };
        [
            stretch("First third", "first", &self.first_effort, &self.first_focus, &self.first_cue),
            stretch("Middle third", "middle", &self.middle_effort, &self.middle_focus, &self.middle_cue),
            stretch("Last third", "last", &self.last_effort, &self.last_focus, &self.last_cue),
        ]
    }

    /// Every field: control, label, value, and the most characters that it takes.
    fn fields(&self) -> Vec<(String, String, &str, usize)> {
        let mut all = vec![
            ("a".to_owned(), "Goal A".to_owned(), self.a.as_str(), LINE_MOST),
            ("b".to_owned(), "Goal B".to_owned(), &self.b, LINE_MOST),
            ("c".to_owned(), "Goal C".to_owned(), &self.c, LINE_MOST),
            ("belief".to_owned(), "Why I may believe it".to_owned(), &self.belief, LINE_MOST),
            ("message".to_owned(), "In your own words".to_owned(), &self.message, MESSAGE_MOST),
        ];
        for stretch in self.stretches() {
            let field = |what: &str| format!("{}_{what}", stretch.prefix);
            let label = |what: &str| format!("{}, {what}", stretch.title);
            all.push((field("effort"), label("effort"), stretch.effort, LINE_MOST));
            all.push((field("focus"), label("focus"), stretch.focus, LINE_MOST));
            all.push((field("cue"), label("cue word"), stretch.cue, CUE_MOST));
        }
        all.push(("hard_moment".to_owned(), "When it gets hard".to_owned(), &self.hard_moment, LINE_MOST));
        all
    }

    /// Reads the form for a race of this length.
    fn to_goals(&self, length: Distance) -> Result<GoalNotes, Problems> {
        let mut problems = Problems::default();
        for (control, label, value, most) in self.fields() {
            let length = many_lines(value).trim().chars().count();
            if length > most {
                problems.add(control, format!("{label} has {length} characters; up to {most} fit on the sheet."));
            }
        }
        self.check_times(length, &mut problems);
        if !problems.is_empty() {
            return Err(problems);
        }
        let stretch = |stretch: &StretchTyped<'_>| Stretch {
            effort: one_line(stretch.effort),
            focus: one_line(stretch.focus),
            cue: one_line(stretch.cue),
        };
        let [first, middle, last] = self.stretches();
        Ok(GoalNotes {
            a: one_line(&self.a),
            b: one_line(&self.b),
            c: one_line(&self.c),
            belief: one_line(&self.belief),
            stretches: [stretch(&first), stretch(&middle), stretch(&last)],
            hard_moment: one_line(&self.hard_moment),
            message: many_lines(&self.message),
        })
    }
}

impl Typed {
    /// Goals that are times: somebody must run them, and A is the best day.
    fn check_times(&self, length: Distance, problems: &mut Problems) {
        let typed = [self.a.as_str(), self.b.as_str(), self.c.as_str()];
        let control = |letter: GoalLetter| letter.as_str().to_ascii_lowercase();
        if let Err(wrong) = GoalTimes::read(typed, length) {
            for (letter, kind) in wrong {
                problems.add(control(letter), format!("Goal {}: {}.", letter.as_str(), words::problem_kind(&kind)));
            }
            return;
        }
        let times = GoalTimes::readable(typed, length);
        for finding in times.findings(length) {
            if let GoalFinding::OutOfOrder { better, .. } = finding {
                problems.add(control(better), format!("{}.", shown::capital(&words::goal_finding(finding, &times))));
            }
        }
    }
}

/// Goal notes as they can be kept: every problem at the control of its field.
pub(crate) fn check(goals: &GoalNotes, length: Distance) -> Result<GoalNotes, Problems> {
    Typed::of(goals, store::Version(0)).to_goals(length)
}

/// One third of the race in the form.
struct StretchTyped<'a> {
    title: &'static str,
    prefix: &'static str,
    effort: &'a str,
    focus: &'a str,
    cue: &'a str,
}

impl GoalsPage {
    /// The page around a form.
    async fn read(
        state: &AppState,
        layout: Layout,
        record: &BlockRecord,
        typed: Typed,
        problems: Problems,
    ) -> Result<Self, AppError> {
        let answers = state.store.answers(record.id).await?;
        let estimates = EstimatesView::read(state, record).await?;
        let elsewhere = state.store.stretches_elsewhere(record.id).await?.iter().map(elsewhere).collect();
        Ok(Self { elsewhere, ..Self::new(layout, record, typed, (answers, estimates), problems) })
    }

    fn new(
        layout: Layout,
        record: &BlockRecord,
        typed: Typed,
        (answers, estimates): (Answers, EstimatesView),
        problems: Problems,
    ) -> Self {
        let race = &record.race.race;
        Self {
            layout: layout.at(Area::Athletes),
            id: record.id,
            name: record.athlete.draft.athlete.name.clone(),
            race: lines::race_name(race),
            distance: words::race_distance(race.distance),
            date: words::full_date(race.date),
            typed,
            told: String::new(),
            elsewhere: Vec::new(),
            answers,
            estimates,
            problems,
        }
    }

    fn control(prefix: &str, what: &str) -> String {
        format!("{prefix}_{what}")
    }
}

/// A choice of whose stretches to take over.
fn elsewhere(written: &WrittenStretches) -> Choice {
    let WrittenStretches { block, athlete, race, day } = written;
    let race = if race.is_empty() { String::new() } else { format!(", {race}") };
    Choice::new(block.to_string(), format!("{athlete}{race}, {}", words::full_date(*day)))
}

impl Page for GoalsPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        use super::sample;
        const LENGTH: Distance = Distance::metres(42_195);
        let empty = sample::record(&sample::ten_k());
        let full = sample::handed_over(&sample::marathon());
        let typed = Typed::of(&full.goals, full.version);
        let wrong = Typed { a: "<b>".repeat(100), first_cue: "x".repeat(31), ..typed.clone() };
        let problems = wrong.to_goals(LENGTH).err().unwrap_or_default();
        let [full_estimates, none, too_long] = EstimatesView::samples();
        let nothing = Answers::default();
        let written = WrittenStretches {
            block: full.id,
            athlete: full.athlete.draft.athlete.name.clone(),
            race: full.race.race.name.clone(),
            day: full.race.race.date,
        };
        vec![
            Self {
                told: taken_over(&full),
                elsewhere: vec![elsewhere(&written)],
                ..Self::new(Layout::plain(), &empty, Typed::default(), (nothing.clone(), none), Problems::default())
            },
            Self::new(Layout::plain(), &full, typed, (sample::answers(), full_estimates), Problems::default()),
            Self::new(Layout::plain(), &full, wrong, (nothing, too_long), problems),
        ]
    }
}

/// `GET /blocks/{block}/goals`
pub(crate) async fn get(
    State(state): State<AppState>,
    Id(id): Id<BlockId>,
    layout: Layout,
) -> Result<Response, AppError> {
    let record = state.store.block(id).await?.ok_or(AppError::NotFound)?;
    let typed = Typed::of(&record.goals, record.version);
    render::page(StatusCode::OK, &GoalsPage::read(&state, layout, &record, typed, Problems::default()).await?)
}

/// `POST /blocks/{block}/goals`
pub(crate) async fn post(
    State(state): State<AppState>,
    Id(id): Id<BlockId>,
    layout: Layout,
    Form(typed): Form<Typed>,
) -> Result<Response, AppError> {
    let record = state.store.block(id).await?.ok_or(AppError::NotFound)?;
    if !typed.take.is_empty() {
        return take_over(&state, layout, &record, typed).await;
    }
    let goals = match typed.to_goals(record.race.race.distance.distance()) {
        Ok(goals) => goals,
        Err(problems) => {
            let page = GoalsPage::read(&state, layout, &record, typed, problems).await?;
            return render::page(StatusCode::UNPROCESSABLE_ENTITY, &page);
        }
    };
    match state.store.save_goals(id, read_version(&typed.version), &goals, state.clock.now()).await {
        Ok(()) => Ok(notice::redirect(&paths::block(id), Notice::GoalsSaved)),
        Err(StoreError::Conflict) => conflict(layout, &record, &typed),
        Err(error) => Err(error.into()),
    }
}

/// The form with the stretches of another block in what was empty; nothing is saved yet.
async fn take_over(
    state: &AppState,
    layout: Layout,
    record: &BlockRecord,
    mut typed: Typed,
) -> Result<Response, AppError> {
    let from = typed.like.parse().map(BlockId).map_err(|_| AppError::NotFound)?;
    let from = state.store.block(from).await?.ok_or(AppError::NotFound)?;
    typed.take_over(&from.goals);
    let page = GoalsPage::read(state, layout, record, typed, Problems::default()).await?;
    render::page(StatusCode::OK, &GoalsPage { told: taken_over(&from), ..page })
}

fn taken_over(from: &BlockRecord) -> String {
    let (name, race) = (&from.athlete.draft.athlete.name, lines::race_name(&from.race.race));
    format!(
        "What was empty below now has the words of {name}, {race}. Nothing is saved yet: change what you like, then save."
    )
}

fn conflict(layout: Layout, record: &BlockRecord, typed: &Typed) -> Result<Response, AppError> {
    let kept = Typed::of(&record.goals, record.version);
    let page = ConflictPage {
        layout: layout.at(Area::Athletes),
        what: format!("The goals of {}", record.athlete.draft.athlete.name),
        rows: Row::of_fields(&kept.fields(), &typed.fields()),
        version: record.version.to_string(),
        action: paths::block_goals(record.id),
        back: paths::block_goals(record.id),
    };
    page.answer()
}

#[cfg(test)]
mod tests {
    use super::*;
    use store::Version;

    const LENGTH: Distance = Distance::metres(10_000);

    #[test]
    fn goals_that_are_times_are_in_order_and_such_as_are_run() {
        let typed = |a: &str, b: &str| Typed { a: a.to_owned(), b: b.to_owned(), ..Typed::default() };
        for (a, b) in [("under 44:00", "45:00"), ("0:44:00", "finish well"), ("a good race", "45:00")] {
            assert!(typed(a, b).to_goals(LENGTH).is_ok(), "{a}, {b}");
        }
        for (a, b, said) in [
            ("46:00", "45:00", "Goal A (46:00) is not faster than goal B (45:00)"),
            ("0:00", "45:00", "Goal A: nobody runs this distance in 0:00"),
            ("30:00:00", "", "Goal A: nobody runs this distance in 30:00:00"),
        ] {
            let problems = typed(a, b).to_goals(LENGTH).expect_err(said);
            assert!(problems.of("a")[0].starts_with(said), "{:?}", problems.of("a"));
        }
    }

    #[test]
    fn goals_survive_their_form() {
        let goals = super::super::sample::goals();
        assert_eq!(Typed::of(&goals, Version(1)).to_goals(LENGTH).expect("what is kept reads well"), goals);
    }

    #[test]
    fn the_last_character_that_fits_is_taken_and_the_next_refused() {
        let typed = |cue: usize, line: usize, message: usize| Typed {
            middle_cue: "ü".repeat(cue),
            hard_moment: "ü".repeat(line),
            message: "ü".repeat(message),
            ..Typed::default()
        };
        assert!(typed(CUE_MOST, LINE_MOST, MESSAGE_MOST).to_goals(LENGTH).is_ok());
        let problems = typed(CUE_MOST + 1, LINE_MOST + 1, MESSAGE_MOST + 1).to_goals(LENGTH).expect_err("one too many");
        for control in ["middle_cue", "hard_moment", "message"] {
            assert!(problems.at(control), "{control}");
        }
        assert_eq!(problems.all().len(), 3);
    }
}
