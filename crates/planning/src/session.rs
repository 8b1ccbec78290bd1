//! One piece of training.

use crate::notation::{STRIDES, fitted, has_word, in_note, jogged_in, rests_alone};
use crate::note::{self, Paces};
use crate::problem::ProblemKind;
use crate::units::{Amount, DistanceUnit, Milli, Pace, Share, Unit, from_km, in_km, middle_km};

/// What kind of session it is, in the trade's words.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[expect(missing_docs, reason = "the trade's own words")]
pub enum Kind {
    Easy,
    Recovery,
    Steady,
    Tempo,
    Intervals,
    Hills,
    Fartlek,
    Progression,
    RacePace,
    Long,
    Strides,
    TimeTrial,
    CrossTraining,
    Strength,
    Mobility,
    /// No training: a day of rest that carries the coach's words, "rest (physio)". See [`Session::rest_with`].
    Rest,
}

impl Kind {
    /// Every kind of training, in the order of menus; [`Kind::Rest`] is none.
    pub const ALL: [Self; 15] = [
        Self::Easy,
        Self::Recovery,
        Self::Steady,
        Self::Tempo,
        Self::Intervals,
        Self::Hills,
        Self::Fartlek,
        Self::Progression,
        Self::RacePace,
        Self::Long,
        Self::Strides,
        Self::TimeTrial,
        Self::CrossTraining,
        Self::Strength,
        Self::Mobility,
    ];

    /// The name in files and forms: `race-pace`, `time-trial`.
    pub const fn code(self) -> &'static str {
        match self {
            Self::Easy => "easy",
            Self::Recovery => "recovery",
            Self::Steady => "steady",
            Self::Tempo => "tempo",
            Self::Intervals => "intervals",
            Self::Hills => "hills",
            Self::Fartlek => "fartlek",
            Self::Progression => "progression",
            Self::RacePace => "race-pace",
            Self::Long => "long",
            Self::Strides => "strides",
            Self::TimeTrial => "time-trial",
            Self::CrossTraining => "cross-training",
            Self::Strength => "strength",
            Self::Mobility => "mobility",
            Self::Rest => "rest",
        }
    }

    /// The kind of training with this [`code`](Self::code).
    pub fn from_code(code: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.code() == code)
    }

    /// Whether its amount is running.
    pub const fn is_running(self) -> bool {
        !matches!(self, Self::CrossTraining | Self::Strength | Self::Mobility | Self::Rest)
    }

    /// The part of the session that is taken as hard where no hard part is given; nothing for kinds
    /// that are not hard.
    ///
    /// # Source
    ///
    /// Common practice, no published source. Shown to the coach as an assumption.
    pub const fn assumed_hard(self) -> Option<Share> {
        match self {
            Self::Intervals | Self::Fartlek => Some(Share(0.40)),
            Self::Tempo | Self::RacePace => Some(Share(0.50)),
            Self::Hills | Self::Progression => Some(Share(0.30)),
            Self::TimeTrial => Some(Share(0.60)),
            _ => None,
        }
    }

    /// How near to racing on the flat a hard session of this kind is: smaller is nearer.
    ///
    /// Chooses among alternatives in a slot.
    ///
    /// # Source
    ///
    /// Common practice, no published source.
    pub(crate) const fn distance_from_racing(self) -> u8 {
        match self {
            Self::RacePace => 0,
            Self::Tempo => 1,
            Self::Intervals => 2,
            Self::Progression => 3,
            Self::Fartlek => 4,
            Self::Steady => 5,
            Self::Long => 6,
            Self::Strides => 7,
            Self::Easy => 8,
            Self::Recovery => 9,
            Self::Hills => 10,
            Self::TimeTrial => 11,
            Self::CrossTraining => 12,
            Self::Strength => 13,
            Self::Mobility => 14,
            Self::Rest => 15,
        }
    }
}

/// The unit of one repetition.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum SetUnit {
    /// Metres.
    M,
    /// Kilometres.
    Km,
    /// Miles.
    Mi,
    /// Seconds.
    S,
    /// Minutes.
    Min,
}

impl SetUnit {
    /// Every unit, distance first.
    pub const ALL: [Self; 5] = [Self::M, Self::Km, Self::Mi, Self::S, Self::Min];

    /// The name in text and files: `m`, `km`, `mi`, `s`, `min`.
    pub const fn symbol(self) -> &'static str {
        match self {
            Self::M => "m",
            Self::Km => "km",
            Self::Mi => "mi",
            Self::S => "s",
            Self::Min => "min",
        }
    }
}

/// The inside of a hard session: repetitions of one length.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sets {
    /// How many, 1 to [`Sets::MOST`].
    pub reps: u16,
    /// The length of one, in `unit`; above zero.
    pub length: Milli,
    /// The unit of the length.
    pub unit: SetUnit,
    /// A pace word as the coach says it (`10k pace`, `threshold`), or empty.
    pub pace: String,
    /// The recovery as the coach says it (`90 s jog`), or empty.
    pub recovery: String,
}

impl Sets {
    /// The most repetitions that are kept.
    pub const MOST: u16 = 100;
    /// The most lines of repetitions in one session.
    pub const MOST_IN_SESSION: usize = 12;
    /// The longest pace word and the longest recovery, in characters.
    pub const WORDS_MOST: usize = 80;

    /// The longest repetition; above that it is a slip of the pen.
    pub const fn longest(unit: SetUnit) -> Milli {
        match unit {
            SetUnit::M => Milli::whole(100_000),
            SetUnit::Km | SetUnit::Mi => Milli::whole(100),
            SetUnit::S => Milli::whole(36_000),
            SetUnit::Min => Milli::whole(600),
        }
    }

    /// Everything that is wrong with the repetitions as typed.
    pub fn problems(&self) -> Vec<ProblemKind> {
        let mut found = Vec::new();
        if self.reps == 0 || self.reps > Self::MOST {
            found.push(ProblemKind::SetsOutOfRange { reps: self.reps, most: Self::MOST });
        }
        let most = Self::longest(self.unit);
        if self.length <= Milli::ZERO || self.length > most {
            found.push(ProblemKind::RepetitionOutOfRange { length: self.length, most, unit: self.unit });
        }
        for words in [&self.pace, &self.recovery] {
            let length = words.chars().count();
            if length > Self::WORDS_MOST {
                found.push(ProblemKind::TooLong { length, most: Self::WORDS_MOST });
            }
        }
        found
    }

    /// Whether they are strides, which nobody counts as hard running: by their words whatever the session, by their length
    /// inside an easy one, and short sprints uphill.
    ///
    /// # Source
    ///
    /// Common practice, no published source.
    pub fn are_strides_in(&self, kind: Kind) -> bool {
        let (metres, seconds) = match kind {
            Kind::Easy | Kind::Recovery | Kind::Steady | Kind::Long | Kind::Strides => (120, 20),
            Kind::Hills => (0, 12),
            _ => (0, 0),
        };
        let is_short = || match self.unit {
            SetUnit::M => self.length <= Milli::whole(metres),
            SetUnit::S => self.length <= Milli::whole(seconds),
            SetUnit::Km | SetUnit::Mi | SetUnit::Min => false,
        };
        is_short() || has_word(&self.pace, &STRIDES)
    }

    /// The running of all repetitions together in the unit of a session, where that needs no pace:
    /// distance for distance, minutes for minutes.
    pub(crate) fn total_in(&self, unit: Unit) -> Option<Milli> {
        let reps = i64::from(self.reps);
        let length = i64::from(self.length.0);
        let millimetres = match self.unit {
            SetUnit::M => length,
            SetUnit::Km => length * DistanceUnit::Km.millimetres() / 1000,
            SetUnit::Mi => length * DistanceUnit::Mi.millimetres() / 1000,
            SetUnit::S if unit == Unit::Min => return Some(Milli((reps * length / 60) as i32)),
            SetUnit::Min if unit == Unit::Min => return Some(Milli((reps * length) as i32)),
            SetUnit::S | SetUnit::Min => return None,
        };
        let per_unit = match unit {
            Unit::Km => DistanceUnit::Km.millimetres(),
            Unit::Mi => DistanceUnit::Mi.millimetres(),
            Unit::Min => return None,
        };
        Some(Milli((reps as f64 * millimetres as f64 * 1000.0 / per_unit as f64).round() as i32))
    }

    /// The same where it needs a pace: at [`Pace::ASSUMED_HARD`].
    pub(crate) fn reckoned_in(&self, unit: Unit) -> Milli {
        self.reckoned_at(unit, Pace::ASSUMED_HARD)
    }

    /// The same where it needs a pace: at this one.
    pub(crate) fn reckoned_at(&self, unit: Unit, pace: Pace) -> Milli {
        let reckoned = || {
            let known = [Unit::Km, Unit::Min].into_iter().find_map(|known| Some((self.total_in(known)?, known)));
            known.map(|(total, known)| from_km(in_km(total, known, pace), unit, pace))
        };
        self.total_in(unit).or_else(reckoned).unwrap_or(Milli::ZERO)
    }
}

/// Whether an amount is what time trials usually are over: from a mile to 10 km, or 12, 20 or 30 minutes. More than
/// that holds a warm-up and a cool-down, as does anything between.
///
/// # Source
///
/// Common practice, no published source.
fn is_usually_raced(amount: Amount) -> bool {
    let usual: &[i32] = match amount.unit() {
        Unit::Km => &[1500, 1600, 1609, 2000, 3000, 3200, 3219, 5000, 8000, 8047, 10_000],
        Unit::Mi => &[1000, 2000, 3000, 3100, 3107, 5000, 6200, 6214],
        Unit::Min => &[12_000, 20_000, 30_000],
    };
    amount.low() == amount.high() && usual.contains(&amount.middle().0)
}

/// One piece of training: what, how much, how much of it hard, and what is inside.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Session {
    /// What kind.
    pub kind: Kind,
    /// How much; always there for running, may be missing for the rest.
    pub amount: Option<Amount>,
    /// How much of it is hard, in the unit of the amount; see [`Session::hard_middle`] for where none is given.
    pub hard: Option<Amount>,
    /// The inside of a hard session; may be empty.
    pub sets: Vec<Sets>,
    /// Strength with loaded legs.
    pub loaded: bool,
    /// The coach's own words; may be empty.
    pub note: String,
}

impl Session {
    /// The longest note, in characters.
    pub const NOTE_MOST: usize = 300;

    /// A session of a kind and an amount, nothing else said.
    pub const fn new(kind: Kind, amount: Amount) -> Self {
        Self { kind, amount: Some(amount), hard: None, sets: Vec::new(), loaded: false, note: String::new() }
    }

    /// The running in it: nothing for strength, mobility and cross-training.
    pub fn running(&self) -> Option<Amount> {
        self.amount.filter(|_| self.kind.is_running())
    }

    /// The middle of the running, 0 where there is none.
    pub fn running_middle(&self) -> Milli {
        self.running().map_or(Milli::ZERO, Amount::middle)
    }

    /// The middle of the running in kilometres, minutes converted by the pace; 0 where there is none.
    pub fn running_km(&self, pace: Pace) -> f64 {
        self.running().map_or(0.0, |amount| middle_km(amount, pace))
    }

    /// The hard part in the unit of the session: as given, else from the sets, which may need a pace to be told in that
    /// unit, else the kind's assumed share; nothing where the session is not hard.
    pub fn hard_part(&self) -> Option<Amount> {
        if let Some(hard) = self.hard {
            return (hard.high() > Milli::ZERO).then_some(hard);
        }
        let amount = self.amount?;
        if self.is_raced_whole() {
            return Some(amount);
        }
        if !self.holds_hard_sets() {
            // Strides beside a tempo run say nothing of the tempo; where they are all that is repeated, they are the session.
            let is_repeated = matches!(self.kind, Kind::Intervals | Kind::Fartlek | Kind::Hills);
            let share = self.kind.assumed_hard().filter(|_| !(is_repeated && self.holds_strides()))?;
            return Some(Amount::exact(amount.middle().times(share), amount.unit()));
        }
        let total: Milli = self.hard_sets().map(|sets| sets.reckoned_in(amount.unit())).sum();
        Some(Amount::exact(total.min(amount.middle()), amount.unit()))
    }

    /// A day of rest with words, "rest (physio)", "rest (swim if legs heavy)". It stands alone on its day: a day of rest
    /// without words has no session at all, and where anything else is done the words go, see [`Session::without_rest`].
    pub fn rest_with(words: &str) -> Self {
        let note = words.to_owned();
        Self { kind: Kind::Rest, amount: None, hard: None, sets: Vec::new(), loaded: false, note }
    }

    /// The words where it is a day of rest.
    pub fn rest_words(&self) -> Option<&str> {
        (self.kind == Kind::Rest).then_some(self.note.as_str())
    }

    /// Takes the words beside rest off a day on which something else is done.
    pub(crate) fn without_rest<T>(day: &mut Vec<T>, session: impl Fn(&T) -> &Self) {
        if day.iter().any(|one| session(one).kind != Kind::Rest) {
            day.retain(|one| session(one).kind != Kind::Rest);
        }
    }

    /// The hard part as it is said: that of a run in kilometres is 25 min where its repetitions are minutes.
    pub fn hard_as_said(&self) -> Option<Amount> {
        let reckoned = self.hard_part()?;
        if self.hard.is_some() || !self.holds_hard_sets() {
            return Some(reckoned);
        }
        let sum = |unit| self.hard_sets().map(|sets| sets.total_in(unit)).sum::<Option<Milli>>();
        let other = if reckoned.unit() == Unit::Min { Unit::Km } else { Unit::Min };
        match (sum(reckoned.unit()), sum(other)) {
            (None, Some(total)) => Some(Amount::exact(total, other)),
            _ => Some(reckoned),
        }
    }

    /// The repetitions that are hard running.
    fn hard_sets(&self) -> impl Iterator<Item = &Sets> {
        self.sets.iter().filter(|sets| !sets.are_strides_in(self.kind))
    }

    /// What is jogged between its hard repetitions as their rest tells it, and how much of that is one jog for each line of
    /// them, as behind the last repetition there is none; in the unit of the session.
    pub(crate) fn jogs(&self) -> (Milli, Milli) {
        let unit = self.amount.map_or(Unit::Km, Amount::unit);
        let several = self.hard_sets().filter(|sets| sets.reps > 1);
        let jogs = several.map(|sets| {
            let all = jogged_in(sets, unit);
            (all, Milli(all.0 / (i32::from(sets.reps) - 1)))
        });
        jogs.fold((Milli::ZERO, Milli::ZERO), |sum, (all, one)| (sum.0 + all, sum.1 + one))
    }

    /// Whether repetitions say how much of it is hard.
    pub fn holds_hard_sets(&self) -> bool {
        self.hard_sets().next().is_some()
    }

    /// Whether strides are among its repetitions.
    pub fn holds_strides(&self) -> bool {
        self.sets.iter().any(|sets| sets.are_strides_in(self.kind))
    }

    /// Whether it is a time trial over a distance or a time that is usually raced, and nothing else is said: nobody
    /// counts the way there and back into a "5 km time trial".
    pub fn is_raced_whole(&self) -> bool {
        let is_alone = self.hard.is_none() && self.sets.is_empty() && self.note.is_empty();
        self.kind == Kind::TimeTrial && is_alone && self.amount.is_some_and(is_usually_raced)
    }

    /// Whether the hard part is an assumption of ours rather than the coach's word.
    pub fn hard_is_assumed(&self) -> bool {
        self.hard.is_none()
            && !self.is_raced_whole()
            && self.hard_part().is_some()
            && self.amount.is_some_and(|amount| {
                !self.holds_hard_sets() || self.hard_sets().any(|sets| sets.total_in(amount.unit()).is_none())
            })
    }

    /// The middle of the hard part, 0 where there is none.
    pub fn hard_middle(&self) -> Milli {
        self.hard_part().map_or(Milli::ZERO, Amount::middle)
    }

    /// Whether it holds hard running (a long run with a hard part does).
    pub fn is_hard(&self) -> bool {
        self.kind.is_running() && self.hard_middle() > Milli::ZERO
    }

    /// The hard running in it: nothing where there is none.
    pub fn hard_running(&self) -> Option<Amount> {
        self.hard_part().filter(|hard| self.kind.is_running() && hard.middle() > Milli::ZERO)
    }

    /// Whether it holds hard work, run or in cross-training: what counts where hard days are kept few and apart.
    pub fn is_hard_work(&self) -> bool {
        self.is_hard() || (self.kind == Kind::CrossTraining && self.hard_middle() > Milli::ZERO)
    }

    /// Whether what is hard in it is no more than a touch: it wakes the legs, and costs next to nothing.
    ///
    /// # Source
    ///
    /// Common practice, no published source: five minutes, or 1.2 km.
    pub fn is_hard_by_a_touch(&self) -> bool {
        let most = |unit| match unit {
            Unit::Km => Milli(1200),
            Unit::Mi => Milli(750),
            Unit::Min => Milli(5000),
        };
        self.is_hard_work() && self.hard_as_said().is_some_and(|hard| hard.middle() <= most(hard.unit()))
    }

    /// Whether it is a run that the coach's words leave to the athlete: "optional", "or off", "if time".
    pub fn is_optional(&self) -> bool {
        self.kind.is_running() && note::is_optional(&self.note)
    }

    /// The pieces of the note in the order in which the session is run: what gets warm before its hard part, what is neither,
    /// what cools down behind it. `2 km wu, on the track, 2 km cd` is one of each.
    pub fn note_as_run(&self) -> [Vec<&str>; 3] {
        crate::notation::as_run(&self.note)
    }

    /// How much warm-up and cool-down the note tells, in the unit of the session; 0 where it tells none.
    pub(crate) fn warm_up_and_cool_down(&self) -> Milli {
        self.amount.map_or(Milli::ZERO, |amount| in_note(&self.note, amount.unit()))
    }

    /// Lets the warm-up and the cool-down that the note of a usual session tells be no longer than this one has room
    /// for, where it is no longer as long or as hard. What is run between repetitions goes with them. What the note says
    /// of the last kilometres or minutes stays the same share of the run, and the name of a length goes with it.
    pub(crate) fn keep_note_true(&mut self, usual: &Self) {
        let is_as_usual = (self.amount, self.hard, &self.sets) == (usual.amount, usual.hard, &usual.sets);
        if self.note == usual.note
            && !is_as_usual
            && let Some(amount) = usual.amount
        {
            let unit = amount.unit();
            let whole = in_note(&self.note, unit);
            let (hard, usual_hard) = (self.hard_middle(), usual.hard_middle());
            let between = (amount.middle() - usual_hard - whole).max(Milli::ZERO);
            let between = between.times(Share(hard.as_f64() / usual_hard.as_f64().max(0.001)));
            let now = self.amount.filter(|now| now.unit() == unit).map_or(Milli::ZERO, Amount::low);
            self.note = fitted(&self.note, unit, now - hard - between);
        }
        if let Some((now, before)) = self.amount.zip(usual.amount) {
            self.note = note::in_proportion(&self.note, &usual.note, before, now);
            self.note = note::without_length(&self.note, before, now);
            let is_less_hard = self.hard_middle() < usual.hard_middle();
            if now.middle() < before.middle() || is_less_hard {
                let paces = match () {
                    () if self.sets.iter().any(|sets| !sets.pace.is_empty()) => Paces::Repetitions,
                    () if usual.is_hard() => Paces::HardPart,
                    () => Paces::Whole(before),
                };
                // "2' easy" is the rest between repetitions.
                let is_rest = |piece: &str| !self.sets.is_empty() && !rests_alone(piece).is_empty();
                let stays = |piece: &str| in_note(piece, before.unit()) > Milli::ZERO || is_rest(piece);
                self.note = note::without_amounts(&self.note, paces, stays);
            }
        }
    }

    /// Whether it is what another one is, longer or shorter: of the same kind, and hard and loaded where that is.
    pub fn is_of_the_sort_of(&self, other: &Self) -> bool {
        self.kind == other.kind && self.is_hard_work() == other.is_hard_work() && self.loaded == other.loaded
    }

    /// Everything that is wrong with the session as typed.
    pub fn problems(&self) -> Vec<ProblemKind> {
        let mut found: Vec<ProblemKind> = self.sets.iter().flat_map(Sets::problems).collect();
        if self.sets.len() > Sets::MOST_IN_SESSION {
            found.push(ProblemKind::TooManySets { count: self.sets.len(), most: Sets::MOST_IN_SESSION });
        }
        let sets_add_up = found.is_empty();
        let timed_only = matches!(self.kind, Kind::Strength | Kind::Mobility | Kind::Rest);
        match self.amount {
            None if self.kind.is_running() => found.push(ProblemKind::AmountMissing { kind: self.kind }),
            Some(amount) if self.kind.is_running() && amount.high() == Milli::ZERO => {
                found.push(ProblemKind::ZeroAmount { kind: self.kind });
            }
            Some(amount) if timed_only && amount.unit() != Unit::Min => {
                found.push(ProblemKind::AmountNotInMinutes { kind: self.kind, unit: amount.unit() });
            }
            _ => {}
        }
        if let Some(hard) = self.hard {
            match self.amount {
                _ if timed_only => found.push(ProblemKind::HardNotAllowed { kind: self.kind }),
                Some(amount) if amount.unit() != hard.unit() => {
                    found.push(ProblemKind::HardInOtherUnit { hard: hard.unit(), amount: amount.unit() });
                }
                Some(amount) if hard.high() > amount.high() || hard.low() > amount.low() => {
                    found.push(ProblemKind::HardAboveAmount {
                        hard: hard.high(),
                        amount: amount.high(),
                        unit: amount.unit(),
                    });
                }
                _ => {}
            }
        } else if let Some(amount) = self.amount.filter(|_| sets_add_up) {
            let total: Option<Milli> = self.sets.iter().map(|sets| sets.total_in(amount.unit())).sum();
            if let Some(total) = total.filter(|total| *total > amount.high()) {
                found.push(ProblemKind::HardAboveAmount { hard: total, amount: amount.high(), unit: amount.unit() });
            }
        }
        let length = self.note.chars().count();
        if length > Self::NOTE_MOST {
            found.push(ProblemKind::TooLong { length, most: Self::NOTE_MOST });
        }
        found
    }
}
