//! Long lists in pages: which part of a list is shown, and the links to the others.

use std::ops::Range;

use formats::words;
use percent_encoding::{AsciiSet, NON_ALPHANUMERIC, utf8_percent_encode};

/// What may stand as it is in the value of a query.
const PLAIN: &AsciiSet = &NON_ALPHANUMERIC.remove(b'-').remove(b'_').remove(b'.').remove(b'~');

/// An address with the fields that a page was asked for.
#[derive(Clone, Debug)]
pub(crate) struct Address {
    path: String,
    fields: Vec<(&'static str, String)>,
}

impl Address {
    /// An address without any field.
    pub(crate) fn new(path: impl Into<String>) -> Self {
        Self { path: path.into(), fields: Vec::new() }
    }

    /// The same with a field, if there is anything in it.
    #[must_use]
    pub(crate) fn with(mut self, name: &'static str, value: &str) -> Self {
        if !value.is_empty() {
            self.fields.push((name, value.to_owned()));
        }
        self
    }

    /// The address as it stands in a link.
    pub(crate) fn link(&self) -> String {
        let field = |(name, value): &(&str, String)| format!("{name}={}", utf8_percent_encode(value, PLAIN));
        let fields: Vec<String> = self.fields.iter().map(field).collect();
        if fields.is_empty() { self.path.clone() } else { format!("{}?{}", self.path, fields.join("&")) }
    }
}

/// One page of a list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Pages {
    /// Where its first row stands in the list.
    from: usize,
    to: usize,
    pub(crate) total: usize,
    pub(crate) number: usize,
    pub(crate) last: usize,
    pub(crate) previous: Option<String>,
    pub(crate) next: Option<String>,
}

impl Pages {
    /// The page that is asked for, as typed; the last one where there are not so many, the first where it
    /// is no number.
    pub(crate) fn of(total: usize, rows: usize, asked: &str, query: &Address) -> Self {
        let last = total.div_ceil(rows).max(1);
        let number = asked.parse().unwrap_or(1).clamp(1, last);
        let link = |number: usize| match number {
            1 => query.link(),
            more => query.clone().with("page", &more.to_string()).link(),
        };
        let from = (number - 1) * rows;
        Self {
            from,
            to: (from + rows).min(total),
            total,
            number,
            last,
            previous: (number > 1).then(|| link(number - 1)),
            next: (number < last).then(|| link(number + 1)),
        }
    }

    /// The rows of the list that it shows.
    pub(crate) fn range(&self) -> Range<usize> {
        self.from..self.to
    }

    /// Whether there are others.
    pub(crate) fn are_several(&self) -> bool {
        self.last > 1
    }

    /// `51 to 100 of 312 athletes`.
    pub(crate) fn words(&self, what: &str) -> String {
        format!("{} to {} of {}", self.from + 1, self.to, words::plural(self.total, what))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn page(total: usize, asked: &str) -> Pages {
        Pages::of(total, 50, asked, &Address::new("/").with("text", "a&b c").with("group", ""))
    }

    #[test]
    fn a_list_that_fits_is_one_page() {
        for total in [0, 1, 50] {
            let one = page(total, "");
            assert_eq!((one.range(), one.are_several()), (0..total, false), "{total}");
        }
        assert_eq!(page(51, "").next.as_deref(), Some("/?text=a%26b%20c&page=2"));
    }

    #[test]
    fn pages_lead_to_those_beside_them() {
        let second = page(101, "2");
        assert_eq!((second.range(), second.words("athlete").as_str()), (50..100, "51 to 100 of 101 athletes"));
        assert_eq!(second.previous.as_deref(), Some("/?text=a%26b%20c"));
        assert_eq!(second.next.as_deref(), Some("/?text=a%26b%20c&page=3"));
        assert_eq!((page(101, "3").range(), page(101, "3").next), (100..101, None));
    }

    #[test]
    fn a_page_that_is_not_there_is_the_nearest_that_is() {
        for (asked, number) in [("0", 1), ("-1", 1), ("x", 1), ("", 1), ("99", 3), ("99999999999999999999999", 1)] {
            assert_eq!(page(101, asked).number, number, "{asked}");
        }
    }
}
