//! What a page and the engine say to each other. The engine builds its JSON part by part, as types of
//! its own would make it heavier on a phone; the types stand here, every answer is held to them, and
//! the scripts' type checker gets them as `themes/scripts/engine.d.ts`.

mod answers;
mod asked;
mod found;
mod held;
mod requests;

use std::any::TypeId;
use std::collections::{BTreeMap, BTreeSet};
use std::fs;

use serde::{Deserialize, Deserializer};
use ts_rs::{Config, TS, TypeVisitor};

use crate::root;

const TYPES: &str = "themes/scripts/engine.d.ts";

/// A part that may be null, where it is there; without this a null would be as good as none.
fn there<'de, D, T>(part: D) -> Result<Option<T>, D::Error>
where
    D: Deserializer<'de>,
    T: Deserialize<'de>,
{
    T::deserialize(part).map(Some)
}

/// Types with all that they are made of, by their names.
#[derive(Default)]
struct Declared {
    config: Config,
    seen: BTreeSet<TypeId>,
    types: BTreeMap<String, String>,
}

impl TypeVisitor for Declared {
    fn visit<T: TS + 'static + ?Sized>(&mut self) {
        // a type of the language's own has no file to stand in
        if T::output_path().is_none() || !self.seen.insert(TypeId::of::<T>()) {
            return;
        }
        let docs = T::docs().unwrap_or_default();
        let declared = format!("{docs}{}\n", T::decl(&self.config));
        let declared = declared.replace("/**\n * ", "/** ").replace("\n */", " */");
        self.types.insert(T::ident(&self.config), declared);
        T::visit_dependencies(self);
    }
}

fn declared() -> String {
    let mut all = Declared::default();
    all.visit::<requests::RequestJson>();
    all.visit::<answers::AnswerJson>();
    all.visit::<answers::LimitsJson>();
    all.visit::<answers::GradedJson>();
    all.visit::<answers::MeasuredJson>();
    all.visit::<answers::TakenJson>();
    all.visit::<answers::JudgedJson>();
    all.visit::<answers::SheetDrawnJson>();
    all.visit::<found::CodeJson>();
    all.visit::<answers::SwitchedJson>();
    all.visit::<found::FoundJson>();
    all.visit::<asked::AskedJson>();
    let head = "// What a page and the engine say to each other; for the type checker alone, never published.\n\
                // Made by a test: SNAPSHOTS=write cargo test -p gaugeleaf-tests --lib contract\n";
    let types: Vec<String> = all.types.into_values().collect();
    format!("{head}\n{}", types.join("\n"))
}

#[test]
fn the_scripts_know_the_types_of_requests_and_answers() {
    let wanted = declared();
    let path = root().join(TYPES);
    if std::env::var_os("SNAPSHOTS").is_some() {
        fs::write(&path, &wanted).expect("a writable file");
    }
    let held = fs::read_to_string(&path).unwrap_or_default();
    assert_eq!(held, wanted, "SNAPSHOTS=write makes {TYPES} anew");
}
