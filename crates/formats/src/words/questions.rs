//! The questions at the start of a block, in our own words.

use crate::answers::{Answer, Question, Sent};

/// A question as the athlete reads it, without its number.
pub const fn question(question: Question) -> &'static str {
    match question {
        Question::GoalA => "Goal A, the best day: what could it be if everything falls into place?",
        Question::GoalB => "Goal B, a good day: what does your training say?",
        Question::GoalC => "Goal C, the least that counts: what would be worth the trip on any day?",
        Question::Belief => "Why may you believe it? Name what you have really done.",
        Question::Stretch(0) => "First third of the race: how hard should it feel; where is your mind; one cue word?",
        Question::Stretch(1) => "Middle third: how hard; where is your mind; one cue word?",
        Question::Stretch(_) => "Last third: how hard; where is your mind; one cue word?",
        Question::Worry => "One worry: what is on your mind about this race?",
        Question::LastTaper => "How did you taper last time, and how did it feel?",
    }
}

/// What an answer is called beside its field.
pub const fn answer(answer: Answer) -> &'static str {
    match answer {
        Answer::GoalA => "Goal A",
        Answer::GoalB => "Goal B",
        Answer::GoalC => "Goal C",
        Answer::Belief => "Why I may believe it",
        Answer::Effort(0) => "First third, effort",
        Answer::Focus(0) => "First third, focus",
        Answer::Cue(0) => "First third, cue word",
        Answer::Effort(1) => "Middle third, effort",
        Answer::Focus(1) => "Middle third, focus",
        Answer::Cue(1) => "Middle third, cue word",
        Answer::Effort(_) => "Last third, effort",
        Answer::Focus(_) => "Last third, focus",
        Answer::Cue(_) => "Last third, cue word",
        Answer::Worry => "One worry",
        Answer::LastTaper => "Last taper",
    }
}

/// The questions as one text to send, and what of it is no answer where it comes back.
pub fn question_sheet(first_name: &str, race: &str) -> (String, Sent) {
    let around = vec![
        format!("Hello {first_name},"),
        format!("Before your block for {race} begins: a few short answers, in your own words."),
        "Leave out what you like. Write behind each question, or only its number and your answer, and send it back."
            .to_owned(),
        "Your worry and your last taper are read by your coach alone.".to_owned(),
    ];
    let questions: Vec<String> = Question::ALL.into_iter().map(|one| question(one).to_owned()).collect();
    let numbered = questions.iter().enumerate().map(|(at, asked)| format!("{}. {asked}\n", at + 1));
    let begin = format!("{}\n\n{}\n", around[0], around[1..].join("\n"));
    let text = std::iter::once(begin).chain(numbered).collect::<Vec<_>>().join("\n");
    (text, Sent { questions, around })
}
