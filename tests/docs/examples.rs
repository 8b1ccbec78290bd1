//! What the README tells people to type.

use formats::plan_request::PlanRequest;
use planning::notation::read_day;
use planning::{DistanceUnit, Level, plan, review};

use crate::read;

#[test]
fn the_request_of_the_readme_gives_a_block_without_a_stop_or_caution() {
    let readme = read("README.md");
    let example = readme.split("<<'END'\n").nth(1).and_then(|rest| rest.split("    END").next()).unwrap();

    let request = PlanRequest::read(example).unwrap();
    let block = plan(&request.for_planning(None)).unwrap();
    let subject = review::Subject {
        block: &block,
        athlete: &request.athlete,
        week: &request.week,
        other_races: &request.other_races,
        events: &[],
        ran: None,
        clock_shift: request.clock_shift(),
        made: None,
    };

    assert_eq!(block.race.name, "Harbour Ten");
    let grave: Vec<_> = review(&subject).into_iter().filter(|finding| finding.level != Level::Note).collect();
    assert!(grave.is_empty(), "{grave:?}");
}

#[test]
fn every_line_of_a_base_week_in_the_readme_can_be_read() {
    // Wherever its lines are broken.
    let readme = read("README.md").split_whitespace().collect::<Vec<_>>().join(" ");
    let sentence = readme.split("A base week is typed").nth(1).and_then(|rest| rest.split("The squad board").next());
    let lines: Vec<&str> = sentence.unwrap().split('`').skip(1).step_by(2).collect();

    assert_eq!(lines.len(), 8);
    for line in lines {
        let slots = read_day(line, DistanceUnit::Km);
        assert!(slots.as_ref().is_ok_and(|slots| !slots.is_empty()), "{line}: {slots:?}");
    }
}
