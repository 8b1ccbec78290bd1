//! The goals of one race as times on its course.

use formats::words;
use planning::pacing::{Mark, every, paper_step, usual_marks};
use planning::plain::joined;
use planning::station::Station;
use planning::{Distance, DistanceUnit, Event, GoalLetter, GoalTimes, Pacing, Profile, RaceTime, Strategy};
use store::GoalNotes;

use crate::shown::capital;

/// Goals, and for those that are times how they lie on the course.
pub(crate) struct Times {
    goals: GoalTimes,
    pacings: [Option<Pacing>; 3],
    texts: [String; 3],
}

/// A goal as the coach wrote it, with what it means.
#[derive(Clone, Debug, PartialEq, serde::Serialize, serde::Deserialize)]
pub(crate) struct GoalLine {
    /// `A`.
    pub(crate) letter: String,
    /// As written.
    pub(crate) text: String,
    /// `3:25:00, 4:52/km`; for a goal in words, that it has none.
    pub(crate) time: String,
}

/// Times at some marks, a column a goal.
pub(crate) struct SplitTable {
    pub(crate) letters: Vec<&'static str>,
    pub(crate) rows: Vec<SplitRow>,
}

/// Times at one mark.
pub(crate) struct SplitRow {
    pub(crate) mark: String,
    pub(crate) cells: Vec<SplitCell>,
}

/// One goal at one mark.
pub(crate) struct SplitCell {
    /// Since the start.
    pub(crate) elapsed: String,
    /// Since the mark before.
    pub(crate) split: String,
}

/// A row of the paper: the main goal, and from A to C around it.
#[derive(Clone, Debug, PartialEq, serde::Serialize, serde::Deserialize)]
pub(crate) struct PaperRow {
    /// `5 km`.
    pub(crate) mark: String,
    /// The main goal's time.
    pub(crate) time: String,
    /// `24:18 to 26:04`; empty where there is one goal only.
    pub(crate) corridor: String,
    /// What is there: `Mill; water, gels`. In older documents with the cut-off behind it.
    #[serde(default)]
    pub(crate) note: String,
    /// Until when it has to be reached: `6:30:00`; empty where that does not matter.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub(crate) cut_off: String,
}

impl Times {
    /// Spreads the goals that are times over a course.
    pub(crate) fn of(notes: &GoalNotes, profile: &Profile, strategy: Strategy) -> Self {
        let texts = [notes.a.clone(), notes.b.clone(), notes.c.clone()];
        let goals = GoalTimes::readable(texts.each_ref().map(String::as_str), profile.length());
        let pacings = goals.times.map(|time| time.map(|time| Pacing::new(profile, strategy, time)));
        Self { goals, pacings, texts }
    }

    /// The goals that are times.
    pub(crate) const fn goals(&self) -> &GoalTimes {
        &self.goals
    }

    /// Whether no goal is a time.
    pub(crate) fn are_none(&self) -> bool {
        self.goals.main().is_none()
    }

    /// The pacing of A, B and C, where they are times.
    pub(crate) const fn pacings(&self) -> &[Option<Pacing>; 3] {
        &self.pacings
    }

    /// The letters between which the corridor of the paper lies; empty for one goal alone.
    pub(crate) fn corridor(&self) -> String {
        let known: Vec<GoalLetter> = self.goals.known().map(|(letter, _)| letter).collect();
        match known[..] {
            [first, .., last] => format!("{} to {}", first.as_str(), last.as_str()),
            _ => String::new(),
        }
    }

    /// The pacing that paper and clock follow.
    pub(crate) fn main(&self) -> Option<(GoalLetter, &Pacing)> {
        let (letter, _) = self.goals.main()?;
        self.pacings[letter as usize].as_ref().map(|pacing| (letter, pacing))
    }

    /// The goals that are written.
    pub(crate) fn lines(&self, profile: &Profile, units: DistanceUnit) -> Vec<GoalLine> {
        let line = |letter: GoalLetter| {
            let text = &self.texts[letter as usize];
            let time = self.goals.of(letter).map_or_else(
                || "in words, so without times".to_owned(),
                |time| {
                    let pace = format!("{} on average", words::pace(time, profile.length(), units));
                    let shown = time.to_string();
                    if says(text, &shown) { pace } else { format!("{shown}, {pace}") }
                },
            );
            (!text.is_empty()).then(|| GoalLine { letter: letter.as_str().to_owned(), text: text.clone(), time })
        };
        GoalLetter::ALL.into_iter().filter_map(line).collect()
    }

    /// What is odd about the goals, a sentence each; what nobody runs as well.
    pub(crate) fn findings(&self, profile: &Profile) -> Vec<String> {
        let typed = self.texts.each_ref().map(String::as_str);
        let unread = GoalTimes::read(typed, profile.length()).err().unwrap_or_default();
        let unread = unread
            .into_iter()
            .map(|(letter, kind)| format!("Goal {} gives no times: {}.", letter.as_str(), words::problem_kind(&kind)));
        let odd = self.goals.findings(profile.length());
        let odd = odd.into_iter().map(|finding| format!("{}.", capital(&words::goal_finding(finding, &self.goals))));
        unread.chain(odd).collect()
    }

    /// Stations that a goal reaches after their cut-off, a sentence each. Cut-offs count from the start of the
    /// race, which the athlete crosses so many seconds later.
    pub(crate) fn late_at(
        &self,
        stations: &[Station],
        behind: u32,
        profile: &Profile,
        units: DistanceUnit,
    ) -> Vec<String> {
        let late = |station: &Station| {
            let (at, cut_off) = (station.at.distance(), station.cut_off?);
            let letter = GoalLetter::ALL.into_iter().zip(&self.pacings);
            let late = letter.filter_map(|(letter, pacing)| {
                let passes = RaceTime::seconds(pacing.as_ref()?.elapsed(at).as_seconds() + behind);
                (passes > cut_off).then(|| format!("goal {} passes at {passes}", letter.as_str()))
            });
            let late: Vec<String> = late.collect();
            let place = mark_name(at, profile, units);
            (!late.is_empty()).then(|| format!("After the cut-off {cut_off} at {place}: {}.", words::list(&late)))
        };
        stations.iter().filter_map(late).collect()
    }

    /// Times at the places that everybody knows.
    pub(crate) fn usual(&self, profile: &Profile, units: DistanceUnit) -> SplitTable {
        let marks = usual_marks(profile.length(), units);
        self.table(&marks.iter().map(|Mark { at, name }| (words::mark(*name), *at)).collect::<Vec<_>>())
    }

    /// Times at every kilometre or mile; in races longer than a marathon at every fifth.
    pub(crate) fn every(&self, profile: &Profile, units: DistanceUnit, event: Event) -> SplitTable {
        let step = if event == Event::Longer { 5 } else { 1 };
        let marks = every(units, step, profile.length());
        self.table(&marks.iter().map(|at| (mark_name(*at, profile, units), *at)).collect::<Vec<_>>())
    }

    /// The rows of the paper: every few kilometres, from A to C.
    pub(crate) fn paper(&self, profile: &Profile, units: DistanceUnit, event: Event) -> Vec<PaperRow> {
        let step = if event == Event::Longer { long_step(units, profile) } else { paper_step(units, profile.length()) };
        let marks = every(units, step, profile.length());
        self.rows(marks.iter().map(|at| (mark_name(*at, profile, units), *at)))
    }

    /// The rows of the paper at stations: what is there and until when, `then` what is eaten from there, the
    /// finish at the end.
    pub(crate) fn at_stations(
        &self,
        stations: &[Station],
        then: &[String],
        profile: &Profile,
        units: DistanceUnit,
    ) -> Vec<PaperRow> {
        let at = |station: &Station| station.at.distance();
        let mut rows = self.rows(stations.iter().map(|station| (mark_name(at(station), profile, units), at(station))));
        for (place, (row, station)) in rows.iter_mut().zip(stations).enumerate() {
            let then = then.get(place).cloned().unwrap_or_default();
            row.note = joined([station.name.clone(), station.what.clone(), then], "; ");
            row.cut_off = station.cut_off.map_or_else(String::new, |time| time.to_string());
        }
        if stations.last().is_none_or(|last| at(last) < profile.length()) {
            rows.extend(self.rows(std::iter::once((mark_name(profile.length(), profile, units), profile.length()))));
        }
        rows
    }

    /// Rows at given places.
    fn rows(&self, places: impl Iterator<Item = (String, Distance)>) -> Vec<PaperRow> {
        let Some((_, main)) = self.main() else { return Vec::new() };
        let known: Vec<&Pacing> = self.pacings.iter().flatten().collect();
        let row = |(mark, at): (String, Distance)| {
            let corridor = match known[..] {
                [first, .., last] => format!("{} to {}", first.elapsed(at), last.elapsed(at)),
                _ => String::new(),
            };
            PaperRow { mark, time: main.elapsed(at).to_string(), corridor, note: String::new(), cut_off: String::new() }
        };
        places.map(row).collect()
    }

    fn table(&self, marks: &[(String, Distance)]) -> SplitTable {
        let places: Vec<Distance> = marks.iter().map(|(_, at)| *at).collect();
        let columns: Vec<_> = self.pacings.iter().flatten().map(|pacing| pacing.splits(&places)).collect();
        let row = |(index, (mark, _)): (usize, &(String, Distance))| SplitRow {
            mark: mark.clone(),
            cells: columns
                .iter()
                .map(|splits| SplitCell {
                    elapsed: splits[index].elapsed.to_string(),
                    split: splits[index].split.to_string(),
                })
                .collect(),
        };
        SplitTable {
            letters: self.goals.known().map(|(letter, _)| letter.as_str()).collect(),
            rows: marks.iter().enumerate().map(row).collect(),
        }
    }
}

/// Whether a goal as typed says its time by itself: "sub 1:45" says 1:45:00, and is no less for not being repeated.
fn says(text: &str, time: &str) -> bool {
    let is_number = |c: char| c.is_ascii_digit() || c == ':';
    text.split(|c| !is_number(c)).any(|word| word == time || format!("{word}:00") == time)
}

/// Every how many units a time stands where there are no stations, so that ten rows are enough.
fn long_step(units: DistanceUnit, profile: &Profile) -> u16 {
    let rows = |step: u16| every(units, step, profile.length()).len();
    [5, 10, 20, 50].into_iter().find(|step| rows(*step) <= 10).unwrap_or(100)
}

/// The name of a place where no other is known.
pub(crate) fn mark_name(at: Distance, profile: &Profile, units: DistanceUnit) -> String {
    if at == profile.length() { "finish".to_owned() } else { words::place(at, units) }
}
