//! Weeks of strangers, each in a style of its own: what is read at once, and what is offered for the rest.

use super::{offers, read_day, read_kept_day, write_day};
use crate::session::Session;
use crate::units::DistanceUnit;
use crate::week::Slot;

/// A style: its lines with what they are taken for, and refused ones with all that is offered for each.
struct Style {
    units: DistanceUnit,
    read: &'static [(&'static str, &'static str)],
    offered: &'static [(&'static str, &'static [&'static str])],
}

const STYLES: [&Style; 17] = [
    &US_CLUB,
    &UK_CLUB,
    &MINUTES,
    &EFFORTS,
    &SHEET,
    &WEEKENDS,
    &TRAILS,
    &SECOND_LANGUAGE,
    &STAGES,
    &MARATHON_MILES,
    &KILOMETRES,
    &CLOCKS,
    &BRITISH_CLUB,
    &HIGH_SCHOOL,
    &PHONE,
    &THINKS_IN_MILES,
    &UK_MASTERS,
];

/// Miles as "m", warm-downs, and a total behind it all.
const UK_MASTERS: Style = Style {
    units: DistanceUnit::Mi,
    read: &[
        ("8m easy", "easy 8 mi"),
        ("6m inc 3m @ MP", "race pace 6 mi, hard 3 mi (at MP)"),
        ("9m long, hilly, off road", "long 9 mi (hilly, off road)"),
        ("3m rec + strides", "recovery 3 mi (with strides)"),
        ("5m w. 20min tempo", "tempo 5 mi, 1 x 20 min"),
        ("LSR 15m", "long 15 mi"),
        ("12-14m LSR hilly", "long 12-14 mi (hilly)"),
        ("6-8M easy", "easy 6-8 mi"),
        ("AM 4m, PM 6m", "easy 4 mi (AM) + easy 6 mi (PM)"),
        ("10m (3m wu, 20 min T, 2m cd)", "tempo 10 mi, 1 x 20 min (3 mi wu, 20 min T, 2 mi cd)"),
        ("6m (last 2m fast)", "tempo 6 mi, hard 2 mi (at the end, fast)"),
        ("10m (3m wu, 5m @ HMP, 2m cd)", "race pace 10 mi, hard 5 mi (3 mi wu, 5 mi @ HMP, 2 mi cd)"),
        ("9M (2M wu, 5M T, 2M cd)", "tempo 9 mi, hard 5 mi (2 mi wu, 5 mi T, 2 mi cd)"),
        ("6 x 800m, 7m", "6 x 800 m, 7 mi"),
        ("10 x 60m, 5m rec, 5m", "10 x 60 m, 5m rec, 5 mi"),
        ("5 x 1k w/ 2m jog, 7m", "5 x 1 km, 2m jog, 7 mi"),
        ("6 x 1k off 2m = 8m", "6 x 1 km off 2m, 8 mi"),
        ("2m jog, 6 x 400m, 2m jog", "6 x 400 m, 5.5 mi (\"2 mi jog warm up, 2 mi jog cool down\")"),
        (
            "AM 2m jog, 6 x 400m, 2m jog, PM 5",
            "6 x 400 m, 5.5 mi (\"AM, 2 mi jog warm up, 2 mi jog cool down\") + easy 5 mi (PM)",
        ),
        ("2m jog, 6 x 400m, 2m jog, gym", "6 x 400 m, 5.5 mi (\"2 mi jog warm up, 2 mi jog cool down\") + strength"),
        ("8x400 off 200 jog, 6m tot", "8 x 400 m off 200 jog, 6 mi"),
        ("6x800, total 7", "6 x 800 m, 7 mi"),
        ("6x800, 7m in all", "6 x 800 m, 7 mi"),
        (
            "Club track. 2m w/u, 6 x 800 @ 10k (90s jog), 1.5 w/d = 7m",
            "6 x 800 m 10k, 90s jog, 7 mi (2 mi w/u, Club track, 1.5 mi w/d)",
        ),
        ("2m w/u, 6 x 800, 1.5 w/d", "6 x 800 m, 6.5 mi (2 mi w/u, 1.5 mi w/d)"),
        ("2m wu, 6 x 800, 1.5 wd", "6 x 800 m, 6.5 mi (2 mi wu, 1.5 mi wd)"),
        ("2m wu, 6 x 800, 1.5 warm-down", "6 x 800 m, 6.5 mi (2 mi wu, 1.5 mi warm-down)"),
        (
            "2 mi warm up, Parkland 5k hard-ish, 1 mi cool down",
            "tempo 6.1 mi, 1 x 5 km (2 mi warm up, Parkland hard-ish, 1 mi cool down)",
        ),
        ("2m w/u, Parkland 5k hard-ish, 1m w/d - 6m", "tempo 6 mi, 1 x 5 km (2 mi w/u, Parkland hard-ish, 1 mi w/d)"),
        ("6 x 1k (2m rec), 8m", "6 x 1 km, 2m rec, 8 mi"),
        ("1h 20m", "easy 80 min"),
        ("8m w/ 20m climb", "easy 8 mi (w/ 20m climb)"),
        ("6m with 4 x 60m strides", "easy 6 mi, 4 x 60 m strides"),
    ],
    offered: &[
        ("45m easy", &["45min easy"]),
        ("27m", &["27mi", "27min"]),
        ("6 x 3m T", &["6 x 3 min T, 45 min", "6 x 3 mi T, 21 mi"]),
        (
            "Parkland 5k hard-ish, 2 up 1 down - 6m",
            &[
                "tempo 6 mi, 1 x 5 km (Parkland hard-ish, 2 up 1 down)",
                "easy 6 mi (\"Parkland 5k hard-ish, 2 up 1 down\")",
            ],
        ),
        (
            "2m w/u, Parkland 5k, 1m w/d",
            &["2 mi w/u, tempo Parkland 5k, 1 mi w/d", "2 mi w/u, easy Parkland 5k, 1 mi w/d"],
        ),
        ("Parkland run, 3.1", &["time trial 3.1 mi (Parkland)", "easy 3.1 mi (Parkland)"]),
        ("Parkland 5k", &["time trial 5 km (Parkland)", "easy 5 km (Parkland)"]),
        ("6 x 800, 2:30", &["6 x 800 m, 6 mi (2:30)"]),
    ],
};

/// A club that counts in miles.
const US_CLUB: Style = Style {
    units: DistanceUnit::Mi,
    read: &[
        ("6 easy w/ strides", "easy 6 mi (w/ strides)"),
        ("8 GA", "easy 8 mi"),
        ("8 miles general aerobic", "easy 8 mi"),
        ("MLR 11", "easy 11 mi (MLR)"),
        ("2 up, 4x1mi @ 10k, 400 jog, 2 down", "4 x 1 mi 10k, 400 jog, 8.7 mi (2 mi warm up, 2 mi cool down)"),
        ("2 mi WU, 3 mi @ HMP, 1 mi CD", "race pace 6 mi, hard 3 mi (2 mi WU, HMP, 1 mi CD)"),
        ("10 w/ 6 @ LT", "tempo 10 mi, hard 6 mi"),
        ("LR 16, last 4 @ goal MP", "long 16 mi, hard 4 mi (at the end, at goal MP)"),
        ("6 rec", "recovery 6 mi"),
        ("track: 8x400 @ mile pace w/ 400 jog, 7 total", "8 x 400 m mile pace, 400 jog, 7 mi"),
        ("5 ez + 6x20s strides", "easy 5 mi, 6 x 20 s strides"),
        ("AM 5 / PM 4", "easy 5 mi (AM) + easy 4 mi (PM)"),
        ("7 mi progression, last 2 fast", "progression 7 mi, hard 2 mi (at the end, fast)"),
        ("XT or off", "cross-training (or off)"),
        ("off/XT", "rest (XT)"),
        ("7 w/ 8x30s hill sprints", "8 x 30 s hill sprints, 7 mi"),
        ("5-6 ez on trails", "easy 5-6 mi (on trails)"),
        ("12 long w/ 3x1mi @ MP", "long 12 mi, 3 x 1 mi MP"),
        ("Tempo 3 mi", "tempo 3 mi"),
        ("2-3-2 tempo", "tempo 7 mi, hard 3 mi (2 mi warm up, 2 mi cool down)"),
        ("4 mi @ 7:15", "easy 4 mi (@ 7:15)"),
        ("3 mi tempo @ 6:45", "tempo 3 mi (@ 6:45)"),
        ("20 miler", "easy 20 mi"),
        ("15 LR easy", "long 15 mi (easy)"),
        ("6 mi + lift", "easy 6 mi + strength"),
        ("lift", "strength"),
        ("easy 5, core", "easy 5 mi + strength (core)"),
        ("9 (2 wu, 5 @ T, 2 cd)", "tempo 9 mi, hard 5 mi (2 wu, 5 @ T, 2 cd)"),
        ("4 x mile @ 10k, 8 mi", "4 x 1 mi 10k, 8 mi"),
        ("4 x mile @ threshold (90 sec), 9 mi total", "4 x 1 mi threshold, recovery \"90 sec\", 9 mi"),
        ("8 x 800 w/ equal jog, 10", "8 x 800 m, equal jog, 10 mi"),
        ("cutback long 13", "long 13 mi (cutback)"),
        ("10 mi steady w/ last mile hard", "steady 10 mi, hard 1 mi (at the end)"),
    ],
    offered: &[
        ("track: 8x400 @ mile pace w/ 400 jog", &["8 x 400 m mile pace, 400 jog, 7 mi"]),
        ("mile repeats x 4", &["4 x 1 mi, 7 mi"]),
    ],
};

/// A club of evenings on the track.
const UK_CLUB: Style = Style {
    units: DistanceUnit::Km,
    read: &[
        ("Club session 6 x 800m off 90 secs, 10k", "6 x 800 m off 90 secs, 10 km (Club session)"),
        ("5 x 1k off 2 mins, 10k", "5 x 1 km off 2 mins, 10 km"),
        ("8 x 400m off 200 jog, 9k", "8 x 400 m off 200 jog, 9 km"),
        ("10 x 1 min off 1 min, 45 mins", "10 x 1 min off 1 min, 45 min"),
        ("3 x 10 mins tempo off 3 mins, 70 mins", "3 x 10 min tempo off 3 mins, 70 min"),
        ("Hills - 8 x 60 secs, 50 mins", "hills 50 min, 8 x 60 s"),
        ("45 mins steady", "steady 45 min"),
        ("rec run 30 mins", "recovery 30 min"),
        ("Sunday: long run 90-100 mins", "long 90-100 min (Sunday)"),
        ("Long slow run 1hr 40", "long 100 min"),
        ("40 mins easy, drills & strides", "easy 40 min + mobility (drills, with strides)"),
        ("30 mins easy + drills", "easy 30 min + mobility (drills)"),
        ("cross country 8k", "easy 8 km (cross country)"),
        ("Fartlek 40 mins incl 10 x 1 min hard", "fartlek 40 min, 10 x 1 min hard"),
        ("5 x mile off 3 mins, 8 miles", "5 x 1 mi off 3 mins, 8 mi"),
        ("tempo 5 miles", "tempo 5 mi"),
        ("1.5 miles wu, 5 x 1000 off 90s, 1.5 miles cd", "5 x 1000 m off 90s, 6.1 mi (1.5 mi wu, 1.5 mi cd)"),
        ("turbo 45 mins", "cross-training 45 min (turbo)"),
        ("pool 30", "cross-training 30 min (pool)"),
        (
            "2 x (6 x 400m) off 60s, 4 mins between sets, 12k",
            "12 x 400 m off 60s, 12 km (2 sets of 6, 4 mins between sets)",
        ),
        ("2 sets of 6 x 400m, 11k", "12 x 400 m, 11 km (2 sets of 6)"),
        ("30 mins out and back", "easy 30 min (out and back)"),
    ],
    offered: &[
        ("Club session: 6 x 800m off 90 secs", &["6 x 800 m off 90 secs, 9 km (Club session)"]),
        ("steady 45", &["steady 45 min", "steady 45 km"]),
        ("easy 40 mins or rest", &["easy 40 mins (or rest)", "rest (or easy 40 mins)"]),
        ("XC race", &["time trial 8 km (XC race)"]),
        ("Kenyan hills 3 x 8 mins, 60 mins", &["hills 60 min, 3 x 8 min (Kenyan)"]),
        ("sprint drills", &["mobility (sprint drills)"]),
        ("parlauf 30 mins", &["intervals 30 min (parlauf)", "easy 30 min (parlauf)"]),
        ("mile efforts x 5", &["intervals 8 km (mile efforts x 5)"]),
        ("wu, 12 x 400 off 60s, cd 11k", &["12 x 400 m off 60s, 11 km (wu, cd)"]),
        ("10k @ 80%", &["tempo 10 km (80%)", "easy 10 km (\"80%\")"]),
        ("threshold 25 mins inside 8 miles", &["tempo 8 mi, 1 x 25 min"]),
        ("bounding + 6k", &["tempo 8 km (bounding) + 6k"]),
    ],
};

/// A coach who writes minutes only.
const MINUTES: Style = Style {
    units: DistanceUnit::Km,
    read: &[
        ("75 min", "easy 75 min"),
        ("45'", "easy 45 min"),
        ("50' Z2", "easy 50 min (Z2)"),
        ("50' incl 6 x 20\" strides", "easy 50 min, 6 x 20 s strides"),
        ("60' w 4x5' @T, 2' jog", "4 x 5 min T, 2' jog, 60 min"),
        ("90'", "easy 90 min"),
        ("1h15", "easy 75 min"),
        ("1h 30'", "easy 90 min"),
        ("75-90'", "easy 75-90 min"),
        ("20' + 15' T + 10'", "tempo 45 min, hard 15 min (20 min easy warm up, 10 min easy cool down)"),
        ("20'/15'T/10'", "tempo 45 min, hard 15 min (20 min warm up, 10 min cool down)"),
        ("15' wu - 20' tempo - 10' cd", "tempo 45 min, hard 20 min (15 min wu, 10 min cd)"),
        ("50' with 20' progression", "progression 50 min, hard 20 min"),
        ("5x3'/2', 50'", "5 x 3 min /2', 50 min"),
        ("50' (5x3'/2')", "5 x 3 min /2', 50 min"),
        ("40' + 20' core", "easy 40 min + strength 20 min (core)"),
        ("30' jog", "easy 30 min"),
        ("65' hilly", "easy 65 min (hilly)"),
        ("70 min run, 10 min strength", "easy 70 min + strength 10 min"),
        ("2x15' HM effort 3' easy, 65'", "2 x 15 min HM effort 3' easy, 65 min"),
        ("100' last 20' MP", "race pace 100 min, hard 20 min (at the end, MP)"),
        ("45' recovery or bike", "recovery 45 min or cross-training (bike)"),
    ],
    offered: &[
        ("45", &["45 min", "45 km"]),
        ("60", &["60 min"]),
        ("15 wu - 20 tempo - 10 cd", &["15 min wu, 20 min tempo, 10 min cd"]),
        ("15-20-10 tempo", &["15 min warm up, 20 min tempo, 10 min cool down"]),
        ("5x3' on 2' off", &["5 x 3 min on 2' off, 40 min"]),
        ("60' alternating 3' hard/2' easy", &["fartlek 60 min (alternating 3' hard/2' easy)"]),
        ("10' easy, 20' alternating, 10' easy", &["fartlek 40 min, hard 20 min (10' easy, 20' alternating, 10' easy)"]),
    ],
};

/// Efforts in words and figures.
const EFFORTS: Style = Style {
    units: DistanceUnit::Km,
    read: &[
        ("easy 8 km RPE 3", "easy 8 km (RPE 3)"),
        ("8 km RPE 4", "easy 8 km (RPE 4)"),
        ("40 min RPE 2-3", "easy 40 min (RPE 2-3)"),
        ("60 min zone 2", "easy 60 min (zone 2)"),
        ("45 min Z1-Z2", "easy 45 min (Z1-Z2)"),
        ("10 km conversational pace", "easy 10 km (conversational pace)"),
        ("8 km very easy, nose breathing", "easy 8 km (very easy, nose breathing)"),
        ("12 km aerobic", "easy 12 km"),
        ("6 x 3 min hard (2 min float), 50 min", "6 x 3 min hard, 2 min float, 50 min"),
        ("3 x 8 min strong, 60 min", "3 x 8 min strong, 60 min"),
        ("10 km by feel", "easy 10 km (by feel)"),
        ("long run 24 km, easy effort", "long 24 km (easy)"),
        ("long run 24 km, effort 5", "long 24 km (effort 5)"),
        ("30 min at marathon effort", "race pace 30 min (marathon effort)"),
        ("easy effort 45 min", "easy 45 min"),
        ("moderate 50 min", "steady 50 min (moderate)"),
        ("hard 20 min, 50 min", "tempo 50 min, hard 20 min"),
    ],
    offered: &[
        ("10 km @ RPE 7", &["tempo 10 km (RPE 7)", "easy 10 km (\"RPE 7\")"]),
        (
            "20 min at RPE 8 within 50 min",
            &["tempo 50 min, hard 20 min (RPE 8)", "tempo 70 min, hard 20 min (RPE 8 within 50 min)"],
        ),
        ("12 km, 4 km in zone 3", &["tempo 12 km, hard 4 km (zone 3)", "tempo 16 km, hard 4 km (12 km, zone 3)"]),
        ("6 km comfortably hard", &["tempo 6 km (comfortably hard)", "easy 6 km (\"comfortably hard\")"]),
        ("5 km controlled", &["easy 5 km (controlled)"]),
        ("10 km moderate to hard", &["tempo 10 km (moderate to hard)", "steady 10 km (\"moderate to hard\")"]),
        ("60 min effort 6/10", &["tempo 60 min (effort 6/10)", "easy 60 min (\"effort 6/10\")"]),
        ("15 km, finish strong", &["progression 15 km (finish strong)", "easy 15 km (\"finish strong\")"]),
        (
            "8 km relaxed with a brisk finish",
            &["progression 8 km (relaxed with a brisk finish)", "easy 8 km (\"relaxed with a brisk finish\")"],
        ),
        ("all out 5k", &["time trial 5 km (all out)"]),
    ],
};

/// The shorthand of a spreadsheet.
const SHEET: Style = Style {
    units: DistanceUnit::Km,
    read: &[
        ("E10", "easy 10 km"),
        ("3wu/5T/2cd", "tempo 10 km, hard 5 km (3 km wu, 2 km cd)"),
        ("3+6x1k+2", "6 x 1 km, 11 km (3 km easy warm up, 2 km easy cool down)"),
        ("2+8x400+2", "8 x 400 m, 7.2 km (2 km easy warm up, 2 km easy cool down)"),
        ("LR24(8MP)", "long 24 km, hard 8 km (MP)"),
        ("OFF", "rest"),
        ("-/-", "rest"),
        ("10E/6E", "easy 10 km + easy 6 km"),
        ("6E|4E", "easy 6 km + easy 4 km"),
        ("T8", "tempo 8 km"),
        ("T: 2+5+2", "tempo 9 km, hard 5 km (2 km easy warm up, 2 km easy cool down)"),
        ("4x2k@HMP r3' = 14k", "4 x 2 km HMP r3', 14 km"),
        ("12km (3E 6T 3E)", "tempo 12 km, hard 6 km (3E 6T 3E)"),
        ("8 / gym", "easy 8 km + strength"),
        ("8 + gym 45", "easy 8 km + strength 45 min"),
        ("gym/8E", "strength + easy 8 km"),
        ("swim 1500m", "cross-training 1.5 km (swim)"),
        ("bike 40k", "cross-training 40 km (bike)"),
        ("WU2 4x1k CD2", "4 x 1 km, 8 km (2 km WU, 2 km CD)"),
        ("2WU+4x1k+2CD", "4 x 1 km, 8 km (2 km WU, 2 km CD)"),
        ("L22", "long 22 km"),
    ],
    offered: &[
        ("E10/S30", &["easy 10 km (S30)"]),
        ("8E+str", &["8E+ strides", "8E + strength"]),
        ("8E + 4str", &["8E + 4 strides"]),
        ("LR24/8MP", &["long 24 km, hard 8 km (MP)", "long 32 km, hard 8 km (LR 24 / MP)"]),
        ("R", &["easy 8 km (R)", "rest (\"R\")"]),
        ("I: 6x1000/400j", &["6 x 1000 m /400j, 12 km (I)"]),
        ("6x1000m/2'R + 2E + 2E", &["6 x 1000 m /2'R, 10 km + 2E + 2E"]),
        ("6x1k r=2' 10k", &["6 x 1 km \"r=2'\", 10 km", "6 x 1 km \"r=2' 10k\", 10 km"]),
        ("6x1k r2' 10k", &["6 x 1 km r2', 10 km", "6 x 1 km r2' 10k, 10 km"]),
        ("5x1k R:90s 9k", &["5 x 1 km R:90s, 9 km", "5 x 1 km R:90s 9k, 9 km"]),
        ("10x200 R200 8k", &["10 x 200 m R200, 8 km", "10 x 200 m R200 8k, 6 km"]),
        ("E8+S", &["E8 (\"+ S\")"]),
        ("M8 in 14", &["race pace 14 km (M8)", "easy 14 km (M8)"]),
        ("14 w/8M", &["race pace 14 km (w/8M)", "easy 14 km (w/8M)"]),
        ("ST 10", &["easy 10 km (ST)"]),
    ],
};

/// Timed runs of a weekend.
const WEEKENDS: Style = Style {
    units: DistanceUnit::Km,
    read: &[
        ("5k run", "easy 5 km"),
        ("5k time trial in the park", "time trial 5 km (in the park)"),
        ("timed 5k", "time trial 5 km (timed)"),
        ("2k wu + 5k timed run + 1k cd", "time trial 8 km, hard 5 km (2 km wu, timed run, 1 km cd)"),
    ],
    offered: &[
        ("Saturday 5k", &["time trial 5 km (Saturday)", "easy 5 km (Saturday)"]),
        ("Saturday 5k hard", &["time trial 5 km (Saturday hard)", "easy 5 km (\"Saturday hard\")"]),
        ("community 5k", &["time trial 5 km (community)", "easy 5 km (community)"]),
        ("park 5k + 3k", &["time trial 5 km (park) + 3k", "easy 5 km (park) + 3k"]),
        ("2k jog, 5k park hard, 2k jog", &["tempo 9 km, hard 5 km (\"2k jog, 5k park hard, 2k jog\")"]),
        ("5 km fast, 3 km easy", &["tempo 8 km, hard 5 km (fast, 3 km easy)"]),
        ("parkland 5k (easy)", &["time trial 5 km (parkland, easy)", "easy 5 km (parkland)"]),
        ("5k (tempo effort)", &["tempo 5 km (tempo effort)", "easy 5 km (\"tempo effort\")"]),
        ("jog to park 2k, 5k hard, jog home 2k", &["tempo 9 km, hard 5 km (\"jog to park 2k, 5k hard, jog home 2k\")"]),
        ("rest or 5k", &["rest (or 5k)", "5k (or rest)"]),
        ("5k pacing 30 min", &["easy 30 min (5k pacing)"]),
    ],
};

/// Trails and hills, with metres of climbing.
const TRAILS: Style = Style {
    units: DistanceUnit::Km,
    read: &[
        ("20 km +600 m", "easy 20 km (+600 m)"),
        ("20 km 600 m climb", "easy 20 km (600 m climb)"),
        ("20 km (600 m climb)", "easy 20 km (600 m climb)"),
        ("25 km trail, 900 m+", "easy 25 km (trail, 900 m+)"),
        ("25 km trail 900m D+", "easy 25 km (trail, 900m D+)"),
        ("3 h trail 1200 m vert", "easy 180 min (trail, 1200 m vert)"),
        ("2:30 h mountains", "easy 150 min (mountains)"),
        ("long 3h hilly 800m ascent", "long 180 min (hilly, 800m ascent)"),
        ("hill reps 10 x 2 min, 12 km, 400 m up", "hills 12 km, 10 x 2 min (400 m up)"),
        ("8 x 3 min uphill, jog down, 80 min", "8 x 3 min uphill, jog down, 80 min"),
        ("hike 4 h", "cross-training 240 min (hike)"),
        ("power hike 60 min", "cross-training 60 min (power hike)"),
        ("easy 60 min technical trail", "easy 60 min (technical, trail)"),
        ("back to back: 25 km", "easy 25 km (back to back)"),
        ("back-to-back long 25 km + 20 km", "long 25 km (back-to-back) + easy 20 km"),
        ("12 km w/ 300m vert", "easy 12 km (w/ 300m vert)"),
        ("15k trails (450 m of climbing)", "easy 15 km (trails, 450 m of climbing)"),
        ("long run 5 h with poles", "long 300 min (with poles)"),
    ],
    offered: &[
        ("vertical km", &["easy 8 km (vertical km)", "rest (\"vertical km\")"]),
        ("VK session", &["hills 8 km (VK session)"]),
        ("downhill reps 6 x 2 min, 60 min", &["6 x 2 min, 60 min (downhill)"]),
        ("stairs 30 min", &["hills 30 min (stairs)", "easy 30 min (stairs)"]),
        (
            "uphill tempo 20 min, 60 min",
            &["tempo 60 min, hard 20 min (uphill)", "tempo 80 min, hard 20 min (uphill, 60 min)"],
        ),
    ],
};

/// A coach who writes English as a second language.
const SECOND_LANGUAGE: Style = Style {
    units: DistanceUnit::Km,
    read: &[
        ("10,5 km easy", "easy 10.5 km"),
        ("Kraft 45 min", "strength 45 min"),
        ("40' Z1-2 + Kraft 30'", "easy 40 min (Z1-2) + strength 30 min"),
        ("50' locker Z2", "easy 50 min (Z2)"),
        ("LaLa 1h45 Z2", "long 105 min (lala, Z2)"),
        ("einlaufen 2 km, 6x800, auslaufen 2 km", "6 x 800 m, 8.8 km (2 km einlaufen, 2 km auslaufen)"),
        ("15' inlopen, 20' tempo, 10' uitlopen", "tempo 45 min, hard 20 min (15 min inlopen, 10 min uitlopen)"),
        ("2 w/u, A skips, 6 x 800, 2 c/d", "6 x 800 m, 8.8 km (2 km w/u, A skips, 2 km c/d)"),
        ("1 h 30 easy run", "easy 90 min"),
        ("1 h 30", "easy 90 min"),
        ("1h30 min", "easy 90 min"),
        ("footing 45 min", "easy 45 min"),
        ("footing 45’", "easy 45 min"),
        ("45´ easy", "easy 45 min"),
        ("45` easy", "easy 45 min"),
        ("6 x 1000 m , pause 2 min , 10 km", "6 x 1000 m, recovery \"2 min\", 10 km"),
        ("6*1000m (P: 2'), 10 km", "6 x 1000 m, 10 km (P: 2')"),
        ("6×1000 m, rec. 2’, 10 km", "6 x 1000 m, recovery \"2’\", 10 km"),
        ("2 km warming, 6 x 800, 2 km cooling", "6 x 800 m, 8.8 km (2 km warming, 2 km cooling)"),
        ("12 km — easy", "easy 12 km"),
        ("easy run 12 km – flat", "easy 12 km (flat)"),
        ("8–10 km", "easy 8-10 km"),
        ("long run 1 h 45 – 2 h", "long 105-120 min"),
        ("25 km, the last 5 in marathon pace", "race pace 25 km, hard 5 km (at the end, in marathon pace)"),
        ("10 km, of them 4 km fast", "tempo 10 km, hard 4 km (fast)"),
        ("10 km therefrom 4 km tempo", "tempo 10 km, hard 4 km"),
        ("endurance 14 km", "easy 14 km (endurance)"),
        ("continuous run 50 min", "easy 50 min (continuous run)"),
        ("long endurance run 24 km", "long 24 km"),
        ("regenerative 6 km", "recovery 6 km"),
        ("fartlek 50´ (10x1´/1´)", "fartlek 50 min, 10 x 1 min /1´"),
        ("3 x 3 km in HM pace (pause 3 min), 15 km", "3 x 3 km in HM pace, recovery \"pause 3 min\", 15 km"),
        ("easy 12km + 5 accelerations", "easy 12 km (with 5 accelerations)"),
        ("8 km + 6 x 80 m accelerations", "easy 8 km, 6 x 80 m accelerations"),
        ("rest day !", "rest"),
        ("1,5 h run", "easy 90 min"),
        ("15 km / 5:30", "easy 15 km (/ 5:30)"),
        ("10 km in 55 min", "easy 10 km (in 55 min)"),
        ("gymnastic 30 min", "mobility 30 min (gymnastic)"),
        ("crossfit 60", "strength 60 min (crossfit)"),
        ("stabi 20 min", "strength 20 min (stabi)"),
    ],
    offered: &[
        ("12 km – 4 km fast", &["tempo 4-12 km (fast)", "easy 4-12 km (\"fast\")"]),
        ("8 km + 6 strides á 100 m", &["8 km (\"+ 6 strides á 100 m\")"]),
        ("free", &["rest (\"free\")", "easy 8 km (free)"]),
        ("pause", &["rest (\"pause\")", "easy 8 km (\"pause\")"]),
        ("intervall 10 x 400", &["10 x 400 m, 8 km"]),
        ("athletics 30 min", &["easy 30 min (athletics)"]),
    ],
};

/// Warm-up, work and cool-down set apart by strokes and arrows.
const STAGES: Style = Style {
    units: DistanceUnit::Km,
    read: &[
        ("WU 3k / 5x1km T (2' walk) / CD 2k", "5 x 1 km T, 2' walk, 10 km (3 km WU, 2 km CD)"),
        ("1k wu / 4 x 400 R / 1k cd", "4 x 400 m R, 3.6 km (1 km wu, 1 km cd)"),
        ("3k wu / 5 x 1km (90s jog) / 2k cd", "5 x 1 km, 90s jog, 11 km (3 km wu, 2 km cd)"),
        ("WU 2mi / 3 x 1mi @ T w/ 1' / CD 1mi, 11 km", "3 x 1 mi T w/ 1', 11 km (WU 2mi, CD 1mi)"),
        ("WU 3k | 5x1km T (2' walk) | CD 2k", "5 x 1 km T, 2' walk, 10 km (3 km WU, 2 km CD)"),
        ("WU 3k - 5x1km T (2' walk) - CD 2k", "5 x 1 km T, 2' walk, 10 km (3 km WU, 2 km CD)"),
        ("WU 3k → 5x1km T (2' walk) → CD 2k", "5 x 1 km T, 2' walk, 10 km (3 km WU, 2 km CD)"),
        ("WU 3k -> 5x1km T, 2' walk -> CD 2k", "5 x 1 km T, 2' walk, 10 km (3 km WU, 2 km CD)"),
        ("WU 3k/5x1km T/CD 2k", "5 x 1 km T, 10 km (3 km WU, 2 km CD)"),
        ("WU 3k / 3x1km T / 4x200 R / CD 2k", "3 x 1 km T, 4 x 200 m R, 8.8 km (3 km WU, 2 km CD)"),
        ("WU 3k (easy) / 5x1km T / CD 2k (grass)", "5 x 1 km T, 10 km (3 km WU, easy, 2 km CD, grass)"),
        ("2k wu | 6 km tempo (at HM effort) | 2k cd", "tempo 10 km, hard 6 km (2 km wu, at HM effort, 2 km cd)"),
        ("2k easy | 5k tempo | 2k easy", "tempo 9 km, hard 5 km (2 km easy warm up, 2 km easy cool down)"),
        ("3k | 5x1k | 2k", "5 x 1 km, 10 km (3 km warm up, 2 km cool down)"),
        ("3k wu / drills / 5x1km T / 2k cd", "5 x 1 km T, 10 km (3 km wu, drills, 2 km cd)"),
        ("2k wu / drills + strides / 6x400 / 2k cd", "6 x 400 m, 6.4 km (2 km wu, drills, with strides, 2 km cd)"),
        ("2k wu, drills + strides, 6x400, 2k cd", "6 x 400 m, 6.4 km (2 km wu, drills, with strides, 2 km cd)"),
        ("8x800, 2 up 2 down", "8 x 800 m, 10.4 km (2 km warm up, 2 km cool down)"),
        ("8x800 2 up/2 down", "8 x 800 m, 10.4 km (2 km warm up, 2 km cool down)"),
        ("2 km up and down, 6x1k", "6 x 1 km, 10 km (2 km warm up, 2 km cool down)"),
        ("6x400, 2k wu 2k cd", "6 x 400 m, 6.4 km (2 km wu, 2 km cd)"),
    ],
    offered: &[
        ("Tuesday hard, 2k wu 2k cd", &["tempo 8 km, hard 4 km (Tuesday hard, 2k wu, 2k cd)"]),
        ("Session, 2k wu 2k cd", &["intervals 8 km, hard 4 km (Session, 2k wu, 2k cd)"]),
        ("hills thurs, 15 wu 10 cd", &["hills 45 min, hard 20 min (thurs, 15 wu, 10 cd)"]),
        ("8x … 800, 2 up 2 down", &["8x 800, 2 up 2 down"]),
        (
            "5 km tempo, 2 up 2 down",
            &["2 warm up, 5 km tempo, 2 cool down", "5 km tempo incl. 2 warm up and 2 cool down"],
        ),
        ("15 wu/cd, 35", &["15 min wu/cd, 35 min"]),
    ],
};

/// A coach of marathon runners who counts in miles.
const MARATHON_MILES: Style = Style {
    units: DistanceUnit::Mi,
    read: &[
        ("6 mi easy on the bike path", "easy 6 mi (on the bike path)"),
        ("12 mi LR, last 3 @ HM", "long 12 mi, hard 3 mi (at the end, at HM)"),
        ("2 mi w/u, 6 x 1000m @ 5k (400m jog), 2 mi c/d", "6 x 1000 m 5k, 400m jog, 9 mi (2 mi w/u, 2 mi c/d)"),
        ("Tempo: 2 up, 4 @ 6:40, 1 down", "tempo 7 mi, hard 4 mi (2 mi warm up, @ 6:40, 1 mi cool down)"),
        ("10 x 400m @ 5K pace, 200m jog - 8 total", "10 x 400 m 5K pace, 200m jog, 8 mi"),
        ("2 WU, 3x2 mi @ LT w/ 2:00 jog, 2 CD", "3 x 2 mi LT, 2:00 jog, 10.4 mi (2 mi WU, 2 mi CD)"),
        ("13 steady, last 2 @ 10k effort", "steady 13 mi, hard 2 mi (at the end, at 10k effort)"),
        ("20 LR w/ 10 @ MP", "long 20 mi, hard 10 mi (at MP)"),
        ("AM 5 ez / PM 10 w/ 4 x 1.5 mi @ T", "easy 5 mi (AM) + 4 x 1.5 mi T, 10 mi (PM)"),
        ("8 w/ strides x 6", "easy 8 mi (w/ strides x 6)"),
        ("7 mi w/ 6x20s hills", "6 x 20 s hills, 7 mi"),
    ],
    offered: &[("16 w/ 2x4 @ MP, 1 mi float", &["16 w/ 2x 4 min @ MP, 1 mi float", "16 w/ 2x 4 mi @ MP, 1 mi float"])],
};

/// A coach who counts in kilometres, with arrows and strokes.
const KILOMETRES: Style = Style {
    units: DistanceUnit::Km,
    read: &[
        ("3k wu / 4x2k @ HMP (500 jog) / 3k cd", "4 x 2 km HMP, 500 jog, 15.5 km (3 km wu, 3 km cd)"),
        ("3k w/u -> 20x200 (200 jog) -> 2k c/d", "20 x 200 m, 200 jog, 12.8 km (3 km w/u, 2 km c/d)"),
        ("WU 2.5k; 3 x 3k @ HMP w/ 800 float; CD 2.5k", "3 x 3 km HMP, 800 float, 15.6 km (2.5 km WU, 2.5 km CD)"),
        ("15k w/ 5k @ HM effort", "race pace 15 km, hard 5 km (at HM effort)"),
        ("Easy 9 + 5 strides", "easy 9 km (with 5 strides)"),
        ("22 km incl last 8 @ MP+10", "tempo 22 km, hard 8 km (at the end, at MP+10)"),
        ("3 x 5k @ MP (1k easy), 20k", "3 x 5 km MP, 20 km (1k easy)"),
        ("30 km with 3 x 5 km MP off 1 km easy", "3 x 5 km MP off 1 km easy, 30 km"),
        ("LR 30 w/ 3x5k @ MP, 1k float", "long 30 km, 3 x 5 km MP, 1k float"),
        ("10k easy / gym pm", "easy 10 km + strength (pm)"),
        ("10k or 60 min", "easy 10 km or easy 60 min"),
    ],
    offered: &[
        ("Steady 16 at MP +20", &["race pace 16 km (Steady at MP +20)", "steady 16 km (\"MP +20\")"]),
        (
            "Long 28 (2x8 @ MP w/ 1k float)",
            &["Long 28 (2x 8 min @ MP w/ 1k float)", "Long 28 (2x 8 km @ MP w/ 1k float)"],
        ),
        ("Recovery 6 or off", &["Recovery 6 (or off)", "off (or Recovery 6)"]),
    ],
};

/// Minutes, and little else.
const CLOCKS: Style = Style {
    units: DistanceUnit::Km,
    read: &[
        (
            "10' + 3x10' T (2') + 10'",
            "3 x 10 min T, recovery \"2'\", 50 min (10 min easy warm up, 10 min easy cool down)",
        ),
        ("20' wu | 8x2' hard/2' easy | 15' cd", "8 x 2 min hard/2' easy, 65 min (20 min wu, 15 min cd)"),
        ("50' easy, last 10' brisk", "easy 50 min, hard 10 min (at the end, brisk)"),
        ("1h10 w/ 20 min MP", "race pace 70 min, hard 20 min (MP)"),
        ("35 mins v easy", "easy 35 min (v easy)"),
        ("40 to 45 mins very gentle", "easy 40-45 min (very gentle)"),
        ("50 mins, middle 20 steady", "easy 50 min (middle 20 steady)"),
        (
            "15 mins wu > 12 x 1 min on, 1 min off > 10 mins cd",
            "12 x 1 min on, recovery \"1 min off\", 37 min (15 min wu, 10 min cd)",
        ),
        ("5x5' thr 90s, 1h", "5 x 5 min thr 90s, 60 min"),
    ],
    offered: &[
        ("20 WU, 20 T, 20 CD mins", &["20 min WU, 20 min T, 20 min CD mins"]),
        ("fartlek 45", &["fartlek 45 min"]),
        ("6x3 min hard 2 easy", &["6 x 3 min hard 2 easy, 45 min"]),
    ],
};

/// A British club.
const BRITISH_CLUB: Style = Style {
    units: DistanceUnit::Km,
    read: &[
        ("60 mins with 3 x 12 mins @ threshold off 2 mins", "3 x 12 min threshold off 2 mins, 60 min"),
        ("Thursday: threshold 3 x 10 mins off 90 secs, 65 mins", "tempo 65 min, 3 x 10 min off 90 secs (Thursday)"),
        (
            "10 mins wu, hills 12 x 45 secs jog back, 10 mins cd, 50 mins",
            "hills 50 min, 12 x 45 s jog back (10 min wu, 10 min cd)",
        ),
        ("6 miles XC, grass", "easy 6 mi (xc, grass)"),
        ("10 km, last km flat out", "tempo 10 km, hard 1 km (at the end, flat out)"),
    ],
    offered: &[
        ("2M WU, 5 x 1M off 2 mins, 2M CD", &["2 mi WU, 5 x 1 mi off 2 mins, 2 mi CD"]),
        ("paarlauf 10 x 400", &["10 x 400 m, 8 km (paarlauf)"]),
        ("4 mile brisk", &["tempo 4 mi (brisk)", "easy 4 mi (\"brisk\")"]),
        ("club hills 8 x 90s, 8k", &["hills 8 km, 8 x 90 s (club)"]),
        (
            "10 km easy, pick it up at the end",
            &["tempo 10 km (pick it up at the end)", "easy 10 km (\"pick it up at the end\")"],
        ),
    ],
};

/// An American high school.
const HIGH_SCHOOL: Style = Style {
    units: DistanceUnit::Mi,
    read: &[
        (
            "3 mi warmup, 8x200 @ mile, 200 jog, 2 mi cooldown",
            "8 x 200 m mile, 200 jog, 6.9 mi (3 mi warmup, 2 mi cooldown)",
        ),
        ("4x800 @ date pace, 2 min rest, 5 mi total", "4 x 800 m date pace, 2 min rest, 5 mi"),
        ("5x mile @ tempo w/ 60 sec rest, 8", "5 x 1 mi tempo, 60 sec rest, 8 mi"),
        ("wu 2, 6x800 @ 5k w/ 2 min, cd 1", "6 x 800 m 5k w/ 2 min, 6 mi (2 mi wu, 1 mi cd)"),
        (
            "1 mi wu / 12x200 @ 800 pace (200 walk) / 1 mi cd",
            "12 x 200 m 800 pace, recovery \"200 walk\", 3.5 mi (1 mi wu, 1 mi cd)",
        ),
        ("easy 35-40 min + 6 strides", "easy 35-40 min (with 6 strides)"),
        ("core + 4 mi", "strength (core) + easy 4 mi"),
        (
            "ladder 200-400-600-800-600-400-200, 6 mi",
            "1 x 200 m, 1 x 400 m, 1 x 600 m, 1 x 800 m, 1 x 600 m, 1 x 400 m, 1 x 200 m, 6 mi (ladder)",
        ),
        ("long run 70 min", "long 70 min"),
    ],
    offered: &[("hill day: 10 x 45 sec hills, 6 mi", &["10 x 45 s hills, 6 mi (day:)"])],
};

/// Scribbles on a phone.
const PHONE: Style = Style {
    units: DistanceUnit::Km,
    read: &[
        ("8k ez", "easy 8 km"),
        ("10 ish w bob", "easy 10 km (w bob, about)"),
        ("long 2hrs", "long 120 min"),
        ("am gym pm 8", "strength (am) + easy 8 km (pm)"),
        ("5x1k 90s, 10k", "5 x 1 km 90s, 10 km"),
        ("rest / pool", "rest (pool)"),
        ("off, sore calf", "rest (sore calf)"),
        ("rest... legs dead", "rest (legs dead)"),
        ("wu 2 6x400 cd 2", "6 x 400 m, 6.4 km (2 km wu, 2 km cd)"),
        ("1k wu 5x300 1k cd", "5 x 300 m, 3.5 km (1 km wu, 1 km cd)"),
        ("8k, strides x 4", "easy 8 km (with 4 strides)"),
    ],
    offered: &[
        ("800s x 6", &["6 x 800 m, 9 km"]),
        ("8 / 6", &["8 + 6", "6-8"]),
        ("tmrw 10k ez", &["easy 10 km (tmrw)"]),
        (
            "12k, hard bit in the middle",
            &["tempo 12 km (hard bit in the middle)", "easy 12 km (\"hard bit in the middle\")"],
        ),
        ("hills?? 8k", &["hills 8 km (??)", "easy 8 km (\"hills ??\")"]),
        ("easy 8 km pushing the buggy", &["easy 8 km (pushing the buggy)"]),
    ],
};

/// A coach who thinks in miles and writes as she speaks.
const THINKS_IN_MILES: Style = Style {
    units: DistanceUnit::Mi,
    read: &[
        (
            "track: 2 mi w/u, drills, 6 x 800 @ 3:05 w/ 400 jog, 1.5 c/d",
            "6 x 800 m 3:05, 400 jog, 7.7 mi (2 mi w/u, drills, 1.5 mi c/d)",
        ),
        ("track: 2 mi w/u, 3 mi tempo, 1 mi c/d", "tempo 6 mi, hard 3 mi (2 mi w/u, track, 1 mi c/d)"),
        ("club: 2 mi w/u, 6 x 800, 1 mi c/d", "6 x 800 m, 6 mi (2 mi w/u, club, 1 mi c/d)"),
        ("Tues: 2 mi w/u, 6 x 800, 1 mi c/d", "6 x 800 m, 6 mi (2 mi w/u, Tues, 1 mi c/d)"),
        ("Tues: 6 easy", "easy 6 mi (Tues)"),
        ("club: 8 easy", "easy 8 mi (club)"),
        ("drills, 6 ez", "mobility (drills) + easy 6 mi"),
        ("2 mi wu, 6 x 800, drills, 2 mi cd", "6 x 800 m, 7 mi (2 mi wu, drills, 2 mi cd)"),
        ("tempo: 2 w/u, 4 mi, 1 c/d", "tempo 7 mi, hard 4 mi (2 mi w/u, 1 mi c/d)"),
        ("hills: 2 mi w/u, 8 x 60 s jog down, 2 mi c/d, 7 mi", "hills 7 mi, 8 x 60 s jog down (2 mi w/u, 2 mi c/d)"),
        ("2 up, drills, 6 x 800, 1 down", "6 x 800 m, 6 mi (2 mi warm up, drills, 1 mi cool down)"),
        ("2 mi w/u, form drills, 6 x 800, 1 mi c/d", "6 x 800 m, 6 mi (2 mi w/u, form drills, 1 mi c/d)"),
        ("2 mi w/u, plyos, 6 x 800, 1 mi c/d", "6 x 800 m, 6 mi (2 mi w/u, plyos, 1 mi c/d)"),
        ("2 mi w/u, drills + strides, 6 x 800, 1 mi c/d", "6 x 800 m, 6 mi (2 mi w/u, drills, with strides, 1 mi c/d)"),
        (
            "2 mi w/u, dynamic stretching, 20 min tempo, 1 mi c/d, 6 mi",
            "tempo 6 mi, 1 x 20 min (2 mi w/u, dynamic stretching, 1 mi c/d)",
        ),
        (
            "20 wu, 2 x 20 min @ marathon pace (3 min float), 15 cd",
            "2 x 20 min marathon pace, 3 min float, 78 min (20 min wu, 15 min cd)",
        ),
        ("15 wu, 20 min tempo, 10 cd", "tempo 45 min, hard 20 min (15 min wu, 10 min cd)"),
        ("15 wu, 6 x 800, 10 cd, 9", "6 x 800 m, 9 mi (15 min wu, 10 min cd)"),
        ("15 wu, 6 x 800, 2 cd, 8", "6 x 800 m, 8 mi (15 min wu, 2 mi cd)"),
        ("6 mi steady-easy w/ the guys", "easy 6 mi (steady-easy, w/ the guys)"),
        ("8 easy-mod", "easy 8 mi (easy-mod)"),
        ("5 mod-easy with Tom", "easy 5 mi (mod-easy, with Tom)"),
        ("6 easy, w/ club", "easy 6 mi (w/ club)"),
        (
            "4 ez or bike 45 min, gym after (legs light)",
            "easy 4 mi or cross-training 45 min (bike) + strength (after, legs light)",
        ),
        ("4 ez, lift after", "easy 4 mi + strength (after)"),
        ("6 ez, core after", "easy 6 mi + strength (core, after)"),
        ("4 ez, then gym", "easy 4 mi + strength"),
        ("6 ez, gym before", "easy 6 mi + strength (before)"),
        ("gym before, 6 ez", "strength (before) + easy 6 mi"),
        ("LR 2:20 easy, last 20 at MP", "long 140 min, hard 20 min (easy, at the end, at MP)"),
        ("LR 2:20 easy, at the end 20 at MP", "long 140 min, hard 20 min (easy, at the end, at MP)"),
        ("2:20, easy, at the end 20 at MP", "race pace 140 min, hard 20 min (at the end, at MP)"),
    ],
    offered: &[
        ("AM 60 ez / PM lift 30 min", &["AM 60 min ez + PM lift 30 min"]),
        ("60 ez", &["60 min ez"]),
        ("60 mi ez, ultra prep", &["easy 60 mi (ultra prep)"]),
        ("15 wu, 20 tempo, 10 cd", &["15 min wu, 20 min tempo, 10 min cd"]),
        ("2 up, 25 min tempo, 2 down", &["2 warm up, 25 min tempo, 2 cool down, 7.5 mi"]),
        ("2 up, 25 min tempo @ 6:55, 2 down", &["2 warm up, 25 min tempo @ 6:55, 2 cool down, 7.5 mi"]),
        ("2 up, 3 x 10 min @ 6:55, 2 down", &["2 warm up, 3 x 10 min @ 6:55, 2 cool down, 8.5 mi"]),
        ("15 wu, 6 x 800, 10 cd", &["15 wu, 6 x 800, 10 cd, 6 mi"]),
    ],
};

#[test]
fn a_whole_that_is_reckoned_at_a_typed_pace_is_not_said_to_be_at_the_easy_pace() {
    use crate::problem::{Expected, ProblemKind};
    let asked = |line| read_day(line, DistanceUnit::Mi).expect_err(line);
    let typed = asked("2 up, 25 min tempo @ 6:55, 2 down");
    let unsaid = |one: &ProblemKind| matches!(one, ProblemKind::Unreadable { expected: Expected::WholeRun, .. });
    assert!(typed.iter().all(unsaid), "{typed:?}");
    let easy = asked("2 up, 25 min tempo, 2 down");
    assert!(matches!(easy.as_slice(), [ProblemKind::WholeUnsaid { .. }]), "{easy:?}");
}

#[test]
fn a_strangers_week_is_read_as_it_was_meant() {
    let mut count = 0;
    for style in STYLES {
        for (line, meant) in style.read {
            let day = read_day(line, style.units).unwrap_or_else(|problems| panic!("{line}: {problems:?}"));
            assert_eq!(write_day(&day), *meant, "{line}");
            assert_eq!(read_day(meant, DistanceUnit::Km).as_ref(), Ok(&day), "{meant}");
            assert_eq!(read_kept_day(line, style.units), Ok(day), "{line}");
            assert!(offers(line, style.units).is_empty(), "{line}");
            count += 1;
        }
    }
    assert!(count > 130, "{count}");
}

#[test]
fn what_is_refused_of_a_strangers_week_is_offered_as_lines_that_are_read() {
    for style in STYLES {
        for (line, offered) in style.offered {
            let lines: Vec<String> = offers(line, style.units).into_iter().map(|offer| offer.line).collect();
            assert_eq!(lines, *offered, "{line}");
        }
    }
}

#[test]
fn hard_running_in_the_words_of_an_easy_run_is_asked_about() {
    for words in [
        "fast finish",
        "push the last km",
        "open up at the end",
        "pick it up over the last 3",
        "flat out at the end",
        "race the last mile",
        "let it rip at the end",
    ] {
        let line = format!("10 km easy ({words})");
        assert!(read_day(&line, DistanceUnit::Km).is_err(), "{line}");
        let offered = offers(&line, DistanceUnit::Km);
        assert!(offered.first().is_some_and(|first| first.day[0].chosen().is_hard()), "{line}");
        assert!(read_kept_day(&line, DistanceUnit::Km).is_ok(), "{line}");
    }
    for words in ["pushing the buggy", "flat, out and back", "finish with strides", "not all out"] {
        assert!(read_day(&format!("10 km easy ({words})"), DistanceUnit::Km).is_ok(), "{words}");
    }
}

#[test]
fn a_line_says_the_same_as_half_of_a_day() {
    // A total is the day's, and "or" parts what the day holds.
    let is_of_the_day = |line: &str| {
        let lower = line.to_lowercase();
        [" or ", "tot", "in all", "= "].iter().any(|word| lower.contains(word)) || lower.contains("pm ")
    };
    let mut count = 0;
    for style in STYLES {
        for (line, _) in style.read.iter().filter(|(line, _)| !is_of_the_day(line)) {
            let day = read_day(line, style.units).unwrap_or_else(|problems| panic!("{line}: {problems:?}"));
            let [slot] = day.as_slice() else { continue };
            let session = slot.chosen();
            if session.rest_words().is_some() {
                continue;
            }
            let note = if session.note.is_empty() { "PM".to_owned() } else { format!("PM, {}", session.note) };
            let meant = Session { note, ..session.clone() };
            for both in [format!("AM 5, PM {line}"), format!("AM 5 + PM {line}")] {
                let read = read_day(&both, style.units).unwrap_or_else(|problems| panic!("{both}: {problems:?}"));
                assert_eq!(read.get(1).map(Slot::chosen), Some(&meant), "{both}");
                assert_eq!(read.len(), 2, "{both}");
            }
            count += 1;
        }
    }
    assert!(count > 120, "{count}");
}
