//! Metres of climbing beside a run: "20 km +600 m", "25 km 900 m D+", "12 km w/ 300 m vert". They are no distance.

use std::borrow::Cow;

use super::line::{apart_from_notes, quote};

/// Words that say of metres in front of them that they are climbed.
const CLIMBED: [&str; 15] = [
    "climb",
    "climbs",
    "climbing",
    "ascent",
    "ascend",
    "vert",
    "vertical",
    "d+",
    "d +",
    "up",
    "gain",
    "elevation",
    "elev",
    "hm",
    "+",
];

/// From here on metres with a plus sign in front, and nothing behind, are climbed.
const LEAST_CLIMB: u32 = 50;

/// The line with its climbing in brackets and quotes; nearly every line has none.
pub(super) fn noted(line: &str) -> Cow<'_, str> {
    let Some((from, until)) = found(line) else { return Cow::Borrowed(line) };
    let (front, behind) = (line[..from].trim_end_matches([' ', ',', ';']), &line[until..]);
    if front.is_empty() {
        return Cow::Borrowed(line);
    }
    Cow::Owned(format!("{front} ({}){behind}", quote(line[from..until].trim())))
}

/// Where climbing stands in a line: its number, the unit and the words.
fn found(line: &str) -> Option<(usize, usize)> {
    // Inside brackets and quotes it is a note already.
    let end = apart_from_notes(line).0.len();
    let metres = line[..end].match_indices(['m', 'M', 'f', 'F']).map(|(at, _)| at);
    metres.into_iter().find_map(|at| climb_at(line, at, end))
}

/// The climbing whose unit begins here.
fn climb_at(line: &str, unit: usize, end: usize) -> Option<(usize, usize)> {
    // "600 hm": metres of height, as they are told in the Alps.
    let (front, is_height) = match line[..unit].strip_suffix(['h', 'H']) {
        Some(front) => (front, true),
        None => (&line[..unit], false),
    };
    let front = front.trim_end_matches(' ');
    let digits = front.len() - front.trim_end_matches(|one: char| one.is_ascii_digit()).len();
    if digits < 2 {
        return None;
    }
    let from = front.len() - digits;
    let metres: u32 = front[from..].parse().ok()?;
    let behind_unit = unit + if line[unit..].to_ascii_lowercase().starts_with("ft") { 2 } else { 1 };
    if line[unit..].starts_with(['f', 'F']) && behind_unit == unit + 1 {
        return None;
    }
    let behind = &line[behind_unit..end];
    if behind.starts_with(|next: char| next.is_alphabetic()) {
        return None;
    }
    let before = line[..from].trim_end_matches(' ');
    let is_reps = before.ends_with(['x', 'X', '*', '\u{d7}']);
    let is_signed = line[..from].ends_with('+') && line[..from - 1].ends_with(' ');
    // "15k/600m"
    let is_divided = line[..from].ends_with('/') && before[..before.len() - 1].ends_with(['k', 'm', 'i', 'h']);
    let from = if is_signed || is_divided { from - 1 } else { from };
    if is_reps {
        return None;
    }
    if is_height {
        let is_climb = line[unit..].starts_with(['m', 'M']) && metres >= 2 * LEAST_CLIMB;
        return is_climb.then_some((from, behind_unit));
    }
    let words = behind.trim_start();
    let words = words.strip_prefix("of ").unwrap_or(words);
    let named = CLIMBED.iter().filter(|word| {
        words.get(..word.len()).is_some_and(|here| here.eq_ignore_ascii_case(word))
            && !words[word.len()..].starts_with(|next: char| next.is_alphanumeric() || next == ' ' && **word == "+")
    });
    if let Some(word) = named.max_by_key(|word| word.len()) {
        // "6 km + 4 km" has a plus sign that joins: the sign of a climb stands right behind its metres.
        let is_joined = *word == "+" && behind.starts_with(' ');
        let until = behind_unit + (behind.len() - words.len()) + word.len();
        let from = led(line, from);
        return (!is_joined).then_some((from, until));
    }
    let is_done = words.is_empty() || words.starts_with([',', ';', '+']);
    ((is_signed || is_divided) && is_done && metres >= LEAST_CLIMB).then_some((from, behind_unit))
}

/// Where it begins with the word that leads to it: "w/ 300 m vert".
fn led(line: &str, from: usize) -> usize {
    let before = line[..from].trim_end();
    ["with", "w/", "and", "plus", "&"].iter().find_map(|word| before.strip_suffix(word)).map_or(from, str::len)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn climbing_becomes_a_note_and_distances_stay() {
        for (line, noted_line) in [
            ("20 km +600 m", "20 km (\"+600 m\")"),
            ("AM 20 km +600 m + PM 5", "AM 20 km (\"+600 m\") + PM 5"),
            ("25 km trail, 900 m+", "25 km trail (\"900 m+\")"),
            ("25 km trail 900m D+", "25 km trail (\"900m D+\")"),
            ("12 km w/ 300m vert", "12 km (\"w/ 300m vert\")"),
            ("hill reps 10 x 2 min, 12 km, 400 m up", "hill reps 10 x 2 min, 12 km (\"400 m up\")"),
            ("3 h trail 1200 m of climbing, easy", "3 h trail (\"1200 m of climbing\"), easy"),
            ("30 km 4000 ft gain", "30 km (\"4000 ft gain\")"),
            ("trail 15k/600m", "trail 15k (\"/600m\")"),
            ("15 km 600 hm", "15 km (\"600 hm\")"),
            // A mark of seconds is no quote, and every quote is one.
            ("6 x 20\" strides, 12 km, 300 m of climbing", "6 x 20\" strides, 12 km (\"300 m of climbing\")"),
            ("12 km \u{201e}300 m vert\u{201c}", "12 km \u{201e}300 m vert\u{201c}"),
        ] {
            assert_eq!(noted(line), noted_line);
        }
        for line in
            ["6 x 800 m, 10 km", "8 km + 400 m", "10 x 400 m uphill, 9 km", "2 km warm up", "45 min easy", "800 m up"]
        {
            assert_eq!(noted(line), line);
        }
    }
}
