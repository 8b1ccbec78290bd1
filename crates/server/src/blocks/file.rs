//! The file: one page that stands alone, to be sent by any messenger and opened from a phone's disk.

use askama::Template;
use axum::body::Body;
use axum::extract::State;
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use chrono::NaiveDate;
use planning::plain::joined;
use store::{BlockId, BlockRecord, SharedBlock};

use super::hand_over::proposed;
use super::lines;
use super::picture::Picture;
use super::sheet::Sheet;
use super::view::Reader;
use super::withheld::Withheld;
use crate::assets;
use crate::clock::Clock;
use crate::error::AppError;
use crate::extract::Id;
use crate::race_day::{Ground, Opened, RaceDay};
use crate::render::Page;
use crate::state::AppState;

/// The styles that go into the file, in the order in which pages link them.
const STYLES: [&str; 4] = ["css/tokens.css", "css/base.css", "css/ebb.css", "css/athlete.css"];

/// Those that a race sheet needs beside them.
const RACE_DAY_STYLES: [&str; 2] = ["css/race_shown.css", "css/profile.css"];

/// The longest part of a file's name that one name makes, in letters.
const NAME_MOST: usize = 40;

/// A page with its styles and its picture inside, no script and no outside address.
#[derive(Template)]
#[template(path = "blocks/file.html")]
pub(crate) struct FilePage {
    sheet: Sheet,
    picture: Picture,
    styles: String,
    /// The name of the calendar file beside it, where it is published with one.
    calendar: Option<String>,
}

impl FilePage {
    fn new(sheet: Sheet, picture: Picture) -> Self {
        // The files are our own and embedded; none of them can end the style element.
        let race_day = sheet.race_day.as_ref().map_or(&[][..], |_| &RACE_DAY_STYLES);
        let styles = STYLES.iter().chain(race_day).filter_map(|file| assets::text(file)).collect();
        Self { sheet, picture, styles, calendar: None }
    }

    /// The file as the athletes' door would show the block, with a calendar file beside it.
    pub(crate) fn of_shared(shared: &SharedBlock, calendar: String, clock: Clock) -> Self {
        let reader = Reader { units: shared.units, today: None, pace: shared.block.pace };
        let sheet = Sheet::of_shared(shared, reader, clock);
        let picture = sheet.picture(&shared.block, reader);
        Self { calendar: Some(calendar), ..Self::new(sheet, picture) }
    }
}

impl Page for FilePage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        use super::sample;
        let clock = Clock::fixed("2027-05-04T08:00:00Z".parse().expect("an instant"));
        let mut records =
            [sample::ten_k(), sample::marathon(), sample::timed_half()].map(|kept| sample::handed_over(&kept)).to_vec();
        records.push(sample::called_off(&sample::ten_k()));
        records
            .into_iter()
            .map(|record| {
                let reader = Reader { units: record.athlete.draft.athlete.units, today: None, pace: None };
                let sheet = Sheet::of_record(&record, "Rui", reader, clock);
                let picture = sheet.picture(&record.block, reader);
                Self::new(sheet, picture)
            })
            .collect()
    }
}

/// `GET /blocks/{block}/file`
pub(crate) async fn get(State(state): State<AppState>, Id(id): Id<BlockId>) -> Result<Response, AppError> {
    let opened = Opened::read(&state, id).await?;
    if let Some(back) = Withheld::sent_back(opened.ground().record, state.clock.today()) {
        return Ok(back);
    }
    let (name, text) = of_block(opened.ground(), &opened.coach.coach_name, state.clock)?;
    Ok(download(&name, "text/html; charset=utf-8", text))
}

/// The name and the text of a block's file.
pub(crate) fn of_block(ground: Ground<'_>, coach: &str, clock: Clock) -> Result<(String, String), AppError> {
    let record = ground.record;
    let reader = Reader::athlete_of(record);
    let shows = proposed(record);
    let race_day = RaceDay::showing(ground, shows);
    let sheet = Sheet::of_record(record, coach, reader, clock)
        .with_race_day(Some(race_day).filter(|day| shows.race_day && !day.is_empty()));
    let name = block_file_name(record, "html");
    let picture = sheet.picture(&record.block, reader);
    Ok((name, FilePage::new(sheet, picture).render()?))
}

/// A name, or the same with a number before its ending where that is taken.
pub(crate) fn free_name(name: &str, is_taken: impl Fn(&str) -> bool) -> String {
    let (stem, kind) = name.rsplit_once('.').unwrap_or((name, ""));
    let numbered = (2_u32..).map(|number| format!("{stem}-{number}.{kind}"));
    std::iter::once(name.to_owned()).chain(numbered).find(|name| !is_taken(name)).unwrap_or_default()
}

/// A file to keep.
pub(crate) fn download(name: &str, kind: &'static str, content: impl Into<Body>) -> Response {
    let disposition = format!("attachment; filename=\"{name}\"");
    ([(CONTENT_TYPE, kind.to_owned()), (CONTENT_DISPOSITION, disposition)], content.into()).into_response()
}

/// `ana-exemplo-harbour-10-2027-05-09-v2.html`: two versions lie beside each other in a folder, and on a phone.
pub(crate) fn block_file_name(record: &BlockRecord, kind: &str) -> String {
    let (race, day) = (lines::race_name(&record.race.race), record.block.race_day.to_string());
    let version = format!("v{}", record.revision);
    file_name(&[&record.athlete.draft.athlete.name, &race, &day, &version], None, kind)
}

/// `ana-exemplo-harbour-10-2027-05-09.html`: names and a day in letters that every system and messenger takes.
pub(crate) fn file_name(names: &[&str], day: Option<NaiveDate>, kind: &str) -> String {
    let parts = names.iter().map(|name| plain_words(name)).chain(day.map(|day| day.to_string()));
    format!("{}.{kind}", joined(parts, "-"))
}

/// `o-neil-stastny`, cut where it is long; nothing where no letter is Latin.
fn plain_words(name: &str) -> String {
    let words = name.split(|c: char| !c.is_alphanumeric());
    let plain = words.map(|word| word.chars().filter_map(plain_letter).collect::<String>().to_ascii_lowercase());
    let mut name = joined(plain, "-");
    name.truncate(NAME_MOST);
    name.trim_matches('-').to_owned()
}

/// The Latin letter without its mark; nothing for letters of other scripts.
fn plain_letter(c: char) -> Option<char> {
    Some(match c.to_lowercase().next().unwrap_or(c) {
        'à'..='å' | 'ā' | 'ă' | 'ą' => 'a',
        'ç' | 'ć' | 'ĉ' | 'ċ' | 'č' => 'c',
        'ð' | 'ď' | 'đ' => 'd',
        'è'..='ë' | 'ē' | 'ĕ' | 'ė' | 'ę' | 'ě' => 'e',
        'ĝ' | 'ğ' | 'ġ' | 'ģ' => 'g',
        'ĥ' | 'ħ' => 'h',
        'ì'..='ï' | 'ĩ' | 'ī' | 'ĭ' | 'į' | 'ı' => 'i',
        'ĵ' => 'j',
        'ķ' => 'k',
        'ĺ' | 'ļ' | 'ľ' | 'ŀ' | 'ł' => 'l',
        'ñ' | 'ń' | 'ņ' | 'ň' => 'n',
        'ò'..='ö' | 'ø' | 'ō' | 'ŏ' | 'ő' => 'o',
        'ŕ' | 'ŗ' | 'ř' => 'r',
        'ś' | 'ŝ' | 'ş' | 'š' | 'ș' | 'ß' => 's',
        'ţ' | 'ť' | 'ŧ' | 'ț' => 't',
        'ù'..='ü' | 'ũ' | 'ū' | 'ŭ' | 'ů' | 'ű' | 'ų' => 'u',
        'ŵ' => 'w',
        'ý' | 'ÿ' | 'ŷ' => 'y',
        'ź' | 'ż' | 'ž' => 'z',
        plain if plain.is_ascii_alphanumeric() => plain,
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn file_names_are_plain_whatever_athlete_and_race_are_called() {
        let day = "2027-05-09".parse().ok();
        let file_name = |athlete: &str, race: &str| super::file_name(&[athlete, race], day, "html");
        for (athlete, race, expected) in [
            ("Ana Exemplo", "Harbour 10", "ana-exemplo-harbour-10-2027-05-09.html"),
            ("O'Neil-Šťastný", "Bieg \"Łódź\"", "o-neil-stastny-bieg-lodz-2027-05-09.html"),
            ("نور علي", "Harbour 10", "harbour-10-2027-05-09.html"),
            ("نور علي", "سباق", "2027-05-09.html"),
            ("../../etc \"x\"\r\n", "..", "etc-x-2027-05-09.html"),
            ("👩🏽‍🦽 Ana", "10 km", "ana-10-km-2027-05-09.html"),
        ] {
            assert_eq!(file_name(athlete, race), expected);
        }
        assert_eq!(super::file_name(&["log", "نور"], None, "csv"), "log.csv");
        let long = "ab ".repeat(60);
        assert!(file_name(&long, &long).len() < 110);
    }

    #[test]
    fn a_name_that_is_taken_gets_a_number() {
        let taken = ["a.html", "a-2.html"];
        assert_eq!(free_name("a.html", |name| taken.contains(&name)), "a-3.html");
        assert_eq!(free_name("b.html", |name| taken.contains(&name)), "b.html");
    }

    #[test]
    fn the_file_asks_for_nothing_outside_itself() {
        for page in FilePage::samples() {
            let text = page.render().expect("renders");
            for outside in ["src=", "href=\"/", "href=\"http", "url(http", "@import", "<script", "/static/"] {
                assert!(!text.contains(outside), "{outside}");
            }
            assert!(text.contains(".ebb"), "the styles are inside");
        }
    }
}
