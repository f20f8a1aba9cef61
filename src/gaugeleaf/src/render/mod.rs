//! Pages through the theme into files. The only room that knows templates.

pub mod carry;
pub mod context;
pub mod edition;
pub mod files;
pub mod press;
pub mod print;
pub mod theme;
mod words;
