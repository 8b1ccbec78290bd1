//! The documents keep to the truth: what they name exists, and their examples run.

mod names;
