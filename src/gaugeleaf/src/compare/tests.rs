//! Comparisons of small ledgers.
