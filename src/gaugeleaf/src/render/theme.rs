//! The theme: templates, styles, scripts and the compiled engine.
//!
//! The built-in theme travels inside the program; a handbook's own `themes/` adds
//! to it or replaces it file by file.

use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;
use std::sync::{Mutex, PoisonError};

use gaugeleaf_calc::finding::{Code, Finding};
use include_dir::{Dir, File, include_dir};
use tera::{Context, ErrorKind, Tera, Value};

use crate::handbook::files::HandbookFiles;
use crate::page::context::Drawings;
use crate::render::published::{
    ENGINE, ICONS, STYLES_APART, WORKER, engine_name, is_script, published,
};
use crate::render::say::written_out;
use crate::render::small::{small_script, small_styles};
use crate::render::worded::{ScriptFault, worded};
use crate::render::words;
use crate::render::{bounds, copy, embed};

static BUILT_IN: Dir = include_dir!("$CARGO_MANIFEST_DIR/../../themes");

/// A theme ready to render with.
pub struct Theme {
    templates: Tera,
    /// Every file by its path below `themes/`.
    files: BTreeMap<String, Vec<u8>>,
    /// Tells one edition's scripts, styles and engine from another's.
    mark: String,
    /// The names of the handbook's own templates.
    own: BTreeSet<String>,
    /// Templates that were stopped: each is told once, and stops no other page as long again.
    stopped: Mutex<BTreeMap<String, Finding>>,
}

impl Default for Theme {
    fn default() -> Self {
        Theme::load(&HandbookFiles::default()).0
    }
}

/// The built-in theme's texts, by their paths in a handbook, for findings in them.
pub fn built_in_texts() -> impl Iterator<Item = (String, String)> {
    built_in().into_iter().filter_map(|(path, bytes)| {
        Some((format!("themes/{path}"), String::from_utf8(bytes).ok()?))
    })
}

fn built_in() -> BTreeMap<String, Vec<u8>> {
    let mut files = BTreeMap::new();
    let mut folders = vec![&BUILT_IN];
    while let Some(folder) = folders.pop() {
        folders.extend(folder.dirs());
        for file in folder.files() {
            let path = file.path().to_string_lossy().replace('\\', "/");
            files.insert(path, file.contents().to_vec());
        }
    }
    files
}

impl Theme {
    /// The built-in theme under the handbook's own.
    pub fn load(handbook_files: &HandbookFiles) -> (Theme, Vec<Finding>) {
        let mut files = built_in();
        let texts = handbook_files
            .texts
            .iter()
            .map(|(path, text)| (path, text.as_bytes()));
        let bytes = handbook_files
            .bytes
            .iter()
            .map(|(path, bytes)| (path, bytes.as_slice()));
        for (path, bytes) in texts.chain(bytes) {
            if let Some(path) = path.strip_prefix("themes/") {
                files.insert(path.to_string(), bytes.to_vec());
            }
        }
        let mut findings = Vec::new();
        word_scripts(&mut files, &mut findings);
        findings.extend(copy::frame_fault(&handbook_files.texts));
        let own = handbook_files.texts.keys();
        let own: BTreeSet<String> = own
            .filter_map(|path| path.strip_prefix("themes/templates/"))
            .map(str::to_string)
            .collect();
        let mut theme = Theme {
            templates: Tera::default(),
            mark: copy::mark_of(&files),
            files,
            own,
            stopped: Mutex::default(),
        };
        theme.templates = templates(&theme.files, &theme.own).unwrap_or_else(|error| {
            findings.push(theme.finding(&error, ""));
            templates(&built_in(), &BTreeSet::new()).unwrap_or_default()
        });
        let files = &theme.files;
        if ENGINE.iter().any(|(path, _)| !files.contains_key(*path)) {
            findings.push(
                Finding::warning(
                    Code::NoEngine,
                    "themes/engine",
                    0..0,
                    "the theme has no engine: widgets stay as published",
                )
                .help("build the engine with src/engine's script"),
            );
        }
        (theme, findings)
    }

    /// A whole page in bytes, as it is written. All pages together are some megabytes: none is
    /// grown step by step, and looked through once more.
    ///
    /// # Errors
    /// What is wrong with the template.
    pub fn page_bytes(
        &self,
        template: &str,
        context: &Context,
        room: usize,
    ) -> Result<Vec<u8>, Finding> {
        if !self.own.is_empty() {
            return self.page(template, context).map(String::into_bytes);
        }
        let mut bytes = Vec::with_capacity(room);
        let printed = self.templates.render_to(template, context, &mut bytes);
        printed.map_err(|error| self.finding(&error, template))?;
        Ok(bytes)
    }

    /// A page, or a part of one that is a template by itself.
    pub fn page(&self, template: &str, context: &Context) -> Result<String, Finding> {
        if self.own.is_empty() {
            let printed = self.templates.render(template, context);
            return printed.map_err(|error| self.finding(&error, template));
        }
        let stopped = || self.stopped.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(finding) = stopped().get(template) {
            return Err(finding.clone());
        }
        bounds::rendered(&self.templates, template, context).map_err(|error| {
            let finding = self.finding(&error, template);
            if bounds::is_stop(&error) {
                stopped().insert(template.to_string(), finding.clone());
            }
            finding
        })
    }

    /// What is wrong with a template, or with one that it extends or includes.
    fn finding(&self, error: &tera::Error, template: &str) -> Finding {
        let (file, span, message) = match error.kind() {
            ErrorKind::SyntaxError(report) | ErrorKind::RenderingError(report) => (
                report.filename(),
                self.written(report.filename(), report.span().range.clone()),
                report.message().to_string(),
            ),
            ErrorKind::MissingParent { current: file, .. }
            | ErrorKind::CircularExtend { tpl: file, .. }
            | ErrorKind::CircularInclude { tpl: file, .. } => {
                (file.as_str(), 0..0, error.kind().to_string())
            }
            ErrorKind::Io(_) => (self.at_fault(template), 0..0, bounds::too_long()),
            kind => (self.at_fault(template), 0..0, kind.to_string()),
        };
        let message = message.split_whitespace().collect::<Vec<_>>().join(" ");
        let message = message.trim_end_matches('.');
        let file = format!("themes/templates/{file}");
        let place = format!("{file}:{}", span.start);
        Finding::error(
            Code::Template,
            &file,
            span,
            format!("this template can't be used: {message}"),
        )
        // it fails each page that is printed with it, and not always in the same words
        .breaks([place.clone()])
        .follows([place])
        .help("mend the template, or delete it to have the built-in one")
    }

    /// The template that an error without a place is told of: built-in ones come to an end, whatever
    /// they include.
    fn at_fault<'a>(&'a self, template: &'a str) -> &'a str {
        let own = self.own.get(template).or(self.own.first());
        own.map_or(template, String::as_str)
    }

    /// A range of a template as it is used, in its file.
    fn written(&self, template: &str, range: Range<usize>) -> Range<usize> {
        let file = self.files.get(&format!("templates/{template}"));
        let text = file.and_then(|bytes| std::str::from_utf8(bytes).ok());
        match text.filter(|_| self.own.contains(template)) {
            Some(text) => bounds::written(text, range),
            None => range,
        }
    }

    /// A part of a page, whose template is given one value under one name.
    ///
    /// # Errors
    /// What is wrong with the template.
    pub fn part(
        &self,
        template: &str,
        name: &'static str,
        value: Value,
        root: &str,
    ) -> Result<String, Finding> {
        let mut context = Context::new();
        context.insert_value(name, value);
        context.insert("root", root);
        self.page(template, &context)
    }

    /// The paths of all that every site holds besides its pages.
    pub fn asset_paths(&self) -> Vec<String> {
        let own = self.files.keys().filter_map(|path| published(path));
        let styles = std::iter::once("styles/handbook.css".to_string());
        own.chain(styles).collect()
    }

    /// What each script and stylesheet of this edition says, and the pages ask for.
    pub fn mark(&self) -> &str {
        &self.mark
    }

    /// What holds a published site on a phone, before it knows the site's files.
    pub fn worker(&self) -> Vec<u8> {
        let script = self.files.get(WORKER);
        script.map_or_else(Vec::new, |script| small_script(script))
    }

    /// Whether the handbook has templates of its own, in which there may be faults.
    pub fn has_own_templates(&self) -> bool {
        !self.own.is_empty()
    }

    /// What every site holds besides its pages: styles, scripts, the engine.
    pub fn assets(&self) -> BTreeMap<String, Vec<u8>> {
        let mut assets = BTreeMap::new();
        let mut styles = Vec::new();
        for (path, bytes) in &self.files {
            if let Some(to) = published(path) {
                let bytes = match engine_name(path) {
                    Some(name) => embed::packed(name, bytes).into_bytes(),
                    None if path.starts_with(STYLES_APART) => small_styles(bytes.clone()),
                    None if path.starts_with(ICONS) => bytes.clone(),
                    None => small_script(bytes),
                };
                assets.insert(to, bytes);
            } else if path.starts_with("styles/") && path.ends_with(".css") {
                styles.extend_from_slice(bytes);
                styles.push(b'\n');
            }
        }
        assets.insert("styles/handbook.css".to_string(), small_styles(styles));
        let says = |path: &str| !path.starts_with(ICONS);
        for (path, bytes) in assets.iter_mut().filter(|(path, _)| says(path)) {
            *bytes = copy::marked(path, &self.mark, std::mem::take(bytes));
        }
        assets
    }
}

impl Drawings for Theme {
    fn drawing(&self, measurement: &str) -> Option<(String, &str)> {
        let path = format!("pictures/{measurement}.svg");
        let text = std::str::from_utf8(self.files.get(&path)?).ok()?;
        Some((format!("themes/{path}"), text))
    }
}

/// Writes their texts into the scripts; one that asks for none that there is gives way to the
/// built-in one.
fn word_scripts(files: &mut BTreeMap<String, Vec<u8>>, findings: &mut Vec<Finding>) {
    let scripts = files.iter_mut();
    for (path, bytes) in scripts.filter(|(path, _)| is_script(path)) {
        let Ok(script) = std::str::from_utf8(bytes) else {
            continue;
        };
        let said = worded(script).or_else(|fault| {
            findings.push(script_finding(path, fault));
            let built_in = BUILT_IN.get_file(path).and_then(File::contents_utf8);
            worded(built_in.unwrap_or_default())
        });
        *bytes = said.unwrap_or_default().into_bytes();
    }
}

fn script_finding(path: &str, fault: ScriptFault) -> Finding {
    Finding::error(
        Code::Template,
        &format!("themes/{path}"),
        fault.span,
        format!("this script can't be used: {}", fault.message),
    )
    .help("mend the script, or delete it to have the built-in one")
}

fn templates(
    files: &BTreeMap<String, Vec<u8>>,
    own: &BTreeSet<String>,
) -> Result<Tera, tera::Error> {
    let mut tera = Tera::new();
    words::teach(&mut tera);
    bounds::teach(&mut tera);
    let templates = files.iter().filter_map(|(path, bytes)| {
        let name = path
            .strip_prefix("templates/")
            .filter(|name| name.ends_with(".html"))?;
        let text = written_out(std::str::from_utf8(bytes).ok()?);
        let counts = own.contains(name);
        Some((name, if counts { bounds::counted(&text) } else { text }))
    });
    tera.add_raw_templates(templates)?;
    Ok(tera)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn with(path: &str, text: &str) -> (Theme, Vec<Finding>) {
        let mut handbook_files = HandbookFiles::default();
        handbook_files
            .texts
            .insert(path.to_string(), text.to_string());
        Theme::load(&handbook_files)
    }

    #[test]
    fn a_handbooks_own_file_replaces_the_built_in_one() {
        let (theme, _) = with("themes/templates/blocks/hazard.html", "[{{ h }}]");
        assert_eq!(
            theme
                .part("blocks/hazard.html", "h", "<b>".into(), "")
                .unwrap_or_default(),
            "[&lt;b&gt;]"
        );
    }

    #[test]
    fn a_broken_template_is_a_finding_in_its_place_and_the_built_in_one_serves() {
        let (theme, findings) = with("themes/templates/blocks/hazard.html", "a {{ h. }}");
        let finding = findings
            .iter()
            .find(|finding| finding.code.name() == "template");
        assert_eq!(
            finding.map(|f| f.file.as_str()),
            Some("themes/templates/blocks/hazard.html")
        );
        assert!(finding.is_some_and(|f| f.span.start > 1));
        assert!(theme.page("base.html", &Context::new()).is_err());
    }

    #[test]
    fn styles_are_one_file_in_the_order_of_their_names() {
        let (theme, _) = with("themes/styles/zzz.css", "/* last */\nb { color: red; }");
        let css = theme
            .assets()
            .remove("styles/handbook.css")
            .unwrap_or_default();
        let css = String::from_utf8_lossy(&css);
        assert!(css.contains("b{color:red;}\n:root{--of-handbook:"), "{css}");
        assert!(!css.contains("/*"));
    }

    #[test]
    fn scripts_say_what_the_language_words() {
        let (theme, findings) = with("themes/scripts/own.js", "f(worded(\"share.copied\"));");
        assert_eq!(findings, []);
        let assets = theme.assets();
        assert!(assets["scripts/own.js"].ends_with(b"f(\"Copied.\");"));
        for (path, script) in assets.iter().filter(|(path, _)| path.ends_with(".js")) {
            assert!(
                !String::from_utf8_lossy(script).contains("worded("),
                "{path}"
            );
        }
    }

    #[test]
    fn a_script_that_asks_for_no_text_is_a_finding_and_the_built_in_one_serves() {
        let (theme, findings) = with("themes/scripts/look.js", "f(worded(\"share.no\"));");
        let found = findings.first().map(|f| (f.file.as_str(), f.span.clone()));
        assert_eq!(found, Some(("themes/scripts/look.js", 2..20)));
        assert_eq!(
            theme.assets()["scripts/look.js"],
            Theme::default().assets()["scripts/look.js"]
        );
    }
}
