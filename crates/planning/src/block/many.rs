//! The blocks of many athletes in one call.

use rayon::prelude::*;

use super::{Block, Request, plan};
use crate::problem::Problem;

/// So few blocks are planned faster than they are handed to another core.
const AT_ONCE: usize = 16;

/// Plans many blocks, on every core that is free.
///
/// The answers stand in the order of the requests, and each is what [`plan`] says of its request: what is
/// wrong with one athlete's stops no other.
pub fn plan_many(requests: &[Request<'_>]) -> Vec<Result<Block, Vec<Problem>>> {
    requests.par_iter().with_min_len(AT_ONCE).map(plan).collect()
}
