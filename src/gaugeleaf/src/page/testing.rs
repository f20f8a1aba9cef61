//! A page for tests of its parts: `content/fit/page.md`, beside a front page with one heading,
//! "Set it".

use std::path::Path;
use std::sync::LazyLock;

use gaugeleaf_calc::finding::Finding;

use crate::blocks::registry::{KINDS, shapes};
use crate::edition::addresses::FolderEdition;
use crate::handbook::files::{HandbookFiles, read};
use crate::handbook::page::Page;
use crate::handbook::whole::{Handbook, assemble};
use crate::page::compose::{ComposedPage, compose};
use crate::page::composed::Composed;
use crate::page::context::{Composer, Context};
use crate::page::reads::Reads;
use crate::render::print::Printer;
use crate::render::theme::Theme;
use crate::values::graph::Graph;
use crate::values::scope::JobScope;

/// The smallest picture there is, near enough: a GIF's head.
pub const PIXEL: &[u8] = b"GIF89a\x01\0\x01\0\0\0\0";

const PATH: &str = "content/fit/page.md";

/// What a page is composed of, for tests of one part.
pub struct Sample {
    pub handbook: Handbook,
    pub files: HandbookFiles,
    pub graph: Graph,
    pub own: JobScope,
    pub theme: Theme,
}

/// What the demonstration handbook sets and gives: its kit with its tables, and its jobs.
static DEMONSTRATION: LazyLock<HandbookFiles> = LazyLock::new(|| {
    let root = Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/../.."));
    let (mut files, _) = read(root);
    let wanted = ["handbook.toml", "content/equipment/", "content/jobs/"];
    let is_wanted = |path: &String| wanted.iter().any(|start| path.starts_with(start));
    files.texts.retain(|path, _| is_wanted(path));
    files
});

/// The built-in catalog with the demonstration's kit, and its first job as the handbook's.
pub fn demonstration() -> Graph {
    let (mut graph, _) = Graph::load(&DEMONSTRATION);
    let (handbook, _) = assemble(&DEMONSTRATION, &shapes());
    graph.catalog.own = crate::values::own::own(&handbook, &graph);
    graph
}

impl Sample {
    pub fn new(text: &str) -> Sample {
        let shapes = shapes();
        let front = "# Front\n\n## Set it\n";
        let page = |path, text, phase| Page::read(path, text, phase, &shapes);
        let mut files = HandbookFiles::default();
        files.texts.insert(PATH.to_string(), text.to_string());
        let graph = demonstration();
        Sample {
            handbook: Handbook {
                pages: vec![
                    page("content/index.md", front, None),
                    page(PATH, text, None),
                ]
                .into(),
                ..Handbook::default()
            },
            files,
            own: JobScope::of_handbook(&graph),
            graph,
            theme: Theme::default(),
        }
    }

    /// The same with files beside the pages.
    pub fn with_files(mut self, files: &[(&str, &[u8])]) -> Sample {
        let files = files.iter();
        let files = files.map(|(path, bytes)| (path.to_string(), bytes.to_vec()));
        self.files.bytes.extend(files);
        self
    }

    fn page(&self) -> &Page {
        &self.handbook.pages[1]
    }

    fn with(&self) -> Composer<'_> {
        Composer {
            handbook: &self.handbook,
            files: &self.files,
            graph: &self.graph,
            own: &self.own,
            kinds: &KINDS,
            drawings: &self.theme,
        }
    }

    pub fn composed(&self) -> Composed<ComposedPage> {
        compose(self.page(), &self.with())
    }

    /// The page as a folder's edition prints it, and what is wrong with it.
    pub fn printed(&self) -> (String, Vec<Finding>) {
        let composed = self.composed();
        let printer = Printer {
            theme: &self.theme,
            edition: &FolderEdition,
            from: &self.page().url,
        };
        let html = printer.html(&composed.value.nodes, &self.page().outline.title);
        (
            html.expect("the built-in templates print"),
            composed.findings,
        )
    }

    /// Hands a test what a part is composed in.
    pub fn context<T>(&self, test: impl FnOnce(&Context) -> T) -> T {
        let reads = Reads::default();
        test(&Context::new(self.with(), self.page(), &self.own, &reads))
    }
}

/// A page's HTML, and what is wrong with it.
pub fn printed(text: &str) -> (String, Vec<Finding>) {
    Sample::new(text).printed()
}

/// What is wrong with a page.
pub fn findings(text: &str) -> Vec<Finding> {
    Sample::new(text).composed().findings
}

/// The same of a page that has these files beside it.
pub fn printed_with(text: &str, files: &[(&str, &[u8])]) -> (String, Vec<Finding>) {
    Sample::new(text).with_files(files).printed()
}
