//! The demonstration is the same bytes wherever, whenever and on whatever system it is published.

use std::collections::BTreeMap;
use std::fs::{self, File, FileTimes};
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::LazyLock;
use std::time::{Duration, SystemTime};

use walkdir::WalkDir;

type Files = BTreeMap<PathBuf, Vec<u8>>;

/// The files of a folder, by their paths in it.
fn files(folder: &Path) -> Files {
    let entries = WalkDir::new(folder)
        .into_iter()
        .map(|entry| entry.expect("an entry"));
    let files = entries.filter(|entry| entry.file_type().is_file());
    files
        .map(|entry| {
            let path = entry.path().strip_prefix(folder).expect("a path in it");
            (path.to_path_buf(), fs::read(entry.path()).expect("a file"))
        })
        .collect()
}

/// The demonstration handbook without what the repository has beside it.
static DEMONSTRATION: LazyLock<Files> = LazyLock::new(|| {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let content = files(&root.join("content")).into_iter();
    let mut all: Files = content
        .map(|(path, bytes)| (Path::new("content").join(path), bytes))
        .collect();
    let head = fs::read(root.join("handbook.toml")).expect("its settings");
    all.insert("handbook.toml".into(), head);
    all
});

fn written<'f>(files: impl Iterator<Item = (&'f PathBuf, &'f Vec<u8>)>, folder: &Path) {
    for (path, bytes) in files {
        let at = folder.join(path);
        fs::create_dir_all(at.parent().expect("a folder")).expect("a folder made");
        fs::write(at, bytes).expect("a file written");
    }
}

/// The site that the program makes of a folder.
fn published(folder: &Path, command: &mut Command) -> Files {
    let output = command
        .current_dir(folder)
        .output()
        .expect("the program runs");
    let said = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "{said}");
    files(&folder.join("public"))
}

fn program() -> Command {
    let mut program = Command::new(env!("CARGO_BIN_EXE_gaugeleaf"));
    program.arg("publish");
    program
}

static SITE: LazyLock<Files> = LazyLock::new(|| {
    let folder = tempfile::tempdir().expect("a folder");
    written(DEMONSTRATION.iter(), folder.path());
    published(folder.path(), &mut program())
});

/// Says which files are others, where some are.
fn same(found: &Files, what: &str) {
    assert!(SITE.len() > 100, "{} files", SITE.len());
    let paths: Vec<_> = found.keys().chain(SITE.keys()).collect();
    let others: Vec<_> = paths
        .into_iter()
        .filter(|path| found.get(*path) != SITE.get(*path))
        .collect();
    assert!(others.is_empty(), "{what}: {others:?}");
}

#[test]
fn in_another_folder_at_another_depth_with_its_files_made_in_another_order_and_on_another_day() {
    let folder = tempfile::tempdir().expect("a folder");
    let deep = folder
        .path()
        .join("a yard's handbook/Ünit 7/of/the/north side");
    fs::create_dir_all(&deep).expect("a folder made");
    written(DEMONSTRATION.iter().rev(), &deep);
    let day = FileTimes::new().set_modified(SystemTime::UNIX_EPOCH + Duration::from_secs(86_400));
    for path in DEMONSTRATION.keys() {
        let file = File::options()
            .write(true)
            .open(deep.join(path))
            .expect("a file");
        file.set_times(day).expect("another day");
    }
    same(&published(&deep, &mut program()), "another folder");
}

#[test]
fn with_any_number_of_threads_in_any_zone_language_and_environment() {
    let folder = tempfile::tempdir().expect("a folder");
    written(DEMONSTRATION.iter(), folder.path());
    for settings in [
        &[
            ("RAYON_NUM_THREADS", "1"),
            ("TZ", "Pacific/Kiritimati"),
            ("LC_ALL", "tr_TR.UTF-8"),
            ("LANG", "tr_TR.UTF-8"),
        ][..],
        &[
            ("RAYON_NUM_THREADS", "8"),
            ("TZ", "America/St_Johns"),
            ("LC_ALL", "C"),
            ("LANGUAGE", "de:ar"),
            ("COLUMNS", "20"),
            ("SOURCE_DATE_EPOCH", "1"),
        ],
    ] {
        let site = published(folder.path(), program().envs(settings.iter().copied()));
        same(&site, &format!("{settings:?}"));
    }
    same(
        &published(folder.path(), program().env_clear()),
        "no environment",
    );
}

/// Some editors end lines as Windows does, and begin a file with a mark.
#[test]
fn with_the_line_ends_and_the_byte_order_mark_of_windows() {
    let folder = tempfile::tempdir().expect("a folder");
    let windows = |bytes: &Vec<u8>| match std::str::from_utf8(bytes) {
        Ok(text) => format!("\u{feff}{}", text.replace('\n', "\r\n")).into_bytes(),
        Err(_) => bytes.clone(),
    };
    let texts = DEMONSTRATION.iter().map(|(path, bytes)| {
        let ends = path
            .extension()
            .is_some_and(|kind| kind == "md" || kind == "toml");
        (
            path.clone(),
            if ends { windows(bytes) } else { bytes.clone() },
        )
    });
    written(texts.collect::<Files>().iter(), folder.path());
    same(&published(folder.path(), &mut program()), "line ends");
}

/// What may be read is the system's to say: a site is for whom the folder's owner lets in.
#[cfg(unix)]
#[test]
fn under_any_mask_of_permissions_which_its_files_and_folders_follow() {
    use std::os::unix::fs::PermissionsExt;
    let folder = tempfile::tempdir().expect("a folder");
    written(DEMONSTRATION.iter(), folder.path());
    let program = env!("CARGO_BIN_EXE_gaugeleaf");
    // on one core, where the system can say so: the index is built by as many threads as there are
    let one_core = "umask $0; command -v taskset >/dev/null && exec taskset -c 0 \"$1\" publish; exec \"$1\" publish";
    let any_core = "umask $0; exec \"$1\" publish";
    for (mask, line, file, inner) in [
        ("077", one_core, 0o600, 0o700),
        ("022", any_core, 0o644, 0o755),
    ] {
        let mut shell = Command::new("sh");
        shell.args(["-c", line, mask, program]);
        // a site that is there is replaced whole, with its permissions
        same(&published(folder.path(), &mut shell), mask);
        let mode = |path: &str| {
            let at = folder.path().join("public").join(path);
            fs::metadata(at).expect("it is there").permissions().mode() & 0o777
        };
        let found = ["index.html", "scripts/load.js", "scripts", ""].map(mode);
        let found = found.map(|mode| format!("{mode:o}"));
        let wanted = [file, file, inner, inner].map(|mode| format!("{mode:o}"));
        assert_eq!(found, wanted, "umask {mask}");
    }
}
