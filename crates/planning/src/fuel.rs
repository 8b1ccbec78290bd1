//! What an athlete eats and drinks around a race, in figures, or that no figures are given.
//!
//! General guidance for adults. Where somebody qualified has to plan it, this module gives no number at
//! all: [`Fuel::Withheld`] holds none, so no page can print one.

use crate::goals::GoalTimes;
use crate::race_time::RaceTime;
use crate::units::{Distance, Pace};
use crate::weight::Weight;

/// How old an athlete is, as far as food and caffeine go.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Age {
    /// Is under 18, or turns 18 in the race's year and may not have done so yet.
    Under18,
    /// Turned 18 in an earlier year than the race's.
    Adult,
    /// Nobody noted a year of birth.
    Unknown,
}

impl Age {
    /// From the age reached in the race's year. Only the year of birth is known: who turns 18 in it may be 17
    /// on the day, and is given no amounts.
    pub const fn reached(years: Option<i32>) -> Self {
        match years {
            Some(years) if years <= 18 => Self::Under18,
            Some(_) => Self::Adult,
            None => Self::Unknown,
        }
    }
}

/// Why no figures are given.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Why {
    /// The athlete is under 18 on the day, or may be.
    Under18,
    /// Food and drink are for a professional to plan.
    Referred,
}

/// How long the race is expected to take.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ExpectedTime {
    /// The best day.
    pub fastest: RaceTime,
    /// What is planned with.
    pub likely: RaceTime,
    /// The least that counts.
    pub slowest: RaceTime,
    /// Whether nobody said so, and a pace was taken.
    pub assumed: bool,
}

impl ExpectedTime {
    /// From the goals that are times, planned with the one that paper and clock follow; nothing where
    /// none is a time.
    pub fn of_goals(goals: &GoalTimes) -> Option<Self> {
        let (_, likely) = goals.main()?;
        let times = || goals.times.into_iter().flatten();
        Some(Self { fastest: times().min()?, likely, slowest: times().max()?, assumed: false })
    }

    /// Where no goal is a time: at [`Pace::ASSUMED`], to sort the race into short and long.
    pub fn assumed(distance: Distance) -> Self {
        let time = RaceTime::seconds((Pace::ASSUMED.minutes_per_km() * 60.0 * distance.as_km()).round() as u32);
        Self { fastest: time, likely: time, slowest: time, assumed: true }
    }
}

/// What the athlete takes on the way.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub struct Pieces {
    /// Grams of carbohydrate in one piece.
    pub piece_grams: Option<u16>,
    /// Grams of carbohydrate an hour, as rehearsed.
    pub grams_an_hour: Option<u16>,
}

/// What the advice is for.
#[derive(Clone, Copy, Debug)]
pub struct Asked {
    /// How long the race takes.
    pub expected: ExpectedTime,
    /// The athlete's weight, where it is noted.
    pub weight: Option<Weight>,
    /// The athlete's age in the race's year.
    pub age: Age,
    /// Whether food and drink are for a professional to plan.
    pub is_referred: bool,
    /// What the athlete takes on the way.
    pub pieces: Pieces,
}

/// The advice, or why there is none.
#[derive(Clone, Debug, PartialEq)]
pub enum Fuel {
    /// No figures: a professional plans it.
    Withheld {
        /// Why.
        why: Why,
    },
    /// Figures for a healthy adult.
    Advised(Advice),
}

/// Figures for a healthy adult.
#[derive(Clone, Debug, PartialEq)]
pub struct Advice {
    /// How long the race is expected to take.
    pub expected: ExpectedTime,
    /// Carbohydrate a day over the last [`LOADING_HOURS`], in long races only.
    pub loading: Option<ByWeight>,
    /// Carbohydrate in the last meal, [`MEAL_HOURS`] before, where the race is long enough.
    pub meal: Option<ByWeight>,
    /// Carbohydrate on the way, where the race is long enough.
    pub during: Option<During>,
    /// Carbohydrate an hour in the first [`AFTER_HOURS`] after a long race.
    pub after: Option<ByWeight>,
    /// Caffeine in milligrams about an hour before, for adults whose weight is noted: a most, and only
    /// where it was rehearsed.
    pub caffeine_most: Option<u32>,
}

/// A range for each kilogram of body weight, in tenths of a gram, and the weight where it is noted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ByWeight {
    /// Tenths of a gram for each kilogram, at least.
    pub least: u16,
    /// Tenths of a gram for each kilogram, at most.
    pub most: u16,
    weight: Option<Weight>,
}

impl ByWeight {
    /// The range in grams, to the nearest five; nothing where no weight is noted.
    pub fn grams(self) -> Option<(u32, u32)> {
        let weight = self.weight?.as_kg();
        let of = |tenths: u16| nearest_five(f64::from(tenths) * weight / 10.0);
        Some((of(self.least), of(self.most)))
    }
}

/// Carbohydrate on the way.
#[derive(Clone, Debug, PartialEq)]
pub struct During {
    /// Grams an hour that are known to help in a race of this length.
    pub band: Band,
    /// Grams in the whole race at both ends of the band.
    pub grams: (u32, u32),
    /// What was chosen, where something was.
    pub chosen: Option<Chosen>,
}

/// Grams of carbohydrate an hour, and whether the upper end wants a gut that is used to it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Band {
    /// At least.
    pub least: u16,
    /// At most.
    pub most: u16,
    /// Whether the upper end is for those who have practised it.
    pub is_practised: bool,
}

/// Grams an hour that somebody chose, and in which pieces.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Chosen {
    /// Grams an hour.
    pub grams_an_hour: u16,
    /// Where that stands against the band.
    pub against: Against,
    /// In pieces, where the grams of one are known and anything is taken.
    pub schedule: Option<Schedule>,
}

/// Where the chosen grams stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Against {
    /// Below the band.
    Below,
    /// Inside.
    Within,
    /// Above the band, not above the most.
    Above,
    /// More than [`MOST_AN_HOUR`].
    TooMuch,
}

/// When pieces are taken.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Schedule {
    /// Pieces each time.
    pub pieces: u16,
    /// Minutes from one time to the next, and from the start to the first.
    pub every: u16,
    /// How often in the whole race.
    pub times: u16,
    /// Grams of one piece.
    pub piece_grams: u16,
}

impl Schedule {
    /// Grams in the whole race.
    pub fn grams(&self) -> u32 {
        u32::from(self.pieces) * u32::from(self.times) * u32::from(self.piece_grams)
    }

    /// Pieces in the whole race.
    pub fn all_pieces(&self) -> u32 {
        u32::from(self.pieces) * u32::from(self.times)
    }

    /// Pieces that are due from one time since the start until before another.
    pub fn pieces_within(&self, from: RaceTime, until: RaceTime) -> u32 {
        let due = |count: &u32| {
            let after = RaceTime::seconds(count * u32::from(self.every) * 60);
            from <= after && after < until
        };
        u32::from(self.pieces) * (1..=u32::from(self.times)).filter(due).count() as u32
    }

    /// Each time from the start, with the place on the course as the caller knows it.
    pub fn takes(&self, place: impl Fn(RaceTime) -> Option<Distance>) -> Vec<Take> {
        (1..=u32::from(self.times))
            .map(|count| RaceTime::seconds(count * u32::from(self.every) * 60))
            .map(|after| Take { after, at: place(after) })
            .collect()
    }
}

/// One time at which something is taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Take {
    /// Counted from the start.
    pub after: RaceTime,
    /// Where the athlete is then.
    pub at: Option<Distance>,
}

const fn minutes(minutes: u32) -> RaceTime {
    RaceTime::seconds(minutes * 60)
}

/// Stores are filled beforehand only for races longer than this.
///
/// # Source
///
/// ACSM, AND and DC, joint position stand on nutrition and athletic performance (2016); Burke and
/// others 2011, Journal of Sports Sciences 29: carbohydrate loading for events over 90 minutes. Read in
/// secondary sources; the borders in their words from memory.
pub const LOADING_OVER: RaceTime = minutes(90);

/// Hours over which stores are filled. Source as [`LOADING_OVER`].
pub const LOADING_HOURS: (u16, u16) = (36, 48);

/// 10 to 12 g for each kilogram a day. Source as [`LOADING_OVER`].
const LOADING: (u16, u16) = (100, 120);

/// The meal before is counted only for races longer than this.
///
/// # Source
///
/// A review on dietary carbohydrate and the endurance athlete: 1 to 4 g for each kilogram in the 1 to 4
/// hours before exercise of more than 60 minutes.
pub const MEAL_OVER: RaceTime = minutes(60);

/// Hours before the race in which the last meal is eaten. Source as [`MEAL_OVER`].
pub const MEAL_HOURS: (u16, u16) = (1, 4);

/// Source as [`MEAL_OVER`].
const MEAL: (u16, u16) = (10, 40);

/// From here on carbohydrate on the way helps.
///
/// # Source
///
/// A review on dietary carbohydrate and the endurance athlete: 30 to 60 g an hour, up to 90 g of several
/// sugars in longer races. The borders of an hour and of two and a half hours are from memory.
pub const DURING_FROM: RaceTime = minutes(60);

/// Beyond this more an hour is useful to those who are used to it. Source as [`DURING_FROM`].
pub const DURING_LONG_OVER: RaceTime = minutes(150);

/// More an hour is not known to be taken up. Source as [`DURING_FROM`].
pub const MOST_AN_HOUR: u16 = 90;

/// Hours after a long race in which stores are filled again fastest: 1.0 to 1.2 g for each kilogram an hour.
///
/// # Source
///
/// A review on dietary carbohydrate and the endurance athlete. That it is said after races of more than
/// [`LOADING_OVER`] only is common practice, no published source.
pub const AFTER_HOURS: u16 = 4;
const AFTER: (u16, u16) = (10, 12);

/// Milligrams of caffeine for each kilogram, at most.
///
/// # Source
///
/// Guest and others 2021, position stand of the International Society of Sports Nutrition: 3 to 6 mg for
/// each kilogram about an hour before; the lower end is enough. Read in a secondary source.
pub const CAFFEINE: u32 = 3;

/// Milligrams of caffeine in a day for an adult, whatever the weight.
///
/// # Source
///
/// European Food Safety Authority 2015, safety of caffeine; the number read in a secondary source, the
/// name from memory.
pub const CAFFEINE_DAY: u32 = 400;

/// Two pieces are taken together rather than one more often than this, in minutes.
///
/// # Source
///
/// Common practice, no published source.
const OFTEN: u32 = 15;

/// Nothing is taken in the last minutes: it comes too late to help.
///
/// # Source
///
/// Common practice, no published source.
const LATE: u32 = 10;

/// Beginnings of words in a caution with which running hard is a clinician's to decide as much as food.
///
/// # Source
///
/// Who is referred: American College of Obstetricians and Gynecologists, opinion 804 (pregnancy); else common
/// practice, no published source. English only: the coach's tick says it in any language.
const CLINICIAN: [&str; 18] = [
    "pregnan",
    "breastfe",
    "diabet",
    "insulin",
    "anorex",
    "bulimi",
    "binge",
    "eating dis",
    "disordered eat",
    "red-s",
    "reds",
    "low energy av",
    "kidney",
    "renal",
    "heart",
    "cardi",
    "amenorr",
    "anticoag",
];

/// The same where only food and drink are a professional's to plan. Source as [`CLINICIAN`].
const DIETITIAN: [&str; 7] = ["coeliac", "celiac", "crohn", "colitis", "ibd", "gut", "bowel"];

/// Whether a caution as typed says that food and drink are a professional's to plan.
pub fn is_for_a_professional(caution: &str) -> bool {
    is_for_a_clinician(caution) || names_one(caution, &DIETITIAN)
}

/// Whether a caution as typed says that a clinician has to say whether and how hard to race.
pub fn is_for_a_clinician(caution: &str) -> bool {
    names_one(caution, &CLINICIAN)
}

/// Whether a word begins with one of these.
fn names_one(caution: &str, beginnings: &[&str]) -> bool {
    let lower = caution.to_lowercase();
    beginnings.iter().any(|word| {
        let at_start = |at: usize| !lower[..at].ends_with(char::is_alphanumeric);
        lower.match_indices(word).any(|(at, _)| at_start(at))
    })
}

/// What to eat and drink around a race, or that somebody else has to say it.
pub fn fuel(asked: &Asked) -> Fuel {
    if asked.age == Age::Under18 {
        return Fuel::Withheld { why: Why::Under18 };
    }
    if asked.is_referred {
        return Fuel::Withheld { why: Why::Referred };
    }
    let likely = asked.expected.likely;
    let by_weight = |(least, most), is_due: bool| is_due.then_some(ByWeight { least, most, weight: asked.weight });
    Fuel::Advised(Advice {
        expected: asked.expected,
        loading: by_weight(LOADING, likely > LOADING_OVER),
        meal: by_weight(MEAL, likely > MEAL_OVER),
        during: band(likely).map(|band| During {
            band,
            grams: (grams(band.least, likely), grams(band.most, likely)),
            chosen: chosen(asked.pieces, band, likely),
        }),
        after: by_weight(AFTER, likely > LOADING_OVER),
        caffeine_most: asked.weight.filter(|_| asked.age == Age::Adult).map(caffeine),
    })
}

/// Grams an hour for a race of this length; nothing below [`DURING_FROM`].
fn band(time: RaceTime) -> Option<Band> {
    if time < DURING_FROM {
        None
    } else if time <= DURING_LONG_OVER {
        Some(Band { least: 30, most: 60, is_practised: false })
    } else {
        Some(Band { least: 60, most: MOST_AN_HOUR, is_practised: true })
    }
}

/// Grams in a whole race at so many an hour.
fn grams(an_hour: u16, time: RaceTime) -> u32 {
    (f64::from(an_hour) * time.as_minutes() / 60.0).round() as u32
}

fn caffeine(weight: Weight) -> u32 {
    nearest_five(weight.as_kg() * f64::from(CAFFEINE)).min(CAFFEINE_DAY)
}

fn nearest_five(value: f64) -> u32 {
    (value / 5.0).round() as u32 * 5
}

fn chosen(pieces: Pieces, band: Band, time: RaceTime) -> Option<Chosen> {
    let grams_an_hour = pieces.grams_an_hour?;
    let against = match grams_an_hour {
        rate if rate < band.least => Against::Below,
        rate if rate <= band.most => Against::Within,
        rate if rate <= MOST_AN_HOUR => Against::Above,
        _ => Against::TooMuch,
    };
    let schedule = pieces.piece_grams.and_then(|piece| schedule(piece, grams_an_hour, time));
    Some(Chosen { grams_an_hour, against, schedule })
}

/// Pieces at even times that a runner can remember: multiples of five minutes.
fn schedule(piece_grams: u16, an_hour: u16, time: RaceTime) -> Option<Schedule> {
    if piece_grams == 0 || an_hour == 0 {
        return None;
    }
    let apart = 60.0 * f64::from(piece_grams) / f64::from(an_hour);
    let pieces = (f64::from(OFTEN) / apart).ceil().max(1.0);
    let every = nearest_five(apart * pieces).max(5);
    let last = (time.as_seconds() / 60).checked_sub(LATE)?;
    let times = last / every;
    (times > 0).then_some(Schedule { pieces: pieces as u16, every: every as u16, times: times as u16, piece_grams })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn asked(minutes: u32, weight: Option<u32>) -> Asked {
        let time = RaceTime::seconds(minutes * 60);
        Asked {
            expected: ExpectedTime { fastest: time, likely: time, slowest: time, assumed: false },
            weight: weight.and_then(|kilograms| Weight::grams(kilograms * 1000)),
            age: Age::Adult,
            is_referred: false,
            pieces: Pieces::default(),
        }
    }

    fn advice(asked: &Asked) -> Advice {
        match fuel(asked) {
            Fuel::Advised(advice) => advice,
            Fuel::Withheld { why } => panic!("withheld: {why:?}"),
        }
    }

    #[test]
    fn cautions_that_concern_food_are_known_by_their_words_and_others_are_not() {
        for caution in
            ["Pregnant, 20th week", "type 1 diabetes", "history of an eating disorder", "RED-S signs", "heart murmur"]
        {
            assert!(is_for_a_professional(caution), "{caution}");
        }
        for caution in ["calf strain", "asthma", "sore Achilles", "catgut", "back from flu", ""] {
            assert!(!is_for_a_professional(caution), "{caution}");
        }
        let (gut, heart) = ("coeliac", "heart murmur");
        assert!(is_for_a_professional(gut) && !is_for_a_clinician(gut), "food alone");
        assert!(is_for_a_clinician(heart) && !is_for_a_clinician("calf strain"));
    }

    #[test]
    fn pieces_between_places_add_up_to_all_of_them() {
        let plan = schedule(25, 60, RaceTime::seconds(12_600)).unwrap();
        let at = [0, 1_500, 1_501, 6_000, 12_600].map(RaceTime::seconds);
        let legs: Vec<u32> = at.windows(2).map(|ends| plan.pieces_within(ends[0], ends[1])).collect();
        assert_eq!(legs, [0, 1, 2, 5], "one that is due at a place is taken from it on");
        assert_eq!(legs.iter().sum::<u32>(), plan.all_pieces());
    }

    #[test]
    fn sixty_kilograms_give_the_published_grams_and_milligrams() {
        let advice = advice(&asked(210, Some(60)));
        assert_eq!(advice.loading.and_then(ByWeight::grams), Some((600, 720)));
        assert_eq!(advice.meal.and_then(ByWeight::grams), Some((60, 240)));
        assert_eq!(advice.after.and_then(ByWeight::grams), Some((60, 70)), "72 to the nearest five");
        assert_eq!(advice.caffeine_most, Some(180));
    }

    #[test]
    fn an_hour_and_a_half_and_three_and_a_half_hours_give_the_published_grams_on_the_way() {
        let grams = |minutes| advice(&asked(minutes, None)).during.map(|during| during.grams);
        assert_eq!(grams(90), Some((45, 90)));
        assert_eq!(grams(210), Some((210, 315)));
    }

    #[test]
    fn each_amount_begins_at_its_border() {
        let at = |minutes| advice(&asked(minutes, None));
        assert!(at(90).loading.is_none() && at(91).loading.is_some());
        assert!(at(90).after.is_none() && at(91).after.is_some());
        assert!(at(60).meal.is_none() && at(61).meal.is_some());
        assert!(at(59).during.is_none());
        let band = |minutes| at(minutes).during.map(|during| (during.band.least, during.band.most));
        assert_eq!((band(60), band(150)), (Some((30, 60)), Some((30, 60))));
        assert_eq!(band(151), Some((60, 90)));
    }

    #[test]
    fn without_a_weight_no_grams_and_no_caffeine_are_known() {
        let advice = advice(&asked(210, None));
        let loading = advice.loading.expect("a long race");
        assert_eq!((loading.least, loading.most, loading.grams()), (100, 120, None));
        assert_eq!(advice.caffeine_most, None);
    }

    #[test]
    fn caffeine_is_a_figure_for_known_adults_and_never_above_a_days_most() {
        let caffeine = |age, weight| advice(&Asked { age, ..asked(210, weight) }).caffeine_most;
        assert_eq!(caffeine(Age::Unknown, Some(60)), None);
        assert_eq!(caffeine(Age::Adult, Some(133)), Some(400));
        assert_eq!(caffeine(Age::Adult, Some(134)), Some(400));
        assert_eq!(caffeine(Age::Adult, Some(132)), Some(395));
    }

    #[test]
    fn under_eighteen_and_referred_get_no_figures_whatever_is_known() {
        let young = Asked { age: Age::Under18, ..asked(210, Some(60)) };
        assert_eq!(fuel(&young), Fuel::Withheld { why: Why::Under18 });
        let referred = Asked { is_referred: true, ..asked(210, Some(60)) };
        assert_eq!(fuel(&referred), Fuel::Withheld { why: Why::Referred });
        assert_eq!(fuel(&Asked { is_referred: true, ..young }), Fuel::Withheld { why: Why::Under18 });
        let years = |years| Age::reached(years);
        assert_eq!((years(Some(17)), years(Some(19)), years(None)), (Age::Under18, Age::Adult, Age::Unknown));
        assert_eq!(years(Some(18)), Age::Under18, "may turn 18 after the race");
    }

    #[test]
    fn the_main_goal_is_planned_with_between_the_best_and_the_least() {
        let time = |minutes: u32| Some(RaceTime::seconds(minutes * 60));
        let expected = |times| {
            let expected = ExpectedTime::of_goals(&GoalTimes { times })?;
            Some([expected.fastest, expected.likely, expected.slowest].map(|time| time.as_seconds() / 60))
        };
        assert_eq!(expected([time(200), time(205), time(230)]), Some([200, 205, 230]));
        assert_eq!(expected([time(200), None, time(230)]), Some([200, 230, 230]));
        assert_eq!(expected([time(200), None, None]), Some([200, 200, 200]));
        assert_eq!(expected([None; 3]), None);
        let half = ExpectedTime::assumed(Distance::millimetres(21_097_500));
        assert_eq!((half.likely.as_seconds(), half.assumed), (7595, true), "six minutes a kilometre");
    }

    fn plan(minutes: u32, piece: u16, an_hour: u16) -> Option<Schedule> {
        let pieces = Pieces { piece_grams: Some(piece), grams_an_hour: Some(an_hour) };
        advice(&Asked { pieces, ..asked(minutes, None) }).during?.chosen?.schedule
    }

    #[test]
    fn pieces_stand_at_times_that_can_be_remembered() {
        let gels = plan(210, 25, 60).expect("a schedule");
        assert_eq!((gels.pieces, gels.every, gels.times, gels.grams()), (1, 25, 8, 200));
        let chews = plan(210, 5, 60).expect("a schedule");
        assert_eq!((chews.pieces, chews.every, chews.times, chews.grams()), (3, 15, 13, 195));
        let forty = plan(120, 25, 40).expect("a schedule");
        assert_eq!((forty.every, forty.times), (40, 2), "37.5 minutes are 40");
        assert_eq!((plan(210, 25, 0), plan(59, 25, 60)), (None, None));
    }

    #[test]
    fn nothing_is_taken_in_the_last_ten_minutes() {
        assert_eq!(plan(85, 25, 60).map(|plan| plan.times), Some(3));
        assert_eq!(plan(84, 25, 60).map(|plan| plan.times), Some(2));
        assert_eq!(plan(60, 90, 60), None, "the first would come after the race");
    }

    #[test]
    fn each_time_has_its_place_on_the_course() {
        let takes = plan(84, 25, 60).expect("a schedule").takes(|after| {
            Some(Distance::metres(i64::from(after.as_seconds()) * 4)).filter(|_| after.as_seconds() < 2000)
        });
        let said: Vec<_> = takes.iter().map(|take| (take.after.to_string(), take.at)).collect();
        assert_eq!(said, [("25:00".to_owned(), Some(Distance::metres(6000))), ("50:00".to_owned(), None)]);
    }

    #[test]
    fn what_was_chosen_is_held_against_what_is_known() {
        let against = |minutes, rate| {
            let pieces = Pieces { piece_grams: None, grams_an_hour: Some(rate) };
            advice(&Asked { pieces, ..asked(minutes, None) }).during?.chosen.map(|chosen| chosen.against)
        };
        assert_eq!((against(120, 29), against(120, 30)), (Some(Against::Below), Some(Against::Within)));
        assert_eq!((against(120, 60), against(120, 61)), (Some(Against::Within), Some(Against::Above)));
        assert_eq!((against(210, 90), against(210, 91)), (Some(Against::Within), Some(Against::TooMuch)));
    }
}
