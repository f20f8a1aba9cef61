//! A publish that is told to stop leaves nothing of its own.

use std::io;
use std::sync::Arc;

use super::staging::StagingFolder;

/// Clears the folder when the system asks the program to end (Ctrl+C, the terminal closed, a shutdown),
/// and ends it as if nobody had listened.
#[cfg(unix)]
pub fn clear_on_signal(folder: Arc<StagingFolder>) -> io::Result<()> {
    use signal_hook::consts::{SIGHUP, SIGINT, SIGTERM};
    use signal_hook::iterator::Signals;
    let ignored = ignored();
    let heard = [SIGHUP, SIGINT, SIGTERM];
    let heard = heard
        .into_iter()
        .filter(|signal| ignored >> (signal - 1) & 1 == 0);
    let mut signals = Signals::new(heard)?;
    std::thread::Builder::new().spawn(move || {
        for signal in signals.forever() {
            // nothing is written any more while the guard is held, until the end
            let _cleared = folder.cleared();
            let _ = signal_hook::low_level::emulate_default_handler(signal);
        }
    })?;
    Ok(())
}

/// The signals that whoever started the program has it ignore, as `nohup` does with the terminal's end:
/// a bit for each, where the system tells.
#[cfg(unix)]
fn ignored() -> u64 {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let mask = status.lines().find_map(|line| line.strip_prefix("SigIgn:"));
    mask.and_then(|mask| u64::from_str_radix(mask.trim(), 16).ok())
        .unwrap_or(0)
}

/// Elsewhere the next publish clears it.
#[cfg(not(unix))]
pub fn clear_on_signal(_folder: Arc<StagingFolder>) -> io::Result<()> {
    Ok(())
}
