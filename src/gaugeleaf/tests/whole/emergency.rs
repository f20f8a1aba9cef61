//! Whom to call: from handbook.toml on to the page, and what stops a handbook that says nothing of it.

use crate::support::*;

const BLOCK: &str = "# Emergency\n\n```emergency\n```\n";
const BARE: &str = "title = \"T\"\nrevision = \"A\"\ncaution = \"C\"\n";

/// The page as it is published, and the codes of what stops it.
fn shown(head: &str) -> (String, Vec<&'static str>) {
    let folder = Folder::new();
    folder.put("handbook.toml", head);
    folder.put("content/emergency.md", BLOCK);
    let built = folder.build();
    let page = built.site.get("emergency.html");
    let page = page.map_or(String::new(), |page| String::from_utf8_lossy(page).into());
    let codes = errors(&built).into_iter().map(|(code, ..)| code);
    (page, codes.collect())
}

#[test]
fn a_number_is_shown_as_people_read_it_and_dialled_as_a_phone_does() {
    let head = format!(
        "{BARE}\n[[emergency]]\nlabel = \"Site rescue\"\nnumber = \"+1 (555) 010-0123\"\n\
         note = \"or channel 3\"\n\n[[emergency]]\nlabel = \"Hospital\"\nnumber = \"112\"\n"
    );
    let (page, errors) = shown(&head);
    assert!(errors.is_empty(), "{errors:?}");
    let first = page.find("tel:+15550100123").expect("the first number");
    let second = page.find("tel:112").expect("the second number");
    assert!(first < second);
    for part in ["Site rescue", "+1 (555) 010-0123", "or channel 3"] {
        assert!(page.contains(part), "{part}");
    }
}

#[test]
fn a_handbook_for_work_says_whom_to_call_and_a_demonstration_need_not() {
    let (_, errors) = shown(BARE);
    assert_eq!(errors, ["no-emergency"]);
    let (page, errors) = shown(&format!("{BARE}demonstration = true\n"));
    assert!(errors.is_empty(), "{errors:?}");
    assert!(page.contains("<li>Rescue:</li>"));
}

#[test]
fn what_no_phone_dials_is_told_and_stands_for_no_number() {
    let head = format!("{BARE}emergency = [{{ label = \"Rescue\", number = \"channel 3\" }}]\n");
    let (_, errors) = shown(&head);
    assert_eq!(errors, ["bad-phone"]);
    let nameless = format!("{BARE}emergency = [{{ number = \"112\" }}]\n");
    let (_, errors) = shown(&nameless);
    assert_eq!(errors, ["missing-setting"]);
}
