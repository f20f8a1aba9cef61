//! `calculators/index.html`: the list of the calculators, by the part of the job that
//! each belongs to.

use gaugeleaf_calc::calculator::{Area, Calculator};
use serde::Serialize;

use crate::handbook::addresses::calculator_url;
use crate::language::tell;
use crate::markdown::ids::slug;
use crate::render::context::{NavLink, PageContext};
use crate::render::renderer::{MoreView, Renderer};
use crate::values::graph::Graph;

/// The calculators of one part of the job.
#[derive(Serialize)]
struct CalculatorArea<'c> {
    id: String,
    title: String,
    calculators: Vec<CalculatorEntry<'c>>,
}

/// One calculator in the list.
#[derive(Serialize)]
struct CalculatorEntry<'c> {
    name: &'c str,
    title: &'c str,
    purpose: &'c str,
    url: String,
    outputs: Vec<&'c str>,
}

impl<'c> CalculatorEntry<'c> {
    fn of(calculator: &'c Calculator) -> Self {
        CalculatorEntry {
            name: &calculator.name,
            title: &calculator.title,
            purpose: &calculator.purpose,
            url: calculator_url(&calculator.name),
            outputs: calculator
                .results()
                .map(|output| output.label.as_str())
                .collect(),
        }
    }
}

/// Prints the list, in the order of the job.
pub fn page(renderer: &mut Renderer, graph: &Graph, list: &NavLink, crumbs: Vec<NavLink>) {
    let areas: Vec<CalculatorArea> = Area::ALL
        .into_iter()
        .map(Some)
        .chain([None])
        .filter_map(|area| {
            let all = graph.catalog.calculators.values();
            let calculators: Vec<_> = all
                .filter(|one| one.area == area)
                .map(CalculatorEntry::of)
                .collect();
            let title = graph.catalog.language.say(&Area::title(area));
            (!calculators.is_empty()).then(|| CalculatorArea {
                id: slug(&title),
                title,
                calculators,
            })
        })
        .collect();
    let page = PageContext {
        description: tell::about_calculators(),
        ..PageContext::made("calculators", &list.title, &list.url, crumbs)
    };
    renderer.page(
        "calculators.html",
        &page,
        Some(MoreView::new("areas", &areas)),
    );
}
