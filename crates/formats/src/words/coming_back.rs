//! How the running comes back after a race, or after one was not run. For the coach alone.

use planning::timeline::Phase;

/// What a day stands under: `recovery after River Half until Mon 26 Apr`.
pub fn coming_back(phase: Phase, race: &str, until: &str) -> String {
    match phase {
        Phase::Recovery => format!("recovery after {race} until {until}"),
        Phase::Return => format!("running comes back until {until}, as {race} is not run"),
        _ => format!("running comes back after {race} until {until}"),
    }
}

/// The same where the usual running is said: `recovery until Mon 26 Apr`.
pub fn coming_back_reservation(phase: Phase, until: &str) -> String {
    match phase {
        Phase::Recovery => format!("recovery until {until}"),
        _ => format!("running comes back until {until}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_way_back_is_told_from_the_others() {
        let said = [Phase::Recovery, Phase::Bridge, Phase::Return].map(|phase| coming_back(phase, "River", "Sunday"));
        assert_eq!(
            said,
            [
                "recovery after River until Sunday",
                "running comes back after River until Sunday",
                "running comes back until Sunday, as River is not run"
            ]
        );
        assert_eq!(coming_back_reservation(Phase::Recovery, "Sunday"), "recovery until Sunday");
        assert_eq!(coming_back_reservation(Phase::Return, "Sunday"), "running comes back until Sunday");
    }
}
