//! Weeks of strangers, each in a style of its own: what is read at once, and what is offered for the rest.

use super::{offers, read_day, read_kept_day, write_day};
use crate::units::DistanceUnit;

/// A style: its lines with what they are taken for, and refused ones with all that is offered for each.
struct Style {
    units: DistanceUnit,
    read: &'static [(&'static str, &'static str)],
    offered: &'static [(&'static str, &'static [&'static str])],
}

const STYLES: [&Style; 9] =
    [&US_CLUB, &UK_CLUB, &MINUTES, &EFFORTS, &SHEET, &WEEKENDS, &TRAILS, &SECOND_LANGUAGE, &STAGES];

/// A club that counts in miles.
const US_CLUB: Style = Style {
    units: DistanceUnit::Mi,
    read: &[
        ("6 easy w/ strides", "easy 6 mi (w/ strides)"),
        ("8 GA", "easy 8 mi"),
        ("8 miles general aerobic", "easy 8 mi"),
        ("MLR 11", "long 11 mi (MLR)"),
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
        ("4 x mile @ threshold (90 sec), 9 mi total", "4 x 1 mi threshold, 9 mi (90 sec)"),
        ("8 x 800 w/ equal jog, 10", "8 x 800 m, equal jog, 10 mi"),
        ("cutback long 13", "long 13 mi (cutback)"),
        ("10 mi steady w/ last mile hard", "steady 10 mi, hard 1 mi (at the end)"),
    ],
    offered: &[
        ("track: 8x400 @ mile pace w/ 400 jog", &["8 x 400 m mile pace, 400 jog, 7 mi"]),
        ("mile repeats x 4", &["intervals 5 mi (mile repeats x 4)"]),
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
        ("threshold 25 mins inside 8 miles", &["tempo 8 mi, 1 x 25 min (threshold 25 mins inside 8 miles)"]),
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
        ("60", &["60 min", "60 km"]),
        ("15 wu - 20 tempo - 10 cd", &["15 min wu, 20 min tempo, 10 min cd"]),
        ("15-20-10 tempo", &["15 min warm up, 20 min tempo, 10 min cool down"]),
        ("5x3' on 2' off", &["5 x 3 min on 2' off, 40 min"]),
        ("60' alternating 3' hard/2' easy", &["fartlek 60 min (\"60' alternating 3' hard/2' easy\")"]),
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
            &[
                "tempo 50 min, hard 20 min (20 min at RPE 8 within 50 min)",
                "tempo 70 min, hard 20 min (20 min at RPE 8 within 50 min)",
            ],
        ),
        (
            "12 km, 4 km in zone 3",
            &["tempo 12 km, hard 4 km (12 km, 4 km in zone 3)", "tempo 16 km, hard 4 km (12 km, 4 km in zone 3)"],
        ),
        ("6 km comfortably hard", &["tempo 6 km (comfortably hard)", "easy 6 km (\"comfortably hard\")"]),
        ("5 km controlled", &["easy 5 km (controlled)"]),
        ("10 km moderate to hard", &["tempo 10 km (hard)", "steady 10 km (\"hard\")"]),
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
        ("8E+str", &["8E (\"+ str\")"]),
        ("8E + 4str", &["8E (\"+ 4str\")"]),
        ("LR24/8MP", &["long 24 km, hard 8 km (LR24/8MP)", "long 32 km, hard 8 km (LR24/8MP)"]),
        ("R", &["easy 8 km (R)", "rest (\"R\")"]),
        ("I: 6x1000/400j", &["6 x 1000 m /400j, 10 km (I:)"]),
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
        ("5 km fast, 3 km easy", &["tempo 8 km, hard 5 km (5 km fast, 3 km easy)"]),
        ("parkland 5k (easy)", &["time trial 5 km (parkland, easy)", "easy 5 km (parkland, easy)"]),
        ("5k (tempo effort)", &["tempo 5 km (tempo effort)", "easy 5 km (\"tempo effort\")"]),
        ("jog to park 2k, 5k hard, jog home 2k", &["tempo 9 km, hard 5 km (\"jog to park 2k, 5k hard, jog home 2k\")"]),
        ("rest or 5k", &["rest (or 5k)", "5k (or rest)"]),
        ("5k pacing 30 min", &["easy 30 min (5k pacing 30 min)"]),
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
            &[
                "tempo 60 min, hard 20 min (uphill tempo 20 min, 60 min)",
                "tempo 80 min, hard 20 min (uphill tempo 20 min, 60 min)",
            ],
        ),
    ],
};

/// A coach who writes English as a second language.
const SECOND_LANGUAGE: Style = Style {
    units: DistanceUnit::Km,
    read: &[
        ("10,5 km easy", "easy 10.5 km"),
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
        ("3k wu / 5 x 1km (90s jog) / 2k cd", "5 x 1 km, 90s jog, 10 km (3 km wu, 2 km cd)"),
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
        ("hills thurs, 15 wu 10 cd", &["hills 45 min, hard 20 min (hills thurs, 15 wu, 10 cd)"]),
        ("8x … 800, 2 up 2 down", &["8x 800, 2 up 2 down"]),
        (
            "5 km tempo, 2 up 2 down",
            &["2 warm up, 5 km tempo, 2 cool down", "5 km tempo incl. 2 warm up and 2 cool down"],
        ),
        ("15 wu/cd, 35", &["15 min wu/cd, 35 min"]),
    ],
};

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
