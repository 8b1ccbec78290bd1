//! One message of the squad: its words, tried out on an athlete before they are saved.

use askama::Template;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use axum_extra::extract::Form;
use formats::messages::{MessageField, message_problems};
use formats::words;
use planning::Moment;
use serde::Deserialize;
use store::{MessageText, StoreError};

use super::Trial;
use crate::conflict::{ConflictPage, Row};
use crate::error::AppError;
use crate::extract::Id;
use crate::form::{Choice, Problems, many_lines, read_version};
use crate::notice::{self, Notice};
use crate::paths;
use crate::render::{self, Area, Layout, Page};
use crate::shown;
use crate::state::AppState;

/// The longest message, in characters.
const MOST: usize = 2000;

/// The form of one message.
#[derive(Template)]
#[template(path = "messages/edit.html")]
pub(crate) struct EditPage {
    layout: Layout,
    moment: Moment,
    name: &'static str,
    typed: Typed,
    problems: Problems,
    /// Names in braces and what they say.
    fields: Vec<(&'static str, &'static str)>,
    blocks: Vec<Choice>,
    /// As the chosen athlete would read it.
    shown: Option<String>,
    is_own: bool,
    /// The squad's words that were put aside.
    aside: Option<String>,
}

/// The form as typed.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Typed {
    version: String,
    text: String,
    /// With whom it is tried out.
    block: String,
    /// `try` to look at it only.
    #[serde(rename = "do")]
    what: String,
}

impl Typed {
    /// The words to keep.
    fn read(&self) -> Result<String, Problems> {
        let text = many_lines(&self.text);
        let mut problems = Problems::default();
        if text.trim().is_empty() {
            problems.add("text", "A message needs words. To have ours, go back to them below.");
        }
        problems.check_length("text", "The message", &text, MOST);
        for problem in message_problems(&text) {
            problems.add("text", words::message_problem(&problem));
        }
        if problems.is_empty() { Ok(text) } else { Err(problems) }
    }
}

impl EditPage {
    fn new(layout: Layout, kept: &MessageText, typed: Typed, problems: Problems, trial: Trial) -> Self {
        Self {
            layout: layout.at(Area::Settings),
            moment: kept.moment,
            name: words::moment(kept.moment),
            typed: Typed { block: trial.value(), ..typed },
            problems,
            fields: MessageField::ALL.into_iter().map(|field| (field.code(), words::message_field(field))).collect(),
            blocks: trial.blocks,
            shown: None,
            is_own: kept.text.is_some(),
            aside: kept.aside.clone(),
        }
    }

    fn title(&self) -> String {
        format!("Message: {}", self.name)
    }
}

impl Page for EditPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        let kept = |text: Option<&str>, aside: Option<&str>| MessageText {
            moment: Moment::WeekOut,
            version: store::Version(2),
            text: text.map(str::to_owned),
            aside: aside.map(str::to_owned),
        };
        let trial = || Trial {
            blocks: vec![Choice::new("7", "Ana <b>, River Ten")],
            chosen: Some(crate::blocks::sample::record(&crate::blocks::sample::ten_k())),
        };
        let wrong = Typed { text: "Hello {nmae}, <b>".to_owned(), ..Typed::default() };
        let problems = wrong.read().err().unwrap_or_default();
        let ours = Typed { text: words::message(Moment::WeekOut).to_owned(), ..Typed::default() };
        vec![
            Self::new(Layout::plain(), &kept(None, None), ours.clone(), Problems::default(), trial()),
            Self::new(Layout::plain(), &kept(Some("Hi <b>"), None), wrong, problems, trial()),
            Self {
                shown: Some("Hi <b>Ana</b>".to_owned()),
                ..Self::new(
                    Layout::plain(),
                    &kept(None, Some("Hi <b>")),
                    ours,
                    Problems::default(),
                    Trial { blocks: vec![], chosen: None },
                )
            },
        ]
    }
}

async fn kept(state: &AppState, code: &str) -> Result<MessageText, AppError> {
    let moment = Moment::from_code(code).ok_or(AppError::NotFound)?;
    let mut all = state.store.message_texts().await?.into_iter();
    all.find(|kept| kept.moment == moment).ok_or(AppError::NotFound)
}

/// `GET /messages/{moment}`
pub(crate) async fn get(
    State(state): State<AppState>,
    Id(code): Id<String>,
    layout: Layout,
) -> Result<Response, AppError> {
    let kept = kept(&state, &code).await?;
    let text = kept.text.clone().unwrap_or_else(|| words::message(kept.moment).to_owned());
    let trial = Trial::read(&state, "").await?;
    let coach = state.store.settings().await?.coach_name;
    let shown = trial.fill(&state, &coach, kept.moment, &text);
    let typed = Typed { version: kept.version.to_string(), text, ..Typed::default() };
    let page = EditPage { shown, ..EditPage::new(layout, &kept, typed, Problems::default(), trial) };
    render::page(StatusCode::OK, &page)
}

/// `POST /messages/{moment}`: saves the words, or only shows them filled.
pub(crate) async fn post(
    State(state): State<AppState>,
    Id(code): Id<String>,
    layout: Layout,
    Form(typed): Form<Typed>,
) -> Result<Response, AppError> {
    let kept = kept(&state, &code).await?;
    let trial = Trial::read(&state, &typed.block).await?;
    let text = match typed.read() {
        Ok(text) => text,
        Err(problems) => {
            let page = EditPage::new(layout, &kept, typed, problems, trial);
            return render::page(StatusCode::UNPROCESSABLE_ENTITY, &page);
        }
    };
    if typed.what == "try" {
        let coach = state.store.settings().await?.coach_name;
        let shown = trial.fill(&state, &coach, kept.moment, &text);
        let page = EditPage { shown, ..EditPage::new(layout, &kept, typed, Problems::default(), trial) };
        return render::page(StatusCode::OK, &page);
    }
    let saved = state.store.save_message_text(kept.moment, read_version(&typed.version), &text, state.clock.now());
    match saved.await {
        Ok(()) => Ok(notice::redirect(paths::MESSAGES, Notice::MessageSaved)),
        Err(StoreError::Conflict) => conflict(layout, &kept, &typed),
        Err(error) => Err(error.into()),
    }
}

fn conflict(layout: Layout, kept: &MessageText, typed: &Typed) -> Result<Response, AppError> {
    let text = kept.text.as_deref().unwrap_or(words::message(kept.moment));
    let page = ConflictPage {
        layout: layout.at(Area::Settings),
        what: format!("The message \u{201c}{}\u{201d}", shown::capital(words::moment(kept.moment))),
        rows: vec![Row::new("text", "Message", text, &typed.text)],
        version: kept.version.to_string(),
        action: paths::message(kept.moment),
        back: paths::message(kept.moment),
    };
    page.answer()
}

/// Whose words are wanted.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Whose {
    whose: String,
}

/// `POST /messages/{moment}/words`: the program's words, or the squad's that were put aside.
pub(crate) async fn words(
    State(state): State<AppState>,
    Id(code): Id<String>,
    Form(typed): Form<Whose>,
) -> Result<Response, AppError> {
    let moment = Moment::from_code(&code).ok_or(AppError::NotFound)?;
    let now = state.clock.now();
    let notice = if typed.whose == "own" {
        state.store.take_message_again(moment, now).await?;
        Notice::MessageTakenAgain
    } else {
        state.store.put_message_aside(moment, now).await?;
        Notice::MessageOurs
    };
    Ok(notice::redirect(&paths::message(moment), notice))
}
