//! Every address of the program, once: the pattern that the router takes, and the function that
//! writes it. Templates and redirects call the functions; nobody types an address twice.

use std::borrow::Borrow;

use chrono::NaiveDate;
use planning::{Moment, Pace};
use store::{AthleteId, BlockId, DoneId, EventId, RaceId, StepId, TemplateId};

/// Patterns of every page and form of both doors, as the routers take them.
pub const ALL: &[&str] = &[
    BOARD,
    BOARD_PRINT,
    CALENDAR,
    DEMO,
    ATHLETES,
    NEW_ATHLETE,
    PASTE_ATHLETES,
    SAVE_PASTED,
    PASTE_SAMPLE,
    ATHLETE,
    EDIT_ATHLETE,
    REMOVE_ATHLETE,
    RESTORE_ATHLETE,
    TEMPLATES,
    NEW_TEMPLATE,
    TEMPLATE_PREVIEW,
    TEMPLATE,
    REMOVE_TEMPLATE,
    RESTORE_TEMPLATE,
    APPLY_TEMPLATE,
    SAVE_APPLIED,
    WEEK,
    WEEK_FIT,
    WEEK_BORROW,
    WEEK_FORM,
    WEEK_PREVIEW,
    ENTER_ONE,
    MAKE_BLOCK,
    RACES,
    NEW_RACE,
    RACE,
    EDIT_RACE,
    REMOVE_RACE,
    RESTORE_RACE,
    ENTER,
    WITHDRAW,
    PLAN_ALL,
    PLAN_PROGRESS,
    PLAN_STOP,
    RACE_REVIEW,
    RACE_HAND_OVER,
    RACE_HANDED_OVER,
    RACE_FILES,
    RACE_PRINT,
    RACE_COURSE,
    REMOVE_COURSE,
    RACE_MORNING,
    RACE_CARD,
    BLOCK,
    BLOCK_SETTINGS,
    BLOCK_DAY,
    BLOCK_UNDO,
    BLOCK_REDO,
    BLOCK_VERSIONS,
    BLOCK_DIFFERENCE,
    BLOCK_VERSION,
    BLOCK_RESTORE,
    BLOCK_VARIANTS,
    BLOCK_GOALS,
    DEBRIEF,
    BLOCK_PRINT,
    RACE_DAY,
    RACE_DAY_PACING,
    RACE_DAY_EDIT,
    RACE_DAY_PRINT,
    BLOCK_FILE,
    BLOCK_TABLE,
    BLOCK_MESSAGES,
    BLOCK_QUESTIONS,
    QUESTIONS_PRINT,
    QUESTIONS_FILE,
    ANSWERS,
    THREE_DAYS_OUT,
    MESSAGES,
    MESSAGE,
    OUR_MESSAGE,
    LOG_TABLE,
    BLOCK_HAND_OVER,
    BLOCK_END_LINK,
    REMOVE_BLOCK,
    REPLAN,
    LOG,
    LOG_WEEK,
    LOG_SESSIONS,
    REMOVE_SESSION,
    EVENTS,
    REMOVE_EVENT,
    END_EVENT,
    RESTORE_EVENT,
    SEASON,
    CALL_OFF,
    TAKE_PLACE,
    SETTLE,
    RAN,
    RESULT,
    SHARED,
    SHARED_PRINT,
    SHARED_CALENDAR,
    BLOCK_CALENDAR,
    PUBLISH,
    SETTINGS,
    DOORS,
    SHARING,
    PASS_PHRASE,
    SIGN_IN,
    SIGN_OUT,
    BACKUP,
    EVERYTHING,
    BRING_IN,
    REMOVED,
    RESTORE_ENTRY,
    RESTORE_SESSION,
    RESTORE_BLOCK,
    STEP,
    UNDO_STEP,
    SOURCES,
    HEALTH,
    ASSET,
];

/// Whether an address, without its query and fragment, is one of [`ALL`].
pub fn is_known(address: &str) -> bool {
    let path = address.split(['?', '#']).next().unwrap_or_default();
    ALL.iter().any(|pattern| matches(pattern, path))
}

fn matches(pattern: &str, path: &str) -> bool {
    let (mut left, mut right) = (pattern.split('/'), path.split('/'));
    loop {
        match (left.next(), right.next()) {
            (None, None) => return true,
            (Some(part), Some(_)) if part.starts_with("{*") => return true,
            (Some(part), Some(value)) if part.starts_with('{') && !value.is_empty() => {}
            (Some(part), Some(value)) if part == value => {}
            _ => return false,
        }
    }
}

/// The squad board.
pub const BOARD: &str = "/";
/// Who races when, for a notice board.
pub const BOARD_PRINT: &str = "/board/print";
/// The squad's weeks ahead.
pub const CALENDAR: &str = "/calendar";
/// Fills an empty data file with the demo squad (post).
pub const DEMO: &str = "/demo";
/// Every athlete.
pub const ATHLETES: &str = "/athletes";
/// The form for a new athlete.
pub const NEW_ATHLETE: &str = "/athletes/new";
/// Takes a list of athletes with their weeks out of a spreadsheet: shows what it would bring, saves nothing.
pub const PASTE_ATHLETES: &str = "/athletes/paste";
/// Brings such a list in (post).
pub const SAVE_PASTED: &str = "/athletes/paste/save";
/// What such a list looks like, as a file.
pub const PASTE_SAMPLE: &str = "/athletes/paste/sample";
/// One athlete.
pub const ATHLETE: &str = "/athletes/{athlete}";
/// The form of an athlete.
pub const EDIT_ATHLETE: &str = "/athletes/{athlete}/edit";
/// Removes an athlete (post).
pub const REMOVE_ATHLETE: &str = "/athletes/{athlete}/remove";
/// Brings an athlete back (post).
pub const RESTORE_ATHLETE: &str = "/athletes/{athlete}/restore";
/// The base week, a line a day.
pub const WEEK: &str = "/athletes/{athlete}/week";
/// The base week, a form of seven days.
pub const WEEK_FORM: &str = "/athletes/{athlete}/week/form";
/// Reads base week lines without saving them (post).
pub const WEEK_PREVIEW: &str = "/athletes/{athlete}/week/preview";
/// Fits base week lines to the typical total of recent weeks without saving them (post).
pub const WEEK_FIT: &str = "/athletes/{athlete}/week/fit";
/// Another athlete's week in the place of the typed one (post); saves nothing.
pub const WEEK_BORROW: &str = "/athletes/{athlete}/week/borrow";
/// Enters one athlete in a race (post, field `race`).
pub const ENTER_ONE: &str = "/athletes/{athlete}/enter";
/// Makes a block for an athlete and a race (post, field `race`).
pub const MAKE_BLOCK: &str = "/athletes/{athlete}/blocks";
/// Every race.
pub const RACES: &str = "/races";
/// The form for a new race.
pub const NEW_RACE: &str = "/races/new";
/// One race.
pub const RACE: &str = "/races/{race}";
/// The form of a race.
pub const EDIT_RACE: &str = "/races/{race}/edit";
/// Removes a race (post).
pub const REMOVE_RACE: &str = "/races/{race}/remove";
/// Brings a race back (post).
pub const RESTORE_RACE: &str = "/races/{race}/restore";
/// Enters athletes in a race (post, field `athlete`, repeated).
pub const ENTER: &str = "/races/{race}/enter";
/// Takes an athlete out of a race (post, field `athlete`).
pub const WITHDRAW: &str = "/races/{race}/withdraw";
/// Makes every block that a race still lacks (post).
pub const PLAN_ALL: &str = "/races/{race}/blocks";
/// How far making them is.
pub const PLAN_PROGRESS: &str = "/races/{race}/blocks/progress";
/// Stops making them (post); what is made stays.
pub const PLAN_STOP: &str = "/races/{race}/blocks/stop";
/// Every block of a race in one table (query `odd`).
pub const RACE_REVIEW: &str = "/races/{race}/review";
/// Hands over the blocks of a race (post, field `block`, repeated, with its version: `12.3`).
pub const RACE_HAND_OVER: &str = "/races/{race}/hand-over";
/// What was handed over of a race, and everybody's message (query `not`, repeated: blocks that were left).
pub const RACE_HANDED_OVER: &str = "/races/{race}/handed-over";
/// The files of everybody who holds a block of a race, in one.
pub const RACE_FILES: &str = "/races/{race}/files";
/// Every sheet of a race in one print (query `race_day`).
pub const RACE_PRINT: &str = "/races/{race}/print";
/// The course of a race.
pub const RACE_COURSE: &str = "/races/{race}/course";
/// Takes the course of a race away (post).
pub const REMOVE_COURSE: &str = "/races/{race}/course/remove";
/// What everybody who runs a race has to know on the day.
pub const RACE_MORNING: &str = "/races/{race}/morning";
/// When everybody passes where the coach stands, to print.
pub const RACE_CARD: &str = "/races/{race}/card";
/// One taper block.
pub const BLOCK: &str = "/blocks/{block}";
/// Makes a block anew with other settings (post).
pub const BLOCK_SETTINGS: &str = "/blocks/{block}/settings";
/// One day of a block, to be bent by hand.
pub const BLOCK_DAY: &str = "/blocks/{block}/days/{day}";
/// Undoes the last change of a block (post).
pub const BLOCK_UNDO: &str = "/blocks/{block}/undo";
/// Redoes what was undone last (post).
pub const BLOCK_REDO: &str = "/blocks/{block}/redo";
/// Every version of a block.
pub const BLOCK_VERSIONS: &str = "/blocks/{block}/versions";
/// What differs between two versions of a block (query `from` and `to`).
pub const BLOCK_DIFFERENCE: &str = "/blocks/{block}/versions/difference";
/// One version of a block, read-only.
pub const BLOCK_VERSION: &str = "/blocks/{block}/versions/{number}";
/// Restores a version of a block (post).
pub const BLOCK_RESTORE: &str = "/blocks/{block}/versions/{number}/restore";
/// Variants of a block side by side; takes one (post, field `variant`).
pub const BLOCK_VARIANTS: &str = "/blocks/{block}/variants";
/// Goals and race strategy of a block.
pub const BLOCK_GOALS: &str = "/blocks/{block}/goals";
/// What came out of the race of a block.
pub const DEBRIEF: &str = "/blocks/{block}/debrief";
/// The printed sheet of a block.
pub const BLOCK_PRINT: &str = "/blocks/{block}/print";
/// The race sheet of a block.
pub const RACE_DAY: &str = "/blocks/{block}/race-day";
/// How the effort is spread over the race.
pub const RACE_DAY_PACING: &str = "/blocks/{block}/race-day/pacing";
/// What is written for the race day.
pub const RACE_DAY_EDIT: &str = "/blocks/{block}/race-day/edit";
/// The printed race sheet.
pub const RACE_DAY_PRINT: &str = "/blocks/{block}/race-day/print";
/// A block as one file that stands alone.
pub const BLOCK_FILE: &str = "/blocks/{block}/file";
/// A block as a table.
pub const BLOCK_TABLE: &str = "/blocks/{block}/table";
/// Notes that a message was sent, or takes that back (post, fields `moment` and `sent`).
pub const BLOCK_MESSAGES: &str = "/blocks/{block}/messages";
/// The questions at the start of a block, and where answers are pasted.
pub const BLOCK_QUESTIONS: &str = "/blocks/{block}/questions";
/// The printed sheet of the last three days.
pub const THREE_DAYS_OUT: &str = "/blocks/{block}/race-day/three-days-out";
/// The question sheet to print.
pub const QUESTIONS_PRINT: &str = "/blocks/{block}/questions/print";
/// The questions as a file to fill in.
pub const QUESTIONS_FILE: &str = "/blocks/{block}/questions/file";
/// Answers as they were read, before they are saved (post).
pub const ANSWERS: &str = "/blocks/{block}/answers";
/// The squad's messages.
pub const MESSAGES: &str = "/messages";
/// One of the squad's messages.
pub const MESSAGE: &str = "/messages/{moment}";
/// Goes back to the program's words for a message, or takes the squad's again (post, field `whose`).
pub const OUR_MESSAGE: &str = "/messages/{moment}/words";
/// An athlete's log as a table.
pub const LOG_TABLE: &str = "/athletes/{athlete}/log/table";
/// Hands a block over to its athlete (post, fields `goals` and `stretches`).
pub const BLOCK_HAND_OVER: &str = "/blocks/{block}/hand-over";
/// Ends the link to a block (post).
pub const BLOCK_END_LINK: &str = "/blocks/{block}/hand-over/end";
/// A shared block, on the athletes' door only.
pub const SHARED: &str = "/p/{token}";
/// The printed sheet of a shared block, on the athletes' door only.
pub const SHARED_PRINT: &str = "/p/{token}/print";
/// A shared block as a calendar that phones follow, on the athletes' door only.
pub const SHARED_CALENDAR: &str = "/p/{token}/calendar.ics";
/// A block as a calendar file.
pub const BLOCK_CALENDAR: &str = "/blocks/{block}/calendar";
/// Writes every shared block into a folder (post, field `folder`).
pub const PUBLISH: &str = "/settings/publish";
/// The coach's settings.
pub const SETTINGS: &str = "/settings";
/// Where athletes' pages are served, and who may open the coach's.
pub const DOORS: &str = "/settings/doors";
/// Saves where athletes' pages are served (post).
pub const SHARING: &str = "/settings/sharing";
/// Sets, changes or removes the pass phrase (post).
pub const PASS_PHRASE: &str = "/settings/pass-phrase";
/// Asks for the pass phrase.
pub const SIGN_IN: &str = "/sign-in";
/// Signs the browser out (post).
pub const SIGN_OUT: &str = "/sign-out";
/// A copy of the data file (post).
pub const BACKUP: &str = "/settings/backup";
/// The whole squad as one file (post).
pub const EVERYTHING: &str = "/settings/everything";
/// Brings such a file into an empty squad.
pub const BRING_IN: &str = "/settings/bring-in";
/// What was removed and can be brought back.
pub const REMOVED: &str = "/removed";
/// Brings a withdrawn entry back (post).
pub const RESTORE_ENTRY: &str = "/races/{race}/entries/{athlete}/restore";
/// Brings a session of the log back (post).
pub const RESTORE_SESSION: &str = "/sessions/{session}/restore";
/// Hides a block (post).
pub const REMOVE_BLOCK: &str = "/blocks/{block}/remove";
/// Brings a block back (post).
pub const RESTORE_BLOCK: &str = "/blocks/{block}/bring-back";
/// What one press did to many athletes.
pub const STEP: &str = "/steps/{step}";
/// Gives back what stood before it (post).
pub const UNDO_STEP: &str = "/steps/{step}/undo";
/// Where the rules come from.
pub const SOURCES: &str = "/sources";
/// Says that the program runs; on both doors.
pub const HEALTH: &str = "/healthz";
/// A style sheet, script or picture; the digest changes with any of them.
pub const ASSET: &str = "/static/{digest}/{*file}";
/// What the addresses of all of them begin with.
pub const ASSETS: &str = "/static/";

/// A block planned again after what happened: old and new.
pub const REPLAN: &str = "/blocks/{block}/replan";
/// What an athlete really ran, and what happened.
pub const LOG: &str = "/athletes/{athlete}/log";
/// Saves what was run in a week (post).
pub const LOG_WEEK: &str = "/athletes/{athlete}/log/weeks/{day}";
/// Adds a run to the log (post).
pub const LOG_SESSIONS: &str = "/athletes/{athlete}/log/sessions";
/// Takes a run out of the log (post).
pub const REMOVE_SESSION: &str = "/athletes/{athlete}/log/sessions/{session}/remove";
/// Notes what happened (post).
pub const EVENTS: &str = "/athletes/{athlete}/events";
/// Takes back what was noted (post).
pub const REMOVE_EVENT: &str = "/athletes/{athlete}/events/{event}/remove";
/// Notes that an illness or injury is over (post).
pub const END_EVENT: &str = "/athletes/{athlete}/events/{event}/end";
/// Notes again what was taken back (post).
pub const RESTORE_EVENT: &str = "/events/{event}/restore";
/// Several races of one athlete on one timeline.
pub const SEASON: &str = "/athletes/{athlete}/season";
/// Notes that a race is called off (post).
pub const CALL_OFF: &str = "/races/{race}/call-off";
/// Notes that a race takes place after all (post).
pub const TAKE_PLACE: &str = "/races/{race}/take-place";
/// Says that it is settled how athletes of a race called off go on, or that it is open again (post, fields `athlete`,
/// everybody where it is empty, `open` and `back`).
pub const SETTLE: &str = "/races/{race}/settle";
/// Notes what of a race an athlete really ran (post, fields `athlete` and `ran`).
pub const RAN: &str = "/races/{race}/ran";
/// What came out of a race for one entrant, with a block or without; and the save.
pub const RESULT: &str = "/races/{race}/results/{athlete}";

/// Every template of a base week; new ones are sent here (post).
pub const TEMPLATES: &str = "/templates";
/// The form of a new template.
pub const NEW_TEMPLATE: &str = "/templates/new";
/// Reads the lines of a template, saves nothing (post).
pub const TEMPLATE_PREVIEW: &str = "/templates/preview";
/// A template of a base week.
pub const TEMPLATE: &str = "/templates/{template}";
/// Hides a template (post).
pub const REMOVE_TEMPLATE: &str = "/templates/{template}/remove";
/// Brings a template back (post).
pub const RESTORE_TEMPLATE: &str = "/templates/{template}/bring-back";
/// Fills a template in for athletes: whom, and then what every week would be; saves nothing.
pub const APPLY_TEMPLATE: &str = "/templates/{template}/apply";
/// Keeps weeks that a template filled in (post).
pub const SAVE_APPLIED: &str = "/templates/{template}/apply/save";

/// Address of a template.
pub fn template(id: impl Borrow<TemplateId>) -> String {
    format!("/templates/{}", id.borrow())
}

/// Address that hides a template.
pub fn remove_template(id: impl Borrow<TemplateId>) -> String {
    format!("/templates/{}/remove", id.borrow())
}

/// Address that brings a template back.
pub fn restore_template(id: impl Borrow<TemplateId>) -> String {
    format!("/templates/{}/bring-back", id.borrow())
}

/// Address where a template is filled in.
pub fn apply_template(id: impl Borrow<TemplateId>) -> String {
    format!("/templates/{}/apply", id.borrow())
}

/// Address that keeps weeks that a template filled in.
pub fn save_applied(id: impl Borrow<TemplateId>) -> String {
    format!("/templates/{}/apply/save", id.borrow())
}

/// Address of an athlete.
pub fn athlete(id: impl Borrow<AthleteId>) -> String {
    format!("/athletes/{}", id.borrow())
}

/// Address of an athlete's form.
pub fn edit_athlete(id: impl Borrow<AthleteId>) -> String {
    format!("/athletes/{}/edit", id.borrow())
}

/// Address of an athlete's form that begins with an easy pace, where none is noted.
pub fn edit_athlete_pace(id: impl Borrow<AthleteId>, pace: Pace) -> String {
    format!("{}?easy_pace={pace}#easy_pace", edit_athlete(id))
}

/// Address that removes an athlete.
pub fn remove_athlete(id: impl Borrow<AthleteId>) -> String {
    format!("/athletes/{}/remove", id.borrow())
}

/// Address that brings an athlete back.
pub fn restore_athlete(id: impl Borrow<AthleteId>) -> String {
    format!("/athletes/{}/restore", id.borrow())
}

/// Address of a base week.
pub fn week(id: impl Borrow<AthleteId>) -> String {
    format!("/athletes/{}/week", id.borrow())
}

/// Address of a base week as a form of seven days.
pub fn week_form(id: impl Borrow<AthleteId>) -> String {
    format!("/athletes/{}/week/form", id.borrow())
}

/// Address that reads base week lines.
pub fn week_preview(id: impl Borrow<AthleteId>) -> String {
    format!("/athletes/{}/week/preview", id.borrow())
}

/// Where base week lines are fitted to recent weeks.
pub fn week_fit(id: impl Borrow<AthleteId>) -> String {
    format!("/athletes/{}/week/fit", id.borrow())
}

/// Where another athlete's week is taken as a start.
pub fn week_borrow(id: impl Borrow<AthleteId>) -> String {
    format!("/athletes/{}/week/borrow", id.borrow())
}

/// Address that enters an athlete in a race.
pub fn enter_one(id: impl Borrow<AthleteId>) -> String {
    format!("/athletes/{}/enter", id.borrow())
}

/// Address that makes a block.
pub fn make_block(id: impl Borrow<AthleteId>) -> String {
    format!("/athletes/{}/blocks", id.borrow())
}

/// Address that asks for the pass phrase and then goes on to a page.
pub fn sign_in(to: &str) -> String {
    format!("{SIGN_IN}?to={}", percent_encoding::utf8_percent_encode(to, percent_encoding::NON_ALPHANUMERIC))
}

/// Address of an athlete's log.
pub fn log(id: impl Borrow<AthleteId>) -> String {
    format!("/athletes/{}/log", id.borrow())
}

/// Address that saves what was run in a week.
pub fn log_week(id: impl Borrow<AthleteId>, first: impl Borrow<NaiveDate>) -> String {
    format!("/athletes/{}/log/weeks/{}", id.borrow(), first.borrow())
}

/// Address that adds a run to the log.
pub fn log_sessions(id: impl Borrow<AthleteId>) -> String {
    format!("/athletes/{}/log/sessions", id.borrow())
}

/// Address that takes a run out of the log.
pub fn remove_session(id: impl Borrow<AthleteId>, session: impl Borrow<DoneId>) -> String {
    format!("/athletes/{}/log/sessions/{}/remove", id.borrow(), session.borrow())
}

/// Address that notes what happened.
pub fn events(id: impl Borrow<AthleteId>) -> String {
    format!("/athletes/{}/events", id.borrow())
}

/// Address that takes back what was noted.
pub fn remove_event(id: impl Borrow<AthleteId>, event: impl Borrow<EventId>) -> String {
    format!("/athletes/{}/events/{}/remove", id.borrow(), event.borrow())
}

/// Address that notes the end of what went on so far.
pub fn end_event(id: impl Borrow<AthleteId>, event: impl Borrow<EventId>) -> String {
    format!("/athletes/{}/events/{}/end", id.borrow(), event.borrow())
}

/// Where something that happens to an athlete is noted.
pub fn note_event(id: impl Borrow<AthleteId>) -> String {
    format!("{}#note-something", log(id))
}

/// Address that brings a withdrawn entry back.
pub fn restore_entry(race: impl Borrow<RaceId>, athlete: impl Borrow<AthleteId>) -> String {
    format!("/races/{}/entries/{}/restore", race.borrow(), athlete.borrow())
}

/// Address that hides a block.
pub fn remove_block(id: impl Borrow<BlockId>) -> String {
    format!("/blocks/{}/remove", id.borrow())
}

/// Address that brings a block back.
pub fn restore_block(id: impl Borrow<BlockId>) -> String {
    format!("/blocks/{}/bring-back", id.borrow())
}

/// Address of what one press did to many athletes.
pub fn step(id: impl Borrow<StepId>) -> String {
    format!("/steps/{}", id.borrow())
}

/// Address that gives back what stood before it.
pub fn undo_step(id: impl Borrow<StepId>) -> String {
    format!("/steps/{}/undo", id.borrow())
}

/// Address that brings a session of the log back.
pub fn restore_session(id: impl Borrow<DoneId>) -> String {
    format!("/sessions/{}/restore", id.borrow())
}

/// Address that notes again what was taken back.
pub fn restore_event(id: impl Borrow<EventId>) -> String {
    format!("/events/{}/restore", id.borrow())
}

/// Address of an athlete's season.
pub fn season(id: impl Borrow<AthleteId>) -> String {
    format!("/athletes/{}/season", id.borrow())
}

/// Address that says that it is settled how athletes of a race called off go on.
pub fn settle(id: impl Borrow<RaceId>) -> String {
    format!("/races/{}/settle", id.borrow())
}

/// Address that calls a race off.
pub fn call_off(id: impl Borrow<RaceId>) -> String {
    format!("/races/{}/call-off", id.borrow())
}

/// Address that lets a race take place after all.
pub fn take_place(id: impl Borrow<RaceId>) -> String {
    format!("/races/{}/take-place", id.borrow())
}

/// Address that notes what of a race an athlete really ran.
pub fn ran(id: impl Borrow<RaceId>) -> String {
    format!("/races/{}/ran", id.borrow())
}

/// Address of what came out of a race for one entrant.
pub fn result(race: impl Borrow<RaceId>, athlete: impl Borrow<AthleteId>) -> String {
    format!("/races/{}/results/{}", race.borrow(), athlete.borrow())
}

/// Address of a block planned again.
pub fn replan(id: impl Borrow<BlockId>) -> String {
    format!("/blocks/{}/replan", id.borrow())
}

/// Address of a race.
pub fn race(id: impl Borrow<RaceId>) -> String {
    format!("/races/{}", id.borrow())
}

/// Address of a race's course.
pub fn race_course(id: impl Borrow<RaceId>) -> String {
    format!("/races/{}/course", id.borrow())
}

/// Address that takes the course of a race away.
pub fn remove_course(id: impl Borrow<RaceId>) -> String {
    format!("/races/{}/course/remove", id.borrow())
}

/// Address of the facts of a race's morning.
pub fn race_morning(id: impl Borrow<RaceId>) -> String {
    format!("/races/{}/morning", id.borrow())
}

/// Address of the coach's card for a race.
pub fn race_card(id: impl Borrow<RaceId>) -> String {
    format!("/races/{}/card", id.borrow())
}

/// Address of the races, to enter in one of them whoever came with a list.
pub fn races_for_list(step: impl Borrow<StepId>) -> String {
    format!("{RACES}?list={}", step.borrow())
}

/// Address of a race, with whoever came with a list ticked.
pub fn race_for_list(id: impl Borrow<RaceId>, step: impl Borrow<StepId>) -> String {
    format!("{}?list={}#enter", race(id), step.borrow())
}

/// Address of the form for a new race, to enter in it whoever came with a list.
pub fn new_race_for_list(step: impl Borrow<StepId>) -> String {
    format!("{NEW_RACE}?list={}", step.borrow())
}

/// Address of the form for a new race in which an athlete is entered.
pub fn new_race_for(id: impl Borrow<AthleteId>) -> String {
    format!("{NEW_RACE}?athlete={}", id.borrow())
}

/// Address of a race's form.
pub fn edit_race(id: impl Borrow<RaceId>) -> String {
    format!("/races/{}/edit", id.borrow())
}

/// Address that removes a race.
pub fn remove_race(id: impl Borrow<RaceId>) -> String {
    format!("/races/{}/remove", id.borrow())
}

/// Address that brings a race back.
pub fn restore_race(id: impl Borrow<RaceId>) -> String {
    format!("/races/{}/restore", id.borrow())
}

/// Address that enters athletes in a race.
pub fn enter(id: impl Borrow<RaceId>) -> String {
    format!("/races/{}/enter", id.borrow())
}

/// Address that takes an athlete out of a race.
pub fn withdraw(id: impl Borrow<RaceId>) -> String {
    format!("/races/{}/withdraw", id.borrow())
}

/// Address that makes every block that a race still lacks.
pub fn plan_all(id: impl Borrow<RaceId>) -> String {
    format!("/races/{}/blocks", id.borrow())
}

/// Address of how far making the blocks of a race is.
pub fn plan_progress(id: impl Borrow<RaceId>) -> String {
    format!("/races/{}/blocks/progress", id.borrow())
}

/// Address that stops making the blocks of a race.
pub fn plan_stop(id: impl Borrow<RaceId>) -> String {
    format!("/races/{}/blocks/stop", id.borrow())
}

/// Address of every block of a race in one table.
pub fn race_review(id: impl Borrow<RaceId>) -> String {
    format!("/races/{}/review", id.borrow())
}

/// Address where the blocks of a race are handed over.
pub fn race_hand_over(id: impl Borrow<RaceId>) -> String {
    format!("/races/{}/hand-over", id.borrow())
}

/// Address of what was handed over of a race.
pub fn race_handed_over(id: impl Borrow<RaceId>) -> String {
    format!("/races/{}/handed-over", id.borrow())
}

/// The same, naming the blocks that a press left as they were.
pub fn handed_over_but(id: impl Borrow<RaceId>, left: &[BlockId]) -> String {
    let named: Vec<String> = left.iter().map(|block| format!("not={block}")).collect();
    let query = if named.is_empty() { String::new() } else { format!("?{}", named.join("&")) };
    format!("{}{query}", race_handed_over(id))
}

/// Address of the files of everybody who holds a block of a race.
pub fn race_files(id: impl Borrow<RaceId>) -> String {
    format!("/races/{}/files", id.borrow())
}

/// Address of every sheet of a race in one print.
pub fn race_print(id: impl Borrow<RaceId>) -> String {
    format!("/races/{}/print", id.borrow())
}

/// Address of a block.
pub fn block(id: impl Borrow<BlockId>) -> String {
    format!("/blocks/{}", id.borrow())
}

/// Address that makes a block anew.
pub fn block_settings(id: impl Borrow<BlockId>) -> String {
    format!("/blocks/{}/settings", id.borrow())
}

/// Address of one day of a block.
pub fn block_day(id: impl Borrow<BlockId>, day: NaiveDate) -> String {
    format!("/blocks/{}/days/{day}", id.borrow())
}

/// Address of a block's page at one day.
pub fn block_at_day(id: impl Borrow<BlockId>, day: NaiveDate) -> String {
    format!("/blocks/{}#day-{day}", id.borrow())
}

/// Address that undoes the last change of a block.
pub fn block_undo(id: impl Borrow<BlockId>) -> String {
    format!("/blocks/{}/undo", id.borrow())
}

/// Address that redoes what was undone last.
pub fn block_redo(id: impl Borrow<BlockId>) -> String {
    format!("/blocks/{}/redo", id.borrow())
}

/// Address of a block's versions.
pub fn block_versions(id: impl Borrow<BlockId>) -> String {
    format!("/blocks/{}/versions", id.borrow())
}

/// Address where two versions of a block are chosen and compared.
pub fn block_difference(id: impl Borrow<BlockId>) -> String {
    format!("/blocks/{}/versions/difference", id.borrow())
}

/// Address of what differs between two versions of a block.
pub fn block_difference_of(id: impl Borrow<BlockId>, from: u32, to: u32) -> String {
    format!("/blocks/{}/versions/difference?from={from}&to={to}", id.borrow())
}

/// Address of one version of a block.
pub fn block_version(id: impl Borrow<BlockId>, number: u32) -> String {
    format!("/blocks/{}/versions/{number}", id.borrow())
}

/// Address that restores a version of a block.
pub fn block_restore(id: impl Borrow<BlockId>, number: u32) -> String {
    format!("/blocks/{}/versions/{number}/restore", id.borrow())
}

/// Address of a block's variants.
pub fn block_variants(id: impl Borrow<BlockId>) -> String {
    format!("/blocks/{}/variants", id.borrow())
}

/// Address of a block's goals.
pub fn block_goals(id: impl Borrow<BlockId>) -> String {
    format!("/blocks/{}/goals", id.borrow())
}

/// Address of what came out of a block's race.
pub fn debrief(id: impl Borrow<BlockId>) -> String {
    format!("/blocks/{}/debrief", id.borrow())
}

/// Address of a block's printed sheet.
pub fn block_print(id: impl Borrow<BlockId>) -> String {
    format!("/blocks/{}/print", id.borrow())
}

/// Address of a block's race sheet.
pub fn race_day(id: impl Borrow<BlockId>) -> String {
    format!("/blocks/{}/race-day", id.borrow())
}

/// Address of the form of how the effort is spread.
pub fn race_day_pacing(id: impl Borrow<BlockId>) -> String {
    format!("/blocks/{}/race-day/pacing", id.borrow())
}

/// Address of what is written for the race day.
pub fn race_day_edit(id: impl Borrow<BlockId>) -> String {
    format!("/blocks/{}/race-day/edit", id.borrow())
}

/// Address of the printed race sheet.
pub fn race_day_print(id: impl Borrow<BlockId>) -> String {
    format!("/blocks/{}/race-day/print", id.borrow())
}

/// Address of a block as a file.
pub fn block_file(id: impl Borrow<BlockId>) -> String {
    format!("/blocks/{}/file", id.borrow())
}

/// Address of a block as a table.
pub fn block_table(id: impl Borrow<BlockId>) -> String {
    format!("/blocks/{}/table", id.borrow())
}

/// Address that notes which messages were sent.
pub fn block_messages(id: impl Borrow<BlockId>) -> String {
    format!("/blocks/{}/messages", id.borrow())
}

/// Address of a block's questions.
pub fn block_questions(id: impl Borrow<BlockId>) -> String {
    format!("/blocks/{}/questions", id.borrow())
}

/// Address of the printed sheet of the last three days.
pub fn three_days_out(id: impl Borrow<BlockId>) -> String {
    format!("/blocks/{}/race-day/three-days-out", id.borrow())
}

/// Address of a block's question sheet.
pub fn questions_print(id: impl Borrow<BlockId>) -> String {
    format!("/blocks/{}/questions/print", id.borrow())
}

/// Address of a block's questions as a file.
pub fn questions_file(id: impl Borrow<BlockId>) -> String {
    format!("/blocks/{}/questions/file", id.borrow())
}

/// Address that reads and saves answers.
pub fn answers(id: impl Borrow<BlockId>) -> String {
    format!("/blocks/{}/answers", id.borrow())
}

/// Address of one of the squad's messages.
pub fn message(moment: impl Borrow<Moment>) -> String {
    format!("/messages/{}", moment.borrow().code())
}

/// Address that chooses between the program's words and the squad's.
pub fn our_message(moment: impl Borrow<Moment>) -> String {
    format!("/messages/{}/words", moment.borrow().code())
}

/// Address of an athlete's log as a table.
pub fn log_table(id: impl Borrow<AthleteId>) -> String {
    format!("/athletes/{}/log/table", id.borrow())
}

/// Address that hands a block over.
pub fn block_hand_over(id: impl Borrow<BlockId>) -> String {
    format!("/blocks/{}/hand-over", id.borrow())
}

/// Address that ends the link to a block.
pub fn block_end_link(id: impl Borrow<BlockId>) -> String {
    format!("/blocks/{}/hand-over/end", id.borrow())
}

/// Address of a shared block, on the athletes' door.
pub fn shared(token: &str) -> String {
    format!("/p/{token}")
}

/// Address of a shared block's sheet, on the athletes' door.
pub fn shared_print(token: &str) -> String {
    format!("/p/{token}/print")
}

/// Address of a shared block's calendar, on the athletes' door.
pub fn shared_calendar(token: &str) -> String {
    format!("/p/{token}/calendar.ics")
}

/// Address of a block as a calendar file.
pub fn block_calendar(id: impl Borrow<BlockId>) -> String {
    format!("/blocks/{}/calendar", id.borrow())
}

/// Address of a style sheet, script or picture: `css/base.css`.
pub fn asset(file: &str) -> String {
    format!("/static/{}/{file}", crate::assets::digest())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_built_address_is_a_known_one() {
        let (athlete_id, race_id, block_id) = (AthleteId(7), RaceId(8), BlockId(9));
        for address in [
            athlete(athlete_id),
            edit_athlete(athlete_id),
            remove_athlete(athlete_id),
            restore_athlete(athlete_id),
            week(athlete_id),
            week_form(athlete_id),
            week_preview(athlete_id),
            enter_one(athlete_id),
            make_block(athlete_id),
            race(race_id),
            edit_race(race_id),
            remove_race(race_id),
            restore_race(race_id),
            enter(race_id),
            withdraw(race_id),
            plan_all(race_id),
            plan_progress(race_id),
            plan_stop(race_id),
            race_review(race_id),
            race_hand_over(race_id),
            race_handed_over(race_id),
            handed_over_but(race_id, &[block_id, block_id]),
            race_files(race_id),
            race_print(race_id),
            block(block_id),
            block_settings(block_id),
            block_day(block_id, NaiveDate::default()),
            block_at_day(block_id, NaiveDate::default()),
            block_undo(block_id),
            block_redo(block_id),
            block_versions(block_id),
            block_difference(block_id),
            block_difference_of(block_id, 1, 2),
            block_version(block_id, 3),
            block_restore(block_id, 3),
            block_variants(block_id),
            block_goals(block_id),
            debrief(block_id),
            block_print(block_id),
            race_day(block_id),
            race_day_pacing(block_id),
            race_day_edit(block_id),
            race_day_print(block_id),
            block_file(block_id),
            block_table(block_id),
            block_messages(block_id),
            block_questions(block_id),
            questions_print(block_id),
            three_days_out(block_id),
            questions_file(block_id),
            answers(block_id),
            message(Moment::WeekOut),
            our_message(Moment::WeekOut),
            log_table(athlete_id),
            block_hand_over(block_id),
            block_end_link(block_id),
            log(athlete_id),
            log_week(athlete_id, NaiveDate::default()),
            log_sessions(athlete_id),
            remove_session(athlete_id, DoneId(1)),
            events(athlete_id),
            remove_event(athlete_id, EventId(1)),
            restore_event(EventId(1)),
            restore_entry(race_id, athlete_id),
            restore_session(DoneId(1)),
            remove_block(block_id),
            restore_block(block_id),
            step(StepId(1)),
            template(TemplateId(1)),
            remove_template(TemplateId(1)),
            restore_template(TemplateId(1)),
            apply_template(TemplateId(1)),
            save_applied(TemplateId(1)),
            undo_step(StepId(1)),
            season(athlete_id),
            call_off(race_id),
            settle(race_id),
            take_place(race_id),
            ran(race_id),
            result(race_id, athlete_id),
            race_course(race_id),
            remove_course(race_id),
            race_morning(race_id),
            race_card(race_id),
            replan(block_id),
            shared("3f1c"),
            shared_print("3f1c"),
            shared_calendar("3f1c"),
            block_calendar(block_id),
            PUBLISH.to_owned(),
            asset("css/base.css"),
        ] {
            assert!(is_known(&address), "{address}");
        }
        assert!(is_known("/?group=Track&text=an#list"));
        assert!(!is_known("/athletes/7/nonsense"));
        assert!(!is_known("/athletes/"));
    }
}
