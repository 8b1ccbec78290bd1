//! Days that the coach fixed, where a block is planned again: which of them stand against something that is noted, and
//! where they stand once the race was moved.

use chrono::NaiveDate;
use formats::words;
use planning::bend::let_go;
use planning::{About, Block, DistanceUnit, EventKind, Finding, LifeEvent, Pin, Race};

use super::lines;
use super::load::{Loaded, pins};

/// What becomes of the fixed days where the race was moved.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum OnMove {
    /// They stay on their dates.
    Stay,
    /// They belong to the planner again.
    Free,
    /// They move by as many days as the race.
    Along,
}

impl OnMove {
    const ALL: [Self; 3] = [Self::Stay, Self::Free, Self::Along];

    /// As a form sends it; anything else leaves them where they are.
    pub(super) fn read(text: &str) -> Self {
        Self::ALL.into_iter().find(|way| way.value() == text).unwrap_or(Self::Stay)
    }

    pub(super) const fn value(self) -> &'static str {
        match self {
            Self::Stay => "",
            Self::Free => "free",
            Self::Along => "along",
        }
    }

    /// What the button says that shows the plan with it.
    const fn label(self) -> &'static str {
        match self {
            Self::Stay => "See it with the fixed days on their dates",
            Self::Free => "See it with these days free",
            Self::Along => "See it with these days moved along with the race",
        }
    }

    /// What a revision's reason says of it.
    pub(super) const fn in_reason(self) -> &'static str {
        match self {
            Self::Stay => "",
            Self::Free => ", fixed days let go",
            Self::Along => ", fixed days moved along",
        }
    }

    /// The plan and its fixed days to come, as they are for a race that is on another day than the plan was made for.
    pub(super) fn of(self, plan: Block, race: &Race, today: NaiveDate) -> (Block, Vec<Pin>) {
        let ahead = fixed_ahead(&plan, today);
        let kept = match self {
            Self::Stay => ahead,
            Self::Free => {
                let days: Vec<NaiveDate> = ahead.iter().map(|pin| pin.date).collect();
                return (let_go(&plan, &days), Vec::new());
            }
            Self::Along => {
                let by = race.date - plan.race.date;
                ahead.into_iter().map(|pin| Pin { date: pin.date + by, ..pin }).collect()
            }
        };
        // Nothing is fixed on race day or behind it, nor on a day that is over.
        let stands = |pin: &Pin| pin.date >= today && pin.date < race.date;
        (plan, kept.into_iter().filter(stands).collect())
    }
}

fn fixed_ahead(plan: &Block, today: NaiveDate) -> Vec<Pin> {
    pins(plan).into_iter().filter(|pin| pin.date >= today).collect()
}

/// The fixed days of a block whose race was moved.
pub(super) struct AfterMove {
    /// Where each stood and stands now, a sentence each.
    pub(super) days: Vec<String>,
    /// What is shown.
    pub(super) chosen: OnMove,
}

impl AfterMove {
    /// Nothing where the race was not moved, or nothing to come is fixed.
    pub(super) fn of(loaded: &Loaded, chosen: OnMove) -> Option<Self> {
        let (plan, race) = (loaded.plan_under(), &loaded.record.race);
        if race.called_off.is_some() || race.race.date == plan.race.date || race.race.date < loaded.today {
            return None;
        }
        let units = loaded.coach.units;
        let said = |pin: Pin| where_it_stands(plan, &pin, &race.race, units);
        let days: Vec<String> = fixed_ahead(plan, loaded.today).into_iter().map(said).collect();
        (!days.is_empty()).then_some(Self { days, chosen })
    }

    /// The other ways, as a button sends and says each.
    pub(super) fn ways(&self) -> Vec<(&'static str, &'static str)> {
        let others = OnMove::ALL.into_iter().filter(|way| *way != self.chosen);
        others.map(|way| (way.value(), way.label())).collect()
    }

    /// What the plan below does with them.
    pub(super) const fn said(&self) -> &'static str {
        match self.chosen {
            OnMove::Stay => "Fixed days stay on their dates, though the race is on another day:",
            OnMove::Free => "The plan below is made without these fixed days:",
            OnMove::Along => "In the plan below these fixed days move by as many days as the race:",
        }
    }

    pub(super) const fn value(&self) -> &'static str {
        self.chosen.value()
    }
}

/// `Saturday 8 May, shake-out run 4 km: it stood 1 day before the race, and left there it stands 2 days before it`.
fn where_it_stands(plan: &Block, pin: &Pin, race: &Race, units: DistanceUnit) -> String {
    let day = words::long_date(pin.date);
    let held = plan.day(pin.date).map_or_else(String::new, |day| lines::all_planned(&day.sessions, units));
    let before = |race: NaiveDate| words::plural(usize::try_from((race - pin.date).num_days()).unwrap_or(0), "day");
    let was = format!("{day}, {held}: it stood {} before the race", before(plan.race.date));
    if pin.date < race.date {
        format!("{was}, and left there it stands {} before it.", before(race.date))
    } else {
        format!("{was}, and left there it falls away: its date is no longer before the race.")
    }
}

/// What the button says that lets go of the fixed days which something noted stands against, each day by its name.
pub(super) fn let_go_words(fixed: &[Finding], events: &[LifeEvent], changes: bool) -> String {
    let is_ill = |finding: &&Finding| match finding.about {
        About::HardAfter(kind) => kind != EventKind::Injury,
        _ => finding.date.is_some_and(|day| {
            events.iter().any(|event| event.kind != EventKind::Injury && event.keeps_from_running_on(day))
        }),
    };
    let unwell: Vec<&Finding> = fixed.iter().filter(|finding| finding.about != About::OnTheWay).collect();
    let what = match (unwell.iter().any(is_ill), unwell.iter().all(is_ill)) {
        (true, true) => "illness",
        (false, _) => "injury",
        (true, false) => "illness and injury",
    };
    let say = |which: &dyn Fn(&Finding) -> bool, hard: &str, how: &str| {
        let days = fixed.iter().filter(|finding| which(finding)).filter_map(|finding| finding.date);
        let days: Vec<String> = days.map(words::long_date).collect();
        let plural = if days.len() == 1 { "" } else { "s" };
        (!days.is_empty()).then(|| format!("the fixed {hard}day{plural} {how} too: {}", words::list(&days)))
    };
    let is_after = |finding: &Finding| matches!(finding.about, About::HardAfter(_));
    let is_on_the_way = |finding: &Finding| finding.about == About::OnTheWay;
    let is_inside = |finding: &Finding| !is_after(finding) && !is_on_the_way(finding);
    let all = [
        say(&is_inside, "", &format!("of the {what} rest")),
        say(&is_after, "hard ", &format!("after the {what} be easy")),
        say(&is_on_the_way, "", "on the way be short and easy"),
    ];
    let all = all.into_iter().flatten().collect::<Vec<_>>().join("; and ");
    if changes { format!("Take it, and let {all}") } else { format!("Let {all}") }
}

#[cfg(test)]
mod tests {
    use chrono::Days;

    use super::*;
    use crate::blocks::sample;

    /// The block with Friday and the day before the race fixed, and the race on another day.
    fn moved(by: i64) -> (Block, Race) {
        let mut plan = sample::ten_k().block();
        let last = plan.days.len();
        plan.days[last - 2].pinned = true;
        plan.days[last - 3].pinned = true;
        let race = Race { date: plan.race_day + chrono::TimeDelta::days(by), ..plan.race.clone() };
        (plan, race)
    }

    #[test]
    fn fixed_days_stay_go_or_move_with_the_race() {
        for by in [1, 7, -1] {
            let (plan, race) = moved(by);
            let today = plan.race_day - Days::new(5);
            let dates = |way: OnMove| -> Vec<i64> {
                let (_, pins) = way.of(plan.clone(), &race, today);
                pins.iter().map(|pin| (race.date - pin.date).num_days()).collect()
            };
            assert_eq!(dates(OnMove::Along), [2, 1], "as many days before the race as they were");
            let stays: Vec<i64> = [2 + by, 1 + by].into_iter().filter(|days| *days > 0).collect();
            assert_eq!(dates(OnMove::Stay), stays);
            assert_eq!(dates(OnMove::Free), Vec::<i64>::new());
            let (free, _) = OnMove::Free.of(plan.clone(), &race, today);
            assert!(free.days.iter().all(|day| !day.pinned));
        }
        // What would move to a day that is over is let go.
        let (plan, race) = moved(-4);
        let (_, pins) = OnMove::Along.of(plan.clone(), &race, plan.race_day - Days::new(5));
        assert_eq!(pins.len(), 1);
    }

    #[test]
    fn each_says_how_many_days_before_the_race_it_stood_and_stands() {
        let said = |by| {
            let (plan, race) = moved(by);
            let pin = pins(&plan).pop().expect("the day before the race");
            where_it_stands(&plan, &pin, &race, DistanceUnit::Km)
        };
        assert!(
            said(1).ends_with("it stood 1 day before the race, and left there it stands 2 days before it."),
            "{}",
            said(1)
        );
        assert!(said(7).ends_with("and left there it stands 8 days before it."), "{}", said(7));
        assert!(said(-1).ends_with("left there it falls away: its date is no longer before the race."), "{}", said(-1));
    }
}
