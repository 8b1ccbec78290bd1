//! What is to be done on each of the last three days.

/// What to do so many days before the race, besides the day's running; nothing on other days. Whether
/// stores are filled decides what is said of food.
pub const fn days_out(days: u16, fills_stores: bool) -> &'static str {
    match (days, fills_stores) {
        (3, _) => "Lay out what you will wear and take, try it on once, and look up how you get to the start.",
        (2, true) => "Fill the stores from now on, in meals that you know. The coming night is the one that counts.",
        (2, false) => "Eat as usual. The coming night is the one that counts.",
        (1, true) => {
            "Go on filling the stores; an early supper. Pack the bag, put out shoes and number, set two alarms."
        }
        (1, false) => "An early supper that you know. Pack the bag, put out shoes and number, set two alarms.",
        _ => "",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_last_three_days_have_each_their_own() {
        for fills in [true, false] {
            let said = [3, 2, 1].map(|days| days_out(days, fills));
            assert!(said.iter().all(|text| !text.is_empty()) && said[0] != said[1] && said[1] != said[2]);
            assert_eq!((days_out(4, fills), days_out(0, fills)), ("", ""));
            assert_eq!(said.join(" ").contains("stores"), fills);
        }
    }
}
