//! Race week: the seven days that end with the race.

/// How many days before the race its week begins.
///
/// # Source
///
/// A convention of ours, no published source: weeks are counted back from race day.
pub(crate) const BEGINS: u16 = 6;

/// Whether so many days before the race lie in its week, race day among them.
pub(crate) const fn holds(to_race: u16) -> bool {
    to_race <= BEGINS
}

/// The same of the days before the race alone: those on which there is something to plan.
pub(crate) const fn leads_up(to_race: u16) -> bool {
    to_race > 0 && holds(to_race)
}
