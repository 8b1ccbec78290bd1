//! A whole that holds repetitions of several lengths: "9 w/ 3-2-1 mi", "50' w/ 5-4-3-2-1'", "12 km: 3k-2k-1k @ T".
//!
//! Each is one repetition. Without a unit they may be as many kilometres or miles as minutes, and the line is offered for
//! both.

use std::borrow::Cow;

use super::amounts::RawAmount;
use super::line::apart_from_notes;
use super::sets::{TIMES, take_set_unit};
use super::text::Text;
use crate::session::{SetUnit, Sets};
use crate::units::{DistanceUnit, Milli, Unit};

/// The longest that a ladder climbs to.
///
/// # Source
///
/// Common practice, no published source.
const LONGEST: Milli = Milli::whole(30);

/// What leads from the whole to what it holds.
const LEADS: [&str; 8] = [" w/ ", " w ", " with ", " incl ", " incl. ", " including ", ": ", ", "];

/// The line with one repetition after the other; nearly every line stays as it is.
pub(super) fn spelled(line: &str) -> Cow<'_, str> {
    let told = Ladder::find(line).and_then(|ladder| Some(ladder.in_unit(ladder.unit?)));
    told.map_or(Cow::Borrowed(line), Cow::Owned)
}

/// The readings of a ladder without a unit, the likelier first.
pub(super) fn in_either_unit(line: &str, units: DistanceUnit) -> Vec<String> {
    let Some(ladder) = Ladder::find(line).filter(|ladder| ladder.unit.is_none()) else { return Vec::new() };
    let distance = if units == DistanceUnit::Km { SetUnit::Km } else { SetUnit::Mi };
    let sum: Milli = ladder.lengths.iter().copied().sum();
    let whole = RawAmount::take(&mut Text::new(ladder.whole)).ok().flatten();
    let whole = whole.and_then(|whole| whole.in_unit(units.unit()).ok());
    // "14 km: 3-8-3 MP": easily, hard, easily.
    if let ([front, work, behind], Some(whole)) = (ladder.lengths.as_slice(), whole)
        && sum == whole.high()
        && sum == whole.low()
    {
        let unit = whole.unit().symbol();
        let how = ladder.how;
        return vec![format!("{front} {unit} warm up, {work} {unit} {how}, {behind} {unit} cool down, {whole}")];
    }
    let fits = whole.is_some_and(|whole| whole.unit() != Unit::Min && sum < whole.high());
    let all = [fits.then_some(distance), Some(SetUnit::Min)];
    all.into_iter().flatten().map(|unit| ladder.in_unit(unit)).collect()
}

struct Ladder<'a> {
    /// The whole and what leads to its ladder.
    front: &'a str,
    /// The amount in it.
    whole: &'a str,
    lengths: Vec<Milli>,
    unit: Option<SetUnit>,
    /// At which pace they are run, and their recovery.
    how: &'a str,
    behind: &'a str,
}

impl<'a> Ladder<'a> {
    fn find(line: &'a str) -> Option<Self> {
        let (words, _) = apart_from_notes(line);
        if words.bytes().filter(u8::is_ascii_digit).count() < 4 {
            return None;
        }
        let places = LEADS.iter().flat_map(|lead| words.match_indices(lead));
        places.into_iter().find_map(|(at, lead)| Self::at(line, at, at + lead.len()))
    }

    /// The ladder that begins here, behind its whole.
    fn at(line: &'a str, whole: usize, from: usize) -> Option<Self> {
        let starts = std::iter::once(0).chain(line[..whole].match_indices(' ').map(|(at, _)| at + 1));
        let is_amount = |at: &usize| {
            let mut text = Text::new(&line[*at..whole]);
            matches!(RawAmount::take(&mut text), Ok(Some(_))) && (text.is_done() || !text.left().contains(TIMES))
        };
        let whole = &line[starts.into_iter().find(is_amount)?..whole];
        let mut text = Text::new(&line[from..]);
        let mut lengths = Vec::new();
        let mut mark = None;
        let mut units: Vec<Option<SetUnit>> = Vec::new();
        loop {
            let number = text.take_while(|one| one.is_ascii_digit() || one == '.');
            lengths.push(number.parse::<f64>().ok().map(|number| Milli((number * 1000.0).round() as i32))?);
            let before = text;
            let unit = take_set_unit(&mut text);
            if unit.is_none() {
                text = before;
            }
            units.push(unit);
            let here = text;
            let next = text.take_any(&['-', '\u{2013}', '/', ',']);
            let goes_on = next.is_some() && mark.is_none_or(|mark| next == Some(mark));
            if !goes_on || !text.peek().is_some_and(|one| one.is_ascii_digit()) {
                text = here;
                break;
            }
            mark = next;
        }
        let unit = units.last().copied().flatten();
        let is_one_unit = units.iter().all(|one| one.is_none() || *one == unit);
        let is_ladder = (3..=Sets::MOST_IN_SESSION).contains(&lengths.len())
            && lengths.iter().all(|length| *length > Milli::ZERO && *length <= LONGEST)
            && matches!(unit, None | Some(SetUnit::Km | SetUnit::Mi | SetUnit::Min));
        let rest = &line[line.len() - text.left().len()..];
        let ends =
            rest.is_empty() || line[..line.len() - rest.len()].ends_with(' ') || rest.starts_with([',', ';', '(']);
        let until = rest.find([',', ';', '(', '+']).unwrap_or(rest.len());
        let (how, behind) = rest.split_at(until);
        (is_ladder && is_one_unit && ends).then_some(Self {
            front: &line[..from],
            whole,
            lengths,
            unit,
            how: how.trim(),
            behind,
        })
    }

    fn in_unit(&self, unit: SetUnit) -> String {
        let one = |length: &Milli| format!("1 x {length} {} {}", unit.symbol(), self.how).trim_end().to_owned();
        let all = self.lengths.iter().map(one).collect::<Vec<_>>().join(", ");
        // The whole stands in front of its parts.
        let front = self.front.trim_end().trim_end_matches(':');
        let front = if self.front.ends_with(": ") { format!("{front}, ") } else { self.front.to_owned() };
        let space = if self.behind.starts_with(['(', '+']) { " " } else { "" };
        format!("{front}{all}{space}{}", self.behind)
    }
}
