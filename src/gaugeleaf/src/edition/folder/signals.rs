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
    let mut signals = Signals::new([SIGHUP, SIGINT, SIGTERM])?;
    std::thread::Builder::new().spawn(move || {
        for signal in signals.forever() {
            // nothing is written any more while the guard is held, until the end
            let _cleared = folder.cleared();
            let _ = signal_hook::low_level::emulate_default_handler(signal);
        }
    })?;
    Ok(())
}

/// Elsewhere the next publish clears it.
#[cfg(not(unix))]
pub fn clear_on_signal(_folder: Arc<StagingFolder>) -> io::Result<()> {
    Ok(())
}
