//! A printed page, read by programs that did not write it: `pdfinfo` and `pdftotext`.

use std::path::Path;
use std::process::Command;

use anyhow::{Context, Result, ensure};
use scraper::{Html, Selector};

/// Printers leave at least this many points white at each edge: 5 mm.
const EDGE: f64 = 14.0;

/// Words of one line end this many points apart at most: letters of two sizes stand in one.
const SAME_LINE: f64 = 3.0;

/// What stands on paper.
pub(crate) struct Print {
    /// How many sheets.
    pub(crate) sheets: u32,
    /// Width and height of the first sheet in whole points: A4 is 595 by 842, Letter 612 by 792.
    pub(crate) size: (u32, u32),
    words: Vec<Word>,
}

/// A word and where it stands, in points from the upper left corner of its sheet.
struct Word {
    text: String,
    sheet: usize,
    left: f64,
    top: f64,
    right: f64,
    bottom: f64,
}

impl Print {
    /// Reads a file as the browser printed it.
    pub(crate) fn read(bytes: &[u8]) -> Result<Self> {
        let file = tempfile::Builder::new().suffix(".pdf").tempfile()?;
        std::fs::write(file.path(), bytes)?;
        let facts = ask("pdfinfo", &[], file.path(), &[])?;
        let sheets = facts.lines().find_map(|line| line.strip_prefix("Pages:")).context("pdfinfo counts no pages")?;
        let boxes = Html::parse_document(&ask("pdftotext", &["-bbox"], file.path(), &["-"])?);
        let (pages, words) = (selector("page"), selector("word"));
        let page = boxes.select(&pages).next().context("pdftotext found no page")?;
        let on_sheets = boxes.select(&pages).enumerate();
        let words = on_sheets.flat_map(|(sheet, page)| page.select(&words).map(move |word| (sheet, word)));
        let words = words.map(|(sheet, word)| {
            Ok(Word {
                text: word.text().collect(),
                sheet,
                left: points(word.attr("xmin"))?,
                top: points(word.attr("ymin"))?,
                right: points(word.attr("xmax"))?,
                bottom: points(word.attr("ymax"))?,
            })
        });
        Ok(Self {
            sheets: sheets.trim().parse()?,
            size: (points(page.attr("width"))?.round() as u32, points(page.attr("height"))?.round() as u32),
            words: words.collect::<Result<_>>()?,
        })
    }

    /// The words in lines as eyes read them; the order in the file goes column by column.
    pub(crate) fn text(&self) -> String {
        let mut words: Vec<&Word> = self.words.iter().collect();
        words.sort_by(|one, other| one.sheet.cmp(&other.sheet).then(one.bottom.total_cmp(&other.bottom)));
        let mut lines: Vec<Vec<&Word>> = Vec::new();
        for word in words {
            match lines.last_mut() {
                Some(line) if word.sheet == line[0].sheet && word.bottom - line[0].bottom < SAME_LINE => {
                    line.push(word);
                }
                _ => lines.push(vec![word]),
            }
        }
        let in_order = |mut line: Vec<&Word>| {
            line.sort_by(|one, other| one.left.total_cmp(&other.left));
            line.iter().map(|word| word.text.as_str()).collect::<Vec<_>>().join(" ")
        };
        lines.into_iter().map(in_order).collect::<Vec<_>>().join("\n")
    }

    /// Whether these words stand there, one after the other.
    pub(crate) fn says(&self, words: &str) -> bool {
        self.text().contains(words)
    }

    /// Fails if a word of a text is missing.
    pub(crate) fn says_all_of(&self, text: &str) -> Result<()> {
        let printed = self.text();
        // Letters of scripts that run to the left come out as they stand, from left to right.
        let from_the_end = |word: &str| word.chars().rev().collect::<String>();
        let stands = |word: &str| printed.contains(word) || printed.contains(&from_the_end(word));
        // A line may end after a dash, and a letter that the font lacks (the okina in a name) comes from another
        // font, which sets it on a line of its own.
        let parts = |c: char| c.is_whitespace() || ['\u{2013}', '\u{2bb}'].contains(&c);
        let words = text.split(parts).filter(|word| !word.is_empty());
        let missing: Vec<&str> = words.filter(|word| !stands(word)).collect();
        ensure!(missing.is_empty(), "not on paper: {missing:?}\non paper:\n{printed}");
        Ok(())
    }

    /// Fails if a word stands where printers do not print.
    pub(crate) fn lies_inside(&self) -> Result<()> {
        let (width, height) = (f64::from(self.size.0), f64::from(self.size.1));
        for word in &self.words {
            let inside =
                word.left >= EDGE && word.top >= EDGE && word.right <= width - EDGE && word.bottom <= height - EDGE;
            ensure!(inside, "{:?} stands at the edge of the paper", word.text);
        }
        Ok(())
    }
}

fn points(attribute: Option<&str>) -> Result<f64> {
    Ok(attribute.context("pdftotext tells no place")?.parse()?)
}

#[expect(clippy::expect_used, reason = "the selectors are written in this file")]
fn selector(name: &str) -> Selector {
    Selector::parse(name).expect("a selector")
}

fn ask(program: &str, options: &[&str], file: &Path, after: &[&str]) -> Result<String> {
    let output = Command::new(program).args(options).arg(file).args(after).output();
    let output = output.with_context(|| format!("{program} cannot be started; `cargo xtask test` installs it"))?;
    ensure!(output.status.success(), "{program}: {}", String::from_utf8_lossy(&output.stderr));
    Ok(String::from_utf8(output.stdout)?)
}
