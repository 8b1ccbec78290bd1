//! Messages by date in our own words, and what is said of their fields.

use planning::Moment;

use super::quote;
use crate::messages::{MessageField, MessageProblem};

/// Our words for a message; the fields in braces are filled for each athlete.
pub const fn message(moment: Moment) -> &'static str {
    match moment {
        Moment::HandOver => HAND_OVER,
        Moment::BlockStart => BLOCK_START,
        Moment::WeekOut => WEEK_OUT,
        Moment::ThreeDaysOut => THREE_DAYS_OUT,
        Moment::DayBefore => DAY_BEFORE,
        Moment::DayAfter => DAY_AFTER,
    }
}

/// The same for whose running is less than usual already before the block begins, after a race or since one was moved:
/// nothing is said to come down from then on, and the days before it are not as usual.
pub fn message_where_down_before(moment: Moment) -> String {
    message(moment).replace(COMES_DOWN, IS_DOWN).replace(RUN_AS_USUAL, AS_AGREED)
}

/// A hand-over on a day on which it is no longer true that all is as usual until the block begins: on its first day, or
/// where the days before it are changed.
pub fn hand_over_while_it_begins(text: &str, begins_today: bool) -> String {
    let begun = if begins_today {
        "It begins today."
    } else {
        "It begins on {begins}; until then the days count as they stand in it."
    };
    [RUN_AS_USUAL, AS_AGREED]
        .iter()
        .fold(text.to_owned(), |text, until| text.replace(&format!("It begins on {{begins}}; {until}."), begun))
}

const COMES_DOWN: &str = "From {comes_down} on the running comes down, a little more as the race comes nearer.";
const IS_DOWN: &str = "Your running is less than usual already, and stays so: from today every day leads to this race.";
const RUN_AS_USUAL: &str = "until then run as usual, unless we agreed otherwise";
const AS_AGREED: &str = "until then what we have agreed counts";

const HAND_OVER: &str = "\
Hello {name},

your plan for {race} is here: {date}, {days_left} to go. It begins on {begins}; until then run as usual, unless we agreed otherwise.

Read it through when you have ten quiet minutes: every day says what is planned. Tell me soon what does not \
fit, such as travel, a late shift or a day that has to move: I will change it and send it again.

Every day with its reason: {link}

{coach}";

/// Our words for a first hand-over to an athlete who cannot run as usual.
pub const HAND_OVER_SPARED: &str = "\
Hello {name},

your plan for {race} is here: {date}, {days_left} to go. It begins on {begins}. For now keep to what we have \
agreed, even where the plan says something else; I will tell you when the plan counts.

Read it through when you have ten quiet minutes: every day says what is planned. When we know how it goes on, I will \
change it and send it again.

Every day with its reason: {link}

{coach}";

/// Our words for the start of the block of an athlete who cannot run as usual.
pub const BLOCK_START_SPARED: &str = "\
Hello {name},

{days_left} to {race}. For now keep to what we have agreed, even where the plan says something else; I will tell you \
when the plan counts again.

Keep your usual meals and bedtime. What you miss is not made up. If a pain changes how you run, or you feel ill, do not \
run, and tell me.

Every day with its reason: {link}

{coach}";

/// What stands in every other message to an athlete who cannot run as usual.
pub const SPARED: &str = "For now keep to what we have agreed, even where the plan says something else; I will tell you \
when the plan counts again.";

/// Our words for a hand-over of a block of which the athlete holds an earlier version.
pub const HAND_OVER_AGAIN: &str = "\
Hello {name},

there is a new version of your plan for {race}: {date}, {days_left} to go. It replaces the one that you have. What has \
changed: {changes}.

Run by the new version now, put the old one away, and tell me soon if one of the new days does not fit.

Every day with its reason: {link}

{coach}";

/// The same for an athlete who cannot run as usual: the new version is the plan, and what was agreed comes first.
pub const HAND_OVER_AGAIN_SPARED: &str = "\
Hello {name},

there is a new version of your plan for {race}: {date}, {days_left} to go. It replaces the one that you have. What has \
changed: {changes}.

Put the old version away: the new one counts from the day on which I tell you so. For now keep to what we have agreed, \
even where the new one says something else.

Every day with its reason: {link}

{coach}";

/// Our words to an athlete whose race is called off: how a message begins, [`CALLED_OFF_DAYS`] and [`CALLED_OFF_USUAL`]
/// are how it goes on.
pub const CALLED_OFF: &str = "\
Hello {name},

{race} is called off, so the plan for it no longer counts.";

/// How that message goes on where days lead back to the usual week; they stand after it, a line each.
pub const CALLED_OFF_DAYS: &str = "\
Unless we have agreed something else for another race, your running comes back step by step, instead of what the plan \
says for these days:";

/// What stands after those days.
pub const CALLED_OFF_AFTER: &str = "\
After that run your usual week, or what we have agreed for another race, until we have spoken about what comes next. If \
a pain changes how you run, or you feel ill, stop and tell me first.";

/// How it goes on where nothing had come down, or is back already.
pub const CALLED_OFF_USUAL: &str = "\
What we have agreed for another race stands; where there is none, run your usual week until we have spoken about what \
comes next.";

/// Our words to an athlete who was withdrawn from a race and still holds the block for it. Why is not known here: nothing
/// is asked for that somebody ill or injured could not do.
pub const WITHDRAWN: &str = "\
Hello {name},

you no longer run {race} on {date}, so the plan for it no longer counts, and the link to it no longer works. Put it away, \
and take its days out of your calendar if they are there.

Until we have spoken about what comes next, what we have agreed counts; where there is nothing, run easily, and not at \
all if you are ill or in pain.

{coach}";

const BLOCK_START: &str = "\
Hello {name},

{days_left} to {race}: your block begins today. From {comes_down} on the running comes down, a little more as the race \
comes nearer. Today: {today}. \
The last hard session: {key}.

Keep your usual days, meals and bedtime, and add nothing to the plan. Heavy legs and restlessness are common in these \
days and say nothing about the race. If a pain changes how you run, or you feel ill, stop and tell me first.

Every day with its reason: {link}

{coach}";

const WEEK_OUT: &str = "\
Hello {name},

One week to {race}: {date}. Today: {today}. The last hard session: {key}.

Nothing that you miss now has to be made up. From here on try nothing new: shoes, socks, breakfast and drink are the \
ones you know.

Every day with its reason: {link}

{coach}";

const THREE_DAYS_OUT: &str = "\
Hello {name},

Three days to {race}. Today: {today}. The day before: {day_before}.

Lay out what you will wear and take, and look up how you get there. The start is at {start}. The place: {place}. Eat \
and drink as you have practised, and drink when you are thirsty. In heat, follow what the race itself advises.

Your page: {link}

{coach}";

const DAY_BEFORE: &str = "\
Hello {name},

Tomorrow is {race}. The start is at {start}. Today: {today}.

Put out your shoes and your number, and keep the evening quiet. A short night before a race is common. Begin more \
easily than feels right. Your words on the way: {cues}.

Chest pain, faintness, confusion, or a pain that changes how you run: stop there, whatever the watch says.

{coach}";

const DAY_AFTER: &str = "\
Hello {name},

{race} is behind you. Tell me how it was, in three lines: what went well, what you would do differently, how you feel \
today.

Walk, eat, sleep. Do not run today; after that only easily, until we have spoken. If something still hurts in a few \
days, have it looked at.

{coach}";

/// What a field says.
pub const fn message_field(field: MessageField) -> &'static str {
    match field {
        MessageField::Name => "what the athlete is called: the first name, or what stands in brackets in the name",
        MessageField::FullName => "the athlete's whole name",
        MessageField::Race => "the race by its name",
        MessageField::Distance => "its distance",
        MessageField::Date => "its day",
        MessageField::Start => "when it starts",
        MessageField::Place => "where it is",
        MessageField::DaysLeft => "how many days are left on the day of the message",
        MessageField::Begins => "the first day of the block, while it is to come",
        MessageField::ComesDown => {
            "from which day on less is run than usual: \u{201c}today\u{201d}, or the day while it is to come"
        }
        MessageField::Changes => {
            "what is other than in the version handed over before; a text with this field is also used for later hand-overs"
        }
        MessageField::Today => "what is run on the day of the message",
        MessageField::Key => "the key session of race week and its day, while it is to come",
        MessageField::DayBefore => "what is run on the day before the race",
        MessageField::Cues => "the cue words of the three parts of the race",
        MessageField::Link => "the address of the athlete's page",
        MessageField::Coach => "your name, from the settings",
    }
}

/// What is wrong with a message's text, as a sentence.
pub fn message_problem(problem: &MessageProblem) -> String {
    match problem {
        MessageProblem::Unknown(name) => {
            let meant = nearest(name).map(|field| format!(" Did you mean {{{}}}?", field.code())).unwrap_or_default();
            format!("\u{201c}{{{}}}\u{201d} is not a field.{meant}", quote(name))
        }
        MessageProblem::Open(text) => {
            format!(
                "\u{201c}{}\u{201d}: the brace is not closed. A field is a name between two braces, such as {{name}}.",
                quote(text)
            )
        }
    }
}

/// The field whose name is most like one, where any is alike.
fn nearest(name: &str) -> Option<MessageField> {
    let name = name.trim().to_lowercase();
    let far = |field: &MessageField| distance(field.code(), &name);
    let field = MessageField::ALL.into_iter().min_by_key(far)?;
    (far(&field) <= 2).then_some(field)
}

/// How many letters have to be put in, taken out or changed to make one word of another.
///
/// # Source
///
/// Levenshtein (1966), by the usual table.
fn distance(one: &str, other: &str) -> usize {
    let other: Vec<char> = other.chars().collect();
    let mut row: Vec<usize> = (0..=other.len()).collect();
    for (i, a) in one.chars().enumerate() {
        let mut diagonal = row[0];
        row[0] = i + 1;
        for (j, b) in other.iter().enumerate() {
            let changed = diagonal + usize::from(a != *b);
            diagonal = row[j + 1];
            row[j + 1] = changed.min(diagonal + 1).min(row[j] + 1);
        }
    }
    row[other.len()]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::messages::message_problems;

    #[test]
    fn our_own_words_use_only_fields_that_exist() {
        for moment in Moment::ALL {
            assert_eq!(message_problems(message(moment)), [], "{moment:?}");
        }
        let down = [Moment::HandOver, Moment::BlockStart].map(message_where_down_before);
        assert!(down[0].contains(AS_AGREED) && down[1].contains(IS_DOWN), "{down:?}");
        for text in [message(Moment::HandOver), &down[0]] {
            let begins_today = hand_over_while_it_begins(text, true);
            assert!(begins_today.contains("It begins today.") && !begins_today.contains("{begins}"), "{begins_today}");
            assert!(
                hand_over_while_it_begins(text, false).contains("{begins}; until then the days count as they stand")
            );
        }
        for text in [HAND_OVER_AGAIN, HAND_OVER_AGAIN_SPARED, HAND_OVER_SPARED, BLOCK_START_SPARED, &down[0], &down[1]]
        {
            assert_eq!(message_problems(text), []);
        }
    }

    #[test]
    fn a_field_that_was_mistyped_is_guessed_and_nonsense_is_not() {
        let said = |name: &str| message_problem(&MessageProblem::Unknown(name.to_owned()));
        assert_eq!(said("nmae"), "\u{201c}{nmae}\u{201d} is not a field. Did you mean {name}?");
        assert_eq!(said("weather"), "\u{201c}{weather}\u{201d} is not a field.");
    }
}
