//! How the effort is spread: the form beside the times, shown at once and saved on the coach's word.

use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use axum_extra::extract::Form;
use planning::Strategy;
use serde::Deserialize;
use store::{BlockId, RaceSheet, StoreError, Version};

use super::ground::Opened;
use super::show::{ShowPage, Shown};
use crate::conflict::{ConflictPage, Row};
use crate::error::AppError;
use crate::extract::Id;
use crate::form::{Problems, read_version};
use crate::notice::{self, Notice};
use crate::paths;
use crate::render::{self, Area, Layout};
use crate::state::AppState;

/// The form as typed, in per cent.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Typed {
    pub(crate) version: String,
    pub(crate) slower_half: String,
    pub(crate) descent: String,
    pub(crate) first_easier: String,
    /// Sent by the button that shows without saving.
    pub(crate) preview: String,
}

impl Typed {
    pub(crate) fn of(strategy: Strategy, version: Version) -> Self {
        let tenths = |tenths: i16| (f64::from(tenths) / 10.0).to_string();
        Self {
            version: version.to_string(),
            slower_half: tenths(strategy.slower_half_tenths),
            descent: strategy.descent_percent.to_string(),
            first_easier: tenths(i16::from(strategy.first_easier_tenths)),
            preview: String::new(),
        }
    }

    /// Whether the page is asked to show these without saving them.
    pub(crate) fn is_preview(&self) -> bool {
        !self.preview.is_empty()
    }

    /// Reads the form: every problem at its control. An empty field takes the usual.
    pub(crate) fn to_strategy(&self) -> Result<Strategy, Problems> {
        let usual = Strategy::default();
        let mut problems = Problems::default();
        let mut tenths = |control: &str, label: &str, text: &str, (from, to): (f64, f64), usual: f64| {
            let read = tenths_of_percent(text, (from, to), usual);
            read.unwrap_or_else(|what| {
                problems.add(control, format!("{label}: {what}"));
                usual * 10.0
            })
        };
        let half = tenths(
            "slower_half",
            "Second half slower",
            &self.slower_half,
            (-10.0, 10.0),
            f64::from(usual.slower_half_tenths) / 10.0,
        );
        let first = tenths("first_easier", "Start easier", &self.first_easier, (0.0, 10.0), 0.0);
        let descent =
            tenths("descent", "Descents", &self.descent, (0.0, 100.0), f64::from(usual.descent_percent)) / 10.0;
        let strategy = Strategy {
            slower_half_tenths: half as i16,
            descent_percent: descent.round() as u8,
            first_easier_tenths: first as u8,
        };
        problems.sort_by_controls(&["slower_half", "first_easier", "descent"]);
        if problems.is_empty() { Ok(strategy) } else { Err(problems) }
    }
}

/// Tenths of a per cent as typed: with a comma or a point, a sign, and with or without the sign for per cent.
fn tenths_of_percent(text: &str, (from, to): (f64, f64), usual: f64) -> Result<f64, String> {
    let typed = text.trim();
    let plain = typed.trim_end_matches('%').trim().replace(',', ".").replace('\u{2212}', "-");
    if plain.is_empty() {
        return Ok((usual * 10.0).round());
    }
    let is_plain = plain.chars().all(|letter| letter.is_ascii_digit() || ".-+".contains(letter));
    match plain.parse::<f64>() {
        Ok(number) if is_plain && (from..=to).contains(&number) => Ok((number * 10.0).round()),
        Ok(number) if is_plain && number.is_finite() => {
            Err(format!("{typed} is outside what is possible; between {from} and {to}."))
        }
        _ => Err(format!(
            "\u{201c}{}\u{201d} is not a number; write per cent such as 1.5.",
            formats::words::quote(typed)
        )),
    }
}

/// `POST /blocks/{block}/race-day/pacing`
pub(crate) async fn post(
    State(state): State<AppState>,
    Id(id): Id<BlockId>,
    layout: Layout,
    Form(typed): Form<Typed>,
) -> Result<Response, AppError> {
    let opened = Opened::read(&state, id).await?;
    let strategy = match typed.to_strategy() {
        Ok(strategy) => strategy,
        Err(problems) => {
            let page = ShowPage::new(layout, &opened, Shown { typed, problems });
            return render::page(StatusCode::UNPROCESSABLE_ENTITY, &page);
        }
    };
    let sheet = RaceSheet { strategy, ..opened.record.race_sheet.clone() };
    match state.store.save_race_sheet(id, read_version(&typed.version), &sheet, state.clock.now()).await {
        Ok(()) => Ok(notice::redirect(&paths::race_day(id), Notice::RaceSheetSaved)),
        Err(StoreError::Conflict) => conflict(layout, &opened, &typed),
        Err(error) => Err(error.into()),
    }
}

fn conflict(layout: Layout, opened: &Opened, typed: &Typed) -> Result<Response, AppError> {
    let record = &opened.record;
    let kept = Typed::of(record.race_sheet.strategy, record.version);
    let page = ConflictPage {
        layout: layout.at(Area::Athletes),
        what: format!("The race sheet of {}", record.athlete.draft.athlete.name),
        rows: vec![
            Row::new("slower_half", "Second half slower, %", &kept.slower_half, &typed.slower_half),
            Row::new("first_easier", "Start easier, %", &kept.first_easier, &typed.first_easier),
            Row::new("descent", "Descents counted, %", &kept.descent, &typed.descent),
        ],
        version: kept.version,
        action: paths::race_day_pacing(record.id),
        back: paths::race_day(record.id),
    };
    page.answer()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_strategy_survives_its_form() {
        for strategy in [
            Strategy::default(),
            Strategy { slower_half_tenths: -15, descent_percent: 0, first_easier_tenths: 25 },
            Strategy { slower_half_tenths: 100, descent_percent: 100, first_easier_tenths: 100 },
        ] {
            assert_eq!(Typed::of(strategy, Version(1)).to_strategy().expect("what is kept reads well"), strategy);
        }
        assert_eq!(Typed::default().to_strategy().expect("nothing is the usual"), Strategy::default());
    }

    #[test]
    fn per_cent_are_read_as_people_type_them_and_refused_by_field_and_value() {
        let typed = |text: &str| Typed { slower_half: text.to_owned(), ..Typed::default() };
        for text in ["-1,5", "-1.5 %", "\u{2212}1.5"] {
            assert_eq!(typed(text).to_strategy().expect("reads").slower_half_tenths, -15, "{text}");
        }
        for text in ["10.1", "1e1", "fast", "-"] {
            let problems = typed(text).to_strategy().expect_err("not a strategy");
            assert!(problems.of("slower_half")[0].contains(text), "{problems:?}");
        }
    }
}
