//! `ebbline plan`: one block from a request, no server, no data file.

use std::io::{Read as _, Write as _};
use std::path::PathBuf;

use clap::{Args, ValueEnum};

use super::Failure;

/// Plans one block from a request in JSON and prints it.
#[derive(Args, Debug)]
pub(crate) struct Arguments {
    /// The request; - reads standard input.
    #[arg(value_name = "FILE", default_value = "-")]
    file: PathBuf,
    /// How the block is printed.
    #[arg(long, value_enum, default_value_t = Format::Text, env = "EBBLINE_FORMAT")]
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
    if arguments.format == Format::Ics {
        return Err(Failure::Usage("--format ics: calendar files are not built yet; use text, json or csv".to_owned()));
    }
    let request = read(arguments)?;
    let answer = request;
    std::io::stdout()
        .write_all(answer.as_bytes())
        .map_err(|error| Failure::Data(format!("the answer could not be written: {error}")))
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
