//! `ebbline plan`: one block from a request, no server, no data file.

use std::io::{Read as _, Write as _};
use std::path::PathBuf;

use chrono::{NaiveDate, NaiveTime};
use clap::{Args, ValueEnum};
use formats::calendar::{self, BlockKey, Calendar, Edition, Version};
use formats::plan_answer::PlanAnswer;
use formats::plan_request::{PlanRequest, Wrong};
use formats::{plan_csv, plan_text};
use planning::Block;

use super::Failure;

/// Plans one block from a request in JSON and prints it.
#[derive(Args, Debug)]
pub(crate) struct Arguments {
    /// The request; - reads standard input.
    #[arg(value_name = "FILE", default_value = "-")]
    file: PathBuf,
    /// How the block is printed.
    #[arg(long, value_enum, default_value_t = Format::Text, env = "EBBLINE_FORMAT", hide_env_values = true)]
    format: Format,
}

/// What is printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Format {
    /// For people: a day a line, week totals, the review.
    Text,
    /// The answer as JSON.
    Json,
    /// A calendar file.
    Ics,
    /// A table, one session a row.
    Csv,
}

/// A request is a page of text; above this it is the wrong file.
const MOST_BYTES: u64 = 1_000_000;

pub(crate) fn run(arguments: &Arguments) -> Result<(), Failure> {
    let request = PlanRequest::read(&read(arguments)?).map_err(|wrong| Failure::Data(lines(&wrong)))?;
    let answer = answer(&request, arguments.format)?;
    let mut out = std::io::stdout().lock();
    match out.write_all(answer.as_bytes()).and_then(|()| out.flush()) {
        // Whoever reads has seen enough, as in `ebbline plan | head`.
        Err(error) if error.kind() == std::io::ErrorKind::BrokenPipe => Ok(()),
        Err(error) => Err(Failure::Data(format!("the answer could not be written ({error})"))),
        Ok(()) => Ok(()),
    }
}

fn answer(request: &PlanRequest, format: Format) -> Result<String, Failure> {
    let today = Some(today());
    let block = request.plan(today).map_err(|problems| {
        let wrong: Vec<Wrong> = problems.iter().map(|problem| request.locate(problem)).collect();
        Failure::Data(lines(&wrong))
    })?;
    let findings = request.review(&block, today);
    let unwritten = |error: String| Failure::Data(format!("the answer could not be written ({error})"));
    match format {
        Format::Text => Ok(plan_text::write(&block, &request.athlete, &findings)),
        Format::Json => {
            PlanAnswer::new(&block, &request.athlete, &findings).to_json().map_err(|error| unwritten(error.to_string()))
        }
        Format::Csv => Ok(plan_csv::write(&block)),
        Format::Ics => calendar(request, &block).ok_or_else(|| unwritten("it has no version".to_owned())),
    }
}

/// The calendar file. Nothing is kept, so every file is a first version: the same request gives the
/// same bytes all day.
fn calendar(request: &PlanRequest, block: &Block) -> Option<String> {
    let athlete = &request.athlete;
    let at = request.today.unwrap_or_else(today).and_time(NaiveTime::MIN).and_utc();
    calendar::write(&Calendar {
        key: BlockKey::of_request(&athlete.name, &block.race),
        athlete: &athlete.name,
        units: athlete.units,
        versions: &[Version { number: 1, parent: None, place: "", block }],
        editions: &[Edition { version: 1, at }],
        race: None,
    })
}

/// What is wrong, one line each.
fn lines(wrong: &[Wrong]) -> String {
    wrong.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n")
}

/// The day of this machine: a request that does not say today is planned from now.
#[expect(clippy::disallowed_methods, reason = "a command without a server has no other clock")]
fn today() -> NaiveDate {
    chrono::Local::now().date_naive()
}

/// The request as text.
fn read(arguments: &Arguments) -> Result<String, Failure> {
    let name = if arguments.file.as_os_str() == "-" { "standard input" } else { "the file" };
    let wrong = |message: String| Failure::Data(format!("{name} “{}”: {message}", arguments.file.display()));
    let source: Box<dyn std::io::Read> = if arguments.file.as_os_str() == "-" {
        Box::new(std::io::stdin().lock())
    } else {
        Box::new(std::fs::File::open(&arguments.file).map_err(|error| wrong(format!("cannot be read ({error})")))?)
    };
    let mut bytes = Vec::new();
    source.take(MOST_BYTES + 1).read_to_end(&mut bytes).map_err(|error| wrong(format!("cannot be read ({error})")))?;
    if bytes.len() as u64 > MOST_BYTES {
        return Err(wrong("is larger than 1 MB; a request is a page of text".to_owned()));
    }
    String::from_utf8(bytes).map_err(|_| wrong("is not text in UTF-8; a request is JSON".to_owned()))
}
