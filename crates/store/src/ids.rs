//! Row ids as types of their own, and the version that a form was read at.

use std::fmt;

macro_rules! id {
    ($name:ident, $doc:literal) => {
        #[doc = $doc]
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize, serde::Deserialize)]
        #[serde(transparent)]
        pub struct $name(pub i64);

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                self.0.fmt(f)
            }
        }

        impl From<$name> for i64 {
            fn from(id: $name) -> Self {
                id.0
            }
        }
    };
}

id!(AthleteId, "An athlete.");
id!(RaceId, "A race of the squad's calendar.");
id!(BlockId, "A taper block: one athlete, one race.");
id!(EventId, "Something that happened to an athlete.");
id!(DoneId, "A session that was run.");
id!(ShareId, "A link that shows one block to its athlete.");
id!(TemplateId, "A template of a base week.");
id!(StepId, "One press that changed many athletes.");
id!(Version, "Counts the saves of a record: a save with an old version is a conflict.");
