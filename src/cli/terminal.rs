//! Where a command's words go: results to the standard output, problems to the standard error.

use std::io::{ErrorKind, IsTerminal, Write, stderr, stdout};

use super::Status;
use crate::diag::render::visible;

/// The two streams of a run, and whether each may be coloured.
pub struct Terminal {
    out: Stream,
    err: Stream,
}

struct Stream {
    to: Box<dyn Write>,
    colour: bool,
    broken: Option<std::io::Error>,
}

impl Terminal {
    /// The process's own streams: coloured on a terminal, unless `NO_COLOR` says something or the terminal is dumb.
    pub fn of_process() -> Self {
        let said = |name: &str| std::env::var_os(name).is_some_and(|value| !value.is_empty());
        let dumb = std::env::var_os("TERM").is_some_and(|value| value == "dumb");
        let allowed = !said("NO_COLOR") && !dumb;
        Self {
            out: Stream::new(Box::new(stdout()), allowed && stdout().is_terminal()),
            err: Stream::new(Box::new(stderr()), allowed && stderr().is_terminal()),
        }
    }

    /// Streams of one's own, without colour.
    pub fn plain(out: Box<dyn Write>, err: Box<dyn Write>) -> Self {
        Self { out: Stream::new(out, false), err: Stream::new(err, false) }
    }

    /// Whether results may be coloured.
    pub(super) const fn colour_results(&self) -> bool {
        self.out.colour
    }

    /// Whether problems may be coloured.
    pub(super) const fn colour_problems(&self) -> bool {
        self.err.colour
    }

    /// Writes a result as it is.
    pub(super) fn result(&mut self, text: &str) {
        self.out.write(text);
    }

    /// Writes a problem as it is.
    pub(super) fn problem(&mut self, text: &str) {
        self.err.write(text);
    }

    /// Writes one line about a problem of the run, made harmless.
    pub(super) fn complain(&mut self, message: &str) {
        self.problem(&format!("kerfbook: {}\n", visible(message)));
    }

    /// Writes what the reader of the command line has to say: help and version are results, all else a problem.
    pub(super) fn clap(&mut self, message: &clap::Error) -> Status {
        let text = message.render();
        if message.use_stderr() {
            self.problem(&if self.err.colour { text.ansi().to_string() } else { text.to_string() });
            self.end(Status::Usage)
        } else {
            self.result(&if self.out.colour { text.ansi().to_string() } else { text.to_string() });
            self.end(Status::Well)
        }
    }

    /// Ends a run: a stream that could not be written is the machine's fault, a reader that left early is not.
    pub(super) fn end(&mut self, status: Status) -> Status {
        self.out.flush();
        self.err.flush();
        match self.out.broken.take() {
            Some(error) if error.kind() != ErrorKind::BrokenPipe => {
                self.complain(&format!("the output cannot be written: {error}"));
                Status::Machine
            }
            _ => status,
        }
    }
}

impl Stream {
    fn new(to: Box<dyn Write>, colour: bool) -> Self {
        Self { to, colour, broken: None }
    }

    fn write(&mut self, text: &str) {
        if self.broken.is_none() {
            self.broken = self.to.write_all(text.as_bytes()).err();
        }
    }

    fn flush(&mut self) {
        if self.broken.is_none() {
            self.broken = self.to.flush().err();
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    struct Broken(ErrorKind);

    impl Write for Broken {
        fn write(&mut self, _: &[u8]) -> std::io::Result<usize> {
            Err(self.0.into())
        }

        fn flush(&mut self) -> std::io::Result<()> {
            Ok(())
        }
    }

    #[test]
    fn a_full_disk_is_the_machines_fault_and_a_reader_that_left_is_not() {
        for (kind, status) in [(ErrorKind::StorageFull, Status::Machine), (ErrorKind::BrokenPipe, Status::Well)] {
            let mut terminal = Terminal::plain(Box::new(Broken(kind)), Box::new(Vec::new()));
            terminal.result("a line\n");
            assert_eq!(terminal.end(Status::Well), status);
        }
    }
}
