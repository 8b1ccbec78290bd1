//! Where the line of a course comes from.

/// Whether somebody ran it or planned it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LineShape {
    /// What a device recorded or an organiser drew point by point.
    Track,
    /// The turning points of a plan.
    Route,
}

impl LineShape {
    /// Every shape.
    pub const ALL: [Self; 2] = [Self::Track, Self::Route];

    /// The name in files: `track`, `route`.
    pub const fn code(self) -> &'static str {
        match self {
            Self::Track => "track",
            Self::Route => "route",
        }
    }

    /// The shape with this code.
    pub fn from_code(code: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|shape| shape.code() == code)
    }
}
