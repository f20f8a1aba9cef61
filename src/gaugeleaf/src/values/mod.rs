//! The numbers of a handbook: the graph, which values hold where, and every value that is printed.
//! Neither Markdown nor HTML is known here.

pub mod act;
pub mod graph;
pub mod hash;
pub mod judge;
pub mod kits;
pub mod ledger;
pub mod ledger_head;
pub mod left_out;
pub mod nearest_value;
pub mod outline;
pub mod overrides;
pub mod own;
pub mod remembered;
pub mod scope;
pub mod shared;
pub mod typed;
pub mod unset;
