//! A template filled in for one athlete: which days it gives, and which are the athlete's own and stay.

use planning::notation::{read_kept_day, read_week, write_day};
use planning::units::middle_km;
use planning::week::WEEKDAYS;
use planning::{Amount, Athlete, BaseWeek, DistanceUnit, Milli, Pace, Slot, Unit};
use store::{Candidate, FilledWeek, TemplateDraft, TemplateRecord, TemplateUse, WeekDraft};

/// What stands now.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Now {
    /// Nothing.
    Nothing,
    /// A week typed or brought in.
    Typed,
    /// A week that came from this template.
    This,
    /// A week that came from another one.
    Other,
}

/// One day of an athlete.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct FilledDay {
    /// The line now.
    pub(super) now: String,
    /// The line that the template gives.
    pub(super) given: String,
    /// The line as it would be.
    pub(super) line: String,
    /// Whether it was changed for the athlete since a template gave it.
    pub(super) is_own: bool,
}

/// A template filled in.
#[derive(Clone, Debug)]
pub(super) struct Filling {
    pub(super) now: Now,
    pub(super) days: [FilledDay; 7],
    /// The week as it would be.
    pub(super) week: BaseWeek,
    used: TemplateUse,
    draft: WeekDraft,
    /// Whether the lines stay as they are, and whether there is nothing to keep at all.
    pub(super) stays: bool,
    is_done: bool,
}

/// Fills a template in; `takes` says of which own days the template's are taken after all. Nothing where
/// the template or the week that would come out cannot be read.
pub(super) fn fill(
    template: &TemplateRecord,
    amount: Amount,
    one: &Candidate,
    takes: impl Fn(usize) -> bool,
) -> Option<Filling> {
    let athlete = &one.athlete.draft.athlete;
    let given = given(&template.draft, amount, athlete)?;
    let now = now(one, template);
    let from = one.from.as_ref().map(|(used, _)| used);
    let before = from.map(|used| used.given.each_ref().map(|line| read_kept_day(line, used.units).ok()));
    let days = std::array::from_fn(|at| {
        let (kept, slots) = (&one.week.lines[at], one.week.week.day(WEEKDAYS[at]));
        let is_own = before.as_ref().is_some_and(|before| before[at].as_deref() != Some(slots));
        let reads_same = read_kept_day(&given[at], athlete.units).is_ok_and(|given: Vec<Slot>| given == slots);
        let stays = from.is_some() && (reads_same || is_own && !takes(at));
        let line = if stays { kept.clone() } else { given[at].clone() };
        FilledDay { now: kept.clone(), given: given[at].clone(), line, is_own: is_own && !reads_same }
    });
    let lines = days.each_ref().map(|day: &FilledDay| day.line.clone());
    let draft = match now {
        Now::Nothing | Now::Typed => WeekDraft::of(lines),
        // What is told of the week as a whole is the athlete's own too.
        Now::This | Now::Other => {
            WeekDraft { lines, range: one.week.range.clone(), second: one.week.second.clone(), since: one.week.since }
        }
    };
    let week = read_week(&draft.lines.each_ref().map(String::as_str), &draft.range, athlete.units).ok()?;
    let used = TemplateUse {
        template: template.id,
        version: template.version,
        amount: Amount::exact(amount.middle(), amount.unit()),
        given,
        units: athlete.units,
    };
    let stays = from.is_some() && draft.lines == one.week.lines;
    let is_done = stays && from == Some(&used);
    Some(Filling { now, days, week, used, draft, stays, is_done })
}

impl Filling {
    /// What is to be kept; nothing where everything is as it was.
    pub(super) fn kept(&self, one: &Candidate) -> Option<FilledWeek> {
        (!self.is_done).then(|| FilledWeek {
            athlete: one.athlete.id,
            read_at: one.week.version,
            week: (!self.stays).then(|| self.draft.clone()),
            from: self.used.clone(),
        })
    }
}

/// What stands now for an athlete.
pub(super) fn now(one: &Candidate, template: &TemplateRecord) -> Now {
    match &one.from {
        Some((used, _)) if used.template == template.id => Now::This,
        Some(_) => Now::Other,
        None if one.week.week.running().is_empty() => Now::Nothing,
        None => Now::Typed,
    }
}

/// The amount that stands for an athlete: what this template was filled in for, else the middle of the week
/// as it is; nothing where there is no week.
pub(super) fn usual_amount(one: &Candidate, template: &TemplateRecord) -> Option<Amount> {
    if let Some((used, _)) = one.from.as_ref().filter(|(used, _)| used.template == template.id) {
        return Some(used.amount);
    }
    let Athlete { units, easy_pace, .. } = &one.athlete.draft.athlete;
    let running = one.week.week.running();
    if running.single_unit() == Some(Unit::Min) {
        return Some(Amount::exact(running.of(Unit::Min).middle(), Unit::Min))
            .filter(|total| total.middle() > Milli::ZERO);
    }
    let pace = easy_pace.unwrap_or(Pace::ASSUMED);
    let km = running.middle_km(pace);
    let one_unit = middle_km(Amount::exact(Milli::whole(1), units.unit()), pace);
    (km > 0.0).then(|| Amount::exact(Milli::nearest((km / one_unit * 10.0).round() / 10.0), units.unit()))
}

/// The lines that a template gives an athlete.
fn given(draft: &TemplateDraft, amount: Amount, athlete: &Athlete) -> Option<[String; 7]> {
    let (week, units) = read_for(draft, athlete.units)?;
    let told = planning::fit::told_in(&week, athlete.units);
    let scaled = planning::fit::scaled_to(&told, amount, athlete.easy_pace);
    Some(std::array::from_fn(|at| {
        let slots = scaled.day(WEEKDAYS[at]);
        match slots {
            [] => String::new(),
            _ if slots == week.day(WEEKDAYS[at]) && units == athlete.units => draft.lines[at].clone(),
            _ => write_day(slots),
        }
    }))
}

/// The week of a template for an athlete, and the units in which its numbers were read: the athlete's own
/// where no line says units itself, so that a week of eights stays one.
fn read_for(draft: &TemplateDraft, units: DistanceUnit) -> Option<(BaseWeek, DistanceUnit)> {
    let texts = draft.lines.each_ref().map(String::as_str);
    let week = read_week(&texts, "", draft.units).ok()?;
    if units != draft.units
        && week.running().single_unit() == Some(draft.units.unit())
        && let Ok(other) = read_week(&texts, "", units)
        && other.running().single_unit() == Some(units.unit())
    {
        return Some((other, units));
    }
    Some((week, draft.units))
}

#[cfg(test)]
mod tests {
    use planning::Unit;
    use proptest::prelude::*;
    use store::{AthleteDraft, AthleteId, AthleteRecord, TemplateId, Version, WeekRecord};

    use super::*;

    fn template(lines: [&str; 7], version: i64) -> TemplateRecord {
        let draft = TemplateDraft {
            name: "Five days".to_owned(),
            units: DistanceUnit::Km,
            lines: lines.map(str::to_owned),
            notes: String::new(),
        };
        TemplateRecord { id: TemplateId(1), version: Version(version), draft, athletes: 0, older: 0 }
    }

    const LINES: [&str; 7] =
        ["", "6 x 800 m 10k pace, 10", "7-9", "tempo 9, hard 4", "strength 30", "6 + 4", "long 16"];

    fn km(amount: i32) -> Amount {
        Amount::exact(Milli::whole(amount), Unit::Km)
    }

    fn week(lines: &[String; 7], units: DistanceUnit, version: i64) -> WeekRecord {
        WeekRecord {
            version: Version(version),
            units,
            week: read_week(&lines.each_ref().map(String::as_str), "", units).unwrap(),
            lines: lines.clone(),
            range: String::new(),
            second: None,
            since: None,
            saved: None,
        }
    }

    fn candidate(lines: [&str; 7], units: DistanceUnit) -> Candidate {
        let athlete = Athlete { name: "Ana".to_owned(), units, ..Athlete::default() };
        let draft = AthleteDraft { athlete, ..AthleteDraft::default() };
        Candidate {
            athlete: AthleteRecord { id: AthleteId(1), version: Version(1), draft },
            week: week(&lines.map(str::to_owned), units, 1),
            from: None,
        }
    }

    /// The athlete after a filling was kept.
    fn kept(one: &Candidate, filling: &Filling) -> Candidate {
        let lines = filling.days.each_ref().map(|day| day.line.clone());
        let units = one.athlete.draft.athlete.units;
        let from = Some((filling.used.clone(), "Five days".to_owned()));
        Candidate { week: week(&lines, units, one.week.version.0 + 1), from, ..one.clone() }
    }

    #[test]
    fn a_week_without_a_template_is_filled_in_as_a_whole() {
        let one = candidate(["8", "8", "8", "", "", "", ""], DistanceUnit::Km);
        let filling = fill(&template(LINES, 1), km(26), &one, |_| false).unwrap();
        assert_eq!(filling.now, Now::Typed);
        assert_eq!(filling.week.running().of(Unit::Km).middle(), Milli::whole(26));
        assert_eq!((filling.days[0].line.as_str(), filling.days[4].line.as_str()), ("", "strength 30"));
        assert!(filling.days.iter().all(|day| !day.is_own) && filling.kept(&one).unwrap().week.is_some());
        assert_eq!(usual_amount(&one, &template(LINES, 1)), Some(km(24)));
        let nobody = candidate([""; 7], DistanceUnit::Km);
        assert_eq!(usual_amount(&nobody, &template(LINES, 1)), None);
    }

    #[test]
    fn a_week_is_written_as_the_athlete_thinks_whatever_units_its_lines_say() {
        let one = candidate([""; 7], DistanceUnit::Mi);
        let miles = |amount| Amount::exact(Milli::whole(amount), Unit::Mi);
        let filling = fill(&template(LINES, 1), miles(26), &one, |_| false).unwrap();
        let off = filling.week.running().of(Unit::Mi).middle() - Milli::whole(26);
        assert!(off.0.abs() <= 500, "as near as half miles come, the middle of a range between them: {off:?}");
        assert_eq!(filling.days[6].line, "long 8 mi");
        let said = template(["8 km", "7", "", "", "", "", "16"], 1);
        let filling = fill(&said, miles(20), &one, |_| false).unwrap();
        assert_eq!(filling.week.running().single_unit(), Some(Unit::Mi));
        assert_eq!(filling.week.running().of(Unit::Mi).middle(), Milli::whole(20));
        let lines = filling.days.each_ref().map(|day| day.line.as_str());
        assert_eq!(lines, ["easy 5 mi", "easy 5 mi", "", "", "", "", "easy 10 mi"]);
        let mixed = template(["50 min", "6 x 800 m, 10 km", "tempo 8 km, hard 4", "", "", "", "long 16 km"], 1);
        let filling = fill(&mixed, miles(26), &one, |_| false).unwrap();
        let lines = filling.days.each_ref().map(|day| day.line.as_str());
        assert!(lines.iter().all(|line| !line.contains("km")), "{lines:?}");
        assert!(lines[1].contains(" x 800 m, ") && lines[2].contains("hard "), "{lines:?}");
    }

    #[test]
    fn an_own_day_stays_until_the_templates_is_taken() {
        let one = candidate([""; 7], DistanceUnit::Km);
        let first = fill(&template(LINES, 1), km(40), &one, |_| false).unwrap();
        let mut ana = kept(&one, &first);
        ana.week.lines[2] = "5 + gym 30".to_owned();
        ana.week = week(&ana.week.lines, DistanceUnit::Km, 3);
        let changed = template(["", "5", "9", "tempo 9, hard 4", "strength 30", "6 + 4", "long 18"], 2);
        let stays = fill(&changed, km(40), &ana, |_| false).unwrap();
        assert_eq!((stays.now, stays.days[2].is_own), (Now::This, true));
        assert_eq!((stays.days[2].line.as_str(), stays.days[1].is_own), ("5 + gym 30", false));
        assert_ne!(stays.days[1].line, ana.week.lines[1], "the others follow the template");
        let taken = fill(&changed, km(40), &ana, |day| day == 2).unwrap();
        assert_eq!(taken.days[2].line, taken.days[2].given);
        assert_eq!(usual_amount(&ana, &changed), Some(km(40)));
    }

    proptest! {
        #[test]
        fn filling_in_the_same_again_changes_nothing_and_own_days_stay(
            amount in 8_i32..150, miles in any::<bool>(), own in prop::collection::vec(prop::option::of(1_u8..30), 7)
        ) {
            let units = if miles { DistanceUnit::Mi } else { DistanceUnit::Km };
            let amount = Amount::exact(Milli::whole(amount), units.unit());
            let one = candidate([""; 7], units);
            let template = template(LINES, 1);
            let first = fill(&template, amount, &one, |_| false).unwrap();
            let mut ana = kept(&one, &first);
            let again = fill(&template, usual_amount(&ana, &template).unwrap(), &ana, |_| false).unwrap();
            prop_assert!(again.kept(&ana).is_none(), "{:?}", again.days);

            for (line, own) in ana.week.lines.iter_mut().zip(&own) {
                if let Some(own) = own {
                    *line = format!("hills {own} {}, hard 1", units.symbol());
                }
            }
            ana.week = week(&ana.week.lines, units, 3);
            let again = fill(&template, amount, &ana, |_| false).unwrap();
            prop_assert!(again.kept(&ana).is_none(), "own days stay as they are: {:?}", again.days);
            for (day, own) in again.days.iter().zip(&own) {
                prop_assert_eq!(day.is_own, own.is_some());
            }
            let taken = fill(&template, amount, &ana, |_| true).unwrap();
            let lines = |filling: &Filling| filling.days.each_ref().map(|day| day.line.clone());
            prop_assert_eq!(lines(&taken), lines(&first), "taking all of them gives the week as it was filled in");
        }
    }
}
