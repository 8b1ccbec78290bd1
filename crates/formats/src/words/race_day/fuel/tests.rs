use planning::fuel::{Age, Asked, ExpectedTime, Pieces};
use planning::{Distance, RaceTime, Weight};
use proptest::prelude::*;

use super::*;

const READERS: [Reader; 3] = [Reader::Coach, Reader::Paper, Reader::Shared];

fn asked(minutes: u32, kilograms: Option<u32>, age: Age) -> Asked {
    let time = RaceTime::seconds(minutes * 60);
    Asked {
        expected: ExpectedTime { fastest: time, likely: time, slowest: time, assumed: false },
        weight: kilograms.and_then(|kilograms| Weight::grams(kilograms * 1000)),
        age,
        is_referred: false,
        pieces: Pieces { piece_grams: Some(25), grams_an_hour: Some(60) },
    }
}

fn said(asked: &Asked, reader: Reader) -> FuelWords {
    fuel(&planning::fuel::fuel(asked), "gel", reader)
}

#[test]
fn an_adult_with_a_weight_reads_grams_on_paper() {
    let said = said(&asked(210, Some(60), Age::Adult), Reader::Paper);
    let expected = FuelWords {
        withheld: None,
        loading: Some(
            "Over the last 36 to 48 hours before the start eat mostly rice, pasta, bread, potatoes and the like: \
             600\u{2013}720 g of carbohydrate a day, less fat and fibre than usual. Your body keeps water with it, so \
             feeling heavy is usual."
                .to_owned(),
        ),
        meal: Some(
            "The last meal stands 1 to 4 hours before the start and holds 60\u{2013}240 g of carbohydrate, the nearer the \
             less: what you know from your long runs."
                .to_owned(),
        ),
        during: Some(
            "1 \u{d7} gel (25 g) every 25 minutes, the first after 25: 8 in all, 200 g of carbohydrate.".to_owned(),
        ),
        after: Some(
            "In the first 4 hours after the race 60\u{2013}70 g of carbohydrate an hour fill the stores fastest; after that \
             eat as usual."
                .to_owned(),
        ),
        drink: DRINK,
        caffeine: "Caffeine only as you have rehearsed it in training, and then at most 180 mg about an hour before the \
                   start. It is not needed."
            .to_owned(),
        for_whom: Some(FOR_WHOM),
        for_coach: vec![],
    };
    assert_eq!(said, expected);
}

#[test]
fn an_adult_without_a_weight_reads_grams_for_each_kilogram() {
    let without = asked(210, None, Age::Adult);
    let words = said(&without, Reader::Paper);
    assert!(words.loading.is_some_and(|text| text.contains("10\u{2013}12 g for each kilogram of body weight of")));
    assert!(words.after.is_some_and(|text| text.contains("1\u{2013}1.2 g for each kilogram of body weight of")));
    assert_eq!(words.caffeine, "Caffeine only as you have rehearsed it in training.");
}

#[test]
fn the_coach_reads_both_and_a_shared_page_never_grams_that_follow_from_a_weight() {
    let weighed = asked(210, Some(60), Age::Adult);
    let coach = said(&weighed, Reader::Coach);
    assert!(coach.loading.is_some_and(|text| text.contains("10\u{2013}12 g for each kilogram (600\u{2013}720 g) of")));
    assert!(coach.caffeine.contains("180 mg (3 mg for each kilogram)"));
    let shared = |kilograms| said(&asked(210, kilograms, Age::Adult), Reader::Shared);
    assert_eq!(shared(Some(60)), shared(None), "not even whether a weight is noted");
}

#[test]
fn a_runner_of_sixteen_reads_no_figure() {
    let said = said(&asked(45, Some(55), Age::Under18), Reader::Paper);
    let expected = FuelWords {
        withheld: Some(
            "No amounts stand here: young athletes plan food and drink around a race with their parents and, where there \
             are questions, with a professional who works with young people. The usual meals of the days before are good \
             meals for these days too.",
        ),
        drink: "Drink when you are thirsty, and no more than that: too much is dangerous.",
        caffeine: "Leave caffeine out: no drinks, gels or tablets with it.".to_owned(),
        ..FuelWords::default()
    };
    assert_eq!(said, expected);
}

#[test]
fn without_a_chosen_rate_the_band_is_said() {
    let during = |minutes| {
        let pieces = Pieces::default();
        said(&Asked { pieces, ..asked(minutes, None, Age::Adult) }, Reader::Coach).during.unwrap_or_default()
    };
    assert_eq!(
        during(90),
        "On the way 30\u{2013}60 g of carbohydrate an hour, 45\u{2013}90 g in 1:30:00, in what you have practised with."
    );
    assert_eq!(
        during(210),
        "On the way 60\u{2013}90 g of carbohydrate an hour, 210\u{2013}315 g in 3:30:00, in what you have practised with. \
         The upper end is for those who have practised it on long runs."
    );
    assert_eq!(during(40), "The race is short enough to need nothing on the way.");
}

#[test]
fn the_coach_is_told_what_a_figure_rests_on() {
    let rate = |rate| {
        let pieces = Pieces { piece_grams: None, grams_an_hour: Some(rate) };
        said(&Asked { pieces, ..asked(120, None, Age::Adult) }, Reader::Coach).for_coach.join(" ")
    };
    assert_eq!((rate(30).as_str(), rate(60).as_str()), ("", ""));
    assert!(rate(20).starts_with("20 g an hour are less than the 30\u{2013}60 g an hour"));
    assert!(rate(70).contains("only where they were practised") && rate(100).contains("more than 90 g"));
    let expected = ExpectedTime::assumed(Distance::metres(42_195));
    let assumed = said(&Asked { expected, ..asked(1, None, Age::Adult) }, Reader::Coach);
    assert!(assumed.for_coach[0].starts_with("No goal is a time, so the race is taken to last about 4:13:10"));
}

#[test]
fn a_piece_has_its_time_and_its_place() {
    let at = |metres| Take { after: RaceTime::seconds(3000), at: Some(Distance::metres(metres)) };
    assert_eq!(take(&at(9460), DistanceUnit::Km), ("0:50".to_owned(), Some("about 9.5 km".to_owned())));
    assert_eq!(take(&at(9460), DistanceUnit::Mi), ("0:50".to_owned(), Some("about 5.9 mi".to_owned())));
    let nowhere = Take { after: RaceTime::seconds(7500), at: None };
    assert_eq!(take(&nowhere, DistanceUnit::Km), ("2:05".to_owned(), None));
}

proptest! {
    #[test]
    fn no_digit_stands_where_figures_are_withheld(
        minutes in 1_u32..6000, kilograms in proptest::option::of(25_u32..250), young: bool, piece in 0_u16..200,
        rate in 0_u16..120, reader in 0_usize..3,
    ) {
        let asked = Asked {
            is_referred: !young,
            pieces: Pieces { piece_grams: Some(piece), grams_an_hour: Some(rate) },
            ..asked(minutes, kilograms, if young { Age::Under18 } else { Age::Adult })
        };
        let words = said(&asked, READERS[reader]);
        prop_assert!(words.withheld.is_some());
        let text = format!("{words:?}");
        prop_assert!(!text.contains(|letter: char| letter.is_ascii_digit()), "{}", text);
    }

    #[test]
    fn paper_never_says_both_grams_and_grams_for_each_kilogram(minutes in 61_u32..600, kilograms in 25_u32..250) {
        let words = said(&asked(minutes, Some(kilograms), Age::Adult), Reader::Paper);
        let text = format!("{words:?}");
        prop_assert!(!text.contains("kilogram"), "{}", text);
    }
}
