//! What is said of a race day, one idea a file.

pub mod days_out;
pub mod fuel;
pub mod heat;
pub mod kit;
pub mod morning;
pub mod stop;
pub mod warm_up;
