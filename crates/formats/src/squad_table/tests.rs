use chrono::{NaiveDate, Weekday};
use planning::DistanceUnit;
use planning::notation::write_day;
use planning::week::WEEKDAYS;
use proptest::prelude::*;

use super::*;
use crate::words;

const LONGEST: Longest = Longest { group: 60, notes: 5000, line: 500, phone: 40, cautions: 20 };

fn read_all(text: &str) -> Vec<TableAthlete> {
    let table = read(text, None).unwrap();
    let columns = Columns::of(&table, None);
    columns.check(&table).unwrap();
    athletes(&table, &columns, LONGEST, str::to_lowercase, |_| DistanceUnit::Km, today())
}

fn today() -> NaiveDate {
    NaiveDate::from_ymd_opt(2027, 4, 20).unwrap()
}

fn said(text: &str) -> Vec<String> {
    read_all(text).iter().flat_map(|one| &one.problems).map(words::cell_problem).collect()
}

#[test]
fn what_a_spreadsheet_copies_is_read_with_heads_in_plain_english() {
    let text = "Runner\tTraining group\tMonday\tTues\tWed.\tThurs\tFRI\tSat\tSunday\tWeekly range\tShoe\n\
                Ines Marlow\tTrack\t\t6 x 800 m 10k pace, 10 km\t7\trest\t-\t6,5\tlong 16\t40-44\t42\n\
                \n\
                Tobias Fenn\t\t8\n";
    let read = read_all(text);
    let [ines, tobias] = read.as_slice() else { panic!("{read:?}") };
    assert_eq!((ines.row, ines.athlete.name.as_str(), ines.group.as_str()), (2, "Ines Marlow", "Track"));
    assert_eq!(ines.lines[1], "6 x 800 m 10k pace, 10 km");
    assert_eq!(write_day(ines.week.day(Weekday::Sat)), "easy 6.5 km");
    assert_eq!(ines.week.running_days(), 4);
    assert_eq!((tobias.row, tobias.lines[0].as_str(), tobias.week.running_days()), (4, "8", 1));
    assert_eq!(said(text), Vec::<String>::new());
}

#[test]
fn commas_semicolons_and_tabs_are_told_apart() {
    for (text, separator) in [
        ("name,mon,tue\nAna,\"6 x 800 m, 10\",7\n", Separator::Comma),
        ("name;mon;tue\nAna;6 x 800 m, 10;7\nBo;8,5;7,5\n", Separator::Semicolon),
        ("name\tmon\ttue\nAna\t6 x 800 m; 90 s jog, 10\t7\n", Separator::Tab),
        ("Ana\t7\nBo\n", Separator::Tab),
        ("Ana\nBo\n", Separator::Comma),
    ] {
        assert_eq!(read(text, None).unwrap().separator, separator, "{text}");
    }
    assert_eq!(read("a;b,c", Some(Separator::Comma)).unwrap().rows, [["a;b", "c"]]);
}

#[test]
fn without_heads_the_name_is_first_and_the_days_follow() {
    let read = read_all("Ana;7;;;;;;long 12\nSun;8;;;;;;\n");
    let names: Vec<_> = read.iter().map(|one| one.athlete.name.as_str()).collect();
    assert_eq!(names, ["Ana", "Sun"]);
    assert_eq!((read[0].lines[0].as_str(), read[0].lines[6].as_str()), ("7", "long 12"));
    let table = super::read("Name\nAna\n", None).unwrap();
    assert_eq!(Columns::of(&table, None).heads, Some(0));
    assert_eq!(Columns::of(&table, Some(false)).rows(&table).count(), 2, "the coach knows better");
}

#[test]
fn a_phone_is_taken_under_every_usual_head() {
    for head in ["Phone", "Mobile", "Cell", "Tel.", "Telephone", "Phone number", "Mobile no.", "Cell phone", "WhatsApp"]
    {
        let read = read_all(&format!("Name\t{head}\nAna\t+353 1 555 0100\n"));
        assert_eq!(read[0].phone, "+353 1 555 0100", "{head}");
    }
    let all = read_all("Name\tHome phone\tMobile\nAna\t1\t2\n");
    assert_eq!(all[0].phone, "2", "a head that is not known is not taken");
}

#[test]
fn every_field_of_an_athlete_that_a_list_may_hold_is_read() {
    let text = "Name\tDate of birth\tWeight (kg)\tTime zone\tInjuries\tRecent results\tkm/mi\n\
                Ana\t12/03/1988\t62\tEurope/Lisbon\tleft calf; asthma\t2027-03-14 10k 42:10; 2027-04-01 5k 20:15\tmi\n";
    assert_eq!(said(text), Vec::<String>::new());
    let [ana] = read_all(text).try_into().unwrap();
    assert_eq!(ana.athlete.birth_year, Some(1988));
    assert_eq!(ana.weight, planning::notation::read_weight("62 kg", planning::WeightUnit::Kg).ok());
    assert_eq!(ana.athlete.home_zone.as_deref(), Some("Europe/Lisbon"));
    assert_eq!(ana.athlete.cautions, ["left calf", "asthma"]);
    assert_eq!(ana.recent_results, "2027-03-14 10k 42:10\n2027-04-01 5k 20:15");
}

#[test]
fn results_of_a_list_are_dated_as_in_the_form() {
    let text = "Name\tunits\tResults\nAna\tmi\tTurkey Trot 10k, 11/26, 45:10; half 1:23:40 on 8.11.\n\
                Bo\tkm\t8/11 10k 42:10\n";
    assert_eq!(said(text), Vec::<String>::new());
    let results: Vec<String> = read_all(text).into_iter().map(|one| one.recent_results).collect();
    assert_eq!(results, ["Turkey Trot 10k, 2026-11-26, 45:10\nhalf 1:23:40 on 2026-11-08", "2026-11-08 10k 42:10"]);
}

#[test]
fn what_cannot_be_read_of_those_fields_is_said_at_its_cell() {
    let text = format!(
        "Name\tPhone\tWeight\tTime zone\tCautions\tResults\nAna\t{}\theavy\tMoon\t{}\tfast\n",
        "5".repeat(41),
        "calf; ".repeat(21)
    );
    let told = said(&text);
    let begins = [
        "Row 2, Ana, phone",
        "Row 2, Ana, weight: “heavy”",
        "Row 2, Ana, time zone at home",
        "Row 2, Ana, cautions",
        "Row 2, Ana, recent results",
    ];
    assert_eq!(told.len(), begins.len(), "{told:#?}");
    for (told, begin) in told.iter().zip(begins) {
        assert!(told.starts_with(begin), "{told}");
    }
}

#[test]
fn what_spreadsheets_do_to_numbers_is_undone_where_it_can_be_and_asked_about_where_it_cannot() {
    let text = "Name,Mobile,DOB\nAna,=+447700900101,3/4/88\nBo,\"=\"\"07700 900102\"\"\",1990\n";
    let phones: Vec<_> = read_all(text).into_iter().map(|one| (one.phone, one.athlete.birth_year)).collect();
    let whole = [("+447700900101".to_owned(), Some(1988)), ("07700 900102".to_owned(), Some(1990))];
    assert_eq!(phones, whole);
    for (born, year) in [("14.02.79", 1979), ("4 Mar 95", 1995), ("21/11/08", 2008), ("1985-07-01", 1985)] {
        assert_eq!(read_all(&format!("Name,DOB\nAna,{born}\n"))[0].athlete.birth_year, Some(year), "{born}");
    }
    assert_eq!(said("Name,DOB\nAna,19/13/81\n").len(), 1);
    assert_eq!(
        said("Name,Mobile\nAna,7.70090011E+09\n"),
        [
            "Row 2, Ana, phone: “7.70090011E+09” is a number that the spreadsheet wrote in short, and its last digits are \
          gone; write the whole number, or give the column the format “text” there."
        ]
    );
}

#[test]
fn a_row_that_adds_the_others_up_is_no_athlete() {
    assert_eq!(
        said("Name,Mon\nAna,7\nAverage,7\nTOTAL:,7\nAverill Total,7\n")
            .iter()
            .map(|told| &told[..5])
            .collect::<Vec<_>>(),
        ["Row 3", "Row 4"]
    );
}

#[test]
fn first_and_family_names_make_one_name() {
    let read = read_all("Surname,First name\nMarlow,Ines\nFenn,\n");
    let names: Vec<_> = read.iter().map(|one| one.athlete.name.as_str()).collect();
    assert_eq!(names, ["Ines Marlow", "Fenn"]);
}

#[test]
fn every_problem_says_row_athlete_column_value_and_what_would_be_right() {
    let text = "name,units,easy pace,birth year,mon,sun\n\
                Ana,furlongs,quick,88,7 furlongs,12\n\
                ,km,,,7,\n\
                ana,mi,,,,\n\
                Bo,km,,,900,\n";
    let told = said(text);
    let begins = [
        "Row 2, Ana, units: “furlongs” is neither kilometres nor miles",
        "Row 2, Ana, easy pace: “quick” is not a pace; write a pace such as 5:45",
        "Row 2, Ana, year of birth, “88”: 88 may be an age or the end of a year",
        "Row 2, Ana, Monday, “7 furlongs”: “furlongs” is not a unit that is known here",
        "Row 3, name: nothing is given here",
        "Row 4, name: “ana” stands in row 2 already",
        "Row 5, Bo, Monday, “900”: 900 km is more than anybody runs",
    ];
    assert_eq!(told.len(), begins.len(), "{told:#?}");
    for (told, begin) in told.iter().zip(begins) {
        assert!(told.starts_with(begin) && told.ends_with('.'), "{told}");
    }
}

#[test]
fn a_pace_that_a_spreadsheet_took_for_a_time_of_day_is_still_a_pace() {
    for text in ["5:40", "05:40:00", "0:05:40"] {
        let read = read_all(&format!("name,pace\nAna,{text}\n"));
        assert_eq!(read[0].athlete.easy_pace.map(planning::Pace::seconds), Some(340), "{text}");
    }
}

#[test]
fn cells_that_look_like_formulas_are_text() {
    let read = read_all("name,mon,notes\n=HYPERLINK(\"x\"),7,\"=1+1\"\n'=2,'-,'+3\n");
    assert_eq!(read[0].athlete.name, "=HYPERLINK(\"x\")");
    assert_eq!(read[0].notes, "=1+1");
    assert_eq!((read[1].athlete.name.as_str(), read[1].notes.as_str()), ("=2", "+3"));
    assert!(read[1].problems.is_empty(), "a minus is rest: {:?}", read[1].problems);
}

#[test]
fn what_is_no_list_is_refused_for_its_reason() {
    let refused = |text: &str| read(text, None).unwrap_err();
    assert_eq!(refused(" \n\t\n"), TableProblem::Empty);
    assert_eq!(refused("name\nA\0na"), TableProblem::NotText);
    assert_eq!(refused("name,mon\nAna,\"6 x 800 m\nBo,7"), TableProblem::OpenQuote { row: 2 });
    assert_eq!(refused(&"x".repeat(MOST_BYTES + 1)), TableProblem::TooLarge);
    assert_eq!(refused(&"a\t".repeat(10_000)), TableProblem::TooManyColumns { row: 1, count: 10_001 });
    assert_eq!(refused(&"Ana\n".repeat(2_002)), TableProblem::TooManyRows { count: 2_002 });
    let check = |text: &str| {
        let table = read(text, None).unwrap();
        Columns::of(&table, None).check(&table)
    };
    assert_eq!(check("name\n"), Err(TableProblem::Empty));
    assert_eq!(check("mon,tue\n7,8\n"), Err(TableProblem::NoNames));
    assert_eq!(check(&format!("name\n{}", "Ana\n".repeat(2_000))), Ok(()));
    assert_eq!(check(&"Ana\n".repeat(2_001)), Err(TableProblem::TooManyRows { count: 2_001 }));
}

#[test]
fn a_cell_that_only_begins_with_words_in_quotes_stands_as_it_is() {
    let table = read("name\tmon\nAna\t\"easy\" 7, \"soft\"\nBo\t\"8\n(\"\"soft\"\")\"\n", None).unwrap();
    assert_eq!(table.cell(1, 1), "\"easy\" 7, \"soft\"");
    assert_eq!(table.cell(2, 1), "8\n(\"soft\")");
}

#[test]
fn files_are_read_in_every_encoding_that_spreadsheets_write() {
    let text = "name;mon\r\nJosé Šťastný;7\r\n";
    let with_mark = |mark: &[u8], bytes: Vec<u8>| [mark, &bytes].concat();
    let wide = |to: fn(u16) -> [u8; 2]| text.encode_utf16().flat_map(to).collect::<Vec<u8>>();
    for bytes in [
        text.as_bytes().to_vec(),
        with_mark(b"\xef\xbb\xbf", text.as_bytes().to_vec()),
        with_mark(b"\xff\xfe", wide(u16::to_le_bytes)),
        with_mark(b"\xfe\xff", wide(u16::to_be_bytes)),
    ] {
        assert_eq!(decode(&bytes).unwrap(), text);
    }
    assert_eq!(decode(b"name;mon\r\nJos\xe9 \x8a\x80;7\r\n").unwrap(), "name;mon\r\nJosé Š€;7\r\n");
    assert_eq!(decode(b"PK\x03\x04\0\0\x08"), Err(TableProblem::NotText), "a spreadsheet's own file");
    assert_eq!(decode(b""), Err(TableProblem::Empty));
    assert_eq!(decode(b"\xff\xfe\0\xd8"), Err(TableProblem::NotText));
}

#[test]
fn the_sample_reads_without_a_problem() {
    let read = read_all(&write(&sample()));
    assert_eq!(read.len(), 3);
    assert!(read.iter().all(|one| one.problems.is_empty() && one.has_week()), "{read:#?}");
    assert_eq!(read[2].athlete.units, DistanceUnit::Mi);
}

#[test]
fn a_cell_that_is_put_right_reads_back() {
    let mut table = read("name\tmon\nAna\t7 furlongs\nBo\n", None).unwrap();
    table.set(1, 1, "7, \"soft\"\tground");
    table.set(2, 1, "\"8\"");
    table.set(9, 0, "nobody");
    assert_eq!(read(&table.to_text(), Some(Separator::Tab)).unwrap().rows[..3], table.rows[..3]);
    assert_eq!(table.rows.len(), 3);
}

/// Cells of any text that a keyboard can write, one that an apostrophe begins aside.
fn cell() -> impl Strategy<Value = String> {
    "([a-zé0-9=+@;,\"\t -]|\n|\u{ff1d}){0,12}"
}

proptest! {
    #[test]
    fn what_is_written_comes_back(names in prop::collection::vec("[A-Z][a-zé;,\" -]{0,20}[a-z]", 1..6), cells in prop::collection::vec(cell(), 8)) {
        let rows: Vec<TableRow> = names.iter().enumerate().map(|(at, name)| {
            let cell = |n: usize| cells[(at + n) % cells.len()].clone();
            TableRow {
                name: format!("{name}{at}"), group: cell(0), units: "mi".to_owned(), range: cell(1),
                lines: std::array::from_fn(&cell), notes: cell(3), ..TableRow::default()
            }
        }).collect();
        let table = read(&write(&rows), Some(Separator::Comma)).unwrap();
        let columns = Columns::of(&table, None);
        prop_assert_eq!(columns.at(Column::Notes), Some(13));
        for (row, index) in rows.iter().zip(columns.rows(&table)) {
            prop_assert_eq!(table.rows[index].iter().map(String::as_str).collect::<Vec<_>>(), row.cells());
        }
        let again = read(&table.to_text(), Some(Separator::Comma)).unwrap();
        prop_assert_eq!(&again.rows, &table.rows, "and once more");
    }

    #[test]
    fn a_written_week_is_the_same_week(amounts in prop::collection::vec(0_u8..30, 7), mi in any::<bool>()) {
        let units = if mi { DistanceUnit::Mi } else { DistanceUnit::Km };
        let lines: [String; 7] = std::array::from_fn(|day| match amounts[day] {
            0 => "-".to_owned(),
            amount if amount % 5 == 0 => format!("6 x 400 m, {}", amount.max(6)),
            amount => format!("{amount},5"),
        });
        let row = TableRow { name: "Ana".to_owned(), units: units.symbol().to_owned(), lines: lines.clone(), ..TableRow::default() };
        let read = read_all(&write(&[row]));
        let texts = lines.each_ref().map(String::as_str);
        prop_assert_eq!(&read[0].week, &planning::notation::read_week(&texts, "", units).unwrap());
        prop_assert_eq!(&read[0].lines, &lines);
    }

    #[test]
    fn nothing_that_is_pasted_breaks_it(text in "([a-z=;,\"\t0-9' \u{feff}-]|\n|\r){0,200}") {
        for separator in [None, Some(Separator::Tab), Some(Separator::Semicolon)] {
            let Ok(table) = read(&text, separator) else { continue };
            let columns = Columns::of(&table, None);
            if columns.check(&table).is_ok() {
                for one in athletes(&table, &columns, LONGEST, str::to_lowercase, |_| DistanceUnit::Km, today()) {
                    prop_assert!(one.problems.iter().all(|problem| !words::cell_problem(problem).is_empty()));
                }
            }
            for weekday in WEEKDAYS {
                prop_assert!(columns.at(Column::Day(weekday)).is_none_or(|at| at < table.width()));
            }
        }
    }
}
