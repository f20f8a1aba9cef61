//! Publishing from the command line: all of a site, or what was there before, and nothing beside it.

use std::fs;
use std::path::Path;
use std::process::Output;

use crate::support::*;

fn words(output: &Output) -> String {
    let (said, complained) = (&output.stdout, &output.stderr);
    [said, complained]
        .map(|bytes| String::from_utf8_lossy(bytes).into_owned())
        .concat()
}

/// What stands in a folder, by name.
fn names(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).expect("a folder");
    let mut names: Vec<String> = entries
        .map(|entry| entry.expect("an entry").file_name())
        .map(|name| name.to_string_lossy().into_owned())
        .collect();
    names.sort();
    names
}

#[test]
fn a_changed_site_is_replaced_only_with_replace_and_a_new_title_changes_nothing() {
    let folder = Folder::new();
    assert_eq!(folder.run(&[]).status.code(), Some(0));
    fs::write(folder.public("index.html"), "by hand").expect("written");
    let refused = folder.run(&[]);
    assert_eq!(refused.status.code(), Some(2));
    assert!(words(&refused).contains("index.html was changed after it was published"));
    assert_eq!(folder.run(&["--replace"]).status.code(), Some(0));
    // in its own folder it is this handbook, whatever it is called by now
    folder.put("handbook.toml", HEAD.replace("Test yard", "Dock"));
    assert_eq!(folder.run(&[]).status.code(), Some(0));
    let other = Folder::new();
    let to = folder.public("");
    let to = to.to_str().expect("UTF-8");
    let refused = other.run(&["publish", "--to", to]);
    assert_eq!(refused.status.code(), Some(2));
    assert!(words(&refused).contains("holds the site of another handbook, \"Dock\""));
    let replaced = other.run(&["publish", "--replace", "--to", to]);
    assert_eq!(replaced.status.code(), Some(0), "{}", words(&replaced));
}

#[test]
fn no_site_goes_into_the_handbooks_own_folders() {
    let folder = Folder::new();
    let before = names(folder.path());
    for to in ["themes", "calculators", "content/sub"] {
        let refused = folder.run(&["publish", "--to", to]);
        assert_eq!(refused.status.code(), Some(2), "{to}");
        assert!(
            words(&refused).contains("where the handbook is read from"),
            "{to}"
        );
    }
    assert_eq!(names(folder.path()), before);
}

#[cfg(target_os = "linux")]
mod told_to_end {
    use std::os::unix::process::ExitStatusExt;
    use std::process::{Child, Command, Stdio};
    use std::time::{Duration, Instant};

    use super::*;

    /// A publish of the demonstration, which takes a while to write, that has begun to write; `signals`
    /// says what becomes of them.
    fn writing(target: &Path, signals: &str) -> Child {
        let child = Command::new("env")
            .args([signals, env!("CARGO_BIN_EXE_gaugeleaf"), "publish"])
            .arg(Path::new(env!("CARGO_MANIFEST_DIR")).join("../.."))
            .arg("--to")
            .arg(target)
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .expect("the program runs");
        let patience = Instant::now() + Duration::from_secs(60);
        while !target.with_extension("publishing").join("new").exists() {
            assert!(Instant::now() < patience, "nothing is written");
        }
        child
    }

    fn tell(publish: &Child, signal: &str) {
        let kill = Command::new("kill")
            .args(["-s", signal, &publish.id().to_string()])
            .status();
        assert!(kill.expect("told").success());
    }

    #[test]
    fn a_publish_that_is_told_to_end_leaves_the_old_site_and_nothing_beside_it() {
        let folder = tempfile::tempdir().expect("a folder");
        let target = folder.path().join("deep/public");
        let manifest = || fs::read(target.join("manifest.json")).ok();
        for (signal, number, left) in [("HUP", 1, 0), ("INT", 2, 0), ("TERM", 15, 1)] {
            let signals = "--default-signal=HUP,INT,TERM";
            if left == 1 {
                let ended = writing(&target, signals).wait();
                assert!(ended.expect("ended").success());
            }
            let before = manifest();
            let mut publish = writing(&target, signals);
            tell(&publish, signal);
            let status = publish.wait().expect("ended");
            assert_eq!(status.signal(), Some(number), "{status}");
            assert_eq!(names(folder.path()).len(), left, "{signal}");
            assert_eq!(manifest(), before);
        }
        assert_eq!(names(&folder.path().join("deep")), ["public"]);
    }

    #[test]
    fn a_publish_that_was_told_to_ignore_its_terminals_end_goes_on() {
        let folder = tempfile::tempdir().expect("a folder");
        let target = folder.path().join("public");
        let mut publish = writing(&target, "--ignore-signal=HUP");
        tell(&publish, "HUP");
        assert!(publish.wait().expect("ended").success());
        assert_eq!(names(folder.path()), ["public"]);
    }
}
