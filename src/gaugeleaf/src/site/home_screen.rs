//! What a phone is told that puts the handbook on its home screen.

use serde_json::json;

use crate::handbook::whole::Handbook;

/// The web app manifest. Its addresses are told from its own, the site's root.
pub fn manifest(handbook: &Handbook) -> Vec<u8> {
    let icon = |src: &str, sizes: &str, kind: &str, purpose: &str| json!({ "src": format!("icons/{src}"), "sizes": sizes, "type": kind, "purpose": purpose });
    let manifest = json!({
        "name": handbook.title,
        "short_name": handbook.short.as_ref().unwrap_or(&handbook.title),
        "description": handbook.subtitle,
        "lang": handbook.language,
        "start_url": "index.html",
        "scope": "./",
        "display": "standalone",
        "background_color": "#ffffff",
        "theme_color": "#0b5560",
        "icons": [
            icon("handbook.svg", "any", "image/svg+xml", "any"),
            icon("handbook-192.png", "192x192", "image/png", "any"),
            icon("handbook-512.png", "512x512", "image/png", "any"),
            icon("handbook-maskable.png", "512x512", "image/png", "maskable"),
        ],
    });
    let mut text = serde_json::to_vec_pretty(&manifest).unwrap_or_default();
    text.push(b'\n');
    text
}
