//! Pages through the theme into files. The only room that knows templates.

pub mod bounds;
pub mod context;
pub mod copy;
pub mod edition;
pub mod embed;
pub mod files;
pub mod print;
mod published;
pub mod renderer;
mod say;
pub mod small;
pub mod theme;
mod view;
mod worded;
mod words;
