//! Race day of one block.

mod estimates;

pub(crate) use estimates::EstimatesView;
