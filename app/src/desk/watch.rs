//! Notices when another program changes the file being worked on.
//!
//! A thread looks at the file's date and size, so that the window sleeps while
//! nothing changes and a slow network drive holds nothing up.

use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::time::{Duration, SystemTime};

/// From one look to the next.
const EVERY: Duration = Duration::from_millis(700);

/// Looks at one file, if at any.
pub struct Watch {
    look_at: Sender<Option<PathBuf>>,
    changed: Receiver<PathBuf>,
    path: Option<PathBuf>,
}

/// What one can tell a file's state by without reading it.
type Stamp = Option<(SystemTime, u64)>;

fn stamp(path: &Path) -> Stamp {
    let about = path.metadata().ok()?;
    Some((about.modified().ok()?, about.len()))
}

impl Watch {
    /// Begins to look.
    ///
    /// * `wake`: called when there is something to see
    pub fn begin(wake: impl Fn() + Send + 'static) -> Watch {
        let (look_at, asked) = channel();
        let (tell, changed) = channel();
        // Without the thread nothing is noticed until the job is saved.
        let _ = std::thread::Builder::new()
            .name("watching".to_owned())
            .spawn(move || look(&asked, &tell, &wake));
        Watch {
            look_at,
            changed,
            path: None,
        }
    }

    /// Looks at this file from now on.
    pub fn look_at(&mut self, path: Option<&Path>) {
        if self.path.as_deref() != path {
            self.path = path.map(Path::to_owned);
            // Without the thread there is nobody to tell.
            let _ = self.look_at.send(self.path.clone());
        }
    }

    /// Whether the file has been touched since this was last asked.
    pub fn was_touched(&mut self) -> bool {
        let mut touched = false;
        while let Ok(path) = self.changed.try_recv() {
            touched |= self.path.as_ref() == Some(&path);
        }
        touched
    }
}

/// What the thread does, until nobody listens any more.
fn look(asked: &Receiver<Option<PathBuf>>, tell: &Sender<PathBuf>, wake: &dyn Fn()) {
    let mut at: Option<PathBuf> = None;
    let mut told: Stamp = None;
    let mut last: Stamp = None;
    loop {
        // With no file to look at it sleeps until there is one.
        let received = match &at {
            Some(_) => asked.recv_timeout(EVERY),
            None => asked.recv().map_err(|_| RecvTimeoutError::Disconnected),
        };
        match received {
            Ok(path) => {
                told = path.as_deref().and_then(stamp);
                last = told;
                at = path;
            }
            Err(RecvTimeoutError::Disconnected) => return,
            Err(RecvTimeoutError::Timeout) => {
                let Some(path) = &at else { continue };
                let now = stamp(path);
                // One that is still being written is left until it stands still.
                if now != told && now == last {
                    told = now;
                    if tell.send(path.clone()).is_err() {
                        return;
                    }
                    wake();
                }
                last = now;
            }
        }
    }
}
