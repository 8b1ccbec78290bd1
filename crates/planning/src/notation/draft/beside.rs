//! What stands over or beside a run and changes nothing of its amount or its kind: it is a note without brackets.

use super::super::amounts::RawAmount;
use super::super::hardness::names_hardness;
use super::super::kinds::{WALKS, WEEKEND, take_kind};
use super::super::line::unreadable;
use super::super::read::Doubt;
use super::super::sets::starts_with_reps;
use super::super::text::Text;
use super::Draft;
use crate::plain::joined;
use crate::problem::{Expected, ProblemKind};
use crate::session::Kind;

/// What clubs call the session of an evening, in front of its repetitions.
const CLUB: [&str; 7] =
    ["club session", "track session", "club night", "main session", "session", "workout", "main set"];

/// Days of the week, in front of what is run then.
const DAYS: [&str; 18] = [
    "monday",
    "tuesday",
    "wednesday",
    "thursday",
    "friday",
    "saturday",
    "sunday",
    "mon",
    "tues",
    "tue",
    "weds",
    "wed",
    "thurs",
    "thur",
    "thu",
    "fri",
    "sat",
    "sun",
];

/// Words for where or how easily a run is run, which change nothing of its amount or its kind.
const SURROUNDINGS: [&str; 61] = [
    "club run",
    "midweek",
    "zone 1-2",
    "zone 1",
    "zone 2",
    "z1-z2",
    "z1-2",
    "z1/z2",
    "z1/2",
    "z1",
    "z2",
    "as you feel",
    "as feel",
    "nose breathing",
    "conversational pace",
    "out and back",
    "technical",
    "mountains",
    "back to back",
    "cutback",
    "cut back",
    "in the heat",
    "hilly",
    "undulating",
    "h\u{fc}gelig",
    "wellig",
    "flach",
    "rolling",
    "flat",
    "off road",
    "offroad",
    "on road",
    "roads",
    "road",
    "trails",
    "trail",
    "on grass",
    "grass",
    "sand",
    "beach",
    "forest",
    "woods",
    "towpath",
    "treadmill",
    "tm",
    "very easy",
    "very gentle",
    "very slow",
    "v easy",
    "super easy",
    "nice and easy",
    "slowly",
    "slow",
    "relaxed",
    "gentle",
    "comfortable",
    "conversational",
    "alone",
    "solo",
    "indoors",
    "outdoors",
];

impl Draft {
    /// What stands over a session: "Club session: 6 x 800 m", "Sunday: long run". It is a note.
    pub(super) fn read_heading(&mut self, text: &mut Text<'_>) {
        let start = *text;
        let mut after = *text;
        if !after.take_any_phrase(&CLUB) && !after.take_any_phrase(&DAYS) {
            return;
        }
        let heading = after.since(&start);
        after.skip_space();
        let is_marked = after.take_any(&[':', '-', '\u{2013}']).is_some();
        after.skip_space();
        let is_day = DAYS.iter().any(|day| heading.eq_ignore_ascii_case(day));
        // "Saturday 5k" may be a race of a kind, and a session without its repetitions is hard: both are asked about.
        let leads = starts_with_reps(after) || (is_day && (is_marked || take_kind(&mut { after }).is_some()));
        if leads {
            self.notes.push(heading.to_owned());
            *text = after;
        }
    }

    /// "Parkland 5k hard-ish" between warm-up and cool-down: a timed run of a weekend, hard where its words say so.
    pub(super) fn read_weekend_run(&mut self, words: &str) -> Result<bool, ProblemKind> {
        if self.doubt != Doubt::Asked || !self.parted.is_open() {
            return Ok(false);
        }
        let mut text = Text::new(words);
        let told = take_kind(&mut text).map(|(kind, _)| kind);
        let start = text;
        if !text.take_any_phrase(&WEEKEND) {
            return Ok(false);
        }
        while text.take_any_phrase(&WEEKEND) || text.take_phrase("run") {}
        let place = text.since(&start);
        let Some(amount) = RawAmount::take(&mut text).ok().flatten() else { return Ok(false) };
        let how = text.left();
        let kind = match told {
            None if how.is_empty() => return Err(unreadable(words, Expected::PartBetween)),
            None if names_hardness(how) => Kind::Tempo,
            Some(kind) if how.is_empty() || names_hardness(how) => kind,
            _ => return Ok(false),
        };
        if self.kind.is_some_and(|known| known != kind) {
            return Ok(false);
        }
        if !self.parted.put_between(amount, words) {
            return Err(unreadable(words, Expected::OneAmount));
        }
        self.kind = Some(kind);
        self.notes.push(joined([place, how], " "));
        Ok(true)
    }

    /// Where or how easily it is run: a note that needs no brackets.
    pub(super) fn read_surroundings(&mut self, text: &mut Text<'_>) -> bool {
        let here = *text;
        if !take_surroundings(text) {
            return false;
        }
        self.notes.push(text.since(&here).to_owned());
        text.take_any(&[':']);
        true
    }
}

/// Takes words for where or how easily a run is run.
pub(in super::super) fn take_surroundings(text: &mut Text<'_>) -> bool {
    text.take_any_phrase(&SURROUNDINGS) || take_light_effort(text) || take_walks(text)
}

/// "run/walk 4:1", "run/walk 4/1 min", "4:1 run/walk".
fn take_walks(text: &mut Text<'_>) -> bool {
    let take_ratio = |turns: &mut Text<'_>| {
        turns.skip_space();
        !turns.take_digits().is_empty() && turns.take_any(&[':', '/', '-']).is_some() && !turns.take_digits().is_empty()
    };
    let mut led = *text;
    if take_ratio(&mut led) && led.take_any_phrase(&WALKS) {
        *text = led;
        return true;
    }
    if !text.take_any_phrase(&WALKS) {
        return false;
    }
    let mut turns = *text;
    if take_ratio(&mut turns) {
        turns.take_any(&['\'', '\u{2019}', '\u{2032}']);
        turns.take_any_phrase(&["min", "mins"]);
        *text = turns;
    }
    true
}

/// "RPE 3", "effort 4/10": an effort that nobody calls hard.
fn take_light_effort(text: &mut Text<'_>) -> bool {
    const MOST: u8 = 5;
    let mut after = *text;
    if !after.take_any_phrase(&["rpe", "effort"]) {
        return false;
    }
    after.take_any_phrase(&["of", ":"]);
    after.skip_space();
    let mut all_light = false;
    while let Ok(effort) = after.take_digits().parse::<u8>() {
        all_light = effort <= MOST;
        if !all_light || after.take_any(&['-', '\u{2013}']).is_none() {
            break;
        }
    }
    after.take_phrase("/10");
    let ends = !after.peek().is_some_and(char::is_alphanumeric);
    if all_light && ends {
        *text = after;
    }
    all_light && ends
}
