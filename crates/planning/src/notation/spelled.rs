//! The numbers of a run in words: what a line tells by figures and strokes says the same as another one with commas and
//! words, and is made that before it is cut.
//!
//! ```text
//! hills      hills: 6 up, 8k                how many, and the whole beside it
//! ladders    9 w/ 3-2-1 mi                  one repetition after the other
//! rounds     30/30 x 20, 8 km w/ 10x(1/1)   what is run hard, and what between
//! sums       3 + 8 @ 4:12 + 3               warm-up, hard part, cool-down
//! ```

use std::borrow::Cow;

use super::{hills, ladders, rounds, sums};

const WAYS: [fn(&str) -> Cow<'_, str>; 4] = [hills::spelled, ladders::spelled, rounds::spelled, sums::spelled];

/// The line with its numbers in words; nearly every line stays as it is.
pub(super) fn numbers(line: &str) -> Cow<'_, str> {
    let mut told = Cow::Borrowed(line);
    for way in WAYS {
        let other = match way(&told) {
            Cow::Owned(other) => Some(other),
            Cow::Borrowed(_) => None,
        };
        told = other.map_or(told, Cow::Owned);
    }
    told
}
