//! The names of things.

use planning::curve::Adjustment;
use planning::{
    DayBefore, DistanceUnit, Event, EventKind, ExtraRest, Importance, Kind, Level, Moment, RaceDistance, Shape, Unit,
};

/// The kind of a session, in the trade's words.
pub const fn kind(kind: Kind) -> &'static str {
    match kind {
        Kind::Easy => "easy",
        Kind::Recovery => "recovery",
        Kind::Steady => "steady",
        Kind::Tempo => "tempo",
        Kind::Intervals => "intervals",
        Kind::Hills => "hills",
        Kind::Fartlek => "fartlek",
        Kind::Progression => "progression",
        Kind::RacePace => "race pace",
        Kind::Long => "long run",
        Kind::Strides => "strides",
        Kind::TimeTrial => "time trial",
        Kind::CrossTraining => "cross-training",
        Kind::Strength => "strength",
        Kind::Mobility => "mobility",
        Kind::Rest => "rest",
    }
}

/// A unit in full: `kilometres`.
pub const fn unit(unit: Unit) -> &'static str {
    match unit {
        Unit::Km => "kilometres",
        Unit::Mi => "miles",
        Unit::Min => "minutes",
    }
}

/// A unit of distance in full: `kilometres`.
pub const fn distance_unit(units: DistanceUnit) -> &'static str {
    unit(units.unit())
}

/// The event whose defaults a race takes.
pub const fn event(event: Event) -> &'static str {
    match event {
        Event::FiveK => "up to 5 km",
        Event::TenK => "10 km to 10 miles",
        Event::Half => "half marathon",
        Event::Marathon => "marathon",
        Event::Longer => "longer than a marathon",
    }
}

/// A race distance: `10 km`, `half marathon`, `30 km`.
pub fn race_distance(distance: RaceDistance) -> String {
    match distance {
        RaceDistance::FiveK => "5 km".to_owned(),
        RaceDistance::TenK => "10 km".to_owned(),
        RaceDistance::TenMiles => "10 miles".to_owned(),
        RaceDistance::Half => "half marathon".to_owned(),
        RaceDistance::Marathon => "marathon".to_owned(),
        RaceDistance::Own(value, DistanceUnit::Km) => format!("{value} km"),
        RaceDistance::Own(value, DistanceUnit::Mi) if value.0 == 1000 => "1 mile".to_owned(),
        RaceDistance::Own(value, DistanceUnit::Mi) => format!("{value} miles"),
    }
}

/// How much a race matters.
pub const fn importance(importance: Importance) -> &'static str {
    match importance {
        Importance::Goal => "goal race",
        Importance::TuneUp => "tune-up race",
        Importance::TrainingThrough => "training-through race",
    }
}

/// How grave a finding is.
pub const fn level(level: Level) -> &'static str {
    match level {
        Level::Stop => "stop",
        Level::Caution => "caution",
        Level::Note => "note",
    }
}

/// The form of the curve, with what it does.
pub const fn shape(shape: Shape) -> &'static str {
    match shape {
        Shape::Ebb => "ebb: the cut deepens toward the race",
        Shape::Linear => "linear: the same fall every day",
        Shape::Step => "step: one constant cut",
        Shape::Exponential => "exponential: fast at first, then level",
    }
}

/// What the day before the race is.
pub const fn day_before(choice: DayBefore) -> &'static str {
    match choice {
        DayBefore::Auto => "as the rules say for this athlete",
        DayBefore::Rest => "rest",
        DayBefore::ShakeOut => "a short shake-out run",
    }
}

/// The extra rest day of race week.
pub const fn extra_rest(choice: ExtraRest) -> &'static str {
    match choice {
        ExtraRest::Auto => "as the rules say for this athlete",
        ExtraRest::None => "none",
        ExtraRest::On(day) => super::weekday(day),
    }
}

/// Why a block is not the event's default.
pub const fn adjustment(adjustment: Adjustment) -> &'static str {
    match adjustment {
        Adjustment::LowMileage => {
            "Less than 30 km a week (3 hours where only time is known) is little to take from: the block is at most 10 \
             days long and cuts less."
        }
        Adjustment::FewRuns => "Three runs a week or fewer: the block is at most 10 days long and cuts less.",
        Adjustment::Youth => "Under 18: the block is at most 10 days long and cuts little.",
        Adjustment::ShortMarathon => "A marathon block of 16 days or less falls by the same amount every day.",
        Adjustment::SuitsLength => "The length is the one that was noted as suiting this athlete.",
        Adjustment::SuitsDayBefore => "The day before the race is as was noted to suit this athlete.",
        Adjustment::SuitsExtraRest => "The extra rest day is the one that was noted as suiting this athlete.",
        Adjustment::DaysLeft => {
            "No more days were left when the block was made: nothing is squeezed in, and what lies behind stays as it was."
        }
        Adjustment::RaceBefore => "The race before needs its recovery, which leaves this block fewer days.",
    }
}

/// What happened in an athlete's life, as a menu says it.
pub const fn event_kind(kind: EventKind) -> &'static str {
    match kind {
        EventKind::Illness { fever: false } => "illness",
        EventKind::Illness { fever: true } => "illness with fever",
        EventKind::Injury => "injury",
        EventKind::Travel => "travel",
        EventKind::NoTime => "no time",
        EventKind::NightShift => "night shifts",
        EventKind::LowEnergy => "low-energy days",
    }
}

/// When a message is sent: `a week out`.
pub const fn moment(moment: Moment) -> &'static str {
    match moment {
        Moment::HandOver => "hand-over",
        Moment::BlockStart => "block start",
        Moment::WeekOut => "a week out",
        Moment::ThreeDaysOut => "three days out",
        Moment::DayBefore => "the day before",
        Moment::DayAfter => "the day after",
    }
}
