//! What somebody is called: the name for a greeting, out of a whole name.

/// Titles that stand before a name and greet nobody.
const TITLES: [&str; 9] = ["dr", "prof", "mr", "mrs", "ms", "miss", "mx", "sir", "dame"];

/// What somebody with this name is called: what stands in brackets or quotes ("Roberta (Bobby) Lane"), else the
/// first name, which stands behind the comma where there is one ("Lane, Roberta"). An initial tells no name, so
/// "R. Lane" stays whole.
///
/// # Example
///
/// ```
/// assert_eq!(formats::called("Ana Exemplo"), "Ana");
/// assert_eq!(formats::called("Exemplo, Ana Maria"), "Ana");
/// ```
pub fn called(name: &str) -> &str {
    let name = name.trim();
    if let Some(own) = between(name) {
        return own;
    }
    let first = match name.split_once(',') {
        Some((_, behind)) if !behind.trim().is_empty() => behind,
        _ => name,
    };
    let is_title = |word: &&str| TITLES.iter().any(|title| word.trim_end_matches('.').eq_ignore_ascii_case(title));
    match first.split_whitespace().find(|word| !is_title(word)) {
        Some(word) if !is_initial(word) && word != "," => word.trim_end_matches(','),
        _ => name,
    }
}

/// One letter, or letters each with a point behind it.
fn is_initial(word: &str) -> bool {
    word.ends_with('.') || (word.chars().count() == 1 && word.chars().all(|only| only.is_ascii_alphabetic()))
}

/// What stands in the first brackets or quotes, if anything does.
fn between(name: &str) -> Option<&str> {
    const PAIRS: [(char, char); 5] =
        [('(', ')'), ('"', '"'), ('\u{201c}', '\u{201d}'), ('\u{201e}', '\u{201c}'), ('\u{2018}', '\u{2019}')];
    PAIRS.iter().find_map(|(open, close)| {
        let (_, behind) = name.split_once(*open)?;
        let (inside, _) = behind.split_once(*close)?;
        Some(inside.trim()).filter(|inside| !inside.is_empty())
    })
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::called;

    #[test]
    fn the_first_name_greets_and_what_stands_in_brackets_before_it() {
        for (name, greeting) in [
            ("Ana Exemplo", "Ana"),
            ("  Ana  Exemplo ", "Ana"),
            ("Ana", "Ana"),
            ("Exemplo, Ana Maria", "Ana"),
            ("Exemplo,", "Exemplo"),
            ("Dr. Ana Exemplo", "Ana"),
            ("Mr Rui Exemplo", "Rui"),
            ("R. Lane", "R. Lane"),
            ("J.P. Lane", "J.P. Lane"),
            ("Roberta (Bobby) Lane", "Bobby"),
            ("Roberta \"Bobby\" Lane", "Bobby"),
            ("Roberta \u{201c}Bobby\u{201d} Lane", "Bobby"),
            ("Roberta () Lane", "Roberta"),
            ("Conan O\u{2019}Hara", "Conan"),
            ("Anne-Marie Holt", "Anne-Marie"),
            ("\u{674e}\u{96ea}", "\u{674e}\u{96ea}"),
            ("", ""),
        ] {
            assert_eq!(called(name), greeting, "{name}");
        }
    }

    proptest! {
        #[test]
        fn whoever_has_a_name_is_called_something_of_it(name in "\\PC{0,30}") {
            prop_assert!(name.contains(called(&name)));
            prop_assert_eq!(called(&name).is_empty(), name.trim().is_empty(), "{}", name);
        }
    }
}
