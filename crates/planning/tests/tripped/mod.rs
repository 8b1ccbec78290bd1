//! What the review says against a block that nobody bent.

use planning::review::Subject;
use planning::{Block, Finding, Level, RuleId, review};

use crate::weeks::Runner;

/// Rules that speak about the athlete and the calendar, whatever the block.
const ABOUT_THE_ATHLETE: [RuleId; 4] =
    [RuleId::BaseTooThin, RuleId::DistanceUntrained, RuleId::PersonCaution, RuleId::RacesClash];

/// What the review says of a default block, but for notes and for what it says of the athlete.
pub(crate) fn tripped(runner: &Runner, block: &Block) -> Vec<Finding> {
    let subject = Subject::new(block, &runner.athlete, &runner.week);
    let is_about_the_block =
        |finding: &Finding| finding.level != Level::Note && !ABOUT_THE_ATHLETE.contains(&finding.rule);
    review(&subject).into_iter().filter(is_about_the_block).collect()
}
