//! Lines that were once refused or read wrong, by what they have in common.

use super::{Runner, offers, read_day, read_kept_day, settled, write_day};
use crate::units::DistanceUnit::{self, Km, Mi};
use crate::units::Pace;

/// Lines that are read as they stand.
fn reads(lines: &[(DistanceUnit, &str, &str)]) {
    for (units, line, meant) in lines {
        let day = read_day(line, *units).unwrap_or_else(|problems| panic!("{line}: {problems:?}"));
        assert_eq!(write_day(&day), *meant, "{line}");
        assert_eq!(read_day(meant, Km).as_ref(), Ok(&day), "{meant}");
        assert_eq!(read_kept_day(line, *units), Ok(day), "{line}");
        assert!(offers(line, *units).is_empty(), "{line}");
    }
}

/// Lines with one answer, which is taken and said.
fn settles(lines: &[(DistanceUnit, &str, &str)]) {
    for (units, line, meant) in lines {
        let offer = settled(line, *units).unwrap_or_else(|| panic!("{line}: {:?}", offers(line, *units)));
        assert_eq!(write_day(&offer.day), *meant, "{line}");
    }
}

#[test]
fn what_is_jogged_between_repetitions_is_counted_however_it_is_told() {
    reads(&[
        (Mi, "2 WU, 8x400 @ 76-77 w/ 200 jog, 2 CD", "8 x 400 m 76-77, 200 jog, 6.9 mi (2 mi WU, 2 mi CD)"),
        (Mi, "2 WU, 8x400 @ 76 w/ 200m jog, 2 CD", "8 x 400 m 76 s, 200m jog, 6.9 mi (2 mi WU, 2 mi CD)"),
        (Km, "3k wu, 6x1000 in 3:50 r 400 jog, 2k cd", "6 x 1000 m in 3:50 r 400 jog, 13 km (3 km wu, 2 km cd)"),
        (Km, "2k wu, 8x400, 200 jog, 2k cd", "8 x 400 m, 200 jog, 8.6 km (2 km wu, 2 km cd)"),
        (Km, "2k wu, 8x400, jog 200, 2k cd", "8 x 400 m, jog 200, 8.6 km (2 km wu, 2 km cd)"),
        (Km, "2k wu, 8x400 jog 200, 2k cd", "8 x 400 m jog 200, 8.6 km (2 km wu, 2 km cd)"),
        (Km, "2k wu, 8x400 off 200 easy jog, 2k cd", "8 x 400 m off 200 easy jog, 8.6 km (2 km wu, 2 km cd)"),
        (Km, "2k wu, 8x400 w/ 400 float, 2k cd", "8 x 400 m, 400 float, 10 km (2 km wu, 2 km cd)"),
        (Km, "2k wu, 10x200 (50 jog), 2k cd", "10 x 200 m, 50 jog, 6.45 km (2 km wu, 2 km cd)"),
        (Km, "20' wu, 8x2' hard jog 1', 10' cd", "8 x 2 min hard jog 1', 53 min (20 min wu, 10 min cd)"),
        // Seconds as likely as metres, and the name of a race.
        (Km, "2k wu, 8x400 w/ 90 jog, 2k cd", "8 x 400 m, 90 jog, 7.2 km (2 km wu, 2 km cd)"),
        (Km, "2k wu, 8x400 5k jog back, 2k cd", "8 x 400 m, 5k jog back, 7.2 km (2 km wu, 2 km cd)"),
        (Km, "8x400 @ 400 jog, 8", "8 x 400 m, 400 jog, 8 km"),
        // A whole that is told stays what it is.
        (Mi, "2 WU, 8x400 @ 76-77 w/ 200 jog, 2 CD, 6", "8 x 400 m 76-77, 200 jog, 6 mi (2 mi WU, 2 mi CD)"),
    ]);
    settles(&[(Km, "6x1000 in 3:50 r 400 jog", "6 x 1000 m in 3:50 r 400 jog, 12 km")]);
}
/// Lines that are asked about, with what is offered.
fn asks(lines: &[(DistanceUnit, &str, &[&str])]) {
    for (units, line, meant) in lines {
        assert!(settled(line, *units).is_none(), "{line}");
        let offered: Vec<String> = offers(line, *units).iter().map(|offer| write_day(&offer.day)).collect();
        assert_eq!(offered, *meant, "{line}");
    }
}

#[test]
fn a_small_letter_says_miles_only_where_they_are_counted() {
    let both: &[&str] = &["easy 8 mi", "easy 8 min"];
    asks(&[(Km, "8m easy", both), (Km, "8m", both)]);
    asks(&[(Mi, "6 x 800, 2:30", &["6 x 800 m, 6 mi (2:30)"]), (Km, "6 x 800, 2:30", &["6 x 800 m, 9 km (2:30)"])]);
    reads(&[(Km, "6 x 800, 2:30, 9", "6 x 800 m, 9 km (2:30)"), (Mi, "6 x 800, 1:30, 7m", "6 x 800 m, 7 mi (1:30)")]);
    // Kept as the hours of a whole run.
    let kept = read_kept_day("6 x 800, 2:30", Km).map(|day| write_day(&day));
    assert_eq!(kept.as_deref(), Ok("6 x 800 m, 150 min"));
}

#[test]
fn a_cool_down_has_names_of_many_countries() {
    let german = "6 x 800 m, 8.8 km (2 km einlaufen, 2 km auslaufen)";
    reads(&[
        (Km, "2k EL, 6x800, 2k AL", german),
        (Km, "2k EL + 6x800 + 2k AL", german),
        (Km, "2k EL / 6x800 / 2k AL", german),
        (Km, "EL 2k, 6x800, AL 2k", german),
        (Km, "2EL, 6x800, 2AL", german),
        (Km, "2k wu, 6x800, 1.5 w/d", "6 x 800 m, 8.3 km (2 km wu, 1.5 km w/d)"),
        (Km, "2k wu, 6x800, 1.5k wd", "6 x 800 m, 8.3 km (2 km wu, 1.5 km wd)"),
    ]);
    settles(&[(Km, "El Camino 10k", "easy 10 km (El Camino)")]);
}

#[test]
fn the_hard_part_in_brackets_is_the_one_that_is_called_so() {
    for parts in [
        "3 km wu, 5 km tempo, 2 km cd",
        "3 km wu + 5 km tempo + 2 km cd",
        "3 km easy, 5 km tempo, 2 km easy",
        "3 km, 5 km tempo, 2 km",
    ] {
        reads(&[(Km, &format!("10 km ({parts})"), &format!("tempo 10 km, hard 5 km ({parts})"))]);
    }
    // Distance and time have no sum, but a whole; with words that are not known they are not silently easy.
    let timed = "3 km wu, 20 min T, 2 km cd";
    reads(&[(Km, &format!("10 km ({timed})"), &format!("tempo 10 km, 1 x 20 min ({timed})"))]);
    assert!(read_day("10 km (3 km there, 20 min T, 2 km back)", Km).is_err());
    reads(&[
        (Mi, "2 mi wu, tempo 5k, 1 mi cd", "tempo 6.1 mi, 1 x 5 km (2 mi wu, 1 mi cd)"),
        (
            Km,
            "2k warm up, Parkland 5k hard, 1k cool down",
            "tempo 8 km, hard 5 km (2 km warm up, Parkland hard, 1 km cool down)",
        ),
    ]);
}

#[test]
fn a_bare_number_beside_parts_is_the_whole() {
    let whole = "tempo 6.5 mi, 1 x 20 min (2 mi warm up, 1 mi cool down)";
    reads(&[
        (Mi, "2 up, 20 min T, 1 down, 6.5", whole),
        (Mi, "2 up, 20 min T, 1 down, 6.5 mi", whole),
        (Mi, "6.5, 2 up, 20 min T, 1 down", whole),
        (Mi, "6.5: 2 up, 20 min T, 1 down", whole),
        (Mi, "6.5 mi - 2 up, 20 min T, 1 down", whole),
        (Mi, "2 up 20 min T 1 down 6.5", whole),
        (Mi, "2 up, 4 T, 1 down, 7", "tempo 7 mi, hard 4 mi (2 mi warm up, 1 mi cool down)"),
        (Mi, "2 wu, 20 min T, 2 cd, 10", "tempo 10 mi, 1 x 20 min (2 mi wu, 2 mi cd)"),
        (Km, "2 wu 5 t 2 cd 9", "tempo 9 km, hard 5 km (2 km wu, 2 km cd)"),
    ]);
}

#[test]
fn a_part_with_a_pace_of_its_own_is_hard() {
    let raced = "race pace 14 km, hard 8 km (3 km warm up, MP, @ 4:12, 3 km cool down)";
    let paced = "tempo 14 km, hard 8 km (3 km warm up, @ 4:12, 3 km cool down)";
    reads(&[
        (Km, "MP 14 km - 3 + 8 @ 4:12 + 3", raced),
        (Km, "MP 3 + 8 @ 4:12 + 3", raced),
        (Km, "MP 3 + 8 + 3", "race pace 14 km, hard 8 km (3 km warm up, MP, 3 km cool down)"),
        (Km, "3 + 8 @ 4:12 + 3", paced),
        (Km, "3 E + 8 @ 4:12 + 3 E", paced),
        (Km, "3 / 8 @ 4:12 / 3", paced),
        (Km, "14 km - 3, 8 @ 4:12, 3", paced),
        (Km, "3 wu + 8 @ 4:12 + 3 cd", "tempo 14 km, hard 8 km (3 km wu, @ 4:12, 3 km cd)"),
        (Km, "3, 8 @ MP, 3", "race pace 14 km, hard 8 km (3 km warm up, MP, 3 km cool down)"),
        (Km, "14 km: 3 / 8 @ MP / 3", "race pace 14 km, hard 8 km (3 km warm up, MP, 3 km cool down)"),
        (Km, "14 km (3 + 8 @ MP + 3)", "race pace 14 km, hard 8 km (3 + 8 @ MP + 3)"),
        (Mi, "14 km (3 + 8 @ MP + 3)", "race pace 14 km, hard 8 km (3 + 8 @ MP + 3)"),
        (Mi, "MP 14 km - 3 + 8 @ 4:12 + 3", raced),
        (Km, "14 km (8 @ 4:12)", "tempo 14 km, hard 8 km (at 4:12)"),
        (Km, "14 km, 8 @ 4:12", "tempo 14 km, hard 8 km (at 4:12)"),
        (Km, "14 km: 8 @ MP", "race pace 14 km, hard 8 km (at MP)"),
        (Km, "14 km, 8 km at marathon pace 4:12", "race pace 14 km, hard 8 km (at marathon pace 4:12)"),
        (Km, "14 km with 8 km at marathon pace 4:12", "race pace 14 km, hard 8 km (at marathon pace 4:12)"),
        (Km, "long 24, 8 @ 4:12", "long 24 km, hard 8 km (at 4:12)"),
        (Mi, "14 w/ 8 @ 7:05", "tempo 14 mi, hard 8 mi (at 7:05)"),
        // Two runs, three easy ones, and the pace of a whole run.
        (Km, "6 + 8 @ 5:30", "easy 6 km + easy 8 km (@ 5:30)"),
        (Km, "5 + 8 + 5", "easy 5 km + easy 8 km + easy 5 km"),
        (Km, "14 km @ 5:30", "easy 14 km (@ 5:30)"),
        (Km, "AM 6 + PM 8 @ 4:12", "easy 6 km (AM) + easy 8 km (PM, @ 4:12)"),
    ]);
    asks(&[
        (Km, "14 km, 8 MP", &["race pace 14 km, hard 8 km (at MP)", "race pace 22 km, hard 8 km (MP)"]),
        (Km, "14 km easy, 8 @ 5:30", &["easy 14 km, hard 8 km (at 5:30)", "easy 14 km (\"8 @ 5:30\")"]),
    ]);
}

#[test]
fn the_end_of_a_long_run_is_as_long_as_it_is_told() {
    reads(&[
        (Km, "long 24 (last 6 a bit faster)", "long 24 km, hard 6 km (at the end, a bit faster)"),
        (Km, "long 24, last 6 slightly quicker", "long 24 km, hard 6 km (at the end, slightly quicker)"),
        (Km, "18 long, last 4 quicker", "long 18 km, hard 4 km (at the end, quicker)"),
        (Km, "long 2h (last 30' faster)", "long 120 min, hard 30 min (at the end, faster)"),
        (Km, "24 km: 8 easy 8 steady 8 MP", "race pace 24 km, hard 8 km (MP, 8 easy, 8 steady)"),
        (Km, "24: 8 easy, 8 steady, 8 @ MP", "race pace 24 km, hard 8 km (at MP, 8 easy, 8 steady)"),
    ]);
    asks(&[(
        Km,
        "long 24 (easy, last part at MP)",
        &["long 24 km, hard 12 km (easy, last part at MP)", "long 24 km (\"easy, last part at MP\")"],
    )]);
}

#[test]
fn strides_and_strength_have_one_short_form() {
    let both: &[&str] = &["easy 7 km (with strides)", "easy 7 km + strength"];
    asks(&[(Km, "7 E + str", both), (Km, "7 E, str", both)]);
    settles(&[(Km, "7 E + 4 str", "easy 7 km (with 4 strides)")]);
    reads(&[(Km, "7 E + strides", "easy 7 km (with strides)")]);
}

#[test]
fn strength_beside_rest_is_a_session_of_a_day_without_running() {
    for line in ["rest, gym", "off + gym", "rest (gym)", "rest/gym"] {
        reads(&[(Km, line, "strength")]);
    }
    reads(&[
        (Km, "rest, core", "strength (core)"),
        (Km, "rest - gym if legs ok", "rest (gym if legs ok)"),
        (Km, "rest or gym", "strength (\"or rest\")"),
        (Km, "rest (\"gym\")", "rest (\"gym\")"),
        (Km, "rest, swim", "rest (swim)"),
    ]);
}

#[test]
fn running_and_walking_by_turns_is_how_an_easy_run_is_run() {
    reads(&[
        (Km, "30' easy run/walk 4:1", "easy 30 min (\"run/walk 4:1\")"),
        (Km, "run/walk 30 min", "easy 30 min (\"run/walk\")"),
        (Km, "40 min run-walk", "easy 40 min (\"run-walk\")"),
        (Km, "34 min run/walk", "easy 34 min (\"run/walk\")"),
        (Km, "34 min run-walk (1:1)", "easy 34 min (\"run-walk, 1:1\")"),
        (Km, "34 min 1:1 run/walk", "easy 34 min (\"1:1 run/walk\")"),
        (Km, "AM 34 min run/walk, PM gym", "easy 34 min (\"AM, run/walk\") + strength (PM)"),
        (Km, "34 min run 1 walk 1", "easy 34 min (\"run 1 walk 1\")"),
        (Km, "34 min, run 1, walk 1", "easy 34 min (\"run 1, walk 1\")"),
        (Km, "40 min w/ run 4 walk 1", "easy 40 min (\"run 4 walk 1\")"),
        (Km, "run 4 min walk 1 min, 40 min", "easy 40 min (\"run 4 min walk 1 min\")"),
        (Km, "34 min: 17 x (1 run/1 walk)", "easy 34 min (\"1 run/1 walk\")"),
        // Without the whole it is all turns together.
        (Km, "17 x (1 run/1 walk)", "easy 34 min (\"1 run/1 walk\")"),
        (Km, "17x(1' run 1' walk)", "easy 34 min (\"1' run 1' walk\")"),
        (Km, "run 1 walk 1 x 17", "easy 34 min (\"run 1 walk 1\")"),
        (Km, "(run 1, walk 1) x 17", "easy 34 min (\"run 1, walk 1\")"),
        (Km, "6 x 3 min run, 2 min walk", "easy 30 min (\"3 min run, 2 min walk\")"),
        (Km, "10 x (90s jog, 60s walk)", "easy 25 min (\"90s jog, 60s walk\")"),
        (Km, "jog 2 min walk 1 min for 30 min", "easy 30 min (\"jog 2 min walk 1 min\")"),
        (Km, "30 min alternating run 2 walk 1", "easy 30 min (\"run 2 walk 1\")"),
        (Km, "beginners: 8 x (60s run, 90s walk)", "easy 20 min (\"beginners, 60s run, 90s walk\")"),
        (Km, "easy 8 x (60s run, 90s walk)", "easy 20 min (\"60s run, 90s walk\")"),
        (
            Km,
            "5 min walk, 8 x (60s run/90s walk), 5 min walk",
            "cross-training 5 min (\"walk\") + easy 20 min (\"60s run/90s walk\") + cross-training 5 min (\"walk\")",
        ),
        (Km, "run/walk 5", "easy 5 km (\"run/walk\")"),
        // A walk of its own, and the rest of hard repetitions.
        (Km, "run 30 min, walk 10 min", "easy 30 min + cross-training 10 min (\"walk\")"),
        (Km, "6 x 3 min hard (2 min walk), 50 min", "6 x 3 min hard, 2 min walk, 50 min"),
        (Km, "(optional) 20-25 min very easy", "easy 20-25 min (very easy, optional)"),
    ]);
    asks(&[(Km, "run/walk 30", &["easy 30 min (\"run/walk\")", "easy 30 km (\"run/walk\")"])]);
}

#[test]
fn rounds_and_ladders_are_repetitions() {
    let ladder = "1 x 400 m, 1 x 800 m, 1 x 1200 m, 1 x 800 m, 1 x 400 m";
    reads(&[
        (Km, "45' w/ 5x(1' hard 1' easy)", "5 x 1 min hard, recovery \"1' easy\", 45 min"),
        (Km, "5x(1' hard, 1' easy), 45 min", "5 x 1 min hard, recovery \"1' easy\", 45 min"),
        (Km, "8 km: 30/30 x 20", "20 x 30 s, recovery \"30 s easy\", 8 km"),
        (Km, "8 km w/ 20 x 30/30", "20 x 30 s, recovery \"30 s easy\", 8 km"),
        (Km, "2k wu, 400-800-1200-800-400, 2k cd", &format!("{ladder}, 7.6 km (2 km wu, 2 km cd)")),
    ]);
    settles(&[
        (Km, "5x(1' hard 1' easy)", "5 x 1 min hard, recovery \"1' easy\", 35 min"),
        (Km, "30/30 x 20", "20 x 30 s, recovery \"30 s easy\", 45 min"),
        (Km, "400 800 1200 800 400", &format!("{ladder}, 8 km")),
        (Km, "pyramid 400-800-1200-800-400", &format!("{ladder}, 8 km (pyramid)")),
    ]);
    asks(&[(
        Km,
        "parkland 5k + wu/cd",
        &["time trial 9 km, hard 5 km (parkland, wu/cd)", "easy 9 km (parkland 5k, wu/cd)"],
    )]);
}

#[test]
fn a_run_behind_another_sport_is_a_run() {
    reads(&[
        (Km, "bike 30 then run 5k", "cross-training 30 min (bike) + easy 5 km"),
        (Km, "bike 30 min then easy 5k", "cross-training 30 min (bike) + easy 5 km"),
    ]);
}

#[test]
fn a_rest_behind_repetitions_is_no_whole_and_no_pace() {
    reads(&[
        (Mi, "XC: 5 x 1k @ 5k, 3 min, 7 mi", "5 x 1 km 5k, recovery \"3 min\", 7 mi (XC)"),
        (Km, "5x1k, 90 s, 10k", "5 x 1 km, recovery \"90 s\", 10 km"),
        (Km, "6 x 800, 2', 2k wu, 2k cd", "6 x 800 m, recovery \"2'\", 8.8 km (2 km wu, 2 km cd)"),
        (Km, "10' wu, 3x(5' T, 2' E), 10' cd", "3 x 5 min T, recovery \"2' E\", 39 min (10 min wu, 10 min cd)"),
        // The time of a repetition, perhaps.
        (Km, "8x400 (90s), 8k", "8 x 400 m, 8 km (90s)"),
    ]);
    settles(&[
        (Km, "6 x 800, 2'", "6 x 800 m, recovery \"2'\", 9 km"),
        (Km, "tempo 3 x 10' (2')", "tempo 55 min, 3 x 10 min, recovery \"2'\""),
    ]);
}

#[test]
fn repetitions_behind_a_run_are_rather_a_part_of_it_than_a_session_of_their_own() {
    asks(&[
        (Km, "8 km + 10x30s", &["10 x 30 s, 8 km", "easy 8 km + 10 x 30 s, 30 min"]),
        (Km, "3 + 6x800", &["6 x 800 m, 7.8 km (3 km warm up)", "easy 3 km + 6 x 800 m, 9 km"]),
        (Km, "2 x 15 min T + 6 x 200", &["2 x 15 min T, 6 x 200 m, 12 km", "2 x 15 min T, 55 min + 6 x 200 m, 6 km"]),
        (Mi, "3 mi + 4x100", &["4 x 100 m, 3 mi", "easy 3 mi + 4 x 100 m, 4 mi"]),
    ]);
}

#[test]
fn tired_coaches_turn_words_around() {
    reads(&[
        (Mi, "20 min tempo in middle of 7", "tempo 7 mi, 1 x 20 min (tempo in the middle)"),
        (Km, "6k tempo in the middle of 12k", "tempo 12 km, hard 6 km (tempo in the middle)"),
        (Mi, "mile repeats x 4 @ 10k w/ 2 min, 8 mi", "4 x 1 mi 10k w/ 2 min, 8 mi"),
        (Km, "2k wu, 800 x 6, 2k cd", "6 x 800 m, 8.8 km (2 km wu, 2 km cd)"),
        (Km, "3k, 5x1k, 2k", "5 x 1 km, 10 km (3 km warm up, 2 km cool down)"),
        (Km, "20' E / 20' M / 20' E", "race pace 60 min, hard 20 min (20 min warm up, 20 min cool down)"),
        (Km, "10 inc. 2x10' T", "2 x 10 min T, 10 km"),
        (
            Km,
            "2 up, 3 x (1k, 500, 200), 2 down",
            "3 x 1000 m, 3 x 500 m, 3 x 200 m, 9.1 km (2 km warm up, in rounds, 2 km cool down)",
        ),
        (Km, "trail 15k/600m", "easy 15 km (trail, /600m)"),
        (Km, "15 km 600 hm", "easy 15 km (\"600 hm\")"),
        (Km, "90 min GA1", "easy 90 min"),
        (Km, "langer Lauf 22", "long 22 km"),
        (Km, "Ruhetag", "rest"),
    ]);
    settles(&[
        (Mi, "Meet day - 5k", "time trial 5 km (Meet day)"),
        (Km, "2 km easy, 8x30 sec hills, 2 km easy", "8 x 30 s hills, 5 km (2 km easy warm up, 2 km easy cool down)"),
        (Km, "3 x (800 400)", "3 x 800 m, 3 x 400 m, 8 km (in rounds)"),
        (Km, "easy 8, meet at the park", "easy 8 km (meet at the park)"),
    ]);
    asks(&[
        (Km, "easy 5, ST", &["easy 5 km (with strides)", "easy 5 km + strength"]),
        (Km, "club: 3x10 off 2", &["3 x 10 min off 2, 55 min (club)", "3 x 10 km off 2, 34 km (club)"]),
    ]);
}

#[test]
fn what_is_done_besides_a_run_of_numbers_stays_beside_it() {
    let paced = "tempo 14 km, hard 8 km (3 km warm up, @ 4:12, 3 km cool down";
    reads(&[
        (Km, "3 + 8 @ 4:12 + 3 + gym", &format!("{paced}) + strength")),
        (Km, "3 + 8 @ 4:12 + 3, strides", &format!("{paced}, with strides)")),
        (Km, "3 + 8 @ 4:12 + 3 (with Jo)", &format!("{paced}, with Jo)")),
        (Km, "14 km, 8 @ 4:12, strides", "tempo 14 km, hard 8 km (at 4:12, with strides)"),
        (Km, "14 km, 8 km @ 4:12, gym", "tempo 14 km, hard 8 km (at 4:12) + strength"),
    ]);
    // A time of day is no pace.
    asks(&[(Km, "8 km, 6 @ 18:00", &["easy 8 km (6 @ 18:00)"])]);
}

#[test]
fn what_is_done_besides_a_run_by_its_parts_stays_beside_it() {
    let run = "tempo 10 km, hard 5 km (3 km easy warm up, 2 km easy cool down";
    for besides in [" + gym", ", gym", "; gym"] {
        reads(&[
            (Km, &format!("3+5T+2{besides}"), &format!("{run}) + strength")),
            (
                Km,
                &format!("3 + 6x1k + 2{besides}"),
                "6 x 1 km, 11 km (3 km easy warm up, 2 km easy cool down) + strength",
            ),
            (Km, &format!("2WU+4x1k+2CD{besides}"), "4 x 1 km, 8 km (2 km WU, 2 km CD) + strength"),
            (
                Km,
                &format!("T: 2+5+2{besides}"),
                "tempo 9 km, hard 5 km (2 km easy warm up, 2 km easy cool down) + strength",
            ),
        ]);
    }
    reads(&[
        (Km, "3+5T+2, with strides", &format!("{run}, with strides)")),
        (Km, "gym + 3+5T+2", &format!("strength + {run})")),
        (Km, "3 km easy, 5 km tempo, 2 km easy, with strides", &format!("{run}, with strides)")),
        (Km, "3E 4T 3E, with Jo", "tempo 10 km, hard 4 km (3 km warm up, 3 km cool down, with Jo)"),
        (Km, "easy 3 + tempo 5 + easy 2 + gym", "tempo 10 km, hard 5 km (3 km warm up, 2 km cool down) + strength"),
        (Km, "5 + 8 + 5 + gym", "easy 5 km + easy 8 km + easy 5 km + strength"),
    ]);
}

#[test]
fn rounds_of_rounds_are_as_many() {
    reads(&[
        (Km, "2k wu, 10 x 400 (400j), 2k cd", "10 x 400 m, 400 m jog, 11.6 km (2 km wu, 2 km cd)"),
        (Km, "2k wu, 2 x 400-800-400, 2k cd", "2 x 400 m, 2 x 800 m, 2 x 400 m, 7.2 km (2 km wu, in rounds, 2 km cd)"),
        (Km, "6 x 800, 400m, 9 km", "6 x 800 m, recovery \"400m\", 9 km"),
    ]);
    settles(&[
        (Km, "2 x 400-800-400", "2 x 400 m, 2 x 800 m, 2 x 400 m, 8 km (in rounds)"),
        (Km, "8x(30/30)", "8 x 30 s, recovery \"30 s easy\", 35 min"),
        (Km, "2x(10x30/30)", "20 x 30 s, recovery \"30 s easy\", 45 min (2 sets of 10)"),
        (Km, "6 x 800 (400m)", "6 x 800 m, recovery \"400m\", 9 km"),
    ]);
}

#[test]
fn another_sport_is_told_with_how_easily_it_is_done() {
    reads(&[
        (Km, "bike 60' easy", "cross-training 60 min (bike, easy)"),
        (Km, "spinning 45 min easy", "cross-training 45 min (spinning, easy)"),
        (Km, "easy bike 45", "cross-training 45 min (bike, easy)"),
        (Km, "easy 45 min bike", "cross-training 45 min (bike, easy)"),
        (Km, "60 Z2 bike", "cross-training 60 min (Z2, bike)"),
        (Km, "gym easy 30", "strength 30 min (easy)"),
        (Km, "easy gym 30", "strength 30 min (easy)"),
        (Km, "walk w/ dog 1 hr", "cross-training 60 min (\"walk, w/ dog\")"),
        (Km, "8 easy, walk 5 min every 2 km", "easy 8 km (\"walk 5 min every 2 km\")"),
    ]);
    settles(&[(Km, "easy 8 km swim 30 min", "easy 8 km + cross-training 30 min (swim)")]);
    asks(&[(Km, "easy 45 min gym", &["easy 45 min + strength", "strength 45 min (easy)"])]);
    asks(&[(Km, "easy 8 bike", &["cross-training 8 min (bike, easy)", "easy 8 km + cross-training (bike)"])]);
}

#[test]
fn strokes_part_a_run_from_another_sport() {
    let both = "easy 60 min (Z2) + strength 30 min";
    reads(&[
        (Km, "60 min Z2 // 30 min strength", both),
        (Km, "60 min Z2 / strength 30", both),
        (Km, "60 min Z2, hilly // strength 30", "easy 60 min (Z2, hilly) + strength 30 min"),
        (Km, "AM easy 6 // PM gym", "easy 6 km (AM) + strength (PM)"),
    ]);
}

#[test]
fn words_of_other_languages_are_kinds() {
    for rest in ["fri", "hvile", "vila", "vrij", "rust", "frei", "Ruhetag", "repos", "descanso", "riposo", "rest: fri"]
    {
        assert_eq!(read_day(rest, Km), Ok(Vec::new()), "{rest}");
    }
    for strength in ["styrke", "styrka", "kracht", "Kraft", "renfo", "fuerza", "forza"] {
        reads(&[(Km, &format!("{strength} 45 min"), "strength 45 min")]);
    }
    for easy in ["rolig", "lugn", "rustig", "locker", "footing", "suave", "lento"] {
        reads(&[(Km, &format!("{easy} 8"), "easy 8 km"), (Km, &format!("8 km {easy}"), "easy 8 km")]);
    }
    for long in ["langtur", "langpas", "lange duurloop", "langer Lauf", "sortie longue", "tirada larga", "lungo"] {
        reads(&[(Km, &format!("{long} 22"), "long 22 km")]);
    }
    reads(&[
        (Km, "langtur 2:30 Z2, 5 min walk every 30 min", "long 150 min (\"Z2, 5 min walk every 30 min\")"),
        (Km, "Fri: 8 km", "easy 8 km (Fri)"),
        (Km, "hvile, fysio", "rest (fysio)"),
    ]);
}

#[test]
fn a_medium_long_run_is_not_the_long_run_of_its_week() {
    reads(&[(Mi, "MLR 11", "easy 11 mi (MLR)"), (Km, "medium long 18", "easy 18 km (medium long)")]);
}

#[test]
fn hard_minutes_count_faster_than_easy_ones_and_jogs_count_where_a_whole_is_reckoned() {
    let runner = Runner { units: Km, easy_pace: Some(Pace::new(315, Km).unwrap()) };
    let whole = |line: &str| settled(line, runner).map(|offer| offer.line);
    let at = |line: &str, whole: &str| Some(format!("{line}, {whole}"));
    let of_eight = "3 km easy, 4x8 min Z4 (2 min), 2 km easy";
    assert_eq!(whole("3 km + 4x8 min Z4 (2 min) + 2 km"), at(of_eight, "13.5 km"));
    assert_eq!(whole("2 km wu, 30 min tempo, 2 km cd"), at("2 km wu, 30 min tempo, 2 km cd", "11 km"));
    reads(&[
        (Mi, "2 up, 3x2mi @ T w/ 2' jog, 2 down", "3 x 2 mi T, 2' jog, 10.4 mi (2 mi warm up, 2 mi cool down)"),
        (Mi, "WU 2, 4x1200 @ 5k w/ 400 jog, CD 2", "4 x 1200 m 5k, 400 jog, 7.7 mi (2 mi WU, 2 mi CD)"),
        (Km, "2.5k w/u, 6 x 1k @ 4:15, 90s jog, 2.5k c/d", "6 x 1 km 4:15, 90s jog, 12.3 km (2.5 km w/u, 2.5 km c/d)"),
        // Nobody runs while standing.
        (Km, "2k wu, 6 x 1k, 90s standing, 2k cd", "6 x 1 km, 90s standing, 10 km (2 km wu, 2 km cd)"),
    ]);
}

#[test]
fn a_full_stop_parts_a_run_as_a_comma_does() {
    let run = "6 x 1 km 4:15, 90s jog, 12.3 km (2.5 km w/u & c/d)";
    reads(&[
        (Km, "track: 6 x 1k @ 4:15, 90s jog. 2.5k w/u + c/d", run),
        (Km, "6 x 1k @ 4:15, 90s jog, 2.5k w/u + c/d", run),
        (Km, "10k easy, 5:30ish", "easy 10 km (5:30ish)"),
        (
            Mi,
            "club: 2 mile w/u, 5 x 800 in 2:40 (2 min), 6 x hills, 1 mile w/d",
            "5 x 800 m in 2:40, recovery \"2 min\", 5.5 mi (2 mi w/u, club, 6 x hills, 1 mi w/d)",
        ),
    ]);
}

#[test]
fn short_words_of_coaches_are_read_as_they_are_meant() {
    reads(&[
        (Km, "long 14 km Z2, last 3 km 4:40", "long 14 km, hard 3 km (Z2, at the end, 4:40)"),
        (Km, "LaLa 1h45 Z2, h\u{fc}gelig", "long 105 min (lala, Z2, h\u{fc}gelig)"),
        (Km, "TDL 8 km in 5:00, ges. 12 km", "tempo 12 km, hard 8 km (in 5:00)"),
        (Km, "off, lift heavy", "strength loaded"),
    ]);
    settles(&[
        (Km, "30' jog + 8x20\"", "easy 30 min, 8 x 20 s"),
        (Mi, "10m steady - club", "steady 10 mi (club)"),
        (Km, "lakeside, 5k run/walk (38ish)", "easy 5 km (\"lakeside, run/walk, 38ish\")"),
    ]);
    let lines = |line: &str| offers(line, Km).into_iter().map(|offer| offer.line).collect::<Vec<_>>();
    // Who calls a run easy means the way by its hills, but not a fast finish.
    assert_eq!(lines("easy 5 km (parkland, walk the hills)")[0], "easy 5 km (\"parkland, walk the hills\")");
    assert_eq!(lines("10 km easy (fast finish)")[0], "progression 10 km (fast finish)");
}

#[test]
fn a_half_of_the_day_that_is_told_by_its_numbers_is_one_run() {
    let paced = |half: &str| format!("tempo 14 km, hard 8 km ({half}, 3 km warm up, @ 4:12, 3 km cool down");
    let (am, pm) = (paced("AM"), paced("PM"));
    let reps = "6 x 800 m, 8.8 km (PM, 2 km easy warm up, 2 km easy cool down)";
    reads(&[
        (Km, "AM easy 6, PM 3 + 8 @ 4:12 + 3", &format!("easy 6 km (AM) + {pm})")),
        (Km, "AM easy 6 + PM 3 + 8 @ 4:12 + 3", &format!("easy 6 km (AM) + {pm})")),
        (Km, "AM 6, PM (3 + 8 @ 4:12 + 3)", &format!("easy 6 km (AM) + {pm})")),
        (Km, "AM 6 (trail), PM 3 + 8 @ 4:12 + 3 (with Jo)", &format!("easy 6 km (AM, trail) + {pm}, with Jo)")),
        (Km, "AM 6, PM 3 + 8 @ 4:12 + 3 + gym", &format!("easy 6 km (AM) + {pm}) + strength")),
        (Km, "AM 6 + gym, PM 3 + 8 @ 4:12 + 3", &format!("easy 6 km (AM) + strength + {pm})")),
        (Km, "AM 3 + 8 @ 4:12 + 3, PM 6", &format!("{am}) + easy 6 km (PM)")),
        (Km, "PM 3 + 8 @ 4:12 + 3", &format!("{pm})")),
        (Km, "6 am, 3 + 8 @ 4:12 + 3 pm", &format!("easy 6 km (am) + {})", paced("pm"))),
        (
            Km,
            "morning 6, evening 3 + 8 MP + 3",
            "easy 6 km (morning) + race pace 14 km, hard 8 km (evening, 3 km easy warm up, MP, 3 km easy cool down)",
        ),
        (
            Km,
            "AM 6, PM 2 + 5T + 2",
            "easy 6 km (AM) + tempo 9 km, hard 5 km (PM, 2 km easy warm up, 2 km easy cool down)",
        ),
        (Km, "AM 6 / PM 2 + 6x800 + 2", &format!("easy 6 km (AM) + {reps}")),
        (Km, "AM 6, PM 2 + 6x800 + 2 + core", &format!("easy 6 km (AM) + {reps} + strength (core)")),
        (
            Km,
            "AM3 + 5T + 2, PM 6",
            "tempo 10 km, hard 5 km (AM, 3 km easy warm up, 2 km easy cool down) + easy 6 km (PM)",
        ),
        (Km, "6am, 2 + 6x800 + 2pm", "easy 6 km (am) + 6 x 800 m, 8.8 km (pm, 2 km easy warm up, 2 km easy cool down)"),
        // Each half as a line of its own.
        (
            Km,
            "AM 6, PM 16: 4E/8M/4E",
            "easy 6 km (AM) + race pace 16 km, hard 8 km (PM, 4 km warm up, MP, 4 km cool down)",
        ),
        (Km, "AM 6, PM hills: 8 up, 8k", "easy 6 km (AM) + hills 8 km (PM, 8 up)"),
        (
            Mi,
            "AM 4m, PM 8m: 2m easy, 6 x 800, 2m easy",
            "easy 4 mi (AM) + 6 x 800 m, 8 mi (PM, 2 mi warm up, 2 mi cool down)",
        ),
        // Nobody warms up in the morning for the evening.
        (Km, "AM 6 + PM 5T + 2", "easy 6 km (AM) + tempo 5 km (PM) + easy 2 km"),
        // Easy runs one after the other stay as many.
        (Km, "AM 6 + 4, PM 8", "easy 6 km (AM) + easy 4 km + easy 8 km (PM)"),
        (Km, "AM 5 + 8 + 5", "easy 5 km (AM) + easy 8 km + easy 5 km"),
    ]);
}

#[test]
fn numbers_of_several_runs_are_in_one_unit() {
    asks(&[
        (Km, "am 40 pm 30", &["easy 40 min (am) + easy 30 min (pm)"]),
        (Mi, "am 40 pm 30", &["easy 40 min (am) + easy 30 min (pm)"]),
        (Km, "AM 40 easy / PM 30 easy + gym", &["easy 40 min (AM) + easy 30 min (PM) + strength"]),
        (Km, "double 40/30", &["easy 40 min + easy 30 min"]),
        (Km, "am 30 pm 20", &["easy 30 min (am) + easy 20 min (pm)", "easy 30 km (am) + easy 20 km (pm)"]),
        // Nobody runs for eight minutes.
        (Km, "am 60 pm 8", &["easy 60 min (am) + easy 8 km (pm)"]),
    ]);
    reads(&[
        (Km, "am 12 pm 8", "easy 12 km (am) + easy 8 km (pm)"),
        (Km, "double 20/15", "easy 20 km + easy 15 km"),
        (Km, "am 22 pm 18", "easy 22 km (am) + easy 18 km (pm)"),
    ]);
}

#[test]
fn parts_with_the_letters_of_their_paces_are_a_run_in_order() {
    let raced = |unit: &str| format!("race pace 16 {unit}, hard 8 {unit} (4 {unit} warm up, MP, 4 {unit} cool down)");
    for parts in ["16: 4E/8MP/4E", "16: 4E/8M/4E", "16: 4E 8M 4E", "4E/8M/4E", "4E 8M 4E", "16 (4E/8M/4E)"] {
        reads(&[(Km, parts, &raced("km")), (Mi, parts, &raced("mi"))]);
    }
    reads(&[
        (Mi, "LR 16 (4E 8M 4E)", "long 16 mi, hard 8 mi (MP)"),
        (Km, "16: 8E/8M", "race pace 16 km, hard 8 km (at the end, MP)"),
        (Km, "20: 10E/6M/4T", "1 x 6 km MP, 1 x 4 km T, 20 km (10 km warm up)"),
        (Mi, "21: 10E/6M/4T/1E", "1 x 6 mi MP, 1 x 4 mi T, 21 mi (10 mi warm up, 1 mi cool down)"),
        (Km, "18: 4E/6M/2E/4T/2E", "1 x 6 km MP, 1 x 4 km T, 18 km"),
        (Km, "LR 20 (10E/6M/4T)", "long 20 km, 1 x 6 km MP, 1 x 4 km T"),
        (Km, "16: 4E/8M/4E, strides", "race pace 16 km, hard 8 km (4 km warm up, MP, 4 km cool down, with strides)"),
        (Km, "16 km = 4E + 8M + 4E", &raced("km")),
        (Mi, "16 w/ 8M", "race pace 16 mi, hard 8 mi (MP)"),
        (Mi, "10 with 3M at MP", "race pace 10 mi, hard 3 mi (at MP)"),
        // Two easy runs, and miles.
        (Km, "10E/6E", "easy 10 km + easy 6 km"),
        (Mi, "8M easy", "easy 8 mi"),
    ]);
    // Parts that come to another whole are somebody's slip.
    assert!(read_day("20: 10E/6M/4T/1E", Km).is_err());
}

#[test]
fn a_ladder_inside_a_whole_is_one_repetition_after_the_other() {
    let miles = "1 x 3 mi, 1 x 2 mi, 1 x 1 mi, 9 mi";
    let threshold = |unit: &str, whole: &str| format!("1 x 3 {unit} T, 1 x 2 {unit} T, 1 x 1 {unit} T, {whole}");
    let minutes = "1 x 5 min, 1 x 4 min, 1 x 3 min, 1 x 2 min, 1 x 1 min";
    reads(&[
        (Mi, "9 w/ 3-2-1 mi", miles),
        (Mi, "9 w/ 3,2,1 mi", miles),
        (Mi, "9: 3-2-1 mi", miles),
        (Km, "14 w/ 3-2-1 km @ T", &threshold("km", "14 km")),
        (Mi, "2 up, 3-2-1 mi @ T, 2 down", &threshold("mi", "10 mi (2 mi warm up, 2 mi cool down)")),
        (Km, "12 w/ 3k-2k-1k", "1 x 3 km, 1 x 2 km, 1 x 1 km, 12 km"),
        (Km, "50 min w/ 5-4-3-2-1'", &format!("{minutes}, 50 min")),
        (Km, "50 min w/ 5'-4'-3'-2'-1' (2' jog)", &format!("{minutes}, 2' jog, 50 min")),
        (Km, "8 km, 5-4-3-2-1 min, gym", &format!("{minutes}, 8 km + strength")),
        (Km, "LR 30 w/ 6-5-4 km MP", "long 30 km, 1 x 6 km MP, 1 x 5 km MP, 1 x 4 km MP"),
        // A kind behind three numbers alone is that of the middle one.
        (Km, "2-3-2 tempo", "tempo 7 km, hard 3 km (2 km warm up, 2 km cool down)"),
    ]);
    asks(&[
        (Mi, "9 w/ 3-2-1", &[miles, "1 x 3 min, 1 x 2 min, 1 x 1 min, 9 mi"]),
        (Km, "14 w/ 3-2-1 @ T", &[&threshold("km", "14 km"), &threshold("min", "14 km")]),
        (Km, "50' w/ 5-4-3-2-1", &[&format!("{minutes}, 50 min")]),
        (Km, "14 km: 3-8-3 MP", &["race pace 14 km, hard 8 km (3 km warm up, MP, 3 km cool down)"]),
    ]);
}

#[test]
fn rounds_of_bare_numbers_are_minutes_where_the_whole_says_so() {
    let ten = |whole: &str| format!("10 x 1 min, recovery \"1 min easy\", {whole}");
    reads(&[
        (Km, "8 km w/ 10x(1/1)", &ten("8 km")),
        (Km, "8 km: 10 x (1/1)", &ten("8 km")),
        (Km, "10x(1/1), 45 min", &ten("45 min")),
        (Km, "15' wu, 10x(1/1), 10' cd", &ten("44 min (15 min wu, 10 min cd)")),
        (Km, "45' fartlek w/ 8x(2/1)", "fartlek 45 min, 8 x 2 min, recovery \"1 min easy\""),
        (Km, "5x(3/2) hard, 50 min", "5 x 3 min hard, recovery \"2 min easy\", 50 min"),
        (Km, "10 x (90s/60s), 45 min", "10 x 90 s, recovery \"60s\", 45 min"),
        (Km, "10x(1'/1'), 45 min", "10 x 1 min, recovery \"1'\", 45 min"),
    ]);
    settles(&[(Km, "10x(1'/1')", "10 x 1 min, recovery \"1'\", 35 min"), (Km, "10 x (1/1) min", &ten("45 min"))]);
    asks(&[
        (Km, "10x(1/1)", &[&ten("45 min"), "10 x 1 km, recovery \"1 km easy\", 23 km"]),
        (
            Km,
            "10 x (1 hard/1 easy)",
            &["10 x 1 min hard, recovery \"1 min easy\", 45 min", "10 x 1 km hard, recovery \"1 km easy\", 23 km"],
        ),
        (
            Km,
            "2k wu, 10x(1/1), 2k cd",
            &[&ten("7.5 km (2 km wu, 2 km cd)"), "10 x 1 km, recovery \"1 km easy\", 23 km (2 km wu, 2 km cd)"],
        ),
        (Km, "4x(2/1), 20k", &["4 x 2 min, recovery \"1 min easy\", 20 km", "4 x 2 km, recovery \"1 km easy\", 20 km"]),
    ]);
}

#[test]
fn hills_that_are_counted_are_in_a_note_beside_their_whole() {
    reads(&[
        (Km, "hills: 6 up, 8k", "hills 8 km (6 up)"),
        (Km, "hills: 6 up, 8", "hills 8 km (6 up)"),
        (Km, "8k, hills 6 up", "hills 8 km (6 up)"),
        (Mi, "hills: 8 up, 6m, gym", "hills 6 mi (8 up) + strength"),
        (Km, "hills x 6, 8k", "hills 8 km (x 6)"),
        (Km, "hills - 8 times up, 10 km", "hills 10 km (8 times up)"),
        (Km, "hill reps: 10 times, 12 km (steep)", "hills 12 km (10 times, steep)"),
        (Km, "2k wu, hills 6 up, 2k cd, 8k", "hills 8 km (2 km wu, 6 up, 2 km cd)"),
        (Km, "hills 6 x 60 s, 8k", "hills 8 km, 6 x 60 s"),
    ]);
    let alone = offers("hills: 6 up", Km).into_iter().next().map(|offer| write_day(&offer.day));
    assert_eq!(alone.as_deref(), Some("hills 8 km (6 up)"));
}

#[test]
fn a_whole_stands_in_front_of_repetitions_with_what_is_run_around_them() {
    let around = "6 x 800 m, 8 mi (2 mi warm up, 2 mi cool down)";
    reads(&[
        (Mi, "8m: 2m easy, 6 x 800, 2m easy", around),
        (Mi, "8: 2 easy, 6 x 800, 2 easy", around),
        (Km, "8 mi: 2 easy, 6 x 800, 2 easy", around),
        (Mi, "8m: 2m easy, 6 x 800", "6 x 800 m, 8 mi (2 mi warm up)"),
        (Mi, "8m: 2m easy, 6 x 800, 400 jog", "6 x 800 m, 400 jog, 8 mi (2 mi warm up)"),
        (Mi, "8m: 6 x 800, 90s jog", "6 x 800 m, 90s jog, 8 mi"),
        (Mi, "9M: 2M wu, 5M T, 2M cd", "tempo 9 mi, hard 5 mi (2 mi wu, 2 mi cd)"),
        (Km, "12k: 2k easy, 6 x 800 (400 jog), 2k easy", "6 x 800 m, 400 jog, 12 km (2 km warm up, 2 km cool down)"),
        (Km, "60': 15' easy, 5 x 4' T, 10' easy", "5 x 4 min T, 60 min (15 min warm up, 10 min cool down)"),
        (Km, "10k: 6 x 800 + gym", "6 x 800 m, 10 km + strength"),
        (Km, "10k: 6 x 800, strides", "6 x 800 m, 10 km (with strides)"),
        (Km, "6 x 800, strides, 10k", "6 x 800 m, 10 km (with strides)"),
    ]);
}

#[test]
fn a_jog_back_is_as_far_as_the_repetition_on_a_hill_as_on_the_flat() {
    reads(&[
        (Km, "2k wu, 8 x 200 m hills, jog down, 2k cd", "8 x 200 m hills, jog down, 7 km (2 km wu, 2 km cd)"),
        (Km, "2k wu, 8 x 200 m, jog back, 2k cd", "8 x 200 m, jog back, 7 km (2 km wu, 2 km cd)"),
        (Km, "15' wu, 8 x 1' hills, jog down, 10' cd", "8 x 1 min hills, jog down, 40 min (15 min wu, 10 min cd)"),
        (
            Km,
            "15' wu, 8 x 1' hills, 2' jog down, 10' cd",
            "8 x 1 min hills, 2' jog down, 47 min (15 min wu, 10 min cd)",
        ),
        // Nobody runs while walking.
        (Km, "2k wu, 8 x 200 m hills, walk down, 2k cd", "8 x 200 m hills, walk down, 5.6 km (2 km wu, 2 km cd)"),
    ]);
}

#[test]
fn one_of_two_is_a_choice_of_the_day() {
    asks(&[
        (Mi, "off or 4 shuffle", &["rest (or 4 shuffle)", "easy 4 mi (shuffle, or off)"]),
        (Km, "off or easy 4 or XT", &["rest (or easy 4 or XT)", "easy 4 km (or off) or cross-training"]),
        (Mi, "XC race or 4 mile steady", &["time trial 5 mi (XC race) or steady 4 mi"]),
    ]);
    reads(&[
        (Mi, "off/XT", "rest (XT)"),
        (Mi, "off/XT 30 min", "cross-training 30 min (or off)"),
        (Km, "rest / swim 30 min", "cross-training 30 min (\"or rest, swim\")"),
        (Km, "off, swim 30 min", "cross-training 30 min (off, swim)"),
    ]);
}
