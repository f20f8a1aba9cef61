//! Templates of a handbook's own that go round for ever or print without end: each is a finding that
//! names it, and the build goes on.

use crate::support::*;

/// The one thing that is wrong with a handbook that has this template: which file, what it points
/// at, and what is said.
fn told(path: &str, text: &str) -> (String, String, String) {
    let folder = Folder::new();
    folder.put(&format!("themes/templates/{path}"), text);
    let built = folder.build();
    let found = errors(&built);
    assert_eq!(found.len(), 1, "{found:?}");
    let (code, file, _, _, at) = found.into_iter().next().expect("one");
    assert_eq!(code, "template");
    let finding = built.findings.iter().find(|one| one.file == file);
    (file, at, finding.expect("it").message.clone())
}

const PART: &str = "blocks/onward.html";

fn told_of_part(text: &str) -> (String, String) {
    let (file, at, message) = told(PART, text);
    assert_eq!(file, format!("themes/templates/{PART}"));
    let (_, said) = message.split_once(": ").expect("what is wrong");
    (at, said.to_string())
}

#[test]
fn loops_in_each_other_that_print_nothing_are_stopped_at_the_tag_that_goes_round() {
    let text = "{% set far = range(end=100000) %}{% for a in far %}{% for b in far -%}\n{% endfor %}{% endfor %}";
    let (at, said) = told_of_part(text);
    assert_eq!(at, "{% for b in far -%}");
    assert_eq!(said, "it goes round more than 1000000 times");
}

#[test]
fn a_component_that_asks_for_itself_again_and_again_is_stopped() {
    let (_, said) = told_of_part(
        "{% component again(n) %}{{ <again n={n} /> }}{% endcomponent %}{{ <again n={1} /> }}",
    );
    assert!(said.contains("recursion depth"), "{said}");
    // no deeper than it may be, and four times each time
    let (at, said) = told_of_part(
        "{% component again(n) %}{% if n > 0 %}{% for i in range(end=4) %}{{ <again n={n - 1} /> }}\
         {% endfor %}{% endif %}{% endcomponent %}{{ <again n={15} /> }}",
    );
    assert!(said.starts_with("it goes round more"), "{at}: {said}");
}

#[test]
fn more_than_a_page_can_be_is_stopped_in_the_template_that_prints_it() {
    let long = "x".repeat(1000);
    let (_, said) = told_of_part(&format!(
        "{{% for a in range(end=100000) %}}{long}{{% endfor %}}"
    ));
    assert_eq!(said, "it prints more than 64 MB");
}

#[test]
fn templates_that_include_each_other_and_a_range_without_end_are_told() {
    let (_, said) = told_of_part("{% include \"blocks/onward.html\" %}");
    assert!(said.starts_with("Circular include"), "{said}");
    let (_, said) = told_of_part("{% for a in range(end=1000000000) %}{% endfor %}");
    assert!(said.contains("exceeds the limit"), "{said}");
}

#[test]
fn a_template_that_lists_what_there_is_may_go_round_a_whole_handbook() {
    let folder = Folder::new();
    let many =
        "{% for a in range(end=1000) %}{% for b in range(end=900) %}{% endfor %}{% endfor %}";
    folder.put(&format!("themes/templates/{PART}"), format!("{many}all"));
    let built = folder.build();
    assert_eq!(errors(&built), []);
    let page = String::from_utf8_lossy(&built.site["fit/page.html"]).into_owned();
    assert!(page.contains("all\n"), "{page}");
}
