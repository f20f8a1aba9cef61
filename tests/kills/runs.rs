//! A small handbook in two editions, and publishes of it that are killed.

use std::collections::BTreeMap;
use std::os::unix::process::ExitStatusExt;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};
use std::{env, fs, io};

/// When a publish is killed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Aim {
    Anywhen,
    /// From the first file on.
    Writing,
    /// All is written, and nothing is exchanged.
    BeforeTheStep,
    /// The sites are exchanged, and the old one isn't cleared.
    AfterTheStep,
    /// On a system that takes two steps, between these.
    BetweenTwo,
}

impl Aim {
    pub fn words(self) -> &'static str {
        match self {
            Aim::Anywhen => "any time",
            Aim::Writing => "the writing",
            Aim::BeforeTheStep => "before the exchange",
            Aim::AfterTheStep => "after the exchange",
            Aim::BetweenTwo => "between two renames",
        }
    }

    /// How the tracer holds the steps apart.
    fn held(self) -> &'static [&'static str] {
        match self {
            Aim::Anywhen | Aim::Writing => &[],
            Aim::BeforeTheStep => &["inject=renameat2:delay_enter=300000"],
            Aim::AfterTheStep => &["inject=renameat2:delay_exit=300000"],
            Aim::BetweenTwo => &[
                "inject=renameat2:error=EINVAL",
                "inject=rename:delay_exit=300000",
            ],
        }
    }
}

/// No publish of the small handbook takes as long.
const PATIENCE: Duration = Duration::from_secs(60);

/// The handbook's editions, and where they are published to.
pub struct Yard {
    handbooks: [PathBuf; 2],
    /// A handbook with an error.
    faulty: PathBuf,
    folder: PathBuf,
    sites: Vec<BTreeMap<String, Vec<u8>>>,
    traced: bool,
    /// How long a publish takes, and its writing.
    whole: Duration,
    writing: Duration,
}

impl Yard {
    pub fn new(at: &Path) -> io::Result<Yard> {
        let [first, second] = [at.join("first"), at.join("second")];
        let faulty = at.join("faulty");
        write(&first, "Cut it.")?;
        write(&second, "Cut it and mark it.")?;
        write(&faulty, "Cut [it](nowhere.md).")?;
        let folder = at.join("published");
        fs::create_dir(&folder)?;
        let mut tracer = Command::new("strace");
        let mut yard = Yard {
            handbooks: [first, second],
            faulty,
            folder,
            sites: Vec::new(),
            traced: false,
            whole: Duration::ZERO,
            writing: Duration::ZERO,
        };
        yard.traced = tracer.arg("-V").output().is_ok();
        for edition in [1, 0] {
            let begun = Instant::now();
            let mut publish = yard.begin(&yard.handbooks[edition], &[])?;
            until(&mut publish, || yard.fresh().exists())?;
            let writes = Instant::now();
            succeeded(&mut publish)?;
            (yard.whole, yard.writing) = (begun.elapsed(), writes.elapsed());
            yard.sites.insert(0, super::files(&yard.target())?);
        }
        Ok(yard)
    }

    pub fn target(&self) -> PathBuf {
        self.folder.join("public")
    }

    fn fresh(&self) -> PathBuf {
        self.folder.join("public.publishing/new")
    }

    /// Half of the kills are aimed at the writing.
    pub fn aim(&self, number: usize) -> Aim {
        match number % 10 {
            1 if self.traced => Aim::BeforeTheStep,
            3 if self.traced => Aim::AfterTheStep,
            5 if self.traced => Aim::BetweenTwo,
            7 | 9 | 1 | 3 | 5 => Aim::Anywhen,
            _ => Aim::Writing,
        }
    }

    fn begin(&self, handbook: &Path, held: &[&str]) -> io::Result<Child> {
        let program = env::current_exe()?
            .ancestors()
            .nth(2)
            .map(|release| release.join("gaugeleaf"))
            .ok_or(io::ErrorKind::NotFound)?;
        let mut command = if held.is_empty() {
            Command::new(program)
        } else {
            // the tracer stands aside, so that the child is the program
            let mut command = Command::new("strace");
            command.args(["-D", "-f", "--seccomp-bpf", "-o", "/dev/null"]);
            command.args(["-e", "trace=renameat2,rename"]);
            for one in held {
                command.args(["-e", one]);
            }
            command.arg(program);
            command
        };
        command.arg("publish").arg(handbook).arg("--to");
        command.arg(self.target());
        command.stdout(Stdio::null()).stderr(Stdio::null()).spawn()
    }

    /// Publishes an edition, to the end.
    pub fn publish(&self, edition: usize) -> io::Result<()> {
        succeeded(&mut self.begin(&self.handbooks[edition], &[])?)
    }

    /// Publishes what can't be, which puts back what lies beside.
    pub fn publish_faults(&self) -> io::Result<()> {
        match self.begin(&self.faulty, &[])?.wait()?.code() {
            Some(1) => Ok(()),
            other => Err(io::Error::other(format!("a faulty handbook: {other:?}"))),
        }
    }

    /// Publishes an edition and kills it after this share of the time; whether it was killed.
    pub fn kill(&self, aim: Aim, edition: usize, share: f64) -> io::Result<bool> {
        let mut publish = self.begin(&self.handbooks[edition], aim.held())?;
        let (target, fresh) = (self.target(), self.fresh());
        let manifest = &self.sites[edition]["manifest.json"];
        let held = Duration::from_millis(200);
        let wait = match aim {
            Aim::Anywhen => self.whole,
            Aim::Writing => {
                until(&mut publish, || fresh.exists())?;
                self.writing
            }
            Aim::BeforeTheStep => {
                until(&mut publish, || fresh.join("manifest.json").exists())?;
                held
            }
            Aim::AfterTheStep => {
                let there = || fs::read(target.join("manifest.json")).ok();
                until(&mut publish, || there().as_ref() == Some(manifest))?;
                held
            }
            Aim::BetweenTwo => {
                until(&mut publish, || !target.exists())?;
                held
            }
        };
        std::thread::sleep(wait.mul_f64(share));
        publish.kill()?;
        Ok(publish.wait()?.signal() == Some(9))
    }

    /// Which edition is there, whole.
    pub fn edition(&self) -> Option<usize> {
        let files = super::files(&self.target()).ok()?;
        self.sites.iter().position(|site| *site == files)
    }

    /// How much lies beside the site.
    pub fn beside(&self) -> io::Result<usize> {
        Ok(fs::read_dir(&self.folder)?.count() - usize::from(self.target().exists()))
    }
}

/// Waits until something is so, or the publish has ended without it.
fn until(publish: &mut Child, is_so: impl Fn() -> bool) -> io::Result<()> {
    let begun = Instant::now();
    while !is_so() && publish.try_wait()?.is_none() {
        if begun.elapsed() > PATIENCE {
            publish.kill()?;
            return Err(io::ErrorKind::TimedOut.into());
        }
        std::thread::sleep(Duration::from_micros(200));
    }
    Ok(())
}

fn succeeded(publish: &mut Child) -> io::Result<()> {
    match publish.wait()? {
        status if status.success() => Ok(()),
        status => Err(io::Error::other(format!("a publish: {status}"))),
    }
}

/// A handbook of one page, with this step.
fn write(at: &Path, step: &str) -> io::Result<()> {
    let emergency = "emergency = [{ label = \"Rescue\", number = \"112\" }]";
    let page = format!(
        "```page\norder = 10\n```\n\n# Fit\n\n## Do it\n\n> **CAUTION** Sharp edge. It cuts. Wear gloves.\n\n1. {step}\n"
    );
    fs::create_dir_all(at.join("content/fit"))?;
    for (path, text) in [
        (
            "handbook.toml",
            format!(
                "title = \"Yard\"\nrevision = \"A\"\ncaution = \"Local rules come first.\"\n{emergency}\n"
            ),
        ),
        (
            "content/index.md",
            "# Start\n\nRead [the page](fit/page.md) first.\n".into(),
        ),
        (
            "content/fit/phase.toml",
            "title = \"Fit\"\norder = 10\npurpose = \"Fit it.\"\n".into(),
        ),
        ("content/fit/page.md", page),
    ] {
        fs::write(at.join(path), text)?;
    }
    Ok(())
}
