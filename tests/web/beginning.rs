//! A block begins on one day, wherever that is told or shown.

use chrono::{Datelike as _, NaiveDate};
use ebbline_tests::{Answer, Entered, TestApp, date, get_shared};
use planning::{DistanceUnit, EventKind, Importance, LifeEvent, RaceDistance};
use store::BlockId;

/// A way into a block, and the day on which it is looked at.
struct Situation {
    name: &'static str,
    made: &'static str,
    today: &'static str,
    /// Length in days; empty is the event's own.
    length: &'static str,
    /// Kind, from and to of what is noted before it is handed over.
    happened: Option<[&'static str; 3]>,
    /// First day, first day that is told, first day with less running.
    begins: [&'static str; 3],
}

const PLAIN: Situation = Situation {
    name: "in the midst of a week",
    made: "2027-04-20",
    today: "2027-04-20",
    length: "",
    happened: None,
    begins: ["2027-04-29", "2027-04-29", "2027-05-02"],
};

const SITUATIONS: [Situation; 7] = [
    PLAIN,
    Situation {
        name: "alone at the end of a week that is else as usual",
        length: "14",
        begins: ["2027-04-25", "2027-04-25", "2027-04-28"],
        ..PLAIN
    },
    Situation { name: "begins today with a day as usual", today: "2027-04-29", ..PLAIN },
    Situation {
        name: "made late",
        made: "2027-05-04",
        today: "2027-05-04",
        begins: ["2027-05-04", "2027-05-04", "2027-05-04"],
        ..PLAIN
    },
    Situation { name: "days of it are past", today: "2027-05-03", ..PLAIN },
    Situation {
        // The hard session of the day without time changes places with the easy run of the day before.
        name: "a day before it is changed",
        happened: Some(["no-time", "2027-04-27", "2027-04-27"]),
        begins: ["2027-04-29", "2027-04-26", "2027-05-02"],
        ..PLAIN
    },
    Situation {
        name: "ill on its first days",
        happened: Some(["fever", "2027-04-29", "2027-04-30"]),
        begins: ["2027-04-29", "2027-04-29", "2027-04-29"],
        ..PLAIN
    },
];

async fn made(situation: &Situation) -> (TestApp, BlockId) {
    let app = TestApp::on(situation.made).await;
    let block = app.ana_block().await;
    if !situation.length.is_empty() {
        let version = app.version_of(block).await.to_string();
        let fields = [("version", version.as_str()), ("days", situation.length), ("shape", "ebb")];
        app.post(&format!("/blocks/{block}/settings"), &fields).await.location();
    }
    if let Some([kind, from, to]) = situation.happened {
        let ana = app.store.block(block).await.unwrap().unwrap().athlete.id;
        // Kept as a file of another day may hold it: the form takes no fever that is still ahead.
        let kind = if kind == "fever" { EventKind::Illness { fever: true } } else { EventKind::NoTime };
        let event = LifeEvent { kind, from: date(from), to: date(to), noted: app.today(), open: false };
        app.store.add_event(ana, &event, "", app.now()).await.unwrap();
        let version = app.version_of(block).await.to_string();
        app.post(&format!("/blocks/{block}/replan"), &[("version", &version)]).await.location();
    }
    (app.later(situation.today), block)
}

fn long(day: NaiveDate) -> String {
    day.format("%A %-d %B").to_string()
}

/// The days of the lists of a page, the earliest first.
fn listed(page: &Answer) -> Vec<NaiveDate> {
    let mut days: Vec<NaiveDate> = page.attributes(".day-list time", "datetime").iter().map(|day| date(day)).collect();
    days.sort();
    days
}

/// Asserts that everything tells the same first day, and that everybody who is not the coach is told from the same day
/// on.
async fn agree(app: &TestApp, block: BlockId, [first, told, less]: [NaiveDate; 3], name: &str) {
    let today = app.today();
    let link = app.hand_over(block, "no").await;
    let page = app.get(&format!("/blocks/{block}")).await;

    let fact = &page.texts(".block-fact")[0];
    assert!(fact.starts_with(&format!("The block begins on {}", long(first))), "{name}: {fact}");
    assert!(first == less || fact.ends_with(&format!("less running than usual is {}.", long(less))), "{name}: {fact}");
    let row = page.texts(".days tbody th").into_iter().find(|row| row.contains("the block begins"));
    let row = row.expect("the day on which the block begins");
    assert!(row.starts_with(&first.format("%a %-d %b").to_string()), "{name}: {row}");
    assert_eq!(page.count(".ebb:not(.ebb-sign) .ebb-begins"), 1, "{name}");

    let texts = page.texts(".message textarea");
    let handed = &texts[0];
    let said = if today < told && told < first {
        format!("It begins on {}, with changed days from {} on", long(first), long(told))
    } else if today < first {
        format!("It begins on {}", long(first))
    } else if today == first {
        "It begins today.".to_owned()
    } else {
        String::new()
    };
    assert!(handed.contains(&said) && (!said.is_empty() || !handed.contains("It begins")), "{name}: {handed}");
    let start = page.texts(".message-day")[1].clone();
    assert!(start.starts_with(&first.format("%a %-d %b").to_string()), "{name}: {start}");
    if texts[1].contains("comes down") {
        let from = if less == first { "today".to_owned() } else { long(less) };
        assert!(
            texts[1].contains(&format!("your block begins today. From {from} on the running")),
            "{name}: {}",
            texts[1]
        );
    }

    let sheet = app.get(&format!("/blocks/{block}/print")).await;
    let row = &sheet.texts(".sheet-days .day-first th")[0];
    assert!(row.starts_with(&told.format("%a %-d %b").to_string()), "{name}: {row}");
    let file = app.get(&format!("/blocks/{block}/file")).await;
    assert_eq!(listed(&file)[0], told, "{name}");
    let door = app.share_door().await;
    let shared = get_shared(&door, &link).await;
    // The day of today stands on top, not in the list.
    let expected = if told == today { told + chrono::Days::new(1) } else { told };
    assert_eq!(listed(&shared)[0], expected, "{name}");
    for page in [&file, &shared] {
        let says = page.body().contains(&format!("Your block begins on {}", long(first)));
        assert_eq!(says, today < first, "{name}: {}", page.text("main"));
    }

    let planned = app.store.block(block).await.unwrap().unwrap().block;
    let mut with_sessions = planned.days.iter().filter(|day| day.date >= told && !day.sessions.is_empty());
    let expected = with_sessions.next().expect("a session").date;
    for calendar in [
        app.get(&format!("/blocks/{block}/calendar")).await.body().to_owned(),
        get_shared(&door, &format!("{link}/calendar.ics")).await.body().to_owned(),
    ] {
        let events = calendar.lines().filter_map(|line| line.strip_prefix("DTSTART;VALUE=DATE:"));
        let day = events.min().map(|day| NaiveDate::parse_from_str(day, "%Y%m%d").unwrap());
        assert_eq!(day, Some(expected), "{name}");
    }
    let athlete = app.store.block(block).await.unwrap().unwrap().athlete.id;
    let season = app.get(&format!("/athletes/{athlete}/season")).await;
    let span = format!("{} to 8 May", first.format(if first.month() == 5 { "%-d" } else { "%-d %B" }));
    assert!(season.body().contains(&span), "{name}: {span}");
    let stands = app.get("/").await.text(".board-stands");
    let away = (first - today).num_days();
    assert_eq!(stands.contains(&format!("begins in {away} days")), away > 1, "{name}: {stands}");
}

#[tokio::test]
async fn messages_pages_sheet_file_and_calendars_agree_on_where_a_block_begins() {
    for situation in &SITUATIONS {
        let (app, block) = made(situation).await;
        let begins = app.store.block(block).await.unwrap().unwrap().block.beginning();
        let known = [begins.first, begins.told_from, begins.less_from.expect("it comes down")];
        assert_eq!(known, situation.begins.map(date), "{}", situation.name);
        agree(&app, block, known, situation.name).await;
    }
}

#[tokio::test]
async fn they_agree_for_a_second_goal_race_with_a_recovery_before_it() {
    let app = TestApp::new().await;
    let athlete = app.add_athlete("Bo", DistanceUnit::Km).await;
    app.save_week(athlete, ["", "6 x 800 m, 10", "8", "tempo 9", "", "6", "long 15"]).await;
    let first = app.add_race("Mill Five", "2027-05-02", RaceDistance::FiveK).await;
    app.store.enter(first, athlete, Importance::Goal, app.now()).await.unwrap();
    app.make_block(Entered { athlete, race: first }).await;
    let second = app.add_race("Larch Half", "2027-05-09", RaceDistance::Half).await;
    app.store.enter(second, athlete, Importance::Goal, app.now()).await.unwrap();
    let block = app.make_block(Entered { athlete, race: second }).await;
    let begins = app.store.block(block).await.unwrap().unwrap().block.beginning();
    assert_eq!(begins.told_from, date("2027-05-02"), "the race before stands on top");
    assert!(begins.first > begins.told_from);
    let page = app.get(&format!("/blocks/{block}")).await;
    let said = format!("begins on {}, with changed days from Sunday 2 May on", long(begins.first));
    assert!(page.texts(".block-fact")[0].contains(&said), "{}", page.texts(".block-fact")[0]);
    assert!(page.texts(".message textarea")[0].contains(&said), "{}", page.texts(".message textarea")[0]);
    let file = app.get(&format!("/blocks/{block}/file")).await;
    assert_eq!(listed(&file)[0], begins.told_from);
    assert!(file.body().contains(&said), "{}", file.text("main"));
}
