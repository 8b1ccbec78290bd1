//! How many cases a property is tried on.

use proptest::prelude::ProptestConfig;

/// So many cases a property, or as many as `PROPTEST_CASES` says.
pub(crate) fn cases(usual: u32) -> ProptestConfig {
    let cases = if std::env::var_os("PROPTEST_CASES").is_some() { ProptestConfig::default().cases } else { usual };
    ProptestConfig { cases, ..ProptestConfig::default() }
}
