//! How large a sheet can be set so that everything on it fits on one side of paper.
//!
//! Fonts differ from machine to machine, so heights are estimated with wide letters: a sheet may
//! leave some room at the foot, but nothing runs over to a second side.

use store::Paper;

use super::sheet::{GoalsView, Sheet, StretchView};
use super::view::{Line, Reasons, WeekView};

/// One size of a sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Size {
    /// The class that sets it; see `static/css/sheet.css`.
    pub(crate) class: &'static str,
    /// Size of the list of days, in points.
    day: f64,
    /// Line height of the list of days, in its own size.
    leading: f64,
    /// Size of goals and texts, in points.
    text: f64,
    /// Whether each change stands with its reason.
    pub(crate) reasons: Reasons,
    /// How many sides it takes.
    pub(crate) sides: Sides,
}

/// How a sheet lies on paper.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Sides {
    /// Everything on one side.
    One,
    /// The days on one, goals and texts on the other.
    Two,
    /// The days alone need more than one: weeks stay whole, and the rest follows them.
    Flows,
}

impl Sides {
    /// The class that breaks the page where it should break.
    pub(crate) const fn class(self) -> &'static str {
        match self {
            Self::One => "one-side",
            Self::Two => "two-sides",
            Self::Flows => "flows",
        }
    }
}

use Reasons::{Few, Hidden, Shown};

/// What is taken before what: reasons stay as long as they can be read, the days without one being those that say it
/// themselves; then the letters become smaller.
const SIZES: [Size; 15] = [
    SIZE_1,
    SIZE_2,
    SIZE_3,
    SIZE_4,
    SIZE_5,
    SIZE_6,
    Size { reasons: Few, ..SIZE_3 },
    Size { reasons: Few, ..SIZE_4 },
    Size { reasons: Few, ..SIZE_5 },
    Size { reasons: Few, ..SIZE_6 },
    Size { reasons: Few, ..SIZE_7 },
    Size { reasons: Hidden, ..SIZE_5 },
    Size { reasons: Hidden, ..SIZE_7 },
    Size { reasons: Hidden, ..SIZE_8 },
    Size { reasons: Hidden, ..SIZE_9 },
];

const SIZE_1: Size = Size { class: "size-1", day: 13.0, leading: 1.5, text: 11.0, reasons: Shown, sides: Sides::One };
const SIZE_2: Size = Size { class: "size-2", day: 12.0, leading: 1.4, text: 11.0, ..SIZE_1 };
const SIZE_3: Size = Size { class: "size-3", day: 11.0, leading: 1.35, text: 10.5, ..SIZE_1 };
const SIZE_4: Size = Size { class: "size-4", day: 10.5, leading: 1.3, text: 10.0, ..SIZE_1 };
const SIZE_5: Size = Size { class: "size-5", day: 10.0, leading: 1.22, text: 9.5, ..SIZE_1 };
const SIZE_6: Size = Size { class: "size-6", day: 9.5, leading: 1.2, text: 9.0, ..SIZE_1 };
const SIZE_7: Size = Size { class: "size-7", day: 9.0, leading: 1.2, text: 9.0, ..SIZE_1 };
const SIZE_8: Size = Size { class: "size-8", day: 8.5, leading: 1.18, text: 8.5, ..SIZE_1 };
const SIZE_9: Size = Size { class: "size-9", day: 8.0, leading: 1.15, text: 8.0, ..SIZE_1 };

/// Millimetres in a point: 25.4 / 72.
const POINT: f64 = 25.4 / 72.0;
/// Width of a letter in its own size: that of a wide system font.
const LETTER: f64 = 0.58;

/// What is easy to read: nothing smaller is taken where there are two sides anyway.
const READABLE: f64 = 9.0;
/// What is taken where not even the days fit on one side.
const FLOWS: Size = Size { reasons: Hidden, sides: Sides::Flows, ..SIZE_7 };

/// Whether a code to point a camera at stands at the foot.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Code {
    Shown,
    None,
}

/// Width and height of the code at the foot, with the room beside it, in millimetres.
const CODE: (f64, f64) = (26.0, 25.0);

/// The largest size at which the sheet fits on one side with reasons; else the largest at which the days do with theirs, the
/// rest on the other side: a day that differs without a word why is asked about. Only then are reasons left out, in the same
/// order.
pub(crate) fn size_for(sheet: &Sheet, paper: Paper, code: Code) -> Size {
    let (width, height) = inside(paper);
    let letters = Letters::of(sheet);
    let fits = |size: &Size| estimate(sheet, &letters, size, width, code) <= height;
    let days_fit = |size: &Size| size.day >= READABLE && head(sheet, width) + days(&letters, size, width) <= height;
    let found = |with_reasons: bool| {
        let sizes = || SIZES.iter().filter(|size| (size.reasons != Hidden) == with_reasons).copied();
        let on_two = || sizes().find(days_fit).map(|size| Size { sides: Sides::Two, ..size });
        sizes().find(fits).or_else(on_two)
    };
    found(true).or_else(|| found(false)).unwrap_or(FLOWS)
}

impl Size {
    /// Whether everything stands on one side.
    pub(crate) fn is_one_side(&self) -> bool {
        self.sides == Sides::One
    }
}

/// What the margins of `paper-*.css` leave, in millimetres.
const fn inside(paper: Paper) -> (f64, f64) {
    match paper {
        Paper::A4 => (184.0, 274.0),
        Paper::Letter => (189.0, 257.0),
    }
}

/// The height of a sheet at a size, in millimetres.
fn estimate(sheet: &Sheet, letters: &Letters, size: &Size, width: f64, code: Code) -> f64 {
    let foot = match code {
        Code::None => foot(sheet, size, width),
        Code::Shown => foot(sheet, size, width - CODE.0).max(CODE.1 + 4.0),
    };
    head(sheet, width) + days(letters, size, width) + goals(sheet, size, width) + foot
}

fn head(sheet: &Sheet, width: f64) -> f64 {
    let title = sheet.name.chars().count() + sheet.race.chars().count() + 1;
    let facts = sheet.date.len() + sheet.distance.len() + sheet.place.chars().count() + 16;
    lines(title, 19.0, width) * 19.0 * POINT * 1.2 + lines(facts, 11.5, width) * 11.5 * POINT * 1.3 + 2.5
}

/// How many letters the list of days has, counted once for all sizes.
struct Letters {
    rows: Vec<Row>,
    /// Of the title of each week.
    titles: Vec<usize>,
}

/// A row of the list of days.
struct Row {
    planned: usize,
    /// What is usual, where it stands beside.
    usual: Option<usize>,
    /// All reasons, and the few that the race coming nearer does not say.
    why: [usize; 2],
}

impl Letters {
    fn of(sheet: &Sheet) -> Self {
        let told = |line: &Line, reasons| line.told(reasons).map(|why| why.chars().count() + 1).sum();
        let row = |line: &Line| Row {
            planned: line.planned.chars().count() + line.detail.chars().count() + 2,
            usual: line.changed.then(|| line.usual.chars().count()),
            why: [told(line, Shown), told(line, Few)],
        };
        let lines = sheet.weeks.iter().flat_map(|week| &week.days).flat_map(|day| &day.lines);
        let title = |week: &WeekView| week.name.chars().count() + week.sheet.chars().count() + 1;
        Self { rows: lines.map(row).collect(), titles: sheet.weeks.iter().map(title).collect() }
    }
}

fn days(letters: &Letters, size: &Size, width: f64) -> f64 {
    let usual = USUAL;
    let planned = width - BAR - DATE * size.day * POINT - usual;
    let line_height = size.day * POINT * size.leading;
    let row = |row: &Row| {
        let left = lines(row.planned, size.day, planned) * line_height;
        let right = row.usual.map_or(0.0, |letters| lines(letters, size.day * 0.88, usual) * line_height);
        let why = match size.reasons {
            Shown => row.why[0],
            Few => row.why[1],
            Hidden => 0,
        };
        let small = (size.day * 0.8).max(LEAST_REASON);
        let below = if why == 0 { 0.0 } else { lines(why, small, planned + usual) * small * POINT * 1.25 + 0.5 };
        left.max(right) + below + 0.2
    };
    let all: f64 = letters.rows.iter().map(row).sum();
    let title = size.day.min(10.0);
    let heading = |letters: &usize| (lines(*letters, title, width) * size.leading + 0.45) * title * POINT + 0.2;
    all + letters.titles.iter().map(heading).sum::<f64>() + size.day.min(8.0) * POINT * 1.3 + 2.0
}

/// The least size of a reason, in points.
const LEAST_REASON: f64 = 8.0;
/// Width of date and days left, in the size of the list.
const DATE: f64 = 9.0;
/// Width of the bar, in millimetres.
const BAR: f64 = 33.0;
/// Width of what is usual, in millimetres.
const USUAL: f64 = 46.0;

/// Width of the names of the thirds, in millimetres.
const THIRD: f64 = 28.0;
/// Width of the cue words, in millimetres.
const CUE: f64 = 36.0;

fn goals(sheet: &Sheet, size: &Size, width: f64) -> f64 {
    let Some(GoalsView { goals, belief, stretches, hard_moment, message }) = &sheet.goals else { return 0.0 };
    let line_height = size.text * POINT * 1.3;
    let text = |count: usize| if count == 0 { 0.0 } else { lines(count, size.text, width) * line_height };
    let letters: usize = goals.iter().map(|(_, goal)| goal.chars().count() + 8).sum();
    let third = |stretch: &StretchView| {
        let wide = (width - THIRD - CUE) / 2.0 - 3.0;
        let columns = [(&stretch.effort, wide), (&stretch.focus, wide), (&stretch.cue, CUE)];
        let most = columns.map(|(words, column)| lines(words.chars().count(), size.text, column));
        most.into_iter().fold(1.0, f64::max) * line_height + 0.7
    };
    let table = if stretches.is_empty() { 0.0 } else { 6.0 + stretches.iter().map(third).sum::<f64>() };
    let said: f64 = message.iter().map(|line| text(line.chars().count().max(1))).sum();
    5.0 + text(letters) * 1.1
        + text(if belief.is_empty() { 0 } else { belief.chars().count() + 24 })
        + table
        + text(if hard_moment.is_empty() { 0 } else { hard_moment.chars().count() + 20 })
        + said
}

fn foot(sheet: &Sheet, size: &Size, width: f64) -> f64 {
    let small = 8.5_f64.min(size.text);
    let calm = lines(200, size.text, width) * size.text * POINT * 1.3;
    let cautions = lines(formats::words::CAUTION.len() + 150, small, width) * small * POINT * 1.3;
    let version = lines(90 + sheet.coach.chars().count(), small, width) * small * POINT * 1.3;
    5.0 + calm + cautions + version
}

/// How many lines a text of so many letters takes at a size in points on a width in millimetres.
fn lines(letters: usize, size: f64, width: f64) -> f64 {
    (letters as f64 * size * POINT * LETTER / width).ceil().max(1.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::blocks::sample;
    use crate::blocks::view::Reader;
    use crate::clock::Clock;

    fn sheet(kept: &sample::Sample) -> Sheet {
        let record = sample::handed_over(kept);
        let reader = Reader { units: kept.athlete.units, today: None, pace: None };
        let clock = Clock::fixed("2027-05-04T08:00:00Z".parse().expect("an instant"));
        Sheet::of_record(&record, "Rui", reader, clock)
    }

    #[test]
    fn each_size_needs_less_paper_than_the_one_before_it_that_says_as_much() {
        for kept in [sample::ten_k(), sample::marathon(), sample::timed_half()] {
            let sheet = sheet(&kept);
            for reasons in [Shown, Few, Hidden] {
                let sizes = SIZES.iter().filter(|size| size.reasons == reasons);
                let heights: Vec<f64> =
                    sizes.map(|size| estimate(&sheet, &Letters::of(&sheet), size, 184.0, Code::None)).collect();
                assert!(heights.windows(2).all(|pair| pair[1] < pair[0]), "{heights:?}");
            }
        }
    }

    #[test]
    fn reasons_stay_while_a_side_of_days_holds_them_and_those_that_tell_most_stay_longest() {
        let of = |sheet: &Sheet| size_for(sheet, Paper::A4, Code::Shown);
        assert_eq!(of(&sheet(&sample::timed_half())).reasons, Shown);
        // Four weeks of doubles leave room for the few that tell most, once the goals go on the other side; two weeks
        // without goals for all.
        let full = sheet(&sample::marathon());
        assert_eq!((of(&full).reasons, of(&full).sides), (Few, Sides::Two));
        let mut less = sheet(&sample::marathon());
        less.weeks.drain(..2);
        less.goals = None;
        assert_eq!((of(&less).reasons, of(&less).sides), (Shown, Sides::One));
        let told = |reasons| full.weeks.iter().flat_map(|week| &week.days).map(|day| day.rows(reasons)).sum::<usize>();
        assert!(told(Shown) > told(Few) && told(Few) > told(Hidden));
    }

    #[test]
    fn a_short_block_is_set_large_with_its_reasons() {
        let size = size_for(&sheet(&sample::ten_k()), Paper::A4, Code::Shown);
        assert!(size.day >= 10.0 && size.reasons == Shown, "{size:?}");
    }

    /// The sheet of a marathon, of whole weeks alone, with so many more.
    fn longer(weeks: usize) -> Sheet {
        let mut sheet = sheet(&sample::marathon());
        sheet.weeks.retain(|week| week.days.len() == 7);
        let week = sheet.weeks[0].clone();
        sheet.weeks.extend(std::iter::repeat_n(week, weeks));
        sheet
    }

    #[test]
    fn four_and_five_weeks_of_doubles_with_every_goal_break_before_the_goals_and_keep_reasons_at_a_readable_size() {
        for (more, paper) in [(0, Paper::A4), (0, Paper::Letter), (1, Paper::A4)] {
            let sheet = longer(more);
            let size = size_for(&sheet, paper, Code::Shown);
            assert!(size.sides == Sides::Two && size.day >= READABLE && size.reasons != Hidden, "{paper:?}: {size:?}");
            let (width, height) = inside(paper);
            assert!(head(&sheet, width) + days(&Letters::of(&sheet), &size, width) <= height, "{paper:?}: {size:?}");
        }
    }

    #[test]
    fn days_without_room_for_any_reason_stay_on_one_side_if_they_can() {
        let mut sheet = longer(1);
        sheet.goals = None;
        for line in sheet.weeks.iter_mut().flat_map(|week| &mut week.days).flat_map(|day| &mut day.lines) {
            line.why = vec!["a reason that takes a line".repeat(9); 2];
        }
        let size = size_for(&sheet, Paper::A4, Code::None);
        assert!(size.reasons == Hidden && size.is_one_side() && size.day >= READABLE, "{size:?}");
    }

    #[test]
    fn days_that_no_side_can_hold_flow_over_at_a_readable_size() {
        let size = size_for(&longer(9), Paper::Letter, Code::None);
        assert!(size.sides == Sides::Flows && size.day >= READABLE, "{size:?}");
    }
}
