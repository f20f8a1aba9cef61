//! The least that a generator of sites does: reads every page, turns its Markdown into HTML, fills
//! one small template, and writes one file. What a publish is held against. As a publish that is
//! whole or not at all has to, it has every page before it writes the first.
//!
//! `floor HANDBOOK TARGET`

use std::path::Path;
use std::{env, error, fs};

use pulldown_cmark::{Options, Parser, html};
use tera::{Context, Tera};

const TEMPLATE: &str = "<!doctype html>\n<html lang=\"en\"><head><meta charset=\"utf-8\">\
    <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"><title>{{ title }}</title>\
    <link rel=\"stylesheet\" href=\"../handbook.css\"></head>\n<body><header><p>{{ book }}, \
    revision {{ revision }}</p></header>\n<main>{{ content | safe }}</main>\n<footer>{{ caution }}\
    </footer></body></html>\n";

fn main() -> Result<(), Box<dyn error::Error>> {
    let arguments: Vec<String> = env::args().skip(1).collect();
    let [from, to] = arguments.as_slice() else {
        return Err("floor HANDBOOK TARGET".into());
    };
    let content = Path::new(from).join("content");
    let mut templates = Tera::default();
    templates.add_raw_template("page.html", TEMPLATE)?;
    let mut texts = Vec::new();
    for entry in walkdir::WalkDir::new(&content) {
        let entry = entry?;
        if entry.path().extension().is_none_or(|ending| ending != "md") {
            continue;
        }
        let inside = entry.path().strip_prefix(&content)?.with_extension("html");
        texts.push((
            Path::new(to).join(inside),
            fs::read_to_string(entry.path())?,
        ));
    }
    let mut pages = Vec::new();
    for (at, text) in &texts {
        let mut body = String::with_capacity(text.len() * 2);
        html::push_html(&mut body, Parser::new_ext(text, Options::ENABLE_TABLES));
        let mut context = Context::new();
        let title = text.lines().find_map(|line| line.strip_prefix("# "));
        context.insert("title", title.unwrap_or_default());
        context.insert("book", "A large yard");
        context.insert("revision", "1");
        context.insert("caution", "Nobody works by it.");
        context.insert("content", &body);
        pages.push((at, templates.render("page.html", &context)?));
    }
    for (at, page) in pages {
        if let Some(folder) = at.parent() {
            fs::create_dir_all(folder)?;
        }
        fs::write(at, page)?;
    }
    Ok(())
}
