//! Weather. Nothing here promises a time.

use planning::heat::{Air, Celsius, FASTEST_AIR, Flag, Habituation, Slowing, Weather, air, flag, slowing};
use planning::{Milli, Share};

use crate::words::{number, short_number};

/// `14.5`, without the unit.
fn degrees(value: Celsius) -> String {
    number(Milli(i32::from(value.as_tenths()) * 100))
}

/// The weather as it is expected: `Expected: air 20 °C, wet-bulb globe 16 °C.` Nothing where nothing is.
pub fn expected(weather: &Weather) -> Option<String> {
    let air = weather.air.map(|air| format!("air {} \u{b0}C", degrees(air)));
    let wbgt = weather.wbgt.map(|wbgt| format!("wet-bulb globe {} \u{b0}C", degrees(wbgt)));
    let parts: Vec<String> = air.into_iter().chain(wbgt).collect();
    (!parts.is_empty()).then(|| format!("Expected: {}.", parts.join(", ")))
}

/// What the athlete makes of it: nothing where it is neither warm nor cold.
pub fn for_athlete(weather: &Weather) -> Option<&'static str> {
    if weather.is_dangerous() {
        Some(
            "It will be dangerously hot: in such heat races are called off. Do not race in it whatever the goal; ask your \
             coach what to do instead, and follow the race's medical advice.",
        )
    } else if weather.is_warm() {
        Some(
            "It will be warm: start slower than planned and let the goal wait for another day. Shade and water on the skin \
             help. Follow the race's medical advice, and stop if you feel confused, cold or faint.",
        )
    } else if weather.is_cold() {
        Some(
            "It will be cold: keep a layer on until the start, cover hands and ears, and put on something dry right after \
             the finish.",
        )
    } else {
        None
    }
}

/// What the coach may want to know, a paragraph each.
pub fn for_coach(weather: &Weather) -> Vec<String> {
    let mut said = Vec::new();
    if let Some(wbgt) = weather.wbgt {
        said.push(flag_words(flag(wbgt)).to_owned());
        match slowing(wbgt) {
            Some(found) => said.push(slowing_words(&found)),
            None if wbgt > Celsius::tenths(250) => said.push(
                "Above 25 \u{b0}C wet-bulb globe no marathons were looked at: expect to lose more than below."
                    .to_owned(),
            ),
            None => {}
        }
    }
    said.extend(weather.air.and_then(air_words));
    said
}

const fn flag_words(flag: Flag) -> &'static str {
    match flag {
        Flag::White => "White flag: the risk is from cold.",
        Flag::Green => "Green flag: little risk from heat.",
        Flag::Yellow => "Yellow flag: some risk from heat, more for whoever is not used to it.",
        Flag::Red => {
            "Red flag: high risk from heat. Who is not used to it, was ill lately or takes medicine should think about not \
             starting."
        }
        Flag::Black => "Black flag: extreme risk from heat. Races are called off; nobody should race.",
    }
}

fn slowing_words(found: &Slowing) -> String {
    let percent = |share: Share| short_number(share.0 * 100.0);
    let (least, most) = found.men_range();
    format!(
        "In marathons at {}\u{2013}{} \u{b0}C wet-bulb globe the best men were {}\u{2013}{}% slower than the record of the \
         course, {}% on average, the best women {}%. Slower runners lost more. That is what was measured, not what will be.",
        degrees(found.wbgt.0),
        degrees(found.wbgt.1),
        percent(least),
        percent(most),
        percent(found.men),
        percent(found.women),
    )
}

fn air_words(value: Celsius) -> Option<String> {
    let (from, to) = FASTEST_AIR;
    let than = match air(value) {
        Air::Best => return None,
        Air::Cooler => "colder",
        Air::Warmer => "warmer",
    };
    Some(format!(
        "The air is {than} than the {}\u{2013}{} \u{b0}C at which marathons are run fastest. By how much that slows one \
         runner nobody can say.",
        degrees(from),
        degrees(to)
    ))
}

/// A note to the coach, while there is time to get used to heat.
pub fn habituation(note: &Habituation) -> String {
    format!(
        "If you like: easy runs in the warm hour, or a hot bath after an easy run, on {}\u{2013}{} of the days that are \
         left, and none in the last {}\u{2013}{} days. No running is added and the hard days stay as they are. Drink to \
         thirst, end it at the first dizziness, and ask a clinician first where there is an illness or medicine.",
        note.days.0, note.days.1, note.stop.0, note.stop.1
    )
}

/// Where the figures come from, for the coach.
pub const SOURCES: &str = "Slowing: Ely and others 2007, Medicine and Science in Sports and Exercise 39(3). Flags: American \
College of Sports Medicine, read in a secondary source. Air: El Helou and others 2012, doi 10.1371/journal.pone.0037407. \
Getting used to heat: National Athletic Trainers\u{2019} Association 2002; the number of days is common practice.";

#[cfg(test)]
mod tests {
    use super::*;

    fn weather(air: Option<i16>, wbgt: Option<i16>) -> Weather {
        Weather { air: air.map(Celsius::tenths), wbgt: wbgt.map(Celsius::tenths) }
    }

    #[test]
    fn what_is_known_of_the_weather_is_said() {
        assert_eq!(expected(&weather(None, None)), None);
        let both = weather(Some(-25), Some(165));
        assert_eq!(expected(&both).as_deref(), Some("Expected: air -2.5 \u{b0}C, wet-bulb globe 16.5 \u{b0}C."));
    }

    #[test]
    fn under_a_black_flag_the_athlete_is_told_not_to_race() {
        let said = |wbgt| for_athlete(&weather(Some(330), Some(wbgt))).unwrap();
        assert!(said(281).starts_with("It will be dangerously hot"));
        assert!(said(280).starts_with("It will be warm"));
    }

    #[test]
    fn slowing_is_a_range_of_what_was_measured() {
        let said = for_coach(&weather(None, Some(165)));
        assert_eq!(
            said[1],
            "In marathons at 15.1\u{2013}20 \u{b0}C wet-bulb globe the best men were 1.3\u{2013}5.3% slower than the record \
             of the course, 3.3% on average, the best women 3.8%. Slower runners lost more. That is what was measured, not \
             what will be."
        );
        assert!(for_coach(&weather(None, Some(250))).iter().all(|line| !line.contains("Above 25")));
        assert!(for_coach(&weather(None, Some(251)))[1].starts_with("Above 25"));
    }

    #[test]
    fn air_alone_promises_no_number() {
        let said = for_coach(&weather(Some(210), None)).join(" ");
        assert!(said.contains("warmer than the 3.8\u{2013}9.9 \u{b0}C") && !said.contains('%'), "{said}");
        assert!(for_coach(&weather(Some(70), None)).is_empty());
    }

    #[test]
    fn an_athlete_is_told_of_heat_and_cold_only() {
        let said = |air| for_athlete(&weather(Some(air), None)).unwrap_or_default();
        assert!(said(180).contains("start slower") && said(180).contains("medical advice"));
        assert!(said(37).contains("cold"));
        assert_eq!(said(100), "");
    }
}
