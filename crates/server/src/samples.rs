//! Renders every sample of every page and checks what must hold on all of them.

use std::collections::HashSet;

use scraper::{ElementRef, Html, Selector};

use crate::render::Page;
use crate::{
    athletes, blocks, board, conflict, doors, error, log, messages, paths, publish, race_day, races, removed, settings,
    share, sources, squad_calendar, steps, templates, weeks,
};

/// The name and the text of every sample page.
fn every_page() -> Vec<(String, String)> {
    fn add<P: Page>(all: &mut Vec<(String, String)>) {
        for (number, page) in P::samples().iter().enumerate() {
            let name = format!("{} {number}", std::any::type_name::<P>());
            let text = page.render().unwrap_or_else(|error| panic!("{name}: {error}"));
            all.push((name, text));
        }
    }
    let mut all = Vec::new();
    add::<error::ErrorPage>(&mut all);
    add::<error::SharedMissingPage>(&mut all);
    add::<conflict::ConflictPage>(&mut all);
    add::<board::ShowPage>(&mut all);
    add::<board::PrintPage>(&mut all);
    add::<squad_calendar::ShowPage>(&mut all);
    add::<races::ListPage>(&mut all);
    add::<races::EditPage>(&mut all);
    add::<races::ShowPage>(&mut all);
    add::<races::PlanPage>(&mut all);
    add::<races::ReviewPage>(&mut all);
    add::<races::HandOverPage>(&mut all);
    add::<races::HandedOverPage>(&mut all);
    add::<races::PrintAllPage>(&mut all);
    add::<races::CoursePage>(&mut all);
    add::<races::MorningPage>(&mut all);
    add::<races::CardPage>(&mut all);
    add::<athletes::ListPage>(&mut all);
    add::<athletes::EditPage>(&mut all);
    add::<athletes::PastePage>(&mut all);
    add::<athletes::ShowPage>(&mut all);
    add::<weeks::ShowPage>(&mut all);
    add::<templates::ListPage>(&mut all);
    add::<templates::EditPage>(&mut all);
    add::<templates::ChoosePage>(&mut all);
    add::<templates::PreviewPage>(&mut all);
    add::<weeks::FormPage>(&mut all);
    add::<settings::ShowPage>(&mut all);
    add::<settings::BringInPage>(&mut all);
    add::<removed::ShowPage>(&mut all);
    add::<steps::ShowPage>(&mut all);
    add::<doors::DoorsPage>(&mut all);
    add::<doors::SignInPage>(&mut all);
    add::<blocks::ShowPage>(&mut all);
    add::<blocks::DayPage>(&mut all);
    add::<blocks::VersionsPage>(&mut all);
    add::<blocks::VersionPage>(&mut all);
    add::<blocks::DifferencePage>(&mut all);
    add::<blocks::VariantsPage>(&mut all);
    add::<blocks::GoalsPage>(&mut all);
    add::<blocks::DebriefPage>(&mut all);
    add::<blocks::QuestionsPage>(&mut all);
    add::<blocks::QuestionsPrintPage>(&mut all);
    add::<blocks::AnswersPage>(&mut all);
    add::<blocks::RefusedPage>(&mut all);
    add::<blocks::SheetPage>(&mut all);
    add::<blocks::FilePage>(&mut all);
    add::<blocks::ReplanPage>(&mut all);
    add::<race_day::ShowPage>(&mut all);
    add::<race_day::EditPage>(&mut all);
    add::<race_day::PrintPage>(&mut all);
    add::<race_day::ThreeDaysPage>(&mut all);
    add::<log::LogPage>(&mut all);
    add::<athletes::SeasonPage>(&mut all);
    add::<messages::ListPage>(&mut all);
    add::<messages::EditPage>(&mut all);
    add::<share::SharedPage>(&mut all);
    add::<publish::PublishPage>(&mut all);
    add::<sources::SourcesPage>(&mut all);
    all
}

fn select<'a>(page: &'a Html, selector: &str) -> Vec<ElementRef<'a>> {
    page.select(&Selector::parse(selector).expect("a selector")).collect()
}

#[test]
fn every_page_has_one_heading_and_says_its_language_and_title() {
    for (name, text) in every_page() {
        let page = Html::parse_document(&text);
        assert_eq!(select(&page, "h1").len(), 1, "{name}: one h1");
        assert_eq!(select(&page, "html[lang=en]").len(), 1, "{name}: language");
        assert_eq!(select(&page, "main#main").len(), 1, "{name}: main");
        let title: String = select(&page, "title").iter().flat_map(ElementRef::text).collect();
        assert!(!title.trim().is_empty() && !title.contains('\n'), "{name}: title {title:?}");
    }
}

#[test]
fn every_control_has_a_label_and_what_describes_it_exists() {
    for (name, text) in every_page() {
        let page = Html::parse_document(&text);
        let labelled: HashSet<&str> =
            select(&page, "label[for]").iter().filter_map(|label| label.value().attr("for")).collect();
        let ids: Vec<&str> = select(&page, "[id]").iter().filter_map(|element| element.value().id()).collect();
        let unique: HashSet<&str> = ids.iter().copied().collect();
        assert_eq!(ids.len(), unique.len(), "{name}: an id is used twice");
        for control in select(&page, "input:not([type=hidden]), select, textarea") {
            let value = control.value();
            let has_label = value.id().is_some_and(|id| labelled.contains(id))
                || value.attr("aria-label").is_some()
                || value.attr("aria-labelledby").is_some()
                || control.ancestors().filter_map(ElementRef::wrap).any(|parent| parent.value().name() == "label");
            assert!(has_label, "{name}: {} has no label", control.html());
        }
        for attribute in ["aria-describedby", "aria-labelledby", "list"] {
            for element in select(&page, &format!("[{attribute}]")) {
                for id in element.value().attr(attribute).unwrap_or_default().split_whitespace() {
                    assert!(unique.contains(id), "{name}: {attribute} names {id}, which is not there");
                }
            }
        }
    }
}

#[test]
fn what_a_summary_says_in_short_stands_in_full_at_the_field_that_it_leads_to() {
    let words = |element: &ElementRef| element.text().collect::<String>();
    for (name, text) in every_page() {
        let page = Html::parse_document(&text);
        for link in select(&page, ".error-summary a") {
            let field = link.value().attr("href").unwrap_or_default().trim_start_matches('#');
            let at_field = select(&page, &format!("[id='{field}-errors'] p"));
            let brief = words(&link);
            // Where many rows have a field of the same kind, the summary names the row first.
            let without_row = brief.split_once(": ").map_or(brief.as_str(), |(_, rest)| rest);
            let is_said = at_field.iter().any(|sentence| words(sentence).contains(without_row));
            assert!(is_said, "{name}: {brief} is not at {field}");
        }
    }
}

#[test]
fn every_page_names_its_icon_so_that_no_browser_asks_for_another() {
    // The file stands alone.
    for (name, text) in every_page().into_iter().filter(|(name, _)| !name.contains("FilePage")) {
        let page = Html::parse_document(&text);
        assert_eq!(select(&page, "head link[rel=icon]").len(), 1, "{name}: one icon");
    }
}

#[test]
fn no_page_shows_more_than_one_filled_button() {
    for (name, text) in every_page() {
        let page = Html::parse_document(&text);
        let is_folded = |button: &ElementRef| {
            let around = button.ancestors().filter_map(ElementRef::wrap);
            around.filter(|one| one.value().name() == "details").any(|fold| fold.value().attr("open").is_none())
        };
        let filled = select(&page, ".button:not(.quiet):not(.stop)");
        let shown: Vec<String> =
            filled.into_iter().filter(|button| !is_folded(button)).map(|button| button.html()).collect();
        assert!(shown.len() <= 1, "{name}: one step that the page is for: {shown:?}");
    }
}

#[test]
fn no_page_holds_style_or_script_of_its_own() {
    // The file is no page of a door: it carries its styles with it.
    for (name, text) in every_page().into_iter().filter(|(name, _)| !name.contains("FilePage")) {
        let page = Html::parse_document(&text);
        assert!(select(&page, "style, [style], script:not([src])").is_empty(), "{name}: inline style or script");
        for element in select(&page, "*") {
            let handler = element.value().attrs().find(|(attribute, _)| attribute.starts_with("on"));
            assert!(handler.is_none(), "{name}: {handler:?}");
        }
    }
}

#[test]
fn every_link_and_form_leads_to_a_known_address() {
    for (name, text) in every_page() {
        let page = Html::parse_document(&text);
        for (selector, attribute) in [
            ("a[href]", "href"),
            ("link[href]", "href"),
            ("script[src]", "src"),
            ("img[src]", "src"),
            ("form[action]", "action"),
            ("[formaction]", "formaction"),
        ] {
            for element in select(&page, selector) {
                let address = element.value().attr(attribute).unwrap_or_default();
                if let Some(id) = address.strip_prefix('#') {
                    assert!(select(&page, "[id]").iter().any(|e| e.value().id() == Some(id)), "{name}: {address}");
                } else if address.starts_with("/static/") {
                    let file = address.splitn(4, '/').nth(3).unwrap_or_default();
                    assert!(crate::assets::text(file).is_some(), "{name}: no file {file}");
                } else if !["http://", "https://", "webcal://"].iter().any(|scheme| address.starts_with(scheme)) {
                    assert!(paths::is_known(address), "{name}: {attribute}={address}");
                }
            }
        }
        for form in select(&page, "form") {
            let method = form.value().attr("method").unwrap_or_default();
            assert!(["get", "post"].contains(&method), "{name}: a form says get or post");
        }
    }
}

#[test]
fn what_people_typed_never_becomes_markup() {
    for (name, text) in every_page() {
        assert!(!text.contains("<b>"), "{name}: unescaped text");
    }
}

#[test]
#[ignore = "needs the outside checker: cargo xtask reference"]
#[expect(clippy::print_stderr, reason = "what the checker found is for whoever runs it")]
fn an_outside_checker_finds_no_fault_in_any_page() {
    let jar = std::env::var_os("EBBLINE_HTML_CHECKER").expect("run by cargo xtask reference");
    let folder = tempfile::tempdir().expect("a folder");
    let pages = every_page();
    for (number, (name, text)) in pages.iter().enumerate() {
        let name = name.replace("::", "-").replace(' ', "-");
        std::fs::write(folder.path().join(format!("{number:03}-{name}.html")), text).expect("a page");
    }
    let mut java = std::process::Command::new("java");
    let checked = java
        .arg("-jar")
        .arg(jar)
        // Standard by now, and not yet known to the checker's style sheets; and one that it only has a word about.
        .args(["--skip-non-html", "--filterpattern", ".*(scrollbar-gutter|inputmode).*"])
        .arg(folder.path())
        .output();
    let output = checked.expect("Java 11 or newer, Debian package default-jre-headless");
    eprintln!("{}", String::from_utf8_lossy(&output.stderr));
    assert!(
        output.status.success() && output.stderr.is_empty(),
        "the checker found something in {} pages",
        pages.len()
    );
}
