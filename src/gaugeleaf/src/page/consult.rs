//! What a part of a page asks of the rest of the handbook: values, other pages, files. Each question
//! is noted.

use std::sync::Arc;

use gaugeleaf_calc::calculator::{Answer, Argument, Leaf, PrintedValue, Problem};
use gaugeleaf_calc::catalog::SetupSheet;
use gaugeleaf_calc::finding::Finding;
use gaugeleaf_calc::finding::settings::Binding;
use gaugeleaf_calc::{Job, Names};

use crate::handbook::emergency::EmergencyNumber;
use crate::handbook::page::Page;
use crate::page::context::Context;
use crate::page::reads::Consulted;
use crate::values::scope::JobScope;

impl<'c> Context<'c> {
    fn reads_value(&self, kit: Option<&str>, name: &str) {
        self.reads.note(Consulted::Value {
            kit: kit.map(str::to_string),
            name: name.to_string(),
        });
    }

    /// What a calculator comes to with the values that hold here.
    pub fn answer(&self, calculator: &str, inputs: &[Argument]) -> Option<Arc<Answer>> {
        self.reads_value(self.scope.kit(), calculator);
        self.scope.answer(self.graph, calculator, inputs)
    }

    /// The same of what is asked once.
    pub fn calculate(&self, calculator: &str, inputs: &[Argument]) -> Option<Answer> {
        let job = self.job_beneath(calculator);
        self.graph.catalog.calculate(calculator, inputs, job)
    }

    /// The values that hold here, for what this calculator comes to.
    pub fn job_beneath(&self, calculator: &str) -> &'c Job {
        self.reads_value(self.scope.kit(), calculator);
        self.scope.job()
    }

    /// A measurement or rating as it holds here.
    pub fn quantity(&self, name: &str) -> Option<Result<PrintedValue, Problem>> {
        self.reads_value(self.scope.kit(), name);
        self.graph.quantity(name, self.scope.job())
    }

    /// A measurement or rating as it holds in all of the handbook.
    pub fn own_quantity(&self, name: &str) -> Option<Result<PrintedValue, Problem>> {
        self.reads_value(None, name);
        self.graph.quantity(name, self.with.own.job())
    }

    /// What a value stands on here.
    pub fn leaf(&self, name: &str) -> Leaf {
        self.reads_value(self.scope.kit(), name);
        self.graph.catalog.leaf(name, self.scope.job())
    }

    /// What was assigned over the handbook's own values, as written.
    pub fn given(&self) -> &'c Names<String> {
        self.scope.given()
    }

    /// The values that hold here with these over them, and the sheet of all that they come to.
    pub fn sheet(&self, given: &[Binding], findings: &mut Vec<Finding>) -> (JobScope, SetupSheet) {
        self.reads.note(Consulted::EveryValue {
            kit: self.scope.kit().map(str::to_string),
        });
        let scope = self.scope.with(self.graph, self.file, given, findings);
        let sheet = self.graph.catalog.setup_sheet(scope.job());
        (scope, sheet)
    }

    /// The page itself, for the same: it may be shown on another.
    pub fn own_outline(&self) -> &'c Page {
        self.reads.note(Consulted::Outline(self.page.path.clone()));
        self.page
    }

    /// Another page, for what is written of it in its head: its title and its addresses.
    pub fn outline_of(&self, path: &str) -> Option<&'c Page> {
        self.reads.note(Consulted::Outline(path.to_string()));
        self.with.handbook.pages.at(path)
    }

    /// Another page, for all that it says.
    pub fn read_through(&self, page: &'c Page) -> &'c Page {
        self.reads.note(Consulted::Text(page.path.clone()));
        page
    }

    /// Every page, for what it is called.
    pub fn pages(&self) -> &'c [Page] {
        self.reads.note(Consulted::Pages(None));
        &self.with.handbook.pages
    }

    /// The pages of a phase in their order, for what they are called.
    pub fn pages_of(&self, phase: usize) -> impl Iterator<Item = &'c Page> + use<'c> {
        self.reads.note(Consulted::Pages(Some(phase)));
        let pages = self.with.handbook.pages.iter();
        pages.filter(move |page| page.phase == Some(phase))
    }

    /// Another file's text; empty where there is none.
    pub fn text_of(&self, path: &str) -> &'c str {
        self.reads.note(Consulted::Text(path.to_string()));
        let text = self.with.files.texts.get(path);
        text.map_or("", String::as_str)
    }

    /// Whom to call, as handbook.toml has it.
    pub fn emergency_numbers(&self) -> &'c [EmergencyNumber] {
        self.reads
            .note(Consulted::Text("handbook.toml".to_string()));
        &self.with.handbook.emergency
    }

    /// A file that is no text, with its path.
    pub fn file_at(&self, path: &str) -> Option<(&'c String, &'c Vec<u8>)> {
        self.reads.note(Consulted::File(path.to_string()));
        self.with.files.bytes.get_key_value(path)
    }

    /// The paths of all such files.
    pub fn file_names(&self) -> impl Iterator<Item = &'c String> {
        self.reads.note(Consulted::FileNames);
        self.with.files.bytes.keys()
    }

    /// The theme's drawing of a measurement: its path in a handbook, and its text.
    pub fn drawing(&self, measurement: &str) -> Option<(String, &'c str)> {
        self.reads.note(Consulted::Drawings);
        self.with.drawings.drawing(measurement)
    }
}
