//! The line that says the whole of each run too.

use super::super::line::{Part, Parts, written};
use crate::units::Amount;

/// The line of these slots with the whole of sessions, each given by its slot and its option there; nothing where none of
/// the places where a whole may stand makes it readable.
///
/// ```text
/// 2 km wu, 20 min tempo, 2 km cd    behind: "2 km wu, 20 min tempo, 2 km cd, 7.5 km"
/// 2 km wu, 20 min tempo             in front: "5.5 km, 2 km wu, 20 min tempo"
/// 20 min tempo, 2 km cd             in front, as what holds it: "5.5 km with 20 min tempo, 2 km cd"
/// ```
pub(in super::super) fn with_wholes(
    slots: &[Vec<Parts>],
    wholes: impl Iterator<Item = ((usize, usize), Amount)>,
    reads: impl Fn(&str) -> bool,
) -> Option<String> {
    let mut slots = slots.to_vec();
    for ((slot, option), whole) in wholes {
        let parts = slots.get_mut(slot)?.get_mut(option)?;
        *parts = with_whole(parts, whole, &reads)?;
    }
    Some(written(&slots)).filter(|line| reads(line))
}

/// The parts of one session with its whole, where it is read by itself.
fn with_whole(parts: &Parts, whole: Amount, reads: impl Fn(&str) -> bool) -> Option<Parts> {
    let amount = || Part { words: whole.to_string(), ..Part::default() };
    let behind = |parts: &mut Parts| parts.push(amount());
    let in_front = |parts: &mut Parts| parts.insert(0, amount());
    let holding = |parts: &mut Parts| {
        if let Some(first) = parts.first_mut() {
            first.words = format!("{whole} with {}", first.words);
        }
    };
    let ways: [&dyn Fn(&mut Parts); 3] = [&behind, &in_front, &holding];
    ways.into_iter().find_map(|way| {
        let mut parts = parts.clone();
        way(&mut parts);
        reads(&written(&[vec![parts.clone()]])).then_some(parts)
    })
}
