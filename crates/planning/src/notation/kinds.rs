//! The names of the kinds of a session.

use super::text::Text;
use crate::session::{Kind, Sets};

/// Takes a kind by any of its names. For a name that says more than the kind ("bike", "MP"), the name too.
pub(super) fn take_kind(text: &mut Text<'_>) -> Option<(Kind, Option<String>)> {
    let first = text.first_letter()?;
    for (name, kind) in TELLING_NAMES {
        if first.begins(name) && text.take_phrase(name) {
            text.take_any_phrase(&["session", "class"]);
            take_mark(text);
            return Some((*kind, Some((*name).to_owned())));
        }
    }
    for (name, kind) in NAMES {
        if first.begins(name) && text.take_phrase(name) {
            if !starts_with_walks(*text) {
                text.take_any_phrase(&["run", "jog", "session", "class"]);
            }
            take_mark(text);
            return Some((*kind, None));
        }
    }
    let start = *text;
    let medium_long = MEDIUM_LONG.iter().map(|name| (*name, Kind::Easy));
    for (name, kind) in PACES.iter().copied().chain(medium_long) {
        if first.begins(name) && text.take_phrase(name) {
            let typed = text.since(&start).to_owned();
            take_mark(text);
            return Some((kind, Some(typed)));
        }
    }
    None
}

/// How a run is called that is longer than most of its week and none of its long runs; longer names first.
pub(crate) const MEDIUM_LONG: [&str; 5] = ["medium long run", "medium long", "med long run", "med long", "mlr"];

/// How running and walking by turns is called.
pub(super) const WALKS: [&str; 8] =
    ["run/walk", "run walk", "run / walk", "walk/run", "walk run", "jog/walk", "jog walk", "walk/jog"];

/// Words over the timed runs of a weekend, which many race and some jog.
pub(super) const WEEKEND: [&str; 6] = ["saturday", "sat", "community", "parkland", "park", "local"];

fn starts_with_walks(mut text: Text<'_>) -> bool {
    text.take_any_phrase(&WALKS)
}

/// "easy: 8 km", "easy - 8 km".
fn take_mark(text: &mut Text<'_>) {
    let is_dash = [" - ", " \u{2013} "].iter().any(|dash| text.starts_with(dash));
    if is_dash {
        text.skip_space();
        text.take_any(&['-', '\u{2013}']);
    } else {
        text.take_phrase(":");
    }
}

/// The same, with the names that only stand where a pace does: "4 km @ HM".
pub(super) fn take_kind_or_short(text: &mut Text<'_>) -> Option<(Kind, Option<String>)> {
    let start = *text;
    let taken = take_kind(text);
    if taken.is_some() && text.is_done() {
        return taken;
    }
    *text = start;
    let (_, kind) = SHORT_PACES.iter().find(|(name, _)| text.take_phrase(name))?;
    Some((*kind, Some(text.since(&start).to_owned())))
}

/// The kind of a session whose kind is not said.
pub(super) fn infer(sets: &[Sets], has_amount: bool, has_hard: bool) -> Option<Kind> {
    let any = |words: &[&str]| sets.iter().any(|sets| has_word(&sets.pace, words));
    if sets.is_empty() {
        return match (has_amount, has_hard) {
            (_, true) => Some(Kind::Tempo),
            (true, false) => Some(Kind::Easy),
            (false, false) => None,
        };
    }
    if any(&["hill", "hills", "uphill"]) {
        Some(Kind::Hills)
    } else if has_amount && sets.iter().all(|sets| has_word(&sets.pace, &STRIDES)) {
        Some(Kind::Easy)
    } else {
        Some(Kind::Intervals)
    }
}

/// Words for short fast runs at the end of an easy one.
pub(crate) const STRIDES: [&str; 4] = ["strides", "stride", "accelerations", "acceleration"];

pub(crate) fn has_word(text: &str, words: &[&str]) -> bool {
    text.split(|next: char| !next.is_alphabetic())
        .any(|word| words.iter().any(|wanted| word.eq_ignore_ascii_case(wanted)))
}

/// Names of a pace that say the kind and are kept as typed.
const PACES: &[(&str, Kind)] = &[
    ("goal marathon pace", Kind::RacePace),
    ("marathon race pace", Kind::RacePace),
    ("marathon pace", Kind::RacePace),
    ("marathon effort", Kind::RacePace),
    ("half marathon pace", Kind::RacePace),
    ("half marathon effort", Kind::RacePace),
    ("half pace", Kind::RacePace),
    ("race effort", Kind::RacePace),
    ("goal effort", Kind::RacePace),
    ("m pace", Kind::RacePace),
    ("hm pace", Kind::RacePace),
    ("hm effort", Kind::RacePace),
    ("gmp", Kind::RacePace),
    ("hmp", Kind::RacePace),
    ("mp", Kind::RacePace),
    ("vo2max", Kind::Intervals),
    ("vo2 max", Kind::Intervals),
    ("vo2", Kind::Intervals),
];

/// Names that are too short to mean a pace anywhere else.
const SHORT_PACES: &[(&str, Kind)] = &[
    ("half marathon", Kind::RacePace),
    ("marathon", Kind::RacePace),
    ("half", Kind::RacePace),
    ("hm", Kind::RacePace),
    ("goal", Kind::RacePace),
    ("race", Kind::RacePace),
    ("m", Kind::RacePace),
    ("lt", Kind::Tempo),
];

/// The names of kinds, a longer one before those it starts with.
const NAMES: &[(&str, Kind)] = &[
    ("easy pace", Kind::Easy),
    ("easy effort", Kind::Easy),
    ("e pace", Kind::Easy),
    ("easy", Kind::Easy),
    ("ez", Kind::Easy),
    ("e", Kind::Easy),
    ("general aerobic", Kind::Easy),
    ("aerobic", Kind::Easy),
    // Of coaches who think in another language: words that mean nothing else in an English line.
    ("langer lauf", Kind::Long),
    ("lange lauf", Kind::Long),
    ("lange duurloop", Kind::Long),
    ("langtur", Kind::Long),
    ("langpass", Kind::Long),
    ("langpas", Kind::Long),
    ("sortie longue", Kind::Long),
    ("tirada larga", Kind::Long),
    ("lungo", Kind::Long),
    ("lang", Kind::Long),
    ("rolig tur", Kind::Easy),
    ("rolig", Kind::Easy),
    ("lugnt", Kind::Easy),
    ("lugn", Kind::Easy),
    ("rustige duurloop", Kind::Easy),
    ("rustig", Kind::Easy),
    ("duurloop", Kind::Easy),
    ("lockerer dauerlauf", Kind::Easy),
    ("locker", Kind::Easy),
    ("suave", Kind::Easy),
    ("lento", Kind::Easy),
    ("styrketrening", Kind::Strength),
    ("styrketræning", Kind::Strength),
    ("styrke", Kind::Strength),
    ("styrka", Kind::Strength),
    ("krachttraining", Kind::Strength),
    ("kracht", Kind::Strength),
    ("krafttraining", Kind::Strength),
    ("kraft", Kind::Strength),
    ("renforcement", Kind::Strength),
    ("renfo", Kind::Strength),
    ("fuerza", Kind::Strength),
    ("forza", Kind::Strength),
    ("ga1", Kind::Easy),
    ("ga 1", Kind::Easy),
    ("ga", Kind::Easy),
    ("footing", Kind::Easy),
    ("jogging", Kind::Easy),
    ("jog", Kind::Easy),
    ("running", Kind::Easy),
    ("run", Kind::Easy),
    ("recovery pace", Kind::Recovery),
    ("recovery", Kind::Recovery),
    ("rec", Kind::Recovery),
    ("recov", Kind::Recovery),
    ("regeneration", Kind::Recovery),
    ("regenerative", Kind::Recovery),
    ("regen", Kind::Recovery),
    ("steady state", Kind::Steady),
    ("steady", Kind::Steady),
    ("tempo pace", Kind::Tempo),
    ("tempo effort", Kind::Tempo),
    ("tempo", Kind::Tempo),
    ("threshold pace", Kind::Tempo),
    ("threshold effort", Kind::Tempo),
    ("threshold", Kind::Tempo),
    ("thresh", Kind::Tempo),
    ("thr", Kind::Tempo),
    ("lt pace", Kind::Tempo),
    ("lt", Kind::Tempo),
    ("t pace", Kind::Tempo),
    ("t", Kind::Tempo),
    ("intervals", Kind::Intervals),
    ("interval", Kind::Intervals),
    ("intervall", Kind::Intervals),
    ("ints", Kind::Intervals),
    ("int", Kind::Intervals),
    ("repetitions", Kind::Intervals),
    ("repeats", Kind::Intervals),
    ("reps", Kind::Intervals),
    ("track", Kind::Intervals),
    ("speedwork", Kind::Intervals),
    ("speed work", Kind::Intervals),
    ("speed", Kind::Intervals),
    ("hill repeats", Kind::Hills),
    ("hill reps", Kind::Hills),
    ("hills", Kind::Hills),
    ("hill", Kind::Hills),
    ("fartlek", Kind::Fartlek),
    ("progression", Kind::Progression),
    ("build", Kind::Progression),
    ("cutdown", Kind::Progression),
    ("cut down", Kind::Progression),
    ("progressive", Kind::Progression),
    ("prog", Kind::Progression),
    ("race pace", Kind::RacePace),
    ("goal pace", Kind::RacePace),
    ("rp", Kind::RacePace),
    ("long endurance run", Kind::Long),
    ("long endurance", Kind::Long),
    ("long slow distance", Kind::Long),
    ("long slow", Kind::Long),
    ("long", Kind::Long),
    ("lsd", Kind::Long),
    ("lsr", Kind::Long),
    ("slr", Kind::Long),
    ("l", Kind::Long),
    ("lr", Kind::Long),
    ("strides", Kind::Strides),
    ("stride", Kind::Strides),
    ("time trial", Kind::TimeTrial),
    ("tt", Kind::TimeTrial),
    ("cross training", Kind::CrossTraining),
    ("crosstraining", Kind::CrossTraining),
    ("cross train", Kind::CrossTraining),
    ("cross", Kind::CrossTraining),
    ("x training", Kind::CrossTraining),
    ("x train", Kind::CrossTraining),
    ("xt", Kind::CrossTraining),
    ("strength and conditioning", Kind::Strength),
    ("strength & conditioning", Kind::Strength),
    ("strength training", Kind::Strength),
    ("strength work", Kind::Strength),
    ("strength", Kind::Strength),
    ("s&c", Kind::Strength),
    ("s & c", Kind::Strength),
    ("s/c", Kind::Strength),
    ("lifting", Kind::Strength),
    ("lift", Kind::Strength),
    ("gym", Kind::Strength),
    ("weights", Kind::Strength),
    ("mobility", Kind::Mobility),
];

/// Names that say more than the kind; they are kept as a note.
const TELLING_NAMES: &[(&str, Kind)] = &[
    // Between two efforts it is the easier one that counts.
    ("steady-easy", Kind::Easy),
    ("easy-steady", Kind::Easy),
    ("easy-moderate", Kind::Easy),
    ("moderate-easy", Kind::Easy),
    ("easy-mod", Kind::Easy),
    ("mod-easy", Kind::Easy),
    ("walk/jog", Kind::Easy),
    ("jog/walk", Kind::Easy),
    ("shake out", Kind::Easy),
    ("shakeout", Kind::Easy),
    ("shuffle", Kind::Easy),
    ("run/walk", Kind::Easy),
    ("walk/run", Kind::Easy),
    ("r/w", Kind::Easy),
    ("run walk", Kind::Easy),
    ("walk run", Kind::Easy),
    ("cross country", Kind::Easy),
    ("xc", Kind::Easy),
    ("endurance run", Kind::Easy),
    ("endurance", Kind::Easy),
    ("continuous run", Kind::Easy),
    ("timed run", Kind::TimeTrial),
    ("timed", Kind::TimeTrial),
    ("tempo intervals", Kind::Intervals),
    ("threshold intervals", Kind::Intervals),
    ("threshold reps", Kind::Intervals),
    ("cruise intervals", Kind::Intervals),
    ("moderate", Kind::Steady),
    ("hill sprints", Kind::Hills),
    ("bike ride", Kind::CrossTraining),
    ("bike", Kind::CrossTraining),
    ("biking", Kind::CrossTraining),
    ("cycling", Kind::CrossTraining),
    ("cycle", Kind::CrossTraining),
    ("spinning", Kind::CrossTraining),
    ("spin", Kind::CrossTraining),
    ("turbo", Kind::CrossTraining),
    ("swimming", Kind::CrossTraining),
    ("swim", Kind::CrossTraining),
    ("rowing machine", Kind::CrossTraining),
    ("rowing", Kind::CrossTraining),
    ("row", Kind::CrossTraining),
    ("elliptical", Kind::CrossTraining),
    ("cross trainer", Kind::CrossTraining),
    ("pool running", Kind::CrossTraining),
    ("pool run", Kind::CrossTraining),
    ("pool", Kind::CrossTraining),
    ("power hike", Kind::CrossTraining),
    ("aqua jogging", Kind::CrossTraining),
    ("aqua jog", Kind::CrossTraining),
    ("walking", Kind::CrossTraining),
    ("walk", Kind::CrossTraining),
    ("hiking", Kind::CrossTraining),
    ("hike", Kind::CrossTraining),
    ("football", Kind::CrossTraining),
    ("soccer", Kind::CrossTraining),
    ("tennis", Kind::CrossTraining),
    ("badminton", Kind::CrossTraining),
    ("squash", Kind::CrossTraining),
    ("hockey", Kind::CrossTraining),
    ("netball", Kind::CrossTraining),
    ("basketball", Kind::CrossTraining),
    ("climbing", Kind::CrossTraining),
    ("skiing", Kind::CrossTraining),
    ("core", Kind::Strength),
    // Of coaches who write in English and think in German.
    ("dauerlauf", Kind::Easy),
    ("tdl", Kind::Tempo),
    ("lala", Kind::Long),
    ("rad", Kind::CrossTraining),
    ("circuits", Kind::Strength),
    ("pilates", Kind::Strength),
    ("plyometrics", Kind::Strength),
    ("crossfit", Kind::Strength),
    ("stability", Kind::Strength),
    ("stabi", Kind::Strength),
    ("gymnastics", Kind::Mobility),
    ("gymnastic", Kind::Mobility),
    ("stretching", Kind::Mobility),
    ("stretch", Kind::Mobility),
    ("foam rolling", Kind::Mobility),
    ("drills", Kind::Mobility),
    ("yoga", Kind::Mobility),
];
