//! Pages through the theme into files. The only room that knows templates.

pub mod bind;
pub mod carry;
pub mod context;
pub mod files;
pub mod press;
pub mod theme;
