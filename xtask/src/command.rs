//! Running other programs from the root of the repository.

use crate::trouble::Trouble;
use std::io::{BufRead, BufReader, Read};
use std::path::Path;
use std::process::{Command, Stdio};
use std::thread;

/// A program with its arguments, run from one folder.
pub(crate) struct Call {
    command: Command,
    shown: String,
}

impl Call {
    /// A program and its arguments, to be run in `folder`.
    pub(crate) fn new(folder: &Path, program: impl AsRef<Path>, arguments: &[&str]) -> Self {
        let program = program.as_ref();
        let mut command = Command::new(program);
        command
            .args(arguments)
            .current_dir(folder)
            .stdin(Stdio::null());
        let mut shown = program.display().to_string();
        for argument in arguments {
            shown.push(' ');
            shown.push_str(argument);
        }
        Self { command, shown }
    }

    /// The same call with one variable set in its environment.
    pub(crate) fn with(mut self, name: &str, value: &str) -> Self {
        self.command.env(name, value);
        self
    }

    /// Runs it with its output on ours.
    pub(crate) fn run(mut self) -> Result<(), Trouble> {
        let status = self.command.status();
        self.judge(status)
    }

    /// Runs it, and returns what it wrote to its standard output.
    pub(crate) fn read(mut self) -> Result<String, Trouble> {
        let output = match self.command.stderr(Stdio::inherit()).output() {
            Ok(output) => output,
            Err(cause) => {
                return Err(Trouble::NotStarted {
                    command: self.shown,
                    cause,
                });
            }
        };
        self.judge(Ok(output.status))?;
        let what = format!("the output of `{}`", self.shown);
        String::from_utf8(output.stdout).map_err(|cause| Trouble::NotData {
            what,
            cause: cause.to_string(),
        })
    }

    /// Whether it can be run at all; says nothing either way.
    pub(crate) fn succeeds(mut self) -> bool {
        self.command
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .status()
            .is_ok_and(|status| status.success())
    }

    /// Runs it with its output on ours, and returns every line it wrote to either stream.
    pub(crate) fn run_and_listen(mut self) -> Result<Vec<String>, Trouble> {
        self.command.stdout(Stdio::piped()).stderr(Stdio::piped());
        let mut child = match self.command.spawn() {
            Ok(child) => child,
            Err(cause) => {
                return Err(Trouble::NotStarted {
                    command: self.shown,
                    cause,
                });
            }
        };
        let out = child
            .stdout
            .take()
            .map(|stream| thread::spawn(|| echo(stream, Sink::Out)));
        let err = child
            .stderr
            .take()
            .map(|stream| thread::spawn(|| echo(stream, Sink::Err)));
        let mut lines = Vec::new();
        for listener in [out, err].into_iter().flatten() {
            lines.extend(listener.join().unwrap_or_default());
        }
        let status = child.wait();
        self.judge(status)?;
        Ok(lines)
    }

    fn judge(&self, status: std::io::Result<std::process::ExitStatus>) -> Result<(), Trouble> {
        let command = self.shown.clone();
        match status {
            Ok(status) if status.success() => Ok(()),
            Ok(status) => Err(Trouble::Refused {
                command,
                code: status.code(),
            }),
            Err(cause) => Err(Trouble::NotStarted { command, cause }),
        }
    }
}

#[derive(Clone, Copy)]
enum Sink {
    Out,
    Err,
}

fn echo(stream: impl Read, sink: Sink) -> Vec<String> {
    let mut lines = Vec::new();
    for bytes in BufReader::new(stream).split(b'\n').map_while(Result::ok) {
        let line = String::from_utf8_lossy(&bytes).into_owned();
        match sink {
            Sink::Out => println!("{line}"),
            Sink::Err => eprintln!("{line}"),
        }
        lines.push(line);
    }
    lines
}

/// A call of cargo at the root of the repository.
pub(crate) fn cargo(root: &Path, arguments: &[&str]) -> Call {
    Call::new(root, "cargo", arguments)
}
