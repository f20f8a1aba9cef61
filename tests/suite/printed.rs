//! The demonstration handbook as it is printed: what people read keeps numbers to their units, and
//! what scripts read stays as typed.

use crate::root;
use gaugeleaf::edition::addresses::FolderEdition;
use gaugeleaf::session::build;

const BOUND: char = '\u{A0}';

/// A page's attributes that scripts read, and its code.
fn typed(html: &str) -> impl Iterator<Item = &str> {
    let attributes = html
        .split(" data-")
        .skip(1)
        .chain(html.split(" value=").skip(1));
    let attributes = attributes.filter_map(|part| part.split('"').nth(1));
    let code = html.split("<code>").skip(1);
    attributes.chain(code.filter_map(|part| part.split("</code>").next()))
}

#[test]
fn what_scripts_and_people_read_is_each_as_it_should_be() {
    let built = build(root(), &FolderEdition);
    let (mut as_typed, mut bound) = (0, 0);
    for (path, bytes) in built
        .site
        .iter()
        .filter(|(path, _)| path.ends_with(".html"))
    {
        let html = std::str::from_utf8(bytes).expect("text");
        for text in typed(html) {
            assert!(!text.contains(BOUND), "{path}: {text}");
            as_typed += usize::from(text.contains("3/4 in"));
        }
        bound += html.matches("3/4\u{A0}in").count();
        // a value, a word or a drawing's words with a loose unit
        for loose in [" 3/4 in<", " 1/2 in<", "0 psi<"] {
            assert!(!html.contains(&format!("{loose}/b>")), "{path}: {loose}");
            assert!(!html.contains(&format!("{loose}/text>")), "{path}: {loose}");
        }
    }
    assert!(
        as_typed > 20 && bound > 500,
        "{as_typed} typed, {bound} bound"
    );
}
