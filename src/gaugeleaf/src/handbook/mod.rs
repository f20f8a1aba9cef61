//! A handbook as it lies on disk: its files, its phases and pages, the words of its trade. No
//! calculator is known here.

pub mod addresses;
pub mod answered;
pub mod emergency;
pub mod file_kinds;
pub mod files;
pub mod folders;
pub mod history;
pub mod kind;
pub mod offered;
pub mod outline;
pub mod page;
pub mod pages;
pub mod phases;
pub mod places;
pub mod targets;
pub mod unused;
pub mod walk;
pub mod whole;
pub mod words;
