//! Planning the demo squad thirty times over, beside a spreadsheet that `LibreOffice` Calc works out anew.
//!
//! The sheet does what a careful coach's sheet can: the usual amount of each day, the share of the curve,
//! bounds, whole kilometres, hard parts, week totals and a few checks. It does less than the planner: it
//! moves no session, balances no week and reviews little.

use std::fmt::Write as _;
use std::path::Path;
use std::process::Command;
use std::time::Instant;

use anyhow::{Context, Result, ensure};
use chrono::{NaiveDate, NaiveTime};
use planning::curve::{Curve, curve_for};
use planning::review::{Subject, review};
use planning::week::WEEKDAYS;
use planning::{Athlete, BaseWeek, Begun, Pace, Race, Request, Settings, Totals, plan};
use store::{Store, fill_demo};

/// How often the squad is planned.
const TIMES: usize = 30;
/// Of so many runs of ours the middle one counts.
const RUNS: usize = 7;

/// One block to be made.
struct Wanted {
    athlete: Athlete,
    week: BaseWeek,
    race: Race,
    curve: Curve,
}

/// Prints one line: what both took in this run.
pub(crate) async fn beside(today: NaiveDate) -> Result<()> {
    let wanted = demo_squad(today).await?;
    let folder = tempfile::tempdir()?;
    let path = folder.path().join("squad.fods");
    std::fs::write(&path, sheet(&wanted)?)?;
    let ours = ours(&wanted, today)?;
    let (formulas, theirs) = recalculated(&path)?;
    println!(
        "the demo squad {TIMES} times over ({} blocks): {ours:.1} ms planned and reviewed, on one core; \
         {theirs:.0} ms recalculated by LibreOffice Calc ({formulas} formulas): {:.0} times as long",
        wanted.len() * TIMES,
        theirs / ours
    );
    Ok(())
}

/// Everybody of the demo squad who has a base week, for the first race ahead that can be planned.
async fn demo_squad(today: NaiveDate) -> Result<Vec<Wanted>> {
    let folder = tempfile::tempdir()?;
    let store = Store::open(&folder.path().join("demo.db")).await?;
    fill_demo(&store, today, today.and_time(NaiveTime::MIN).and_utc()).await?;
    let mut wanted = Vec::new();
    for record in store.athletes().await? {
        let week = store.week(record.id).await?.context("an athlete")?.week;
        let athlete = record.draft.athlete;
        for (_, race) in store.entries_of(record.id).await? {
            let (curve, _) = curve_for(&athlete, &week, &race.race, &Settings::default());
            let one = Wanted { athlete: athlete.clone(), week: week.clone(), race: race.race, curve };
            if planned(&one, today).is_ok() {
                wanted.push(one);
                break;
            }
        }
    }
    ensure!(wanted.len() > 5, "the demo squad has only {} blocks to plan", wanted.len());
    Ok(wanted)
}

/// Whether the block can be made; it is made and reviewed as a page does.
fn planned(one: &Wanted, today: NaiveDate) -> Result<usize> {
    let request = Request {
        today: Some(today),
        athlete: &one.athlete,
        week: &one.week,
        race: &one.race,
        settings: &Settings::default(),
        pins: &[],
        other_races: &[],
        begun: Some(Begun { on: today, days: &[] }),
    };
    let block = plan(&request).map_err(|found| anyhow::anyhow!("{found:?}"))?;
    let findings = review(&Subject {
        block: &block,
        athlete: &one.athlete,
        week: &one.week,
        other_races: &[],
        events: &[],
        ran: None,
        clock_shift: None,
        made: None,
    });
    Ok(block.days.len() + findings.len())
}

/// What we take, in milliseconds.
fn ours(wanted: &[Wanted], today: NaiveDate) -> Result<f64> {
    let mut took = Vec::with_capacity(RUNS);
    for _ in 0..RUNS {
        let begun = Instant::now();
        for _ in 0..TIMES {
            for one in wanted {
                std::hint::black_box(planned(one, today)?);
            }
        }
        took.push(begun.elapsed().as_secs_f64() * 1e3);
    }
    took.sort_by(f64::total_cmp);
    Ok(took[RUNS / 2])
}

/// How many formulas there are, and what working all of them out takes, in milliseconds.
fn recalculated(path: &Path) -> Result<(u32, f64)> {
    // The Python of the system: its office module is found by no other.
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("sheet.py");
    let output = Command::new("/usr/bin/python3").arg(script).arg(path).output().context("Debian's python3")?;
    ensure!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr).trim());
    let told = String::from_utf8(output.stdout)?;
    let mut words = told.split_whitespace();
    let formulas = words.next().context("a number of formulas")?.parse()?;
    let took = words.next().context("a time")?.parse()?;
    let blocks: f64 = words.next().context("a number of blocks")?.parse()?;
    ensure!(blocks > 0.0, "the sheet planned nothing");
    Ok((formulas, took))
}

/// A sheet as a flat file of the open document format.
fn sheet(wanted: &[Wanted]) -> Result<String> {
    let mut rows = Rows { text: String::new(), count: 0 };
    for one in (0..TIMES).flat_map(|_| wanted) {
        block(&mut rows, one)?;
    }
    Ok(format!(
        r#"<?xml version="1.0" encoding="UTF-8"?>
<office:document xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0"
  xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0"
  xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0" xmlns:of="urn:oasis:names:tc:opendocument:xmlns:of:1.2"
  office:version="1.2" office:mimetype="application/vnd.oasis.opendocument.spreadsheet">
<office:body><office:spreadsheet><table:table table:name="Blocks">{}</table:table></office:spreadsheet></office:body>
</office:document>"#,
        rows.text
    ))
}

/// Rows of cells, written one after the other.
struct Rows {
    text: String,
    count: usize,
}

/// A cell.
enum Cell {
    Number(f64),
    Text(&'static str),
    Formula(String),
}

impl Rows {
    /// Adds a row and gives its number, from 1.
    fn add(&mut self, cells: &[Cell]) -> Result<usize> {
        self.text.push_str("<table:table-row>");
        for cell in cells {
            match cell {
                Cell::Number(value) => {
                    write!(self.text, r#"<table:table-cell office:value-type="float" office:value="{value}"/>"#)?;
                }
                Cell::Text(text) => {
                    let written = r#"<table:table-cell office:value-type="string"><text:p>"#;
                    write!(self.text, "{written}{text}</text:p></table:table-cell>")?;
                }
                Cell::Formula(formula) => {
                    let escaped = formula.replace('&', "&amp;").replace('<', "&lt;").replace('"', "&quot;");
                    write!(self.text, r#"<table:table-cell table:formula="of:={escaped}"/>"#)?;
                }
            }
        }
        self.text.push_str("</table:table-row>\n");
        self.count += 1;
        Ok(self.count)
    }
}

/// One athlete's block: the race and its curve, the base week, the days, the weeks.
fn block(rows: &mut Rows, one: &Wanted) -> Result<()> {
    let day_zero = NaiveDate::from_ymd_opt(1899, 12, 30).context("the day from which sheets count")?;
    let race_day = (one.race.date - day_zero).num_days() as f64;
    let curve = one.curve;
    let days = usize::from(curve.length).max(8).div_ceil(7) * 7;
    let head = rows.count + 1;
    let (week, first) = (head + 1, head + 8);
    let last = first + days - 1;
    let sum = |column: char| format!("SUMIF([.$C${first}:.$C${last}];\"<7\";[.{column}{first}:.{column}{last}])");
    rows.add(&[
        Cell::Number(race_day),
        Cell::Number(f64::from(curve.length)),
        Cell::Number(curve.curvature),
        Cell::Number(curve.floor),
        Cell::Formula(sum('D')),
        Cell::Formula(sum('J')),
        Cell::Formula(format!("IF([.E{head}]=0;0;[.F{head}]/[.E{head}])")),
        Cell::Formula(format!("MAX([.J{first}:.J{last}])")),
        Cell::Formula(format!("IF([.G{head}]>0.65;\"cut too small\";IF([.G{head}]<0.25;\"cut too large\";\"\"))")),
        Cell::Formula(format!("COUNTIF([.J{first}:.J{last}];0)")),
        Cell::Formula(format!("SUM([.K{first}:.K{last}])")),
        Cell::Formula(format!("SUM([.E{first}:.E{last}])")),
        Cell::Formula(format!("IF([.K{head}]<0.7*[.L{head}];\"intensity lost\";\"\")")),
        Cell::Formula(format!("IF([.F{head}]>0;1;0)")),
    ])?;
    for (index, weekday) in WEEKDAYS.into_iter().enumerate() {
        let running = || one.week.first().sessions().filter(|(day, one)| *day == weekday && one.kind.is_running());
        let km = |amounts: Totals| amounts.middle_km(Pace::ASSUMED);
        let amount = km(running().filter_map(|(_, session)| session.amount).collect());
        let hard = km(running().filter_map(|(_, session)| session.hard).collect());
        rows.add(&[
            Cell::Number((index + 1) as f64),
            Cell::Number(amount),
            Cell::Number(hard),
            Cell::Text(if hard > 0.0 { "hard" } else { "easy" }),
        ])?;
    }
    for t in (1..=days).rev() {
        let row = rows.count + 1;
        let usual = |column: u8| format!("VLOOKUP([.B{row}];[.$A${week}:.$D${}];{column};0)", week + 6);
        let (length, curvature, floor) = (format!("[.$B${head}]"), format!("[.$C${head}]"), format!("[.$D${head}]"));
        rows.add(&[
            Cell::Formula(format!("[.$A${head}]-[.C{row}]")),
            Cell::Formula(format!("WEEKDAY([.A{row}];2)")),
            Cell::Number(t as f64),
            Cell::Formula(usual(2)),
            Cell::Formula(usual(3)),
            Cell::Formula(usual(4)),
            Cell::Formula(format!(
                "IF([.C{row}]>{length};1;{floor}+(1-{floor})*(1-(1-[.C{row}]/{length})^{curvature}))"
            )),
            Cell::Formula(format!("MIN([.D{row}];[.G{row}]*[.D{row}];IF([.C{row}]<3;8;IF([.C{row}]<5;12;[.D{row}])))")),
            Cell::Formula(format!("IF([.C{row}]=1;0;MAX([.H{row}];MIN([.D{row}];4)))")),
            Cell::Formula(format!("IF([.I{row}]<5;ROUND([.I{row}]*2;0)/2;ROUND([.I{row}];0))")),
            Cell::Formula(format!("IF([.D{row}]=0;0;ROUND([.E{row}]*[.J{row}]/[.D{row}]*2;0)/2)")),
            Cell::Formula(format!("IF([.J{row}]<[.D{row}];\"was \"&[.D{row}];\"as usual\")")),
        ])?;
    }
    for week in 0..days / 7 {
        let (from, to) = (7 * week, 7 * week + 6);
        let sum = |column: char| {
            let range = format!("[.$C${first}:.$C${last}]");
            format!("SUMIFS([.{column}{first}:.{column}{last}];{range};\">={from}\";{range};\"<={to}\")")
        };
        rows.add(&[
            Cell::Formula(sum('D')),
            Cell::Formula(sum('J')),
            Cell::Formula(sum('K')),
            Cell::Formula(format!("IF({usual}=0;0;{planned}/{usual})", usual = sum('D'), planned = sum('J'))),
        ])?;
    }
    Ok(())
}
