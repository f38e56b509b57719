//! Files written whole or not at all: beside the place first, then moved there.

use crate::outcome::Failure;
use std::fs::{self, File, OpenOptions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

/// Names tried beside the file before giving up.
const TRIES: u32 = 100;

/// Writes a text to a file. A reader sees the old file or the new one, never a part of it; when
/// writing fails the old one stays.
pub(crate) fn write_whole(path: &Path, text: &str) -> Result<(), Failure> {
    let failed = |cause: io::Error| Failure::File {
        path: path.to_path_buf(),
        cause,
    };
    if path.is_dir() {
        return Err(failed(io::Error::new(
            io::ErrorKind::IsADirectory,
            "this is a folder",
        )));
    }
    if fs::metadata(path).is_ok_and(|found| !found.is_file()) {
        // A device or a pipe is written into; moving a file there would destroy it.
        return OpenOptions::new()
            .write(true)
            .open(path)
            .and_then(|mut device| device.write_all(text.as_bytes()))
            .map_err(failed);
    }
    let (mut file, beside) = open_beside(path).map_err(failed)?;
    let written = file
        .write_all(text.as_bytes())
        .and_then(|()| file.sync_all())
        .and_then(|()| fs::rename(&beside, path));
    written.map_err(|cause| {
        // The part that was written is of no use; that it could not be removed adds nothing.
        let _ = fs::remove_file(&beside);
        failed(cause)
    })
}

/// Writes a text to a file that is not there yet; one that is there stays as it is.
pub(crate) fn write_new(path: &Path, text: &str) -> Result<(), Failure> {
    let failed = |cause: io::Error| Failure::File {
        path: path.to_path_buf(),
        cause,
    };
    let made = OpenOptions::new().write(true).create_new(true).open(path);
    let mut file = match made {
        Ok(file) => file,
        Err(cause) if cause.kind() == io::ErrorKind::AlreadyExists => {
            let name = path.display().to_string();
            return Err(Failure::Asked(drybed::occupied(&name)));
        }
        Err(cause) => return Err(failed(cause)),
    };
    let written = file
        .write_all(text.as_bytes())
        .and_then(|()| file.sync_all());
    written.map_err(|cause| {
        // The part that was written is of no use; that it could not be removed adds nothing.
        let _ = fs::remove_file(path);
        failed(cause)
    })
}

/// A new file of a name nobody uses, in the same folder.
fn open_beside(path: &Path) -> io::Result<(File, PathBuf)> {
    let name = path
        .file_name()
        .ok_or_else(|| io::Error::new(io::ErrorKind::InvalidInput, "the path names no file"))?;
    for number in 0..TRIES {
        let mut beside = name.to_os_string();
        beside.push(format!(".part{}-{number}", std::process::id()));
        let beside = path.with_file_name(beside);
        match OpenOptions::new()
            .write(true)
            .create_new(true)
            .open(&beside)
        {
            Ok(file) => return Ok((file, beside)),
            Err(cause) if cause.kind() == io::ErrorKind::AlreadyExists => {}
            Err(cause) => return Err(cause),
        }
    }
    Err(io::Error::new(
        io::ErrorKind::AlreadyExists,
        "every name for a part of it is taken",
    ))
}
