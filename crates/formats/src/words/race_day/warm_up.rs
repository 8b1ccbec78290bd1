//! The warm-up in a sentence or two.

use planning::warm_up::WarmUp;

/// What to do to get warm.
pub fn warm_up(warm_up: &WarmUp) -> String {
    let range = |(least, most): (u8, u8)| format!("{least}\u{2013}{most}");
    let easy = match warm_up.easy {
        (0, most) => format!("Walk, or jog up to {most} minutes"),
        easy => format!("{} minutes easy", range(easy)),
    };
    let brisk =
        warm_up.brisk.map(|brisk| format!("{} minutes near the pace that you could hold for an hour", range(brisk)));
    let strides = warm_up.strides.map(|strides| format!("{} short strides", range(strides)));
    let parts: Vec<String> = [Some(easy), brisk, strides].into_iter().flatten().collect();
    let heat = if warm_up.is_shortened { " It is shorter because of the heat: stay in the shade." } else { "" };
    format!("{}; done {} minutes before the start, and then keep moving.{heat}", parts.join(", "), range(warm_up.over))
}

#[cfg(test)]
mod tests {
    use planning::Event;

    use super::*;

    #[test]
    fn each_event_has_its_words() {
        let said = |event, is_warm| warm_up(&planning::warm_up::warm_up(event, is_warm));
        assert_eq!(
            said(Event::TenK, false),
            "10\u{2013}20 minutes easy, 2\u{2013}4 minutes near the pace that you could hold for an hour, 3\u{2013}5 short \
             strides; done 5\u{2013}15 minutes before the start, and then keep moving."
        );
        assert_eq!(
            said(Event::Half, true),
            "2\u{2013}7 minutes easy, 2\u{2013}3 short strides; done 5\u{2013}15 minutes before the start, and then keep \
             moving. It is shorter because of the heat: stay in the shade."
        );
        assert_eq!(
            said(Event::Marathon, false),
            "Walk, or jog up to 10 minutes; done 5\u{2013}15 minutes before the start, and then keep moving."
        );
    }
}
