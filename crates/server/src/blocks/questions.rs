//! The questions at the start of a block: to send, to print, as a file, and where answers are pasted.

use askama::Template;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use formats::answers::Question;
use formats::words;
use store::{Answers, BlockId, BlockRecord, Paper};

use super::file::{download, file_name};
use super::lines;
use crate::error::AppError;
use crate::extract::Id;
use crate::form::Problems;
use crate::render::{self, Area, Layout, Page};
use crate::state::AppState;

/// The questions and what was answered.
#[derive(Template)]
#[template(path = "blocks/questions.html")]
pub(crate) struct QuestionsPage {
    layout: Layout,
    id: BlockId,
    name: String,
    race: String,
    /// Ready to paste into a message.
    text: String,
    told: Answers,
    /// What was pasted and could not be read.
    pasted: String,
    problems: Problems,
}

impl QuestionsPage {
    fn new(layout: Layout, record: &BlockRecord, told: Answers) -> Self {
        Self {
            layout: layout.at(Area::Athletes),
            id: record.id,
            name: record.athlete.draft.athlete.name.clone(),
            race: lines::race_name(&record.race.race),
            text: sheet(record).0,
            told,
            pasted: String::new(),
            problems: Problems::default(),
        }
    }

    /// The page as it comes back with a text that could not be read.
    pub(super) fn refused(
        layout: Layout,
        record: &BlockRecord,
        told: Answers,
        pasted: String,
        problems: Problems,
    ) -> Self {
        Self { pasted, problems, ..Self::new(layout, record, told) }
    }
}

/// The questions as one text, and what of it is no answer.
pub(super) fn sheet(record: &BlockRecord) -> (String, formats::answers::Sent) {
    words::question_sheet(formats::called(&record.athlete.draft.athlete.name), &lines::race_name(&record.race.race))
}

impl Page for QuestionsPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        use super::sample;
        let mut problems = Problems::default();
        problems.add("pasted", "The answers have <b>more</b> characters than can be read.");
        let record = sample::record(&sample::ten_k());
        let refused =
            Self::refused(Layout::plain(), &record, Answers::default(), "1. <b>sub 43</b>".to_owned(), problems);
        vec![
            Self::new(Layout::plain(), &sample::record(&sample::ten_k()), Answers::default()),
            Self::new(Layout::plain(), &sample::handed_over(&sample::marathon()), sample::answers()),
            refused,
        ]
    }
}

/// The questions on one side of paper, with room to write.
#[derive(Template)]
#[template(path = "blocks/questions_print.html")]
pub(crate) struct PrintPage {
    id: BlockId,
    name: String,
    race: String,
    date: String,
    questions: Vec<Asked>,
    paper: Paper,
}

/// A question and how many lines are left for its answer.
struct Asked {
    question: &'static str,
    lines: usize,
}

impl PrintPage {
    fn new(record: &BlockRecord, paper: Paper) -> Self {
        let lines = |question| match question {
            Question::GoalA | Question::GoalB | Question::GoalC => 1,
            Question::Stretch(_) => 2,
            Question::Belief | Question::Worry | Question::LastTaper => 3,
        };
        Self {
            id: record.id,
            name: record.athlete.draft.athlete.name.clone(),
            race: lines::race_name(&record.race.race),
            date: words::full_date(record.race.race.date),
            questions: Question::ALL
                .into_iter()
                .map(|one| Asked { question: words::question(one), lines: lines(one) })
                .collect(),
            paper,
        }
    }

    fn paper_style(&self) -> &'static str {
        super::sheet::paper_style(self.paper)
    }
}

impl Page for PrintPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        use super::sample;
        vec![
            Self::new(&sample::record(&sample::ten_k()), Paper::A4),
            Self::new(&sample::record(&sample::marathon()), Paper::Letter),
        ]
    }
}

/// `GET /blocks/{block}/questions`
pub(crate) async fn get(
    State(state): State<AppState>,
    Id(id): Id<BlockId>,
    layout: Layout,
) -> Result<Response, AppError> {
    let record = state.store.block(id).await?.ok_or(AppError::NotFound)?;
    let told = state.store.answers(id).await?;
    render::page(StatusCode::OK, &QuestionsPage::new(layout, &record, told))
}

/// `GET /blocks/{block}/questions/print`
pub(crate) async fn print(State(state): State<AppState>, Id(id): Id<BlockId>) -> Result<Response, AppError> {
    let record = state.store.block(id).await?.ok_or(AppError::NotFound)?;
    render::page(StatusCode::OK, &PrintPage::new(&record, state.store.settings().await?.paper))
}

/// `GET /blocks/{block}/questions/file`: text that every telephone and program can fill in.
pub(crate) async fn file(State(state): State<AppState>, Id(id): Id<BlockId>) -> Result<Response, AppError> {
    let record = state.store.block(id).await?.ok_or(AppError::NotFound)?;
    let text = sheet(&record).0.replace('\n', "\r\n");
    let names = ["questions", &record.athlete.draft.athlete.name, &lines::race_name(&record.race.race)];
    let name = file_name(&names, Some(record.race.race.date), "txt");
    Ok(download(&name, "text/plain; charset=utf-8", text))
}
