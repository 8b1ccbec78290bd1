//! A base week and its block for the tests of the rules.
