//! What the coach should think of because of the person.

use super::look::Look;
use super::{About, Figure, Finding, Level, RuleId};
use crate::race::Event;

/// Fires (note) for an athlete under 18, (stop) for one before a marathon or longer, and (caution) for
/// each caution that the coach noted.
///
/// # Source
///
/// No marathon under 18: International Marathon Medical Directors Association 2001 (secondary copy);
/// national rules differ, so the words send the coach to the current rule book.
pub(super) fn judge(look: &Look<'_>) -> Vec<Finding> {
    let athlete = look.subject.athlete;
    let mut found = Vec::new();
    if let Some(age) = athlete.age_in(look.block.race_day).filter(|age| *age < 18) {
        let level = if look.block.event >= Event::Marathon { Level::Stop } else { Level::Note };
        let years = Figure::Count(u16::try_from(age).unwrap_or(0));
        found.push(Finding::new(RuleId::PersonCaution, level, years, Figure::Count(18)));
    }
    found.extend(athlete.cautions.iter().filter(|caution| !caution.trim().is_empty()).map(|caution| {
        Finding::new(RuleId::PersonCaution, Level::Caution, Figure::None, Figure::None)
            .about(About::Noted(caution.trim().to_owned()))
    }));
    found
}

#[cfg(test)]
mod tests {
    use crate::athlete::Athlete;
    use crate::race::RaceDistance;
    use crate::review::RuleId;
    use crate::review::sample::{FIFTY_KM, SILENT, Sample, WEEK};

    fn aged(age: i32, distance: RaceDistance) -> Vec<String> {
        let athlete = Athlete { name: "A".into(), birth_year: Some(2027 - age), ..Athlete::default() };
        Sample::of(athlete, WEEK, distance).says(RuleId::PersonCaution)
    }

    #[test]
    fn under_18_is_noted_and_stops_from_the_marathon_up() {
        assert_eq!(aged(17, RaceDistance::FiveK), ["note: 17 for 18"]);
        assert_eq!(aged(17, RaceDistance::Half), ["note: 17 for 18"]);
        assert_eq!(aged(17, RaceDistance::Marathon), ["stop: 17 for 18"]);
        assert_eq!(aged(12, FIFTY_KM), ["stop: 12 for 18"]);
    }

    #[test]
    fn from_18_on_and_of_unknown_age_there_is_no_word() {
        assert_eq!(aged(18, RaceDistance::Marathon), SILENT);
        assert_eq!(Sample::new(WEEK, RaceDistance::Marathon).says(RuleId::PersonCaution), SILENT);
    }

    #[test]
    fn each_caution_of_the_coach_is_repeated_and_blank_ones_are_not() {
        let cautions = vec!["  calf strain ".to_owned(), "  ".to_owned(), "back from flu".to_owned()];
        let athlete = Athlete { name: "A".into(), cautions, ..Athlete::default() };
        assert_eq!(
            Sample::of(athlete, WEEK, RaceDistance::Half).says(RuleId::PersonCaution),
            ["caution: nothing for nothing (calf strain)", "caution: nothing for nothing (back from flu)"]
        );
    }
}
