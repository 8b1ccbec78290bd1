//! What the review says, and where each rule comes from.

use chrono::Days;
use planning::review::made_late::EASY_ONLY_DAYS;
use planning::{About, Amount, DistanceUnit, EventKind, Figure, Finding, Level, Milli, RuleId, Unit};

use super::amounts::{amount, amount_in, per_cent, tenth};
use super::dates::{days_to_race, long_date};
use super::names::kind;
use super::{plural, sentence};

/// The name of a rule for people.
pub const fn rule(rule: RuleId) -> &'static str {
    match rule {
        RuleId::CutTooSmall => "cut too small",
        RuleId::CutTooLarge => "cut too large",
        RuleId::WeekRises => "running rises toward the race",
        RuleId::IntensityLost => "hard running lost",
        RuleId::IntensityAdded => "hard running added",
        RuleId::FrequencyLost => "running days lost",
        RuleId::RestClumped => "rest days side by side",
        RuleId::NoRestPlace => "no place for the extra rest day",
        RuleId::HardTooLate => "hard session too late",
        RuleId::HardBackToBack => "hard days side by side",
        RuleId::HardTwice => "two hard sessions near the race",
        RuleId::LongRunLate => "long run too late",
        RuleId::LongRunBig => "long run too long",
        RuleId::StrengthLate => "loaded strength too late",
        RuleId::SomethingNew => "something new",
        RuleId::MadeLate => "made late",
        RuleId::LengthUnusual => "unusual length",
        RuleId::RacesClash => "races too near each other",
        RuleId::BaseTooThin => "little to taper from",
        RuleId::DistanceUntrained => "distance not trained for",
        RuleId::IllnessNearRace => "illness near the race",
        RuleId::Injury => "injury",
        RuleId::BeginsTooSoon => "the block begins too soon",
        RuleId::GoalInside => "a goal race inside the block of another",
        RuleId::FixedAgainstEvent => "a fixed day stands against it",
        RuleId::RanMore => "ran more than planned",
        RuleId::Travel => "race in another time zone",
        RuleId::PersonCaution => "caution for this athlete",
    }
}

/// What stands before the source of a finding: the name of its rule, or where fixed days make the difference, that.
pub fn heading(finding: &Finding) -> &'static str {
    match finding.rule {
        _ if is_of_fixed_days(finding) => "fixed days change the cut",
        RuleId::BeginsTooSoon if finding.figure == Figure::None => match finding.about {
            About::Event { kind: EventKind::Injury, .. } => "an injury, no end noted",
            _ => "an illness, no end noted",
        },
        other => rule(other),
    }
}

/// Whether a finding only says what fixed days leave of a week: neither too much nor too little by any published limit.
fn is_of_fixed_days(finding: &Finding) -> bool {
    matches!(finding.rule, RuleId::CutTooSmall | RuleId::CutTooLarge) && finding.level == Level::Note
}

/// A finding in one or two sentences, with its figure and the limit it was held against.
pub fn finding(finding: &Finding, units: DistanceUnit) -> String {
    let figure = figure(&finding.figure, units);
    let limit = self::figure(&finding.limit, units);
    let on = finding.date.map(|date| format!("on {}", long_date(date))).unwrap_or_default();
    let week = finding.date.map_or("a week".to_owned(), |date| format!("the week from {}", long_date(date)));
    sentence(&match finding.rule {
        RuleId::CutTooSmall | RuleId::CutTooLarge => cut(finding, &week, &figure, &limit),
        RuleId::WeekRises => match finding.figure {
            Figure::Amount(..) => format!("the session {on} is {figure}, longer than the usual {limit}"),
            _ => format!(
                "{week} keeps {figure} of the usual running after {limit} in the week before it: toward the race the \
                 running should fall"
            ),
        },
        RuleId::IntensityLost => match finding.figure {
            Figure::Share(_) if finding.limit == Figure::Share(planning::review::LEAST_HARD) => format!(
                "{week} keeps {figure} of the usual hard running, less than {limit}: easy running comes down, hard running \
                 mostly stays"
            ),
            Figure::Share(_) => format!(
                "{week} keeps {figure} of the usual hard running; a block made by the rules alone would keep {limit} here"
            ),
            _ if finding.about == About::RaceWeek => "nothing hard is left in race week".to_owned(),
            _ => "there is no hard running from six to three days before the race, though the athlete is used to some"
                .to_owned(),
        },
        RuleId::IntensityAdded => match finding.limit {
            Figure::Share(none) if none.percent() == 0 => {
                format!("{figure} of {week} is hard, though the athlete usually runs nothing hard")
            }
            _ => format!("{week} holds {figure} of the usual hard running; now is not the time to add any"),
        },
        RuleId::FrequencyLost => frequency_lost(finding, &week, &limit),
        RuleId::RestClumped => rest_clumped(finding),
        RuleId::NoRestPlace => no_rest_place(finding),
        RuleId::HardTooLate => format!(
            "a hard session {on}, {}: after {} it costs more than it can still bring",
            before(&finding.figure),
            before(&finding.limit)
        ),
        RuleId::HardBackToBack => {
            format!("hard days stand side by side from {}, which the athlete is not used to", day(finding))
        }
        RuleId::HardTwice => format!(
            "{figure} whole hard sessions from eight to four days before the race, the last {on}: one is enough, shorten or \
             ease the others"
        ),
        RuleId::LongRunLate => format!(
            "a long run {on}, {}; the last one stands {} or earlier",
            before(&finding.figure),
            before(&finding.limit)
        ),
        RuleId::LongRunBig if matches!(finding.figure, Figure::Amount(..)) => {
            format!("{figure} {on} is longer than the longest usual run, {limit}: nothing new before a race")
        }
        RuleId::LongRunBig => {
            format!("the long run {on} is {figure} of the usual one, this late at most {limit}")
        }
        RuleId::StrengthLate => format!(
            "strength with loaded legs {on}, {}; the last one stands {} or earlier",
            before(&finding.figure),
            before(&finding.limit)
        ),
        RuleId::SomethingNew => match finding.about {
            About::SecondRun => {
                format!("a second run {on}, which the athlete is not used to: nothing new before a race")
            }
            _ => format!("{} {on}, which the base week does not hold: nothing new before a race", new_kind(finding)),
        },
        RuleId::MadeLate => made_late(finding, &limit),
        RuleId::LengthUnusual => {
            let is_short =
                matches!((finding.figure, finding.limit), (Figure::Days(is), Figure::Days(limit)) if is < limit);
            let meets = if is_short { "begins" } else { "ends" };
            format!("a block of {figure}; for this event {limit} is where the usual range {meets}")
        }
        RuleId::GoalInside => goal_inside(finding, &figure),
        RuleId::RacesClash => races_clash(finding, &figure, &limit),
        RuleId::Travel => travel(finding),
        RuleId::BaseTooThin => thin(finding, &figure, &limit),
        RuleId::DistanceUntrained => format!(
            "the longest usual running is {figure}, and for this race {limit} would be the least: a taper cannot stand in \
             for training; think of a shorter race or of run and walk"
        ),
        RuleId::IllnessNearRace => illness(finding),
        RuleId::BeginsTooSoon => begins_too_soon(finding, &figure),
        RuleId::Injury => injured(finding),
        RuleId::FixedAgainstEvent => fixed(finding),
        RuleId::RanMore => format!(
            "{figure} more than planned was run in the last seven days: nothing changes by itself; at most half of it can \
             come off easy runs"
        ),
        RuleId::PersonCaution => person(finding, &figure),
    })
}

fn rest_clumped(finding: &Finding) -> String {
    let days = match finding.figure {
        Figure::Days(days) if days > 2 => format!("{days} rest days"),
        _ => "two rest days".to_owned(),
    };
    format!("{days} stand side by side from {}, which the athlete is not used to", day(finding))
}

fn no_rest_place(finding: &Finding) -> String {
    let why = match finding.date {
        Some(date) => format!("the coach fixed running on {}", long_date(date)),
        None => "none was wanted, or no easy day stands far enough from other rest".to_owned(),
    };
    format!("race week keeps {}, without an extra rest day: {why}", runs_and_race(&finding.figure))
}

/// What to do about it is said in the order of what is wanted most often.
fn goal_inside(finding: &Finding, figure: &str) -> String {
    format!(
        "{} ({}) is a goal race, too, and lies inside this block: {figure} of it would be planned twice. Make this block \
         anew with its usual length, so that it begins after that race; or, if only this race matters, enter that one as \
         a tune-up race",
        race_name(finding),
        day(finding)
    )
}

fn race_name(finding: &Finding) -> String {
    match &finding.about {
        About::Race(name) if !name.trim().is_empty() => super::quote(name),
        _ => "another race".to_owned(),
    }
}

/// What stands in short where only that the review says stop is said: `fever within a week of the race`.
pub const fn stop(rule_id: RuleId) -> &'static str {
    match rule_id {
        RuleId::IllnessNearRace => "fever within a week of the race",
        RuleId::FixedAgainstEvent => "a fixed day holds running in a fever or just after it",
        RuleId::PersonCaution => "under 18 before a race as long as a marathon",
        _ => rule(rule_id),
    }
}

fn fixed(finding: &Finding) -> String {
    let on = day(finding);
    let after = match finding.about {
        About::HardAfter(EventKind::Injury) => "an injury",
        About::HardAfter(_) => "an illness",
        About::OnTheWay => {
            return format!(
                "{on} was fixed with more on it than half an hour of easy running, and the athlete is on the way then: \
                 make it short and easy, or free the day"
            );
        }
        _ => return format!("{on} was fixed with running on it, and the athlete is ill or injured then: free the day"),
    };
    format!(
        "{on} was fixed with hard running on it, and after {after} the days then are easy: make it easy, or free the day"
    )
}

fn races_clash(finding: &Finding, figure: &str, limit: &str) -> String {
    let name = race_name(finding);
    let when = day(finding);
    match finding.level {
        Level::Stop | Level::Caution => format!(
            "{name} ({when}) is {figure} away, and recovery and block together need about {limit}: decide which race matters"
        ),
        Level::Note => format!("{name} ({when}) is on a day of this block, {figure} before the goal race"),
    }
}

/// How many days were left, and what they are still good for.
fn made_late(finding: &Finding, least: &str) -> String {
    let Figure::Days(left) = finding.figure else { return "the block was made late".to_owned() };
    let days = plural(usize::from(left), "day");
    match left {
        0 => format!(
            "made on race day, when no day is left to plan; this event usually takes {least} at the least. Everything \
             before the race stands as usual"
        ),
        1 => format!(
            "made with one day left, and this event usually takes {least} at the least: that is no taper. Tired legs do not \
             get fresh in a day, and nothing that was missed can be made up. What still helps: an easy short run or rest, \
             food, drink and sleep as usual, and a start that is easier than planned"
        ),
        _ if left <= EASY_ONLY_DAYS => format!(
            "made with {days} left, and this event usually takes {least} at the least: legs get a little fresher, not \
             fresh. What still helps: short easy running and rest. What does not: a hard or long run, or making up what \
             was missed"
        ),
        _ => format!(
            "made with {days} left, and this event usually takes {least} at the least: the days left come down, what lies \
             behind stays as it was, so the legs get less rest than a whole block gives. Nothing is squeezed in, and \
             nothing is made up"
        ),
    }
}

fn injured(finding: &Finding) -> String {
    let open = if is_open(finding) {
        ", and no end of it is noted: note the day on which it is over. Until then"
    } else {
        ":"
    };
    format!(
        "an injury inside the block{open} nothing hard until easy running is free of pain; if it gets worse or changes the \
         stride, stop and have it looked at"
    )
}

fn illness(finding: &Finding) -> String {
    let what = match finding.about {
        About::Event { kind: EventKind::Illness { fever: true }, .. } => "fever",
        _ => "illness",
    };
    let left = before(&finding.figure);
    let what = if is_open(finding) { format!("no end is noted yet, {what}") } else { what.to_owned() };
    match finding.level {
        Level::Stop => format!(
            "{what} until {left}: whether to start at all is for coach and clinician to decide together; running is never \
             worth a risk to the heart"
        ),
        _ => format!(
            "{what} until {left}: once well, there is a choice: start easy and see, run a shorter distance, or another day; \
             when in doubt ask a clinician"
        ),
    }
}

/// What the athlete is not over yet when the block begins.
fn begins_too_soon(finding: &Finding, figure: &str) -> String {
    let (date, days) = (finding.date.unwrap_or_default(), |figure: Figure| match figure {
        Figure::Days(days) => u64::from(days),
        _ => 0,
    });
    let what = match finding.about {
        About::Event { kind: EventKind::Illness { fever: true }, .. } => "an illness with fever",
        About::Event { kind: EventKind::Injury, .. } => "an injury",
        _ => "an illness",
    };
    match (finding.figure, finding.limit) {
        (_, Figure::Count(usual)) => format!(
            "the block begins {figure} after the goal race {}, and {} of recovery are usual: nothing hard before {}, \
             and only easy running that feels easy",
            race_name(finding),
            plural(usize::from(usual), "day"),
            long_date(date + Days::new(u64::from(usual) + 1))
        ),
        (Figure::None, _) => format!(
            "{what} since {}, and no end of it is noted: the days are planned as if the athlete were well. Note the end \
             once it is over; when in doubt ask a clinician",
            long_date(date)
        ),
        (after, eased) => format!(
            "the block begins {figure} after {what}, and the easy days that are usual then last until {}: nothing hard \
             before they are over; when in doubt ask a clinician",
            long_date(date + Days::new(days(after) + days(eased)))
        ),
    }
}

fn thin(finding: &Finding, figure: &str, limit: &str) -> String {
    let why = match finding.figure {
        Figure::Days(0) => {
            format!("the athlete runs like this only since {}, when the block has begun", day(finding))
        }
        Figure::Days(_) => format!(
            "the athlete runs like this since {}, {figure} before the block begins and less than {limit}",
            day(finding)
        ),
        Figure::Count(_) => format!("{} a week, fewer than {limit}", runs(&finding.figure)),
        _ => format!("{figure} a week, less than {limit}"),
    };
    format!("{why}: there is little to taper from, a shorter and shallower block is enough")
}

/// How far away in time the race is, and what is usually done about it.
fn travel(finding: &Finding) -> String {
    let Figure::Amount(minutes, _) = finding.figure else { return "the race is in another time zone".to_owned() };
    let (ahead, bed) = if minutes > 0.0 { ("ahead of", "earlier") } else { ("behind", "later") };
    let far = minutes.abs().round() as usize;
    let (hours, rest) = (far / 60, far % 60);
    let by = if rest == 0 { format!("{hours} h") } else { format!("{hours} h {rest} min") };
    let days = far.div_ceil(60);
    format!(
        "the clocks at the race are {by} {ahead} those at home: about a day for each hour is common, so about {} there, \
         and with fewer days what there is has to do. Usual is to go to bed and to get up {bed} by half an hour to an hour \
         a day for some days before, to run nothing hard in the two days before travelling, and to run the first days \
         there easy and at the hour of the race. How well it works differs from one to the next",
        plural(days, "day")
    )
}

/// The coach's own words, without the stop that the sentence has.
fn noted(finding: &Finding) -> &str {
    match &finding.about {
        About::Noted(words) => words.trim().trim_end_matches('.'),
        _ => "a caution",
    }
}

/// Whether it is about an illness or injury of which no end is noted.
const fn is_open(finding: &Finding) -> bool {
    matches!(finding.about, About::Event { open: true, .. })
}

fn new_kind(finding: &Finding) -> &'static str {
    match finding.about {
        About::Kind(new) => kind(new),
        _ => "something",
    }
}

fn person(finding: &Finding, years: &str) -> String {
    match finding.level {
        Level::Stop => format!(
            "the athlete turns {years} in the race's year: most marathons are not open under 18, so check the current rule \
             book, and decide with parents and a clinician"
        ),
        Level::Note => format!(
            "the athlete turns {years} in the race's year: under 18 plans are made with parents or guardians, and a \
             qualified professional"
        ),
        // Whole: half a caution can be worse than none.
        Level::Caution => format!("noted for this athlete: {}", noted(finding)),
    }
}

fn day(finding: &Finding) -> String {
    finding.date.map_or("that day".to_owned(), long_date)
}

/// `4 running days`.
fn runs(figure: &Figure) -> String {
    match figure {
        Figure::Count(count) => plural(usize::from(*count), "running day"),
        other => self::figure(other, DistanceUnit::Km),
    }
}

fn frequency_lost(finding: &Finding, week: &str, limit: &str) -> String {
    if finding.about == About::RaceWeek {
        let (now, least) = (runs_and_race(&finding.figure), runs_and_race(&finding.limit));
        return format!("race week has {now}, fewer than {least}: the routine is kept, only shorter");
    }
    format!("{week} has {}, fewer than {limit}: the routine is kept, only shorter", runs(&finding.figure))
}

/// `3 running days and the race`, as a week's totals count them, of a figure that counts the race as a run.
fn runs_and_race(figure: &Figure) -> String {
    match figure {
        Figure::Count(count) => format!("{} and the race", plural(usize::from(count.saturating_sub(1)), "running day")),
        other => self::figure(other, DistanceUnit::Km),
    }
}

/// `6 days before the race`.
fn before(figure: &Figure) -> String {
    match figure {
        Figure::Days(days) => days_to_race(*days),
        other => self::figure(other, DistanceUnit::Km),
    }
}

fn figure(figure: &Figure, units: DistanceUnit) -> String {
    match figure {
        Figure::None => String::new(),
        Figure::Share(share) => per_cent(*share),
        Figure::Days(days) => plural(usize::from(*days), "day"),
        Figure::Count(count) => count.to_string(),
        Figure::Amount(value, unit) => {
            let exact = Amount::exact(Milli::nearest(*value), *unit);
            let shown = if *unit == units.unit() || *unit == Unit::Min { exact } else { amount_in(exact, units) };
            amount(Amount::exact(tenth(shown.low().as_f64()), shown.unit()))
        }
    }
}

/// Too much or too little is left of a week, or of the whole block.
fn cut(finding: &Finding, week: &str, figure: &str, limit: &str) -> String {
    match finding.rule {
        _ if is_of_fixed_days(finding) => {
            let more = if finding.rule == RuleId::CutTooSmall { "less" } else { "more" };
            format!(
                "{week} keeps {figure} of the usual running because of fixed days; without them it would keep {limit}, so \
                 {more} is taken away than the curve asks for"
            )
        }
        RuleId::CutTooSmall => format!(
            "{week} keeps {figure} of the usual running, more than the usual {limit} at most: the legs may not be rested"
        ),
        _ => match (finding.figure, finding.date) {
            (Figure::Days(days), _) => format!(
                "{} in a row without running, and {limit} is the most that keeps the routine",
                plural(usize::from(days), "day")
            ),
            (_, Some(_)) => format!(
                "{week} keeps {figure} of the usual running, less than the usual {limit} at least: more is taken away than \
                 is known to help"
            ),
            _ => format!(
                "the whole block takes away {figure} of the usual running, and more than {limit} is not known to help"
            ),
        },
    }
}

/// Where a rule comes from: the published source, or that there is none.
pub fn source(finding: &Finding) -> &'static str {
    match finding.rule {
        RuleId::PersonCaution if finding.level == Level::Caution => "Noted by the coach.",
        _ if is_of_fixed_days(finding) => "Reckoned from the block's own curve; common practice, no published source.",
        RuleId::CutTooSmall => {
            "Cuts of 41–60% did best: Bosquet and others 2007, doi 10.1249/mss.0b013e31806010e0; Wang and others 2023, doi \
             10.1371/journal.pone.0282838. The week's band is common practice, no published source."
        }
        RuleId::CutTooLarge => {
            "Cuts above 60% did less than 41–60%: Bosquet and others 2007, doi 10.1249/mss.0b013e31806010e0. The limits are \
             common practice, no published source."
        }
        RuleId::WeekRises => {
            "Running that falls every week did better: Smyth and Lawlor 2021, doi 10.3389/fspor.2021.735220 (observed, not \
             tried). The limit is common practice, no published source."
        }
        RuleId::IntensityLost => {
            "Intensity is kept: Bosquet and others 2007, doi 10.1249/mss.0b013e31806010e0; Mujika and Padilla 2003, PubMed \
             12840640. The limit is common practice, no published source."
        }
        RuleId::FrequencyLost => "Running days down by at most 20%: Mujika and Padilla 2003, PubMed 12840640.",
        RuleId::LengthUnusual | RuleId::MadeLate => {
            "8–14 days did best in trials: Bosquet and others 2007, doi 10.1249/mss.0b013e31806010e0; 6 days up to 10 km and \
             14 before a marathon among elite runners: Spilsbury and others 2015; up to three weeks before a marathon: Smyth \
             and Lawlor 2021, doi 10.3389/fspor.2021.735220. The ranges are common practice, no published source."
        }
        RuleId::PersonCaution => {
            "No marathon under 18: International Marathon Medical Directors Association 2001; rules differ by country."
        }
        RuleId::IllnessNearRace
        | RuleId::Injury
        | RuleId::BeginsTooSoon
        | RuleId::GoalInside
        | RuleId::FixedAgainstEvent
        | RuleId::RanMore
        | RuleId::IntensityAdded
        | RuleId::RestClumped
        | RuleId::NoRestPlace
        | RuleId::HardTooLate
        | RuleId::HardBackToBack
        | RuleId::HardTwice
        | RuleId::LongRunLate
        | RuleId::LongRunBig
        | RuleId::StrengthLate
        | RuleId::SomethingNew
        | RuleId::RacesClash
        | RuleId::BaseTooThin
        | RuleId::DistanceUntrained
        | RuleId::Travel => "Common practice, no published source.",
    }
}
