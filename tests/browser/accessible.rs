//! Every page of both doors, held to the published rules of accessibility (WCAG 2.0 to 2.2, A and AA) as far as
//! a program can judge them: by axe-core, which is not ours.

use std::collections::BTreeSet;
use std::path::Path;

use anyhow::{Context, Result, bail, ensure};
use axum::http::StatusCode;
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_TYPE};
use ebbline_client::Client;
use planning::{EventKind, LifeEvent};
use serde::Deserialize;
use server::paths;
use store::{AthleteDraft, BlockRecord, BroughtIn, TemplateDraft, WeekDraft};

use crate::app::{App, now};
use crate::driver::tell;
use crate::page::{Look, Page};

/// Where `cargo xtask test` puts the rules, seen from this package.
const RULES: &str = "../target/needs/node_modules/axe-core/axe.min.js";

/// Whether the page that is open has the rules already.
const HAS_RULES: &str = r#"arguments[arguments.length - 1](typeof axe !== "undefined");"#;

/// Applies the rules to the whole page, with everything open that can be unfolded. What the rules call
/// moderate or minor is left to people who look. Text whose ground they cannot tell would pass unseen: it
/// counts as a fault, but for lone arrows and the like, for what is wrapped and so lies beside itself, and for
/// drawings, whose text is measured here against the ground that the drawing lies on.
const JUDGE: &str = r#"
    const done = arguments[arguments.length - 1];
    document.querySelectorAll("details").forEach((folded) => { folded.open = true; });

    const channels = (colour) => colour.match(/[\d.]+/g).map(Number);
    const linear = (channel) => channel <= 0.04045 ? channel / 12.92 : ((channel + 0.055) / 1.055) ** 2.4;
    const luminance = (colour) => {
        const [red, green, blue] = channels(colour).map((channel) => linear(channel / 255));
        return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
    };
    const ground = (element) => {
        const colour = element ? getComputedStyle(element).backgroundColor : "rgb(255, 255, 255)";
        return (channels(colour)[3] ?? 1) === 1 ? colour : ground(element.parentElement);
    };
    const contrast = (text) => {
        const both = [getComputedStyle(text).fill, ground(text.closest("svg").parentElement)].map(luminance);
        return (Math.max(...both) + 0.05) / (Math.min(...both) + 0.05);
    };
    const pale = [...document.querySelectorAll("svg text")]
        .filter((text) => text.getClientRects().length > 0 && contrast(text) < 4.5)
        .map((text) => ({ rule: "color-contrast", selector: "svg text", why: text.textContent.trim() }));

    const fault = (rule, node) => ({
        rule: rule.id,
        selector: node.target.flat().join(" "),
        why: node.failureSummary.split("\n").slice(1).join(" ").replace(/\s+/g, " ").trim(),
    });
    const weighs = (node) => node.impact === "serious" || node.impact === "critical";
    const isKnown = (check) => ["nonBmp", "elmPartiallyObscuring"].includes(check.data?.messageKey);
    const isUnseen = (node) => !node.any.some(isKnown)
        && !document.querySelector(node.target.flat()[0]).closest("svg");
    axe.run(document, {
        runOnly: { type: "tag", values: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"] },
        rules: { "target-size": { enabled: true } },
        resultTypes: ["violations", "incomplete"],
    }).then(({ passes, violations, incomplete }) => done({
        applied: passes.length + violations.length,
        faults: [
            ...violations.flatMap((rule) => rule.nodes.filter(weighs).map((node) => fault(rule, node))),
            ...incomplete.filter((rule) => rule.id === "color-contrast")
                .flatMap((rule) => rule.nodes.filter(isUnseen).map((node) => fault(rule, node))),
            ...pale,
        ],
    })).catch((error) => done({ broken: String(error) }));
"#;

/// Puts faults on a page: a picture without text, and text that is hardly there, once in a drawing.
const SPOIL: &str = r##"
    const picture = document.createElement("img");
    picture.src = "data:image/gif;base64,R0lGODlhAQABAAAAACwAAAAAAQABAAA=";
    const pale = document.createElement("p");
    pale.textContent = "Hardly there";
    pale.style.color = "#eee8dc";
    const drawing = document.createElementNS("http://www.w3.org/2000/svg", "svg");
    drawing.innerHTML = "<text y='20' fill='#eee8dc'>Hardly drawn</text>";
    document.querySelector("main").append(picture, pale, drawing);
"##;

/// What the rules said of a page.
#[derive(Deserialize)]
struct Judged {
    applied: Option<usize>,
    faults: Option<Vec<Fault>>,
    broken: Option<String>,
}

/// One element that breaks one rule.
#[derive(Deserialize, PartialEq, Eq, PartialOrd, Ord)]
struct Fault {
    rule: String,
    selector: String,
    why: String,
}

#[tokio::test]
async fn every_page_of_both_doors_keeps_to_the_rules_of_accessibility() -> Result<()> {
    let rules = rules()?;
    let app = App::with_the_demo_squad().await?;
    let addresses = every_page(&app).await?;
    tell("accessible", |page| async move {
        let mut broken = BTreeSet::new();
        for address in &addresses {
            page.open(address).await?;
            broken.extend(judged_in_every_look(&page, &rules, address).await?);
        }
        // Last, because from then on every page is behind it.
        page.open(&format!("{}{}", app.coach, paths::DOORS)).await?;
        page.fill("New pass phrase", "heron under four bridges").await?;
        page.fill("Once more", "heron under four bridges").await?;
        page.press("Set pass phrase").await?;
        broken.extend(judged_in_every_look(&page, &rules, "doors with a pass phrase").await?);
        page.press("Sign this browser out").await?;
        page.open(&format!("{}{}", app.coach, paths::SIGN_IN)).await?;
        page.press("Sign in").await?;
        page.sees(&["Pass phrase"]).await?;
        broken.extend(judged_in_every_look(&page, &rules, paths::SIGN_IN).await?);
        none(&broken)
    })
    .await
}

#[tokio::test]
async fn so_do_pages_that_answer_a_form_and_those_of_an_empty_squad() -> Result<()> {
    let rules = rules()?;
    let (empty, app) = (App::start().await?, App::with_the_demo_squad().await?);
    let athlete = app.store.athletes().await?.into_iter().next().context("the demo squad has athletes")?;
    tell("accessible answers", |page| async move {
        let mut broken = BTreeSet::new();
        page.open(&empty.coach).await?;
        broken.extend(judged_in_every_look(&page, &rules, "an empty squad").await?);

        page.open(&format!("{}{}", app.coach, paths::NEW_ATHLETE)).await?;
        page.fill("Year of birth", "last year").await?;
        page.press("Add athlete").await?;
        page.sees(&["last year"]).await?;
        broken.extend(judged_in_every_look(&page, &rules, "a refused athlete").await?);

        page.open(&format!("{}{}", app.coach, paths::week(athlete.id))).await?;
        page.fill("Mon", "easy, probably").await?;
        page.press("Read it").await?;
        page.sees(&["probably"]).await?;
        broken.extend(judged_in_every_look(&page, &rules, "a refused week").await?);

        page.open(&format!("{}{}", app.coach, paths::edit_athlete(athlete.id))).await?;
        app.store.save_athlete(athlete.id, athlete.version, &athlete.draft, now()?).await?;
        page.fill("Your notes", "Prefers the track.").await?;
        page.press("Save").await?;
        page.sees(&["Changed meanwhile"]).await?;
        broken.extend(judged_in_every_look(&page, &rules, "a stale form").await?);
        none(&broken)
    })
    .await
}

#[tokio::test]
async fn a_picture_without_text_and_pale_text_are_found() -> Result<()> {
    let rules = rules()?;
    let app = App::with_the_demo_squad().await?;
    tell("not accessible", |page| async move {
        page.open(&format!("{}{}", app.coach, paths::SETTINGS)).await?;
        page.run(SPOIL).await?;
        let faults = judged(&page, &rules).await?;
        let found: Vec<_> = faults.iter().map(|fault| (fault.rule.as_str(), fault.selector.as_str())).collect();
        let wanted = [("color-contrast", "#main > p"), ("color-contrast", "svg text"), ("image-alt", "img")];
        ensure!(found == wanted, "found were {found:?}");
        Ok(())
    })
    .await
}

fn none(broken: &BTreeSet<String>) -> Result<()> {
    let lines: Vec<&str> = broken.iter().map(String::as_str).collect();
    ensure!(lines.is_empty(), "{} faults:\n{}", lines.len(), lines.join("\n"));
    Ok(())
}

/// The rules as a script. Without them nothing is judged, so that there is no way to go on.
fn rules() -> Result<String> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(RULES);
    std::fs::read_to_string(path).context("axe-core is not there; `cargo xtask test` fetches it or says how")
}

/// What breaks a rule on the page that is open, each with the page and how it was looked at.
async fn judged_in_every_look(page: &Page, rules: &str, name: &str) -> Result<Vec<String>> {
    let mut lines = Vec::new();
    for look in Look::ALL {
        page.looks(look).await?;
        let faults = judged(page, rules).await.with_context(|| format!("{name}, {look:?}"))?;
        lines.extend(
            faults
                .into_iter()
                .map(|Fault { rule, selector, why }| format!("{name}, {look:?}: {rule} at {selector}: {why}")),
        );
    }
    page.looks(Look::Light).await?;
    Ok(lines)
}

async fn judged(page: &Page, rules: &str) -> Result<BTreeSet<Fault>> {
    if !page.answer_of::<bool>(HAS_RULES).await? {
        page.run(rules).await?;
    }
    let judged: Judged = page.answer_of(JUDGE).await?;
    if let Some(broken) = judged.broken {
        bail!("the rules could not be applied: {broken}");
    }
    // Language, title and the contrast of text have something to say to any page.
    ensure!(judged.applied.is_some_and(|applied| applied >= 3), "the rules saw no page");
    Ok(judged.faults.into_iter().flatten().collect())
}

/// Addresses of every page there is: each pattern, filled in with records of the demo squad until it gives
/// a page. Forms without a page of their own and files are left out, by what the program answers.
async fn every_page(app: &App) -> Result<Vec<String>> {
    let blocks = arranged(app).await?;
    let mut pages = vec![format!("{}/nothing-is-here", app.coach), format!("{}/p/no-link", app.athletes)];
    for pattern in paths::ALL.iter().filter(|pattern| !pattern.starts_with(paths::ASSETS)) {
        if *pattern == paths::SIGN_IN {
            continue;
        }
        let mut answers = Vec::new();
        for kept in &blocks {
            let address = filled(app, pattern, kept);
            match asked(&address).await? {
                Answer::Page => pages.push(address),
                Answer::NoPage => {}
                Answer::Refused(status) => {
                    answers.push(status);
                    continue;
                }
            }
            answers.clear();
            break;
        }
        ensure!(answers.is_empty(), "no record of the demo squad leads to {pattern}: {answers:?}");
    }
    ensure!(pages.len() * 3 > paths::ALL.len(), "only {} pages were found", pages.len());
    Ok(pages)
}

/// The blocks of the demo squad, the one with the most to show first, after something happened: an athlete
/// was ill, a day was bent by hand, another athlete was removed.
async fn arranged(app: &App) -> Result<Vec<BlockRecord>> {
    let mut blocks = app.blocks().await?;
    blocks.sort_by_key(|kept| (kept.race_sheet.bib.is_empty(), kept.share.is_none()));
    let first = blocks.first().context("the demo squad has blocks")?;
    let today = now()?.date_naive();
    let ill = LifeEvent { kind: EventKind::Illness { fever: true }, from: today, to: today, noted: today, open: false };
    app.store.add_event(first.athlete.id, &ill, "slept badly", now()?).await?;
    let lines = ["rest", "6 x 800 m, 10", "7", "tempo 9", "rest", "6", "long 16"].map(str::to_owned);
    let template = TemplateDraft { name: "Five days".to_owned(), lines: lines.clone(), ..TemplateDraft::default() };
    app.store.add_template(&template, uuid::Uuid::new_v4(), now()?).await?;
    let mut new = AthleteDraft::default();
    "Ines Marlow".clone_into(&mut new.athlete.name);
    let people = [BroughtIn::New { draft: Box::new(new), week: Some(WeekDraft::of(lines)) }];
    app.store.bring_in(&people, uuid::Uuid::new_v4(), now()?).await?;
    let mut bent = first.block.clone();
    let last = bent.days.iter_mut().rev().find(|day| !day.sessions.is_empty()).context("a day with a session")?;
    last.sessions.clear();
    last.pinned = true;
    app.store.revise_block(first.id, first.version, &first.settings, &first.week, &bent, "bent", now()?).await?;
    let race = first.race.id;
    app.store.enter_many(race, &[first.athlete.id], planning::Importance::TuneUp, now()?).await?;
    app.store.enter_many(race, &[first.athlete.id], planning::Importance::Goal, now()?).await?;
    let athletes = app.store.athletes().await?;
    let without = athletes.iter().find(|athlete| blocks.iter().all(|kept| kept.athlete.id != athlete.id));
    app.store.remove_athlete(without.context("an athlete has no block")?.id, now()?).await?;
    Ok(blocks)
}

fn filled(app: &App, pattern: &str, kept: &BlockRecord) -> String {
    let door = if pattern.starts_with("/p/") { &app.athletes } else { &app.coach };
    // The day before the race.
    let day = kept.block.days.iter().rev().nth(1).map(|day| day.date.to_string()).unwrap_or_default();
    let token = kept.share.as_ref().map_or("none", |share| &share.token);
    let query = if pattern == paths::BLOCK_DIFFERENCE { "?from=1&to=2" } else { "" };
    let path = pattern
        .replace("{athlete}", &kept.athlete.id.to_string())
        .replace("{race}", &kept.race.id.to_string())
        .replace("{block}", &kept.id.to_string())
        .replace("{day}", &day)
        .replace("{number}", "1")
        .replace("{template}", "1")
        .replace("{step}", "1")
        .replace("{moment}", "week-out")
        .replace("{token}", token);
    format!("{door}{path}{query}")
}

/// What an address gives.
enum Answer {
    Page,
    /// A form is sent there, or it gives a file.
    NoPage,
    /// Something else, by its status.
    Refused(String),
}

/// Asks for an address without a browser, which would take files as well as pages.
async fn asked(address: &str) -> Result<Answer> {
    let (host, path) =
        address.strip_prefix("http://").and_then(|rest| rest.split_once('/')).context("an address of ours")?;
    let answer = Client::connect(host).await?.get(&format!("/{path}")).await?;
    let is_file = answer.header(CONTENT_DISPOSITION).starts_with("attachment");
    let is_page = answer.header(CONTENT_TYPE).starts_with("text/html") && !is_file;
    Ok(match answer.status {
        StatusCode::OK if is_page => Answer::Page,
        StatusCode::OK | StatusCode::METHOD_NOT_ALLOWED => Answer::NoPage,
        other => Answer::Refused(other.to_string()),
    })
}
