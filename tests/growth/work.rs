//! What is done with a text.

use gaugeleaf::blocks::registry::{KINDS, shapes};
use gaugeleaf::edition::addresses::FolderEdition;
use gaugeleaf::handbook::files::HandbookFiles;
use gaugeleaf::handbook::whole::assemble;
use gaugeleaf::page::compose::compose;
use gaugeleaf::page::context::Composer;
use gaugeleaf::prose;
use gaugeleaf::render::print::Printer;
use gaugeleaf::render::theme::Theme;
use gaugeleaf::values::graph::Graph;
use gaugeleaf::values::scope::JobScope;
use gaugeleaf_calc::formula::Formula;
use gaugeleaf_lookup::{Document, Index, SearchWords, build};

use crate::texts::{Kind, Text};

const HANDBOOK: &str = "title = \"T\"\nrevision = \"A\"\ncaution = \"C\"\n";
const PHASE: &str = "title = \"Fit\"\norder = 10\npurpose = \"Fit it.\"\n";

/// What is read once, whatever the text.
pub struct Work {
    graph: Graph,
    theme: Theme,
    index: Index,
}

impl Default for Work {
    fn default() -> Work {
        let text = "Close the stop until it drags on the hose, a half turn or 1/2 in.";
        let documents = [Document {
            title: "Set the hose stop".into(),
            url: "a.html".into(),
            text: text.into(),
            ..Document::default()
        }];
        let built = build(&documents, &SearchWords::default());
        let mut index = Index::open(built.index).expect("an index");
        index.take_texts(&built.texts).expect("its texts");
        Work {
            graph: Graph::load(&HandbookFiles::default()).0,
            theme: Theme::default(),
            index,
        }
    }
}

impl Work {
    /// The work of a text of so many bytes; how much came of it.
    pub fn of(&self, text: &Text, bytes: usize) -> usize {
        let long = long(text.repeated, bytes);
        match text.kind {
            Kind::Page => self.page(&format!("# Fit\n\n{long}\n")),
            Kind::Settings => self.page(&format!("```page\n{long}\n```\n\n# Fit\n")),
            Kind::Formula => usize::from(Formula::parse(&long).is_ok()),
            Kind::Index => {
                let document = Document {
                    title: "T".into(),
                    url: "a.html".into(),
                    text: long.into(),
                    ..Document::default()
                };
                build(&[document], &SearchWords::default()).index.len()
            }
            Kind::Query => self.index.search(&long, 10).hits.len(),
        }
    }

    fn page(&self, text: &str) -> usize {
        let mut files = HandbookFiles::default();
        for (path, text) in [
            ("handbook.toml", HANDBOOK),
            ("content/index.md", "# Start\n"),
            ("content/fit/phase.toml", PHASE),
            ("content/fit/page.md", text),
        ] {
            files.texts.insert(path.into(), text.into());
        }
        let (handbook, mut findings) = assemble(&files, &shapes());
        prose::inspect(&handbook, &files, &shapes(), &mut findings);
        let own = JobScope::of_handbook(&self.graph);
        let composer = Composer {
            handbook: &handbook,
            files: &files,
            graph: &self.graph,
            own: &own,
            kinds: &KINDS,
            drawings: &self.theme,
        };
        let mut came = findings.len();
        for page in handbook.pages.iter() {
            let composed = compose(page, &composer);
            let printer = Printer {
                theme: &self.theme,
                edition: &FolderEdition,
                from: &page.url,
            };
            let html = printer.html(&composed.value.nodes, &page.outline.title);
            came += composed.findings.len() + html.map_or(0, |html| html.len());
        }
        came
    }
}

/// The repeated text, as often as it takes.
fn long(repeated: &str, bytes: usize) -> String {
    let mut long = String::with_capacity(bytes + repeated.len());
    for number in 10_000.. {
        if long.len() >= bytes {
            break;
        }
        long.push_str(&repeated.replace('@', &number.to_string()));
    }
    long
}
