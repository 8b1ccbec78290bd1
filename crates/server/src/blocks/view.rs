//! A block in words: weeks of days, each with what is usual, what is planned, and why. The coach's
//! page, the sheet, the file and the athlete's page all show this one view.

use chrono::NaiveDate;
use formats::words;
use planning::plain::joined;
use planning::{Block, Day, DistanceUnit, Dropped, Pace, Planned, Reason, WeekSummary};
use store::BlockRecord;

use super::lines;
use super::picture::{Bar, Picture, Scale, Subject, Words};
use crate::shown;

/// Who reads it.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Reader {
    /// The units in which amounts are shown.
    pub(crate) units: DistanceUnit,
    /// The day of today, where the page can know it.
    pub(crate) today: Option<NaiveDate>,
    /// The pace by which bars of minutes are drawn.
    pub(crate) pace: Option<Pace>,
}

impl Reader {
    /// The athlete whose block it is, in the athlete's units; a sheet does not know which day it is read on.
    pub(crate) fn athlete_of(record: &BlockRecord) -> Self {
        let athlete = &record.athlete.draft.athlete;
        Self { units: athlete.units, today: None, pace: athlete.easy_pace }
    }
}

/// One week, counted back from the race. What only some pages say of it is put into words where they do.
#[derive(Clone, Debug)]
pub(crate) struct WeekView {
    /// `Race week`, `2 weeks before race week`.
    pub(crate) name: String,
    /// The totals for the athlete; empty above a single day, and where the coach reads.
    pub(crate) sheet: String,
    pub(crate) days: Vec<DayView>,
    all: WeekSummary,
    reader: Reader,
}

impl WeekView {
    /// A week with its days from this one on, whichever week that is in.
    fn since(day: NaiveDate, all: WeekSummary, block: &Block, (reader, scale): (Reader, Scale)) -> Self {
        let from = all.from.max(day);
        let days = block.days.iter().filter(|day| (from..=all.to).contains(&day.date));
        Self {
            name: shown::capital(&words::week_name(all.before)),
            sheet: String::new(),
            days: days.map(|day| day_view(block, day, reader, scale)).collect(),
            all,
            reader,
        }
    }

    /// `3 to 9 May`.
    pub(crate) fn dates(&self) -> String {
        words::date_range(self.all.from, self.all.to)
    }

    /// The totals in a few words.
    fn brief(&self) -> String {
        lines::week_brief(&self.all, self.reader.units, self.reader.pace)
    }

    /// The totals in full, for the coach.
    pub(crate) fn sentence(&self) -> String {
        words::week(&self.all, self.reader.units, self.reader.pace)
    }
}

/// One day.
#[derive(Clone, Debug)]
#[expect(clippy::struct_excessive_bools, reason = "each is a fact of its own that the row says")]
pub(crate) struct DayView {
    /// The day itself; writes itself as `2027-05-04`.
    pub(crate) day: NaiveDate,
    /// `Tue`.
    pub(crate) weekday: &'static str,
    /// `5 days to the race`.
    pub(crate) to_race: u16,
    pub(crate) state: State,
    pub(crate) today: bool,
    pub(crate) past: bool,
    pub(crate) pinned: bool,
    /// Whether the block begins on it.
    pub(crate) begins: bool,
    /// Whether the coach can still change what is run: not race day, and nothing that is past.
    pub(crate) can_bend: bool,
    /// A line a session, at least one.
    pub(crate) lines: Vec<Line>,
    /// The bar that stands beside the day.
    pub(crate) bar: Bar,
    /// What it held before the edit that was just saved; empty where that changed nothing.
    pub(crate) was: String,
    /// What that edit did beside what it set.
    pub(crate) said: Vec<String>,
}

/// What kind of day it is, in the class and words of the row.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum State {
    /// Before the block begins, or unchanged inside it.
    Usual,
    Changed,
    Rest,
    Race,
}

/// How far a list of days says why.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Reasons {
    Shown,
    /// All but the one that most days share: the race comes nearer.
    Few,
    Hidden,
}

/// One session: what is usual, what is planned, why.
#[derive(Clone, Debug)]
pub(crate) struct Line {
    /// Empty where the session is new here.
    pub(crate) usual: String,
    pub(crate) planned: String,
    /// What is inside it, and the coach's own note; may be empty.
    pub(crate) detail: String,
    /// What is inside the usual session, where that differs; may be empty.
    pub(crate) usual_detail: String,
    /// Short sentences; empty where nothing changes.
    pub(crate) why: Vec<String>,
    /// Which of them says no more than that the race comes nearer, if one does.
    plain: Option<usize>,
    /// Whether they say no more than that the coach fixed the day.
    pub(crate) is_only_fixed: bool,
    /// Whether it differs from what is usual.
    pub(crate) changed: bool,
}

impl Line {
    /// The reasons that a list tells.
    pub(crate) fn told(&self, reasons: Reasons) -> impl Iterator<Item = &str> {
        let is_told = move |place: usize| match reasons {
            Reasons::Shown => true,
            Reasons::Few => Some(place) != self.plain,
            Reasons::Hidden => false,
        };
        let told = self.why.iter().enumerate().filter(move |(place, _)| is_told(*place));
        told.map(|(_, why)| why.as_str())
    }

    /// Whether a list tells any.
    pub(crate) fn tells(&self, reasons: Reasons) -> bool {
        self.told(reasons).next().is_some()
    }

    /// Whether nothing is done: rest, or a session left out.
    pub(crate) fn is_off(&self) -> bool {
        self.planned == lines::REST || self.planned == lines::LEFT_OUT
    }
}

impl DayView {
    /// `4 May`, the month in three letters.
    pub(crate) fn date_short(&self) -> String {
        lines::day_month_short(self.day)
    }

    /// `Tuesday 4 May`.
    pub(crate) fn long_date(&self) -> String {
        words::long_date(self.day)
    }

    /// Leaves out that the coach fixed the day where nothing else is said: it is the coach's business, and on a sheet it
    /// would stand beside every day that was changed by hand.
    pub(crate) fn forget_fixing(&mut self) {
        for line in self.lines.iter_mut().filter(|line| line.is_only_fixed) {
            line.why.clear();
        }
    }

    /// Takes lines that only say "left out" into the line above: what is not run needs no line of
    /// its own on a sheet.
    pub(crate) fn fold_left_out(&mut self) {
        let mut kept: Vec<Line> = Vec::new();
        for line in self.lines.drain(..) {
            match kept.last_mut() {
                Some(above) if line.planned == lines::LEFT_OUT => {
                    above.usual = joined([&above.usual, &line.usual], " + ");
                    above.changed = true;
                    above.why.extend(line.why.into_iter().filter(|why| !above.why.contains(why)).collect::<Vec<_>>());
                }
                _ => kept.push(line),
            }
        }
        self.lines = kept;
    }

    /// How many rows the day takes in a table, where each reason may have a row of its own.
    pub(crate) fn rows(&self, reasons: Reasons) -> usize {
        self.lines.len() + self.lines.iter().filter(|line| line.tells(reasons)).count()
    }

    /// The class of the row.
    pub(crate) const fn class(&self) -> &'static str {
        match self.state {
            State::Usual => "is-usual",
            State::Changed => "is-changed",
            State::Rest => "is-rest",
            State::Race => "is-race",
        }
    }
}

/// Takes away every way to change a day: the weeks show a block that is not the kept one.
pub(crate) fn make_read_only(weeks: &mut [WeekView]) {
    for day in weeks.iter_mut().flat_map(|week| &mut week.days) {
        day.can_bend = false;
    }
}

/// The weeks of a block in words.
pub(crate) fn weeks(block: &Block, reader: Reader) -> Vec<WeekView> {
    let scale = Scale::fit(block, reader.pace, Bar::WIDEST);
    let weeks = block.weeks().into_iter();
    let whole = |week: WeekSummary| WeekView::since(week.from, week, block, (reader, scale));
    weeks.map(whole).collect()
}

/// The weeks from this day on as the athlete is told of them: a total stands above the days that it sums.
pub(crate) fn weeks_from(block: &Block, from: NaiveDate, reader: Reader) -> Vec<WeekView> {
    let (scale, units, pace) = (Scale::fit(block, reader.pace, Bar::WIDEST), reader.units, reader.pace);
    let told = block.weeks().into_iter().filter(|week| week.to >= from).map(|week| {
        let sheet = if from > week.from {
            lines::end_of_week_for_athlete(block, (from, week.to), units, pace)
        } else {
            lines::week_for_athlete(&week, units, pace)
        };
        WeekView { sheet, ..WeekView::since(from, week, block, (reader, scale)) }
    });
    told.collect()
}

fn day_view(block: &Block, day: &Day, reader: Reader, scale: Scale) -> DayView {
    let lines = day_lines(block, day, reader.units);
    let past = reader.today.is_some_and(|today| day.date < today);
    let state = if day.to_race == 0 {
        State::Race
    } else if day.is_rest() {
        State::Rest
    } else if lines.iter().any(|line| line.changed) {
        State::Changed
    } else {
        State::Usual
    };
    DayView {
        day: day.date,
        weekday: words::weekday_short(day.weekday()),
        to_race: day.to_race,
        state,
        today: reader.today == Some(day.date),
        past,
        pinned: day.pinned,
        begins: day.date == block.first_day(),
        can_bend: day.to_race > 0 && !past,
        lines,
        bar: Bar::of(day, scale),
        was: String::new(),
        said: Vec::new(),
    }
}

/// The lines of one day: sessions in their order, then what is left out, rest in words.
fn day_lines(block: &Block, day: &Day, units: DistanceUnit) -> Vec<Line> {
    let mut found = Vec::new();
    if day.to_race == 0 {
        found.push(Line {
            usual: day.usual.iter().map(|session| lines::session(session, units)).collect::<Vec<_>>().join(" + "),
            planned: lines::race_day(&block.race),
            detail: String::new(),
            usual_detail: String::new(),
            why: Vec::new(),
            plain: None,
            is_only_fixed: false,
            changed: true,
        });
        return found;
    }
    found.extend(day.sessions.iter().map(|planned| planned_line(planned, units)));
    for dropped in &day.dropped {
        // A day is rest once, however many sessions it usually has.
        let nothing_yet = found.is_empty();
        found.push(dropped_line(dropped, units, nothing_yet));
    }
    say_each_reason_once(&mut found);
    if found.is_empty() {
        found.push(Line {
            usual: lines::REST.to_owned(),
            planned: lines::REST.to_owned(),
            detail: String::new(),
            usual_detail: String::new(),
            why: Vec::new(),
            plain: None,
            is_only_fixed: false,
            changed: false,
        });
    }
    found
}

/// Two runs of a day mostly change for the same reason: it stands with the first of them.
fn say_each_reason_once(lines: &mut [Line]) {
    for at in 1..lines.len() {
        let (above, below) = lines.split_at_mut(at);
        below[0].why.retain(|why| above.iter().all(|line| !line.why.contains(why)));
    }
}

fn planned_line(planned: &Planned, units: DistanceUnit) -> Line {
    Line {
        usual: planned.usual.as_ref().map_or(String::new(), |session| lines::session(session, units)),
        planned: lines::planned(planned, units),
        detail: lines::planned_detail(planned),
        usual_detail: planned.usual.as_ref().map_or(String::new(), lines::detail),
        why: planned.why.iter().map(|reason| words::reason(reason, units)).collect(),
        plain: planned.why.iter().position(|reason| matches!(reason, Reason::Ebb(_))),
        is_only_fixed: planned.why == [Reason::Pinned],
        changed: planned.usual.as_ref() != Some(&planned.session),
    }
}

fn dropped_line(dropped: &Dropped, units: DistanceUnit, nothing_yet: bool) -> Line {
    let planned = if nothing_yet { lines::REST } else { lines::LEFT_OUT };
    Line {
        usual: lines::session(&dropped.usual, units),
        planned: planned.to_owned(),
        detail: String::new(),
        usual_detail: lines::detail(&dropped.usual),
        why: dropped.why.iter().map(|reason| words::reason(reason, units)).collect(),
        plain: None,
        is_only_fixed: dropped.why == [Reason::Pinned],
        changed: true,
    }
}

/// The ebb picture of a block, in the words of its weeks.
pub(crate) fn picture(block: &Block, weeks: &[WeekView], reader: Reader, title: String) -> Picture {
    let names = weeks.iter().map(|week| (week.name.clone(), week.brief())).collect();
    Picture::of(
        Subject { block, pace: reader.pace, today: reader.today, title, weeks: names },
        &PictureWords { block, reader },
    )
}

struct PictureWords<'a> {
    block: &'a Block,
    reader: Reader,
}

impl Words for PictureWords<'_> {
    fn date(&self, day: &Day) -> String {
        lines::weekday_and_day(day.date)
    }

    fn sessions(&self, day: &Day) -> Vec<String> {
        if day.to_race == 0 {
            return vec![lines::race_day(&self.block.race)];
        }
        if day.sessions.is_empty() {
            return vec![lines::REST.to_owned()];
        }
        day.sessions.iter().map(|planned| lines::planned_brief(planned, self.reader.units)).collect()
    }

    fn sentence(&self, day: &Day) -> String {
        let found = day_lines(self.block, day, self.reader.units);
        let parts: Vec<String> = found
            .iter()
            .map(|line| {
                if line.changed && !line.usual.is_empty() && day.to_race != 0 {
                    format!("{} ({})", line.planned, lines::usually(&line.usual))
                } else {
                    line.planned.clone()
                }
            })
            .collect();
        format!("{}: {}", words::long_date(day.date), parts.join(", "))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::blocks::sample;

    fn shown(kept: &sample::Sample, units: DistanceUnit) -> Vec<WeekView> {
        weeks(&kept.block(), Reader { units, today: None, pace: None })
    }

    fn days(weeks: &[WeekView]) -> Vec<&DayView> {
        weeks.iter().flat_map(|week| &week.days).collect()
    }

    #[test]
    fn every_changed_line_has_a_reason_on_its_day_and_no_unchanged_one_has() {
        for kept in [sample::ten_k(), sample::marathon(), sample::timed_half()] {
            for day in days(&shown(&kept, kept.athlete.units)) {
                let says_why = day.lines.iter().any(|line| !line.why.is_empty());
                let is_changed = day.lines.iter().any(|line| line.changed);
                assert_eq!(says_why, is_changed && day.state != State::Race, "{day:?}");
            }
        }
    }

    #[test]
    fn that_the_coach_fixed_a_day_is_forgotten_where_nothing_else_is_said() {
        let mut block = sample::marathon().block();
        let is_run = |day: &Day| day.to_race > 0 && !day.sessions.is_empty();
        block.days.iter_mut().for_each(|day| day.dropped.clear());
        for (place, day) in block.days.iter_mut().filter(|day| is_run(day)).enumerate() {
            let why = if place == 0 { vec![Reason::Pinned, Reason::Strides] } else { vec![Reason::Pinned] };
            day.sessions.iter_mut().for_each(|planned| planned.why = why.clone());
        }
        let mut weeks = weeks(&block, Reader { units: DistanceUnit::Mi, today: None, pace: None });
        weeks.iter_mut().flat_map(|week| &mut week.days).for_each(DayView::forget_fixing);
        let said: Vec<&String> =
            days(&weeks).into_iter().flat_map(|day| &day.lines).flat_map(|line| &line.why).collect();
        let [fixed, strides] = [Reason::Pinned, Reason::Strides].map(|why| words::reason(&why, DistanceUnit::Mi));
        assert_eq!(said, [&fixed, &strides]);
    }

    #[test]
    fn a_reason_is_said_once_a_day() {
        for day in days(&shown(&sample::marathon(), DistanceUnit::Mi)) {
            let mut said: Vec<&String> = day.lines.iter().flat_map(|line| &line.why).collect();
            let count = said.len();
            said.sort();
            said.dedup();
            assert_eq!(said.len(), count, "{day:?}");
        }
    }

    #[test]
    fn left_out_runs_fold_into_the_line_above_with_what_is_usual() {
        let mut weeks = shown(&sample::marathon(), DistanceUnit::Mi);
        let day = weeks
            .iter_mut()
            .flat_map(|week| &mut week.days)
            .find(|day| day.lines.iter().any(|line| line.planned == lines::LEFT_OUT))
            .expect("a second run goes in race week");
        let before = day.lines.len();
        day.fold_left_out();
        assert_eq!(day.lines.len(), before - 1);
        assert!(day.lines.iter().all(|line| line.planned != lines::LEFT_OUT));
        assert!(day.lines[0].usual.contains(" + ") && day.lines[0].changed, "{:?}", day.lines[0]);
    }

    #[test]
    fn every_week_is_shown_whole_and_ends_on_the_races_weekday() {
        let weeks = shown(&sample::ten_k(), DistanceUnit::Km);
        assert!(weeks.iter().all(|week| week.days.len() == 7 && week.days[6].weekday == "Sun"));
        assert_eq!(weeks.last().map(|week| week.name.as_str()), Some("Race week"));
        assert_eq!(days(&weeks).last().map(|day| day.state), Some(State::Race));
    }
}
