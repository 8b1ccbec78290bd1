//! The whole squad as one file, and back into an empty squad.

use axum::http::StatusCode;
use ebbline_tests::{Answer, TestApp};

async fn demo() -> (TestApp, Answer) {
    let app = TestApp::new().await;
    store::fill_demo(&app.store, app.today(), app.now()).await.unwrap();
    let file = app.post("/settings/everything", &[]).await;
    (app, file)
}

async fn bring_in(app: &TestApp, once: &str, file: &[u8]) -> Answer {
    app.post_file("/settings/bring-in", &[("once", once)], "file", file).await
}

#[tokio::test]
async fn a_squad_leaves_as_one_file_and_comes_back_to_the_byte() {
    let (app, file) = demo().await;
    assert_eq!(file.status, StatusCode::OK);
    assert_eq!(file.header("content-disposition"), "attachment; filename=\"ebbline-squad-2027-04-20.zip\"");
    assert_eq!(file.header("content-type"), "application/zip");
    let other = TestApp::on("2027-06-01").await;
    let once = other.get("/settings/bring-in").await.value("once");
    let answer = bring_in(&other, &once, &file.bytes).await;
    assert_eq!(answer.location(), "/");
    assert!(other.follow(&answer).await.text(".notice p").starts_with("The squad is here: "));
    assert_eq!(bring_in(&other, &once, &file.bytes).await.location(), "/", "the same form again is the same answer");
    let again = other.post("/settings/everything", &[]).await;
    let files = |answer: &Answer| formats::bundle::unpack(&answer.bytes, |_| true).unwrap();
    assert!(files(&again) == files(&file), "the same squad gives the same files, whenever they are packed");
    assert_eq!(other.store.athletes().await.unwrap(), app.store.athletes().await.unwrap());
    assert_eq!(other.store.check().await.unwrap(), Vec::<String>::new());
}

#[tokio::test]
async fn tables_for_people_are_in_it_with_a_page_that_explains_every_file() {
    let (_, file) = demo().await;
    let files = formats::bundle::unpack(&file.bytes, |_| true).unwrap();
    let text = |name: &str| &files.iter().find(|(file, _)| file == name).unwrap_or_else(|| panic!("{name}")).1;
    let readme = text("README.txt");
    for (name, content) in &files {
        let stem = name.rsplit('/').next().unwrap_or(name).trim_end_matches(".json").trim_end_matches(".csv");
        assert!(name == "README.txt" || readme.contains(&format!("\n{stem} ")) || stem == "block_days", "{name}");
        assert!(!content.is_empty(), "{name}");
    }
    assert!(text("csv/athletes.csv").starts_with("id,version,name,units,"));
    assert!(text("csv/block_days.csv").starts_with("block,athlete,race,date,weekday,"));
    assert!(text("csv/block_days.csv").lines().count() > 100);
}

#[tokio::test]
async fn no_cell_of_its_tables_is_a_formula_where_a_spreadsheet_parts_at_semicolons_or_tabs() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let version = app.version_of(block).await.to_string();
    let form = [("version", version.as_str()), ("a", "x;=1+1")];
    app.post(&format!("/blocks/{block}/goals"), &form).await.location();
    let form = [("do", "save"), ("rest", "x\t=1+1\n=2+2"), ("version", &app.version_of(block).await.to_string())];
    app.post(&format!("/blocks/{block}/answers"), &form).await.location();
    let file = app.post("/settings/everything", &[]).await;
    let tables = formats::bundle::unpack(&file.bytes, |_| true).unwrap();
    let tables: Vec<_> = tables.into_iter().filter(|(name, _)| name.starts_with("csv/")).collect();
    let all: String = tables.iter().map(|(_, text)| text.as_str()).collect();
    for cell in ["x;'=1+1", "\"x\t'=1+1\n'=2+2\""] {
        assert!(all.contains(cell), "{cell}: {all}");
    }
    for (name, text) in tables {
        for part in text.split([';', '\t', '\r', '\n']) {
            assert!(!part.starts_with(['=', '+', '-', '@']), "{name}: {part}");
        }
    }
}

#[tokio::test]
async fn a_squad_that_is_not_empty_takes_nothing_in() {
    let (app, file) = demo().await;
    let page = app.get("/settings/bring-in").await;
    assert_eq!(page.count("input[type=file]"), 0);
    assert!(page.text(".empty").contains("two squads are never mixed"));
    let refused = bring_in(&app, "", &file.bytes).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(refused.text(".error-summary li"), "This squad is not empty, so nothing was brought in.");
    assert!(app.post("/settings/everything", &[]).await.bytes == file.bytes);
}

#[tokio::test]
async fn what_is_wrong_with_the_file_is_said_at_the_field() {
    let (_, file) = demo().await;
    let mut files = formats::bundle::unpack(&file.bytes, |_| true).unwrap();
    let at = files.iter().position(|(name, _)| name == "json/races.json").unwrap();
    let good = files[at].1.clone();
    let mut packed = |text: String| {
        files[at].1 = text;
        formats::bundle::pack(&files, chrono::NaiveDateTime::default()).unwrap()
    };
    let app = TestApp::new().await;
    for (bytes, expected) in [
        (Vec::new(), "Choose the file, then bring it in."),
        (b"no zip".to_vec(), "This is not a zip file, or it is damaged."),
        (
            packed(good.replacen("\"version\":1", "\"version\":\"one\"", 1)),
            "json/races.json, record 1, field “version”: “one” is not a whole number.",
        ),
        (
            packed(good.replacen("\"distance\":\"5k\"", "\"distance\":\"6k\"", 1)),
            "field “distance”: “6k” is outside what may stand there",
        ),
        (packed("[{".to_owned()), "json/races.json, line 1, column 2: from here on it is not JSON any more."),
        (vec![0; formats::bundle::MOST_BYTES + 100_000], "The file is larger than 20 MB; more is not taken."),
    ] {
        let page = bring_in(&app, "", &bytes).await;
        assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY, "{expected}");
        assert!(page.text("#file-errors").contains(expected));
        assert!(app.store.is_empty().await.unwrap());
    }
}

#[tokio::test]
async fn what_does_not_read_back_is_said_in_plain_words_with_file_and_record() {
    let (_, file) = demo().await;
    let files = formats::bundle::unpack(&file.bytes, |_| true).unwrap();
    let app = TestApp::new().await;
    for (name, field, start, said) in [
        ("base_weeks", "tue", "the record with athlete ", "leagues` is not a day's sessions."),
        ("base_weeks", "week_range", "the record with athlete ", "leagues` is not an amount of running."),
    ] {
        let name = format!("json/{name}.json");
        let mut changed = files.clone();
        let text = &mut changed.iter_mut().find(|(file, _)| *file == name).expect("the file").1;
        let broken = text.replacen(&format!("\"{field}\":\""), &format!("\"{field}\":\"5 leagues\",\"was\":\""), 1);
        let (before, rest) = broken.split_once("\",\"was\":\"").expect("the field is there");
        let (_, rest) = rest.split_once('"').expect("its value ends");
        *text = format!("{before}\"{rest}");
        let page =
            bring_in(&app, "", &formats::bundle::pack(&changed, chrono::NaiveDateTime::default()).unwrap()).await;
        assert!(page.text(".error-summary li").starts_with(&name), "{}", page.text(".error-summary li"));
        let told = page.text("#file-errors p").replace("!Error: ", "");
        let told = told.strip_suffix(" Nothing was brought in.").expect("what becomes of it");
        let expected = format!("{name}, {start}");
        assert!(told.starts_with(&expected) && told.ends_with(said) && told.contains(field), "{told}");
        for code in ["Problem", "kind:", "[", "{", "_week ", "done_session"] {
            assert!(!told.contains(code), "{code}: {told}");
        }
        assert!(app.store.is_empty().await.unwrap());
    }
}

#[tokio::test]
async fn something_else_than_a_form_with_a_file_is_refused() {
    let app = TestApp::new().await;
    let page = app.post("/settings/bring-in", &[("file", "x")]).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(page.text(".error-summary li"), "Choose the file, then bring it in.");
}

#[tokio::test(flavor = "multi_thread")]
async fn saves_go_on_while_a_squad_is_brought_in() {
    let file = {
        let source = TestApp::new().await;
        for number in 0..2_000 {
            let mut draft = store::AthleteDraft::default();
            draft.athlete.name = format!("Athlete {number}");
            source.store.add_athlete(&draft, uuid::Uuid::new_v4(), source.now()).await.unwrap();
        }
        source.post("/settings/everything", &[]).await.bytes
    };
    let app = std::sync::Arc::new(TestApp::new().await);
    let saves: Vec<_> = (0..20)
        .map(|number| {
            let app = app.clone();
            tokio::spawn(async move {
                let version = app.get("/settings").await.value("version");
                let name = format!("Coach {number}");
                let fields = [("version", version.as_str()), ("units", "km"), ("week_start", "mon"), ("paper", "a4")];
                app.post("/settings", &[&fields[..], &[("coach_name", &name)]].concat()).await.status
            })
        })
        .collect();
    assert_eq!(bring_in(&app, "", &file).await.location(), "/");
    for save in saves {
        let status = save.await.unwrap();
        assert!(matches!(status, StatusCode::SEE_OTHER | StatusCode::CONFLICT), "{status}");
    }
    assert_eq!(app.store.athletes().await.unwrap().len(), 2_000);
}
