//! Food, drink and caffeine around a race. Where no figures are given, no word here holds a digit.

use planning::fuel::{
    AFTER_HOURS, Advice, Against, ByWeight, CAFFEINE, CAFFEINE_DAY, Fuel, LOADING_HOURS, MEAL_HOURS, MOST_AN_HOUR,
    Schedule, Take, Why,
};
use planning::{DistanceUnit, Milli};

use crate::words::{number, place, plural};

/// Who reads it: that decides how an amount is said that follows from body weight.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reader {
    /// The coach: for each kilogram, and in grams where a weight is noted.
    Coach,
    /// Paper that the coach hands over: grams where a weight is noted, never both, which would give the
    /// weight away.
    Paper,
    /// A shared page: for each kilogram only.
    Shared,
}

/// What is said of food and drink, each a sentence or two; nothing where there is nothing to say.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct FuelWords {
    /// Why there are no figures, and who helps instead.
    pub withheld: Option<&'static str>,
    /// The last days before.
    pub loading: Option<String>,
    /// The last meal.
    pub meal: Option<String>,
    /// On the way.
    pub during: Option<String>,
    /// After the race.
    pub after: Option<String>,
    /// Drinking.
    pub drink: &'static str,
    /// Caffeine.
    pub caffeine: String,
    /// For whom the figures are; nothing where there are none.
    pub for_whom: Option<&'static str>,
    /// What the coach should know of the figures, never for athletes.
    pub for_coach: Vec<String>,
}

/// Everything that is said of food and drink; `piece` is what the athlete calls what is taken on the way.
pub fn fuel(fuel: &Fuel, piece: &str, reader: Reader) -> FuelWords {
    match fuel {
        Fuel::Withheld { why } => FuelWords {
            withheld: Some(withheld(*why)),
            drink: DRINK_CALMLY,
            caffeine: no_caffeine(*why).to_owned(),
            ..FuelWords::default()
        },
        Fuel::Advised(advice) => advised(advice, piece, reader),
    }
}

const fn withheld(why: Why) -> &'static str {
    match why {
        Why::Under18 => {
            "No amounts stand here: young athletes plan food and drink around a race with their parents and, where there \
             are questions, with a professional who works with young people. The usual meals of the days before are good \
             meals for these days too."
        }
        Why::Referred => {
            "No amounts stand here: a dietitian or a clinician plans food and drink around this race. Until then the \
             usual meals of the days before are good meals for these days too."
        }
    }
}

const DRINK_CALMLY: &str = "Drink when you are thirsty, and no more than that: too much is dangerous.";

const DRINK: &str = "Drink when you are thirsty, and no more than that: never so much that you gain weight in the race. \
                     Drinking too much is dangerous.";

const fn no_caffeine(why: Why) -> &'static str {
    match why {
        Why::Under18 => "Leave caffeine out: no drinks, gels or tablets with it.",
        Why::Referred => "Caffeine is for whoever plans food and drink to decide.",
    }
}

const FOR_WHOM: &str = "The amounts are for healthy adults. In pregnancy, with diabetes, a disease of kidneys or gut, or \
                        a history of an eating disorder: ask a dietitian or clinician first.";

fn advised(advice: &Advice, piece: &str, reader: Reader) -> FuelWords {
    FuelWords {
        withheld: None,
        loading: advice.loading.map(|amount| loading(amount, reader)),
        meal: advice.meal.map(|amount| meal(amount, reader)),
        during: Some(during(advice, piece)),
        after: advice.after.map(|amount| after(amount, reader)),
        drink: DRINK,
        caffeine: caffeine(advice.caffeine_most, reader),
        for_whom: Some(FOR_WHOM),
        for_coach: for_coach(advice),
    }
}

fn loading(amount: ByWeight, reader: Reader) -> String {
    let (least, most) = LOADING_HOURS;
    format!(
        "Over the last {least} to {most} hours before the start eat mostly rice, pasta, bread, potatoes and the like: {} \
         of carbohydrate a day, less fat and fibre than usual. Your body keeps water with it, so feeling heavy is usual.",
        by_weight(amount, reader)
    )
}

fn meal(amount: ByWeight, reader: Reader) -> String {
    let (least, most) = MEAL_HOURS;
    format!(
        "The last meal stands {least} to {most} hours before the start and holds {} of carbohydrate, the nearer the \
         less: what you know from your long runs.",
        by_weight(amount, reader)
    )
}

fn after(amount: ByWeight, reader: Reader) -> String {
    format!(
        "In the first {AFTER_HOURS} hours after the race {} of carbohydrate an hour fill the stores fastest; after that \
         eat as usual.",
        by_weight(amount, reader)
    )
}

fn during(advice: &Advice, piece: &str) -> String {
    let Some(during) = &advice.during else {
        return "The race is short enough to need nothing on the way.".to_owned();
    };
    let Some(chosen) = &during.chosen else {
        let practised = if during.band.is_practised {
            " The upper end is for those who have practised it on long runs."
        } else {
            ""
        };
        // A time that nobody set as a goal would read as one.
        let whole = if advice.expected.assumed {
            String::new()
        } else {
            format!(", {}\u{2013}{} g in {}", during.grams.0, during.grams.1, advice.expected.likely)
        };
        return format!(
            "On the way {}\u{2013}{} g of carbohydrate an hour{whole}, in what you have practised with.{practised}",
            during.band.least, during.band.most
        );
    };
    match &chosen.schedule {
        Some(plan) => schedule(plan, piece),
        None if chosen.grams_an_hour == 0 => "Nothing is taken on the way, as rehearsed.".to_owned(),
        None => format!("On the way {} g of carbohydrate an hour, as rehearsed.", chosen.grams_an_hour),
    }
}

/// `1 gel (25 g) every 25 minutes, the first after 25 minutes: 8 in all, 200 g of carbohydrate.`
fn schedule(plan: &Schedule, piece: &str) -> String {
    let piece = if piece.trim().is_empty() { "piece" } else { piece.trim() };
    let each = if plan.pieces == 1 { String::new() } else { " each".to_owned() };
    format!(
        "{} \u{d7} {piece} ({} g{each}) every {every} minutes, the first after {every}: {} in all, {} g of carbohydrate.",
        plan.pieces,
        plan.piece_grams,
        plan.all_pieces(),
        plan.grams(),
        every = plan.every,
    )
}

/// When something is taken: the time from the start and, where it is known, the place: `0:50`, `about 9.5 km`.
pub fn take(take: &Take, units: DistanceUnit) -> (String, Option<String>) {
    let minutes = take.after.as_seconds() / 60;
    let at = take.at.map(|at| format!("about {}", place(at, units)));
    (format!("{}:{:02}", minutes / 60, minutes % 60), at)
}

fn caffeine(most: Option<u32>, reader: Reader) -> String {
    let amount = match (most, reader) {
        // A figure would say that a weight is noted.
        (None, _) | (_, Reader::Shared) => return format!("{CAFFEINE_ONLY}."),
        (Some(CAFFEINE_DAY), Reader::Coach) => format!("{CAFFEINE_DAY} mg (the most in a day for adults)"),
        (Some(most), Reader::Coach) => format!("{most} mg ({CAFFEINE} mg for each kilogram)"),
        (Some(most), Reader::Paper) => format!("{most} mg"),
    };
    format!("{CAFFEINE_ONLY}, and then at most {amount} about an hour before the start. It is not needed.")
}

const CAFFEINE_ONLY: &str = "Caffeine only as you have rehearsed it in training";

/// `10–12 g for each kilogram`, and in grams as the reader may know them.
fn by_weight(amount: ByWeight, reader: Reader) -> String {
    let tenths = |tenths: u16| number(Milli(i32::from(tenths) * 100));
    let each = format!("{}\u{2013}{} g for each kilogram", tenths(amount.least), tenths(amount.most));
    let grams = amount.grams().map(|(least, most)| format!("{least}\u{2013}{most} g"));
    match (grams, reader) {
        (Some(grams), Reader::Coach) => format!("{each} ({grams})"),
        (Some(grams), Reader::Paper) => grams,
        _ => format!("{each} of body weight"),
    }
}

fn for_coach(advice: &Advice) -> Vec<String> {
    let mut said = Vec::new();
    if advice.expected.assumed {
        said.push(format!(
            "No goal is a time, so the race is taken to last about {} (six minutes for each kilometre); with a time as goal \
             the amounts follow that.",
            advice.expected.likely
        ));
    }
    let Some(during) = &advice.during else { return said };
    let Some(chosen) = &during.chosen else { return said };
    let rate = chosen.grams_an_hour;
    let band = format!("{}\u{2013}{} g an hour", during.band.least, during.band.most);
    match chosen.against {
        Against::Within => {}
        Against::Below => said.push(format!("{rate} g an hour are less than the {band} that are known to help.")),
        Against::Above => said.push(format!(
            "{rate} g an hour are more than the {band} that are usual in a race of this length: only where they were \
             practised."
        )),
        Against::TooMuch => said.push(format!(
            "{rate} g an hour are more than {MOST_AN_HOUR} g, and more than that is not known to be taken up."
        )),
    }
    said
}

/// The pieces in the whole race, for a list of things to take: `8 × gel`.
pub fn pieces_to_carry(plan: &Schedule, piece: &str) -> String {
    format!("{} for the way", pieces(plan.all_pieces(), piece))
}

/// What is taken between a station and the next, for the place of the station: `then 3 × gel`; nothing for none.
pub fn from_a_station(count: u32, piece: &str) -> Option<String> {
    (count > 0).then(|| format!("then {}", pieces(count, piece)))
}

/// What is taken before the first station; nothing for none.
pub fn to_the_first_station(count: u32, piece: &str) -> Option<String> {
    (count > 0).then(|| format!("To the first station: {}.", pieces(count, piece)))
}

/// `3 × gel`
fn pieces(count: u32, piece: &str) -> String {
    let piece = piece.trim();
    if piece.is_empty() { plural(count as usize, "piece") } else { format!("{count} \u{d7} {piece}") }
}

/// Where the figures come from, for the coach.
pub const SOURCES: &str = "Before a race of more than 90 minutes and a day's carbohydrate: joint position stand of ACSM, \
AND and Dietitians of Canada 2016; Burke and others 2011. The last meal, the way and after: a review on dietary \
carbohydrate and the endurance athlete. Drinking: PubMed 17277604; the consensus on low blood sodium, British \
Journal of Sports Medicine 49(22), 2015. Caffeine: Guest and others 2021. General guidance for adults; a dietitian \
decides.";

#[cfg(test)]
mod tests;
