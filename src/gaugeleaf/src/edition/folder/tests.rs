//! What a publish leaves in its target, and beside it.

use super::*;

fn begun(target: &Path) -> Result<Staging, Refused> {
    Staging::begin(target, Path::new("/no/handbook"), &|| ())
}

fn written(text: &str, target: &Path, handbook: &str, replace: bool) -> Result<(), Refused> {
    let staging = begun(target)?;
    staging.put("index.html", text.into());
    staging.put("a/b.html", b"b".to_vec());
    staging.finish(handbook, &Worker::default(), replace)
}

fn write(text: &str, target: &Path) -> Result<(), Refused> {
    written(text, target, "Yard", false)
}

#[test]
fn a_second_publish_replaces_the_first_and_leaves_nothing_beside_it() -> io::Result<()> {
    let folder = tempfile::tempdir()?;
    let target = folder.path().join("public");
    assert!(write("one", &target).is_ok());
    assert!(write("two", &target).is_ok());
    assert_eq!(fs::read_to_string(target.join("index.html"))?, "two");
    assert_eq!(fs::read_dir(folder.path())?.count(), 1);
    Ok(())
}

#[test]
fn a_folder_with_files_of_others_is_left_alone() -> io::Result<()> {
    let folder = tempfile::tempdir()?;
    fs::write(folder.path().join("thesis.txt"), "mine")?;
    assert!(matches!(
        write("one", folder.path()),
        Err(Refused::NotOurs(_))
    ));
    assert_eq!(
        fs::read_to_string(folder.path().join("thesis.txt"))?,
        "mine"
    );
    Ok(())
}

#[test]
fn a_file_added_to_a_published_site_stops_the_next_publish() -> io::Result<()> {
    let folder = tempfile::tempdir()?;
    let target = folder.path().join("public");
    assert!(write("one", &target).is_ok());
    fs::write(target.join("notes.txt"), "mine")?;
    assert!(matches!(write("two", &target), Err(Refused::NotOurs(_))));
    assert_eq!(fs::read_to_string(target.join("index.html"))?, "one");
    Ok(())
}

#[test]
fn the_manifest_lists_every_file_with_its_mark() -> io::Result<()> {
    let folder = tempfile::tempdir()?;
    let target = folder.path().join("public");
    assert!(write("one", &target).is_ok());
    let text = fs::read_to_string(target.join(MANIFEST))?;
    assert!(
        text.contains(&format!("\"index.html\": \"{}\"", mark(b"one"))),
        "{text}"
    );
    Ok(())
}

#[test]
fn what_is_not_finished_leaves_the_old_site_and_nothing_beside_it() -> io::Result<()> {
    let folder = tempfile::tempdir()?;
    let target = folder.path().join("public");
    assert!(write("one", &target).is_ok());
    let staging = begun(&target).expect("our own site");
    staging.put("index.html", b"two".to_vec());
    drop(staging);
    assert_eq!(fs::read_to_string(target.join("index.html"))?, "one");
    assert_eq!(fs::read_dir(folder.path())?.count(), 1);
    let staging = begun(&folder.path().join("deep/down/public")).expect("nothing there");
    staging.put("index.html", b"two".to_vec());
    assert!(folder.path().join("deep").exists());
    drop(staging);
    assert_eq!(fs::read_dir(folder.path())?.count(), 1);
    Ok(())
}

#[test]
fn what_the_disk_refuses_is_told_at_the_end_and_leaves_the_old_site() -> io::Result<()> {
    let folder = tempfile::tempdir()?;
    let target = folder.path().join("public");
    assert!(write("one", &target).is_ok());
    let staging = begun(&target).expect("our own site");
    staging.put("a", b"a file".to_vec());
    staging.put("a/b.html", b"no folder".to_vec());
    staging.put("c.html", b"too late".to_vec());
    assert!(matches!(
        staging.finish("Yard", &Worker::default(), false),
        Err(Refused::Disk(..))
    ));
    assert_eq!(fs::read_to_string(target.join("index.html"))?, "one");
    assert_eq!(fs::read_dir(folder.path())?.count(), 1);
    Ok(())
}

#[test]
fn nothing_is_written_outside_the_site() -> io::Result<()> {
    let folder = tempfile::tempdir()?;
    for path in ["../../out.html", "/out.html", "a/../../../out.html"] {
        let staging = begun(&folder.path().join("public")).expect("nothing there");
        staging.put(path, b"x".to_vec());
        assert!(
            matches!(
                staging.finish("Yard", &Worker::default(), false),
                Err(Refused::Disk(..))
            ),
            "{path}"
        );
    }
    assert_eq!(fs::read_dir(folder.path())?.count(), 0);
    Ok(())
}

#[test]
fn what_comes_into_the_target_while_a_site_is_made_is_not_lost() -> io::Result<()> {
    let folder = tempfile::tempdir()?;
    let target = folder.path().join("public");
    let staging = begun(&target).expect("nothing there");
    staging.put("index.html", b"one".to_vec());
    fs::create_dir(&target)?;
    fs::write(target.join("thesis.txt"), "mine")?;
    assert!(matches!(
        staging.finish("Yard", &Worker::default(), false),
        Err(Refused::NotOurs(_))
    ));
    assert_eq!(fs::read_to_string(target.join("thesis.txt"))?, "mine");
    Ok(())
}

#[test]
fn a_site_that_was_changed_or_is_anothers_is_replaced_only_where_it_is_said() -> io::Result<()> {
    let folder = tempfile::tempdir()?;
    let target = folder.path().join("public");
    let page = target.join("a/b.html");
    let holds = || fs::read_to_string(target.join("index.html"));
    assert!(write("one", &target).is_ok());
    fs::write(&page, "by hand")?;
    let Err(Refused::Edited(told)) = write("two", &target) else {
        panic!("a page by hand is lost");
    };
    assert_eq!((told, holds()?.as_str()), (page.clone(), "one"));
    assert!(written("two", &target, "Yard", true).is_ok());
    assert_eq!(
        (fs::read_to_string(&page)?.as_str(), holds()?.as_str()),
        ("b", "two")
    );
    // what somebody removed is no loss
    fs::remove_file(&page)?;
    assert!(write("three", &target).is_ok());
    let Err(Refused::OfAnother(_, title)) = written("four", &target, "Dock", false) else {
        panic!("another handbook's site is lost");
    };
    assert_eq!((title.as_str(), holds()?.as_str()), ("Yard", "three"));
    assert!(written("four", &target, "Dock", true).is_ok());
    fs::write(target.join("notes.txt"), "mine")?;
    assert!(matches!(
        written("five", &target, "Dock", true),
        Err(Refused::NotOurs(_))
    ));
    assert_eq!(fs::read_dir(folder.path())?.count(), 1);
    Ok(())
}

#[test]
fn what_a_killed_publish_left_is_cleared_and_what_others_have_there_is_not() -> io::Result<()> {
    let folder = tempfile::tempdir()?;
    let target = folder.path().join("public");
    let beside = folder.path().join("public.publishing");
    assert!(write("one", &target).is_ok());
    fs::create_dir_all(beside.join("new/a"))?;
    fs::write(beside.join("gaugeleaf.lock"), "")?;
    fs::write(beside.join("new/a/index.html"), "half")?;
    drop(begun(&target));
    assert!(!beside.exists());
    for theirs in ["notes.txt", "new/index.html"] {
        fs::create_dir_all(beside.join("new"))?;
        fs::write(beside.join(theirs), "mine")?;
        assert!(matches!(write("two", &target), Err(Refused::NotOurs(_))));
        assert_eq!(fs::read_to_string(beside.join(theirs))?, "mine");
        fs::remove_dir_all(&beside)?;
    }
    fs::write(&beside, "a file")?;
    assert!(matches!(write("two", &target), Err(Refused::NotOurs(_))));
    assert_eq!(fs::read_to_string(target.join("index.html"))?, "one");
    Ok(())
}

#[test]
fn a_site_that_is_missing_and_whose_copy_lies_beside_it_is_put_back() -> io::Result<()> {
    let folder = tempfile::tempdir()?;
    let target = folder.path().join("public");
    let beside = folder.path().join("public.publishing");
    assert!(write("one", &target).is_ok());
    // as a kill between the two steps leaves it, where there is no single one
    fs::create_dir_all(beside.join("new"))?;
    fs::write(beside.join("gaugeleaf.lock"), "")?;
    fs::rename(&target, beside.join("old"))?;
    drop(begun(&target));
    assert_eq!(fs::read_to_string(target.join("index.html"))?, "one");
    assert!(!beside.exists());
    // beside a site that is there it is litter
    fs::create_dir_all(beside.join("old"))?;
    fs::write(beside.join("gaugeleaf.lock"), "")?;
    fs::write(beside.join("old/index.html"), "zero")?;
    drop(begun(&target));
    assert_eq!(fs::read_to_string(target.join("index.html"))?, "one");
    assert!(!beside.exists());
    Ok(())
}

#[test]
fn of_two_publishes_to_one_target_the_second_says_that_it_waits() -> io::Result<()> {
    let folder = tempfile::tempdir()?;
    let target = folder.path().join("public");
    let first = begun(&target).expect("nothing there");
    first.put("index.html", b"one".to_vec());
    let (says, told) = std::sync::mpsc::channel();
    std::thread::scope(|scope| {
        let second = scope.spawn(|| {
            let waits = || says.send(()).expect("somebody listens");
            let second = Staging::begin(&target, Path::new("/no/handbook"), &waits);
            let found = fs::read_to_string(target.join("index.html"));
            let second = second.expect("free");
            second.put("index.html", b"two".to_vec());
            (found, second.finish("Yard", &Worker::default(), false))
        });
        told.recv().expect("the second waits");
        assert!(first.finish("Yard", &Worker::default(), false).is_ok());
        let (found, finished) = second.join().expect("no panic");
        assert_eq!(found.expect("a site"), "one");
        assert!(finished.is_ok());
    });
    assert!(told.try_recv().is_err(), "told once");
    assert_eq!(fs::read_to_string(target.join("index.html"))?, "two");
    assert_eq!(fs::read_dir(folder.path())?.count(), 1);
    Ok(())
}

#[test]
fn no_site_goes_where_its_handbook_is_read_from() -> io::Result<()> {
    let folder = tempfile::tempdir()?;
    let handbook = folder.path();
    fs::create_dir(handbook.join("content"))?;
    let refused = |to: &str| {
        let begun = Staging::begin(&handbook.join(to), handbook, &|| ());
        begun.err()
    };
    for to in [
        "content",
        "content/public",
        "themes",
        "calculators/a/b",
        "a/../themes/b",
    ] {
        assert!(matches!(refused(to), Some(Refused::Inside(..))), "{to}");
    }
    assert_eq!(fs::read_dir(handbook)?.count(), 1);
    assert!(refused("contents").is_none());
    Ok(())
}

#[cfg(unix)]
#[test]
fn a_link_to_nothing_is_told_as_one() -> io::Result<()> {
    let folder = tempfile::tempdir()?;
    let target = folder.path().join("public");
    std::os::unix::fs::symlink("gone", &target)?;
    let refused = write("one", &target).expect_err("nowhere to write");
    let words = format!("{} is a link to gone, which isn't there", target.display());
    assert!(refused.to_string().starts_with(&words), "{refused}");
    fs::create_dir(folder.path().join("gone"))?;
    assert!(write("one", &target).is_ok());
    assert_eq!(fs::read_to_string(target.join("index.html"))?, "one");
    assert!(target.is_symlink());
    Ok(())
}
