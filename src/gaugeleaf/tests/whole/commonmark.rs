//! CommonMark's own examples through the whole generator: each is the body of a page, under a
//! title, and comes out as the standard's HTML or as the finding that its construct must give.
//!
//! The standard's HTML says which: an address that is no page's, a picture that there is none of,
//! a second title, a block of no kind stand in it, and raw HTML stands in it letter for letter.

use std::collections::{BTreeMap, BTreeSet};

use crate::support::spec::{Example, examples};
use crate::support::*;

/// Findings that judge the writing: whatever they say, the HTML has to be the standard's.
const OF_WRITING: [&str; 8] = [
    "action-in-hazard",
    "long-sentence",
    "no-people",
    "no-review",
    "no-tools",
    "open-block",
    "open-mark",
    "step-verb",
];

/// What a finding says, without the words: its code, and the text that it points at.
type Told = (&'static str, String);

/// An example, and what came of it.
struct Outcome<'e> {
    example: &'e Example,
    /// The page's own part, as it is published.
    html: String,
    told: Vec<Told>,
}

/// All examples, published as pages of one handbook.
fn published<'e>(examples: &'e [Example]) -> Vec<Outcome<'e>> {
    let folder = Folder::equipped();
    for example in examples {
        let Example {
            number, markdown, ..
        } = example;
        let order = number + 10;
        let head = format!("```page\norder = {order}\n```\n\n# Example\n\n");
        folder.put(&format!("content/{}.md", name(*number)), head + markdown);
    }
    let built = folder.build();
    let mut told: BTreeMap<&str, Vec<Told>> = BTreeMap::new();
    let of_structure = |code: &str| !OF_WRITING.contains(&code);
    for finding in &built.findings {
        let code = finding.code.name();
        if of_structure(code) {
            let at = &built.sources[&finding.file][finding.span.clone()];
            let told = told.entry(&finding.file).or_default();
            told.push((code, at.to_string()));
        }
    }
    let outcome = |example: &'e Example| {
        let name = name(example.number);
        let page = &built.site[&format!("{name}.html")];
        let page = String::from_utf8(page.clone()).expect("UTF-8");
        let told = told.remove(format!("content/{name}.md").as_str());
        Outcome {
            example,
            html: plain(own_part(&page), &name),
            told: told.unwrap_or_default(),
        }
    };
    examples.iter().map(outcome).collect()
}

fn name(number: usize) -> String {
    format!("fit/example-{number:03}")
}

/// What a page's Markdown became: the frame around it is the template's, and the bar at its end
/// counts the ticks of its steps.
fn own_part(page: &str) -> &str {
    let (_, after) = page.split_once("<div class=\"prose\">\n").expect("a page");
    let end = after.find("\n</div>\n").expect("its end");
    after[..end]
        .split("<div class=\"tick-bar\"")
        .next()
        .unwrap()
}

/// Our HTML without what it has beyond the standard's on purpose.
fn plain(html: &str, name: &str) -> String {
    // links lead to headings, and to steps, which are ticked off
    let mut html = html.replace("<ol class=\"steps\"", "<ol");
    for tag in ["h2", "h3", "h4", "h5", "h6", "li"] {
        html = replaced(&html, &format!("<{tag} id=\""), ">", &format!("<{tag}>"));
    }
    // a listing scrolls by itself and is coloured
    html = html.replace("<pre class=\"listing\" tabindex=\"0\">", "<pre>");
    html = replaced(&html, "<span class=\"lst-", ">", "").replace("</span>", "");
    // a link to nowhere leads to the page itself, by its name
    html = html.replace(&format!("href=\"../{name}.html\""), "href=\"\"");
    spaced(&html)
}

/// The standard's HTML without what ours says otherwise.
fn standard(html: &str) -> String {
    // the colours of a listing are the language's already
    spaced(&replaced(html, "<code class=\"language-", ">", "<code>"))
}

/// Without line ends between tags, and with quotes in texts as they are.
fn spaced(html: &str) -> String {
    let html = html.replace("&quot;", "\"").replace(">\n<", "><");
    html.trim().to_string()
}

/// Everything from one mark to the other that is next, replaced.
fn replaced(html: &str, from: &str, to: &str, with: &str) -> String {
    let mut parts = html.split(from);
    let mut all = parts.next().unwrap_or_default().to_string();
    for part in parts {
        let (_, rest) = part.split_once(to).expect("what opens ends");
        all.extend([with, rest]);
    }
    all
}

/// Whether the standard's HTML has what a finding refuses.
fn refuses((code, at): &Told, html: &str) -> bool {
    match *code {
        // what is quoted or in a list loses its marks before the second line
        "raw-html" => html.contains(at.lines().next().unwrap_or("-").trim()),
        "two-titles" => html.contains("<h1>"),
        "missing-picture" | "foreign-picture" => html.contains("<img src=\""),
        "missing-page" | "missing-heading" | "bad-link" => html.contains("<a href=\""),
        "list-number" => html.contains("<ol start=\""),
        "unknown-block" => html.contains("<code class=\"language-"),
        _ => false,
    }
}

/// The codes of what must be refused in the standard's HTML, raw HTML apart: nothing tells it from
/// the standard's own but that it isn't.
fn due(html: &str) -> BTreeSet<&'static str> {
    let led = html.split("<a href=\"").skip(1).any(|rest| {
        let outside = ["https://", "http://", "mailto:", "\""];
        !outside.iter().any(|start| rest.starts_with(start))
    });
    let due = [
        ("title", html.contains("<h1>")),
        ("picture", html.contains("<img src=\"")),
        ("link", led),
    ];
    due.into_iter()
        .filter_map(|(sort, is)| is.then_some(sort))
        .collect()
}

fn sort(code: &str) -> Option<&'static str> {
    match code {
        "two-titles" => Some("title"),
        "missing-picture" | "foreign-picture" => Some("picture"),
        "missing-page" | "missing-heading" | "bad-link" => Some("link"),
        _ => None,
    }
}

#[test]
fn each_example_of_the_standard_is_its_html_or_the_finding_that_it_must_give() {
    let examples = examples();
    assert_eq!(examples.len(), 652);
    let (mut same, mut refused) = (0, 0);
    let mut neither = Vec::new();
    for Outcome {
        example,
        html,
        told,
    } in published(&examples)
    {
        let (number, theirs) = (example.number, standard(&example.html));
        if told.is_empty() && html == theirs {
            same += 1;
        } else if !told.is_empty() && told.iter().all(|one| refuses(one, &example.html)) {
            refused += 1;
        } else {
            let markdown = &example.markdown;
            neither.push(format!(
                "{number}: {markdown:?}\n  {theirs:?}\n  {html:?}\n  {told:?}"
            ));
        }
    }
    assert!(neither.is_empty(), "{}", neither.join("\n"));
    assert_eq!((same, refused), (433, 219));
}

#[test]
fn what_the_standard_shows_and_a_page_must_not_is_refused_and_the_rest_is_the_standards() {
    let examples = examples();
    for Outcome {
        example,
        html,
        told,
    } in published(&examples)
    {
        let (number, theirs) = (example.number, standard(&example.html));
        let codes = told.iter().map(|(code, _)| *code);
        if codes.clone().any(|code| code == "raw-html") {
            continue;
        }
        let counted = codes.clone().any(|code| code == "list-number");
        let nowhere = codes.clone().any(|code| code == "bad-link");
        let sorts: BTreeSet<&str> = codes.filter_map(sort).collect();
        assert_eq!(sorts, due(&example.html), "{number}: {told:?}");
        // titles are the page's head to print, pictures that there are none of are left out
        let mut left = replaced(&theirs, "<h1>", "</h1>", "");
        left = replaced(&left, "<img src=\"", "/>", "");
        // steps are counted through a page from 1
        if counted {
            left = replaced(&left, "<ol start=\"", ">", "<ol>");
        }
        // where a writer may not send a reader, the words stand alone
        if nowhere {
            left = replaced(&left, "<a href=\"", ">", "").replace("</a>", "");
        }
        assert_eq!(html, spaced(&left), "{number}: {told:?}");
    }
}
