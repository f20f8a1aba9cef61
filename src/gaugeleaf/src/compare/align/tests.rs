//! Alignment on a few lines.

use super::*;

fn steps(texts: &[&str]) -> Vec<Act> {
    let numbered = texts.iter().zip(1..);
    let step = |(text, number): (&&str, i32)| Act::new(ActKind::Step, format!("{number}. {text}"));
    numbered.map(step).collect()
}

fn told(old: &[Act], new: &[Act]) -> Vec<Fate> {
    let fates = align(old, new).into_iter();
    fates
        .filter(|fate| !matches!(fate, Fate::Kept(..)))
        .collect()
}

#[test]
fn a_step_in_front_changes_none_behind_it() {
    let old = steps(&["Open the valve.", "Shut the valve.", "Open the valve."]);
    let new = steps(&[
        "Lock the pump.",
        "Open the valve.",
        "Shut the valve.",
        "Open the valve.",
    ]);
    assert_eq!(told(&old, &new), [Fate::Added(0)]);
    assert_eq!(told(&new, &old), [Fate::Gone(0)]);
    assert_eq!(told(&new, &new), []);
}

#[test]
fn a_step_with_another_value_is_the_same_one_changed() {
    let old = steps(&["Set posts 33 ft from the drive.", "Tie the tape."]);
    let new = steps(&[
        "Walk the line.",
        "Set posts 50 ft from the drive.",
        "Tie the tape.",
    ]);
    assert_eq!(told(&old, &new), [Fate::Added(0), Fate::Changed(0, 1)]);
}

#[test]
fn steps_that_say_other_things_are_gone_and_new() {
    let old = steps(&["Open the drain by hand.", "Wait."]);
    let new = steps(&["Call the site's escort.", "Wait."]);
    let fates = told(&old, &new);
    assert!(fates.contains(&Fate::Gone(0)) && fates.contains(&Fate::Added(0)));
    assert_eq!(fates.len(), 2);
}

#[test]
fn what_stands_elsewhere_is_moved_and_told_once() {
    let old = steps(&["One.", "Two.", "Three.", "Four."]);
    let new = steps(&["Four.", "One.", "Two.", "Three."]);
    assert_eq!(told(&old, &new), [Fate::Moved(3, 0)]);
    let picture = Act::new(ActKind::Picture, "a.svg 00000000");
    let first = [std::slice::from_ref(&picture), &old].concat();
    let last = [&old, std::slice::from_ref(&picture)].concat();
    assert_eq!(told(&first, &last), [Fate::Moved(0, 4)]);
}

#[test]
fn kinds_are_never_taken_for_each_other() {
    let old = [Act::new(ActKind::Item, "Never alone.")];
    let new = [Act::new(ActKind::Row, "Never alone.")];
    let fates = told(&old, &new);
    assert!(fates.contains(&Fate::Gone(0)) && fates.contains(&Fate::Added(0)));
}

#[test]
fn a_picture_is_known_by_its_name_and_a_block_by_its_title() {
    let picture = |text: &str| Act::new(ActKind::Picture, text);
    let old = [picture("a.svg 11111111"), picture("b.svg 22222222")];
    let new = [picture("b.svg 33333333"), picture("c.svg 11111111")];
    let fates = told(&old, &new);
    assert_eq!(fates, [Fate::Gone(0), Fate::Changed(1, 0), Fate::Added(1)]);
    let block = |mark: &str, title: &str| Act {
        title: title.to_string(),
        ..Act::new(ActKind::Block, format!("w {mark}"))
    };
    let old = [block("1", "Clamp jaw"), block("2", "Rail level")];
    let new = [block("3", "Rail level")];
    assert_eq!(told(&old, &new), [Fate::Gone(0), Fate::Changed(1, 0)]);
}

#[test]
fn a_row_is_known_by_its_head() {
    let row = |text: &str| Act::new(ActKind::Row, text);
    let old = [row("Bore: 4 mm"), row("Length: 45 ft")];
    let new = [row("Length: 50 ft"), row("Bore: 5 mm")];
    // in one order only: the other is gone and new
    assert_eq!(told(&old, &new).len(), 3);
    let new = [row("Bore: 5 mm"), row("Length: 50 ft")];
    assert_eq!(told(&old, &new), [Fate::Changed(0, 0), Fate::Changed(1, 1)]);
}

#[test]
fn a_long_page_that_is_written_anew_is_compared_soon() {
    let lines = |word: &str| -> Vec<Act> {
        let line = |at: usize| Act::new(ActKind::Line, format!("{word} {at}"));
        (0..20_000).map(line).collect()
    };
    // weighed each against each, this would not end
    let fates = align(&lines("one"), &lines("two"));
    let in_order = (0..20_000).map(|at| Fate::Changed(at, at));
    assert!(fates.into_iter().eq(in_order));
}
