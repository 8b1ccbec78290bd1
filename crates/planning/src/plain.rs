//! Text as it may be kept: without what a reader cannot see and what turns the text around it.

/// A text of one line: no control characters, no marks that turn the direction of what stands
/// around it, single spaces, none at the ends.
pub fn one_line(text: &str) -> String {
    let kept: String = text.chars().map(|c| if c.is_whitespace() { ' ' } else { c }).filter(|c| is_kept(*c)).collect();
    joined(kept.split(' '), " ")
}

/// The parts that are not empty, with something between them.
pub fn joined<Part: AsRef<str>>(parts: impl IntoIterator<Item = Part>, between: &str) -> String {
    let mut all = String::new();
    for part in parts {
        let part = part.as_ref();
        if !all.is_empty() && !part.is_empty() {
            all.push_str(between);
        }
        all.push_str(part);
    }
    all
}

/// A text of several lines, each without control and direction characters; no empty line at the ends.
pub fn many_lines(text: &str) -> String {
    let lines: Vec<String> = text
        .replace("\r\n", "\n")
        .replace('\r', "\n")
        .split('\n')
        .map(|line| line.chars().filter(|c| *c == '\t' || is_kept(*c)).collect::<String>().trim_end().to_owned())
        .collect();
    lines.join("\n").trim_matches('\n').to_owned()
}

/// Control characters and the marks of Unicode Standard Annex 9 that turn the direction of text.
/// The joiners stay: emoji and several scripts need them.
fn is_kept(c: char) -> bool {
    !(c.is_control()
        || matches!(c, '\u{061C}' | '\u{200E}' | '\u{200F}' | '\u{202A}'..='\u{202E}' | '\u{2066}'..='\u{2069}'))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn direction_marks_and_control_characters_never_reach_a_name() {
        assert_eq!(one_line("A\u{202E}gnik"), "Agnik");
        assert_eq!(one_line("\u{2069}\u{202E}Jamie"), "Jamie");
        assert_eq!(one_line("  O'Neil-Šťastný\t\n Jr\u{0000} "), "O'Neil-Šťastný Jr");
    }

    #[test]
    fn letters_of_every_script_and_joined_emoji_stay() {
        for name in ["نور علي", "👩🏽‍🦽 Ana", "<b>x</b>"] {
            assert_eq!(one_line(name), name);
        }
    }

    #[test]
    fn what_is_empty_is_not_joined() {
        assert_eq!(joined(["", "2 km", "", "easy", ""], ", "), "2 km, easy");
        assert_eq!(joined([String::new()], ", "), "");
        assert_eq!(joined(Vec::<&str>::new(), ", "), "");
    }

    #[test]
    fn lines_stay_lines() {
        assert_eq!(many_lines("\r\nknee\r\n\r\nasthma \u{202E}\r\n"), "knee\n\nasthma");
    }
}
