//! The ebb picture: days run downward to the race; each day's usual running is an outline, the
//! planned running a filled bar, both centred on one axis, so that the running visibly ebbs.
//!
//! This module turns a block into lengths and words; `templates/blocks/picture.html` draws them.
//! Everything the picture shows stands in the table beside it too.

use std::fmt;

use planning::units::middle_km;
use planning::{Amount, Block, Day, Pace, Session};

/// A length in the picture's own units, written with at most one decimal.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd, Default, serde::Serialize, serde::Deserialize)]
pub(crate) struct Length(pub(crate) f64);

impl fmt::Display for Length {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let tenths = (self.0 * 10.0).round() / 10.0;
        // No "-0": a length that rounds to nothing is nothing.
        write!(f, "{}", if tenths == 0.0 { 0.0 } else { tenths })
    }
}

impl std::ops::Add for Length {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

/// How many units of length one kilometre is wide.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Scale {
    per_km: f64,
    pace: Pace,
}

impl Scale {
    /// The scale on which the longest day of the block, usual or planned, is `width` wide.
    ///
    /// Minutes are drawn by the athlete's pace, else by [`Pace::ASSUMED`]: good enough for the
    /// length of a bar, and never printed as a distance.
    pub(crate) fn fit(block: &Block, pace: Option<Pace>, width: f64) -> Self {
        let pace = pace.unwrap_or(Pace::ASSUMED);
        let longest = block
            .days
            .iter()
            .flat_map(|day| [day.usual_running().middle_km(pace), day.planned_running().middle_km(pace)])
            .fold(0.0, f64::max);
        Self { per_km: if longest > 0.0 { width / longest } else { 0.0 }, pace }
    }

    fn width(self, amount: Amount) -> f64 {
        middle_km(amount, self.pace) * self.per_km
    }
}

/// One day's bar, centred on 0.
#[derive(Clone, Debug, PartialEq, Default)]
pub(crate) struct Bar {
    /// The outline; nothing where the weekday usually has no running, and on race day.
    pub(crate) usual: Option<Span>,
    /// The planned sessions, left to right.
    pub(crate) parts: Vec<Part>,
    /// What stands on the axis where no bar does.
    pub(crate) mark: Mark,
}

/// A stretch of the axis.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Span {
    /// Left end.
    pub(crate) x: Length,
    /// Width.
    pub(crate) width: Length,
}

impl Span {
    fn centred(middle: f64, width: f64) -> Self {
        Self { x: Length(middle - width / 2.0), width: Length(width) }
    }
}

/// One planned session of a day's bar.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Part {
    /// The whole session.
    pub(crate) all: Span,
    /// Its hard part, in the middle: warm-up and cool-down lie on either side.
    pub(crate) hard: Option<Span>,
}

/// What stands on the axis where there is no bar.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub(crate) enum Mark {
    /// Nothing: the bar says it.
    #[default]
    None,
    /// No running.
    Rest,
    /// The race.
    Race,
}

/// The gap between two sessions of one day.
const GAP: f64 = 2.0;

impl Bar {
    /// The longest bar where bars stand in a list rather than in the picture.
    pub(crate) const WIDEST: f64 = 112.0;

    /// The bar of one day.
    pub(crate) fn of(day: &Day, scale: Scale) -> Self {
        if day.to_race == 0 {
            return Self { usual: None, parts: Vec::new(), mark: Mark::Race };
        }
        let usual: f64 = day.usual.iter().filter_map(Session::running).map(|amount| scale.width(amount)).sum();
        let usual = (usual > 0.0).then(|| Span::centred(0.0, usual));
        let running: Vec<&Session> =
            day.sessions.iter().map(|planned| &planned.session).filter(|session| session.running().is_some()).collect();
        let widths: Vec<f64> =
            running.iter().filter_map(|session| session.running()).map(|amount| scale.width(amount)).collect();
        // The gap is cut out of the bars, so that two runs are as wide together as one of their sum.
        let mut left = -widths.iter().sum::<f64>() / 2.0;
        let mut parts = Vec::new();
        let last = widths.len().saturating_sub(1);
        for (index, (session, width)) in running.iter().zip(&widths).enumerate() {
            let (from, to) = (
                left + if index > 0 { GAP / 2.0 } else { 0.0 },
                left + width - if index < last { GAP / 2.0 } else { 0.0 },
            );
            let shown = (to - from).max(0.5);
            let middle = f64::midpoint(from, to);
            let hard = session.hard_part().map(|hard| Span::centred(middle, scale.width(hard).min(shown)));
            parts.push(Part { all: Span::centred(middle, shown), hard });
            left += width;
        }
        let mark = if parts.is_empty() { Mark::Rest } else { Mark::None };
        Self { usual, parts, mark }
    }
}

/// The words beside the bars, made where the reader's units are known.
pub(crate) trait Words {
    /// The date in short: `Tue 27 Apr`.
    fn date(&self, day: &Day) -> String;
    /// A line a session, strength and rest included; never empty.
    fn sessions(&self, day: &Day) -> Vec<String>;
    /// The whole day in a sentence, usual and planned.
    fn sentence(&self, day: &Day) -> String;
}

/// The whole picture.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Picture {
    /// What it shows, in a few words.
    pub(crate) title: String,
    /// The same facts in sentences: a week each.
    pub(crate) description: String,
    /// Width of the drawing; see [`Picture::WIDTH`].
    pub(crate) width: Length,
    /// Height of the drawing.
    pub(crate) height: Length,
    /// Where the axis stands.
    pub(crate) axis: Length,
    /// Where the words start.
    pub(crate) words: Length,
    /// The curve as a closed path: how much of the longest usual day would remain.
    pub(crate) curve: String,
    /// Top of the row of the day on which the block begins.
    pub(crate) begins: Option<Length>,
    /// Where the curve begins to fall, and where the axis ends: top and bottom of the axis.
    pub(crate) axis_from: Length,
    /// Bottom of the axis.
    pub(crate) axis_to: Length,
    /// The shore below the race, as an open path.
    pub(crate) shore: String,
    /// The weeks, race week last.
    pub(crate) weeks: Vec<Week>,
}

/// One week of the picture.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Week {
    /// Where its rule lies.
    pub(crate) rule: Length,
    /// Base line of its name.
    pub(crate) text: Length,
    /// Its name: `Race week`.
    pub(crate) name: String,
    /// Its sentence of totals, short enough for the picture.
    pub(crate) totals: String,
    /// Base line of the totals: that of the name, or one of their own where both are too long for one.
    pub(crate) totals_text: Length,
    /// Its days.
    pub(crate) rows: Vec<Row>,
}

/// One day of the picture.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Row {
    /// The middle of the bar.
    pub(crate) y: Length,
    /// The bar.
    pub(crate) bar: Bar,
    /// The date in words.
    pub(crate) date: String,
    /// Each line of words with its base line.
    pub(crate) lines: Vec<(Length, String)>,
    /// The day in a sentence.
    pub(crate) sentence: String,
    /// Whether it is today.
    pub(crate) today: bool,
}

/// What the picture needs beside the block.
pub(crate) struct Subject<'a> {
    /// The block.
    pub(crate) block: &'a Block,
    /// The pace by which minutes are drawn.
    pub(crate) pace: Option<Pace>,
    /// The day of today, where the picture may know it.
    pub(crate) today: Option<chrono::NaiveDate>,
    /// Title of the picture.
    pub(crate) title: String,
    /// Name and totals of each week, in the order of the block.
    pub(crate) weeks: Vec<(String, String)>,
}

impl Picture {
    /// The width of the drawing: that of a small phone, so that the words are read there at full size.
    pub(crate) const WIDTH: f64 = 360.0;
    const AXIS: f64 = 112.0;
    /// The longest bar.
    const WIDEST: f64 = 112.0;
    const WORDS: f64 = 178.0;
    const ROW: f64 = 22.0;
    const LINE: f64 = 14.0;
    const HEADING: f64 = 30.0;
    const RACE: f64 = 44.0;
    /// So many letters of a name and its totals stand beside each other: 8 wide at most, with a gap.
    const BESIDE: usize = 44;

    /// Whether it fits on the screen of a laptop, so that it may stay in sight beside the days.
    pub(crate) fn is_short(&self) -> bool {
        self.height.0 <= 640.0
    }

    /// Draws a block.
    pub(crate) fn of(subject: Subject<'_>, words: &impl Words) -> Self {
        let Subject { block, pace, today, title, weeks: names } = subject;
        let scale = Scale::fit(block, pace, Self::WIDEST);
        let mut top = 4.0;
        let mut weeks = Vec::new();
        let mut curve = Vec::new();
        let mut begins = None;
        for (days, (name, totals)) in block.told_weeks().zip(names) {
            let rule = top;
            let below = if name.chars().count() + totals.chars().count() > Self::BESIDE { Self::LINE } else { 0.0 };
            top += Self::HEADING + below;
            let mut rows = Vec::new();
            for day in days {
                if day.date == block.first_day() {
                    begins = Some(Length(top));
                }
                let lines = words.sessions(day);
                let height = if day.to_race == 0 {
                    Self::RACE
                } else {
                    Self::ROW + Self::LINE * (lines.len().saturating_sub(1)) as f64
                };
                let y = top + height / 2.0;
                let first = y + 4.0 - Self::LINE * (lines.len().saturating_sub(1)) as f64 / 2.0;
                curve.push((y, block.share(day.to_race).0 * Self::WIDEST / 2.0));
                rows.push(Row {
                    y: Length(y),
                    bar: Bar::of(day, scale),
                    date: words.date(day),
                    lines: lines
                        .into_iter()
                        .enumerate()
                        .map(|(index, line)| (Length(first + Self::LINE * index as f64), line))
                        .collect(),
                    sentence: words.sentence(day),
                    today: today == Some(day.date),
                });
                top += height;
            }
            let text = rule + 18.0;
            weeks.push(Week {
                rule: Length(rule),
                text: Length(text),
                name,
                totals,
                totals_text: Length(text + below),
                rows,
            });
            top += 6.0;
        }
        let description = weeks.iter().map(|week| format!("{}: {}.", week.name, week.totals)).collect::<Vec<_>>();
        Self {
            title,
            description: description.join(" "),
            width: Length(Self::WIDTH),
            height: Length(top + 14.0),
            axis: Length(Self::AXIS),
            words: Length(Self::WORDS),
            begins,
            axis_from: Length(curve.first().map_or(0.0, |(y, _)| *y)),
            axis_to: Length(curve.last().map_or(0.0, |(y, _)| *y)),
            curve: closed_path(&curve),
            shore: waves(top + 6.0),
            weeks,
        }
    }
}

/// A calm line of waves across the whole width.
fn waves(y: f64) -> String {
    use std::fmt::Write as _;
    const COUNT: usize = 12;
    let half = Picture::WIDTH / COUNT as f64 / 2.0;
    let mut path = format!("M0 {}q{} -3.5 {} 0", Length(y), Length(half / 2.0), Length(half));
    for _ in 1..COUNT * 2 {
        // Writing to a String cannot fail.
        let _ = write!(path, "t{} 0", Length(half));
    }
    path
}

/// A closed path down the right and up the left of the axis.
fn closed_path(points: &[(f64, f64)]) -> String {
    use std::fmt::Write as _;
    let mut path = String::new();
    let right = points.iter().map(|(y, half)| (Picture::AXIS + half, *y));
    let left = points.iter().rev().map(|(y, half)| (Picture::AXIS - half, *y));
    for (index, (x, y)) in right.chain(left).enumerate() {
        let letter = if index == 0 { 'M' } else { 'L' };
        // Writing to a String cannot fail.
        let _ = write!(path, "{letter}{} {}", Length(x), Length(y));
    }
    if !path.is_empty() {
        path.push('Z');
    }
    path
}

#[cfg(test)]
mod tests {
    use chrono::NaiveDate;
    use planning::{Kind, Milli, Planned, Role, Unit};

    use super::*;
    use crate::blocks::sample;

    fn run(kind: Kind, amount: i32, unit: Unit) -> Session {
        Session::new(kind, Amount::exact(Milli::whole(amount), unit))
    }

    fn day(to_race: u16, usual: Vec<Session>, sessions: Vec<Session>) -> Day {
        let planned = |session| Planned { session, usual: None, role: Role::Plain, why: Vec::new() };
        Day {
            date: NaiveDate::default(),
            to_race,
            pinned: false,
            usual,
            sessions: sessions.into_iter().map(planned).collect(),
            dropped: Vec::new(),
        }
    }

    /// Ten units of length for a kilometre, six minutes for a kilometre.
    const SCALE: Scale = Scale { per_km: 10.0, pace: Pace::ASSUMED };

    fn ends(span: Span) -> (f64, f64) {
        (span.x.0, span.x.0 + span.width.0)
    }

    #[test]
    fn bars_are_centred_on_the_axis_and_as_wide_as_the_running() {
        let bar = Bar::of(&day(5, vec![run(Kind::Easy, 10, Unit::Km)], vec![run(Kind::Easy, 7, Unit::Km)]), SCALE);
        assert_eq!(bar.usual.map(ends), Some((-50.0, 50.0)));
        assert_eq!(bar.parts.iter().map(|part| ends(part.all)).collect::<Vec<_>>(), [(-35.0, 35.0)]);
        assert_eq!(bar.mark, Mark::None);
    }

    #[test]
    fn two_runs_are_as_wide_together_as_one_of_their_sum() {
        let bar = Bar::of(&day(9, vec![], vec![run(Kind::Easy, 8, Unit::Km), run(Kind::Easy, 4, Unit::Km)]), SCALE);
        let parts: Vec<(f64, f64)> = bar.parts.iter().map(|part| ends(part.all)).collect();
        assert_eq!(parts, [(-60.0, 20.0 - GAP / 2.0), (20.0 + GAP / 2.0, 60.0)]);
        assert_eq!(bar.usual, None);
    }

    #[test]
    fn minutes_are_drawn_by_the_pace_beside_kilometres() {
        let bar = Bar::of(&day(9, vec![], vec![run(Kind::Easy, 60, Unit::Min)]), SCALE);
        assert_eq!(ends(bar.parts[0].all), (-50.0, 50.0));
    }

    #[test]
    fn the_hard_part_lies_in_the_middle_of_its_session_and_never_leaves_it() {
        let mut tempo = run(Kind::Tempo, 10, Unit::Km);
        tempo.hard = Some(Amount::exact(Milli::whole(4), Unit::Km));
        let bar = Bar::of(&day(9, vec![], vec![tempo.clone()]), SCALE);
        assert_eq!(bar.parts[0].hard.map(ends), Some((-20.0, 20.0)));
        tempo.hard = Some(Amount::exact(Milli::whole(10), Unit::Km));
        let bar = Bar::of(&day(9, vec![], vec![tempo, run(Kind::Easy, 5, Unit::Km)]), SCALE);
        assert_eq!(bar.parts[0].hard, Some(bar.parts[0].all));
        assert_eq!(bar.parts[1].hard, None);
    }

    #[test]
    fn rest_and_strength_are_a_small_mark_and_race_day_is_the_race() {
        let usual = vec![run(Kind::Long, 18, Unit::Km)];
        assert_eq!(Bar::of(&day(3, vec![], vec![]), SCALE).mark, Mark::Rest);
        let strength = Bar::of(&day(3, usual.clone(), vec![run(Kind::Strength, 30, Unit::Min)]), SCALE);
        assert_eq!((strength.mark, strength.parts.len()), (Mark::Rest, 0));
        assert!(strength.usual.is_some(), "what is usual stays as an outline");
        assert_eq!(Bar::of(&day(0, usual, vec![]), SCALE), Bar { mark: Mark::Race, ..Bar::default() });
    }

    #[test]
    fn the_longest_day_is_as_wide_as_it_may_be_and_no_bar_is_wider() {
        for kept in [sample::ten_k(), sample::marathon(), sample::timed_half()] {
            let block = kept.block();
            let scale = Scale::fit(&block, None, 112.0);
            let widths: Vec<f64> =
                block.days.iter().filter_map(|day| Bar::of(day, scale).usual.map(|usual| usual.width.0)).collect();
            let widest = widths.iter().copied().fold(0.0, f64::max);
            assert!((widest - 112.0).abs() < 1e-9, "{widest}");
        }
    }

    #[test]
    fn a_block_without_any_running_is_drawn_without_bars() {
        let mut block = sample::ten_k().block();
        for day in &mut block.days {
            day.usual.clear();
            day.sessions.clear();
        }
        let scale = Scale::fit(&block, None, 112.0);
        assert!(block.days.iter().all(|day| Bar::of(day, scale).parts.is_empty()));
    }

    struct OneWord;

    impl Words for OneWord {
        fn date(&self, day: &Day) -> String {
            day.date.to_string()
        }
        fn sessions(&self, day: &Day) -> Vec<String> {
            vec!["run".to_owned(); day.sessions.len().max(1)]
        }
        fn sentence(&self, day: &Day) -> String {
            day.to_race.to_string()
        }
    }

    fn picture(kept: &sample::Sample) -> Picture {
        picture_with(kept, "8 of 10 km")
    }

    fn picture_with(kept: &sample::Sample, totals: &str) -> Picture {
        let block = kept.block();
        let weeks = vec![("The week before race week".to_owned(), totals.to_owned()); block.days.len() / 7];
        let subject = Subject {
            block: &block,
            pace: None,
            today: Some(block.race_day - chrono::Days::new(5)),
            title: "Ana".to_owned(),
            weeks,
        };
        Picture::of(subject, &OneWord)
    }

    #[test]
    fn totals_too_long_to_stand_beside_the_name_stand_below_it_and_above_the_days() {
        let beside = picture(&sample::ten_k());
        assert!(beside.weeks.iter().all(|week| week.totals_text == week.text));
        let below = picture_with(&sample::ten_k(), "49 km and 45 min of 53 km and 45 min");
        for week in &below.weeks {
            assert!(week.totals_text.0 >= week.text.0 + 12.0, "a line of its own");
            assert!(week.rows[0].y.0 - 8.0 > week.totals_text.0, "the first day is below");
        }
    }

    #[test]
    fn days_run_downward_without_touching_each_other() {
        for kept in [sample::ten_k(), sample::marathon(), sample::timed_half()] {
            let picture = picture(&kept);
            let rows: Vec<&Row> = picture.weeks.iter().flat_map(|week| &week.rows).collect();
            assert!(rows.windows(2).all(|pair| pair[1].y.0 - pair[0].y.0 >= 18.0));
            assert!(rows.last().is_some_and(|row| row.bar.mark == Mark::Race && row.y < picture.height));
            assert_eq!(rows.iter().filter(|row| row.today).count(), 1);
            let lines: Vec<f64> = rows.iter().flat_map(|row| &row.lines).map(|(y, _)| y.0).collect();
            assert!(lines.windows(2).all(|pair| pair[1] - pair[0] >= 13.9), "no line of words over another");
        }
    }

    #[test]
    fn the_curve_is_a_closed_shape_that_only_gets_narrower_toward_the_race() {
        let picture = picture(&sample::marathon());
        assert!(picture.curve.starts_with('M') && picture.curve.ends_with('Z'));
        let right: Vec<f64> = picture.curve[1..picture.curve.len() - 1]
            .split('L')
            .take(28)
            .filter_map(|point| point.split(' ').next()?.parse().ok())
            .collect();
        assert_eq!(right.len(), 28);
        assert!(right.windows(2).all(|pair| pair[1] <= pair[0]), "{right:?}");
    }

    #[test]
    fn the_description_says_every_week() {
        assert_eq!(
            picture(&sample::ten_k()).description,
            "The week before race week: 8 of 10 km. The week before race week: 8 of 10 km."
        );
    }

    #[test]
    fn lengths_are_short_and_never_minus_nothing() {
        assert_eq!(Length(12.345).to_string(), "12.3");
        assert_eq!(Length(-0.01).to_string(), "0");
        assert_eq!(Length(40.0).to_string(), "40");
    }
}
