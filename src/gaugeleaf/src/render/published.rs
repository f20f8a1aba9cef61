//! Which files of the theme are published by themselves, and as what.

/// Styles that few pages need, each published as a file of its own.
pub const STYLES_APART: &str = "styles/apart/";

/// What holds a published site on a phone. It lies at the site's root, since a browser lets it answer
/// for what lies beneath it alone; the edition that knows the site's files writes it.
pub const WORKER: &str = "scripts/worker.js";

/// The handbook's sign, as a phone's home screen shows it.
pub const ICONS: &str = "icons/";

/// The engine's parts, and the names under which scripts carry them.
pub const ENGINE: [(&str, &str); 3] = [
    ("engine/calculators.wasm.gz", "engine"),
    ("engine/search.wasm.gz", "search-engine"),
    ("engine/share.wasm.gz", "share-engine"),
];

/// What scripts call the part of the engine that this file holds.
pub fn engine_name(path: &str) -> Option<&'static str> {
    let mut parts = ENGINE.iter();
    parts
        .find(|(engine, _)| *engine == path)
        .map(|(_, name)| *name)
}

/// Where a file of the theme is published by itself, if it is.
pub fn published(path: &str) -> Option<String> {
    match path.strip_prefix(STYLES_APART) {
        Some(name) => Some(format!("styles/{name}")),
        None if path == WORKER => None,
        None if is_script(path) || path.starts_with(ICONS) => Some(path.to_string()),
        None => Some(format!("scripts/{}.js", engine_name(path)?)),
    }
}

pub fn is_script(path: &str) -> bool {
    path.starts_with("scripts/") && path.ends_with(".js")
}
