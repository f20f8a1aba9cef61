//! The numbers of a handbook: which values hold where.

pub mod scope;
