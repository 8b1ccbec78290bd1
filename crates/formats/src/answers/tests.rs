use proptest::prelude::*;

use super::time::is_time;
use super::*;
use crate::words;

fn sent() -> Sent {
    words::question_sheet("Ana", "Harbour 10").1
}

fn read(text: &str) -> Vec<(Answer, String)> {
    use Answer::{Belief, Cue, Effort, Focus, GoalA, GoalB, GoalC, LastTaper, Worry};
    let reading = read_answers(text, &sent());
    let parts = (0..3).flat_map(|which| [Effort(which), Focus(which), Cue(which)]);
    let all = [GoalA, GoalB, GoalC, Belief].into_iter().chain(parts).chain([Worry, LastTaper]);
    all.map(|one| (one, reading.answer(one))).filter(|(_, said)| !said.is_empty()).collect()
}

fn goals(text: &str) -> [String; 3] {
    let reading = read_answers(text, &sent());
    [Answer::GoalA, Answer::GoalB, Answer::GoalC].map(|goal| reading.answer(goal))
}

#[test]
fn goals_are_read_however_they_are_marked() {
    for text in [
        "1. sub 50\n2. 1h45\n3. finish",
        "1) sub 50\n2)1h45\n3: finish",
        "(1) sub 50\r\n(2) 1h45\r\n(3) finish\r\n",
        "1\u{fe0f}\u{20e3} sub 50\n2\u{fe0f}\u{20e3} 1h45\n3\u{fe0f}\u{20e3} finish",
        "1 sub 50\n2 1h45\n3 - finish",
        "A: sub 50\nB: 1h45\nC: finish",
        "a = sub 50\nb = 1h45\nc = finish",
        "A sub 50\nB 1h45\nC finish",
        "A sub 50, B 1h45, C finish",
        "Goal A: sub 50 / Goal B: 1h45 / Goal C: finish",
        "C - finish\nA - sub 50\nB - 1h45",
        "goal a sub 50\ngoal c finish\ngoal b 1h45",
        "Best day: sub 50\nGood day: 1h45\nLeast that counts: finish",
        "> 1. Goal A, the best day: what could it be if everything falls into place?\n\
         sub 50\n> 2. Goal B, a good day: what does your training say?\n1h45\n\
         > 3. Goal C, the least that counts: what would be worth the trip on any day?\nfinish",
        "Goal A, the best day: what could it be if everything falls into place? sub 50\n\
         2. goal b, a good day - what does your training say 1h45\n\u{2022} c) finish",
    ] {
        assert_eq!(goals(text), ["sub 50", "1h45", "finish"], "{text}");
    }
}

#[test]
fn a_time_is_no_number_of_a_question() {
    assert_eq!(goals("A: 1:45\nB: 1.50\nC: 2 h"), ["1:45", "1.50", "2 h"]);
    let reading = read_answers("3. about\n1:45", &sent());
    assert_eq!(reading.answer(Answer::GoalC), "about 1:45");
}

#[test]
fn stretches_come_in_one_line_in_three_or_by_name() {
    use Answer::{Cue, Effort, Focus};
    let expected = [(Effort(0), "easy"), (Focus(0), "the runner in front"), (Cue(0), "calm")]
        .map(|(one, said)| (one, said.to_owned()));
    for text in [
        "5. easy; the runner in front; calm",
        "5. easy, the runner in front, calm",
        "5. easy / the runner in front / calm",
        "5.\neasy\nthe runner in front\ncalm",
        "First third: cue word: calm; effort: easy; focus: the runner in front",
        "first third\nEffort - easy\nCue: calm\nMind: the runner in front",
        "Stretch 1 easy | the runner in front | calm",
    ] {
        assert_eq!(read(text), expected, "{text}");
    }
    assert_eq!(read("last third: everything"), [(Effort(2), "everything".to_owned())]);
}

#[test]
fn without_any_sign_times_in_front_are_goals_and_nine_lines_are_all() {
    assert_eq!(goals("sub 50\nunder 52 min\n55:00\nsee you"), ["sub 50", "under 52 min", "55:00"]);
    assert_eq!(read_answers("sub 50\nsee you", &sent()).unplaced(), "see you");
    let nine = "sub 50\n52\nfinish\nthe tempos\neasy\nsteady\nall\nthe heat\ntoo long";
    let read = read(nine);
    assert_eq!((read[3].1.as_str(), read[7].1.as_str(), read[8].1.as_str()), ("the tempos", "the heat", "too long"));
    assert!(read_answers(nine, &sent()).is_guessed);
}

#[test]
fn what_belongs_to_no_question_is_told_apart() {
    let reading = read_answers("Hi coach!\nA: sub 50", &sent());
    assert_eq!((reading.unplaced().as_str(), reading.is_guessed), ("Hi coach!", false));
    assert_eq!(read_answers("A marathon is long.", &sent()).unplaced(), "A marathon is long.");
    assert_eq!(
        read("Worry: my calf\nLast time: rested too much"),
        [(Answer::Worry, "my calf".to_owned()), (Answer::LastTaper, "rested too much".to_owned())]
    );
}

#[test]
fn the_sheet_itself_sent_back_filled_gives_the_answers_and_nothing_else() {
    let (sheet, _) = words::question_sheet("Ana", "Harbour 10");
    let mut filled = String::new();
    let mut count = 0;
    for line in sheet.lines() {
        filled.push_str(line);
        filled.push('\n');
        if line.starts_with(|c: char| c.is_ascii_digit()) {
            count += 1;
            filled = format!("{filled}answer {count}\n");
        }
    }
    let reading = read_answers(&filled, &sent());
    assert_eq!(reading.unplaced(), "");
    let answers: Vec<String> = read(&filled).into_iter().map(|(_, said)| said).collect();
    assert_eq!(answers, (1..=9).map(|count| format!("answer {count}")).collect::<Vec<_>>());
    assert_eq!(read(&sheet), [], "an empty sheet answers nothing");
}

#[test]
fn times_look_like_times() {
    for time in ["1:45", "1h45", "under 50 min", "sub 50", "sub-3", "3:29:59", "50 min", "45'", "about 2 h", "<40"] {
        assert!(is_time(time), "{time}");
    }
    for other in ["", "finish", "50", "2027", "10 km", "subway", "a 50"] {
        assert!(!is_time(other), "{other}");
    }
}

#[test]
fn numbers_are_read_in_every_script_and_with_every_usual_mark() {
    for text in [
        "Q1: sub 50\nQ2: 1h45\nQ3: finish",
        "q 1 - sub 50\nq 2 - 1h45\nq 3 - finish",
        "Question 1: sub 50\nQuestion 2: 1h45\nQUESTION 3: finish",
        "Question 3: finish\nQuestion 1: sub 50\nquestion 2. 1h45",
        "1, sub 50\n2, 1h45\n3, finish",
        "1\u{3001}sub 50\n2\u{3001}1h45\n3\u{3001}finish",
        "\u{2460}sub 50\n\u{2461} 1h45\n\u{2462} finish",
        "\u{ff11}\u{ff0e}sub 50\n\u{ff12}\u{ff0e}1h45\n\u{ff13}\u{ff0e}finish",
        "\u{661}. sub 50\n\u{662}. 1h45\n\u{663}. finish",
        "\u{967}. sub 50\n\u{968}. 1h45\n\u{969}. finish",
        "I. sub 50\nII. 1h45\nIII. finish",
        "1st: sub 50\n2nd: 1h45\n3rd: finish",
        "[1] sub 50\n[2] 1h45\n[3] finish",
        "3) finish\n1 - sub 50\n2 - 1h45",
    ] {
        assert_eq!(goals(text), ["sub 50", "1h45", "finish"], "{text}");
    }
    let nine = ["I", "II", "III", "IV", "V", "VI", "VII", "VIII", "IX"];
    let lines: Vec<_> = nine.iter().enumerate().map(|(at, roman)| format!("{roman}. answer {at}")).collect();
    let said: Vec<String> = read(&lines.join("\n")).into_iter().map(|(_, said)| said).collect();
    assert_eq!(said, (0..9).map(|at| format!("answer {at}")).collect::<Vec<_>>());
    assert_eq!(goals("1, 1:45\n2, 1:48\n3, 2:00"), ["1:45", "1:48", "2:00"]);
    assert_eq!(goals("1\u{3001}1:45\n\u{2461}1:48\n\u{ff13}\u{ff0e}2:00"), ["1:45", "1:48", "2:00"]);
}

#[test]
fn a_dash_below_a_later_number_opens_a_goal_and_an_amount_does_not() {
    assert_eq!(goals("3) finish\n1 - 1h45"), ["1h45", "", "finish"]);
    assert_eq!(read("4. long runs\n2 - 3 h a week")[0].1, "long runs 2 - 3 h a week");
    assert_eq!(goals("1. 1:45\n4. tempo\n1 - 5:30 at the end")[0], "1:45");
    assert_eq!(goals("1. I ran\n3 weeks, then\n10. May")[0], "I ran 3 weeks, then 10. May");
}

#[test]
fn invisible_marks_and_names_of_a_messenger_hide_no_sign() {
    for text in [
        "\u{feff}1. sub 50\n\u{200e}2. 1h45\n\u{202a}\u{200f}3. finish",
        "\u{2066}A: sub 50\n- \u{2069}B: 1h45\n\u{202e} C: finish",
        "[25/11/2026, 10:12] Ana: 1. sub 50\n[25/11/2026, 10:13] Ana: 2. 1h45\n[25/11/2026, 10:13] Ana: 3. finish",
        "\u{200e}[25.11.26, 10:12:01] Ana Exemplo: \u{200e}A: sub 50\n[25.11.26, 10:12:40] +00 12: 3. finish\n[1. 2. 2026, 9:00] Ana: 2. 1h45",
        "25/11/2026, 10:12 - Ana: 1. sub 50\n5/11/26, 10:12 am - Ana: 2. 1h45\n25/11/2026, 10:12 - Ana: 3. finish",
        "Ana: 1. sub 50\nAna: 2. 1h45\nAna: 3. finish",
        "Ana: 3. finish\nAna: 1. sub 50\nAna: 2. 1h45",
        "Ana: Goal A: sub 50\nAna: Goal B: 1h45\nAna: C: finish",
    ] {
        assert_eq!(goals(text), ["sub 50", "1h45", "finish"], "{text}");
    }
    let own = "Ana: tempo 6 - easy Ana: 1. long";
    assert_eq!(read_answers(own, &sent()).unplaced(), own);
    assert_eq!(read_answers("V. strong Ana: 1. long", &sent()).unplaced(), "V. strong Ana: 1. long");
    assert_eq!(goals("1. sub 50\n1:45 - plan two: 2. 1h45"), ["sub 50 1:45 - plan two: 2. 1h45", "", ""]);
    assert_eq!(read("Worry: 1. the heat")[0], (Answer::Worry, "1. the heat".to_owned()));
    assert_eq!(goals("1. Half: 2. place")[0], "Half: 2. place");
    assert_eq!(read("4. the tempos\nHalf: 2. place")[0].1, "the tempos Half: 2. place");
}

#[test]
fn signs_that_run_on_along_a_line_are_as_many_answers() {
    for text in [
        "1. sub 50 2. 1h45 3. finish",
        "1) sub 50, 2) 1h45, 3) finish",
        "(1) sub 50 (2) 1h45 (3) finish",
        "\u{2460}sub 50\u{2461}1h45\u{2462}finish",
        "Q1: sub 50 Q2: 1h45 Q3: finish",
        "A: sub 50 B: 1h45 C: finish",
        "a) sub 50 b) 1h45 c) finish",
        "Goal A: sub 50 Goal B: 1h45 Goal C: finish",
        "Ana: 1. sub 50 2. 1h45 3. finish",
        "1. Goal A: sub 50 2. Goal B: 1h45 3. Goal C: finish",
        "1. sub 50 2. 1h45\n3. finish",
        "A sub 50 B 1h45\nC finish",
    ] {
        assert_eq!(goals(text), ["sub 50", "1h45", "finish"], "{text}");
    }
    let reading = read_answers("Hi coach, 1. sub 50 2. 1h45 3. finish", &sent());
    assert_eq!((reading.unplaced().as_str(), reading.answer(Answer::GoalC).as_str()), ("Hi coach", "finish"));
    for whole in ["ran 2. half in 1:45", "sub 50, in my 2. half", "group B: fast", "1:45 at the 2 km mark"] {
        assert_eq!(goals(&format!("1. {whole}")), [whole, "", ""]);
    }
    let read = read("4. tempos 5. easy; hips; calm 6. steady 7. all 8. heat 9. long");
    let said: Vec<&str> = read.iter().map(|(_, said)| said.as_str()).collect();
    assert_eq!(said, ["tempos", "easy", "hips", "calm", "steady", "all", "heat", "long"]);
}

#[test]
fn the_words_of_a_question_are_no_answer_and_the_words_of_an_answer_no_question() {
    for text in [
        "1. Goal A, the best day: 1:45",
        "Goal A, the best day: 1:45",
        "1. Goal A: 1:45",
        "1. Goal A, best day: 1:45",
        "1. Goal A\n1:45",
        "1. best day: 1:45",
    ] {
        assert_eq!(goals(text)[0], "1:45", "{text}");
    }
    assert_eq!(read("4. Why may you believe it? the tempos")[0].1, "the tempos");
    assert_eq!(goals("1. My best day\nwould be 1:45")[0], "My best day would be 1:45");
    assert_eq!(goals("1. My best day.\nWould be 1:45")[0], "My best day. Would be 1:45");
    assert_eq!(read("8. Worry: worries, mostly")[0].1, "worries, mostly");
}

proptest! {
    #[test]
    fn the_pieces_of_any_text_are_the_text(
        text in "(\\PC|\n|\r\n|[0-9ABCabc.:);,/ -]|Goal A|sub 50|first third|effort|worry|1\\. |why){0,60}"
    ) {
        let reading = read_answers(&text, &sent());
        let together: String = reading.pieces.iter().map(|piece| piece.text).collect();
        prop_assert_eq!(together, text);
    }

    #[test]
    fn a_sign_never_swallows_an_answer(words in "[d-z]{4,9}( [d-z]{4,9}){0,3}", which in 1_usize..=9) {
        let text = format!("{which}. {words}");
        let reading = read_answers(&text, &sent());
        let said: String = reading.pieces.iter().filter(|piece| piece.place != Place::Sign).map(|piece| piece.text).collect();
        prop_assert_eq!(said, words);
    }

    #[test]
    fn any_mixture_of_signs_keeps_every_word(
        parts in prop::collection::vec(
            (prop::sample::select(SIGNS.to_vec()), "[d-z]{4,9}", prop::sample::select(vec![" ", "\n", ", ", "\r\n", "; "])),
            1..14,
        )
    ) {
        let text: String = parts.iter().flat_map(|(sign, word, end)| [*sign, word, *end]).collect();
        let reading = read_answers(&text, &sent());
        let together: String = reading.pieces.iter().map(|piece| piece.text).collect();
        prop_assert_eq!(&together, &text);
        let said = reading.pieces.iter().filter(|piece| piece.place != Place::Sign).map(|piece| piece.text);
        let said = said.collect::<Vec<_>>().join(" ");
        let mut words = said.split(|c: char| !c.is_ascii_alphabetic());
        for (_, word, _) in &parts {
            prop_assert!(words.any(|one| one == word), "{} in {:?} of {:?}", word, said, text);
        }
    }
}

/// Signs, and what looks like one.
const SIGNS: [&str; 40] = [
    "",
    "",
    "",
    "1. ",
    "2. ",
    "3) ",
    "(4) ",
    "5: ",
    "6 - ",
    "7, ",
    "8\u{3001}",
    "Q1: ",
    "Question 3: ",
    "\u{2460}",
    "\u{2468} ",
    "\u{ff11}\u{ff0e}",
    "\u{662}. ",
    "\u{967}. ",
    "I. ",
    "V. ",
    "IX. ",
    "1st: ",
    "2nd. ",
    "\u{200e}1. ",
    "\u{feff}",
    "\u{202a}3. ",
    "[25/11/2026, 10:12] Ana: ",
    "Ana: ",
    "[25/11/2026, 10:12] Ana: 2. ",
    "Ana: 1. ",
    "A: ",
    "B: ",
    "C) ",
    "Goal A, the best day: ",
    "goal b ",
    "My best day ",
    "First third: ",
    "effort: ",
    "1:45 ",
    "1. Goal A: ",
];
