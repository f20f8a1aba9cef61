//! The kinds of block, one a file.

pub mod attachment;
pub mod calculator_fence;
pub mod chart;
pub mod checks;
pub mod emergency;
pub mod field_view;
pub mod figure;
pub mod found;
pub mod glossary;
pub mod head;
pub mod job_form;
pub mod keys;
pub mod question;
pub mod register;
pub mod registry;
pub mod role;
pub mod rounds;
pub mod setup_sheet;
pub mod sweep;
pub mod task;
pub mod test_page;
pub mod tube_map;
pub mod walk;
pub mod widget;
