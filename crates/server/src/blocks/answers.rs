//! Pasted answers: read, shown beside what is kept, and saved as the coach chooses.

use std::collections::HashMap;

use askama::Template;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use axum_extra::extract::Form;
use formats::answers::{Answer, read_answers};
use formats::words;
use store::{Answers, BlockId, BlockRecord, GoalNotes, StoreError};

use super::questions::QuestionsPage;
use super::{goals, lines, questions};
use crate::error::AppError;
use crate::extract::Id;
use crate::form::{Problems, many_lines, one_line, read_version};
use crate::notice::{self, Notice};
use crate::paths;
use crate::render::{self, Area, Layout, Page};
use crate::state::AppState;

/// The longest text of a worry, a last taper, or lines without a question, in characters.
const TOLD_MOST: usize = 2000;
/// The longest text that is read, in characters.
const PASTED_MOST: usize = 20_000;

/// Every answer with the control of its field.
const FIELDS: [(Answer, &str); 15] = [
    (Answer::GoalA, "a"),
    (Answer::GoalB, "b"),
    (Answer::GoalC, "c"),
    (Answer::Belief, "belief"),
    (Answer::Effort(0), "first_effort"),
    (Answer::Focus(0), "first_focus"),
    (Answer::Cue(0), "first_cue"),
    (Answer::Effort(1), "middle_effort"),
    (Answer::Focus(1), "middle_focus"),
    (Answer::Cue(1), "middle_cue"),
    (Answer::Effort(2), "last_effort"),
    (Answer::Focus(2), "last_focus"),
    (Answer::Cue(2), "last_cue"),
    (Answer::Worry, "worry"),
    (Answer::LastTaper, "last_taper"),
];

/// The answers as they were read, before they are saved.
#[derive(Template)]
#[template(path = "blocks/answers.html")]
pub(crate) struct AnswersPage {
    layout: Layout,
    id: BlockId,
    name: String,
    race: String,
    version: String,
    /// Whether only the order, or the look of a time, said what belongs where.
    is_guessed: bool,
    /// Whether the block was saved from another window meanwhile.
    is_stale: bool,
    rows: Vec<Row>,
    /// Lines that belong to no question, those kept from earlier with them.
    rest: String,
    pasted: String,
    problems: Problems,
}

/// One field.
struct Row {
    control: &'static str,
    label: &'static str,
    /// What is kept now; empty where nothing is.
    kept: String,
    /// What was answered, or what the coach made of it.
    answer: String,
    /// Whether the answer takes the place of what is kept.
    takes: bool,
    is_long: bool,
}

impl Row {
    /// Whether the coach has to choose.
    fn is_open(&self) -> bool {
        !self.kept.is_empty() && self.kept != self.answer
    }

    fn choice(&self) -> String {
        choice(self.control)
    }
}

/// The control that says whether an answer takes the place of what is kept.
fn choice(control: &str) -> String {
    format!("use_{control}")
}

/// What is kept of a field.
fn kept(answer: Answer, goals: &GoalNotes, told: &Answers) -> String {
    match answer {
        Answer::GoalA => &goals.a,
        Answer::GoalB => &goals.b,
        Answer::GoalC => &goals.c,
        Answer::Belief => &goals.belief,
        Answer::Effort(which) => &goals.stretches[which.min(2)].effort,
        Answer::Focus(which) => &goals.stretches[which.min(2)].focus,
        Answer::Cue(which) => &goals.stretches[which.min(2)].cue,
        Answer::Worry => &told.worry,
        Answer::LastTaper => &told.last_taper,
    }
    .clone()
}

/// Where a field is kept.
fn field_of<'a>(answer: Answer, goals: &'a mut GoalNotes, told: &'a mut Answers) -> &'a mut String {
    match answer {
        Answer::GoalA => &mut goals.a,
        Answer::GoalB => &mut goals.b,
        Answer::GoalC => &mut goals.c,
        Answer::Belief => &mut goals.belief,
        Answer::Effort(which) => &mut goals.stretches[which.min(2)].effort,
        Answer::Focus(which) => &mut goals.stretches[which.min(2)].focus,
        Answer::Cue(which) => &mut goals.stretches[which.min(2)].cue,
        Answer::Worry => &mut told.worry,
        Answer::LastTaper => &mut told.last_taper,
    }
}

impl AnswersPage {
    fn new(layout: Layout, record: &BlockRecord, rows: Vec<Row>, rest: String, pasted: String) -> Self {
        Self {
            layout: layout.at(Area::Athletes),
            id: record.id,
            name: record.athlete.draft.athlete.name.clone(),
            race: lines::race_name(&record.race.race),
            version: record.version.to_string(),
            is_guessed: false,
            is_stale: false,
            rows,
            rest,
            pasted,
            problems: Problems::default(),
        }
    }

    /// What a text says, beside what is kept.
    fn of_text(layout: Layout, record: &BlockRecord, told: &Answers, text: &str) -> Self {
        let (_, sent) = questions::sheet(record);
        let reading = read_answers(text, &sent);
        let rows = FIELDS.into_iter().map(|(answer, control)| {
            let said = one_line(&reading.answer(answer));
            let kept = kept(answer, &record.goals, told);
            Row { takes: kept.is_empty(), ..Row::new(answer, control, kept, said) }
        });
        let rows = rows.filter(|row| !row.answer.is_empty()).collect();
        let unplaced = many_lines(&reading.unplaced());
        let rest = if told.rest.contains(&unplaced) {
            told.rest.clone()
        } else {
            many_lines(&format!("{}\n{unplaced}", told.rest))
        };
        Self { is_guessed: reading.is_guessed, ..Self::new(layout, record, rows, rest, text.to_owned()) }
    }

    /// The form as it came back.
    fn of_form(layout: Layout, record: &BlockRecord, told: &Answers, typed: &Typed) -> Self {
        let rows = FIELDS.into_iter().filter_map(|(answer, control)| {
            let said = typed.get(control)?.to_owned();
            let takes = typed.takes(control);
            Some(Row { takes, ..Row::new(answer, control, kept(answer, &record.goals, told), said) })
        });
        let (rest, pasted) = (typed.text("rest").to_owned(), typed.text("pasted").to_owned());
        Self::new(layout, record, rows.collect(), rest, pasted)
    }
}

impl Row {
    fn new(answer: Answer, control: &'static str, kept: String, said: String) -> Self {
        let is_long = matches!(answer, Answer::Worry | Answer::LastTaper | Answer::Belief);
        Self { control, label: words::answer(answer), kept, answer: said, takes: true, is_long }
    }
}

impl Page for AnswersPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        use super::sample;
        let record = sample::handed_over(&sample::ten_k());
        let text = "Hello <b>!\n1. sub 43\n5. easy; <i>hips</i>; calm\n8. the hill";
        let page = Self::of_text(Layout::plain(), &record, &sample::answers(), text);
        let mut problems = Problems::default();
        problems.add("a", "Goal A has 300 characters; up to 200 fit on the sheet.");
        let refused =
            Self { problems, is_stale: true, ..Self::of_text(Layout::plain(), &record, &sample::answers(), text) };
        let nothing = Self::of_text(Layout::plain(), &record, &Answers::default(), "thanks <b>");
        let guessed = Self::of_text(Layout::plain(), &record, &Answers::default(), "sub 43\n44:00");
        vec![page, refused, nothing, guessed]
    }
}

/// The form as typed, by its names.
struct Typed(HashMap<String, String>);

impl Typed {
    fn get(&self, name: &str) -> Option<&str> {
        self.0.get(name).map(String::as_str)
    }

    fn text(&self, name: &str) -> &str {
        self.get(name).unwrap_or_default()
    }

    /// Where nothing is kept there is nothing to choose: the answer is taken.
    fn takes(&self, control: &str) -> bool {
        self.get(&choice(control)).is_none_or(|choice| choice == "take")
    }

    /// Goals and answers as the coach chose, and everything that is wrong with them.
    fn read(&self, record: &BlockRecord, told: &Answers) -> Result<(GoalNotes, Answers), Problems> {
        let mut goals = record.goals.clone();
        let mut answers =
            Answers { rest: many_lines(self.text("rest")), pasted: many_lines(self.text("pasted")), ..told.clone() };
        for (answer, control) in FIELDS {
            let Some(said) = self.get(control).filter(|_| self.takes(control)) else { continue };
            let said = one_line(said);
            if !said.is_empty() {
                *field_of(answer, &mut goals, &mut answers) = said;
            }
        }
        let mut problems = Problems::default();
        problems.check_length("worry", "One worry", &answers.worry, TOLD_MOST);
        problems.check_length("last_taper", "Last taper", &answers.last_taper, TOLD_MOST);
        problems.check_length("rest", "Other lines", &answers.rest, TOLD_MOST);
        let goals = goals::check(&goals, record.race.race.distance.distance()).unwrap_or_else(|found| {
            for problem in found.all() {
                problems.add(problem.field.clone(), problem.sentence.clone());
            }
            goals
        });
        if problems.is_empty() { Ok((goals, answers)) } else { Err(problems) }
    }
}

/// `POST /blocks/{block}/answers`: reads what was pasted and shows it; saves it when the coach says so.
pub(crate) async fn post(
    State(state): State<AppState>,
    Id(id): Id<BlockId>,
    layout: Layout,
    Form(fields): Form<Vec<(String, String)>>,
) -> Result<Response, AppError> {
    let typed = Typed(fields.into_iter().collect());
    let record = state.store.block(id).await?.ok_or(AppError::NotFound)?;
    let told = state.store.answers(id).await?;
    if typed.text("do") != "save" {
        let pasted = typed.text("pasted");
        let mut problems = Problems::default();
        problems.check_length("pasted", "What came back", &pasted.replace("\r\n", "\n"), PASTED_MOST);
        if problems.is_empty() {
            return render::page(StatusCode::OK, &AnswersPage::of_text(layout, &record, &told, pasted));
        }
        let page = QuestionsPage::refused(layout, &record, told, pasted.to_owned(), problems);
        return render::page(StatusCode::UNPROCESSABLE_ENTITY, &page);
    }
    let (goals, answers) = match typed.read(&record, &told) {
        Ok(read) => read,
        Err(problems) => {
            let page = AnswersPage { problems, ..AnswersPage::of_form(layout, &record, &told, &typed) };
            return render::page(StatusCode::UNPROCESSABLE_ENTITY, &page);
        }
    };
    let read_at = read_version(typed.text("version"));
    match state.store.save_answers(id, read_at, &goals, &answers, state.clock.now()).await {
        Ok(()) => Ok(notice::redirect(&paths::block_goals(id), Notice::AnswersSaved)),
        Err(StoreError::Conflict) => {
            let page = AnswersPage { is_stale: true, ..AnswersPage::of_form(layout, &record, &told, &typed) };
            render::page(StatusCode::CONFLICT, &page)
        }
        Err(error) => Err(error.into()),
    }
}
