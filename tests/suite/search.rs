//! What the demonstration handbook's search finds and answers, asked as its page asks.

use gaugeleaf_calc::finding::Excerpt;
use gaugeleaf_calc::finding::settings::{self, SettingField, SettingType, Settings};
use gaugeleaf_calc::unit::Unit;
use serde_json::Value;

use crate::root;
use crate::search_rules::by_rule;
use crate::shown::{plain, shown};

/// What a query should find first.
pub(crate) struct Query {
    pub ask: String,
    /// Any of these addresses.
    pub want: Vec<String>,
    /// The calculator that answers, if one does, and a result that it prints.
    pub calculator: Option<String>,
    pub says: Option<String>,
    /// Whoever asked knew the contents page alone: any place of a page counts, and a result that is
    /// as good as the one said.
    pub roughly: bool,
}

const FIELDS: &[SettingField] = &[SettingField::new(
    "query",
    SettingType::Tables(QUERY),
    "A query.",
)];

const QUERY: &[SettingField] = &[
    SettingField::new("ask", SettingType::Text, "As it is typed.").needed("a query is asked"),
    SettingField::new("want", SettingType::Texts, "What should come first."),
    SettingField::new("answer", SettingType::Table(ANSWER), "What is worked out."),
];

const ANSWER: &[SettingField] = &[
    SettingField::new("calculator", SettingType::Text, "What works it out."),
    SettingField::new("says", SettingType::Text, "A result as printed."),
];

fn queries(file: &str, roughly: bool) -> Vec<Query> {
    let path = root().join("tests/search").join(file);
    let text = std::fs::read_to_string(path).expect("the queries");
    let body = Excerpt::whole(&text);
    let mut findings = Vec::new();
    let found = settings::read(file, &body, FIELDS, &mut findings, |settings| {
        settings.tables("query", |query, _| {
            let ask = query.plain("ask");
            let want = query.texts("want").into_iter().map(|url| url.value);
            let want: Vec<String> = want.collect();
            let text = |answer: &mut Settings, key| answer.text(key).map(|text| text.value);
            let answer = query.table("answer", |answer| {
                (text(answer, "calculator"), text(answer, "says"))
            });
            let (calculator, says) = answer.unwrap_or_default();
            let answers = says.is_some() || calculator.is_some();
            assert!(!want.is_empty() || answers, "`{ask}` wants nothing");
            Query {
                ask,
                want,
                calculator,
                says,
                roughly,
            }
        })
    });
    assert_eq!(findings, []);
    found
}

impl Query {
    fn is(&self, shown: &Value) -> bool {
        let text = |key: &str| shown[key].as_str().unwrap_or_default().to_string();
        let answered = || {
            let outputs = shown["outputs"].as_array().into_iter().flatten();
            let outputs = outputs.flat_map(|output| {
                ["text", "also"].map(|key| output[key].as_str().unwrap_or_default())
            });
            let told = outputs.chain(shown["to"].as_str()).map(plain);
            told.collect::<Vec<_>>()
        };
        let calculator = self.calculator.as_ref();
        let right = calculator.is_none_or(|name| text("calculator") == *name);
        let told = match &self.says {
            Some(says) => answered().iter().any(|told| self.says_as_much(told, says)),
            None => calculator.is_some() && !answered().is_empty(),
        };
        if right && told {
            return true;
        }
        // a term stands where it is told: either address is right
        let term = shown["means"]["url"].as_str();
        if term.is_some_and(|term| self.want.iter().any(|want| want == term)) {
            return true;
        }
        // a question back names the calculators that it may be for
        let ways = shown["which"].as_array().into_iter().flatten();
        let ways = ways.filter_map(|way| way["calculator"].as_str());
        let mut ways = ways.map(|name| format!("calculators/{name}.html"));
        if ways.any(|page| self.want.contains(&page)) {
            return true;
        }
        let url = match shown["calculator"].as_str() {
            Some(name) => format!("calculators/{name}.html"),
            None => text("url"),
        };
        let page = url.split('#').next().unwrap_or_default();
        self.want.iter().any(|want| {
            // an input stands on its calculator's page, a step under its heading
            let input = page == want && page.starts_with("calculators/");
            let step = shown["kind"] == "step"
                && want.split_once('#').is_some_and(|(wanted, place)| {
                    wanted == page
                        && place
                            == text("title")
                                .to_lowercase()
                                .replace([' ', ','], "-")
                                .replace("--", "-")
                });
            url == *want || input || step || (self.roughly && page == want)
        })
    }

    fn says_as_much(&self, told: &str, says: &str) -> bool {
        let near = || {
            let ((a, unit), (b, wanted)) = (number(told)?, number(says)?);
            Some(unit == wanted && (a / b - 1.0).abs() <= 0.02)
        };
        told == says
            || (self.calculator.is_none() && told.ends_with(says))
            || (self.roughly && near() == Some(true))
    }
}

/// A printed number, and its unit as the handbook writes it.
fn number(text: &str) -> Option<(f64, String)> {
    let (number, unit) = text.rsplit_once(' ')?;
    let unit = Unit::parse(unit).map_or_else(|_| unit.to_string(), |unit| unit.symbol);
    let mut sum = 0.0;
    // `12 3/8`, and `14 503.8`
    for part in number.replace('−', "-").split(' ') {
        sum = match part.split_once('/') {
            Some((top, bottom)) => sum + top.parse::<f64>().ok()? / bottom.parse::<f64>().ok()?,
            None => sum * 1000.0 + part.parse::<f64>().ok()?,
        };
    }
    Some((sum, unit))
}

/// How many queries are right first, in the first three, and what the others find.
fn tally(queries: &[Query]) -> (usize, usize, usize, Vec<String>) {
    let (mut first, mut third, mut missed) = (0, 0, Vec::new());
    for query in queries {
        let shown = shown(&query.ask);
        let place = shown.iter().position(|one| query.is(one));
        first += usize::from(place == Some(0));
        third += usize::from(place.is_some_and(|place| place < 3));
        if place != Some(0) {
            let brief = |one: &Value| {
                let name = one["calculator"].as_str().map(|name| format!("={name}"));
                name.or_else(|| one["url"].as_str().map(str::to_string))
                    .unwrap_or_else(|| one["to"].to_string())
            };
            let found: Vec<String> = shown.iter().take(4).map(brief).collect();
            missed.push(format!(
                "{:?} at {place:?}: {}",
                query.ask,
                found.join("  ")
            ));
        }
    }
    (queries.len(), first, third, missed)
}

#[test]
fn of_the_queries_tuned_to_nearly_all_find_the_right_thing_first() {
    let mut all = queries("queries.toml", false);
    let typed = all.len();
    all.extend(by_rule());
    let (count, first, third, missed) = tally(&all);
    let missed = missed.join("\n");
    println!("{typed} typed, {count} in all: {first} first, {third} in three\n{missed}");
    assert!(typed >= 200 && count >= 400, "only {count} queries");
    assert!(
        first * 1000 >= count * 970,
        "{first} of {count} first:\n{missed}"
    );
    assert!(
        third * 1000 >= count * 995,
        "{third} of {count} in three:\n{missed}"
    );
}

/// What a query wants may be moved; an address that leads nowhere could never come first.
#[test]
fn every_address_that_a_query_wants_is_there() {
    let site = crate::shown::site();
    for query in queries("queries.toml", false)
        .iter()
        .chain(&queries("spent.toml", true))
        .chain(&queries("held-out.toml", true))
    {
        for want in &query.want {
            let (page, place) = want.split_once('#').unwrap_or((want, ""));
            let html = site.get(page).map(|bytes| String::from_utf8_lossy(bytes));
            let there = html
                .is_some_and(|html| place.is_empty() || html.contains(&format!("id=\"{place}\"")));
            assert!(there, "`{}` wants {want}", query.ask);
        }
    }
}

/// Printed, never asserted: nobody looked at these queries while tuning.
#[test]
#[ignore = "a figure to report, not a promise to keep"]
fn how_the_held_out_queries_fare() {
    let (count, first, third, missed) = tally(&queries("held-out.toml", true));
    println!(
        "{count} queries held out: {first} first, {third} in three\n{}",
        missed.join("\n")
    );
}

/// The sets that were held out once say how a new wording fares: they are looked at, and never
/// tuned to one by one, so what is asked of them is that they get no worse.
#[test]
fn of_the_queries_that_were_held_out_once_no_more_are_missed() {
    let (count, first, third, missed) = tally(&queries("spent.toml", true));
    let missed = missed.join("\n");
    println!("{count} held out once: {first} first, {third} in three\n{missed}");
    assert!(count >= 500, "only {count} queries");
    assert!(
        first * 100 >= count * 84,
        "{first} of {count} first:\n{missed}"
    );
    assert!(
        third * 100 >= count * 89,
        "{third} of {count} in three:\n{missed}"
    );
}

/// The first hit's address.
pub(crate) fn first(query: &str) -> String {
    let found = shown(query);
    let hit = found.iter().find_map(|one| one["url"].as_str());
    hit.unwrap_or_default().to_string()
}

#[test]
fn the_lists_of_calculators_and_tables_are_found() {
    for (query, list) in [
        ("calculators", "calculators/index.html"),
        ("calcualtor", "calculators/index.html"),
        ("tables", "tables/index.html"),
    ] {
        assert_eq!(first(query), list, "{query}");
    }
}

#[test]
fn one_size_finds_one_wrench_in_every_spelling() {
    let row = "tables/hex-across-flats.html#row-3";
    for query in [
        "wrench 9/16",
        "wrench 0.5625 in",
        "14.3 mm wrench",
        "14.2875 mm wrench",
        "1.42875 cm wrench",
    ] {
        let found = shown(query);
        let rows: Vec<&str> = found
            .iter()
            .filter_map(|one| one["url"].as_str())
            .take(3)
            .collect();
        assert!(rows.contains(&row), "{query}: {rows:?}");
    }
}

#[test]
fn a_mixed_number_never_finds_its_fraction() {
    let found = shown("1 1/4 in heavy nut wrench");
    let texts: Vec<String> = found.iter().map(|one| one["excerpt"].to_string()).collect();
    assert!(
        found[0]["url"]
            .as_str()
            .is_some_and(|url| url.starts_with("tables/hex-across-flats.html#")),
        "{texts:?}"
    );
}

#[test]
fn what_people_say_leads_to_pages_headings_calculators_tables_and_rows() {
    for (query, url) in [
        ("loto", "isolation.html"),
        ("ppe", "rules.html#what-to-wear"),
        ("pull of the jets", "calculators/nozzle-thrust.html"),
        ("spanner sizes", "tables/hex-across-flats.html"),
        ("three eighths", "tables/hex-across-flats.html#row-3"),
    ] {
        assert_eq!(first(query), url, "{query}");
    }
}

#[test]
fn who_and_what_a_page_needs_and_what_it_asks_is_searched_and_never_shown() {
    let hits = |query: &str| shown(query).into_iter();
    let found = |query: &str, url: &str| hits(query).any(|one| one["url"] == url);
    assert!(found("group lock box", "isolation.html"));
    // a question's words lead to the page, its answers and those of tests do not
    assert!(found("nobody saw why", "other-emergencies.html"));
    assert!(!found("extinguisher", "other-emergencies.html"));
    let excerpts = hits("nobody saw why").map(|one| one["excerpt"].to_string());
    let shown = excerpts.collect::<String>();
    assert!(!shown.contains("saw why"), "{shown}");
}

#[test]
fn a_field_is_not_found_by_why_its_limits_are_what_they_are() {
    let found = first("hose slips");
    assert!(
        found.starts_with("faults/hose-and-stop-faults.html"),
        "{found}"
    );
}

#[test]
fn pages_for_the_trainer_and_for_tests_come_after_those_of_the_work() {
    let aside = |url: &str| {
        ["trainer/", "training/", "tasks/", "writing.html"]
            .iter()
            .any(|one| url.starts_with(one))
    };
    for query in [
        "chain block",
        "hose keeps slipping",
        "needle",
        "pressure test",
        "how far back should people stand",
    ] {
        let found = shown(query);
        let urls: Vec<&str> = found.iter().filter_map(|one| one["url"].as_str()).collect();
        let first = urls.iter().position(|url| aside(url)).unwrap_or(urls.len());
        assert!(
            urls[first..].iter().all(|url| aside(url)),
            "{query}: {urls:?}"
        );
        assert!(first > 0, "{query}: {urls:?}");
    }
    assert_eq!(
        first("write a calculator"),
        "trainer/write-a-calculator.html"
    );
}
