//! Days as coaches of many clubs write them, in kilometres, miles and minutes: what is read, and what is asked.

use super::{read_day, read_kept_day, read_pace, write_day};
use crate::athlete::Athlete;
use crate::problem::{Expected, ProblemKind};
use crate::units::DistanceUnit;

/// Lines and what they are taken for, of athletes who think in kilometres.
const IN_KM: &[(&str, &str)] = &[
    ("12 km w/ 6 km @ MP", "race pace 12 km, hard 6 km (at MP)"),
    ("90 min w/ 30 min @ M pace", "race pace 90 min, hard 30 min (at M pace)"),
    ("16 km with last 5 km at marathon pace", "race pace 16 km, hard 5 km (last at marathon pace)"),
    ("12 km incl. 6 km MP", "race pace 12 km, hard 6 km (MP)"),
    ("12 km including 6 km at marathon pace", "race pace 12 km, hard 6 km (at marathon pace)"),
    ("16 km, last 5 km at MP", "race pace 16 km, hard 5 km (last at MP)"),
    ("16 km last 5 @ MP", "race pace 16 km, hard 5 km (last at MP)"),
    ("20 km finishing with 5 km at HM pace", "race pace 20 km, hard 5 km (finishing at HM pace)"),
    ("long 30 km with last 10 km at MP", "long 30 km, hard 10 km (last at MP)"),
    ("long 30 km, last 10 km MP", "long 30 km, hard 10 km (last MP)"),
    ("long run 28 km w/ 3 x 4 km @ MP", "long 28 km, 3 x 4 km MP"),
    ("long 18 mi w/ 10 @ MP", "long 18 mi, hard 10 mi (at MP)"),
    ("8 km @ MP", "race pace 8 km (MP)"),
    ("8 km at marathon pace", "race pace 8 km (marathon pace)"),
    ("8 km MP", "race pace 8 km (MP)"),
    ("20 min @ threshold", "tempo 20 min"),
    ("8 km @ 4:30", "easy 8 km (@ 4:30)"),
    ("12 km w/ 20 min tempo", "tempo 12 km, 1 x 20 min"),
    ("12 km with 20 min at threshold", "tempo 12 km, 1 x 20 min"),
    ("60 min w/ 20 min tempo", "tempo 60 min, hard 20 min"),
    ("60 min with 3 x 10 min threshold", "3 x 10 min threshold, 60 min"),
    ("8 km with 6 strides", "easy 8 km (with 6 strides)"),
    ("8 km w/ strides", "easy 8 km (w/ strides)"),
    ("8 km + 4 strides", "easy 8 km (with 4 strides)"),
    ("8 with 4 x 100 m strides", "easy 8 km, 4 x 100 m strides"),
    ("10 km with 5 km tempo", "tempo 10 km, hard 5 km"),
    ("10 km with 5 km steady", "easy 10 km (with 5 km steady)"),
    ("10 incl. 5 km easy", "easy 10 km (5 km easy)"),
    ("10 km easy with friends", "easy 10 km (with friends)"),
    ("2 km WU, 20 min threshold, 2 km CD, 9 km", "tempo 9 km, 1 x 20 min (2 km WU, 2 km CD)"),
    ("15 min WU, 20 min tempo, 10 min CD", "tempo 45 min, hard 20 min (15 min WU, 10 min CD)"),
    ("2 km WU, 5 x 1 km @ 10k pace (2 min jog), 2 km CD", "5 x 1 km 10k pace, 2 min jog, 9 km (2 km WU, 2 km CD)"),
    ("15' WU, 6 x 3' hard (2' easy), 10' CD", "6 x 3 min hard, 43 min (15 min WU, 2' easy, 10 min CD)"),
    ("LSD 20 km", "long 20 km"),
    ("20 km LSD", "long 20 km"),
    ("LSR 20", "long 20 km"),
    ("XT", "cross-training"),
    ("XT 45", "cross-training 45 min"),
    ("cross-train 45 min", "cross-training 45 min"),
    ("X-train", "cross-training"),
    ("x-training 45", "cross-training 45 min"),
    ("rest or XT", "cross-training (\"or rest\")"),
    ("XT or rest", "cross-training (\"or rest\")"),
    ("off", "rest"),
    ("Rest/XT", "cross-training (\"or rest\")"),
    ("strength", "strength"),
    ("yoga", "mobility (yoga)"),
    ("pilates", "strength (pilates)"),
    ("core 20", "strength 20 min (core)"),
    ("1:30 easy", "easy 90 min"),
    ("long 2:15", "long 135 min"),
    ("1:45:00", "easy 105 min"),
    ("45:00 easy", "easy 45 min"),
    ("easy 0:45", "easy 45 min"),
    ("long 1:45-2:00", "long 105-120 min"),
    ("AM 6 easy, PM 8 easy", "easy 6 km (AM) + easy 8 km (PM)"),
    ("am: 6, pm: 8 tempo", "easy 6 km (am) + tempo 8 km (pm)"),
    ("AM 6 / PM 8", "easy 6 km (AM) + easy 8 km (PM)"),
    ("6 km am, 8 km pm", "easy 6 km (am) + easy 8 km (pm)"),
    ("6 + 8 easy", "easy 6 km + easy 8 km"),
    ("6 easy + 8 easy", "easy 6 km + easy 8 km"),
    ("E 8 km", "easy 8 km"),
    ("8k easy", "easy 8 km"),
    ("8K E", "easy 8 km"),
    ("e 40 min", "easy 40 min"),
    ("tempo 6k", "tempo 6 km"),
    ("T 20 min", "tempo 20 min"),
    ("5 x 1k, 10k", "5 x 1 km, 10 km"),
    ("5x1k @ 5k pace, 10 km", "5 x 1 km 5k pace, 10 km"),
    ("3x10' T, 70'", "3 x 10 min T, 70 min"),
    ("3 x 10 min @ T w/ 2 min jog, 60 min", "3 x 10 min T, 2 min jog, 60 min"),
    ("fartlek 45'", "fartlek 45 min"),
    ("fartlek 45 min (1 on 1 off)", "fartlek 45 min (1 on 1 off)"),
    ("10 x 1 min on / 1 min off, 50 min", "10 x 1 min on / 1 min off, 50 min"),
    ("8 km easy + strides", "easy 8 km (with strides)"),
    ("medium long 16 km", "long 16 km (medium long)"),
    ("MLR 16 km", "long 16 km (MLR)"),
    ("long slow distance 25 km", "long 25 km"),
    ("recovery run 5 km", "recovery 5 km"),
    ("rec jog 30 min", "recovery 30 min"),
    ("easy jog 30'", "easy 30 min"),
    ("steady state 10 km", "steady 10 km"),
    ("hill sprints 8 x 10 s, 8 km", "hills 8 km, 8 x 10 s (hill sprints)"),
    ("track: 6 x 800, 10 km", "6 x 800 m, 10 km"),
    ("intervals 10 km", "intervals 10 km"),
    ("VO2 5 x 3 min, 10 km", "5 x 3 min, 10 km (VO2)"),
    ("speed 8 km", "intervals 8 km"),
    ("speedwork 8 km", "intervals 8 km"),
    ("cutdown 12 km", "progression 12 km"),
    ("swim 30", "cross-training 30 min (swim)"),
    ("cycle 60", "cross-training 60 min (cycle)"),
    ("spin 45", "cross-training 45 min (spin)"),
    ("walk 30 min", "cross-training 30 min (\"walk\")"),
    ("hike 2 h", "cross-training 120 min (hike)"),
    ("run/walk 40 min", "easy 40 min (\"run/walk\")"),
    ("aqua jog 40 min", "cross-training 40 min (\"aqua jog\")"),
    ("elliptical 40", "cross-training 40 min (elliptical)"),
    ("rowing machine 20", "cross-training 20 min (rowing machine)"),
    ("3 x 1 mile @ 10K, 8 miles", "3 x 1 mi 10K, 8 mi"),
    ("10k@MP", "race pace 10 km (MP)"),
    ("12km w/6km@MP", "race pace 12 km, hard 6 km (at MP)"),
    ("8km E + 4xstrides", "easy 8 km (with 4 strides)"),
    ("60' incl 20' T", "tempo 60 min, hard 20 min"),
    ("60' w/ 20' T", "tempo 60 min, hard 20 min"),
    ("75 min, last 20 min hard", "tempo 75 min, hard 20 min (last)"),
    ("50 min progressive", "progression 50 min"),
    ("50 min last 15 fast", "tempo 50 min, hard 15 min (last fast)"),
    ("14 km build", "progression 14 km"),
    ("10 km @ HMP", "race pace 10 km (HMP)"),
    ("10 km race effort", "race pace 10 km (race effort)"),
    ("rest day", "rest"),
    ("day off", "rest"),
    ("complete rest", "rest"),
    ("easy 6 with Jo at 7 pm", "easy 6 km (with Jo at 7 pm)"),
    ("8 x 200 m hills, 8 km", "8 x 200 m hills, 8 km"),
    ("30 min tempo", "tempo 30 min"),
    ("easy 30-40 min", "easy 30-40 min"),
    ("50-60'", "easy 50-60 min"),
    ("12-14k", "easy 12-14 km"),
    ("7-8 miles", "easy 7-8 mi"),
    ("easy 5 miles", "easy 5 mi"),
    ("5 mi + core", "easy 5 mi + strength (core)"),
    ("45 mins", "easy 45 min"),
    ("1 hour easy", "easy 60 min"),
    ("1 hr", "easy 60 min"),
    ("1.5 hr", "easy 90 min"),
    ("90min easy", "easy 90 min"),
    ("5 km easy, 5 km tempo, 2 km easy", "tempo 12 km, hard 5 km (5 km easy warm up, 2 km easy cool down)"),
    ("3 km easy, 6 km tempo, 3 km easy", "tempo 12 km, hard 6 km (3 km easy warm up, 3 km easy cool down)"),
    ("2 easy, 4 tempo, 2 easy", "tempo 8 km, hard 4 km (2 km easy warm up, 2 km easy cool down)"),
    ("5k TT", "time trial 5 km"),
    ("time trial 5 km", "time trial 5 km"),
    ("10 km with 3x1 km hard", "3 x 1 km hard, 10 km"),
    ("6 x 1 min fast, 40 min", "6 x 1 min fast, 40 min"),
    ("10 km + 6 x 20 s strides", "easy 10 km, 6 x 20 s strides"),
    ("easy 60' + 6 strides", "easy 60 min (with 6 strides)"),
    ("16k w/ last 4k @ HM effort", "race pace 16 km, hard 4 km (last at HM effort)"),
    ("18 km w/ 2 x 5 km @ MP (1 km easy)", "2 x 5 km MP, 18 km (1 km easy)"),
    ("20 km incl 3x3k @ HMP", "3 x 3 km HMP, 20 km"),
    ("22 km with 12 km at goal pace, 3 km cool down", "race pace 22 km, hard 12 km (3 km cool down)"),
    ("14 mi with middle 6 at MP", "race pace 14 mi, hard 6 mi (middle at MP)"),
    ("14 mi, middle 6 at MP", "race pace 14 mi, hard 6 mi (middle at MP)"),
    ("10 miles with 5 miles at tempo pace", "tempo 10 mi, hard 5 mi"),
    ("8 mi w/ 6x1' hills", "6 x 1 min hills, 8 mi"),
    ("10x90\" hills, 12 km", "10 x 90 s hills, 12 km"),
    ("8x400m @ 3k pace (200m jog), 9km", "8 x 400 m 3k pace, 200m jog, 9 km"),
    ("2 x 20 min @ T (3 min easy), 75 min", "2 x 20 min T, 75 min (3 min easy)"),
    ("20' easy + 3 x 8' T + 10' easy", "3 x 8 min T, 54 min (20 min easy warm up, 10 min easy cool down)"),
    ("20 min easy, 3 x 8 min T, 10 min easy", "3 x 8 min T, 54 min (20 min easy warm up, 10 min easy cool down)"),
    ("3 km easy, 5 x 1 km @ 10k, 2 km easy", "5 x 1 km 10k, 10 km (3 km easy warm up, 2 km easy cool down)"),
    ("30' easy, 20' MP, 10' easy", "race pace 60 min, hard 20 min (30 min easy warm up, MP, 10 min easy cool down)"),
    ("long 2h", "long 120 min"),
    ("long 2 hrs", "long 120 min"),
    ("2h15 long", "long 135 min"),
    ("120-150 min long", "long 120-150 min"),
    ("long run 1h45 easy", "long 105 min (easy)"),
    ("long 28-32k", "long 28-32 km"),
    ("26k long w/ 10k steady", "long 26 km (w/ 10k steady)"),
    ("long 30k, 3 x 5k @ MP w/ 1k float", "long 30 km, 3 x 5 km MP, 1k float"),
    ("10k steady", "steady 10 km"),
    ("moderate 10 km", "steady 10 km (moderate)"),
    ("recovery 30'", "recovery 30 min"),
    ("rec 5k", "recovery 5 km"),
    ("REST", "rest"),
    ("Rest / yoga", "mobility (\"or rest, yoga\")"),
    ("off or swim", "cross-training (or off, swim)"),
    ("gym", "strength"),
    ("gym + 5 km easy", "strength + easy 5 km"),
    ("easy 5 km & gym", "easy 5 km + strength"),
    ("easy 5 km and strength", "easy 5 km + strength"),
    ("easy 5 km, gym", "easy 5 km + strength"),
    ("E8", "easy 8 km"),
    ("E 8k + S&C", "easy 8 km + strength"),
    ("bike 60 or easy 8", "cross-training 60 min (bike) or easy 8 km"),
    ("easy 8 or bike 45", "easy 8 km or cross-training 45 min (bike)"),
    ("run 8", "easy 8 km"),
    ("8,5 km", "easy 8.5 km"),
    ("60min", "easy 60 min"),
    ("1h easy", "easy 60 min"),
    ("1h30 long", "long 90 min"),
    ("Easy: 8 km", "easy 8 km"),
    ("easy - 8 km", "easy 8 km"),
    ("Easy 8km @ 5:30/km", "easy 8 km (@ 5:30/km)"),
    ("easy 8km @ 5.30", "easy 8 km (@ 5.30)"),
    ("8 km @ 5:30-5:45", "easy 8 km (@ 5:30-5:45)"),
    ("tempo 25 min", "tempo 25 min"),
    ("wu 15 min, t 25 min, cd 10 min", "tempo 50 min, hard 25 min (15 min wu, 10 min cd)"),
    ("Fartlek: 10 x 1'/1', 50'", "fartlek 50 min, 10 x 1 min /1'"),
    ("fartlek 8 km w/ 6 x 2 min hard", "fartlek 8 km, 6 x 2 min hard"),
    ("Track 10 x 400m, 9k", "10 x 400 m, 9 km"),
    ("18 miles @ 8:30", "easy 18 mi (@ 8:30)"),
    ("10k prog", "progression 10 km"),
    ("12k progression run last 4k fast", "progression 12 km, hard 4 km (last fast)"),
    ("10 km with 6 x 20 sec pick ups", "6 x 20 s pick ups, 10 km"),
    ("7k easy with 5x100m strides", "easy 7 km, 5 x 100 m strides"),
    ("10 km E w/ 6 strides + core 15", "easy 10 km (w/ 6 strides) + strength 15 min (core)"),
    ("E 45' + strides", "easy 45 min (with strides)"),
    ("45' E", "easy 45 min"),
    ("2E + 3T + 2E", "tempo 7 km, hard 3 km (2 km warm up, 2 km cool down)"),
    ("2E, 3T, 2E", "tempo 7 km, hard 3 km (2 km warm up, 2 km cool down)"),
    ("8T", "tempo 8 km"),
    ("5 mi E + 4 mi T + 1 mi E", "tempo 10 mi, hard 4 mi (5 mi warm up, 1 mi cool down)"),
    ("12 km cruise intervals 4 x 1.6 km", "4 x 1.6 km, 12 km (cruise intervals)"),
    ("tempo intervals 4 x 1 mile, 8 miles", "4 x 1 mi, 8 mi (tempo intervals)"),
    ("threshold 4 x 6 min (1 min), 60 min", "tempo 60 min, 4 x 6 min (1 min)"),
    ("6 km easy, then gym", "easy 6 km + strength"),
    ("6 km, strides", "easy 6 km (with strides)"),
    ("6 km then strides", "easy 6 km (with strides)"),
    ("easy 6 km; strides", "easy 6 km (with strides)"),
    ("8 km easy am + gym pm", "easy 8 km (am) + strength (pm)"),
    ("AM: easy 8 km; PM: 8 x 400 m, 10 km", "easy 8 km (AM) + 8 x 400 m, 10 km (PM)"),
    ("am gym pm 8 easy", "strength (am) + easy 8 km (pm)"),
    ("rest or walk", "cross-training (\"or rest, walk\")"),
    ("rest or swim 30", "cross-training 30 min (\"or rest, swim\")"),
    ("10 km cruise intervals 4 x 1.6 km", "4 x 1.6 km, 10 km (cruise intervals)"),
    ("8 km and 4 strides", "easy 8 km (with 4 strides)"),
    ("8 km then 6 x 100 m strides", "easy 8 km, 6 x 100 m strides"),
    ("16 km (last 5 km at MP)", "race pace 16 km, hard 5 km (last at MP)"),
    ("long 30 km (last 10 km at MP)", "long 30 km, hard 10 km (last at MP)"),
    ("12 km (6 km @ MP)", "race pace 12 km, hard 6 km (at MP)"),
    ("12 km (3 x 3 km @ MP)", "3 x 3 km MP, 12 km"),
    ("75 min (last 20 min hard)", "tempo 75 min, hard 20 min (last)"),
    ("tempo 40' (20' hard)", "tempo 40 min, hard 20 min"),
    ("AM 6 km, PM 2 km WU, 4 km tempo, 2 km CD", "easy 6 km (AM) + tempo 8 km, hard 4 km (PM, 2 km WU, 2 km CD)"),
];

/// Runs whose parts have no sum, and the line that is offered for each.
const OFFERED: &[(&str, &str)] = &[
    ("2 km WU, 20 min threshold, 2 km CD", "2 km WU, 20 min threshold, 2 km CD, 7.5 km"),
    ("15 min WU, 5 km tempo, 10 min CD", "15 min WU, 5 km tempo, 10 min CD, 9.5 km"),
    ("10 min wu, 8 x 400 m w/ 200 m jog, 10 min cd", "10 min wu, 8 x 400 m w/ 200 m jog, 10 min cd, 8 km"),
    ("2 km WU, 4 x 5 min T (2 min jog), 2 km CD", "2 km WU, 4 x 5 min T (2 min jog), 2 km CD, 8.5 km"),
    ("2-3 km WU, 20 min threshold, 2 km CD", "2-3 km WU, 20 min threshold, 2 km CD, 7.5-8.5 km"),
    ("2 km WU, 20 min tempo", "5.5 km, 2 km WU, 20 min tempo"),
    ("20 min tempo, 2 km CD", "5.5 km with 20 min tempo, 2 km CD"),
    ("5 + 2 km WU, 20 min T, 2 km CD (\"track\")", "5 + 2 km WU, 20 min T, 2 km CD (\"track\"), 7.5 km"),
    ("AM: 2 km WU, 20 min T, 2 km CD; PM: 6 km", "AM 2 km WU, 20 min T, 2 km CD, 7.5 km + PM 6 km"),
];

/// The same, in miles.
const IN_MILES: &[(&str, &str)] = &[
    ("10 mi w/ 4 @ HM", "race pace 10 mi, hard 4 mi (at HM)"),
    ("long 18 w/ last 6 at goal pace", "long 18 mi, hard 6 mi (last at goal pace)"),
    ("2 WU, 4 @ T, 1 CD", "tempo 7 mi, hard 4 mi (2 mi WU, 1 mi CD)"),
    ("2 mi WU, 4 x 1 mi @ T, 2 mi CD", "4 x 1 mi T, 8 mi (2 mi WU, 2 mi CD)"),
    ("8 w/ 5 @ tempo", "tempo 8 mi, hard 5 mi"),
    ("7 miles easy", "easy 7 mi"),
    ("15 miles w/ last 3 @ MP", "race pace 15 mi, hard 3 mi (last at MP)"),
    ("20 mi long", "long 20 mi"),
    ("4 mi @ T", "tempo 4 mi"),
    ("6 mi tempo", "tempo 6 mi"),
];

/// Lines that are asked about, with the words that the question names.
const ASKED: &[(&str, &str, Expected)] = &[
    ("10 km with 6 hills", "with 6 hills", Expected::HowHard),
    ("10 km incl. 8 hill sprints", "8 hill sprints", Expected::HowHard),
    ("8 km with 4 fast friends", "with 4 fast friends", Expected::HowHard),
    ("12 km with 3 km tempo and 2 km at 10k pace", "and 2 km at 10k pace", Expected::OneHardPart),
    ("20 km fast finish", "fast finish", Expected::HowHard),
    ("20 km with fast finish", "with fast finish", Expected::HowHard),
    ("long 32 km, fast finish", "fast finish", Expected::HowHard),
    ("10 km with hills", "with hills", Expected::HowHard),
    ("10 km with hill sprints", "with hill sprints", Expected::HowHard),
    ("10 km hilly", "hilly", Expected::Part),
    ("10 km over hills", "over hills", Expected::HowHard),
    ("10 km with surges", "with surges", Expected::HowHard),
    ("10 km with pickups", "with pickups", Expected::HowHard),
    ("10 km (tempo)", "tempo", Expected::HowHard),
    ("easy 10 on hard trail", "on hard trail", Expected::HowHard),
    ("rest or easy 5", "rest or easy 5", Expected::RestOrRun),
    ("easy 5 or off", "easy 5 or off", Expected::RestOrRun),
    ("easy 5:30", "5:30", Expected::Duration),
    ("6/8", "/8", Expected::Unit),
    ("race 10 km", "race 10 km", Expected::SessionKind),
    ("10k race", "race", Expected::SessionKind),
    ("6 x hill, 8 km", "6 x hill", Expected::Sets),
    ("Club night 10 km", "Club night 10 km", Expected::SessionKind),
    ("sprints 6 x 100 m, 6 km", "sprints 6 x 100 m", Expected::HowHard),
    ("pyramid 1-2-3-2-1 min, 8 km", "pyramid 1-2-3-2-1 min", Expected::SessionKind),
    ("90 min, 2nd half at MP", "2nd half at MP", Expected::HowHard),
    ("10 km negative split", "negative split", Expected::HowHard),
    ("Rest - travel", "Rest - travel", Expected::SessionKind),
    ("travel", "travel", Expected::SessionKind),
    ("easy 8 (hill route)", "hill route", Expected::HowHard),
    ("long 25 km hilly", "hilly", Expected::Part),
    ("easy 10 km fast", "fast", Expected::HowHard),
    ("12 km, 4 km MP", "4 km MP", Expected::OneAmount),
    ("12 km, 4 km @ MP, 4 strides", "4 km @ MP", Expected::OneAmount),
    ("30 easy", "30 easy", Expected::UnitOfRun),
    ("45 easy", "45 easy", Expected::UnitOfRun),
    ("10 km mod", "mod", Expected::Part),
    ("R", "R", Expected::SessionKind),
    ("8 ks", "ks", Expected::Unit),
    ("easy eight", "eight", Expected::Part),
    ("60", "60", Expected::UnitOfRun),
    ("time: 60 min", "time: 60 min", Expected::SessionKind),
    ("easy 8 km HR<140", "HR<140", Expected::Part),
    ("8 km zone 2", "zone 2", Expected::Part),
    ("10 km Z2", "Z2", Expected::Part),
    ("60 min Z4", "Z4", Expected::HowHard),
    ("25 min tempo, 60 min", "60 min", Expected::OneAmount),
    ("60 min, 25 min tempo", "25 min tempo", Expected::OneAmount),
    ("warm up, 25 min tempo, cool down", "warm up, cool down", Expected::WholeRun),
    ("15/25/10 tempo", "/25/10 tempo", Expected::HowHard),
    ("session 12 km", "session 12 km", Expected::SessionKind),
    ("club session", "club session", Expected::SessionKind),
    ("TBC", "TBC", Expected::SessionKind),
    ("as you feel 40 min", "as you feel 40 min", Expected::SessionKind),
    ("40 min as you feel", "as you feel", Expected::Part),
    ("travel day", "travel day", Expected::SessionKind),
    ("Sunday long run 18 miles", "Sunday long run 18 miles", Expected::SessionKind),
    ("SLR 18 miles", "SLR 18 miles", Expected::SessionKind),
    ("10 with pickups", "with pickups", Expected::HowHard),
    ("45E", "45E", Expected::UnitOfRun),
    ("M 16 km", "M 16 km", Expected::SessionKind),
    ("16 km M", "M", Expected::Part),
    ("2 x 40 min easy", "2 x", Expected::TwoRuns),
    ("2x/day 6+6", "2x/day 6", Expected::Sets),
    ("12 easy hilly", "hilly", Expected::Part),
    ("12 easy over the hills", "over the hills", Expected::HowHard),
    ("rest or 5 km jog", "rest or 5 km jog", Expected::RestOrRun),
    ("rest/easy 5", "rest/easy 5", Expected::RestOrRun),
    ("12 km (3 km tempo and 2 km at 10k pace)", "3 km tempo and 2 km at 10k pace", Expected::HowHard),
    ("14 km (AM 8 km, PM 6 km)", "AM 8 km, PM 6 km", Expected::TwoRuns),
    ("easy 14 km (8 km am, 6 km pm)", "8 km am, 6 km pm", Expected::TwoRuns),
];

#[test]
fn days_of_coaches_are_read_as_they_were_meant() {
    for (lines, units) in [(IN_KM, DistanceUnit::Km), (IN_MILES, DistanceUnit::Mi)] {
        for (line, meant) in lines {
            let day = read_day(line, units).unwrap_or_else(|problems| panic!("{line}: {problems:?}"));
            assert_eq!(write_day(&day), *meant, "{line}");
            assert_eq!(read_day(meant, DistanceUnit::Km).as_ref(), Ok(&day), "{meant}");
            assert_eq!(read_day(meant, DistanceUnit::Mi).as_ref(), Ok(&day), "{meant}");
            assert_eq!(read_kept_day(line, units), Ok(day), "{line}");
        }
    }
}

#[test]
fn what_may_be_meant_in_two_ways_is_asked_about() {
    for (line, text, expected) in ASKED {
        let asked = ProblemKind::Unreadable { text: (*text).to_owned(), expected: *expected };
        assert_eq!(read_day(line, DistanceUnit::Km), Err(vec![asked]), "{line}");
    }
}

#[test]
fn a_whole_that_is_asked_for_is_offered_in_a_line_that_is_read() {
    for (line, offered) in OFFERED {
        let asked = read_day(line, DistanceUnit::Km);
        let Err([ProblemKind::WholeUnsaid { line: to_write, pace: None, .. }]) =
            asked.as_deref().map_err(Vec::as_slice)
        else {
            panic!("{line}: {asked:?}")
        };
        assert_eq!(to_write, offered, "{line}");
        assert!(read_day(offered, DistanceUnit::Km).is_ok(), "{offered}");
    }
}

#[test]
fn a_whole_is_offered_at_the_pace_of_whoever_runs_it() {
    let offered = |pace: &str, units| {
        let athlete = Athlete { units, easy_pace: read_pace(pace, units).ok(), ..Athlete::default() };
        match read_day("2 WU, 24 min T, 2 CD", &athlete).as_deref().map_err(Vec::as_slice) {
            Err([ProblemKind::WholeUnsaid { line, pace, .. }]) if *pace == athlete.easy_pace => line.clone(),
            other => panic!("{other:?}"),
        }
    };
    assert_eq!(offered("4:00", DistanceUnit::Km), "2 WU, 24 min T, 2 CD, 10 km");
    assert_eq!(offered("6:00", DistanceUnit::Km), "2 WU, 24 min T, 2 CD, 8 km");
    assert_eq!(offered("8:00", DistanceUnit::Mi), "2 WU, 24 min T, 2 CD, 7 mi");
}

#[test]
fn two_parts_without_a_sum_are_each_asked_for_without_a_line_that_would_still_be_refused() {
    let asked = read_day("2 km WU, 20 min T, 2 km CD + 1 km WU, 10 min T, 1 km CD", DistanceUnit::Km);
    let whole = |told: &str| ProblemKind::Unreadable { text: told.to_owned(), expected: Expected::WholeRun };
    assert_eq!(asked, Err(vec![whole("2 km WU, 2 km CD"), whole("1 km WU, 1 km CD")]));
}

#[test]
fn no_words_of_hard_running_become_a_note_of_an_easy_run() {
    let words = [
        "MP",
        "M pace",
        "HM pace",
        "HMP",
        "marathon pace",
        "half marathon effort",
        "race pace",
        "goal pace",
        "threshold",
        "tempo",
        "T pace",
        "10k pace",
        "5k effort",
        "hard",
        "fast",
        "hills",
        "hill sprints",
        "intervals",
        "fartlek",
        "surges",
        "a fast finish",
        "pick-ups",
        "VO2max",
        "zone 4",
    ];
    let ways = [
        "12 km with {}",
        "12 km w/ {}",
        "12 km at {}",
        "12 km @ {}",
        "12 km in {}",
        "12 km ({})",
        "easy 12 km ({})",
        "easy 12 km with {}",
        "12 km, {}",
        "12 km {}",
        "12 km with 3 km {}",
        "12 km w/ 3 km at {}",
        "12 km w/ 3 @ {}",
        "12 km, last 3 km {}",
        "12 km last 3 at {}",
        "12 km finishing with 3 km at {}",
        "12 km (3 km at {})",
        "long 12 km with {}",
        "long 12 km ({})",
        "recovery 12 km at {}",
        "steady 12 km with 3 km at {}",
        "12 km with the last 20 min at {}",
        "12 km incl. 3 km {}",
    ];
    for way in ways {
        for word in words {
            let line = way.replace("{}", word);
            let Ok(day) = read_day(&line, DistanceUnit::Km) else { continue };
            let session = day[0].chosen();
            let is_asked = !session.problems().is_empty();
            assert!(is_asked || session.is_hard(), "{line}: {}", write_day(&day));
        }
    }
}

#[test]
fn a_line_that_was_kept_as_a_note_stays_readable() {
    for (line, kept) in [
        ("12 km with hills", "easy 12 km (\"with hills\")"),
        ("easy 8 (hill route)", "easy 8 km (\"hill route\")"),
        ("20 km with fast finish", "easy 20 km (\"with fast finish\")"),
        ("easy 14 km (AM 8 km, PM 6 km)", "easy 14 km (\"AM 8 km, PM 6 km\")"),
        ("45 easy", "easy 45 km"),
        // What is read better by now.
        ("12 km w/ 6 km @ MP", "race pace 12 km, hard 6 km (at MP)"),
        ("easy 10 km (last 5 km at MP)", "race pace 10 km, hard 5 km (last at MP)"),
    ] {
        let day = read_kept_day(line, DistanceUnit::Km).unwrap_or_else(|problems| panic!("{line}: {problems:?}"));
        assert_eq!(write_day(&day), kept, "{line}");
        assert_eq!(read_day(kept, DistanceUnit::Mi), Ok(day), "{kept}");
    }
    // Too long to be a part of the whole: as it was.
    let day = read_kept_day("10 km w/ 12 km @ MP", DistanceUnit::Km).expect("a note");
    assert_eq!(write_day(&day), "easy 10 km (\"w/ 12 km @ MP\")");
}
