//! Notices which of a handbook's files changed: told by the system, and by looking.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};
use std::time::{Duration, Instant};

use notify::event::Event;
use notify::{Config, RecommendedWatcher, RecursiveMode, Watcher};

use super::heard::{SystemWord, hear};
use crate::handbook::walk::{FileStamp, stamp, stamps, starts};

/// One save comes as several events: they are one change when no more come for so long.
const QUIET: Duration = Duration::from_millis(8);

/// What never falls quiet is looked at after so long all the same.
const GATHERED: Duration = Duration::from_millis(50);

/// How often to look where the system tells nothing.
const ALONE: Duration = Duration::from_millis(150);

/// How often to look beside what the system tells: a network folder's events may not arrive.
const BESIDE: Duration = Duration::from_secs(2);

/// Paths inside the handbook, with forward slashes.
pub type ChangedPaths = BTreeSet<String>;

/// A handbook's folder under watch.
pub struct HandbookWatch {
    root: PathBuf,
    /// The files as they were when last looked at.
    known: BTreeMap<String, FileStamp>,
    /// The system's watcher; none where there is no such thing, or where it failed.
    system: Option<RecommendedWatcher>,
    /// Folders that the system's watcher has taken.
    taken: BTreeSet<PathBuf>,
    told: Receiver<SystemWord>,
    /// How often to look unasked.
    pause: Duration,
    /// Why the system can't tell, until that was said.
    trouble: Option<String>,
}

/// What was told until it was quiet.
struct SystemTold {
    named: ChangedPaths,
    /// Nothing but these files can have changed, as far as the system tells.
    all: bool,
}

impl HandbookWatch {
    /// Starts to watch. This must come before the files are read: what changes in between is
    /// then seen as a change.
    pub fn new(root: &Path) -> HandbookWatch {
        let (tell, told) = channel();
        let mut watch = HandbookWatch {
            root: root.to_path_buf(),
            known: BTreeMap::new(),
            system: None,
            taken: BTreeSet::new(),
            told,
            pause: BESIDE,
            trouble: None,
        };
        // links aren't followed when a handbook is read, and may lead to the whole disk
        let config = Config::default().with_follow_symlinks(false);
        // some systems tell real paths, whatever path they were asked for
        let real = root.canonicalize().unwrap_or_else(|_| root.to_path_buf());
        let hear = {
            let real = real.clone();
            move |event: notify::Result<Event>| hear(&real, event, &tell)
        };
        match RecommendedWatcher::new(hear, config) {
            Ok(system) => {
                watch.system = Some(system);
                watch.root = real;
                watch.take_folders();
            }
            Err(error) => watch.fall_back(&error.to_string()),
        }
        watch.known = stamps(&watch.root);
        watch
    }

    /// Calls `changed` after each change with what changed, for ever.
    pub fn each_change(mut self, say: &dyn Fn(String), mut changed: impl FnMut(&ChangedPaths)) {
        loop {
            if let Some(why) = self.trouble.take() {
                say(format!(
                    "The system can't tell what changes here ({why}); the folder is looked at every {} ms.",
                    ALONE.as_millis()
                ));
            }
            let paths = self.next_look();
            if !paths.is_empty() {
                changed(&paths);
            }
        }
    }

    /// Waits until it is time to look, and gives what changed since the last look: often nothing.
    fn next_look(&mut self) -> ChangedPaths {
        let SystemTold { named, all } = self.gather();
        if all && let Some(stamps) = self.stamps_of(&named) {
            self.known.extend(stamps);
            return named;
        }
        // before the look, so that nothing falls between the two
        self.take_folders();
        let now = stamps(&self.root);
        let is_named = |path: &str| {
            let mut above = path.match_indices('/').map(|(at, _)| &path[..at]);
            named.contains(path) || (!named.is_empty() && above.any(|one| named.contains(one)))
        };
        let here = now
            .iter()
            .filter(|(path, stamp)| self.known.get(*path) != Some(stamp) || is_named(path));
        let gone = self.known.keys().filter(|path| !now.contains_key(*path));
        let changed = here.map(|(path, _)| path).chain(gone).cloned().collect();
        self.known = now;
        changed
    }

    /// The stamps of files that were known; none where one was not, or is no file any more.
    fn stamps_of(&self, named: &ChangedPaths) -> Option<Vec<(String, FileStamp)>> {
        let stamped = named.iter().map(|path| {
            let known = self.known.contains_key(path);
            let stamp = known.then(|| stamp(&self.root.join(path)))??;
            Some((path.clone(), stamp))
        });
        stamped.collect()
    }

    /// Waits for the first event, or until it is time to look; then until it is quiet.
    fn gather(&mut self) -> SystemTold {
        let mut told = SystemTold {
            named: BTreeSet::new(),
            all: true,
        };
        let mut wait = self.pause;
        let mut first = None;
        loop {
            match self.told.recv_timeout(wait) {
                Ok(SystemWord::Look) => told.all = false,
                Ok(SystemWord::Changed(path)) => {
                    told.named.insert(path);
                }
                Ok(SystemWord::Moved(path)) => {
                    let moved = self.root.join(&path);
                    self.taken.retain(|folder| !folder.starts_with(&moved));
                    told.named.insert(path);
                    told.all = false;
                }
                Ok(SystemWord::Trouble(why)) => {
                    self.fall_back(&why);
                    told.all = false;
                }
                Err(RecvTimeoutError::Timeout) => {
                    // without a word it is time to look
                    told.all &= first.is_some();
                    return told;
                }
                Err(RecvTimeoutError::Disconnected) => {
                    if self.system.take().is_some() {
                        self.fall_back("it stopped");
                    }
                    std::thread::sleep(wait);
                    told.all = false;
                    return told;
                }
            }
            let since = first.get_or_insert_with(Instant::now).elapsed();
            if since >= GATHERED {
                return told;
            }
            wait = QUIET.min(GATHERED.saturating_sub(since));
        }
    }

    /// Has the system watch what it doesn't yet: the handbook's own folders in full, but of the
    /// root only what lies right in it, as sites and programs may be built below.
    fn take_folders(&mut self) {
        let Some(system) = &mut self.system else {
            return;
        };
        let own = starts(&self.root).map(|start| (self.root.join(start), RecursiveMode::Recursive));
        let mut trouble = None;
        for (folder, mode) in own
            .into_iter()
            .chain([(self.root.clone(), RecursiveMode::NonRecursive)])
        {
            if folder.is_dir() && !self.taken.contains(&folder) {
                if let Err(error) = system.watch(&folder, mode) {
                    trouble = Some(error.to_string());
                }
                // one that failed would fail again, and is looked at often from now on
                self.taken.insert(folder);
            }
        }
        if let Some(why) = trouble {
            self.fall_back(&why);
        }
    }

    /// From now on changes are noticed by looking, whatever else is told.
    fn fall_back(&mut self, why: &str) {
        if self.pause != ALONE {
            self.pause = ALONE;
            self.trouble = Some(why.to_string());
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::fs;

    /// Longer than any event takes, so that what comes sooner was told and not looked up.
    const LONG: Duration = Duration::from_secs(10);

    fn handbook() -> tempfile::TempDir {
        let folder = tempfile::tempdir().expect("a folder");
        fs::create_dir(folder.path().join("content")).expect("made");
        for path in ["handbook.toml", "content/index.md", "content/other.md"] {
            fs::write(folder.path().join(path), "first").expect("written");
        }
        folder
    }

    fn watch(folder: &Path) -> HandbookWatch {
        let mut watch = HandbookWatch::new(folder);
        assert_eq!(watch.trouble, None);
        watch.pause = LONG;
        watch
    }

    /// The next change, which must not take a look that nobody asked for.
    fn next(watch: &mut HandbookWatch) -> Vec<String> {
        let start = Instant::now();
        loop {
            let paths = watch.next_look();
            assert!(start.elapsed() < LONG, "noticed by looking, if at all");
            if !paths.is_empty() {
                return paths.into_iter().collect();
            }
        }
    }

    #[test]
    fn a_file_that_is_written_made_or_removed_is_named() {
        let folder = handbook();
        let mut watch = watch(folder.path());
        fs::write(folder.path().join("content/index.md"), "second").expect("written");
        assert_eq!(next(&mut watch), ["content/index.md"]);
        fs::create_dir(folder.path().join("content/fit")).expect("made");
        fs::write(folder.path().join("content/fit/a.md"), "new").expect("written");
        assert_eq!(next(&mut watch), ["content/fit/a.md"]);
        fs::remove_file(folder.path().join("content/other.md")).expect("removed");
        assert_eq!(next(&mut watch), ["content/other.md"]);
        fs::write(folder.path().join("handbook.toml"), "second").expect("written");
        assert_eq!(next(&mut watch), ["handbook.toml"]);
    }

    /// Writes a file anew with the length and the time that it has.
    fn rewrite(at: &Path, text: &str) {
        let before = fs::metadata(at).expect("there");
        assert_eq!(before.len(), text.len() as u64);
        fs::write(at, text).expect("written");
        let file = fs::File::options().write(true).open(at).expect("opened");
        file.set_modified(before.modified().expect("a time"))
            .expect("set");
    }

    #[test]
    fn a_file_written_anew_with_the_same_length_and_time_counts_as_changed() {
        let folder = handbook();
        let mut watch = watch(folder.path());
        rewrite(&folder.path().join("content/index.md"), "FIRST");
        assert_eq!(stamps(folder.path()), watch.known);
        assert_eq!(next(&mut watch), ["content/index.md"]);
    }

    #[test]
    fn a_folder_that_appears_while_it_runs_is_watched_too() {
        let folder = handbook();
        let mut watch = watch(folder.path());
        let style = folder.path().join("themes/styles/own.css");
        fs::create_dir_all(style.parent().expect("a folder")).expect("made");
        fs::write(&style, "first").expect("written");
        assert_eq!(next(&mut watch), ["themes/styles/own.css"]);
        rewrite(&style, "other");
        assert_eq!(next(&mut watch), ["themes/styles/own.css"]);
        // and once more when it is another folder of the same name
        fs::rename(folder.path().join("themes"), folder.path().join("away")).expect("moved");
        assert_eq!(next(&mut watch), ["themes/styles/own.css"]);
        fs::rename(folder.path().join("away"), folder.path().join("themes")).expect("moved");
        assert_eq!(next(&mut watch), ["themes/styles/own.css"]);
        rewrite(&style, "third");
        assert_eq!(next(&mut watch), ["themes/styles/own.css"]);
    }

    #[test]
    fn building_publishing_and_reading_wake_nobody() {
        let folder = handbook();
        let watch = watch(folder.path());
        for name in ["public", "target", "content/.git"] {
            fs::create_dir(folder.path().join(name)).expect("made");
            fs::write(folder.path().join(name).join("a.md"), "a").expect("written");
        }
        fs::read(folder.path().join("content/index.md")).expect("read");
        fs::read_dir(folder.path().join("content")).expect("read");
        // events come in their order: the first that is told is of this
        fs::write(folder.path().join("content/other.md"), "second").expect("written");
        let first = watch.told.recv_timeout(LONG);
        assert_eq!(
            first,
            Ok(SystemWord::Changed("content/other.md".to_string()))
        );
    }

    #[test]
    fn an_event_without_a_change_names_nothing() {
        let folder = handbook();
        let mut watch = watch(folder.path());
        let page = folder.path().join("content/index.md");
        fs::set_permissions(&page, fs::metadata(&page).expect("there").permissions()).expect("set");
        fs::write(folder.path().join("content/gone.md"), "brief").expect("written");
        fs::remove_file(folder.path().join("content/gone.md")).expect("removed");
        assert!(watch.next_look().is_empty());
        fs::write(folder.path().join("content/other.md"), "second").expect("written");
        assert_eq!(next(&mut watch), ["content/other.md"]);
    }

    #[test]
    fn where_the_system_tells_nothing_a_change_is_found_by_looking() {
        let folder = handbook();
        let mut watch = watch(folder.path());
        watch.system = None;
        fs::write(folder.path().join("content/index.md"), "second").expect("written");
        let mut found = ChangedPaths::new();
        while found.is_empty() {
            watch.fall_back("a reason");
            found = watch.next_look();
        }
        assert_eq!(watch.trouble.as_deref(), Some("a reason"));
        assert_eq!(found.into_iter().collect::<Vec<_>>(), ["content/index.md"]);
    }
}
